// SPDX-License-Identifier: MIT
#include <catch2/catch.hpp>

#include "fabric/hands.h"
#include "reading/read.h"
#include "reading/scripts.h"

namespace loopmend {
namespace {

// A row of codes from right to left, as the asked side is read (the right side shows the order).
std::string codes(const ReadRow& row) {
    std::string text;
    for (const Cell& cell : row.cells) text += (text.empty() ? "" : " ") + code(cell.symbol);
    return text;
}

struct Seen {
    std::string right;
    std::string wrong;
};

// The last row worked but one, so that what stands on it is seen too.
Seen seen(int castOn, const std::vector<std::string>& rows, std::size_t row, bool round = false,
          Facing first = Facing::right) {
    const auto knitting = knit(scriptFrom(castOn, rows, round, first));
    INFO((knitting ? std::string() : sentence(knitting.error())));
    REQUIRE(knitting);
    const Fabric fabric = reloaded(*knitting->fabric);
    return {codes(readFrom(fabric, Side::right).rows.at(row)),
            codes(readFrom(fabric, Side::wrong).rows.at(row))};
}

}  // namespace

// What each stitch looks like from both sides: common practice; the leans are also Th. de Dillmont,
// Encyclopedia of Needlework (1880s), chapter Knitting.
TEST_CASE("a stitch is a V on one side and a bump on the other") {
    const Seen plain = seen(4, {"k p k p", "k p k p"}, 1);
    CHECK(plain.right == "k p k p");
    CHECK(plain.wrong == "p k p k");
    CHECK(seen(4, {"k4", "p4"}, 2).right == "k k k k");
    CHECK(seen(4, {"k4", "k4"}, 2).right == "p p p p");
}

TEST_CASE("decreases lean; the stack is turned over with the cloth") {
    CHECK(seen(4, {"k2tog k2", "p3"}, 1).right == "k2/ k k");
    CHECK(seen(4, {"k2tog k2", "p3"}, 1).wrong == "p2/ p p");
    CHECK(seen(4, {"ssk k2", "p3"}, 1).right == "k2\\ k k");
    CHECK(seen(4, {"skp k2", "p3"}, 1).right == "k2\\ k k");
    CHECK(seen(4, {"k2togtbl k2", "p3"}, 1).right == "k2\\t\\ k k");
    // Purled on the wrong side they lean the same way as seen from the right side.
    CHECK(seen(4, {"k4", "p2tog p2"}, 2).right == "k k k2/");
    CHECK(seen(4, {"k4", "p2togtbl p2"}, 2).right == "k k k2\\t\\");
    CHECK(seen(4, {"k4", "ssp p2"}, 2).right == "k k k2\\");
    CHECK(seen(3, {"k3tog", "p"}, 1).right == "k3/321");
    CHECK(seen(3, {"sssk", "p"}, 1).right == "k3\\123");
    CHECK(seen(3, {"sk2p", "p"}, 1).right == "k3\\132");
    CHECK(seen(3, {"s2kp", "p"}, 1).right == "k3|213");
    CHECK(seen(3, {"s2kp", "p"}, 1).wrong == "p3|132");
    CHECK(seen(3, {"k3", "s2pp"}, 2).right == "k3|231");
}

TEST_CASE("twists keep their hand and show a row below") {
    const auto knitting = knit(scriptFrom(3, {"k3", "p3", "k ktbl k", "p3"}));
    REQUIRE(knitting);
    for (const Side side : {Side::right, Side::wrong}) {
        const Reading reading = readFrom(reloaded(*knitting->fabric), side);
        CHECK(cellAt(reading, 3, 2)->symbol.twistHand() == Lean::left);
        CHECK(cellAt(reading, 3, 2)->symbol.feetHand() == Lean::none);
        CHECK(cellAt(reading, 2, 2)->symbol.feetHand() == Lean::left);
        CHECK(cellAt(reading, 2, 2)->symbol.twistHand() == Lean::none);
    }
}

TEST_CASE("holes, made stitches and increases") {
    CHECK(seen(4, {"k2 yo k2", "p5"}, 1).right == "k k o k k");
    CHECK(seen(4, {"k4", "p4", "k2 m1l k2", "p5"}, 3).right == "k k k^\\ k k");
    CHECK(seen(4, {"k4", "p4", "k2 m1r k2", "p5"}, 3).wrong == "p p p^/ p p");
    CHECK(seen(4, {"k4", "p4", "k2 m1o k2", "p5"}, 3).right == "k k k^ k k");
    CHECK(seen(2, {"kfb k", "p3"}, 1).right == "k.1of2 k\\.2of2 k");
    CHECK(seen(2, {"kfb k", "p3"}, 1).wrong == "p.2of2 p\\.1of2 p");
    CHECK(seen(1, {"kpk", "p3"}, 1).right == "k.1of3 p.2of3 k.3of3");
    CHECK(seen(1, {"kyok", "p3"}, 1).right == "k.1of2 o k.2of2");
}

TEST_CASE("slipped stitches, tucks, crossings, edges") {
    CHECK(seen(3, {"k3", "p3", "k sl k", "p3"}, 3).right == "k s k");
    CHECK(seen(3, {"k3", "p3", "k sl k", "p3"}, 3).wrong == "p s- p");
    CHECK(seen(3, {"k3", "p3", "k slf k", "p3"}, 3).right == "k s- k");
    CHECK(seen(3, {"k3", "p3", "k kb k", "p3"}, 3).right == "k kt k");
    CHECK(seen(4, {"k4", "p4", "c2/2b", "p4"}, 3).right == "k>f k>f k>b k>b");
    CHECK(seen(4, {"k4", "p4", "c2/2b", "p4"}, 3).wrong == "p>b p>b p>f p>f");
    CHECK(seen(4, {"k4", "p4", "c2/2f", "p4"}, 3).right == "k<b k<b k<f k<f");
    CHECK(seen(5, {"k5", "p5", "bo2 k3", "p3"}, 3).right == "kx k+x k+ k k");
    CHECK(seen(5, {"k5", "p5", "k5", "p5"}, 0).right == "co co co co co");
}

TEST_CASE("a slipped stitch is tall in its own row") {
    const auto knitting = knit(scriptFrom(3, {"k3", "p3", "k sl k", "p slf p", "k3"}));
    REQUIRE(knitting);
    const Reading reading = readFrom(reloaded(*knitting->fabric), Side::right);
    const Cell* cell = cellAt(reading, 2, 2);
    REQUIRE(cell != nullptr);
    CHECK(cell->symbol.tall == 2);
    CHECK(cell->symbol.strandsBehind == 2);
    CHECK(cell->symbol.strandsInFront == 0);
    CHECK(words(cell->symbol) == "a V, tall over two more rows");
}

TEST_CASE("facing, counts, columns and stitches") {
    const auto knitting = knit(scriptFrom(6, {"k2 yo k2tog k2", "p6", "k2 k2tog k2"}));
    REQUIRE(knitting);
    const Reading reading = readFrom(reloaded(*knitting->fabric), Side::right);
    REQUIRE(reading.rows.size() == 4);
    CHECK(reading.rows[1].facing == Facing::right);
    CHECK(reading.rows[2].facing == Facing::wrong);
    CHECK_FALSE(reading.rows[1].round);
    CHECK(reading.rows[1].stitches == 6);
    CHECK(reading.rows[3].stitches == 5);
    CHECK(cellAt(reading, 1, 3)->symbol.sight == Sight::hole);
    CHECK(cellAt(reading, 1, 3)->column == 3);
    CHECK(cellAt(reading, 2, 1)->column == 6);  // the wrong-side row begins at the left edge
}

TEST_CASE("necks of live loops are smooth where this side shows a V") {
    const auto knitting = knit(scriptFrom(4, {"k p yo k2tog"}));
    REQUIRE(knitting);
    const Fabric fabric = reloaded(*knitting->fabric);
    const auto necks = [&](Side side) {
        std::string text;
        for (const LiveLoop& live : readFrom(fabric, side).needle)
            text += live.neck == Neck::smooth ? 's' : live.neck == Neck::bar ? 'b' : 'o';
        return text;
    };
    CHECK(necks(Side::right) == "sbos");
    CHECK(necks(Side::wrong) == "bsob");
}

TEST_CASE("rounds face the right side, and show a left-handed knitter") {
    Setup left;
    left.mirrored = true;
    for (const bool mirrored : {false, true}) {
        Setup setup;
        setup.mirrored = mirrored;
        const auto knitting = knit(scriptFrom(6, {"k6", "k6"}, true), setup);
        REQUIRE(knitting);
        const Reading reading = readFrom(reloaded(*knitting->fabric), Side::right);
        CHECK(reading.mirrored == mirrored);
        CHECK(reading.rows[2].round);
        CHECK(reading.rows[2].facing == Facing::right);
    }
}

TEST_CASE("a run-down column is a loose loop under its rungs") {
    auto knitting = knit(scriptFrom(5, {"k5", "p5", "k5", "p5", "k5", "p5"}));
    REQUIRE(knitting);
    Knitter& k = knitting->knitter;
    const LoopId live = k.ahead()[2];
    REQUIRE(k.drop(live));
    REQUIRE(letRunFrom(*knitting->fabric, live, 3) == 3);
    const Fabric fabric = reloaded(*knitting->fabric);
    const Reading reading = readFrom(fabric, Side::right);
    CHECK(codes(reading.rows[3]) == "k k k! k k");
    CHECK(codes(reading.rows[4]) == "k k = k k");
    CHECK(reading.rows[3].cells[2].symbol.longRungs == 3);
    CHECK(reading.rows[6].stitches == 4);
    REQUIRE(reading.loose.size() == 1);
    CHECK(words(reading.rows[3].cells[2].symbol) == "a V, standing free under three rungs");
}

TEST_CASE("at the edge a run leaves big loops, one for two rows") {
    auto knitting = knit(scriptFrom(5, {"k5", "p5", "k5", "p5", "k5", "p5"}));
    REQUIRE(knitting);
    Knitter& k = knitting->knitter;
    const LoopId live = k.ahead()[0];
    REQUIRE(k.drop(live));
    REQUIRE(letRunFrom(*knitting->fabric, live, 5) == 5);
    const Reading reading = readFrom(reloaded(*knitting->fabric), Side::right);
    const Symbol& foot = reading.rows[1].cells[0].symbol;
    CHECK(foot.edgeLoops == 2);
    CHECK(foot.longRungs + foot.shortRungs == 1);
}

TEST_CASE("a row is said from right to left, as the side shows it") {
    const auto knitting = knit(scriptFrom(7, {"k3 yo k2tog k2", "p7", "bo2 k5"}));
    REQUIRE(knitting);
    const Fabric fabric = reloaded(*knitting->fabric);
    const Reading right = readFrom(fabric, Side::right);
    CHECK(
        rowWords(right, 1) ==
        "three V's; a hole, a strand over it; two stitches meet, the left one on top: leans right; two V's");
    CHECK(rowWords(readFrom(fabric, Side::wrong), 1) ==
          "two bumps; two heads gathered under one bump; a hole, a strand over it; three bumps");
    CHECK(rowWords(right, 3) == "two times a V, bound off; five V's");
    CHECK(rowWords(right, 3, Terms::uk) == "two times a V, cast off; five V's");
    CHECK(rowWords(right, 9).empty());
}

}  // namespace loopmend
