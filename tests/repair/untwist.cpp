// SPDX-License-Identifier: MIT
// A round that was joined with a twist in it.
#include <algorithm>
#include <string>

#include <fmt/format.h>
#include <catch2/catch.hpp>

#include "fabric/itinerary.h"
#include "fault/grounds.h"
#include "reading/script.h"
#include "repair/pointing.h"
#include "repair/uneven.h"
#include "repair/ways_back.h"
#include "repair/work.h"

using namespace loopmend;

namespace {

/// A tube of so many rounds that was joined with `wholeTurns` turns in it.
Knitting tube(Script script, int rounds, int wholeTurns) {
    script.rows.resize(static_cast<std::size_t>(rounds));
    script.twist = static_cast<std::int8_t>(2 * wholeTurns);
    auto k = knit(script);
    REQUIRE(k);
    return std::move(*k);
}

}  // namespace

TEST_CASE("A twist at the join is turned out before the second round, later only after taking back to it",
          "[plan][moves]") {
    // Common practice: at the gap between the first stitch and the last, before or just after round 1.
    const Script all = stockGround(StockGround::stockinette, 9, 5, true);
    for (const int turns : {1, -1}) {
        for (const int rounds : {0, 1, 2, 4}) {
            Script script = all;
            script.rows.resize(static_cast<std::size_t>(rounds));
            const Knitting meant = tube(all, rounds, 0);
            Knitting actual = tube(all, rounds, turns);
            REQUIRE(knotOf(*meant.fabric) != knotOf(*actual.fabric));
            INFO(turns << " turns, " << rounds << " rounds");
            const WaysBack ways = waysBack(*meant.fabric, script, actual.knitter);
            const auto at = std::find_if(ways.all.begin(), ways.all.end(), [](const WayBack& w) {
                return w.plan.family == PlanFamily::untwist;
            });
            REQUIRE(at != ways.all.end());
            CHECK(at->plan.proved);
            CHECK(at->repairs == std::vector<CraftRepair>{CraftRepair::untwistJoin});
            CHECK(at->plan.leaves == Leaves::exact);
            CHECK_FALSE(at->plan.cautions.empty());
            // Two minutes; and what was worked above the first round comes back for it.
            CHECK(at->plan.seconds >= 120);
            CHECK((at->plan.moves.size() == 1) == (rounds <= 1));
            CHECK((at->plan.ripsTo == 2) == (rounds > 1));
            if (rounds <= 1) CHECK(at->plan.seconds == 120);
            const auto after = fabricAfter(actual.knitter, at->plan, at->plan.moves.size());
            REQUIRE(after);
            CHECK(knotOf(*after) == knotOf(*meant.fabric));
            CHECK(nothingToMend(*meant.fabric, *after));
            // Beginning again is there too, once rounds would have to come back.
            const bool again = std::any_of(ways.all.begin(), ways.all.end(), [](const WayBack& w) {
                return w.plan.family == PlanFamily::startAgain;
            });
            CHECK(again == (rounds > 1));
        }
    }
    // By hand, as a line of text, and back.
    Work work(tube(all, 1, 1));
    const std::string twisted = knotOf(work.fabric());
    const Fabric& f = work.fabric();
    REQUIRE(f.joinCount() == 1);
    const LoopId last = f[JoinId{0}].loop;
    const auto move = moveFrom(fmt::format("turn-join {} -1", last.value));
    REQUIRE(move);
    CHECK(textOf(*move) == fmt::format("turn-join {} -1", last.value));
    const std::vector<Offer> offers = offersAt(work, Notion::needle, {PointedAt::What::tips, {}});
    CHECK(std::any_of(offers.begin(), offers.end(), [&](const Offer& o) { return o.move == *move; }));
    REQUIRE(work.perform(*move));
    CHECK(knotOf(work.fabric()) == knotOf(*tube(all, 1, 0).fabric));
    REQUIRE(work.undo());
    CHECK(knotOf(work.fabric()) == twisted);
    // A stitch of the second round bridges the gap: cloth cannot be turned about itself.
    const auto one = moveFrom("work k1");
    REQUIRE(one);
    REQUIRE(work.perform(*one));
    CHECK_FALSE(work.perform(*move));
    CHECK_FALSE(work.perform(*moveFrom(fmt::format("turn-join {} 1", last.value - 1))));
    for (const char* line : {"turn-join", "turn-join 3", "turn-join 3 0", "turn-join 3 9", "turn-join x 1"})
        CHECK_FALSE(moveFrom(line));
    // And a file of it is read as any other.
    Work flat(tube(all, 1, 1));
    REQUIRE(flat.perform(*move));
    const auto again = fabricFrom(itinerary(flat.fabric()));
    REQUIRE(again);
    CHECK(readScript(*again).script.twist == 0);
    CHECK(readScript(flat.fabric()).script.twist == 0);
}
