// SPDX-License-Identifier: MIT
// Another cast-on, another join, the numbers of another size.
#include <algorithm>
#include <cstdlib>

#include "fault/families.h"
#include "fault/place.h"
#include "fault/steps.h"

namespace loopmend {

namespace {

bool atTheBeginning(const Misreading& m) {
    return m.row == 1 && stitchOfStep(m.here(), m.step) == 1;
}

/// One too few, if nothing is said.
int castOnOff(const Misreading& m) {
    return m.by != 0 ? m.by : -1;
}

bool canMiscount(const Misreading& m) {
    return atTheBeginning(m) && m.script.castOn + castOnOff(m) > 1;
}

PieceStart anotherNumber(const Misreading& m) {
    return {m.script.castOn + castOnOff(m), m.script.twist};
}

bool isJoined(const Misreading& m) {
    return atTheBeginning(m) && m.script.round;
}

/// A cast-on that went once round the needle is a band turned over twice.
PieceStart onceRoundTheNeedle(const Misreading& m) {
    constexpr int kOnce = 2;
    return {m.script.castOn, static_cast<std::int8_t>(m.script.twist + (m.by != 0 ? m.by : kOnce))};
}

// ---- another size's number
// ----------------------------------------------------------------------------------------------

bool isNumbered(const Step& step) {
    switch (step.op) {
        case Op::bindOff:
        case Op::bindOffPurl:
        case Op::castOn:
        case Op::castOnRight:
        case Op::pickUp: return step.count > 1;
        default: return false;
    }
}

int changeOf(const Step& step) {
    return makes(step) - uses(step);
}

/// Stitches a row has more or fewer for its shaping.
int changeOf(const std::vector<Step>& steps) {
    int n = 0;
    for (const Step& step : steps) n += changeOf(step);
    return n;
}

/// With the numbers of a smaller size she is done sooner: what shapes is worked less often, and all after it
/// plainly.
std::vector<Step> ofSmallerSize(const std::vector<Step>& steps, int from) {
    std::vector<Step> taken(steps.begin(), steps.begin() + from);
    WorkedRow row;
    row.steps = steps;
    for (int i = from; i < static_cast<int>(steps.size()); ++i) {
        const Step& step = steps[static_cast<std::size_t>(i)];
        if (changeOf(step) == 0) {
            taken.push_back(step);
            continue;
        }
        const Step plain{.op = plainIsPurl(row, i) ? Op::purl : Op::knit, .yarn = step.yarn};
        taken.insert(taken.end(), static_cast<std::size_t>(std::max(0, uses(step))), plain);
    }
    return taken;
}

/// Several decreases, or several increases, from the place on; or a number that says how many.
bool canReadOtherSize(const Misreading& m) {
    const std::vector<Step>& steps = m.here().steps;
    const Step& here = steps[static_cast<std::size_t>(m.step)];
    // What binds off the rest of a row takes whatever there is.
    const bool last = m.step + 1 == static_cast<int>(steps.size());
    if (isNumbered(here))
        return !(last && isBindOff(here)) && m.by != -here.count && here.count + (m.by != 0 ? m.by : -1) > 0;
    if (m.by != 0 || changeOf(here) == 0 || std::abs(changeOf(steps)) < 2) return false;
    int shapings = 0;
    for (int i = m.step; i < static_cast<int>(steps.size()); ++i) {
        const int change = changeOf(steps[static_cast<std::size_t>(i)]);
        if ((change > 0) != (changeOf(here) > 0) && change != 0) return false;
        if (isNumbered(steps[static_cast<std::size_t>(i)])) return false;
        shapings += change != 0 ? 1 : 0;
    }
    return shapings > 1;
}

std::vector<WorkedRow> withOtherNumber(const Misreading& m, int row) {
    WorkedRow taken = m.rowAt(row);
    if (row != m.row) return {taken};
    Step& here = taken.steps[static_cast<std::size_t>(m.step)];
    if (isNumbered(here)) {
        here.count = static_cast<std::int16_t>(here.count + (m.by != 0 ? m.by : -1));
    } else {
        taken.steps = ofSmallerSize(taken.steps, m.step);
    }
    return {taken};
}

constexpr Fault kStarts[] = {
    {.id = "cast_on_count",
     .name = "wrong number cast on",
     .family = Family::starts,
     .canRead = canMiscount,
     .castsOn = anotherNumber,
     .wholeRow = true,
     .cause = "The stitches were counted once, or the slip knot was taken for one of them.",
     .prevention = "Put a marker after every twenty, and count twice before the first row.",
     .onPurpose = "cast on one stitch fewer than the pattern says",
     .inLessons = false},
    {.id = "joined_round_twisted",
     .name = "cast-on joined with a twist",
     .family = Family::starts,
     .canRead = isJoined,
     .castsOn = onceRoundTheNeedle,
     .wholeRow = true,
     .cause = "The cast-on had wound itself round the needle when the round was joined.",
     .prevention = "Lay the cast-on flat, its edge down all the way round, before you join.",
     .onPurpose = "let the cast-on edge wind once round the needle before you join",
     .inLessons = false},
    {.id = "wrong_size_read",
     .name = "number of another size read",
     .family = Family::starts,
     .canRead = canReadOtherSize,
     .rowsFor = withOtherNumber,
     .cause = "The eye jumped a place in the brackets, and the number of another size was worked.",
     .prevention = "Ring the numbers of your size in the whole pattern before you begin.",
     .onPurpose = "take the number of a smaller size: from there on shape no more in this row"},
};

}  // namespace

FaultList startFaults() {
    return listOf(kStarts);
}

}  // namespace loopmend
