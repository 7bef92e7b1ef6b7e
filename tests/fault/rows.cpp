// SPDX-License-Identifier: MIT
//
// Rows that were taken otherwise than they were meant, turned early, or begun on another cast-on.
#include <catch2/catch.hpp>
#include <map>

#include "fabric/itinerary.h"
#include "fault/scenes.h"
#include "sampled.h"

namespace loopmend {
namespace {

const std::vector<After> kGoingOn = {After::byCount, After::byReading};

/// Stitches too many (below 0: too few) after each row.
std::vector<int> off(const FaultyKnitting& k) {
    std::vector<int> by;
    for (const SideBySide::Counts& c : k.counts) by.push_back(c.actual - c.meant);
    return by;
}

using Off = std::vector<int>;

/// The rows worked as they stand here.
std::string knotOfRows(Script script, const std::vector<int>& rows) {
    std::vector<WorkedRow> words;
    for (const int row : rows) words.push_back(script.rows[static_cast<std::size_t>(row) - 1]);
    script.rows = words;
    return knotOf(*knit(script)->fabric);
}

/// Takes rows back, stitch by stitch, until so many hands' rows are left, and works on as it was meant.
/// Empty: hands were refused.
std::string rippedAndReworked(const Script& script, FaultyKnitting& k, int handsRows, int from) {
    Knitter& hands = k.actual.knitter;
    for (int back = 0; back < handsRows; ++back) {
        if (!hands.backOneRow()) return {};
        while (hands.rowBegun()) {
            if (!hands.tink()) return {};
        }
        hands.uncross();
    }
    for (int row = from; row <= k.rows; ++row) {
        const WorkedRow& words = script.rows[static_cast<std::size_t>(row) - 1];
        if (!workRow(hands, words)) return {};
        endRow(hands, words);
    }
    return knotOf(*k.actual.fabric);
}

bool isOfRows(const Fault& fault) {
    return fault.family == Family::rows || fault.family == Family::repeats || fault.family == Family::starts;
}

}  // namespace

TEST_CASE("a row worked once too often lies twice in the cloth, one left out does not") {
    // Common practice: one row (in flat work usually two) too many, or too few, between the motifs.
    for (const bool round : {false, true}) {
        const Script lace = stockGround(StockGround::eyelets, 11, 8, round);
        for (const After after : kGoingOn) {
            INFO(name(after) << (round ? ", round" : ", flat"));
            const FaultyKnitting twice = spoiled(lace, {{"extra_row", 3, 1, 0}}, after);
            const FaultyKnitting none = spoiled(lace, {{"missed_row", 3, 1, 0}}, after);
            if (round) {
                CHECK(knotOf(*twice.actual.fabric) == knotOfRows(lace, {1, 2, 3, 3, 4, 5, 6, 7, 8}));
                CHECK(knotOf(*none.actual.fabric) == knotOfRows(lace, {1, 2, 4, 5, 6, 7, 8}));
            } else {
                CHECK(knotOf(*twice.actual.fabric) == knotOfRows(lace, {1, 2, 3, 2, 3, 4, 5, 6, 7, 8}));
                CHECK(knotOf(*none.actual.fabric) == knotOfRows(lace, {1, 2, 5, 6, 7, 8}));
            }
            CHECK(off(twice) == Off(8, 0));
            CHECK(off(none) == Off(8, 0));
            CHECK(twice.misfits.empty());
            CHECK(none.misfits.empty());
        }
    }
}

TEST_CASE(
    "of a shaping row that was left out, the count stays off; by reading it is made good column by column") {
    const Script shaped = stockGround(StockGround::shaped, 12, 9);
    // Rows 3 and 4: two decreases and the purl row over them.
    const FaultyKnitting count = spoiled(shaped, {{"missed_row", 3, 1, 0}}, After::byCount);
    CHECK(off(count) == Off{0, 0, 2, 2, 2, 2, 2, 2, 2});
    const FaultyKnitting reading = spoiled(shaped, {{"missed_row", 3, 1, 0}}, After::byReading);
    CHECK(off(reading) == Off{0, 0, 2, 2, 2, 2, 2, 2, 2});
    CHECK(reading.misfits.empty());
    CHECK(knotOf(*reading.actual.fabric) != knotOf(*count.actual.fabric));
}

TEST_CASE("a single row more or fewer in flat work swaps the sides") {
    // Common practice: an odd number of rows, and the pattern is gone on with on the other face.
    const Script rib = stockGround(StockGround::eyelets, 11, 7);
    const FaultyKnitting swapped = spoiled(rib, {{"sides_swapped", 4, 1, 0}}, After::byReading);
    const FaultyKnitting missed = spoiled(rib, {{"missed_row", 4, 1, 1}}, After::byCount);
    CHECK(knotOf(*swapped.actual.fabric) == knotOf(*missed.actual.fabric));
    CHECK(swapped.actual.knitter.facing() != swapped.meant.knitter.facing());
    CHECK(off(swapped) == Off(7, 0));
    CHECK_FALSE(knitWith(stockGround(StockGround::eyelets, 11, 7, true), {}, {{"sides_swapped", 4, 1, 0}},
                         After::byCount));
    // In garter stitch every row is like every other: nothing could be seen.
    CHECK_FALSE(
        knitWith(stockGround(StockGround::garter, 11, 7), {}, {{"sides_swapped", 4, 1, 0}}, After::byCount));
}

TEST_CASE("a row of the wrong stitch is one row of the other, and nothing else") {
    const Script plain = stockGround(StockGround::stockinette, 9, 6);
    Script ridge = plain;
    for (Step& step : ridge.rows[3].steps) step.op = Op::knit;
    for (const After after : kGoingOn) {
        const FaultyKnitting k = spoiled(plain, {{"wrong_row", 4, 1, 0}}, after);
        CHECK(knotOf(*k.actual.fabric) == knotOf(*knit(ridge)->fabric));
        CHECK(k.misfits.empty());
    }
}

TEST_CASE("turned round in mid-row, one side has two rows more") {
    // Common practice: count the rows left and right of the hole, they differ by two.
    for (const bool round : {false, true}) {
        const Script plain = stockGround(StockGround::stockinette, 10, 6, round);
        const FaultyKnitting k = spoiled(plain, {{"turned_midrow", 3, 5, 0}}, After::byReading);
        CHECK(off(k) == Off(6, 0));
        const Fabric& f = *k.actual.fabric;
        const auto rowsUnder = [&](LoopId loop) {
            int n = 0;
            for (; f[loop].firstLink; loop = f[f[loop].firstLink].host) ++n;
            return n;
        };
        const std::vector<LoopId> loops = k.actual.knitter.ahead();
        REQUIRE(loops.size() == 10);
        // Row 7 begins at the end at which row 3 began.
        CHECK(rowsUnder(loops.front()) == rowsUnder(loops.back()) + 2);
        CHECK(rowsUnder(loops[3]) == rowsUnder(loops[4]) + 2);
        CHECK(f.loopCount() == k.meant.fabric->loopCount() + 2 * 4);
    }
}

TEST_CASE("a last stitch left waiting is two rows short; it is worked when she comes by again") {
    // Common practice: the edge column has two rows fewer than the one beside it; the count stays right.
    const Script plain = stockGround(StockGround::stockinette, 8, 6);
    const FaultyKnitting k = spoiled(plain, {{"last_left", 3, 1, 0}}, After::byReading);
    CHECK(off(k) == Off(6, 0));
    CHECK(k.actual.fabric->loopCount() == k.meant.fabric->loopCount() - 2);
    CHECK(k.actual.knitter.behind().empty());
    // By count the row after it comes out one short, and is right again in the next.
    const FaultyKnitting count = spoiled(plain, {{"last_left", 3, 1, 0}}, After::byCount);
    REQUIRE(count.misfits.size() == 1);
    CHECK(count.misfits.front().row == 4);
    CHECK(count.misfits.front().over == -1);
    CHECK(knotOf(*count.actual.fabric) == knotOf(*k.actual.fabric));
    // In rib it shows in the stitches as well.
    const Script rib = stockGround(StockGround::rib, 10, 6);
    CHECK(knotOf(*spoiled(rib, {{"last_left", 3, 1, 0}}, After::byReading).actual.fabric) !=
          knotOf(*spoiled(rib, {{"last_left", 3, 1, 0}}, After::byCount).actual.fabric));
}

TEST_CASE("rib that moved over goes on a stitch beside, from its row on, on both sides") {
    // Common practice: the ribs stop and start again one over, a step at that row.
    const Script rib = stockGround(StockGround::rib, 10, 6);
    Script moved = rib;
    // Row 4, a wrong-side row, is begun a stitch on in its repeat; so each row after it, to stay in line.
    for (std::size_t row = 3; row < 6; ++row) {
        moved.rows[row].steps =
            steps({{1, Op::purl}, {2, Op::knit}, {2, Op::purl}, {2, Op::knit}, {2, Op::purl}, {1, Op::knit}});
    }
    Script over = rib;
    for (std::size_t row = 3; row < 6; ++row) {
        for (Step& step : over.rows[row].steps) step.op = step.op == Op::knit ? Op::purl : Op::knit;
    }
    for (const After after : kGoingOn) {
        const FaultyKnitting k = spoiled(rib, {{"rib_shift", 4, 1, 0}}, after);
        CHECK(knotOf(*k.actual.fabric) == knotOf(*knit(moved)->fabric));
        CHECK(off(k) == Off(6, 0));
        // By two, every knit stands where a purl stood.
        const FaultyKnitting two = spoiled(rib, {{"rib_shift", 4, 1, 2}}, after);
        CHECK(knotOf(*two.actual.fabric) == knotOf(*knit(over)->fabric));
    }
    CHECK_FALSE(knitWith(rib, {}, {{"rib_shift", 4, 1, 4}}, After::byCount));
}

TEST_CASE("a repeat begun late is late in every row of the pattern, from its place on") {
    // Common practice: the lines of the pattern step sideways from the first repeat that is off.
    const Script lace = stockGround(StockGround::eyelets, 15, 5);
    const std::vector<FaultPlace> places = placesFor(*findFault("repeat_drift"), lace, {}, {3, 3, 0, false});
    REQUIRE(places.size() > 1);
    const FaultPlace& at = places[1];
    const FaultyKnitting k = spoiled(lace, {at}, After::byCount);
    const auto drifted = place(lace, at);
    REQUIRE(drifted);
    for (const int row : {3, 5}) {
        const WorkedRow& meant = lace.rows[static_cast<std::size_t>(row) - 1];
        const std::vector<WorkedRow> taken = drifted->fault->rowsFor(misreadingOf(lace, *drifted), row);
        REQUIRE(taken.size() == 1);
        const std::vector<Step>& now = taken.front().steps;
        REQUIRE(now.size() == meant.steps.size());
        std::size_t i = 0;
        while (now[i] == meant.steps[i]) ++i;
        // Behind a plain stitch that is one too many every step is the one before it.
        for (std::size_t j = i + 1; j < now.size(); ++j) CHECK(now[j] == meant.steps[j - 1]);
    }
    CHECK(off(k) == Off(5, 0));
}

TEST_CASE("a marker that moved moves one repeat, of the rows to come") {
    // Common practice: spans off by one either way, the whole count right; nothing to be seen yet.
    const Script spines = stockGround(StockGround::spines, 25, 7);
    const std::vector<FaultPlace> places =
        placesFor(*findFault("marker_moved"), spines, {}, {3, 3, 0, false});
    REQUIRE_FALSE(places.empty());
    for (const FaultPlace& at : places) {
        INFO(text(at));
        const FaultyKnitting k = spoiled(spines, {at}, After::byReading);
        CHECK(off(k) == Off(7, 0));
        CHECK(k.misfits.empty());
        const FaultyKnitting end = spoiled(spines, {at}, After::rowEnd);
        CHECK(end.rows == 5);
    }
}

TEST_CASE("another number cast on stays off by as much, whichever way") {
    // Common practice: constant from the cast-on.
    for (const int by : {0, 1, -2, 3}) {
        const int n = by == 0 ? -1 : by;
        for (const After after : kGoingOn) {
            for (const StockGround ground :
                 {StockGround::stockinette, StockGround::garter, StockGround::rib}) {
                const Script script = stockGround(ground, 14, 5);
                INFO(by << " " << name(ground) << " " << name(after));
                CHECK(off(spoiled(script, {{"cast_on_count", 1, 1, by}}, after)) == Off(5, n));
            }
        }
    }
}

TEST_CASE("a band joined with a twist is the same cloth but for the join") {
    const Script round = stockGround(StockGround::rib, 12, 4, true);
    const FaultyKnitting k = spoiled(round, {{"joined_round_twisted", 1, 1, 0}}, After::byReading);
    Script twisted = round;
    twisted.twist = 2;
    CHECK(knotOf(*k.actual.fabric) == knotOf(*knit(twisted)->fabric));
    CHECK(knotOf(*k.actual.fabric) != knotOf(*k.meant.fabric));
    CHECK_FALSE(knitWith(stockGround(StockGround::rib, 12, 4), {}, {{"joined_round_twisted", 1, 1, 0}},
                         After::byCount));
}

TEST_CASE("a cable crossed late or early keeps its hand") {
    // Common practice: the hand is kept, also of a crossing worked on the wrong side.
    const Script cables = stockGround(StockGround::cables, 8, 6);
    const auto hands = [](const Fabric& f) {
        std::vector<int> signs;
        for (std::int32_t i = 0; i < f.crossingCount(); ++i) {
            if (f[CrossingId{i}].sign != 0) signs.push_back(f[CrossingId{i}].sign);
        }
        return signs;
    };
    for (const int by : {0, 1, 2, 3}) {
        const FaultyKnitting late = spoiled(cables, {{"cross_wrong_row", 3, 3, by}}, After::byReading);
        INFO(by);
        CHECK(hands(*late.actual.fabric) == hands(*late.meant.fabric));
        CHECK(knotOf(*late.actual.fabric) != knotOf(*late.meant.fabric));
        CHECK(off(late) == Off(6, 0));
    }
    const FaultyKnitting early = spoiled(cables, {{"cross_wrong_row", 1, 3, 0}}, After::byReading);
    CHECK(hands(*early.actual.fabric) == hands(*early.meant.fabric));
    CHECK(knotOf(*early.actual.fabric) != knotOf(*early.meant.fabric));
    CHECK_FALSE(knitWith(cables, {}, {{"cross_wrong_row", 5, 3, 0}}, After::byReading));
}

TEST_CASE("mistakes of rows do to the count what the trade says") {
    // Common practice: right, but for a turn left open (none or one more), another size's number and a repeat
    // that does not come out at the end (one more or fewer), rows of shaping, and the cast-on.
    std::map<std::string_view, int> tried;
    for (const GroundCloth& cloth : cloths(13, 7)) {
        for (const Fault* fault : catalogue()) {
            if (!isOfRows(*fault)) continue;
            int i = 0;
            for (const FaultPlace& place : placesFor(*fault, cloth.script, {})) {
                if (i++ % 5 != 0) continue;
                ++tried[fault->id];
                INFO(cloth.words << " " << text(place));
                const std::vector<int> by = off(spoiled(cloth.script, {place}, After::byCount));
                const bool shaping = cloth.ground == StockGround::shaped;
                if (fault->id == "wrong_size_read" || shaping) continue;
                // Turned in the middle of a repeat of lace, a yarn over is worked twice before its decrease
                // is, or the other way round: a difference to the trade's zero, which is said of plain rows.
                const bool lace = cloth.ground == StockGround::eyelets || cloth.ground == StockGround::net ||
                                  cloth.ground == StockGround::spines;
                // So is a row whose words run out between the two.
                if ((fault->id == "turned_midrow" || fault->id == "cast_on_count") && lace) continue;
                if (fault->id == "cast_on_count") {
                    CHECK(by.front() == -1);
                    continue;
                }
                for (const int n : by) CHECK(std::abs(n) <= (fault->id == "repeat_drift" ? 1 : 0));
            }
        }
    }
    CHECK(tried.size() >= 13);
}

TEST_CASE("what was misread is taken back row by row, and worked again as it was meant") {
    std::map<std::string_view, int> tried;
    for (const bool mirrored : {false, true}) {
        Setup setup;
        setup.mirrored = mirrored;
        for (const GroundCloth& cloth : cloths(13, 6)) {
            for (const Fault* fault : catalogue()) {
                if (!isOfRows(*fault) || fault->castsOn != nullptr) continue;
                const std::vector<FaultPlace> places =
                    placesFor(*fault, cloth.script, setup, {2, 6, 0, false});
                for (std::size_t i = 0; i < places.size(); i += 11) {
                    const FaultPlace& at = places[i];
                    const auto both = knitWith(cloth.script, setup, {at}, After::rowEnd);
                    REQUIRE(both);
                    INFO(cloth.words << " " << text(at) << (mirrored ? " left" : ""));
                    FaultyKnitting k = spoiled(cloth.script, {at}, After::rowEnd, setup);
                    const std::string actual = knotOf(*k.actual.fabric);
                    CHECK(actual != knotOf(*k.meant.fabric));
                    const auto again = fabricFrom(itinerary(*k.actual.fabric));
                    REQUIRE(again);
                    CHECK(knotOf(*again) == actual);
                    const int worked = k.handsRows - (at.row - 1);
                    ++tried[fault->id];
                    CHECK(rippedAndReworked(cloth.script, k, worked, at.row) == knotOf(*k.meant.fabric));
                }
            }
        }
    }
    CHECK(tried.size() >= 11);
}

TEST_CASE("a row that cannot be misread at a stitch is told with the stitch that names it") {
    const Script plain = stockGround(StockGround::stockinette, 14, 8);
    const auto refused = knitWith(plain, {}, {{"last_left", 5, 14, 0}}, After::byReading);
    REQUIRE_FALSE(refused);
    CHECK(refused.error().message.find("write last_left@5,1") != std::string::npos);
    CHECK(knitWith(plain, {}, {{"last_left", 5, 1, 0}}, After::byReading));
    const auto nowhere = knitWith(plain, {}, {{"cross_wrong_row", 5, 3, 0}}, After::byReading);
    REQUIRE_FALSE(nowhere);
    CHECK(nowhere.error().message.find("choose another row or stitch") != std::string::npos);
}

}  // namespace loopmend
