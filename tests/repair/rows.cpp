// SPDX-License-Identifier: MIT
//
// Rows that were misread are taken back, however many the hands worked for them, and worked again.
#include <algorithm>
#include <catch2/catch.hpp>
#include <map>

#include "fabric/itinerary.h"
#include "fault/catalogue.h"
#include "fault/draw.h"
#include "fault/grounds.h"
#include "fault/knit_with.h"
#include "repair/plan.h"

namespace loopmend {

TEST_CASE("a way back by taking back rows is found and proved for every misread row") {
    std::map<std::string_view, int> mended;
    for (const bool mirrored : {false, true}) {
        Setup setup;
        setup.mirrored = mirrored;
        for (int g = 0; g < kStockGrounds; ++g) {
            for (const bool round : {false, true}) {
                if (mirrored != (g % 2 == (round ? 1 : 0))) continue;  // each ground by both hands
                const Script script = stockGround(static_cast<StockGround>(g), 13, 8, round);
                for (const Fault* fault : catalogue()) {
                    if (!fault->misread() || fault->castsOn != nullptr) continue;
                    const auto at =
                        drawPlace(static_cast<std::uint64_t>(g), *fault, script, setup, {2, 7, 0, false});
                    if (!at) continue;
                    auto k = knitWith(script, setup, {*at}, After::byReading);
                    REQUIRE(k);
                    INFO(name(static_cast<StockGround>(g)) << (round ? " round " : " ") << text(*at));
                    const std::vector<Plan> plans = plansFor(*k->meant.fabric, script, k->actual.knitter);
                    const bool rips = std::any_of(plans.begin(), plans.end(), [](const Plan& p) {
                        return p.family == PlanFamily::rip && p.proved;
                    });
                    CHECK(rips);
                    ++mended[fault->id];
                }
            }
        }
    }
    CHECK(mended.size() >= 11);
}

TEST_CASE("rows that turn early are taken back and worked again, turned once") {
    const Script script = stockGround(StockGround::turned, 13, 8);
    int tried = 0;
    for (const int row : {3, 5}) {
        const FaultPlace place{"wrong_kp", row, 2, 0};
        auto k = knitWith(script, {}, {place}, After::byReading);
        REQUIRE(k);
        INFO(text(place));
        bool proved = false;
        for (const Plan& plan : plansFor(*k->meant.fabric, script, k->actual.knitter))
            proved = proved || (plan.family == PlanFamily::rip && plan.proved);
        CHECK(proved);
        ++tried;
    }
    CHECK(tried == 2);
}

}  // namespace loopmend
