// SPDX-License-Identifier: MIT
// Crossings that lie the wrong way, or were not made.
#include <vector>

#include "fault/families.h"
#include "fault/needle.h"
#include "fault/steps.h"
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

/// The cable needle turned half over while it hung: what it holds comes back in the other order, each stitch
/// with a half turn in its legs. It may turn to either hand; here it turns the way that right-leaning
/// stitches are twisted.
Result<int> armTurned(Knitter& k, const Spot& spot) {
    return k.whole([&]() -> Result<int> {
        const int held = spot.here().over;
        std::vector<LoopId> arm;
        nextLoops(k, held, arm);
        const std::int8_t turn = k.mirrored() ? -1 : 1;
        for (int under = held - 1; under > 0; --under) {
            const Result<void> crossed = k.cross(1, under, false);
            if (!crossed) return did(crossed);
        }
        Fabric& f = k.fabric();
        for (const LoopId loop : arm) {
            const HeldId place = f.heldOn(loop, f.needle());
            const HeldState state = f[place].state;
            f.setMount(place, state.mount, static_cast<std::int8_t>(state.turns + turn));
        }
        return did(work(k, spot.here()));
    });
}

bool isPlainBesideCable(const Spot& spot) {
    const Step* next = spot.next();
    if (next == nullptr) return false;
    return (isCable(spot) && isPlain(*next)) || (isPlain(spot.here()) && next->op == Op::cable);
}

/// Begun one stitch too early or too late.
Result<int> nextOneFirst(Knitter& k, const Spot& spot) {
    return k.whole([&]() -> Result<int> {
        const Result<void> first = work(k, *spot.next());
        if (!first) return did(first);
        return did(work(k, spot.here()), 2);
    });
}

constexpr Fault kCables[] = {
    {.id = "miscrossed",
     .name = "cable crossed the wrong way",
     .family = Family::cables,
     .standsOn = isCable,
     .work = heldOnTheOtherSide,
     .cause = "The held stitches were on the wrong side of the work.",
     .prevention = "Before each crossing look at the last one, and say front or back aloud."},
    {.id = "cross_missed",
     .name = "cable not crossed",
     .family = Family::cables,
     .standsOn = isCable,
     .work = asTheyHang,
     .cause = "The row of the crossing was worked like any other.",
     .prevention = "Mark the crossing rows in the pattern, and count the strands above the last gap."},
    {.id = "cross_off_by_one",
     .name = "cable crossed over the wrong stitches",
     .family = Family::cables,
     .standsOn = isPlainBesideCable,
     .work = nextOneFirst,
     .cause = "The crossing was begun one stitch away from its place, and took in a stitch beside the rope.",
     .prevention = "Before the crossing, see that every stitch of it stands on the rope below.",
     .sign = "A stitch from beside the rope lies in the crossing, and one of the rope stands outside it.",
     .onPurpose = "begin the crossing one stitch to the side"},
    {.id = "arm_turned",
     .name = "held stitches turned over on the cable needle",
     .family = Family::cables,
     .standsOn = isCable,
     .work = armTurned,
     .cause = "The cable needle swung round while it hung, or was worked off from its other end.",
     .prevention = "Let the cable needle hang as it came, and work from the end that was first.",
     .sign = "One arm of the crossing is narrow and hard, its stitches on crossed feet; the other lies open.",
     .onPurpose = "turn the cable needle half over before you work its stitches"},
};

}  // namespace

FaultList cableFaults() {
    return listOf(kCables);
}

}  // namespace loopmend
