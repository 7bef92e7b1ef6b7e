// SPDX-License-Identifier: MIT
// Strands added, missing or caught.
#include "fault/families.h"
#include "fault/needle.h"
#include "fault/steps.h"

namespace loopmend {

namespace {

bool isYarnOverHere(const Spot& spot) {
    return isYarnOver(spot.here());
}

/// Of several wraps one is missed.
Result<int> leaveOut(Knitter& k, const Spot& spot) {
    return k.whole([&]() -> Result<int> {
        for (int i = 1; i < spot.here().count; ++i) {
            const Result<LoopId> wrap = k.yarnOver(spot.here().op == Op::yarnOverReverse);
            if (!wrap) return did(wrap);
        }
        return 1;
    });
}

bool beforeAStitch(const Spot& spot) {
    return nextLoop(spot.knitter) && uses(spot.here()) > 0 && !isBindOff(spot.here());
}

/// Before a purl the yarn left behind comes over from back to front.
Result<int> yarnOverTooMany(Knitter& k, const Spot& spot) {
    return did(k.yarnOver(isPurl(spot.here())), 0);
}

/// Before the first stitch of a flat row lies the yarn in her hand, no strand between two stitches.
bool afterAStitch(const Spot& spot) {
    return beforeAStitch(spot) && (spot.step > 0 || spot.knitter.inTheRound());
}

Result<int> workTheBar(Knitter& k, const Spot& spot) {
    return k.whole([&]() -> Result<int> {
        const Result<LoopId> bar = k.liftBar(false);
        if (!bar) return did(bar);
        return did(k.work(1, isPurl(spot.here()), Leg::leading), 0);
    });
}

bool canGoBelow(const Spot& spot) {
    const LoopId next = nextLoop(spot.knitter);
    if (!next || !isPlain(spot.here())) return false;
    const Fabric& f = spot.knitter.fabric();
    if (f.linkCount(next) != 1) return false;
    const LoopId below = f[f[next].firstLink].host;
    return f.kidCount(below) == 1 && f[below].flags.anchored == 0;
}

Result<int> goBelow(Knitter& k, const Spot& spot) {
    return did(k.workBelow(isPurl(spot.here())));
}

bool isPlainStitch(const Spot& spot) {
    const LoopId next = nextLoop(spot.knitter);
    return next && isPlain(spot.here()) && !restsOnNothing(spot.knitter.fabric(), next);
}

/// The float lies where the name says as the right side shows it.
template <Side side>
Result<int> slipIt(Knitter& k, const Spot&) {
    return did(k.slip(SlipWay::purlwise, k.facing() == side));
}

bool isPlainYarnOver(const Spot& spot) {
    const LoopId next = nextLoop(spot.knitter);
    return next && isPlain(spot.here()) && restsOnNothing(spot.knitter.fabric(), next);
}

Result<int> closeIt(Knitter& k, const Spot& spot) {
    const Leg leg = sitsTurned(k, nextLoop(k)) ? Leg::front : Leg::back;
    return did(k.work(1, isPurl(spot.here()), leg));
}

constexpr Fault kStrands[] = {
    {.id = "missed_yo",
     .name = "missed yarn over",
     .family = Family::strands,
     .standsOn = isYarnOverHere,
     .work = leaveOut,
     .cause = "The yarn was not brought over the needle before the next stitch.",
     .prevention = "Say the yarn over aloud, and count the stitches of each repeat as you leave it.",
     .confusedWith = "lost_yo merged dec_3_for_2"},
    {.id = "accidental_yo",
     .name = "yarn over that should not be there",
     .family = Family::strands,
     .standsOn = beforeAStitch,
     .work = yarnOverTooMany,
     .cause = "The yarn went over the needle on its way from front to back, or was left on the wrong side.",
     .prevention = "Take the yarn between the tips, never over them, when you change from knit to purl.",
     .confusedWith = "worked_the_bar kfb_accident missed_dec"},
    {.id = "worked_the_bar",
     .name = "strand between two stitches worked as a stitch",
     .family = Family::strands,
     .standsOn = afterAStitch,
     .work = workTheBar,
     .cause = "The tip went under the strand between two stitches and it was worked like one.",
     .prevention = "See two legs before the needle goes in.",
     .confusedWith = "accidental_yo kfb_accident"},
    {.id = "knit_below",
     .name = "needle went into the stitch below",
     .family = Family::strands,
     .standsOn = canGoBelow,
     .work = goBelow,
     .cause = "The needle went into the stitch a row further down, and the top loop fell into it.",
     .prevention = "Aim close under the needle, and rest your eyes when the cloth is loose or dark.",
     .confusedWith = "slip_float_back accidental_yo"},
    {.id = "slip_float_back",
     .name = "stitch slipped, strand behind",
     .family = Family::strands,
     .standsOn = isPlainStitch,
     .work = slipIt<Side::wrong>,
     .cause = "The stitch went over to the right needle without being worked.",
     .prevention = "Watch the new loop come through each stitch before the old one leaves the needle.",
     .confusedWith = "knit_below drop_left_behind"},
    {.id = "slip_float_front",
     .name = "stitch slipped, strand in front",
     .family = Family::strands,
     .standsOn = isPlainStitch,
     .work = slipIt<Side::right>,
     .cause = "The stitch went over to the right needle without being worked, the yarn before it.",
     .prevention = "Watch the new loop come through each stitch before the old one leaves the needle.",
     .confusedWith = "wrong_kp slip_float_back"},
    {.id = "yo_closed",
     .name = "yarn over closed",
     .family = Family::strands,
     .standsOn = isPlainYarnOver,
     .work = closeIt,
     .cause = "The yarn over was worked through the leg that does not lead, which twists it shut.",
     .prevention = "Look which leg of the strand lies nearer to the tip, and go through that one.",
     .confusedWith = "missed_yo"},
};

}  // namespace

FaultList strandFaults() {
    return listOf(kStrands);
}

}  // namespace loopmend
