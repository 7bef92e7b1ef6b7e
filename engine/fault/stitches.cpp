// SPDX-License-Identifier: MIT
// The wrong stitch, or the right one the wrong way round.
#include "fault/families.h"
#include "fault/needle.h"
#include "fault/steps.h"

namespace loopmend {

namespace {

bool isPlainHere(const Spot& spot) {
    return nextLoop(spot.knitter) && isPlain(spot.here());
}

Result<int> theOtherOne(Knitter& k, const Spot& spot) {
    return did(k.work(1, !isPurl(spot.here()), Leg::leading));
}

bool isPlainStitch(const Spot& spot) {
    return isPlainHere(spot) && !restsOnNothing(spot.knitter.fabric(), nextLoop(spot.knitter));
}

bool sitsRightLegForward(const Spot& spot) {
    return isPlainStitch(spot) && !sitsTurned(spot.knitter, nextLoop(spot.knitter));
}

Result<int> throughTheBack(Knitter& k, const Spot& spot) {
    return did(k.work(1, isPurl(spot.here()), Leg::back));
}

/// The stitch sits the other way round than she thinks, and she works it as always.
Result<int> turnedUnseen(Knitter& k, const Spot& spot) {
    return k.whole([&]() -> Result<int> {
        const LoopId next = nextLoop(k);
        const bool turned = sitsTurned(k, next);
        const Result<void> seated = k.remount(next, turned ? Mount::western : Mount::eastern);
        if (!seated) return did(seated);
        return did(k.work(1, isPurl(spot.here()), turned ? Leg::back : Leg::front));
    });
}

constexpr Fault kStitches[] = {
    {.id = "wrong_kp",
     .name = "knit for purl, or purl for knit",
     .family = Family::stitches,
     .standsOn = isPlainHere,
     .work = theOtherOne,
     .cause = "A moment's thought elsewhere, or the chart read from the wrong side.",
     .prevention = "Read the stitches on the needle: a bump at the neck was a purl as it faces you."},
    {.id = "twist_wrap",
     .name = "stitch twisted by a wrap the other way",
     .family = Family::stitches,
     .standsOn = isPlainStitch,
     .work = turnedUnseen,
     .cause = "In the row before, the yarn went round the needle the other way; the loop then sat turned and "
              "was worked as always.",
     .prevention = "Look which leg lies in front of the needle; work through the one that leads."},
    {.id = "twist_tbl",
     .name = "stitch twisted by its back leg",
     .family = Family::stitches,
     .standsOn = sitsRightLegForward,
     .work = throughTheBack,
     .cause = "The needle went through the back leg of a stitch that sits right leg in front.",
     .prevention = "Look which leg lies nearer to the tip, and work through that one."},
    {.id = "twist_pickup",
     .name = "stitch put back twisted",
     .family = Family::stitches,
     .standsOn = isPlainStitch,
     .work = turnedUnseen,
     .cause = "A stitch that had come off was put back left leg in front and worked as always.",
     .prevention = "When a stitch goes back on the needle, its right leg goes in front."},
};

}  // namespace

FaultList stitchFaults() {
    return listOf(kStitches);
}

}  // namespace loopmend
