// SPDX-License-Identifier: MIT
#include <catch2/catch.hpp>

#include "alexander.h"
#include "pattern/working.h"
#include "relaxed_knots.h"
#include "shape/cloth.h"

using namespace loopmend;
using namespace loopmend::outside;

TEST_CASE("every start, edge, turn and picked-up stitch relaxes as the knot that was drawn") {
    requireSameKnots(edgeSamplers());
}

TEST_CASE("a round joined with a twist is another knot than one without, drawn and at rest") {
    const std::vector<Sampler> all = edgeSamplers();
    const Sampler* twisted = samplerOf(all, "round-twisted");
    REQUIRE(twisted != nullptr);
    // The same with no twist, with one the other way, and with two.
    std::vector<Path> drawn;
    for (const int halfTurns : {2, 0, -2, 4}) {
        Script script = twisted->script;
        script.twist = static_cast<std::int8_t>(halfTurns);
        const auto knitting = knit(script);
        REQUIRE(knitting);
        Cloth cloth = Cloth::drawn(*knitting->fabric);
        const Path before = cloth.path();
        cloth.settle();
        CHECK_FALSE(cloth.fault());
        CHECK(compareKnots(before, cloth.path()) == Knots::same);
        for (const Path& other : drawn) CHECK(compareKnots(other, before) == Knots::different);
        drawn.push_back(before);
    }
}
