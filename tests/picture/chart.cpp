// SPDX-License-Identifier: MIT
// Charts: what each square says, which way rows are read, and that the legend is always there.
#include <algorithm>

#include <catch2/catch.hpp>

#include "fabric/hands.h"
#include "pattern/counts.h"
#include "pattern/parse.h"
#include "pattern/working.h"
#include "picture/chart.h"

using namespace loopmend;

namespace {

Chart charted(const std::string& text, int stitches, int rows) {
    const auto script = expand(parse(text), stitches, rows);
    REQUIRE(script);
    const auto knitting = knit(*script);
    REQUIRE(knitting);
    return chartOf(readFrom(*knitting->fabric, Side::right));
}

std::vector<ChartSign> signs(const ChartRow& row) {
    std::vector<ChartSign> all;
    for (const ChartCell& cell : row.cells) all.push_back(cell.sign);
    return all;
}

}  // namespace

TEST_CASE("Squares say what the right side shows, from right to left", "[chart]") {
    // JIS L 0201:1995, letter symbols for knitting: a symbol says how the stitch looks from the right side;
    // its names of decreases say which stitch lies on top: right over left = ssk, left over right = k2tog,
    // centre over three.
    using S = ChartSign;
    const Chart c = charted(
        "Row 1 (RS): k1, p1, yo, k2tog, ssk, yo, k1 tbl, sl1, k1.\nRow 2: p4, k5.\nRow 3: k1, s2kp, sk2p, "
        "k2.\n",
        9, 3);
    REQUIRE(c.rows.size() == 3);
    CHECK(signs(c.rows[0]) == std::vector<S>{S::knit, S::purl, S::hole, S::leftOver, S::rightOver, S::hole,
                                             S::twistedLeft, S::slippedBack, S::knit});
    // A wrong-side row is worked left to right, and its purls show as knits.
    CHECK(c.rows[1].facing == Facing::wrong);
    CHECK(signs(c.rows[1]) ==
          std::vector<S>{S::purl, S::purl, S::purl, S::purl, S::purl, S::knit, S::knit, S::knit, S::knit});
    CHECK(signs(c.rows[2]) == std::vector<S>{S::knit, S::centreOver, S::rightOver3, S::knit, S::knit});
    CHECK(c.columns == 9);
}

TEST_CASE("A crossing shows which arm is in front and whence each strand came", "[chart]") {
    // Common practice: held in front, the right pair passes on top toward the left; held behind, the left
    // pair passes on top toward the right.
    for (const bool front : {true, false}) {
        const Chart c = charted(front ? "Row 1 (RS): 2/2 LC.\n" : "Row 1 (RS): 2/2 RC.\n", 4, 1);
        REQUIRE(c.rows.at(0).cells.size() == 4);
        for (int i = 0; i < 4; ++i) {
            const ChartCell& cell = c.rows[0].cells[static_cast<std::size_t>(i)];
            CHECK(cell.sign == ChartSign::crossed);
            const bool leftPair = i >= 2;
            CHECK(cell.from == (leftPair ? -2 : 2));
            CHECK(cell.inFront == (leftPair == front));
        }
    }
}

TEST_CASE("The purl form has a bar under it, and every sign used stands in the legend", "[chart]") {
    const Chart c = charted("Row 1 (RS): k1, p2tog, yo, k2.\nRow 2: p to end.\n", 5, 2);
    const ChartCell& decrease = c.rows[0].cells[1];
    CHECK(decrease.sign == ChartSign::leftOver);
    CHECK(decrease.purlForm);
    for (const Terms terms : {Terms::us, Terms::uk}) {
        ChartOptions options;
        options.terms = terms;
        const Drawing d = drawingOf(c, options);
        const auto says = [&](const std::string& words) {
            return std::any_of(d.items.begin(), d.items.end(),
                               [&](const DrawItem& i) { return i.words == words; });
        };
        CHECK(says("shows as a knit"));
        CHECK(says("yarn-over"));
        CHECK(says("left over right, leans right, purled"));
        CHECK_FALSE(says("shows as a purl"));
        CHECK(d.widthMm > 0);
        for (const DrawItem& item : d.items) {
            for (const Point2& p : item.curve.points) {
                CHECK(p.x >= 0);
                CHECK(p.x <= d.widthMm);
                CHECK(p.y >= 0);
                CHECK(p.y <= d.heightMm);
            }
        }
    }
}

TEST_CASE("Row numbers stand at the side where the row begins", "[chart]") {
    const Chart c = charted("Row 1 (RS): k to end.\nRow 2: p to end.\n", 6, 2);
    const Drawing d = drawingOf(c);
    const auto find = [&](const std::string& words) {
        return std::find_if(d.items.begin(), d.items.end(),
                            [&](const DrawItem& i) { return i.words == words; });
    };
    REQUIRE(find("1") != d.items.end());
    REQUIRE(find("2") != d.items.end());
    CHECK(find("1")->at.x > find("2")->at.x);
    CHECK(find("1")->at.y > find("2")->at.y);  // the bottom row comes first
}

TEST_CASE("Rows are chosen, and a ladder shows as rungs over a loose loop", "[chart]") {
    const auto script = expand(parse("Row 1 (RS): k to end.\nRow 2: p to end.\n"), 7, 8);
    REQUIRE(script);
    auto knitting = knit(*script);
    REQUIRE(knitting);
    Fabric& f = *knitting->fabric;
    HeldId h = f[f.needle()].first;
    for (int i = 0; i < 3; ++i) h = f[h].next;
    const LoopId loop = f[h].loop;
    REQUIRE(knitting->knitter.drop(loop));
    REQUIRE(letRunFrom(f, loop, 3) == 3);
    const Chart c = chartOf(readFrom(f, Side::right), 4, 8);
    REQUIRE(c.rows.size() == 5);
    CHECK(c.rows.front().row == 4);
    int rungs = 0;
    int loose = 0;
    for (const ChartRow& row : c.rows) {
        for (const ChartCell& cell : row.cells) {
            rungs += cell.sign == ChartSign::rung ? 1 : 0;
            loose += cell.sign == ChartSign::loose ? 1 : 0;
        }
    }
    CHECK(rungs == 3);
    CHECK(loose == 1);
}
