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
namespace {

/// Every so-many-th place of every fault on every ground, the first always.
void putInEverywhere(int every) {
    std::map<std::string, int> putIn;
    for (const GroundCloth& cloth : allCloths(13, 8)) {
        const auto clean = knit(cloth.script);
        INFO(cloth.words);
        REQUIRE(clean);
        const std::string meant = knotOf(*clean->fabric);
        for (const Fault* fault : catalogue()) {
            int i = 0;
            for (const FaultPlace& place : placesFor(*fault, cloth.script, {})) {
                const After after = kAllAfters[static_cast<std::size_t>(i % 3)];
                if (i++ % every != 0) continue;
                INFO(text(place) << " " << name(after));
                const FaultyKnitting k = spoiled(cloth.script, {place}, after);
                ++putIn[place.id];
                const Itinerary actual = itinerary(*k.actual.fabric);
                const Itinerary twin = itinerary(*k.meant.fabric);
                if (after != After::rowEnd) CHECK(twin.knot == meant);
                // Another knot; or, where only the yarn lies otherwise, other lengths of it.
                if (fault->family == Family::lengths) {
                    CHECK(actual.knot == twin.knot);
                    CHECK(actual.measure != twin.measure);
                } else {
                    CHECK(actual.knot != twin.knot);
                }
                const auto again = fabricFrom(actual);
                REQUIRE(again);
                CHECK(knotOf(*again) == actual.knot);
            }
        }
    }
    for (const Fault* fault : catalogue()) {
        INFO(fault->id);
        CHECK(putIn[std::string(fault->id)] > 0);
    }
}

}  // namespace

TEST_CASE("every fault can be put in wherever it can stand, and the cloth is another one then") {
    putInEverywhere(kSanitized ? 97 : 23);
}

TEST_CASE("at every single place", "[.all]") {
    putInEverywhere(1);
}

}  // namespace loopmend
