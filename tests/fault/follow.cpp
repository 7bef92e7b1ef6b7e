// SPDX-License-Identifier: MIT
//
// One mistake, three ways to go on: three different fabrics.
#include <catch2/catch.hpp>
#include <cstdlib>

#include "fabric/itinerary.h"
#include "fabric/pairing.h"
#include "fault/scenes.h"

namespace loopmend {
namespace {

/// Stitches too many (below 0: too few) after each row.
std::vector<int> off(const FaultyKnitting& k) {
    std::vector<int> by;
    for (const SideBySide::Counts& c : k.counts) by.push_back(c.actual - c.meant);
    return by;
}

std::vector<std::pair<int, int>> misfits(const FaultyKnitting& k) {
    std::vector<std::pair<int, int>> rows;
    for (const Misfit& m : k.misfits) rows.emplace_back(m.row, m.over);
    return rows;
}

using Rows = std::vector<std::pair<int, int>>;
using Off = std::vector<int>;

}  // namespace

TEST_CASE("a stitch left behind in stockinette: short by one from its row on, whichever way") {
    const Script plain = stockGround(StockGround::stockinette, 10, 6);
    const FaultPlace place{"drop_left_behind", 3, 4, 0};
    const FaultyKnitting count = spoiled(plain, {place}, After::byCount);
    CHECK(off(count) == Off{0, 0, -1, -1, -1, -1});
    CHECK(misfits(count) == Rows{{3, -1}, {4, -1}, {5, -1}, {6, -1}});
    const FaultyKnitting reading = spoiled(plain, {place}, After::byReading);
    CHECK(off(reading) == Off{0, 0, -1, -1, -1, -1});
    CHECK(misfits(reading).empty());
    // Plain rows do not show which stitch was worked into which instruction.
    CHECK(knotOf(*count.actual.fabric) == knotOf(*reading.actual.fabric));
    const FaultyKnitting end = spoiled(plain, {place}, After::rowEnd);
    CHECK(end.rows == 3);
    CHECK(off(end) == Off{0, 0, -1});
    Script three = plain;
    three.rows.resize(3);
    CHECK(knotOf(*end.meant.fabric) == knotOf(*knit(three)->fabric));
    CHECK(knotOf(*end.actual.fabric) == knotOf(*spoiled(three, {place}, After::byReading).actual.fabric));
}

TEST_CASE("a missed yarn over heals by reading at the decrease that takes its column, by count never") {
    // Its column goes into the first decrease of row 5.
    const Script lace = stockGround(StockGround::eyelets, 11, 8);
    const FaultPlace place{"missed_yo", 1, 3, 0};
    const FaultyKnitting reading = spoiled(lace, {place}, After::byReading);
    CHECK(off(reading) == Off{-1, -1, -1, -1, 0, 0, 0, 0});
    CHECK(misfits(reading).empty());
    const FaultyKnitting count = spoiled(lace, {place}, After::byCount);
    CHECK(off(count) == Off{-1, -1, -1, -1, -1, -1, -1, -1});
    CHECK(misfits(count) == Rows{{2, -1}, {3, -1}, {4, -1}, {5, -1}, {6, -1}, {7, -1}, {8, -1}});
    CHECK(knotOf(*count.actual.fabric) != knotOf(*reading.actual.fabric));
    // The row of the mistake comes out: it had its stitches.
    const FaultyKnitting end = spoiled(lace, {place}, After::rowEnd);
    CHECK(end.rows == 1);
    CHECK(off(end) == Off{-1});
    CHECK(misfits(end).empty());
}

TEST_CASE("by reading only the column of the mistake differs, by count everything after it in pattern rows") {
    const Script lace = stockGround(StockGround::eyelets, 27, 8);
    const FaultPlace place{"missed_yo", 1, 3, 0};
    const auto wrong = [&](After after) {
        const FaultyKnitting k = spoiled(lace, {place}, after);
        const Pairing p = pairUp(*k.meant.fabric, *k.actual.fabric);
        return p.missing.size() + p.extra.size() + p.changed.size();
    };
    CHECK(wrong(After::byReading) == 5);  // the strand, three rows on it, and the decrease that takes one
    CHECK(wrong(After::byCount) > 20);
}

TEST_CASE("a yarn over too many makes a column that is worked as its row goes") {
    const Script rib = stockGround(StockGround::rib, 14, 5);
    const FaultPlace place{"accidental_yo", 2, 5, 0};
    const FaultyKnitting reading = spoiled(rib, {place}, After::byReading);
    CHECK(off(reading) == Off{0, 1, 1, 1, 1});
    CHECK(misfits(reading).empty());
    const Pairing p = pairUp(*reading.meant.fabric, *reading.actual.fabric);
    CHECK(p.extra.size() == 4);
    CHECK(p.missing.empty());
    CHECK(p.changed.empty());
    const FaultyKnitting count = spoiled(rib, {place}, After::byCount);
    CHECK(off(count) == Off{0, 1, 1, 1, 1});
    CHECK(misfits(count) == Rows{{3, 1}, {4, 1}, {5, 1}});
}

TEST_CASE("stitches left over are worked plainly, as the end of that row goes") {
    const Script rib = stockGround(StockGround::rib, 14, 3);
    const FaultyKnitting count = spoiled(rib, {{"accidental_yo", 2, 5, 0}}, After::byCount);
    // Row 3 is a right-side row that ends in two knits: the one left over, the newest loop, is a third.
    const Fabric& f = *count.actual.fabric;
    const LoopId last = f[count.actual.knitter.yarn()].last;
    CHECK(f[f[last].firstLink].form.side == Side::right);
    // Row 2 ends in two purls: a stitch left over there is a purl to her, again a V on the right side.
    Script two = rib;
    two.rows.resize(2);
    const FaultyKnitting first = spoiled(two, {{"accidental_yo", 1, 5, 0}}, After::byCount);
    CHECK(misfits(first) == Rows{{2, 1}});
    const Fabric& g = *first.actual.fabric;
    CHECK(g[g[g[first.actual.knitter.yarn()].last].firstLink].form.side == Side::right);
}

TEST_CASE("a missed decrease leaves one more, of three two more") {
    const Script shaped = stockGround(StockGround::shaped, 12, 8);
    // Row 3: k1, ssk ...; row 7: k1, sk2p ...
    CHECK(off(spoiled(shaped, {{"missed_dec", 3, 2, 0}}, After::byReading)) == Off{0, 0, 1, 1, 1, 1, 1, 1});
    CHECK(off(spoiled(shaped, {{"missed_dec", 7, 2, 0}}, After::byReading)) == Off{0, 0, 0, 0, 0, 0, 2, 2});
    const FaultyKnitting count = spoiled(shaped, {{"missed_dec", 7, 2, 0}}, After::byCount);
    CHECK(off(count) == Off{0, 0, 0, 0, 0, 0, 2, 2});
    CHECK(misfits(count) == Rows{{7, 2}, {8, 2}});
}

TEST_CASE("a decrease of which one stitch is missing takes the other alone, of three it takes two") {
    // Right above a stitch left behind stands one leg of a decrease.
    const Script net = stockGround(StockGround::net, 10, 2);
    // Row 1: k1, (yo, k2tog); row 2: p1, (yo, p2tog) over the decrease and the yarn-over of row 1.
    const FaultyKnitting one = spoiled(net, {{"missed_yo", 1, 2, 0}}, After::byReading);
    CHECK(off(one) == Off{-1, 0});
    const Pairing p = pairUp(*one.meant.fabric, *one.actual.fabric);
    REQUIRE(p.changed.size() == 1);
    CHECK(one.actual.fabric->linkCount(p.changed[0]) == 1);

    const Script spines = stockGround(StockGround::spines, 13, 3);
    // Row 3 gathers stitches 3, 4, 5 of its repeat; row 2 above the last of them was left out.
    const FaultyKnitting two = spoiled(spines, {{"drop_left_behind", 2, 9, 0}}, After::byReading);
    const Pairing q = pairUp(*two.meant.fabric, *two.actual.fabric);
    REQUIRE(q.changed.size() == 1);
    CHECK(two.meant.fabric->linkCount(q.meant(q.changed[0])) == 3);
    CHECK(two.actual.fabric->linkCount(q.changed[0]) == 2);
    CHECK(off(two) == Off{0, -1, 0});
}

TEST_CASE("the rest of a row is not worked when the stitches run out") {
    const Script lace = stockGround(StockGround::eyelets, 11, 3);
    // By count row 3 ends k2 yo ssk | k2 on one stitch fewer: its last knit finds nothing.
    const FaultyKnitting count = spoiled(lace, {{"missed_yo", 1, 3, 0}}, After::byCount);
    CHECK(misfits(count) == Rows{{2, -1}, {3, -1}});
    CHECK(count.actual.knitter.aheadCount() == 10);
    // A decrease that finds one stitch is not worked; the stitch is worked plainly.
    Script ends = stockGround(StockGround::stockinette, 6, 2);
    ends.rows.push_back(rowOf(3, Facing::right, steps({{2, Op::k2tog}, {1, Op::k2tog}})));
    const FaultyKnitting pair = spoiled(ends, {{"merged", 2, 2, 0}}, After::byCount);
    CHECK(misfits(pair) == Rows{{2, -1}, {3, -1}});
    CHECK(off(pair) == Off{0, -1, 0});
}

TEST_CASE("binding off takes whatever there is") {
    Script ends = stockGround(StockGround::stockinette, 6, 2);
    Step bind;
    bind.op = Op::bindOff;
    bind.count = 6;
    ends.rows.push_back(rowOf(3, Facing::right, {bind}));
    for (const FaultPlace& place : {FaultPlace{"merged", 2, 2, 0}, FaultPlace{"accidental_yo", 2, 2, 0}}) {
        for (const After after : {After::byCount, After::byReading}) {
            INFO(text(place) << " " << name(after));
            const FaultyKnitting k = spoiled(ends, {place}, after);
            CHECK(k.counts[1].actual != 6);
            CHECK(k.counts[2].actual == 0);
            CHECK((*k.actual.fabric)[k.actual.knitter.yarn()].flags.ball == 0);
        }
    }
}

TEST_CASE("a cable of which a stitch is missing crosses what there is") {
    const Script cables = stockGround(StockGround::cables, 8, 4);
    const FaultyKnitting k = spoiled(cables, {{"drop_left_behind", 2, 4, 0}}, After::byReading);
    CHECK(off(k) == Off{0, -1, -1, -1});
    int crossings = 0;
    for (std::int32_t i = 0; i < k.actual.fabric->crossingCount(); ++i)
        crossings += (*k.actual.fabric)[CrossingId{i}].sign != 0 ? 1 : 0;
    CHECK(crossings == 2);  // one stitch past two, instead of two past two
}

TEST_CASE("faultless, both knittings are the same, however she would go on") {
    for (const GroundCloth& cloth : cloths(12, 8)) {
        for (const After after : kAllAfters) {
            INFO(cloth.words << " " << name(after));
            const FaultyKnitting k = spoiled(cloth.script, {}, after);
            CHECK(k.rows == 8);
            CHECK(k.misfits.empty());
            CHECK(itinerary(*k.actual.fabric).knot == knotOf(*knit(cloth.script)->fabric));
            CHECK(itinerary(*k.actual.fabric).measure == itinerary(*k.meant.fabric).measure);
        }
    }
}

TEST_CASE("two mistakes that cancel in the total show in the rows between") {
    // checks: two faults of +1 and -1 hide in the total (common practice).
    const Script lace = stockGround(StockGround::eyelets, 19, 2);
    const FaultyKnitting k =
        spoiled(lace, {{"missed_yo", 1, 3, 0}, {"missed_dec", 1, 10, 0}}, After::byReading);
    CHECK(off(k) == Off{0, 0});
    CHECK_FALSE(pairUp(*k.meant.fabric, *k.actual.fabric).agrees());
}

TEST_CASE("what was worked with a fault is rolled back whole") {
    const Script lace = stockGround(StockGround::spines, 13, 8);
    SideBySide both(lace, {}, After::byReading);
    REQUIRE(both.workRow());
    REQUIRE(both.workRow());
    const Itinerary before = itinerary(*both.actual().fabric);
    const SideBySide::Mark mark = both.mark();
    for (const char* words : {"missed_yo@3,2", "merged@4,3", "cdd_wrong_stack@3,4", "missed_dec@3,4"}) {
        INFO(words);
        const auto fault = place(lace, *parsePlace(words));
        REQUIRE(fault);
        for (int row = 3; row <= 8; ++row) {
            REQUIRE(both.workRow(row == fault->place.row ? std::vector<PlacedFault>{*fault}
                                                         : std::vector<PlacedFault>{}));
        }
        CHECK(knotOf(*both.actual().fabric) ==
              knotOf(*spoiled(lace, {fault->place}, After::byReading).actual.fabric));
        both.rollBack(mark);
        CHECK(itinerary(*both.actual().fabric).knot == before.knot);
        CHECK(itinerary(*both.actual().fabric).measure == before.measure);
        CHECK(both.rows() == 2);
    }
}

}  // namespace loopmend
