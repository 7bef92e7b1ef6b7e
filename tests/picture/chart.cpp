// SPDX-License-Identifier: MIT
#include "picture/chart.h"

#include <algorithm>
#include <catch2/catch.hpp>

#include "pattern/counts.h"
#include "pattern/parse.h"
#include "pattern/working.h"
#include "picture/scenes.h"

namespace loopmend {
namespace {

/// Signs of one row, right to left.
std::vector<Sign> signsOf(const Chart& chart, std::int32_t row) {
    for (const ChartRow& r : chart.rows) {
        if (r.row != row) continue;
        std::vector<Sign> signs;
        for (const ChartSquare& s : r.squares) signs.push_back(s.sign);
        return signs;
    }
    return {};
}

const ChartRow& rowOf(const Chart& chart, std::int32_t row) {
    const auto it =
        std::find_if(chart.rows.begin(), chart.rows.end(), [&](const ChartRow& r) { return r.row == row; });
    REQUIRE(it != chart.rows.end());
    return *it;
}

/// Row 5 of a piece of plain rows with something worked after two stitches of it.
Chart charted(int stitches, const std::function<void(Swatch&)>& work, Side side = Side::right) {
    Swatch s(stitches);
    s.rows(4);
    s.plain(2);
    work(s);
    s.finishRow();
    s.rows(1);
    ChartOptions options;
    options.side = side;
    return chartOf(s.f(), options);
}

constexpr Sign k = Sign::knit;

/// A printed pattern, worked.
Chart chartOfText(const std::string& text, int stitches, int rows) {
    const auto script = expand(parse(text), stitches, rows);
    REQUIRE(script.has_value());
    const auto knitting = knit(*script);
    REQUIRE(knitting.has_value());
    return chartOf(*knitting->fabric);
}

bool says(const Drawing& drawing, const std::string& words) {
    return std::any_of(drawing.items.begin(), drawing.items.end(), [&](const DrawItem& item) {
        return item.what == DrawItem::What::words && item.words == words;
    });
}

}  // namespace

TEST_CASE("a chart shows what the right side shows, whichever side was worked") {
    const Chart chart = charted(5, [](Swatch&) {});
    REQUIRE(chart.rows.size() == 6);
    for (const std::int32_t row : {1, 2, 5, 6})
        CHECK(signsOf(chart, row) == std::vector<Sign>{k, k, k, k, k});
    const Chart back = charted(
        5, [](Swatch&) {}, Side::wrong);
    for (const std::int32_t row : {1, 2}) CHECK(signsOf(back, row) == std::vector<Sign>(5, Sign::purl));
}

TEST_CASE("rows are numbered on the side where they begin") {
    const Chart chart = charted(5, [](Swatch&) {});
    CHECK(rowOf(chart, 1).fromRight);
    CHECK_FALSE(rowOf(chart, 2).fromRight);
    const Chart back = charted(
        5, [](Swatch&) {}, Side::wrong);
    CHECK_FALSE(rowOf(back, 1).fromRight);
    CHECK(rowOf(back, 2).fromRight);
}

TEST_CASE("decreases are named by the stitch on top (JIS L 0201:1995, 1040, 1050, 1060, 1070, 1080)") {
    struct Case {
        Sign sign;
        std::function<void(Swatch&)> work;
    };
    const std::vector<Case> cases = {
        {Sign::rightOver, [](Swatch& s) { made(s.k.ssk()); }},
        {Sign::rightOver, [](Swatch& s) { made(s.k.skp()); }},
        {Sign::leftOver, [](Swatch& s) { made(s.k.k2tog()); }},
        {Sign::centreOver, [](Swatch& s) { made(s.k.s2kp()); }},
        {Sign::rightOver3, [](Swatch& s) { made(s.k.sk2p()); }},
        {Sign::leftOver3, [](Swatch& s) { made(s.k.k3tog()); }},
    };
    for (const Case& c : cases) {
        const Chart chart = charted(9, c.work);
        INFO(static_cast<int>(c.sign));
        REQUIRE(signsOf(chart, 5).size() > 3);
        CHECK(signsOf(chart, 5)[2] == c.sign);
        CHECK_FALSE(rowOf(chart, 5).squares[2].bar);
    }
}

TEST_CASE("every other sight has its sign") {
    struct Case {
        Sign sign;
        std::function<void(Swatch&)> work;
    };
    const std::vector<Case> cases = {
        {Sign::purl, [](Swatch& s) { made(s.k.purl()); }},
        {Sign::yarnOver, [](Swatch& s) { made(s.k.yarnOver()); }},
        {Sign::twistedLeft, [](Swatch& s) { made(s.k.knitTbl()); }},
        {Sign::slipped, [](Swatch& s) { made(s.k.slip(SlipWay::purlwise, false)); }},
        {Sign::slippedInFront, [](Swatch& s) { made(s.k.slip(SlipWay::purlwise, true)); }},
        {Sign::below, [](Swatch& s) { made(s.k.workBelow(false)); }},
        {Sign::madeLeft, [](Swatch& s) { made(s.k.makeOne(Hand::left)); }},
        {Sign::madeRight, [](Swatch& s) { made(s.k.makeOne(Hand::right)); }},
    };
    for (const Case& c : cases) {
        const Chart chart = charted(7, c.work);
        INFO(static_cast<int>(c.sign));
        CHECK(signsOf(chart, 5)[2] == c.sign);
    }
    const Chart purled = charted(7, [](Swatch& s) { made(s.k.purlTbl()); });
    CHECK(rowOf(purled, 5).squares[2].bar);
}

TEST_CASE("columns stay above each other where a row is longer or shorter") {
    // One stitch fewer: the rows above lie over the squares they stand on, not at the edge of the sheet.
    Swatch s(9);
    s.rows(4);
    made(s.k.k2tog());
    s.finishRow();
    s.rows(2);
    const Chart chart = chartOf(s.f());
    CHECK(rowOf(chart, 4).start == 0);
    CHECK(rowOf(chart, 4).squares.size() == 9);
    CHECK(rowOf(chart, 5).squares.size() == 8);
    CHECK(rowOf(chart, 5).start == 1);
    CHECK(rowOf(chart, 6).start == 1);
    CHECK(chart.right == 0);
    CHECK(chart.left == 9);
}

TEST_CASE("crossings are lines from where a column was to where it is") {
    for (const bool front : {true, false}) {
        const Chart chart = charted(8, [&](Swatch& s) { REQUIRE(s.k.cross(2, 2, front).has_value()); });
        const ChartRow& row = rowOf(chart, 5);
        for (int i = 2; i < 6; ++i) {
            const ChartSquare& square = row.squares[static_cast<std::size_t>(i)];
            INFO("held in " << (front ? "front" : "the back") << ", square " << i);
            CHECK(square.sign == Sign::crossing);
            // The first two, held, went two to the left; those now on the right came from the left.
            CHECK(square.moved == (i < 4 ? 2 : -2));
            CHECK(square.front == ((i < 4) != front));
        }
    }
}

TEST_CASE("a ladder shows as squares without a stitch over an open loop") {
    const Swatch s = scenes()[15].knit();
    const Chart chart = chartOf(*s.fabric);
    const auto count = [&](std::int32_t row, Sign sign) {
        const std::vector<Sign> signs = signsOf(chart, row);
        return std::count(signs.begin(), signs.end(), sign);
    };
    CHECK(count(4, Sign::loose) == 1);
    for (const std::int32_t row : {5, 6, 7, 8}) CHECK(count(row, Sign::rung) == 1);
}

TEST_CASE("a bind-off ends a chart with dots") {
    const Swatch s = scenes()[16].knit();
    const Chart chart = chartOf(*s.fabric);
    CHECK(signsOf(chart, 6) == std::vector<Sign>(8, Sign::castOff));
    ChartOptions uk;
    uk.terms = Terms::uk;
    CHECK(says(drawingOf(chart), "bound off"));
    CHECK(says(drawingOf(chart, uk), "cast off"));
}

TEST_CASE("the legend names every sign of the chart and no other") {
    for (const Scene& scene : scenes()) {
        const Swatch s = scene.knit();
        const Chart chart = chartOf(*s.fabric);
        const Drawing drawing = drawingOf(chart);
        INFO(scene.name);
        CHECK(drawing.widthMm > 0);
        for (const ChartRow& row : chart.rows) {
            for (const ChartSquare& square : row.squares) CHECK(says(drawing, wordsOf(square, Terms::us)));
        }
        if (scene.name != "yarn-over") CHECK_FALSE(says(drawing, "yarn-over"));
    }
}

TEST_CASE("a part of a chart, and a chart of nothing") {
    const Swatch s = scenes().front().knit();
    ChartOptions options;
    options.firstRow = 2;
    options.lastRow = 3;
    options.firstStitch = 3;
    options.lastStitch = 5;
    const Chart chart = chartOf(*s.fabric, options);
    REQUIRE(chart.rows.size() == 2);
    CHECK(chart.rows[0].row == 2);
    CHECK(chart.rows[0].squares.size() == 3);
    CHECK(chart.rows[0].start == 2);
    CHECK(says(drawingOf(chartOf(Fabric{})), "no stitches here"));
}

TEST_CASE("printed rows become squares from right to left, as the right side shows them") {
    using S = Sign;
    const Chart chart = chartOfText(
        "Row 1 (RS): k1, p1, yo, k2tog, ssk, yo, k1 tbl, sl1, k1.\nRow 2: p4, k5.\n"
        "Row 3: k1, s2kp, sk2p, k2.\n",
        9, 3);
    REQUIRE(chart.rows.size() == 3);
    CHECK(signsOf(chart, 1) == std::vector<S>{S::knit, S::purl, S::yarnOver, S::leftOver, S::rightOver,
                                              S::yarnOver, S::twistedLeft, S::slipped, S::knit});
    // A wrong-side row is worked left to right, and its purls show as knits.
    CHECK(signsOf(chart, 2) ==
          std::vector<S>{S::purl, S::purl, S::purl, S::purl, S::purl, S::knit, S::knit, S::knit, S::knit});
    CHECK(signsOf(chart, 3) == std::vector<S>{S::knit, S::centreOver, S::rightOver3, S::knit, S::knit});
}

TEST_CASE("the purl form has a bar, and the legend says so; nothing is drawn beside the sheet") {
    const Chart chart = chartOfText("Row 1 (RS): k1, p2tog, yo, k2.\nRow 2: p to end.\n", 5, 2);
    const ChartSquare& decrease = rowOf(chart, 1).squares[1];
    CHECK(decrease.sign == Sign::leftOver);
    CHECK(decrease.bar);
    for (const Terms terms : {Terms::us, Terms::uk}) {
        ChartOptions options;
        options.terms = terms;
        options.title = "A chart";
        const Drawing drawing = drawingOf(chart, options);
        CHECK(says(drawing, "A chart"));
        CHECK(says(drawing, "two together, left stitch on top, purled"));
        CHECK_FALSE(says(drawing, "purl"));
        for (const DrawItem& item : drawing.items) {
            for (const Point2& p : item.curve.points) {
                CHECK(p.x >= 0);
                CHECK(p.x <= drawing.widthMm);
                CHECK(p.y >= 0);
                CHECK(p.y <= drawing.heightMm);
            }
        }
    }
}

TEST_CASE("row numbers stand at the side where the row begins, the first row lowest") {
    const Drawing drawing = drawingOf(chartOfText("Row 1 (RS): k to end.\nRow 2: p to end.\n", 4, 2));
    const auto find = [&](const std::string& words) {
        return std::find_if(drawing.items.begin(), drawing.items.end(),
                            [&](const DrawItem& i) { return i.words == words; });
    };
    REQUIRE(find("1") != drawing.items.end());
    REQUIRE(find("2") != drawing.items.end());
    CHECK(find("1")->at.x > find("2")->at.x);
    CHECK(find("1")->at.y > find("2")->at.y);
}

}  // namespace loopmend
