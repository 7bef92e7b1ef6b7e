// SPDX-License-Identifier: MIT
#include "reading/landmarks.h"

#include <catch2/catch.hpp>

#include <algorithm>

#include "reading/scripts.h"

namespace loopmend {
namespace {

std::vector<Landmark> marks(int castOn, const std::vector<std::string>& rows, LandmarkKind kind,
                            bool round = false) {
    const auto knitting = knit(scriptFrom(castOn, rows, round));
    INFO((knitting ? std::string() : sentence(knitting.error())));
    REQUIRE(knitting);
    const Fabric fabric = reloaded(*knitting->fabric);
    std::vector<Landmark> found;
    for (const Landmark& mark : landmarks(fabric, readFrom(fabric, Side::right))) {
        INFO(words(mark));
        if (mark.kind == kind) found.push_back(mark);
    }
    return found;
}

const std::string kLace = "k2 yo s2kp yo k3 yo s2kp yo k2";
const std::string kPlain = "p13";

}  // namespace

// Common practice: stacked centred double decreases line up in an unbroken spine; if it jumps, a stitch or a
// yarn-over was missed or made at or below the jump.
TEST_CASE("centred double decreases stand in an unbroken spine") {
    const auto spines =
        marks(13, {kLace, kPlain, kLace, kPlain, kLace, kPlain, kLace, kPlain}, LandmarkKind::spine);
    REQUIRE(spines.size() == 2);
    CHECK(spines[0].rowFrom == 1);
    CHECK(spines[0].rowTo == 7);
    CHECK(spines[0].column == 4);
    CHECK(spines[1].column == 10);
    for (const Landmark& spine : spines) CHECK(spine.breaksAt.empty());
}

TEST_CASE("a missed yarn-over makes the spines beyond it jump two rows later") {
    // Forgotten in row 5 at the very start; she goes on by count.
    const auto all = marks(13,
                           {kLace, kPlain, kLace, kPlain, "k2 s2kp yo k3 yo s2kp yo k2", "p12",
                            "k2 yo s2kp yo k3 yo s2kp yo k", "p12", "k2 yo s2kp yo k3 yo s2kp yo k", "p12"},
                           LandmarkKind::spine);
    REQUIRE(all.size() == 2);
    for (const Landmark& spine : all) {
        CHECK(spine.breaksAt == std::vector<int>{7});
        CHECK(spine.rowTo == 9);
    }
    // In the middle: what lies before it still lines up.
    const auto some = marks(13,
                            {kLace, kPlain, kLace, kPlain, "k2 yo s2kp k3 yo s2kp yo k2", "p12",
                             "k2 yo s2kp yo k3 yo s2kp yo k", "p12", "k2 yo s2kp yo k3 yo s2kp yo k", "p12"},
                            LandmarkKind::spine);
    REQUIRE(some.size() == 2);
    CHECK(some[0].breaksAt.empty());
    CHECK(some[1].breaksAt == std::vector<int>{7});
}

TEST_CASE("worked on every row the spine jumps in the next row") {
    std::vector<std::string> rows(4, kLace);
    rows.emplace_back("k2 s2kp yo k3 yo s2kp yo k2");
    for (int i = 0; i < 3; ++i) rows.emplace_back("k2 yo s2kp yo k3 yo s2kp yo k");
    const auto spines = marks(13, rows, LandmarkKind::spine, true);
    REQUIRE(spines.size() == 2);
    CHECK(spines[0].breaksAt == std::vector<int>{6});
    CHECK(spines[1].breaksAt == std::vector<int>{6});
}

TEST_CASE("yarn-overs stand in lines, upright or aslant") {
    const auto upright = marks(13, {kLace, kPlain, kLace, kPlain, kLace, kPlain}, LandmarkKind::eyelets);
    CHECK(upright.size() == 4);
    for (const Landmark& line : upright) {
        CHECK(line.rowTo == 5);
        CHECK(line.breaksAt.empty());
    }
    const auto aslant = marks(10, {"k yo k2tog k7", "p10", "k2 yo k2tog k6", "p10", "k3 yo k2tog k5", "p10"},
                              LandmarkKind::eyelets);
    REQUIRE(aslant.size() == 1);
    CHECK(aslant[0].rowFrom == 1);
    CHECK(aslant[0].rowTo == 5);
}

TEST_CASE("a hole that is missing breaks its line") {
    const std::string eyelet = "k yo k2tog k3 yo k2tog k3 yo k2tog k";
    const std::string missed = "k yo k2tog k3 k2 k3 yo k2tog k";
    const auto lines = marks(14, {eyelet, "p14", eyelet, "p14", missed, "p14", eyelet, "p14", eyelet, "p14"},
                             LandmarkKind::eyelets);
    REQUIRE(lines.size() == 3);
    CHECK(lines[0].breaksAt.empty());
    CHECK(lines[1].breaksAt == std::vector<int>{5});
    CHECK(lines[1].rowTo == 9);
    CHECK(lines[2].breaksAt.empty());
}

TEST_CASE("ribs, and a purl in one of them") {
    const auto ribs =
        marks(8, {"k2 p2 k2 p2", "k2 p2 k2 p2", "k2 p2 k2 p2", "k2 p2 k2 p2", "k2 p2 k2 p2", "k8"},
              LandmarkKind::rib);
    CHECK(ribs.size() == 3);  // the edge column has no bump beside it
    const auto broken = marks(8,
                              {"k2 p2 k2 p2", "k2 p2 k2 p2", "k2 p2 k2 p2", "k2 p2 k p p2", "k2 p2 p k p2",
                               "k2 p2 k2 p2", "k2 p2 k2 p2", "k2 p2 k2 p2"},
                              LandmarkKind::rib);
    CHECK(broken.size() == 3);
    CHECK(marks(6, {"k6", "p6", "k6", "p6", "k6", "p6"}, LandmarkKind::rib).empty());
    CHECK(marks(6, {"k6", "k6", "k6", "k6", "k6", "k6"}, LandmarkKind::rib).empty());
    const auto wrong = marks(5,
                             {"p k p k p", "k p k p k", "p k p k p", "k p k p k", "p k p2 p", "k p k p k",
                              "p k p k p", "k p k p k"},
                             LandmarkKind::rib);
    REQUIRE(wrong.size() == 2);
    CHECK(wrong[0].breaksAt.empty());
    CHECK(wrong[1].breaksAt == std::vector<int>{5});
}

TEST_CASE("a cable crossed the other way breaks its line") {
    const std::string plain = "p8";
    const auto cable = [&](const std::string& third) {
        return marks(8,
                     {"k2 c2/2b k2", plain, "k8", plain, "k2 c2/2b k2", plain, "k8", plain,
                      "k2 " + third + " k2", plain, "k8", plain, "k2 c2/2b k2", plain},
                     LandmarkKind::cable);
    };
    const auto right = cable("c2/2b");
    REQUIRE(right.size() == 1);
    CHECK(right[0].rowFrom == 1);
    CHECK(right[0].rowTo == 13);
    CHECK(right[0].breaksAt.empty());
    const auto wrong = cable("c2/2f");
    REQUIRE(wrong.size() == 1);
    CHECK(wrong[0].breaksAt == std::vector<int>{9});
    CHECK(words(wrong[0]) == "a cable from row 1 to row 13, column 3 from the right; it breaks in row 9");
}

TEST_CASE("lines of single decreases, and one that leans the other way") {
    std::vector<std::string> rows;
    int stitches = 24;
    for (int i = 0; i < 7; ++i) {
        rows.push_back("k2 ssk k" + std::to_string(stitches - 8) + " k2tog k2");
        stitches -= 2;
        rows.push_back("p" + std::to_string(stitches));
    }
    const auto left = marks(24, rows, LandmarkKind::leftLeaning);
    const auto right = marks(24, rows, LandmarkKind::rightLeaning);
    REQUIRE(left.size() == 1);
    REQUIRE(right.size() == 1);
    CHECK(left[0].column == 3);
    CHECK(left[0].rowFrom == 1);
    CHECK(left[0].rowTo == 13);
    CHECK(left[0].breaksAt.empty());
    CHECK(right[0].rowTo == 13);
    CHECK(right[0].breaksAt.empty());
    rows[6] = "k2 k2tog k" + std::to_string(24 - 6 - 8) + " k2tog k2";
    const auto broken = marks(24, rows, LandmarkKind::leftLeaning);
    REQUIRE(broken.size() == 1);
    CHECK(broken[0].breaks == std::vector<LineBreak>{{7, 3, 3}});
    for (const Landmark& mark : marks(24, rows, LandmarkKind::rightLeaning)) CHECK(mark.breaksAt.empty());
}

TEST_CASE("a row of holes, and one that is missing in it") {
    const std::string eyelets = "k yo k2tog k2 yo k2tog k2 yo k2tog k2 yo k2tog k2 yo k2tog k2 yo k2tog k";
    const auto whole = marks(24, {"k24", "p24", eyelets, "p24"}, LandmarkKind::eyeletRow);
    REQUIRE(whole.size() == 1);
    CHECK(whole[0].rowFrom == 3);
    CHECK(whole[0].column == 2);
    CHECK(whole[0].columnTo == 22);
    CHECK(whole[0].breaks.empty());
    const std::string missed = "k yo k2tog k2 yo k2tog k2 k2 k2 yo k2tog k2 yo k2tog k2 yo k2tog k";
    const auto broken = marks(24, {"k24", "p24", missed, "p24"}, LandmarkKind::eyeletRow);
    REQUIRE(broken.size() == 1);
    CHECK(broken[0].breaks == std::vector<LineBreak>{{3, 10, 10}});
    CHECK(words(broken[0]) == "a row of holes in row 3; it breaks at column 10");
}

TEST_CASE("a rope with its edges and the rows between its gaps") {
    std::vector<std::string> rows;
    const auto add = [&](const std::string& crossed, int rest) {
        rows.push_back(crossed);
        rows.emplace_back("k2 p4 k2");
        for (int i = 0; i < rest; ++i) rows.emplace_back(i % 2 == 0 ? "p2 k4 p2" : "k2 p4 k2");
    };
    for (int i = 0; i < 5; ++i) add("p2 c2/2b p2", 2);
    const auto rope = marks(8, rows, LandmarkKind::cable);
    REQUIRE(rope.size() == 1);
    CHECK(rope[0].between == std::vector<int>{4, 4, 4, 4});
    const auto edges = marks(8, rows, LandmarkKind::cableEdge);
    REQUIRE(edges.size() == 2);
    CHECK(edges[0].column == 3);
    CHECK_FALSE(edges[0].left);
    CHECK(edges[1].column == 6);
    CHECK(edges[1].left);
    for (const Landmark& edge : edges) CHECK(edge.breaks.empty());
    // Crossed two rows late: an unequal rope.
    rows.clear();
    add("p2 c2/2b p2", 2);
    add("p2 c2/2b p2", 4);
    add("p2 c2/2b p2", 0);
    add("p2 k4 p2", 0);
    add("p2 c2/2b p2", 2);
    const auto late = marks(8, rows, LandmarkKind::cable);
    REQUIRE(late.size() == 1);
    CHECK(late[0].between == std::vector<int>{4, 6, 4});
    CHECK(late[0].breaksAt == std::vector<int>{9});
    // One stitch of the ground was drawn into the rope.
    rows.clear();
    for (int i = 0; i < 5; ++i) add(i == 2 ? "p c2/2b k p2" : "p2 c2/2b p2", 2);
    const auto shifted = marks(8, rows, LandmarkKind::cableEdge);
    REQUIRE(shifted.size() == 2);
    CHECK(shifted[0].breaksAt == std::vector<int>{9});
}

TEST_CASE("ridges, and a V in one") {
    std::vector<std::string> rows = {"k10", "p10", "k10", "k10", "k10", "p10"};
    const auto ridge = marks(10, rows, LandmarkKind::ridge);
    REQUIRE(ridge.size() == 1);
    CHECK(ridge[0].rowFrom == 4);
    CHECK(ridge[0].breaks.empty());
    rows[3] = "k4 p k5";
    const auto broken = marks(10, rows, LandmarkKind::ridge);
    REQUIRE(broken.size() == 1);
    CHECK(broken[0].breaks == std::vector<LineBreak>{{4, 5, 6}});
    CHECK(marks(10, std::vector<std::string>(8, "k10"), LandmarkKind::ridge).size() == 4);
}

TEST_CASE("edges are told by what is done there") {
    const auto sides = [](const std::vector<std::string>& two, int rows) {
        std::vector<std::string> all;
        for (int r = 0; r < rows; ++r) all.push_back(two[static_cast<std::size_t>(r % 2)]);
        std::vector<Landmark> found;
        for (const Landmark& mark : marks(8, all, LandmarkKind::edge)) {
            if (mark.rowFrom != mark.rowTo) found.push_back(mark);
        }
        return found;
    };
    const auto plain = sides({"k8", "p8"}, 8);
    REQUIRE(plain.size() == 2);
    CHECK(plain[0].selvedge == Selvedge::plain);
    CHECK_FALSE(plain[0].left);
    CHECK(plain[1].left);
    CHECK(plain[1].column == 8);
    const auto garter = sides({"k8", "k p6 k"}, 8);
    CHECK(garter[0].selvedge == Selvedge::garter);
    CHECK(garter[1].selvedge == Selvedge::garter);
    const auto slipped = sides({"sl k7", "sl p7"}, 8);
    CHECK(slipped[0].selvedge == Selvedge::slipped);
    CHECK(slipped[1].selvedge == Selvedge::slipped);
    const auto one = sides({"sl k7", "p8"}, 8);
    CHECK(one[0].selvedge == Selvedge::slipped);
    CHECK(one[1].selvedge == Selvedge::plain);
    for (const auto* edges : {&plain, &garter, &slipped, &one}) {
        for (const Landmark& edge : *edges) CHECK(edge.breaks.empty());
    }
    // Not slipped once.
    std::vector<std::string> rows;
    for (int r = 0; r < 20; ++r) rows.emplace_back(r % 2 == 0 ? "sl k7" : "sl p7");
    rows[10] = "k8";
    for (const Landmark& edge : marks(8, rows, LandmarkKind::edge)) {
        if (edge.rowFrom == edge.rowTo) continue;
        CHECK(edge.breaksAt == (edge.left ? std::vector<int>{} : std::vector<int>{11}));
    }
    // The cast-on and the bind-off are edges too.
    const auto ends = marks(8, {"k8", "p8", "bo8"}, LandmarkKind::edge);
    CHECK(std::count_if(ends.begin(), ends.end(), [](const Landmark& m) {
              return m.selvedge == Selvedge::castOn && m.columnTo == 8;
          }) == 1);
    CHECK(std::count_if(ends.begin(), ends.end(), [](const Landmark& m) {
              return m.selvedge == Selvedge::boundOff && m.rowFrom == 3;
          }) == 1);
}

TEST_CASE("a turn in mid-row is a landmark") {
    auto knitting = knit(scriptFrom(8, {"k8", "p8"}));
    REQUIRE(knitting);
    Knitter& k = knitting->knitter;
    for (int i = 0; i < 5; ++i) REQUIRE(k.knit());
    k.turn();
    for (int i = 0; i < 5; ++i) REQUIRE(k.purl());
    k.turn();
    const Fabric fabric = reloaded(*knitting->fabric);
    int turns = 0;
    for (const Landmark& mark : landmarks(fabric, readFrom(fabric, Side::right))) {
        if (mark.kind != LandmarkKind::turn) continue;
        ++turns;
        CHECK(mark.rowFrom == 4);
        CHECK(mark.column == 5);
    }
    CHECK(turns == 1);
}

}  // namespace loopmend
