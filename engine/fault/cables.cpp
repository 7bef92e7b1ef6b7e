// SPDX-License-Identifier: MIT
// Crossings that lie the wrong way, or were not made.
#include "fault/families.h"
#include "pattern/working.h"

namespace loopmend {

namespace {

bool isCable(const Spot& spot) {
    return spot.here().op == Op::cable;
}

Result<int> heldOnTheOtherSide(Knitter& k, const Spot& spot) {
    Step other = spot.here();
    other.front = !other.front;
    return did(work(k, other));
}

Result<int> asTheyHang(Knitter& k, const Spot& spot) {
    return k.whole([&]() -> Result<int> {
        const Step& step = spot.here();
        for (int i = 0; i < step.over + step.under; ++i) {
            const bool purl = i < step.over ? step.purlOver : step.purlUnder;
            const Result<LoopId> worked = k.work(1, purl, Leg::leading);
            if (!worked) return did(worked);
        }
        return 1;
    });
}

constexpr Fault kCables[] = {
    {.id = "miscrossed",
     .name = "cable crossed the wrong way",
     .family = Family::cables,
     .standsOn = isCable,
     .work = heldOnTheOtherSide,
     .cause = "The held stitches were on the wrong side of the work.",
     .prevention = "Before each crossing look at the last one, and say front or back aloud.",
     .confusedWith = "cross_missed"},
    {.id = "cross_missed",
     .name = "cable not crossed",
     .family = Family::cables,
     .standsOn = isCable,
     .work = asTheyHang,
     .cause = "The row of the crossing was worked like any other.",
     .prevention = "Mark the crossing rows in the pattern, and count the strands above the last gap.",
     .confusedWith = "miscrossed"},
};

}  // namespace

FaultList cableFaults() {
    return listOf(kCables);
}

}  // namespace loopmend
