// SPDX-License-Identifier: MIT
// Decreases and increases missed, misplaced, leaning the wrong way, or made by accident.
#include "fault/families.h"
#include "fault/needle.h"
#include "fault/steps.h"
#include "pattern/working.h"

namespace loopmend {

namespace {

Result<int> instead(Knitter& k, Op op) {
    Step step;
    step.op = op;
    return did(work(k, step));
}

// ---- decreases
// -----------------------------------------------------------------------------------------------

bool isDecreaseHere(const Spot& spot) {
    return isDecrease(spot.here());
}

/// Only the first of its stitches is worked; the others are still there.
Result<int> oneAlone(Knitter& k, const Spot& spot) {
    return did(k.work(1, isPurl(spot.here()), Leg::leading));
}

bool anotherFollows(const Spot& spot, int n) {
    std::vector<LoopId> ahead;
    nextLoops(spot.knitter, n, ahead);
    return static_cast<int>(ahead.size()) == n;
}

bool isPlainWithNeighbour(const Spot& spot) {
    return isPlain(spot.here()) && anotherFollows(spot, 2);
}

Result<int> twoForOne(Knitter& k, const Spot& spot) {
    return did(isPurl(spot.here()) ? k.p2tog() : k.k2tog());
}

bool isSingleWithNeighbour(const Spot& spot) {
    return isDecrease(spot.here()) && uses(spot.here()) == 2 && anotherFollows(spot, 3);
}

Result<int> threeForTwo(Knitter& k, const Spot& spot) {
    switch (spot.here().op) {
        case Op::ssk: return did(k.sssk());
        case Op::skp: return did(k.sk2p());
        case Op::spp: return did(k.sp2p());
        case Op::k2togTbl: return did(k.k3togTbl());
        case Op::p2togTbl: return did(k.p3togTbl());
        case Op::ssp:
        case Op::p2tog: return did(k.p3tog());
        default: return did(k.k3tog());
    }
}

struct Swap {
    Op meant;
    Op done;
};

constexpr Swap kOtherLean[] = {
    {Op::k2tog, Op::ssk},  {Op::ssk, Op::k2tog},  {Op::skp, Op::k2tog},      {Op::k2togTbl, Op::k2tog},
    {Op::p2tog, Op::ssp},  {Op::ssp, Op::p2tog},  {Op::p2togTbl, Op::p2tog}, {Op::spp, Op::ssp},
    {Op::k3tog, Op::sssk}, {Op::sssk, Op::k3tog}, {Op::k3togTbl, Op::k3tog}, {Op::p3togTbl, Op::p3tog},
    {Op::sk2p, Op::k3tog},
};
/// Slipped purlwise where knitwise was right, or straight through the back legs: the lean is kept.
constexpr Swap kCrossedFeet[] = {
    {Op::ssk, Op::k2togTbl},
    {Op::ssp, Op::p2togTbl},
    {Op::sssk, Op::k3togTbl},
};
/// The centre stitch comes to lie under another.
constexpr Swap kCentreUnder[] = {{Op::s2kp, Op::sk2p}, {Op::s2pp, Op::sp2p}};
constexpr Swap kBarUntwisted[] = {{Op::m1Left, Op::m1Open}, {Op::m1Right, Op::m1Open}};
constexpr Swap kBarOtherWay[] = {{Op::m1Left, Op::m1Right},
                                 {Op::m1Right, Op::m1Left},
                                 {Op::m1PurlLeft, Op::m1PurlRight},
                                 {Op::m1PurlRight, Op::m1PurlLeft}};

template <const auto& swaps>
bool canSwap(const Spot& spot) {
    for (const Swap& swap : swaps) {
        if (swap.meant == spot.here().op) return true;
    }
    return false;
}

template <const auto& swaps>
Result<int> swapped(Knitter& k, const Spot& spot) {
    for (const Swap& swap : swaps) {
        if (swap.meant == spot.here().op) return instead(k, swap.done);
    }
    return refuse(Why::noSuchThing);
}

/// Of loops that sit left leg in front, the back legs are the open way.
bool canCrossFeet(const Spot& spot) {
    const Op op = spot.here().op;
    const LoopId next = nextLoop(spot.knitter);
    if (!next || sitsTurned(spot.knitter, next)) return false;
    return canSwap<kCrossedFeet>(spot) || op == Op::skp || op == Op::spp;
}

Result<int> feetCrossed(Knitter& k, const Spot& spot) {
    if (spot.here().op == Op::skp) return did(k.skp(SlipWay::purlwise));
    if (spot.here().op == Op::spp) return did(k.spp(SlipWay::knitwise));
    return swapped<kCrossedFeet>(k, spot);
}

// ---- two neighbouring steps in the other order
// ---------------------------------------------------------------

Result<int> nextOneFirst(Knitter& k, const Spot& spot) {
    return k.whole([&]() -> Result<int> {
        const Result<void> first = work(k, *spot.next());
        if (!first) return did(first);
        return did(work(k, spot.here()), 2);
    });
}

template <bool (*one)(const Step&), bool (*other)(const Step&)>
bool areNeighbours(const Spot& spot) {
    const Step* next = spot.next();
    return next != nullptr && ((one(spot.here()) && other(*next)) || (other(spot.here()) && one(*next)));
}

/// The strand to be lifted lies between two stitches, also one stitch earlier or later.
bool isIncreaseBesideStitch(const Spot& spot) {
    if (!areNeighbours<isMakeOne, isPlain>(spot) || !anotherFollows(spot, 2)) return false;
    return isMakeOne(spot.here()) || spot.step > 0 || spot.knitter.inTheRound();
}

// ---- increases
// -----------------------------------------------------------------------------------------------

bool isIncreaseHere(const Spot& spot) {
    const Step& step = spot.here();
    return isMakeOne(step) || step.op == Op::kfb || step.op == Op::pfb || isSeveralFromOne(step.op);
}

Result<int> notIncreased(Knitter& k, const Spot& spot) {
    if (isMakeOne(spot.here())) return 1;
    return did(k.knit());
}

bool isKnitStitch(const Spot& spot) {
    return spot.here().op == Op::knit && nextLoop(spot.knitter);
}

Result<int> bothLegs(Knitter& k, const Spot&) {
    return did(k.kfb());
}

constexpr Fault kShaping[] = {
    {.id = "missed_dec",
     .name = "missed decrease",
     .family = Family::shaping,
     .standsOn = isDecreaseHere,
     .work = oneAlone,
     .cause = "Only one stitch was worked where two or three belonged together.",
     .prevention = "Count the stitches of each repeat or between markers as you leave it."},
    {.id = "merged",
     .name = "two stitches worked together by accident",
     .family = Family::shaping,
     .standsOn = isPlainWithNeighbour,
     .work = twoForOne,
     .cause = "The tip caught two tight stitches at once.",
     .prevention = "See one stitch on the tip before you wrap; a sharper needle helps."},
    {.id = "wrong_lean",
     .name = "decrease leaning the wrong way",
     .family = Family::shaping,
     .standsOn = canSwap<kOtherLean>,
     .work = swapped<kOtherLean>,
     .cause = "The mirror image of the decrease was worked.",
     .prevention = "Before the row, say which way the line of decreases leans."},
    {.id = "dec_3_for_2",
     .name = "three worked together instead of two",
     .family = Family::shaping,
     .standsOn = isSingleWithNeighbour,
     .work = threeForTwo,
     .cause = "The needle took one stitch too many into the decrease.",
     .prevention = "Count the loops on the tip before you wrap."},
    {.id = "dec_off_by_one",
     .name = "decrease one stitch too early or too late",
     .family = Family::shaping,
     .standsOn = areNeighbours<isDecrease, isPlain>,
     .work = nextOneFirst,
     .cause = "The decrease was begun one stitch away from its place.",
     .prevention = "Let the line of decreases below tell you where the next one stands."},
    {.id = "dec_yo_swapped",
     .name = "yarn over on the wrong side of its decrease",
     .family = Family::shaping,
     .standsOn = areNeighbours<isDecrease, isYarnOver>,
     .work = nextOneFirst,
     .cause = "The yarn over and its decrease were worked in the other order.",
     .prevention = "Say the pair aloud as the row has it."},
    {.id = "cdd_wrong_stack",
     .name = "double decrease without its center on top",
     .ukName = "double decrease without its centre on top",
     .family = Family::shaping,
     .standsOn = canSwap<kCentreUnder>,
     .work = swapped<kCentreUnder>,
     .cause = "One stitch was slipped first where two belonged together.",
     .prevention = "Look at the spine: the center stitch must lie on top of both others."},
    {.id = "dec_twisted",
     .name = "decrease with crossed feet",
     .family = Family::shaping,
     .standsOn = canCrossFeet,
     .work = feetCrossed,
     .cause = "The stitches were slipped the wrong way, or worked straight through their back legs.",
     .prevention = "Slip knitwise, one by one, before they are worked together."},
    {.id = "missed_inc",
     .name = "missed increase",
     .family = Family::shaping,
     .standsOn = isIncreaseHere,
     .work = notIncreased,
     .cause = "The increase was passed by.",
     .prevention = "Put a marker where the next increase belongs; count after each shaping row."},
    {.id = "m1_open",
     .name = "made stitch without its twist",
     .family = Family::shaping,
     .standsOn = canSwap<kBarUntwisted>,
     .work = swapped<kBarUntwisted>,
     .cause = "The strand was worked through the leg that leads, so nothing closed it.",
     .prevention = "Work the lifted strand through its far leg; it should feel tight."},
    {.id = "m1_wrong_lean",
     .name = "made stitch leaning the wrong way",
     .family = Family::shaping,
     .standsOn = canSwap<kBarOtherWay>,
     .work = swapped<kBarOtherWay>,
     .cause = "The strand was lifted from the other side.",
     .prevention = "Lift from the front for a left-leaning stitch, from the back for a right-leaning one."},
    {.id = "kfb_accident",
     .name = "one stitch worked twice",
     .family = Family::shaping,
     .standsOn = isKnitStitch,
     .work = bothLegs,
     .cause = "A stitch that had not left the needle was entered once more.",
     .prevention = "Let each stitch slide off before you look for the next one."},
    {.id = "inc_off_by_one",
     .name = "increase one stitch too early or too late",
     .family = Family::shaping,
     .standsOn = isIncreaseBesideStitch,
     .work = nextOneFirst,
     .cause = "The increase was made in the gap beside its own.",
     .prevention = "Let the line of increases below tell you where the next one stands."},
};

}  // namespace

FaultList shapingFaults() {
    return listOf(kShaping);
}

}  // namespace loopmend
