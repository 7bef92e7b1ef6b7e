// SPDX-License-Identifier: MIT
#include "repair/count_fixes.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "repair/columns_seen.h"

namespace loopmend {

namespace {

int onNeedle(const Fabric& f) {
    int count = 0;
    for (HeldId h = f[f.needle()].first; h; h = f[h].next) count += f[h].state.hanging == 0 ? 1 : 0;
    return count;
}

std::vector<LoopId> looseLoops(const Fabric& f) {
    std::vector<LoopId> loose;
    for (std::int32_t i = 0; i < f.entryCount(); ++i) {
        const LoopId l{i};
        if (f.has(l) && f.isLoop(l) && f.isLoose(l) && !f.isNothing(l) && f[l].flags.anchored == 0)
            loose.push_back(l);
    }
    return loose;
}

/// A loop at which something is wrong, the newest row first.
LoopId wrongLoop(const Situation& s) {
    if (!s.pairing.extra.empty()) return s.pairing.extra.back();
    if (!s.pairing.changed.empty()) return s.pairing.changed.back();
    for (auto m = s.pairing.missing.rbegin(); m != s.pairing.missing.rend(); ++m) {
        for (EntryId e = s.meant[*m].prev; e; e = s.meant[e].prev) {
            if (s.meant.isLoop(e) && s.pairing.actual(e)) return s.pairing.actual(e);
        }
    }
    return {};
}

}  // namespace

int stitchesTooMany(const Situation& s, const Knitter& knitter) {
    return onNeedle(knitter.fabric()) - onNeedle(s.meant);
}

bool planFudge(const Situation& s, PlanBuilder& b) {
    constexpr int kMost = 3;
    const Fabric& f = b.fabric();
    const int off = stitchesTooMany(s, b.knitter());
    if (off == 0) return b.refuse("the count is right as it is");
    if (std::abs(off) > kMost) return b.refuse("the count is out by too many for that");
    if (!looseLoops(f).empty()) return b.refuse("a stitch hangs open and would run");
    if (b.knitter().aheadCount() == 0) {
        Move turn;
        if (!b.add(turn, {}, b.knitter().inTheRound() ? "Begin the next round." : "Turn the work."))
            return false;
    }
    const std::vector<LoopId> ahead = b.knitter().ahead();
    const int needed = off > 0 ? 2 * off : std::abs(off);
    if (static_cast<int>(ahead.size()) < needed + 1)
        return b.refuse("there are too few stitches left in the row");
    const SeenColumns columns(f);
    const LoopId wrong = wrongLoop(s);
    std::size_t at = 0;
    if (wrong) {
        double nearest = 1e9;
        for (std::size_t i = 0; i < ahead.size(); ++i) {
            const double away = std::abs(columns.of(ahead[i]) - columns.of(wrong));
            if (away < nearest) {
                nearest = away;
                at = i;
            }
        }
    }
    at = std::min(at, ahead.size() - static_cast<std::size_t>(needed));
    Move work;
    work.kind = MoveKind::work;
    const auto asItShows = [&](LoopId l) {
        return Step{columns.nextSide(l) == b.knitter().facing() ? Op::knit : Op::purl};
    };
    for (std::size_t i = 0; i < at; ++i) work.steps.push_back(asItShows(ahead[i]));
    std::size_t next = at;
    for (int i = 0; i < std::abs(off); ++i) {
        const bool knit = asItShows(ahead[next]).op == Op::knit;
        if (off > 0) {
            work.steps.push_back({knit ? Op::k2tog : Op::p2tog});
            next += 2;
        } else {
            // Between two stitches, where there is a strand to lift.
            work.steps.push_back(asItShows(ahead[next]));
            work.steps.push_back({knit ? Op::m1Left : Op::m1PurlLeft});
            ++next;
        }
    }
    const StitchPlace spot = wrong ? s.actualSpots.of(wrong) : StitchPlace{};
    b.caution(
        "Write it down: from here on rows are counted from where this one stands, and in lace or ribbing "
        "the columns no longer line up.");
    if (!b.add(
            std::move(work), {0, static_cast<int>(at) + 1, spot.column},
            off > 0
                ? fmt::format("Work on as the stitches show, {} stitches, then {} together: one fewer each "
                              "time, and the count is right.",
                              at, off == 1 ? "two" : fmt::format("{} times two", off))
                : fmt::format("Work on as the stitches show, {} stitches, then make {} from the strand "
                              "between two stitches: the count is right.",
                              at + 1, off == -1 ? "one" : fmt::format("{}, one after each stitch", -off))))
        return false;
    if (stitchesTooMany(s, b.knitter()) != 0) return b.refuse("the count does not come out that way");
    b.leaves(Leaves::countOnly, 0);
    return true;
}

bool planLeave(const Situation& s, PlanBuilder& b) {
    const Fabric& f = b.fabric();
    for (const LoopId l : looseLoops(f)) {
        if (pinOf(f, l)) continue;
        Move pin;
        pin.kind = MoveKind::pin;
        pin.loops = {l};
        b.needs(l);
        if (!b.add(std::move(pin), s.actualSpots.of(l),
                   "Put a pin through the open stitch: left as it is, it would run."))
            return false;
    }
    b.leaves(Leaves::nothingDone, 0);
    return true;
}

}  // namespace loopmend
