// SPDX-License-Identifier: MIT
// Where a piece begins, ends, turns or is picked up.
#include <algorithm>
#include <vector>

#include "fault/families.h"
#include "fault/needle.h"
#include "fault/steps.h"
#include "pattern/working_edges.h"

namespace loopmend {

namespace {

// ---- the first stitch of a row
// ---------------------------------------------------------------------------------------

/// Knitted, its yarn fresh from the row before.
bool isFirstKnit(const Spot& spot) {
    const Knitter& k = spot.knitter;
    const LoopId next = nextLoop(k);
    if (!next || spot.step != 0 || spot.here().op != Op::knit || k.inTheRound()) return false;
    const Fabric& f = k.fabric();
    return f[f[next].yarn].last == next && f[next].firstLink;
}

/// The yarn goes up over the needle and pulls the stitch up until both its legs lie over the needle; each is
/// knitted like a stitch, neither through a loop of its own.
Result<int> bothLegsOfTheEdge(Knitter& k, const Spot&) {
    return did(k.workInto({Knitter::Into::knit, Knitter::Into::knit}));
}

// ---- bound off
// -------------------------------------------------------------------------------------------------------

/// Everything is bound off in one go, and the chain goes on after the stitch.
bool isBoundOff(const Spot& spot) {
    const Step& here = spot.here();
    if (here.op != Op::bindOff && here.op != Op::bindOffPurl) return false;
    const bool all = spot.step == 0 && spot.row.steps.size() == 1;
    return all && here.count > 2 && spot.stitch < here.count;
}

Result<int> chainedPast(Knitter& k, const Spot& spot) {
    return k.whole([&]() -> Result<int> {
        const bool purl = spot.here().op == Op::bindOffPurl;
        if (spot.stitch > 0) {
            const Result<LoopId> first = k.work(1, purl, Leg::leading);
            if (!first) return did(first);
            const Result<void> chained = k.bindOff(spot.stitch - 1, purl);
            if (!chained) return did(chained);
        }
        const Result<void> off = k.drop(nextLoop(k));
        if (!off) return did(off);
        if (spot.stitch > 0) {
            const Result<void> chained = k.bindOff(k.aheadCount(), purl);
            return chained ? did(k.fasten()) : did(chained);
        }
        return did(k.bindOffAll(purl));
    });
}

// ---- picked up
// -------------------------------------------------------------------------------------------------------

/// The loops under which the stitches are drawn up: spread evenly, as hands that count do it.
std::vector<LoopId> chosenAlong(const Knitter& k, const Step& step) {
    const std::vector<LoopId> edge = edgeOf(k, step.edge);
    std::vector<LoopId> chosen;
    const auto size = static_cast<std::int64_t>(edge.size());
    for (std::int64_t i = 0; i < step.count && size > 0; ++i)
        chosen.push_back(edge[static_cast<std::size_t>((2 * i + 1) * size / (2 * std::int64_t{step.count}))]);
    return chosen;
}

bool isPickedUp(const Spot& spot) {
    return spot.here().op == Op::pickUp;
}

bool isOneOfSeveralPickedUp(const Spot& spot) {
    return isPickedUp(spot) && spot.here().count > 1 && spot.stitch < spot.here().count;
}

Result<int> onePassedBy(Knitter& k, const Spot& spot) {
    return k.whole([&]() -> Result<int> {
        const std::vector<LoopId> chosen = chosenAlong(k, spot.here());
        for (std::size_t i = 0; i < chosen.size(); ++i) {
            if (static_cast<int>(i) == spot.stitch) continue;
            const Result<LoopId> picked = k.pickUp(chosen[i], Part::bothLegs, k.facing());
            if (!picked) return did(picked);
        }
        return chosen.empty() ? refuse(Why::noEdge) : Result<int>(1);
    });
}

Result<int> drawnToTheBack(Knitter& k, const Spot& spot) {
    return k.whole([&]() -> Result<int> {
        const std::vector<LoopId> chosen = chosenAlong(k, spot.here());
        for (const LoopId loop : chosen) {
            const Result<LoopId> picked = k.pickUp(loop, Part::bothLegs, opposite(k.facing()));
            if (!picked) return did(picked);
        }
        return chosen.empty() ? refuse(Why::noEdge) : Result<int>(1);
    });
}

constexpr Fault kEdges[] = {
    {.id = "edge_doubled",
     .name = "edge stitch made into two",
     .family = Family::edges,
     .standsOn = isFirstKnit,
     .work = bothLegsOfTheEdge,
     .cause = "The yarn went up over the needle to the back and pulled the edge stitch up, so that its two "
              "legs looked like two stitches.",
     .prevention = "Tug the yarn down and take it under the needle before the first stitch of a row.",
     .sign = "The two narrow stitches at the edge stand on one, and nothing lies between them.",
     .onPurpose = "take the yarn up over the needle to the back, and knit both legs that it pulls up"},
    {.id = "bindoff_open",
     .name = "stitch missed when binding off",
     .ukName = "stitch missed when casting off",
     .family = Family::edges,
     .standsOn = isBoundOff,
     .work = chainedPast,
     .anyStitch = true,
     .cause = "The stitch slid off before it was worked, and the chain went on past it.",
     .prevention = "Look at each stitch as it leaves the needle, and count the chain.",
     .sign = "A loop stands free under the chain, and the chain goes on over it.",
     .onPurpose = "let the stitch slide off, and chain on past it",
     .inLessons = false},
    {.id = "pickup_gap",
     .name = "gap between picked-up stitches",
     .family = Family::edges,
     .standsOn = isOneOfSeveralPickedUp,
     .work = onePassedBy,
     .anyStitch = true,
     .cause = "An edge stitch was passed by when stitches were picked up.",
     .prevention = "Divide the edge with pins, and pick up as many stitches in each part.",
     .sign = "Count the picked-up stitches of each part of the edge: one part has fewer.",
     .onPurpose = "pass by the edge stitch and pick up the next one",
     .inLessons = false},
    {.id = "pickup_wrong_side",
     .name = "stitches picked up from the back",
     .family = Family::edges,
     .standsOn = isPickedUp,
     .work = drawnToTheBack,
     .cause = "The loops were drawn through to the back of the work, and the edge folded to the front.",
     .prevention = "Pick up with the right side toward you, and draw each loop toward yourself.",
     .sign = "The folded edge lies on the right side, a ridge along the join.",
     .onPurpose = "draw the loops through to the back instead of to the front",
     .inLessons = false},
};

}  // namespace

FaultList edgeFaults() {
    return listOf(kEdges);
}

}  // namespace loopmend
