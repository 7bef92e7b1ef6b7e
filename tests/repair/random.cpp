// SPDX-License-Identifier: MIT
// Random small mistakes on random grounds: every plan that is shown was proved, carries out from its text,
// and gives the meant knot; planning leaves no trace; taking back rows always finds a way.
#include <catch2/catch.hpp>

#include "fabric/hands.h"
#include "fabric/itinerary.h"
#include "repair/plan.h"
#include "repair/workplace.h"
#include "scenes.h"

using namespace loopmend;
using namespace loopmend::scenes;

namespace {

/// A small generator with the same numbers everywhere.
class Dice {
  public:
    explicit Dice(std::uint64_t seed) : state_(seed * 2 + 1) {}
    int below(int n) {
        state_ = state_ * 6364136223846793005ULL + 1442695040888963407ULL;
        return static_cast<int>((state_ >> 33U) % static_cast<std::uint64_t>(n));
    }

  private:
    std::uint64_t state_;
};

Script randomGround(Dice& dice) {
    const int rows = 5 + dice.below(6);
    switch (dice.below(5)) {
        case 0: return stockinette(8 + dice.below(12), rows);
        case 1: return garter(8 + dice.below(12), rows);
        case 2: return rib(8 + dice.below(12), rows);
        case 3: return seed(8 + dice.below(12), rows);
        default: return lace(8 + 4 * dice.below(4), rows);
    }
}

/// Swaps one step for another that uses and makes as many.
bool spoil(Script& script, Dice& dice) {
    WorkedRow& row = script.rows[static_cast<std::size_t>(dice.below(static_cast<int>(script.rows.size())))];
    Step& step = row.steps[static_cast<std::size_t>(dice.below(static_cast<int>(row.steps.size())))];
    static const std::vector<std::vector<Op>> kAlike = {
        {Op::knit, Op::purl, Op::knitTbl, Op::purlTbl, Op::slipPurlwiseBack, Op::slipPurlwiseFront},
        {Op::k2tog, Op::ssk, Op::p2tog, Op::k2togTbl, Op::ssp}};
    for (const std::vector<Op>& alike : kAlike) {
        for (const Op op : alike) {
            if (op != step.op) continue;
            const Op other = alike[static_cast<std::size_t>(dice.below(static_cast<int>(alike.size())))];
            if (other == op) return false;
            step.op = other;
            return true;
        }
    }
    return false;
}

}  // namespace

TEST_CASE("Every plan shown for a random mistake mends it", "[plan][random]") {
    int columns = 0;
    int tried = 0;
    for (std::uint64_t seedNumber = 1; seedNumber <= 150; ++seedNumber) {
        Dice dice(seedNumber);
        const Script meantScript = randomGround(dice);
        Script spoiled = meantScript;
        if (!spoil(spoiled, dice)) continue;
        const Knitting meant = worked(meantScript);
        Knitting actual = worked(spoiled);
        if (dice.below(3) == 0) {  // and a stitch fell and ran as well
            const int column = 1 + dice.below(static_cast<int>(meant.knitter.ahead().size()));
            const LoopId loop = onNeedle(*actual.fabric, column);
            REQUIRE(actual.knitter.drop(loop));
            (void)letRunFrom(*actual.fabric, loop, 1 + dice.below(3));
        }
        const std::string meantKnot = knotOf(*meant.fabric);
        if (knotOf(*actual.fabric) == meantKnot) continue;
        ++tried;
        INFO("seed " << seedNumber);
        const Itinerary before = itinerary(*actual.fabric);
        const std::vector<Plan> plans = plansFor(*meant.fabric, meantScript, actual.knitter);
        const Itinerary after = itinerary(*actual.fabric);
        REQUIRE(before.knot == after.knot);
        REQUIRE(before.measure == after.measure);
        bool rips = false;
        double last = 0;
        for (const Plan& plan : plans) {
            CHECK(plan.proved);
            CHECK(plan.seconds >= last);
            last = plan.seconds;
            rips = rips || plan.family == PlanFamily::rip;
            columns += plan.family == PlanFamily::column ? 1 : 0;
            const std::int64_t yarn = actual.fabric->totalUm();
            const Knitter::State state = actual.knitter.mark();
            Workplace place(actual.knitter);
            for (const PlannedMove& planned : plan.moves) {
                INFO(textOf(planned.move));
                const auto move = moveFrom(textOf(planned.move));
                REQUIRE(move);
                const Result<LoopId> done = place.perform(*move);
                if (!done) INFO(sentence(done.error()));
                REQUIRE(done);
                CHECK(!planned.words.empty());
            }
            CHECK(knotOf(*actual.fabric) == meantKnot);
            if (plan.family == PlanFamily::column)
                CHECK(actual.fabric->totalUm() == yarn);  // no yarn came or went
            actual.knitter.rollBack(state);
        }
        if (!rips) {
            for (const Plan& plan : plansFor(*meant.fabric, meantScript, actual.knitter, Pace{}, true)) {
                UNSCOPED_INFO(nameOf(plan.family) << " proved " << plan.proved << ": " << plan.reason);
                for (const PlannedMove& m : plan.moves) UNSCOPED_INFO("  " << textOf(m.move));
            }
        }
        CHECK(rips);
    }
    // Most of these mistakes stand in one column: mending it must be found nearly always.
    CHECK(tried > 80);
    CHECK(columns * 10 >= tried * 9);
}

TEST_CASE("Plans work in the round too", "[plan]") {
    Script meantScript = stockinette(12, 6);
    meantScript.round = true;
    for (WorkedRow& row : meantScript.rows) {
        row.round = true;
        row.facing = Facing::right;
        for (Step& step : row.steps) step.op = Op::knit;
    }
    for (const int at : {1, 5, 12}) {
        Script spoiled = meantScript;
        spoiled.rows[2].steps[static_cast<std::size_t>(at - 1)].op = Op::purl;
        const Knitting meant = worked(meantScript);
        Knitting actual = worked(spoiled);
        const std::vector<Plan> plans = plansFor(*meant.fabric, meantScript, actual.knitter, Pace{}, true);
        REQUIRE(plans.size() == 2);
        CHECK(plans[0].family == PlanFamily::column);
        for (const Plan& plan : plans) {
            UNSCOPED_INFO(at << " " << nameOf(plan.family) << " " << plan.reason);
            CHECK(plan.proved);
        }
    }
}

TEST_CASE("A plan can be made again from the middle of another", "[plan]") {
    const Script meantScript = rib(14, 8);
    Script spoiled = meantScript;
    spoiled.rows[3].steps[7].op = Op::knit;
    const Knitting meant = worked(meantScript);
    Knitting actual = worked(spoiled);
    const std::vector<Plan> plans = plansFor(*meant.fabric, meantScript, actual.knitter);
    REQUIRE(!plans.empty());
    REQUIRE(plans.front().family == PlanFamily::column);
    Workplace place(actual.knitter);
    // From every state on the way there is a proved way on.
    for (const PlannedMove& m : plans.front().moves) {
        REQUIRE(place.perform(m.move));
        const bool there = knotOf(*actual.fabric) == knotOf(*meant.fabric);
        const std::vector<Plan> again = plansFor(*meant.fabric, meantScript, actual.knitter);
        INFO(textOf(m.move));
        CHECK(again.empty() == there);
    }
}
