// SPDX-License-Identifier: MIT
#include "reading/counts.h"

#include <catch2/catch.hpp>

#include "reading/scripts.h"

namespace loopmend {
namespace {

Fabric knitted(int castOn, const std::vector<std::string>& rows) {
    const auto knitting = knit(scriptFrom(castOn, rows));
    INFO((knitting ? std::string() : sentence(knitting.error())));
    REQUIRE(knitting);
    return reloaded(*knitting->fabric);
}

}  // namespace

TEST_CASE("stitches after each row") {
    const Reading reading = readFrom(knitted(8, {"k8", "k2tog p6", "k yo k6", "bo2 k6"}), Side::right);
    CHECK(stitchesAfter(reading) == std::vector<int>{8, 8, 7, 8, 6});
    CHECK(liveStitches(reading) == 6);
}

// Common practice: over k rows of garter, one ridge is two rows.
TEST_CASE("a garter ridge is two rows") {
    for (const Side side : {Side::right, Side::wrong}) {
        const Reading garter = readFrom(knitted(6, std::vector<std::string>(12, "k6")), side);
        CHECK(garterRidges(garter, 1, 12) == 6);
        const Reading plain = readFrom(knitted(6, {"k6", "p6", "k6", "p6", "k6", "p6"}), side);
        CHECK(garterRidges(plain, 1, 6) == 0);
    }
    const Reading one = readFrom(knitted(6, {"k6", "p6", "k6", "k6", "k6", "p6"}), Side::right);
    CHECK(garterRidges(one, 1, 6) == 1);
}

// Common practice: +1 and -1 hide in the total and show in the count between markers.
TEST_CASE("two faults hide in the total and show between markers") {
    const std::vector<std::string> meant = {"k12", "p12"};
    const std::vector<std::string> actual = {"k2 k2tog k4 yo k4", "p12"};
    const Reading a = readFrom(knitted(12, meant), Side::right);
    const Reading b = readFrom(knitted(12, actual), Side::right);
    CHECK(liveStitches(a) == liveStitches(b));
    // Markers hang beside the sixth stitch of the cast-on.
    CHECK(countBetween(a, 1, 1, 6) == 6);
    const auto toSixth = [](const Reading& r) {
        int n = 0;
        for (const Cell& cell : r.rows[1].cells) {
            ++n;
            if (cell.symbol.sight == Sight::hole) return n;
        }
        return n;
    };
    CHECK(toSixth(b) == 8);
    const LoopId first = b.needle.front().loop;
    CHECK(countBetween(b, first, b.needle[4].loop) == 5);
    CHECK(countBetween(b, b.needle[4].loop, first) == 0);
    CHECK(countBetween(b, b.needle[2].loop, b.needle[2].loop) == 1);
    CHECK(countBetween(b, b.rows[1].cells[1].loop, b.rows[1].cells[3].loop, 1) == 3);
}

TEST_CASE("rows in a column") {
    const Fabric fabric = knitted(4, {"k4", "p4", "k sl k2", "p4", "k4"});
    const Reading reading = readFrom(fabric, Side::right);
    const Columns columns(fabric, reading);
    CHECK(rowsInColumn(columns, columns.first(5)) == 5);
    CHECK(rowsInColumn(columns, columns.first(5) + 1) == 4);  // a slipped stitch is one over two rows
}

TEST_CASE("which repeat differs from its sisters") {
    const Reading right = readFrom(
        knitted(21, {"k yo k2tog k2 yo k2tog k2 yo k2tog k2 yo k2tog k2 yo k2tog k2", "p21"}), Side::right);
    CHECK(repeatsIn(right, 1, 1, 4) == 5);
    CHECK_FALSE(oddRepeat(right, 1, 1, 4).has_value());
    const Reading wrong = readFrom(
        knitted(21, {"k yo k2tog k2 yo k2tog k2 yo ssk k2 yo k2tog k2 yo k2tog k2", "p21"}), Side::right);
    CHECK(oddRepeat(wrong, 1, 1, 4) == 3);
}

TEST_CASE("stitches between markers, and the same span some rows down") {
    const Fabric fabric = knitted(12, {"k12", "p12", "k4 yo k2tog k2 yo k4", "p13"});
    const Reading reading = readFrom(fabric, Side::right);
    CHECK(countsBetween(reading, 1, {5, 9}) == std::vector<int>{4, 4, 4});
    CHECK(countsBetween(reading, 4, {5, 9}) == std::vector<int>{4, 4, 5});
    CHECK(countsBetween(reading, 4, {}) == std::vector<int>{13});
    CHECK(countsBetween(reading, 99, {5}).empty());
    const Columns columns(fabric, reading);
    const auto place = [&](int row, int column) {
        for (Columns::Place p = columns.first(row); p < columns.last(row); ++p) {
            if (columns.cell(p).column == column) return p;
        }
        return Columns::kNone;
    };
    CHECK(spanBelow(columns, place(4, 1), place(4, 13), 4) == 13);
    CHECK(spanBelow(columns, place(4, 1), place(4, 13), 2) == 12);
    CHECK_FALSE(spanBelow(columns, place(4, 5), place(4, 13), 2).has_value());  // a hole stands on nothing
}

// Common practice: the rows since the last decrease are counted in its column, the decrease row not among
// them.
TEST_CASE("rows since a crossing, and strands between the gaps of a rope") {
    std::vector<std::string> rows;
    for (int i = 0; i < 3; ++i) {
        rows.emplace_back("k2 c2/2b k2");
        for (int r = 0; r < 5; ++r) rows.emplace_back(r % 2 == 0 ? "p8" : "k8");
    }
    const Fabric fabric = knitted(8, rows);
    const Reading reading = readFrom(fabric, Side::right);
    const Columns columns(fabric, reading);
    CHECK(rowsDownTo(columns, columns.first(18) + 3, 14) == 5);
    CHECK(strandsBetweenGaps(fabric, reading, 4) == std::vector<int>{6, 6});
}

// Common practice: garter is counted in ridges, two rows each; the newest row shows no ridge yet on the side
// where it is a V.
TEST_CASE("garter rows by ridges") {
    for (const int n : {6, 7, 11, 12}) {
        const Fabric fabric = knitted(6, std::vector<std::string>(static_cast<std::size_t>(n), "k6"));
        for (const Side side : {Side::right, Side::wrong}) {
            const Ridges ridges = garterRows(readFrom(fabric, side));
            INFO(n);
            CHECK(ridges.rows == n);
            CHECK(ridges.ridges >= n / 2);
            CHECK(ridges.ridges <= (n + 1) / 2);
        }
    }
}

// Common practice: left and right of a turn in mid-row the row counts differ by two.
TEST_CASE("rows left and right of a turn") {
    auto knitting = knit(scriptFrom(8, {"k8", "p8"}));
    REQUIRE(knitting);
    Knitter& k = knitting->knitter;
    for (int i = 0; i < 4; ++i) REQUIRE(k.knit());
    k.turn();
    for (int i = 0; i < 4; ++i) REQUIRE(k.purl());
    k.turn();
    while (k.aheadCount() > 0) REQUIRE(k.knit());
    k.turn();
    const Fabric fabric = reloaded(*knitting->fabric);
    const Reading reading = readFrom(fabric, Side::right);
    const Columns columns(fabric, reading);
    const int last = static_cast<int>(reading.rows.size()) - 1;
    CHECK(rowsMore(columns, last, 2, 7) == 2);
    CHECK(rowsMore(columns, last, 7, 2) == -2);
    CHECK(rowsMore(columns, last, 6, 7) == 0);
    const EdgeRows edges = rowsAtEdges(reading);
    CHECK(edges.right - edges.left == 2);
}

}  // namespace loopmend
