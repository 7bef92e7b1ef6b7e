// SPDX-License-Identifier: MIT
// Other rows than those that were meant, or the right ones elsewhere.
#include <algorithm>

#include "fault/families.h"
#include "fault/needle.h"
#include "fault/place.h"
#include "fault/steps.h"
#include "pattern/order.h"

namespace loopmend {

namespace {

bool sameWords(const WorkedRow& a, const WorkedRow& b) {
    return a.steps == b.steps;
}

/// Whole rows are named by their first stitch.
bool isFirst(const Misreading& m) {
    return stitchOfStep(m.here(), m.step) == 1;
}

bool isFlat(const Misreading& m) {
    return !m.here().round;
}

/// What belongs to one height of the cloth: where a piece is turned, begun, ended or left.
bool isOfOnePlace(const Step& step) {
    switch (step.op) {
        case Op::turn:
        case Op::wrapTurn:
        case Op::doubled:
        case Op::knitDoubled:
        case Op::purlDoubled:
        case Op::knitWithWrap:
        case Op::purlWithWrap:
        case Op::hold:
        case Op::pickUp:
        case Op::castOn:
        case Op::castOnRight:
        case Op::castOnKnitted: return true;
        default: return isBindOff(step);
    }
}

bool isWhole(const WorkedRow& row) {
    return !row.steps.empty() && std::none_of(row.steps.begin(), row.steps.end(), isOfOnePlace);
}

// ---- a row once more, or left out
// --------------------------------------------------------------------------------------------

/// Flat, a row is missed or worked again together with its return row, else the sides would be swapped.
int howMany(const Misreading& m) {
    return m.by != 0 ? m.by : isFlat(m) ? 2 : 1;
}

/// With rows from `from` on in the places of those from `to` on something else is worked there.
bool changesAnything(const Misreading& m, int from, int to) {
    for (; from <= m.rows() && to <= m.rows(); ++from, ++to) {
        if (!sameWords(m.rowAt(from), m.rowAt(to))) return true;
    }
    return false;
}

bool allWhole(const Misreading& m, int from, int to) {
    for (int r = from; r <= to; ++r) {
        if (!isWhole(m.rowAt(r))) return false;
    }
    return true;
}

bool canComeAgain(const Misreading& m) {
    const int n = howMany(m);
    const int first = m.row - n + 1;
    return isFirst(m) && n > 0 && first >= 1 && allWhole(m, first, m.row) &&
           changesAnything(m, first, m.row + 1);
}

std::vector<WorkedRow> onceMore(const Misreading& m, int row) {
    std::vector<WorkedRow> rows = {m.rowAt(row)};
    if (row != m.row) return rows;
    for (int r = m.row - howMany(m) + 1; r <= m.row; ++r) rows.push_back(m.rowAt(r));
    return rows;
}

bool canBeMissed(const Misreading& m) {
    const int n = howMany(m);
    return isFirst(m) && n > 0 && m.row + n <= m.rows() && allWhole(m, m.row, m.row + n - 1) &&
           changesAnything(m, m.row + n, m.row);
}

std::vector<WorkedRow> leftOut(const Misreading& m, int row) {
    if (row < m.row + howMany(m)) return {};
    return {m.rowAt(row)};
}

// ---- the wrong words
// ----------------------------------------------------------------------------------------------------

bool isAllPlain(const WorkedRow& row) {
    return !row.steps.empty() && std::all_of(row.steps.begin(), row.steps.end(), isPlain);
}

void turnOver(Step& step) {
    step.op = isPurl(step) ? Op::knit : Op::purl;
}

bool isPlainRow(const Misreading& m) {
    return m.by == 0 && isFirst(m) && isAllPlain(m.here());
}

std::vector<WorkedRow> asTheOtherSide(const Misreading& m, int row) {
    WorkedRow taken = m.rowAt(row);
    if (row == m.row) std::for_each(taken.steps.begin(), taken.steps.end(), turnOver);
    return {taken};
}

// ---- turned too early
// ---------------------------------------------------------------------------------------------------

Step turning() {
    Step step;
    step.op = Op::turn;
    return step;
}

Step plainStep(bool purl) {
    Step step;
    step.op = purl ? Op::purl : Op::knit;
    return step;
}

/// Stitches on the right needle after so many steps.
int madeBy(const WorkedRow& row, int steps) {
    int n = 0;
    for (int i = 0; i < steps; ++i) n += makes(row.steps[static_cast<std::size_t>(i)]);
    return n;
}

/// Put down before the step, and taken up with the needles in the wrong hands.
bool canTurnBack(const Misreading& m) {
    return m.by == 0 && isWhole(m.here()) && madeBy(m.here(), m.step) > 0;
}

/// Back over n stitches: as the row goes that would stand on them, else as they look.
std::vector<Step> wayBack(const Misreading& m, int n) {
    std::vector<Step> back;
    if (isFlat(m) && m.row < m.rows()) {
        const WorkedRow& next = m.rowAt(m.row + 1);
        if (isAllPlain(next) && static_cast<int>(next.steps.size()) >= n)
            return {next.steps.end() - n, next.steps.end()};
        return std::vector<Step>(static_cast<std::size_t>(n), plainStep(plainIsPurl(next, 0)));
    }
    for (int i = m.step - 1; i >= 0; --i) {
        const Step& step = m.here().steps[static_cast<std::size_t>(i)];
        const bool purl = isPlain(step) ? !isPurl(step) : !plainIsPurl(m.here(), i);
        back.insert(back.end(), static_cast<std::size_t>(std::max(0, makes(step))), plainStep(purl));
    }
    return back;
}

/// She works back to where the row began, and then works it from there.
std::vector<WorkedRow> backAndAgain(const Misreading& m, int row) {
    if (row != m.row) return {m.rowAt(row)};
    WorkedRow begun = m.here();
    begun.steps.resize(static_cast<std::size_t>(m.step));
    begun.steps.push_back(turning());
    WorkedRow back = m.here();
    back.facing = opposite(back.facing);
    back.steps = wayBack(m, madeBy(m.here(), m.step));
    back.steps.push_back(turning());
    return {begun, back, m.here()};
}

bool canLeaveLast(const Misreading& m) {
    const WorkedRow& row = m.here();
    return m.by == 0 && isFirst(m) && isFlat(m) && row.steps.size() > 2 && isWhole(row) &&
           isPlain(row.steps.back()) && (m.row == m.rows() || isWhole(m.rowAt(m.row + 1)));
}

std::vector<WorkedRow> allButTheLast(const Misreading& m, int row) {
    WorkedRow taken = m.rowAt(row);
    if (row == m.row) taken.steps.back() = turning();
    return {taken};
}

// ---- the other side
// -----------------------------------------------------------------------------------------------------

/// Taken up from the other side, she goes on with the row after the one that was due.
bool canSwapSides(const Misreading& m) {
    return m.by == 0 && isFlat(m) && canBeMissed({m.script, m.row, m.step, 1, m.until});
}

std::vector<WorkedRow> onTheOtherSide(const Misreading& m, int row) {
    return leftOut({m.script, m.row, m.step, 1}, row);
}

// ---- a turn left open
// ---------------------------------------------------------------------------------------------------

bool closesTurn(const Spot& spot) {
    if (!nextLoop(spot.knitter)) return false;
    switch (spot.here().op) {
        case Op::knitWithWrap:
        case Op::purlWithWrap:
        case Op::knitDoubled:
        case Op::purlDoubled: return true;
        default: return false;
    }
}

/// The wrap stays where it lies; the two legs of a doubled stitch are worked one after the other.
Result<int> leaveItOpen(Knitter& k, const Spot& spot) {
    const Op op = spot.here().op;
    const bool purl = op == Op::purlWithWrap || op == Op::purlDoubled;
    return k.whole([&]() -> Result<int> {
        const Result<LoopId> one = k.work(1, purl, Leg::leading);
        if (!one || op == Op::knitWithWrap || op == Op::purlWithWrap) return did(one);
        return did(k.work(1, purl, Leg::leading));
    });
}

constexpr Fault kRows[] = {
    {.id = "wrong_row",
     .name = "row of the wrong stitch",
     .family = Family::rows,
     .canRead = isPlainRow,
     .rowsFor = asTheOtherSide,
     .wholeRow = true,
     .cause = "The side was lost, or the next row was read ahead of its time.",
     .prevention = "Before the first stitch, look which side faces you and read the necks of the stitches.",
     .onPurpose = "work it as if its other side faced you: purl for knit, and knit for purl"},
    {.id = "extra_row",
     .name = "row worked once too often",
     .family = Family::rows,
     .canRead = canComeAgain,
     .rowsFor = onceMore,
     .wholeRow = true,
     .cause = "The row was not ticked off, and after a pause it was worked again.",
     .prevention = "Tick off each row when it is done, and find the last one in the cloth before you go on.",
     .onPurpose = "when it is done, do not tick it off: in flat knitting work the last two once more, in the "
                  "round this one"},
    {.id = "missed_row",
     .name = "row left out",
     .family = Family::rows,
     .canRead = canBeMissed,
     .rowsFor = leftOut,
     .wholeRow = true,
     .cause = "The row was ticked off before it was worked, or a line of the chart was skipped.",
     .prevention = "Tick off a row after it, never before; cover the lines above the one you work.",
     .onPurpose = "leave it out, in flat knitting with the one after it"},
    {.id = "sides_swapped",
     .name = "pattern gone on with on the other side",
     .family = Family::rows,
     .canRead = canSwapSides,
     .rowsFor = onTheOtherSide,
     .wholeRow = true,
     .cause = "After a pause the wrong side was taken for the right one, or the other way round.",
     .prevention = "Put a marker on the right side, and read the last row before you go on.",
     .onPurpose = "leave it out and go on with the one after it, whichever side faces you"},
    {.id = "turned_midrow",
     .name = "turned round in the middle of a row",
     .family = Family::rows,
     .canRead = canTurnBack,
     .rowsFor = backAndAgain,
     .cause = "The work was put down in mid-row and taken up with the needles in the wrong hands.",
     .prevention = "Finish the row; if you cannot, take the needle with the working yarn in the right hand.",
     .onPurpose =
         "stop before you work it, turn round, work back to where the row began, and work the row again"},
    {.id = "last_left",
     .name = "turned before the last stitch",
     .family = Family::rows,
     .canRead = canLeaveLast,
     .rowsFor = allButTheLast,
     .wholeRow = true,
     .cause =
         "The last stitch hid under the tip or in the curl of the edge, and the work was turned without it.",
     .prevention = "Look at the left needle before you turn: it must be empty.",
     .onPurpose = "leave the last stitch on the left needle and turn"},
    {.id = "turn_unclosed",
     .name = "turn of a short row left open",
     .family = Family::rows,
     .standsOn = closesTurn,
     .work = leaveItOpen,
     .cause = "The wrap was not lifted, or the two legs of a doubled stitch were worked as two stitches.",
     .prevention = "Put a marker at every turn, and count the stitches when the long row is done.",
     .onPurpose = "leave the wrap lying; or work the two legs of the doubled stitch as two",
     .inLessons = false},
};

}  // namespace

FaultList rowFaults() {
    return listOf(kRows);
}

}  // namespace loopmend
