// SPDX-License-Identifier: MIT
#include "tutor/practice_level.h"

#include <algorithm>
#include <cstddef>
#include <cstdlib>
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

/// Everything that looking can tell of one cloth.
struct Sight {
    Reading shown;
    Reading other;
    std::vector<Symptom> glance;
    std::vector<Symptom> turnedOver;
    std::vector<Landmark> lines;
    std::string knot;
};

Sight sightOf(const Fabric& fabric, Side facing, bool mirrored) {
    const Knits hands = mirrored ? Knits::leftHanded : Knits::rightHanded;
    Sight sight;
    sight.shown = readFrom(fabric, facing, hands);
    sight.other = readFrom(fabric, facing == Side::right ? Side::wrong : Side::right, hands);
    sight.glance = symptoms(fabric, sight.shown);
    sight.turnedOver = symptoms(fabric, sight.other);
    sight.lines = landmarks(fabric, sight.shown);
    sight.knot = knotOf(fabric);
    return sight;
}

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
bool alike(const Sight& a, const Sight& b, int level) {
    if (!sameSymptoms(a.glance, b.glance)) return false;
    if (level == 1) return true;
    if (!sameSymptoms(a.turnedOver, b.turnedOver) || a.shown.needle.size() != b.shown.needle.size())
        return false;
    if (level == 2) return true;
    const std::size_t rows = a.shown.rows.size();
    const std::size_t upper = rows > kUpperRows ? rows - kUpperRows : 0;
    if (!sameCounts(a.shown, b.shown) || !sameRows(a.shown, b.shown, upper)) return false;
    if (level == 3) return true;
    if (!sameRows(a.shown, b.shown, 0) || !(a.lines == b.lines)) return false;
    if (level == 4) return true;
    return a.knot == b.knot;
}

/// Every mistake near the place, with each way of going on.
std::vector<FaultPlace> rivalsOf(const LevelAsked& asked) {
    std::vector<FaultPlace> rivals;
    Wanted near;
    near.rowFrom = std::max(1, asked.place.row - kRowsNear);
    near.rowTo = asked.place.row + kRowsNear;
    for (const Fault* fault : catalogue()) {
        for (FaultPlace& place : placesFor(*fault, asked.script, asked.setup, near)) {
            if (std::abs(place.stitch - asked.place.stitch) > kStitchesNear || place == asked.place) continue;
            rivals.push_back(std::move(place));
        }
    }
    return rivals;
}

int looksOf(const LevelAsked& asked, const FaultyKnitting& knitting, int most) {
    const bool mirrored = asked.setup.mirrored;
    const Side facing = knitting.actual.knitter.facing();
    const Sight actual = sightOf(*knitting.actual.fabric, facing, mirrored);
    const Sight meant = sightOf(*knitting.meant.fabric, facing, mirrored);
    int level = 1;
    while (level <= kMostLevel && alike(meant, actual, level)) ++level;
    if (level > kMostLevel) return 0;
    // With all looks only what makes the same knot looks the same.
    if (level == kMostLevel || level > most) return level;
    for (const FaultPlace& place : rivalsOf(asked)) {
        for (const After after : {After::byReading, After::byCount}) {
            const auto other = knitWith(asked.script, asked.setup, {place}, after);
            if (!other || other->actual.knitter.facing() != facing) continue;
            const Sight sight = sightOf(*other->actual.fabric, facing, mirrored);
            if (sight.knot == actual.knot) continue;
            while (level < kMostLevel && alike(sight, actual, level)) ++level;
            if (level == kMostLevel || level > most) return level;
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
