// SPDX-License-Identifier: MIT
//
// Every fault at every place where it can stand, on every stock ground.
#include <catch2/catch.hpp>
#include <map>
#include <set>

#include "fabric/itinerary.h"
#include "fault/scenes.h"
#include "sampled.h"

namespace loopmend {

TEST_CASE("every fault can be put in wherever it can stand, and the cloth is another one then") {
    std::map<std::string, int> putIn;
    for (const GroundCloth& cloth : cloths(13, 8)) {
        const auto clean = knit(cloth.script);
        INFO(cloth.words);
        REQUIRE(clean);
        const std::string meant = knotOf(*clean->fabric);
        for (const Fault* fault : catalogue()) {
            int i = 0;
            for (const FaultPlace& place : placesFor(*fault, cloth.script, {})) {
                const After after = kAllAfters[static_cast<std::size_t>(i % 3)];
                if (!isSampled(i++)) continue;
                INFO(text(place) << " " << name(after));
                const FaultyKnitting k = spoiled(cloth.script, {place}, after);
                ++putIn[place.id];
                const std::string actual = knotOf(*k.actual.fabric);
                if (after != After::rowEnd) CHECK(knotOf(*k.meant.fabric) == meant);
                CHECK(actual != knotOf(*k.meant.fabric));
                const auto again = fabricFrom(itinerary(*k.actual.fabric));
                REQUIRE(again);
                CHECK(knotOf(*again) == actual);
            }
        }
    }
    for (const Fault* fault : catalogue()) {
        INFO(fault->id);
        CHECK(putIn[std::string(fault->id)] > 0);
    }
}

}  // namespace loopmend
