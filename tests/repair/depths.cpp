// SPDX-License-Identifier: MIT
// Several mistakes: rows are taken back as far as that pays, and the rest is mended by its columns.
#include <algorithm>
#include <catch2/catch.hpp>

#include "fabric/itinerary.h"
#include "repair/plan.h"
#include "repair/workplace.h"
#include "scenes.h"

using namespace loopmend;
using namespace loopmend::scenes;

namespace {

bool has(const Plan& plan, MoveKind kind) {
    return std::any_of(plan.moves.begin(), plan.moves.end(),
                       [&](const PlannedMove& m) { return m.move.kind == kind; });
}

}  // namespace

TEST_CASE("A wrong row near the needle is taken back, a wrong stitch far below it hooked up", "[plan]") {
    const Script script = stockinette(30, 20);
    for (const bool many : {false, true}) {  // few wrong rows, and more than are all tried
        Script spoiled = script;
        spoiled.rows[4].steps[9] = {Op::purl};
        for (int r = many ? 14 : 19; r <= 20; ++r) {
            for (Step& step : spoiled.rows[static_cast<std::size_t>(r - 1)].steps)
                step.op = step.op == Op::knit ? Op::purl : Op::knit;
        }
        const Knitting meant = worked(script);
        Knitting actual = worked(spoiled);
        const std::vector<Plan> plans = plansFor(*meant.fabric, script, actual.knitter);
        REQUIRE(plans.size() >= 2);
        const Plan& best = plans.front();
        INFO(many << " " << nameOf(best.family) << " " << best.seconds);
        CHECK(best.family == PlanFamily::rip);
        CHECK(has(best, MoveKind::hook));
        CHECK(best.ripsTo == (many ? 14 : 19));
        const auto all = std::find_if(plans.begin() + 1, plans.end(),
                                      [](const Plan& p) { return p.family == PlanFamily::rip; });
        REQUIRE(all != plans.end());
        CHECK_FALSE(has(*all, MoveKind::hook));
        CHECK(best.seconds < all->seconds);
        Workplace place(actual.knitter);
        for (const PlannedMove& m : best.moves) REQUIRE(place.perform(m.move));
        CHECK(knotOf(*actual.fabric) == knotOf(*meant.fabric));
    }
}

TEST_CASE("Mistakes in one column share what comes undone", "[plan]") {
    // The stitches above the lower one come out once: two mistakes cost little more than the lower one alone.
    const Script script = stockinette(20, 14);
    const auto secondsWith = [&](std::vector<int> rows) {
        Script spoiled = script;
        for (const int r : rows) {
            Step& step = spoiled.rows[static_cast<std::size_t>(r - 1)].steps[r % 2 == 1 ? 8 : 11];
            step.op = step.op == Op::knit ? Op::purl : Op::knit;
        }
        const Knitting meant = worked(script);
        Knitting actual = worked(spoiled);
        const std::vector<Plan> plans = plansFor(*meant.fabric, script, actual.knitter);
        REQUIRE_FALSE(plans.empty());
        CHECK(plans.front().family == PlanFamily::column);
        return plans.front().seconds;
    };
    CHECK(secondsWith({5, 9}) == Approx(secondsWith({5})));
    CHECK(secondsWith({5, 9, 10}) == Approx(secondsWith({5})));
}
