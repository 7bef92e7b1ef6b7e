// SPDX-License-Identifier: MIT
// Everything drawn out, and cast on anew.
#include <vector>

#include "repair/workplace.h"

namespace loopmend {

namespace {

/// From the loops that nothing goes through downward, in whatever order they hang; ends of yarn are wound up
/// with the rest.
Result<void> drawEverythingOut(Fabric& f) {
    for (std::int32_t i = 0; i < f.entryCount(); ++i) {
        const EntryId e{i};
        if (!f.has(e) || f.isLoop(e)) continue;
        if (const Result<void> gone = f.unlay(e); !gone) return gone;
    }
    std::vector<LoopId> live;
    for (std::int32_t i = 0; i < f.entryCount(); ++i) {
        const LoopId l{i};
        if (f.has(l) && f.isLoop(l) && f.isLive(l)) live.push_back(l);
    }
    while (!live.empty()) {
        const LoopId l = live.back();
        live.pop_back();
        while (const HeldId held = f[l].held) {
            if (f[held].state.hanging != 0) {
                f.forgetPlace(held);
            } else if (const Result<void> off = f.letGo(l, f[held].tool, false); !off) {
                return off;
            }
        }
        f.setAnchored(l, false);
        while (f[l].firstLink) {
            const Result<LoopId> out = f.unpull(l);
            if (!out) return tl::unexpected<Refusal>(out.error());
            if (f.isLive(*out)) live.push_back(*out);
        }
        if (const Result<void> sunk = f.sink(l); !sunk) return sunk;
    }
    return {};
}

}  // namespace

Result<void> Workplace::castOnAnew(const Move& move) {
    Fabric& f = knitter_->fabric();
    const Result<void> out = drawEverythingOut(f);
    if (!out) return out;
    std::vector<YarnId> atHand = knitter_->yarnsAtHand();
    if (atHand.empty()) atHand.push_back(knitter_->yarn());
    for (const YarnId ball : atHand) {
        f.setBall(ball, true);
        f.reelIn(ball);
    }
    const YarnId yarn = atHand.front();
    knitter_->takeYarn(yarn, knitter_->floats());
    knitter_->setTension({});
    // Flat, the work is turned between casting on and the first row.
    const bool round = knitter_->inTheRound();
    const Side casting = round ? Side::right : opposite(move.side);
    if (knitter_->facing() != casting) knitter_->turn();
    f.setTip(HeldId{});
    Result<void> done;
    switch (move.castOn) {
        case CastOn::longTail: done = knitter_->castOnLongTail(move.count); break;
        case CastOn::backward: done = knitter_->castOnBackward(move.count); break;
        case CastOn::knitted: done = knitter_->castOnKnitted(move.count); break;
    }
    if (!done) return done;
    if (round) return knitter_->joinRound(move.twists.empty() ? 0 : move.twists.front());
    knitter_->turn();
    return {};
}

}  // namespace loopmend
