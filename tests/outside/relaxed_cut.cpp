// SPDX-License-Identifier: MIT
//
// What is relaxed is cut from a finely drawn path into straight pieces. Where strands nearly touch, that
// could lay one on the other side of another; the knot of the pieces is the one that was drawn (alexander.h).
#include <catch2/catch.hpp>

#include <string>

#include "alexander.h"
#include "fault/draw.h"
#include "fault/grounds.h"
#include "fault/knit_with.h"
#include "fault/place.h"
#include "pattern/samplers.h"
#include "shape/cloth.h"

using namespace loopmend;
using namespace loopmend::outside;

namespace {

void requireCutAsDrawn(const Fabric& fabric) {
    const Cloth cloth = Cloth::drawn(fabric);
    PathOptions fine;
    fine.step = 0.08;
    fine.tail = 3;  // of the ends, as in a cloth
    CHECK(compareKnots(pathOf(fabric, cloth.layout(), fine), cloth.path()) == Knots::same);
}

}  // namespace

TEST_CASE("yarn is cut into pieces as the knot that was drawn") {
    const std::vector<Sampler> all = samplers();
    for (const char* id : {"k", "k3tog-ws", "sssk-ws", "p3tog", "s2kp-ws", "s2pp", "more-cast-on-knitted",
                           "short-row", "stranded", "long-float", "caught-float", "blocks-unlinked"}) {
        INFO(id);
        const Sampler* sampler = samplerOf(all, id);
        REQUIRE(sampler != nullptr);
        const auto knitting = knitSampler(*sampler);
        REQUIRE(knitting);
        requireCutAsDrawn(*knitting->fabric);
    }
}

TEST_CASE("yarn is cut into pieces as the knot that was drawn, with a mistake in a round too") {
    const std::pair<StockGround, const char*> pieces[] = {{StockGround::seed, "turned_midrow@5,2"},
                                                          {StockGround::net, "decrease_escaped@5,2"}};
    for (const auto& [ground, where] : pieces) {
        INFO(where);
        const auto place = parsePlace(where);
        REQUIRE(place);
        const auto knitting = knitWith(stockGround(ground, 13, 8, true), {}, {*place}, After::byReading);
        REQUIRE(knitting);
        requireCutAsDrawn(*knitting->actual.fabric);
    }
}
