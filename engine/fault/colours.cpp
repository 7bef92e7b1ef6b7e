// SPDX-License-Identifier: MIT
// Mistakes that need a second yarn.
#include <vector>

#include "fault/families.h"
#include "fault/needle.h"
#include "fault/steps.h"
#include "pattern/working.h"

namespace loopmend {

namespace {

/// The yarn of the nearest stitch of another one in the row, those before it first.
int otherYarn(const Spot& spot) {
    const auto& steps = spot.row.steps;
    const int n = static_cast<int>(steps.size());
    for (int away = 1; away < n; ++away) {
        for (const int i : {spot.step - away, spot.step + away}) {
            if (i < 0 || i >= n) continue;
            const int yarn = steps[static_cast<std::size_t>(i)].yarn;
            if (yarn != spot.here().yarn) return yarn;
        }
    }
    return -1;
}

/// The other yarn lies at hand: it has worked in this row already, or waits where this one began.
bool isPlainOfTwo(const Spot& spot) {
    if (!nextLoop(spot.knitter) || !isPlain(spot.here()) || spot.here().link) return false;
    const int other = otherYarn(spot);
    if (other < 0) return false;
    const auto& atHand = spot.knitter.yarnsAtHand();
    const auto colourOf = [&](int yarn) {
        return spot.knitter.fabric()[atHand[static_cast<std::size_t>(yarn)]].flags.colour;
    };
    return static_cast<std::size_t>(other) < atHand.size() && colourOf(other) != colourOf(spot.here().yarn);
}

Result<int> withTheOther(Knitter& k, const Spot& spot) {
    Step other = spot.here();
    other.yarn = static_cast<std::uint8_t>(otherYarn(spot));
    return did(work(k, other));
}

bool catchesFloat(const Spot& spot) {
    return nextLoop(spot.knitter) &&
           (spot.here().op == Op::knitWithFloat || spot.here().op == Op::purlWithFloat);
}

/// The float stays where it lies.
Result<int> leaveItLoose(Knitter& k, const Spot& spot) {
    return did(k.work(1, isPurl(spot.here()), Leg::leading));
}

bool isLinked(const Misreading& m) {
    const Step& here = m.here().steps[static_cast<std::size_t>(m.step)];
    return here.link && uses(here) > 0;
}

/// From that row on, for as many rows as are said: the yarns lie side by side.
std::vector<WorkedRow> notLinked(const Misreading& m, int row) {
    WorkedRow words = m.rowAt(row);
    if (row < m.row || (m.by > 0 && row >= m.row + m.by)) return {words};
    for (Step& step : words.steps) step.link = false;
    return {words};
}

constexpr Fault kColours[] = {
    {.id = "wrong_colour",
     .name = "stitch in the wrong color",
     .ukName = "stitch in the wrong colour",
     .family = Family::colours,
     .standsOn = isPlainOfTwo,
     .work = withTheOther,
     .ownYarn = true,
     .cause = "The other yarn was taken up for this stitch.",
     .prevention = "Say the colors of the row in groups, and look at the row below.",
     .sign = "One stitch is of another color than the pattern, and on the wrong side the strands change "
             "places there.",
     .onPurpose = "work it with the other yarn"},
    {.id = "colour_gap",
     .name = "yarns not crossed at a color change",
     .ukName = "yarns not crossed at a colour change",
     .family = Family::colours,
     .canRead = isLinked,
     .rowsFor = notLinked,
     .cause = "The new color was taken up without passing it round the old one.",
     .prevention = "Lay the old yarn over the new one before the first stitch of each block.",
     .sign = "Stretch it: a slit opens between the two colors, and nothing crosses it.",
     .onPurpose = "take up the new yarn without crossing it with the old one",
     .inLessons = false},
    {.id = "float_uncaught",
     .name = "long strand behind, not caught",
     .family = Family::colours,
     .standsOn = catchesFloat,
     .work = leaveItLoose,
     .cause = "The strand of the color below was not lifted onto the needle in mid-span.",
     .prevention =
         "On the next row look behind every five or six stitches, and work the strand with the stitch "
         "before it.",
     .sign = "Nothing shows on the right side; on the wrong side a finger goes under the strand.",
     .onPurpose = "work the stitch alone, and leave the strand behind it as it lies",
     .inLessons = false},
};

}  // namespace

FaultList colourFaults() {
    return listOf(kColours);
}

}  // namespace loopmend
