// SPDX-License-Identifier: MIT
#include "tutor/practice_level.h"

#include <algorithm>
#include <cstddef>
#include <cstdlib>
#include <optional>
#include <string>
#include <utility>

#include "fabric/itinerary.h"
#include "fault/catalogue.h"
#include "fault/draw.h"
#include "fault/knit_with.h"
#include "reading/landmarks.h"
#include "reading/read.h"
#include "reading/symptoms.h"
#include "repair/plan.h"
#include "tutor/practice.h"

namespace loopmend {

namespace {

constexpr int kUpperRows = 3;
/// Other mistakes are thought of so near to the place: looks that show anything of it show none of those
/// further off.
constexpr int kRowsNear = 2;
constexpr int kStitchesNear = 2;

/// Everything that looking can tell of one cloth, looked at when it is asked for.
class Looked {
  public:
    Looked(const Fabric& fabric, Side facing, bool mirrored)
        : fabric_(fabric), facing_(facing), hands_(mirrored ? Knits::leftHanded : Knits::rightHanded) {}

    const Reading& shown() const { return from(shown_, facing_); }
    const Reading& other() const { return from(other_, facing_ == Side::right ? Side::wrong : Side::right); }
    const std::vector<Symptom>& glance() const { return standingOut(glance_, shown()); }
    const std::vector<Symptom>& turnedOver() const { return standingOut(turnedOver_, other()); }
    const std::vector<Landmark>& lines() const {
        if (!lines_) lines_ = landmarks(fabric_, shown());
        return *lines_;
    }
    const std::string& knot() const {
        if (knot_.empty()) knot_ = knotOf(fabric_);
        return knot_;
    }

  private:
    const Reading& from(std::optional<Reading>& kept, Side side) const {
        if (!kept) {
            kept = readFrom(fabric_, side, hands_);
            for (ReadRow& row : kept->rows) {
                for (Cell& cell : row.cells) hideBehindBump(cell.symbol);
            }
        }
        return *kept;
    }

    /// Which of several stitches lies on top, and how their feet sit, cannot be seen behind a bump.
    static void hideBehindBump(Symbol& symbol) {
        if (symbol.sight != Sight::together || symbol.face != Face::bump) return;
        symbol.lean = Lean::none;
        symbol.stack = {};
        symbol.twists = {};
        symbol.twist = 0;
    }

    const std::vector<Symptom>& standingOut(std::optional<std::vector<Symptom>>& kept,
                                            const Reading& reading) const {
        if (!kept) kept = symptoms(fabric_, reading);
        return *kept;
    }

    const Fabric& fabric_;
    Side facing_;
    Knits hands_;
    mutable std::optional<Reading> shown_;
    mutable std::optional<Reading> other_;
    mutable std::optional<std::vector<Symptom>> glance_;
    mutable std::optional<std::vector<Symptom>> turnedOver_;
    mutable std::optional<std::vector<Landmark>> lines_;
    mutable std::string knot_;
};

bool sameSymptoms(const std::vector<Symptom>& a, const std::vector<Symptom>& b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const Symptom& x, const Symptom& y) {
        return x.kind == y.kind && x.row == y.row && x.stitch == y.stitch && x.column == y.column;
    });
}

bool sameRow(const ReadRow& a, const ReadRow& b) {
    return a.stitches == b.stitches && a.cameOut == b.cameOut && a.waitingLeft == b.waitingLeft &&
           a.waitingRight == b.waitingRight &&
           std::equal(a.cells.begin(), a.cells.end(), b.cells.begin(), b.cells.end(),
                      [](const Cell& x, const Cell& y) {
                          return looksAlike(x.symbol, y.symbol) && x.symbol.loose == y.symbol.loose;
                      });
}

bool sameRows(const Reading& a, const Reading& b, std::size_t from) {
    if (a.rows.size() != b.rows.size()) return false;
    for (std::size_t i = from; i < a.rows.size(); ++i) {
        if (!sameRow(a.rows[i], b.rows[i])) return false;
    }
    return true;
}

bool sameCounts(const Reading& a, const Reading& b) {
    return std::equal(a.rows.begin(), a.rows.end(), b.rows.begin(), b.rows.end(),
                      [](const ReadRow& x, const ReadRow& y) { return x.stitches == y.stitches; });
}

/// Whether looks of a level show both cloths alike.
bool alike(const Looked& a, const Looked& b, int level) {
    if (!sameSymptoms(a.glance(), b.glance())) return false;
    if (level == 1) return true;
    if (a.shown().needle.size() != b.shown().needle.size() || !sameSymptoms(a.turnedOver(), b.turnedOver()))
        return false;
    if (level == 2) return true;
    const std::size_t rows = a.shown().rows.size();
    const std::size_t upper = rows > kUpperRows ? rows - kUpperRows : 0;
    if (!sameCounts(a.shown(), b.shown()) || !sameRows(a.shown(), b.shown(), upper)) return false;
    if (level == 3) return true;
    if (!sameRows(a.shown(), b.shown(), 0) || !(a.lines() == b.lines())) return false;
    if (level == 4) return true;
    return a.knot() == b.knot();
}

/// Every mistake near the place, with each way of going on.
std::vector<FaultPlace> rivalsOf(const LevelAsked& asked) {
    std::vector<FaultPlace> rivals;
    Wanted near;
    near.rowFrom = std::max(1, asked.place.row - kRowsNear);
    near.rowTo = asked.place.row + kRowsNear;
    for (const Fault* fault : lessonFaults()) {
        for (FaultPlace& place : placesFor(*fault, asked.script, asked.setup, near)) {
            if (std::abs(place.stitch - asked.place.stitch) > kStitchesNear || place == asked.place) continue;
            rivals.push_back(std::move(place));
        }
    }
    // The nearest are the likeliest to look the same: looking may stop there.
    std::stable_sort(rivals.begin(), rivals.end(), [&](const FaultPlace& a, const FaultPlace& b) {
        const auto off = [&](const FaultPlace& p) {
            return std::abs(p.row - asked.place.row) + std::abs(p.stitch - asked.place.stitch);
        };
        return off(a) < off(b);
    });
    return rivals;
}

bool countsAgree(const FaultyKnitting& knitting) {
    return std::all_of(knitting.counts.begin(), knitting.counts.end(),
                       [](const SideBySide::Counts& c) { return c.meant == c.actual; });
}

int looksOf(const LevelAsked& asked, const FaultyKnitting& knitting, int most) {
    const bool mirrored = asked.setup.mirrored;
    const Side facing = knitting.actual.knitter.facing();
    const Looked actual(*knitting.actual.fabric, facing, mirrored);
    const Looked meant(*knitting.meant.fabric, facing, mirrored);
    int level = 1;
    while (level <= kMostLevel && alike(meant, actual, level)) ++level;
    if (level > kMostLevel) return 0;
    // With all looks only what makes the same knot looks the same.
    const auto settled = [&] { return level == kMostLevel || level > most; };
    if (settled()) return level;
    for (const FaultPlace& place : rivalsOf(asked)) {
        for (const After after : {After::byReading, After::byCount}) {
            const auto other = knitWith(asked.script, asked.setup, {place}, after);
            if (!other) break;
            if (other->actual.knitter.facing() != facing) continue;
            const Looked rival(*other->actual.fabric, facing, mirrored);
            if (alike(rival, actual, level) && rival.knot() != actual.knot()) {
                while (level < kMostLevel && alike(rival, actual, level)) ++level;
                if (settled()) return level;
            }
            // Where every row came out, hands went on the same way by count as by reading.
            if (countsAgree(*other)) break;
        }
    }
    return level;
}

bool counts(const std::vector<std::string>& repairs, PlanFamily family) {
    return repairs.empty() ||
           std::find(repairs.begin(), repairs.end(), std::string(nameOf(family))) != repairs.end();
}

}  // namespace

int looksLevelOf(const LevelAsked& asked, int most) {
    const auto knitting = knitWith(asked.script, asked.setup, {asked.place}, asked.after);
    return knitting ? looksOf(asked, *knitting, most) : 0;
}

ExerciseLevel handsLevelOf(const LevelAsked& asked) {
    ExerciseLevel level;
    auto knitting = knitWith(asked.script, asked.setup, {asked.place}, asked.after);
    if (!knitting) return level;
    for (const Plan& plan : plansFor(*knitting->meant.fabric, asked.script, knitting->actual.knitter)) {
        if (!plan.proved || !counts(asked.repairs, plan.family)) continue;
        level.moves = static_cast<int>(plan.moves.size());
        break;
    }
    if (level.moves == 0) return level;
    int hands = 1;
    for (const int most : kMostMoves) {
        if (level.moves <= most) {
            level.hands = hands;
            break;
        }
        ++hands;
    }
    return level;
}

ExerciseLevel levelOf(const LevelAsked& asked) {
    ExerciseLevel level = handsLevelOf(asked);
    level.looks = looksLevelOf(asked);
    return level;
}

}  // namespace loopmend
