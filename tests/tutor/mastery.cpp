// SPDX-License-Identifier: MIT
// How sure it is that a skill is known: the published formulas, answer by answer.
#include "tutor/mastery.h"

#include <rapidcheck/catch.h>
#include <catch2/catch.hpp>

#include <vector>

using namespace loopmend;

namespace {

struct Run {
    KnowingRates rates;
    std::vector<int> answers;
    std::vector<double> chances;  ///< before each answer
    std::vector<double> known;    ///< after it
};

}  // namespace

// Formulas: A. T. Corbett, J. R. Anderson, Knowledge tracing, User Modeling and User-Adapted Interaction 4
// (1995) 253-278, Dordrecht. The numbers follow from them by hand.
TEST_CASE("Knowledge tracing gives the numbers of its formulas") {
    const std::vector<Run> runs = {
        {{0.4, 0.1, 0.3, 0.2},
         {0, 1, 1, 1},
         {0.400000, 0.340000, 0.509412, 0.632656},
         {0.280000, 0.618824, 0.865312, 0.961679}},
        {{0.5, 0.4, 0.2, 0.2},
         {0, 0, 1, 1, 1, 0, 1, 1, 0, 1},
         {},
         {0.520000, 0.527869, 0.890355, 0.982080, 0.997275, 0.993514, 0.999022, 0.999853, 0.999648,
          0.999947}},
    };
    for (const Run& run : runs) {
        double known = run.rates.known;
        for (std::size_t i = 0; i < run.answers.size(); ++i) {
            CAPTURE(i);
            if (!run.chances.empty())
                CHECK(chanceRight(known, run.rates) == Approx(run.chances[i]).margin(5e-7));
            known = knownAfter(known, run.answers[i] != 0, run.rates);
            CHECK(known == Approx(run.known[i]).margin(5e-7));
        }
    }
}

TEST_CASE("A right answer never says that less is known than a wrong one") {
    rc::prop("for any rates that make sense", [] {
        const auto chance = [](int least, int most) { return *rc::gen::inRange(least, most) / 1000.0; };
        KnowingRates rates;
        rates.slip = chance(0, 500);
        rates.guess = chance(0, 500);
        rates.learned = chance(0, 1000);
        const double known = chance(0, 1001);
        const double right = knownAfter(known, true, rates);
        const double wrong = knownAfter(known, false, rates);
        RC_ASSERT(right >= wrong - 1e-12);
        for (const double p : {right, wrong, chanceRight(known, rates)}) RC_ASSERT((p >= 0 && p <= 1));
    });
}

TEST_CASE("What is taken for every kind of skill lets her master it, and forget a slip") {
    for (const SkillKind kind :
         {SkillKind::seeing, SkillKind::diagnosing, SkillKind::mending, SkillKind::instructions}) {
        const KnowingRates rates = ratesOf(kind);
        double known = rates.known;
        int right = 0;
        while (known < kMastered && right < 10) {
            known = knownAfter(known, true, rates);
            ++right;
        }
        CHECK(right >= 2);  // once may be luck
        CHECK(right <= 4);
        const double slipped = knownAfter(known, false, rates);
        CHECK(slipped < known);
        CHECK(knownAfter(knownAfter(slipped, true, rates), true, rates) >= kMastered);
    }
    // Impossible by the rates: nothing is learned from it, and no number is lost.
    CHECK(knownAfter(1, false, {0.5, 0, 0, 0}) == 1);
}
