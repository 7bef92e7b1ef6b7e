// SPDX-License-Identifier: MIT
// Several mistakes: rows are taken back as far as that pays, and the rest is mended by its columns.
#include <algorithm>
#include <catch2/catch.hpp>
#include <string>
#include <utility>

#include "fabric/itinerary.h"
#include "fault/grounds.h"
#include "fault/knit_with.h"
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

TEST_CASE("The lowest row that is taken back comes stitch by stitch, only as far as it went wrong",
          "[plan][depths]") {
    // Common practice: rip to the row above, and take the last row back stitch by stitch. What is wrong below
    // it may still be a column; and what is only too much is let fall before anything comes back.
    const auto cheapest = [](StockGround ground, FaultPlace where) {
        const Script script = stockGround(ground, 4, 4);
        auto k = knitWith(script, {}, {std::move(where)}, After::byReading);
        REQUIRE(k);
        std::vector<Plan> plans = plansFor(*k->meant.fabric, script, k->actual.knitter);
        REQUIRE_FALSE(plans.empty());
        REQUIRE(plans.front().proved);
        std::string moves;
        for (const PlannedMove& m : plans.front().moves) moves += textOf(m.move) + "; ";
        INFO(moves);
        // Carried out from its text.
        Workplace place(k->actual.knitter);
        for (const PlannedMove& m : plans.front().moves) REQUIRE(place.perform(*moveFrom(textOf(m.move))));
        CHECK(knotOf(*k->actual.fabric) == knotOf(*k->meant.fabric));
        CHECK(k->actual.knitter.facing() == k->meant.knitter.facing());
        return std::pair(std::move(plans.front()), std::move(moves));
    };
    const auto [ripped, ripMoves] = cheapest(StockGround::garter, {"caught_strand", 1, 4, 0});
    CHECK(ripped.family == PlanFamily::rip);
    CHECK(ripped.ripsTo == 1);
    CHECK(ripMoves.find("rip 3; tink 1; ") == 0);
    const auto [columns, columnMoves] = cheapest(StockGround::cables, {"drop_left_behind", 3, 2, 0});
    CHECK(columnMoves.find("tink 1; ") == 0);
    CHECK(columnMoves.find("hook-k ") != std::string::npos);
    CHECK(columnMoves.find("rip") == std::string::npos);
    const auto [fallen, fallenMoves] = cheapest(StockGround::cables, {"split_in_two", 4, 8, 0});
    CHECK(fallen.family == PlanFamily::tink);
    CHECK(fallenMoves.find("drop ") == 0);
    CHECK(fallenMoves.find("tink 1; ") != std::string::npos);
    const auto [ran, ranMoves] = cheapest(StockGround::cables, {"double_wrap", 2, 5, 0});
    CHECK(ran.family == PlanFamily::rip);
    CHECK(ranMoves.find("drop ") == 0);
    CHECK(ranMoves.find("let-run ") < ranMoves.find("rip 2; "));
}
