// SPDX-License-Identifier: MIT
// What is done to the yarn itself: slack drawn along a row, cuts, and what needle and thread sew.
#include <algorithm>
#include <iterator>
#include <utility>

#include "fabric/rows.h"
#include "fabric/sewing.h"
#include "repair/usual_lengths.h"
#include "repair/workplace.h"

namespace loopmend {

namespace {

constexpr std::size_t kNeighbors = 6;     ///< as far on each side as slack is drawn
constexpr std::int32_t kEndUm = 100'000;  ///< an end of about 10 cm
constexpr std::int32_t kGivesPart = 6;    ///< a stitch as large as usual gives up to one part of so many

/// The nearest first, on both sides by turns, as far as the yarn runs the same way.
std::vector<LoopId> besides(const Fabric& f, LoopId before, LoopId after) {
    std::vector<LoopId> found;
    std::size_t steps = 0;
    while ((before || after) && steps++ < kNeighbors) {
        for (LoopId* side : {&before, &after}) {
            if (!*side) continue;
            found.push_back(*side);
            const LoopId next = loopBeside(f, *side, side == &before);
            *side = next && f.run(next) == f.run(*side) ? next : LoopId{};
        }
    }
    return found;
}

void takeOff(Fabric& f, LoopId loop) {
    while (const HeldId held = f[loop].held) {
        if (f[held].state.hanging != 0) {
            f.forgetPlace(held);
        } else {
            (void)f.letGo(loop, f[held].tool, false);
        }
    }
}

template <class T>
Result<LoopId> theLast(const Result<T>& loops) {
    if (!loops) return tl::unexpected<Refusal>(loops.error());
    return loops->empty() ? LoopId{} : loops->back();
}

}  // namespace

Result<LoopId> Workplace::withYarn(const Move& move) {
    const auto nothing = [](const Result<void>& result) -> Result<LoopId> {
        if (!result) return tl::unexpected<Refusal>(result.error());
        return LoopId{};
    };
    switch (move.kind) {
        case MoveKind::drawSlack: return nothing(drawSlack(move));
        case MoveKind::snip: return nothing(snip(move.loops.front()));
        case MoveKind::pickOut: return nothing(pickOut(move.loops.front(), move.count));
        case MoveKind::graft: return graft(move);
        case MoveKind::sewOver: return sewOver(move);
        case MoveKind::fasten: return fasten(move);
        case MoveKind::weave: return nothing(weave(move));
        case MoveKind::join:
            if (move.others.empty()) return refuse(Why::noSuchThing);
            return nothing(join(move.loops.front(), move.others.front()));
        default: return refuse(Why::noSuchThing);
    }
}

Result<void> Workplace::drawSlack(const Move& move) {
    Fabric& f = knitter_->fabric();
    if (move.strand && (!f.has(move.strand) || !f.isLoop(move.strand))) return refuse(Why::noSuchThing);
    if (move.um > 0) {
        if (move.others.empty()) return refuse(Why::noSuchThing);
        const LoopId to = move.others.front();
        if (move.strand) return f.easeFromStrand(move.strand, to, move.um);
        if (move.loops.empty()) return refuse(Why::noSuchThing);
        return f.ease(move.loops.front(), to, move.um);
    }
    if (move.strand) {
        const LoopId after = loopBeside(f, move.strand, false);
        return even(besides(f, move.strand, after), LoopId{}, move.strand);
    }
    if (move.loops.empty()) return refuse(Why::noSuchThing);
    const LoopId loop = move.loops.front();
    const auto sameRow = [&](LoopId other) {
        return other && f.run(other) == f.run(loop) ? other : LoopId{};
    };
    return even(besides(f, sameRow(loopBeside(f, loop, true)), sameRow(loopBeside(f, loop, false))), loop,
                {});
}

/// One leg at a time: what is too much goes first into the stitches that lack yarn, the nearest first, the
/// rest into all alike; what is lacking comes first out of what is slack, then a little out of each.
Result<void> Workplace::even(const std::vector<LoopId>& beside, LoopId loop, LoopId strand) {
    Fabric& f = knitter_->fabric();
    const std::int32_t usual = loop ? usualLoopUm(f, loop) : usualStrandUm(f, strand);
    const auto excess = [&] { return (loop ? f[loop].um : f[strand].strandUm) - usual; };
    const auto over = [&](LoopId other) { return f[other].um - usualLoopUm(f, other); };
    std::vector<LoopId> stitches;
    std::copy_if(beside.begin(), beside.end(), std::back_inserter(stitches),
                 [&](LoopId other) { return !isOnlyStrand(f, other); });
    bool moved = false;
    const auto give = [&](LoopId to, std::int32_t um) {
        if (um <= 0) return;
        const Result<void> eased = loop ? f.ease(loop, to, um) : f.easeFromStrand(strand, to, um);
        moved = moved || eased.has_value();
    };
    for (const LoopId to : stitches) give(to, std::min(excess(), -over(to)));
    if (excess() > 0 && !stitches.empty()) {
        const auto shares = static_cast<std::int32_t>(stitches.size()) + (loop ? 1 : 0);
        const std::int32_t each = excess() / shares;
        for (const LoopId to : stitches) give(to, each);
    }
    const auto take = [&](LoopId from, std::int32_t um) {
        if (um <= 0) return;
        const Result<void> eased = loop ? f.ease(from, loop, um) : f.easeFromStrand(strand, from, -um);
        moved = moved || eased.has_value();
    };
    if (loop) {
        for (const LoopId before : {loopBeside(f, loop, true), loop}) {  // its own two strands
            const std::int32_t slack =
                before ? std::min(-excess(), f[before].strandUm - usualStrandUm(f, before)) : 0;
            if (slack > 0) moved = f.easeFromStrand(before, loop, slack).has_value() || moved;
        }
    }
    for (const LoopId from : stitches) take(from, std::min(-excess(), over(from)));
    for (const LoopId from : stitches)
        take(from, std::min(-excess(), over(from) + usualLoopUm(f, from) / kGivesPart));
    if (!moved) return refuse(Why::tooLittleYarn);
    return {};
}

/// Where the knitter works on from a ball whose yarn has got another number.
void Workplace::ballIsNow(YarnId yarn, YarnId instead) {
    std::vector<YarnId> atHand = knitter_->yarnsAtHand();
    std::replace(atHand.begin(), atHand.end(), yarn, instead);
    knitter_->layOut(std::move(atHand));
    if (knitter_->yarn() == yarn) knitter_->takeYarn(instead, knitter_->floats());
}

Result<void> Workplace::snip(LoopId after) {
    Fabric& f = knitter_->fabric();
    const YarnId yarn = f[after].yarn;
    const bool ball = f[yarn].flags.ball != 0;
    if (!ball && !loopBeside(f, after, false)) return refuse(Why::noEnd);  // nothing hangs there to be cut
    if (ball && !loopBeside(f, after, false)) {  // both ends are left long enough to weave in
        const Result<LoopId> hand = f.liftFromBall(yarn, f.run(after), 0, 2 * kEndUm);
        if (!hand) return tl::unexpected<Refusal>(hand.error());
        if (const Result<void> sunk = f.sink(*hand); !sunk) return sunk;
    }
    const Result<YarnId> rest = f.cut(after);
    if (!rest) return tl::unexpected<Refusal>(rest.error());
    if (ball) ballIsNow(yarn, *rest);
    return {};
}

Result<void> Workplace::pickOut(LoopId first, int count) {
    Fabric& f = knitter_->fabric();
    const YarnId yarn = f[first].yarn;
    const bool forward = !f.loopBefore(first);
    if (!forward && (loopBeside(f, first, false) || f[yarn].flags.ball != 0)) return refuse(Why::noEnd);
    std::vector<LoopId> out{first};
    const Rows rows = rowsOf(f);
    for (LoopId l = loopBeside(f, first, !forward); l; l = loopBeside(f, l, !forward)) {
        if (count > 0 ? static_cast<int>(out.size()) >= count : rows[l] != rows[first]) break;
        out.push_back(l);
    }
    if (count > static_cast<int>(out.size())) {
        return refuse(Why::notEnoughStitches, count, static_cast<std::int32_t>(out.size()));
    }
    const auto drawInEnd = [&](std::optional<Run> run) {
        for (;;) {
            const EntryId end = forward ? f[yarn].first : f[yarn].last;
            if (!end || f.isLoop(end) || (run && f.run(end) != *run)) return;
            (void)f.unlay(end);
        }
    };
    for (const LoopId loop : out) {
        const Run run = f.run(loop);
        drawInEnd(std::nullopt);
        const Result<void> drawn = f.unthread(loop);
        if (!drawn) return drawn;
        drawInEnd(run);
    }
    return {};
}

YarnId Workplace::lengthLike(YarnId yarn, char color) {
    Fabric& f = knitter_->fabric();
    const Yarn like = f[yarn];
    const YarnId thread = f.addYarn(color, like.loopUm, like.strandUm);
    f.setBall(thread, false);
    return thread;
}

Result<LoopId> Workplace::graft(const Move& move) {
    Fabric& f = knitter_->fabric();
    const auto sides = [&](const std::vector<bool>& knit) {
        std::vector<Side> all;
        all.reserve(knit.size());
        for (const bool k : knit) all.push_back(k ? knitter_->facing() : opposite(knitter_->facing()));
        return all;
    };
    const YarnId like = f[move.loops.front()].yarn;
    return theLast(loopmend::graft(f, lengthLike(like, f[like].flags.colour), move.loops, move.others,
                                   move.run, {sides(move.sewnKnit), sides(move.overKnit)}));
}

Result<LoopId> Workplace::sewOver(const Move& move) {
    Fabric& f = knitter_->fabric();
    const YarnId thread = lengthLike(f[move.loops.front()].yarn, move.color);
    return theLast(duplicateStitches(f, thread, move.loops, move.run, knitter_->facing()));
}

/// Loops round a gap: they stand, so the yarn goes under their heads.
Result<LoopId> Workplace::drawTogether(const std::vector<LoopId>& round) {
    Fabric& f = knitter_->fabric();
    for (const LoopId l : round) {
        if (f.isLoose(l)) return refuse(Why::notHeld);
        if (f.isNothing(l)) return refuse(Why::noSuchThing);
    }
    const YarnId like = f[round.front()].yarn;
    const YarnId bit = lengthLike(like, f[like].flags.colour);
    LinkForm form;
    form.side = opposite(knitter_->facing());
    Result<LoopId> sewn = refuse(Why::noSuchThing);
    for (const LoopId l : round) {
        sewn = f.thread(bit, f.run(round.front()), f[like].loopUm / 4, {{l, form, -1}}, {});
        if (!sewn) return sewn;
        f.setAnchored(*sewn, true);
    }
    return sewn;
}

Result<LoopId> Workplace::fasten(const Move& move) {
    Fabric& f = knitter_->fabric();
    if (move.loops.size() > 1) return drawTogether(move.loops);
    LoopId held;
    if (move.pass) {
        if (!f.has(move.pass) || f.isLoop(move.pass)) return refuse(Why::noSuchThing);
        if (f.isFree(move.pass)) return refuse(Why::notOpen);  // a rung: it has an open stitch to go through
        const LoopId before = f.loopBefore(move.pass);
        if (!before) return refuse(Why::noSuchThing);
        const std::int32_t um = std::min(f[before].strandUm / 4, f[f[before].yarn].loopUm / 3);
        const Result<LoopId> bight = f.liftInStrand(f[before].yarn, move.pass, f.run(move.pass), um);
        if (!bight) return bight;
        held = *bight;
    } else {
        if (move.loops.empty()) return refuse(Why::noSuchThing);
        held = move.loops.front();
        if (!f.isLive(held)) return refuse(Why::notLive);
        takeOff(f, held);
    }
    const YarnId like = f[held].yarn;
    LinkForm form;
    form.side = opposite(knitter_->facing());
    const YarnId bit = lengthLike(like, f[like].flags.colour);
    const Result<LoopId> sewn = f.thread(bit, f.run(held), f[like].loopUm / 2, {{held, form, -1}}, {});
    if (sewn) f.setAnchored(*sewn, true);
    return sewn;
}

Result<void> Workplace::weave(const Move& move) {
    Fabric& f = knitter_->fabric();
    const LoopId loop = move.loops.front();
    const YarnId yarn = f[loop].yarn;
    const bool atEnd =
        move.atFirst ? !f.loopBefore(loop) : !loopBeside(f, loop, false) && f[yarn].flags.ball == 0;
    const std::int32_t tail = move.atFirst ? f[yarn].leadUm : f[loop].strandUm;
    if (!atEnd || tail <= 0) return refuse(Why::noEnd);
    return f.trim(yarn, move.atFirst ? End::first : End::last);
}

Result<void> Workplace::join(LoopId last, LoopId other) {
    Fabric& f = knitter_->fabric();
    const YarnId yarn = f[last].yarn;
    const YarnId further = f[other].yarn;
    if (loopBeside(f, last, false)) return refuse(Why::noEnd);
    const bool first = !f.loopBefore(other);
    if (!first && loopBeside(f, other, false)) return refuse(Why::noEnd);
    const Result<void> joined = f.join(yarn, further, first ? End::first : End::last);
    if (!joined) return joined;
    ballIsNow(further, yarn);
    return {};
}

}  // namespace loopmend
