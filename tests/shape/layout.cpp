// SPDX-License-Identifier: MIT
#include "shape/layout.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cstring>

#include "shape/plumb.h"
#include "shape/swatch.h"

namespace loopmend {
namespace {

/// Feet of the loops of a row, from right to left.
std::vector<Point2> feet(const Fabric& f, const Layout& layout, std::int32_t row) {
    std::vector<Point2> points;
    for (const SweptRow& r : layout.columns.rows) {
        if (r.row != row) continue;
        for (const EntryId e : r.entries) {
            if (f.isLoop(e)) points.push_back(layout[e].frame.at);
        }
    }
    std::sort(points.begin(), points.end(), [](Point2 a, Point2 b) { return a.x > b.x; });
    return points;
}

double width(const std::vector<Point2>& row) {
    return row.front().x - row.back().x;
}

}  // namespace

TEST_CASE("a plain piece is a grid of the gauge") {
    Swatch s(8);
    s.rows(6);
    LayoutOptions options;
    options.gauge = {6.0, 4.5, 1.4};
    const Layout layout = layoutOf(s.f(), options);
    for (std::int32_t row = 0; row <= 6; ++row) {
        const std::vector<Point2> points = feet(s.f(), layout, row);
        REQUIRE(points.size() == 8);
        for (std::size_t i = 1; i < points.size(); ++i)
            CHECK(points[i - 1].x - points[i].x == Approx(6.0).margin(0.3));
        if (row == 0) continue;
        const std::vector<Point2> below = feet(s.f(), layout, row - 1);
        for (std::size_t i = 0; i < points.size(); ++i) {
            CHECK(points[i].y - below[i].y == Approx(4.5).margin(0.3));
            CHECK(points[i].x == Approx(below[i].x).margin(0.3));
        }
    }
}

TEST_CASE("the same fabric is laid out the same, byte for byte") {
    const auto bytes = [] {
        Swatch s(9);
        s.rows(4);
        s.plain(2);
        made(s.k.k2tog());
        made(s.k.yarnOver());
        s.finishRow();
        s.rows(3);
        const Layout layout = layoutOf(s.f());
        std::vector<unsigned char> all;
        for (const Layout::Node& n : layout.nodes) {
            unsigned char raw[sizeof(Point2)];
            std::memcpy(raw, &n.frame.at, sizeof raw);
            all.insert(all.end(), raw, raw + sizeof raw);
        }
        return all;
    };
    CHECK(bytes() == bytes());
}

TEST_CASE("fewer stitches make a narrower row, more a wider one, and the lean spreads") {
    Swatch s(10);
    s.rows(6);
    s.plain(4);
    made(s.k.k2tog());
    s.finishRow();
    s.rows(6);
    const Layout layout = layoutOf(s.f());
    const double w = layout.gauge.stitchMm;
    CHECK(width(feet(s.f(), layout, 0)) > 8.5 * w);
    CHECK(width(feet(s.f(), layout, 12)) == Approx(8 * w).margin(0.5 * w));
    // The edge comes in step by step: no two neighbouring rows differ by the whole stitch.
    for (std::int32_t row = 1; row <= 12; ++row) {
        INFO("row " << row);
        CHECK(std::abs(width(feet(s.f(), layout, row)) - width(feet(s.f(), layout, row - 1))) < 0.8 * w);
    }
}

// common practice
TEST_CASE("an increase at one edge and a decrease at the other lean the piece") {
    Swatch s(10);
    s.rows(2);
    for (int i = 0; i < 5; ++i) {
        s.plain(1);
        made(s.k.makeOne(Hand::left));
        s.plain(s.k.aheadCount() - 3);
        made(s.k.k2tog());
        s.plain(1);
        s.k.turn();
        s.rows(1);
    }
    const Layout layout = layoutOf(s.f());
    const std::vector<Point2> low = feet(s.f(), layout, 1);
    const std::vector<Point2> high = feet(s.f(), layout, 12);
    REQUIRE(low.size() == high.size());
    const double rightEdge = high.front().x - low.front().x;
    const double leftEdge = high.back().x - low.back().x;
    CHECK(rightEdge > 0);
    CHECK(leftEdge > 0);
}

TEST_CASE("a ladder keeps its gap, and its rungs lie one above the other") {
    Swatch s(9);
    s.rows(8);
    const LoopId dropped = s.k.ahead()[4];
    REQUIRE(s.k.drop(dropped).has_value());
    REQUIRE(letRunFrom(s.f(), dropped, 5) == 5);
    const Layout layout = layoutOf(s.f());
    const double w = layout.gauge.stitchMm;
    for (std::int32_t row = 5; row <= 8; ++row) {
        const std::vector<Point2> points = feet(s.f(), layout, row);
        REQUIRE(points.size() == 8);
        double widest = 0;
        for (std::size_t i = 1; i < points.size(); ++i)
            widest = std::max(widest, points[i - 1].x - points[i].x);
        INFO("row " << row);
        CHECK(widest > 1.9 * w);
    }
}

TEST_CASE("a slipped stitch is taller than its neighbours by the rows it passed") {
    Swatch s(7);
    s.rows(4);
    s.plain(3);
    const LoopId slipped = s.next();
    made(s.k.slip(SlipWay::purlwise, false));
    s.finishRow();
    s.rows(2);
    const Layout layout = layoutOf(s.f());
    const LoopId above = s.f()[s.f()[slipped].firstKid].loop;
    const double rise = layout[above].frame.at.y - layout[slipped].frame.at.y;
    CHECK(rise > 1.6 * layout.gauge.rowMm);
    CHECK(rise < 2.2 * layout.gauge.rowMm);
}

TEST_CASE("columns that cross change places") {
    Swatch s(6);
    s.rows(4);
    s.plain(1);
    const std::vector<LoopId> ahead = s.k.ahead();
    REQUIRE(s.k.cross(2, 2, true).has_value());
    s.finishRow();
    const Layout layout = layoutOf(s.f());
    const auto x = [&](LoopId loop) { return layout[loop].frame.at.x; };
    const auto above = [&](LoopId loop) { return x(s.f()[s.f()[loop].firstKid].loop); };
    CHECK(x(ahead[0]) > x(ahead[2]));
    CHECK(above(ahead[0]) < above(ahead[2]));
    CHECK(above(ahead[1]) < above(ahead[3]));
}

TEST_CASE("a gap that was bound off stays open") {
    Swatch s(10);
    s.rows(4);
    s.plain(2);
    REQUIRE(s.k.bindOff(3).has_value());
    s.finishRow();
    s.rows(3);
    const Layout layout = layoutOf(s.f());
    const std::vector<Point2> points = feet(s.f(), layout, 7);
    double widest = 0;
    for (std::size_t i = 1; i < points.size(); ++i) widest = std::max(widest, points[i - 1].x - points[i].x);
    CHECK(widest > 3 * layout.gauge.stitchMm);
    CHECK(widest < 5 * layout.gauge.stitchMm);
}

TEST_CASE("rounds lie cut open, one above the other") {
    Fabric f;
    Knitter k(f, f.addYarn('A', 16800, 4200), Side::right, false);
    REQUIRE(k.castOnBackward(8).has_value());
    REQUIRE(k.joinRound().has_value());
    for (int r = 0; r < 4; ++r) {
        while (k.aheadCount() > 0) made(k.knit());
        REQUIRE(k.endRound().has_value());
    }
    const Layout layout = layoutOf(f);
    const std::vector<Point2> low = feet(f, layout, 1);
    const std::vector<Point2> high = feet(f, layout, 4);
    REQUIRE(low.size() == 8);
    REQUIRE(high.size() == 8);
    CHECK(std::abs(low.front().x - high.front().x) < 0.5 * layout.gauge.stitchMm);
    CHECK(high.front().y > low.front().y + 2.5 * layout.gauge.rowMm);
}

TEST_CASE("rows that must keep their width and columns that want to stand find the middle") {
    // Three columns on three; the upper row wants to be twice as wide.
    PlumbNet net(6);
    for (std::int32_t i = 0; i < 3; ++i) net.addColumn(3 + i, {i}, 0);
    net.addRow(3, 4, 1);
    net.addRow(4, 5, 1);
    const std::vector<double> u = net.solve(100);
    CHECK(u[3] - u[4] > 0.6);
    CHECK(u[3] - u[4] < 1.0);
    CHECK(u[4] == Approx(0).margin(1e-6));
    CHECK(u[0] > 0);
    CHECK(u[0] < u[3]);
    CHECK(PlumbNet(3).solve(10) == std::vector<double>(3, 0.0));
}

}  // namespace loopmend
