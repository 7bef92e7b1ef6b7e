// SPDX-License-Identifier: MIT
// The right stitches with too much yarn or too little: the knot is the one that was meant.
#include <algorithm>
#include <array>

#include "fault/families.h"
#include "fault/needle.h"
#include "fault/steps.h"
#include "pattern/working.h"

namespace loopmend {

namespace {

// Shares of an ordinary loop and strand, in percent. How much is ours and adjustable; each is what a knitter
// would see.
constexpr Knitter::Tension kLargerNeedle{125, 125};
constexpr Knitter::Tension kTightHand{70, 70};
constexpr Knitter::Tension kLooseLoop{145, 120};
constexpr Knitter::Tension kWideStrand{130, 300};
constexpr Knitter::Tension kShortFloat{100, 40};

/// Works the step at another tension.
Result<int> workedAt(Knitter& k, const Step& step, Knitter::Tension tension) {
    return k.whole([&]() -> Result<int> {
        const Knitter::Tension usual = k.tension();
        k.setTension(tension);
        RowWork row(k);
        const Result<void> worked = row.work(step);
        k.setTension(usual);
        return did(worked);
    });
}

// ---- needle and hand
// -------------------------------------------------------------------------------------------------

bool beginsRow(const Spot& spot) {
    return spot.step == 0 && nextLoop(spot.knitter);
}

/// Everything from here on is worked with it.
Result<int> otherNeedle(Knitter& k, const Spot&) {
    k.setTension(kLargerNeedle);
    return 0;
}

bool bindsAllOff(const Spot& spot) {
    return isBindOff(spot.here()) && spot.step == 0 && spot.row.steps.size() == 1;
}

Result<int> boundTight(Knitter& k, const Spot& spot) {
    return workedAt(k, spot.here(), kTightHand);
}

// ---- one stitch of each row
// ------------------------------------------------------------------------------------------

/// In the round, where one needle follows the other.
bool isPlainInRound(const Spot& spot) {
    return spot.knitter.inTheRound() && nextLoop(spot.knitter) && isPlain(spot.here()) && spot.step > 0;
}

Result<int> slackAtChange(Knitter& k, const Spot& spot) {
    return workedAt(k, spot.here(), kWideStrand);
}

/// A knit before a purl, as the right side shows it.
bool isLastKnit(const Spot& spot) {
    const Step* next = spot.next();
    return spot.row.facing == Facing::right && spot.here().op == Op::knit && next != nullptr &&
           next->op == Op::purl && nextLoop(spot.knitter);
}

Result<int> swollen(Knitter& k, const Spot& spot) {
    return workedAt(k, spot.here(), kLooseLoop);
}

// ---- strands and ends
// ------------------------------------------------------------------------------------------------

/// Its yarn comes past two stitches or more of another.
bool isAfterFloat(const Spot& spot) {
    if (!isPlain(spot.here()) || !nextLoop(spot.knitter)) return false;
    int passed = 0;
    for (int i = spot.step - 1; i >= 0; --i, ++passed) {
        if (spot.row.steps[static_cast<std::size_t>(i)].yarn == spot.here().yarn) return passed >= 2;
    }
    return false;
}

Result<int> drawnShort(Knitter& k, const Spot& spot) {
    return workedAt(k, spot.here(), kShortFloat);
}

/// The first stitch of a yarn, of which nothing is worked yet.
bool beginsYarn(const Spot& spot) {
    if (!isPlain(spot.here()) || !nextLoop(spot.knitter)) return false;
    const auto& atHand = spot.knitter.yarnsAtHand();
    if (spot.here().yarn >= atHand.size()) return false;
    return !spot.knitter.fabric()[atHand[spot.here().yarn]].first;
}

Result<int> notSnugged(Knitter& k, const Spot& spot) {
    return workedAt(k, spot.here(), {180, 100});
}

/// Three stitches of the same row and yarn to each side of it.
constexpr std::size_t kReach = 3;

std::vector<LoopId> besideIt(const Fabric& f, const Fall& fall) {
    std::vector<LoopId> beside;
    const auto at = static_cast<std::size_t>(fall.stitch) - 1;
    const std::size_t to = std::min(at + kReach + 1, fall.row.size());
    for (std::size_t i = at > kReach ? at - kReach : 0; i < to; ++i) {
        const LoopId loop = fall.row[i];
        if (i != at && loop && f.has(loop) && f[loop].yarn == f[fall.lowest()].yarn && f[loop].firstKid)
            beside.push_back(loop);
    }
    return beside;
}

bool canBeCaught(const Fabric& f, const Fall& fall) {
    return f[fall.lowest()].firstKid && f[fall.lowest()].firstLink && besideIt(f, fall).size() >= kReach;
}

/// The loop is pulled out, and its neighbours give their yarn.
Result<void> pulledOut(Knitter& k, const Fall& fall) {
    return k.whole([&]() -> Result<void> {
        Fabric& f = k.fabric();
        for (const LoopId loop : besideIt(f, fall)) {
            const Result<void> eased = f.ease(loop, fall.lowest(), f[loop].um * 2 / 5);
            if (!eased) return eased;
        }
        return {};
    });
}

constexpr Fault kLengths[] = {
    {.id = "needle_size",
     .name = "gone on with another needle size",
     .family = Family::lengths,
     .standsOn = beginsRow,
     .work = otherNeedle,
     .cause = "After a break the work was taken up with another needle.",
     .prevention = "Write the needle size on the pattern, and lay the pair away together.",
     .sign = "The count is right, but as many stitches are wider above that row than below it.",
     .onPurpose = "go on with a needle one millimeter thicker",
     .inLessons = false},
    {.id = "edge_tension",
     .name = "bound off tighter than the cloth",
     .ukName = "cast off tighter than the cloth",
     .family = Family::lengths,
     .standsOn = bindsAllOff,
     .work = boundTight,
     .cause = "The loops were pulled up hard, or chained over a thin tip.",
     .prevention = "Bind off with a thicker needle, and stretch the edge beside the cloth as you go.",
     .sign = "The count is right, but the edge stretches less than the cloth.",
     .onPurpose = "bind off with a needle two millimeters thinner",
     .inLessons = false},
    {.id = "needle_ladder",
     .name = "wide strands where the needles change",
     .family = Family::lengths,
     .standsOn = isPlainInRound,
     .work = slackAtChange,
     .everyRow = true,
     .cause = "The yarn lay slack from the last stitch of one needle to the first of the next.",
     .prevention = "Tug the yarn before the second stitch of a needle, or move the change along.",
     .sign = "Every stitch is there; only the strands between two columns are wide.",
     .onPurpose = "leave the yarn slack before it, here and above it in every round",
     .inLessons = false},
    {.id = "loose_last_knit",
     .name = "last knit stitch of a rib too large",
     .family = Family::lengths,
     .standsOn = isLastKnit,
     .work = swollen,
     .everyRow = true,
     .cause = "The yarn takes a longer way from a knit stitch to the purl after it.",
     .prevention = "Tug the yarn after the first purl, or work the last knit through its back leg.",
     .sign = "One side of each rib is swollen, and nothing is loose or missing.",
     .onPurpose = "draw its loop out large, here and above it in every row",
     .inLessons = false},
    {.id = "float_tight",
     .name = "strand behind drawn too short",
     .family = Family::lengths,
     .standsOn = isAfterFloat,
     .work = drawnShort,
     .cause = "The stitches were bunched on the needle when the other yarn was taken up.",
     .prevention = "Spread the stitches on the right needle before each change of yarn.",
     .sign = "On the wrong side the strand is shorter than the stitches that it passes.",
     .onPurpose = "draw the strand behind short before you work it",
     .inLessons = false},
    {.id = "join_gap",
     .name = "slack stitch where a new ball begins",
     .family = Family::lengths,
     .standsOn = beginsYarn,
     .work = notSnugged,
     .cause = "The new yarn was taken up without being drawn snug.",
     .prevention = "Join at an edge where you can, and cross the two ends before you weave them in.",
     .sign = "Two ends hang at the slack stitch.",
     .onPurpose = "do not draw the new yarn snug",
     .inLessons = false},
    {.id = "snag",
     .name = "snag",
     .family = Family::lengths,
     .fallsAt = canBeCaught,
     .suffer = pulledOut,
     .inCloth = true,
     .cause = "A loop caught on something and was pulled out.",
     .prevention = "Take off rings and bracelets, and mend rough chairs; never cut the loop.",
     .sign = "One loop hangs out, and the stitches to both sides of it are drawn tight.",
     .onPurpose = "catch its loop with a tip and draw it out of the cloth, three times as high as it was",
     .inLessons = false},
};

}  // namespace

FaultList lengthFaults() {
    return listOf(kLengths);
}

}  // namespace loopmend
