// SPDX-License-Identifier: MIT
// Plans from a state that hands have made meanwhile: a pin put in, rows half knitted again.
#include <algorithm>

#include <catch2/catch.hpp>

#include "fabric/hands.h"
#include "fabric/itinerary.h"
#include "fault/grounds.h"
#include "repair/builder.h"
#include "repair/plan.h"
#include "repair/workplace.h"
#include "scenes.h"

using namespace loopmend;

TEST_CASE("A ladder on a pin can be mended by ripping too") {
    const Script script = scenes::stockinette(10, 8);
    Knitting meant = scenes::worked(script);
    Knitting actual = scenes::worked(script);
    const LoopId fallen = scenes::onNeedle(*actual.fabric, 4);
    REQUIRE(actual.knitter.drop(fallen));
    REQUIRE(letRunFrom(*actual.fabric, fallen, 3) == 3);
    const auto families = [&] {
        std::vector<PlanFamily> found;
        for (const Plan& plan : plansFor(*meant.fabric, script, actual.knitter)) found.push_back(plan.family);
        std::sort(found.begin(), found.end());
        return found;
    };
    const std::vector<PlanFamily> both = {PlanFamily::column, PlanFamily::rip};
    CHECK(families() == both);

    LoopId foot;
    for (std::int32_t i = 0; i < actual.fabric->entryCount(); ++i) {
        const LoopId l{i};
        if (actual.fabric->has(l) && actual.fabric->isLoop(l) && actual.fabric->isLoose(l) &&
            !actual.fabric->isNothing(l))
            foot = l;
    }
    Move pin;
    pin.kind = MoveKind::pin;
    pin.loops = {foot};
    Workplace place(actual.knitter);
    REQUIRE(place.perform(pin));
    CHECK(families() == both);
}

TEST_CASE("Rows taken back are gone on with from wherever she stands") {
    // In mid-row, at the end of a row before it is turned, and after it is turned.
    const Script script = scenes::rib(10, 8);
    const Knitting meant = scenes::worked(script);
    for (const int more : {0, 4, 10, 11}) {
        Knitting actual = scenes::worked(script);
        Workplace place(actual.knitter);
        REQUIRE(place.perform(*moveFrom("rip 3")));
        for (int i = 0; i < std::min(more, 10); ++i) {
            const Step& step = script.rows[5].steps[static_cast<std::size_t>(i)];
            REQUIRE(work(actual.knitter, step));
        }
        if (more == 11) REQUIRE(place.perform(*moveFrom("turn")));
        const std::vector<Plan> plans = plansFor(*meant.fabric, script, actual.knitter);
        REQUIRE_FALSE(plans.empty());
        for (const PlannedMove& planned : plans.front().moves) {
            CHECK(planned.move.kind != MoveKind::rip);
            REQUIRE(place.perform(planned.move));
        }
        CHECK(differencesOf(*meant.fabric, *actual.fabric).empty());
    }
}

TEST_CASE("Rows knitted again are rows as their text says, whatever marks lie beside their strands") {
    // Made stitches taken back leave their bars, which fall; a slipped stitch is passed over beside such a
    // mark: the strand that went by it is idle and goes.
    const Script script = stockGround(StockGround::shaped, 15, 8);
    const Knitting meant = scenes::worked(script);
    Knitting actual = scenes::worked(script);
    Workplace place(actual.knitter);
    REQUIRE(place.perform(*moveFrom("rip 8")));
    for (int i = 0; i < 40; ++i) {
        const std::vector<Plan> plans = plansFor(*meant.fabric, script, actual.knitter);
        if (plans.empty()) break;
        REQUIRE(place.perform(plans.front().moves.front().move));
        const tl::expected<Fabric, TextFault> read = fabricFrom(itinerary(*actual.fabric));
        REQUIRE(read);
        CHECK(StitchPlaces(*actual.fabric).lastRow() == StitchPlaces(*read).lastRow());
    }
    CHECK(differencesOf(*meant.fabric, *actual.fabric).empty());
}
