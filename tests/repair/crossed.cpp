// SPDX-License-Identifier: MIT
// Crossings that were missed, made beside their place, or made of an arm that turned over: mended in place,
// by the columns that cross there.
#include <algorithm>
#include <string>

#include <catch2/catch.hpp>

#include "fabric/itinerary.h"
#include "fault/grounds.h"
#include "fault/knit_with.h"
#include "repair/plan.h"
#include "repair/workplace.h"

using namespace loopmend;

namespace {

struct Crossed {
    const char* id;
    int stitch;
    int columns;  ///< that have to come undone
};

/// Carried out from its text; the stitches that it lets run.
int columnsOf(const Plan& plan, Knitter& knitter) {
    Workplace place(knitter);
    int runs = 0;
    for (const PlannedMove& m : plan.moves) {
        const auto move = moveFrom(textOf(m.move));
        REQUIRE(move);
        REQUIRE(place.perform(*move));
        runs += move->kind == MoveKind::letRun ? 1 : 0;
    }
    return runs;
}

}  // namespace

TEST_CASE("A wrong crossing is mended in place by the columns that cross there", "[plan]") {
    // Common practice: of a rope crossed to the wrong side, or with one arm turned over, that arm alone is
    // let down; where it was not crossed, or took in a stitch beside it, all its columns are.
    const Crossed crossed = GENERATE(Crossed{"miscrossed", 3, 2}, Crossed{"arm_turned", 3, 2},
                                     Crossed{"cross_missed", 3, 4}, Crossed{"cross_off_by_one", 3, 5},
                                     Crossed{"cross_off_by_one", 2, 5}, Crossed{"cross_wrong_row", 3, 4});
    const bool round = GENERATE(false, true);
    INFO(crossed.id << " at stitch " << crossed.stitch << (round ? ", in the round" : ""));
    const Script script = stockGround(StockGround::cables, 13, 7, round);
    auto k = knitWith(script, {}, {{crossed.id, 3, crossed.stitch, 0}}, After::byReading);
    if (!k && round) return;  // read so in flat rows alone
    REQUIRE(k);
    PlanAsk ask;
    const std::vector<Plan> plans = plansFor(*k->meant.fabric, script, k->actual.knitter, ask);
    for (const PlanFamily family : {PlanFamily::column, PlanFamily::block}) {
        const auto plan =
            std::find_if(plans.begin(), plans.end(), [&](const Plan& p) { return p.family == family; });
        INFO(nameOf(family));
        REQUIRE(plan != plans.end());
        CHECK(plan->proved);
        CHECK(plan->leaves == Leaves::exact);
        CHECK(plan->ripsTo == 0);
        const Knitter::State before = k->actual.knitter.mark();
        CHECK(columnsOf(*plan, k->actual.knitter) == crossed.columns);
        CHECK(knotOf(*k->actual.fabric) == knotOf(*k->meant.fabric));
        k->actual.knitter.rollBack(before);
    }
}

TEST_CASE("Strands that hang above open columns come by them as these stand", "[moves]") {
    // Nothing holds a strand where it lies behind a ladder: crossed there and back, all is as it was.
    const Script script = stockGround(StockGround::cables, 13, 6);
    auto k = knitWith(script, {}, {}, After::byReading);
    REQUIRE(k);
    Workplace place(k->actual.knitter);
    const Fabric& f = *k->actual.fabric;
    std::vector<LoopId> top;
    for (HeldId h = f[f.needle()].first; h; h = f[h].next) top.push_back(f[h].loop);
    std::vector<LoopId> feet;
    for (std::size_t i = 2; i < 6; ++i) {
        LoopId foot = top[i];
        for (int r = 0; r < 2; ++r) foot = f.hostsRightToLeft(foot).front();
        feet.push_back(foot);
        REQUIRE(place.perform(*moveFrom("drop " + std::to_string(top[i].value))));
        REQUIRE(place.perform(*moveFrom("let-run " + std::to_string(top[i].value) + " 2")));
    }
    const std::string before = knotOf(f);
    const auto cross = [&](const char* where) {
        std::string line = "cross";
        for (const std::size_t i : {0U, 1U}) line += " " + std::to_string(feet[i].value);
        line += std::string(" ") + where;
        for (const std::size_t i : {2U, 3U}) line += " " + std::to_string(feet[i].value);
        return place.perform(*moveFrom(line)).has_value();
    };
    const bool front = cross("in-front");
    if (!front) REQUIRE(cross("behind"));
    CHECK(knotOf(f) != before);
    // The strand now meets the other arm first.
    const auto first = [&](LoopId foot) { return f.passesOf(foot).front(); };
    const auto comesBefore = [&](PassId x, PassId y) {
        for (EntryId e = f[x].next; e; e = f[e].next) {
            if (e == y) return true;
        }
        return false;
    };
    const bool leftward = f.run(first(feet[0])) == Run::leftward;
    CHECK(comesBefore(first(feet[2]), first(feet[1])) == leftward);
    REQUIRE(cross(front ? "in-front" : "behind"));
    CHECK(knotOf(f) == before);
}
