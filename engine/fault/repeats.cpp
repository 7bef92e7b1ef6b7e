// SPDX-License-Identifier: MIT
// The right stitches in the wrong place: columns, repeats and crossings that moved.
#include <algorithm>
#include <optional>

#include "fault/families.h"
#include "fault/needle.h"
#include "fault/place.h"
#include "fault/steps.h"

namespace loopmend {

namespace {

using Steps = std::vector<Step>;

const Step& at(const Steps& steps, int i) {
    return steps[static_cast<std::size_t>(i)];
}
int size(const Steps& steps) {
    return static_cast<int>(steps.size());
}

bool isPlainRow(const Steps& steps) {
    return !steps.empty() && std::all_of(steps.begin(), steps.end(), isPlain);
}

bool areAllAlike(const Steps& steps) {
    return std::all_of(steps.begin(), steps.end(), [&](const Step& s) { return s == steps.front(); });
}

bool isFirst(const Misreading& m) {
    return stitchOfStep(m.here(), m.step) == 1;
}

/// Worked from the same end of the cloth as the row of the mistake.
bool sameWay(const Misreading& m, int row) {
    return m.here().round || m.rowAt(row).facing == m.here().facing;
}

int usesOf(const Steps& steps, int until) {
    int n = 0;
    for (int i = 0; i < until; ++i) n += uses(at(steps, i));
    return n;
}

// ---- a whole row of columns
// ----------------------------------------------------------------------------------------------

/// After how many steps a row repeats itself all along; 0: never.
int periodOf(const Steps& steps) {
    for (int p = 1; 2 * p <= size(steps); ++p) {
        if (std::equal(steps.begin() + p, steps.end(), steps.begin())) return p;
    }
    return 0;
}

/// The row begun so many stitches on in its repeat (below 0: before).
Steps begunAt(const Steps& steps, int by) {
    const int period = periodOf(steps);
    Steps taken;
    for (int i = 0; i < size(steps); ++i) {
        int from = (i + by) % period;
        if (from < 0) from += period;
        taken.push_back(at(steps, from));
    }
    return taken;
}

bool isRibbed(const Steps& steps) {
    return isPlainRow(steps) && !areAllAlike(steps) && periodOf(steps) > 1;
}

int shiftOf(const Misreading& m) {
    return m.by != 0 ? m.by : 1;
}

bool canShiftRib(const Misreading& m) {
    return isFirst(m) && isRibbed(m.here().steps) && begunAt(m.here().steps, shiftOf(m)) != m.here().steps;
}

std::vector<WorkedRow> shifted(const Misreading& m, int row) {
    WorkedRow taken = m.rowAt(row);
    if (isRibbed(taken.steps)) taken.steps = begunAt(taken.steps, sameWay(m, row) ? shiftOf(m) : -shiftOf(m));
    return {taken};
}

// ---- a few columns
// ---------------------------------------------------------------------------------------------------------

constexpr int kFewStitches = 3;

bool isBroken(const Spot& spot) {
    const Steps& steps = spot.row.steps;
    if (spot.step + kFewStitches > size(steps)) return false;
    const Steps few(steps.begin() + spot.step, steps.begin() + spot.step + kFewStitches);
    return isPlainRow(few) && !areAllAlike(few) && nextLoop(spot.knitter);
}

/// For some stitches she works what she should not: in seed stitch as the stitches look, in rib as they do
/// not.
Result<int> asTheyShouldNot(Knitter& k, const Spot& spot) {
    return k.whole([&]() -> Result<int> {
        for (int i = 0; i < kFewStitches; ++i) {
            const Step& step = at(spot.row.steps, spot.step + i);
            if (const Result<void> taken = k.takeUp(step.yarn, step.link); !taken) return did(taken);
            const Result<LoopId> worked = k.work(1, !isPurl(step), Leg::leading);
            if (!worked) return did(worked);
        }
        return kFewStitches;
    });
}

// ---- repeats
// ---------------------------------------------------------------------------------------------------------------

/// Where a row repeats itself, and every how many steps.
struct Repeat {
    int first = 0;
    int steps = 0;
    int last = 0;  ///< beyond the last step of it
};

/// Longer ones are taken for none: nobody sees them as repeats.
constexpr int kLongestRepeat = 40;

/// Each step by a number: the same for steps that are the same. (Rows have few kinds and are compared often.)
std::vector<int> kindsOf(const Steps& steps) {
    std::vector<const Step*> kinds;
    std::vector<int> numbers;
    numbers.reserve(steps.size());
    for (const Step& step : steps) {
        const auto same =
            std::find_if(kinds.rbegin(), kinds.rend(), [&](const Step* k) { return *k == step; });
        if (same == kinds.rend()) {
            numbers.push_back(static_cast<int>(kinds.size()));
            kinds.push_back(&step);
        } else {
            numbers.push_back(static_cast<int>(kinds.rend() - same) - 1);
        }
    }
    return numbers;
}

/// The longest part of a row that repeats itself, at least twice; none if it is all alike.
std::optional<Repeat> repeatOf(const Steps& row) {
    const std::vector<int> steps = kindsOf(row);
    const int n = size(row);
    const auto kind = [&](int i) { return steps[static_cast<std::size_t>(i)]; };
    std::optional<Repeat> best;
    for (int p = 2; 2 * p <= n && p <= kLongestRepeat; ++p) {
        for (int i = 0; i + 2 * p <= n; ++i) {
            int end = i;
            while (end + p < n && kind(end) == kind(end + p)) ++end;
            if (end - i < p) continue;
            const auto first = steps.begin() + i;
            if (std::all_of(first, first + p, [&](int k) { return k == *first; })) {
                i = end;  // and so is all of it
                continue;
            }
            const int whole = (end - i) / p + 1;
            const Repeat found{i, p, i + whole * p};
            if (!best || found.last - found.first > best->last - best->first) best = found;
            i = end;
        }
        // Nothing longer could take in much more.
        if (best && n - (best->last - best->first) < best->steps) break;
    }
    return best;
}

/// Of one yarn, each stitch plain.
bool looksPlain(const Steps& steps) {
    return std::all_of(steps.begin(), steps.end(),
                       [&](const Step& s) { return isPlain(s) && s.yarn == steps.front().yarn; });
}

bool hasPattern(const Steps& steps) {
    return !looksPlain(steps) && repeatOf(steps).has_value();
}

/// The first step at which a repeat begins, so many stitches or more from the row's beginning.
int repeatFrom(const Steps& steps, const Repeat& repeat, int stitches) {
    int before = usesOf(steps, repeat.first);
    for (int i = repeat.first; i < repeat.last; i += repeat.steps) {
        if (before >= stitches) return i;
        for (int k = i; k < i + repeat.steps; ++k) before += uses(at(steps, k));
    }
    return -1;
}

int repeatFrom(const Steps& steps, int stitches) {
    const std::optional<Repeat> repeat = repeatOf(steps);
    return repeat ? repeatFrom(steps, *repeat, stitches) : -1;
}

Step plainBeside(const Steps& steps, int step) {
    WorkedRow row;
    row.steps = steps;
    Step plain = at(steps, step);
    plain = Step{.op = plainIsPurl(row, step) ? Op::purl : Op::knit, .yarn = plain.yarn};
    return plain;
}

/// One plain stitch more before a step, one fewer at `drop` (a step of its own; -1: none).
Steps moved(Steps steps, int step, int drop) {
    const Step plain = plainBeside(steps, step);
    if (drop >= 0) steps.erase(steps.begin() + drop);
    if (drop >= 0 && drop < step) --step;
    steps.insert(steps.begin() + step, plain);
    return steps;
}

/// From so many stitches on, counted along the row of the mistake, everything comes a stitch late.
Steps drifted(const Steps& steps, int stitches, bool along) {
    if (!hasPattern(steps)) return steps;
    if (along) {
        const int step = repeatFrom(steps, stitches);
        if (step < 0) return steps;
        return moved(steps, step, isPlain(steps.back()) ? size(steps) - 1 : -1);
    }
    // From the other end the stitches that drifted are met first.
    if (!isPlain(steps.front())) return steps;
    const int step = repeatFrom(steps, usesOf(steps, size(steps)) - stitches);
    return step < 0 ? steps : moved(steps, step, 0);
}

bool canDrift(const Misreading& m) {
    const Steps& here = m.here().steps;
    if (m.by != 0 || uses(at(here, m.step)) == 0 || looksPlain(here)) return false;
    const std::optional<Repeat> repeat = repeatOf(here);
    return repeat && repeatFrom(here, *repeat, usesOf(here, m.step)) == m.step;
}

std::vector<WorkedRow> drift(const Misreading& m, int row) {
    WorkedRow taken = m.rowAt(row);
    taken.steps = drifted(taken.steps, usesOf(m.here().steps, m.step), sameWay(m, row));
    return {taken};
}

/// Of the repeat that begins so many stitches along: it begins a stitch late, and ends where it should.
Steps movedWithin(const Steps& steps, int stitches, bool along) {
    if (!hasPattern(steps)) return steps;
    const int from = along ? stitches : usesOf(steps, size(steps)) - stitches;
    const int step = repeatFrom(steps, from);
    const std::optional<Repeat> repeat = repeatOf(steps);
    if (step < 0 || step == repeat->first) return steps;
    // Seen along the row, one stitch more before the marker and one fewer after it, or the other way round.
    const int begin = along ? step : step - repeat->steps;
    for (int i = begin + repeat->steps - 1; i >= begin; --i) {
        if (!isPlain(at(steps, i))) continue;
        return moved(steps, step, i);
    }
    return steps;
}

/// A yarn over beside a marker hops over it; the row itself comes out.
bool canMoveMarker(const Misreading& m) {
    const Steps& here = m.here().steps;
    if (m.by != 0 || !isYarnOver(at(here, m.step)) || !hasPattern(here)) return false;
    for (int row = m.row + 1; row <= m.rows(); ++row) {
        const Steps& later = m.rowAt(row).steps;
        if (movedWithin(later, usesOf(here, m.step), sameWay(m, row)) != later) return true;
    }
    return false;
}

std::vector<WorkedRow> byTheMarker(const Misreading& m, int row) {
    WorkedRow taken = m.rowAt(row);
    if (row > m.row) taken.steps = movedWithin(taken.steps, usesOf(m.here().steps, m.step), sameWay(m, row));
    return {taken};
}

// ---- crossings
// -------------------------------------------------------------------------------------------------------------

/// Rows between where a crossing is due and where it is worked.
int crossedAfter(const Misreading& m) {
    return m.by > 0 ? m.by : 2;
}

/// The steps of a row that work the w stitches from the u-th on, if each is plain; -1: they are not.
int plainOver(const Steps& steps, int u, int w) {
    for (int i = 0, n = 0; i < size(steps); n += uses(at(steps, i)), ++i) {
        if (n < u) continue;
        if (n > u || i + w > size(steps)) return -1;
        return isPlainRow({steps.begin() + i, steps.begin() + i + w}) ? i : -1;
    }
    return -1;
}

/// The crossing worked in another row, in place of the plain stitches there, whose looks it keeps.
Steps crossedHere(const Steps& steps, int from, Step cable, bool along) {
    if (!along) std::swap(cable.over, cable.under);
    const int w = cable.over + cable.under;
    cable.purlOver = isPurl(at(steps, from));
    cable.purlUnder = isPurl(at(steps, from + w - 1));
    Steps taken = steps;
    taken.erase(taken.begin() + from, taken.begin() + from + w);
    taken.insert(taken.begin() + from, cable);
    return taken;
}

Steps uncrossed(const Steps& steps, int step) {
    const Step cable = at(steps, step);
    Steps plain;
    for (int i = 0; i < cable.over + cable.under; ++i) {
        const bool purl = i < cable.over ? cable.purlOver : cable.purlUnder;
        plain.push_back({.op = purl ? Op::purl : Op::knit, .yarn = cable.yarn});
    }
    Steps taken = steps;
    taken.erase(taken.begin() + step);
    taken.insert(taken.begin() + step, plain.begin(), plain.end());
    return taken;
}

bool keepsCount(const Steps& steps) {
    int made = 0;
    for (const Step& s : steps) made += makes(s);
    return made == usesOf(steps, size(steps));
}

/// Two rows of which one has a crossing and the other plain stitches in the same columns.
struct MovedCross {
    int due = 0;
    int step = 0;  ///< of the row in which it is due
    int worked = 0;
    int from = 0;  ///< first step of the row in which it is worked
};

std::optional<MovedCross> crossingOf(const Misreading& m) {
    const int other = m.row + crossedAfter(m);
    if (other > m.rows()) return std::nullopt;
    for (int r = m.row; r < other; ++r) {
        if (!keepsCount(m.rowAt(r).steps)) return std::nullopt;
    }
    const bool along = sameWay(m, other);
    const Steps& here = m.here().steps;
    const Steps& there = m.rowAt(other).steps;
    const int all = usesOf(here, size(here));
    const auto across = [&](int u, int w) { return along ? u : all - u - w; };
    if (at(here, m.step).op == Op::cable) {  // late
        const int w = uses(at(here, m.step));
        const int from = plainOver(there, across(usesOf(here, m.step), w), w);
        return from < 0 ? std::nullopt : std::optional<MovedCross>({m.row, m.step, other, from});
    }
    // Early.
    for (int i = 0; i < size(there); ++i) {
        if (at(there, i).op != Op::cable) continue;
        const int w = uses(at(there, i));
        if (plainOver(here, across(usesOf(there, i), w), w) == m.step)
            return MovedCross{other, i, m.row, m.step};
    }
    return std::nullopt;
}

bool canCrossElsewhere(const Misreading& m) {
    return m.by >= 0 && crossingOf(m).has_value();
}

std::vector<WorkedRow> crossedElsewhere(const Misreading& m, int row) {
    const std::optional<MovedCross> c = crossingOf(m);
    WorkedRow taken = m.rowAt(row);
    if (row == c->due) taken.steps = uncrossed(taken.steps, c->step);
    if (row == c->worked) {
        const Step& cable = at(m.rowAt(c->due).steps, c->step);
        taken.steps =
            crossedHere(taken.steps, c->from, cable, taken.round || taken.facing == m.rowAt(c->due).facing);
    }
    return {taken};
}

constexpr Fault kRepeats[] = {
    {.id = "rib_shift",
     .name = "rib moved over by a stitch",
     .family = Family::repeats,
     .canRead = canShiftRib,
     .rowsFor = shifted,
     .wholeRow = true,
     .cause = "The row was begun with the wrong stitch, and the rows after it followed.",
     .prevention = "Read the first stitches of a row before you work them: knit the knits, purl the purls.",
     .onPurpose = "begin one stitch farther on in the rib, and go on so in the rows after it"},
    {.id = "seed_to_rib",
     .name = "seed stitch and rib mixed up for a few stitches",
     .ukName = "moss stitch and rib mixed up for a few stitches",
     .family = Family::repeats,
     .standsOn = isBroken,
     .work = asTheyShouldNot,
     .ownYarn = true,
     .cause = "In seed stitch the stitches were worked as they look, or in rib as they do not.",
     .prevention = "In seed stitch purl what looks knit; in rib knit it. Say it at the start of each row.",
     .onPurpose = "purl for knit and knit for purl, there and at the next two stitches"},
    {.id = "repeat_drift",
     .name = "repeat begun a stitch late",
     .family = Family::repeats,
     .canRead = canDrift,
     .rowsFor = drift,
     .cause = "The edge stitches were miscounted, and every repeat after them came a stitch late.",
     .prevention = "Put a marker between repeats, and look down the lines of the pattern as you cross each.",
     .onPurpose = "work one plain stitch more before the repeat begins, and one fewer at the end; keep to it "
                  "in the rows after"},
    {.id = "marker_moved",
     .name = "marker on the wrong side of a yarn over",
     .family = Family::repeats,
     .canRead = canMoveMarker,
     .rowsFor = byTheMarker,
     .cause = "A yarn over beside a marker hopped over it, and the next repeat was worked up to it.",
     .prevention = "When you slip a marker, look which side of it the yarn over lies.",
     .onPurpose = "slip the marker to the other side of the yarn over, and in the rows after it work up to "
                  "the marker"},
    {.id = "cross_wrong_row",
     .name = "cable crossed in the wrong row",
     .family = Family::repeats,
     .canRead = canCrossElsewhere,
     .rowsFor = crossedElsewhere,
     .cause = "The rows since the last crossing were counted one time too few or too many.",
     .prevention = "Count the strands that lie between two crossings, and mark the row of each.",
     .onPurpose = "cross two rows too late; where no crossing is due yet, cross two rows too early"},
};

}  // namespace

FaultList repeatFaults() {
    return listOf(kRepeats);
}

}  // namespace loopmend
