// SPDX-License-Identifier: MIT
#include "reading/landmarks.h"

#include <catch2/catch.hpp>

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

}  // namespace loopmend
