// SPDX-License-Identifier: MIT
// How well questions tell those who know from those who do not.
#include "tutor/items.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <string>

using namespace loopmend;

namespace {

ItemAnswers answersOf(const std::vector<std::string>& rows) {
    ItemAnswers answers;
    for (const std::string& row : rows) {
        answers.emplace_back();
        for (const char c : row) answers.back().push_back(c == '1');
    }
    return answers;
}

}  // namespace

// Data: K. L. Wuensch, Kuder-Richardson 20, a worked example, East Carolina University, Greenville; ten
// learners by ten items. The figures were worked out from the data.
TEST_CASE("Reliability and discrimination of the worked example") {
    const ItemAnalysis a =
        analyze(answersOf({"1111110110", "1011011101", "1111011001", "0010001000", "0000010010", "1110111111",
                           "1101110111", "1111111101", "0101111101", "1101101110"}));
    REQUIRE(a.items.size() == 10);
    const double difficulty[] = {.7, .7, .6, .7, .6, .8, .7, .7, .5, .6};
    const double plain[] = {.7946, .7946, .2027, .6140, .7095, .4345, .1625, .7946, .0828, .6251};
    const double corrected[] = {.7059, .7059, .0000, .4736, .5839, .2861, -.0274, .7059, -.1236, .4759};
    double pq = 0;
    for (std::size_t i = 0; i < 10; ++i) {
        CAPTURE(i);
        CHECK(a.items[i].difficulty == Approx(difficulty[i]));
        pq += a.items[i].difficulty * (1 - a.items[i].difficulty);
        REQUIRE(a.items[i].discrimination);
        CHECK(*a.items[i].discrimination == Approx(plain[i]).margin(5e-5));
        REQUIRE(a.items[i].corrected);
        CHECK(*a.items[i].corrected == Approx(corrected[i]).margin(5e-5));
        // The two that tell nobody apart.
        CHECK((*a.items[i].corrected < -0.001) == (i == 6 || i == 8));
    }
    CHECK(pq == Approx(2.18));
    REQUIRE(a.reliability);
    CHECK(*a.reliability == Approx(0.696347).margin(5e-7));
}

TEST_CASE("Where answers hold no information there is no figure") {
    const auto none = [](const std::vector<std::string>& rows) {
        const ItemAnalysis a = analyze(answersOf(rows));
        CHECK_FALSE(a.reliability);
        for (const ItemFigures& item : a.items) {
            CHECK_FALSE(item.discrimination);
            CHECK_FALSE(item.corrected);
            CHECK(std::isfinite(item.difficulty));
        }
    };
    none({});
    none({""});
    none({"111", "111"});                                         // all right
    none({"000", "000", "000"});                                  // all wrong
    none({"101"});                                                // one learner
    const ItemAnalysis alike = analyze(answersOf({"10", "01"}));  // all sums alike
    CHECK_FALSE(alike.reliability);
    CHECK_FALSE(alike.items[0].discrimination);
    CHECK(alike.items[0].corrected == -1.0);  // right in the one, wrong in the other
    const ItemAnalysis one = analyze(answersOf({"1", "0"}));
    CHECK_FALSE(one.reliability);               // one item
    CHECK(one.items[0].discrimination == 1.0);  // with itself
    CHECK_FALSE(one.items[0].corrected);        // nothing else to compare with
    CHECK_THROWS_AS(analyze(answersOf({"11", "1"})), std::invalid_argument);
}
