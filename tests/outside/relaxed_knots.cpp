// SPDX-License-Identifier: MIT
#include "relaxed_knots.h"

#include <catch2/catch.hpp>

#include "alexander.h"
#include "sampled.h"
#include "shape/cloth.h"

namespace loopmend::outside {

void requireSameKnots(const std::vector<Sampler>& all, const std::function<bool(const Sampler&)>& wanted) {
    int i = 0;
    for (const Sampler& sampler : all) {
        if (wanted && !wanted(sampler)) continue;
        if (!isSampled(i++)) continue;
        INFO(sampler.id);
        const auto knitting = knitSampler(sampler);
        REQUIRE(knitting);
        Cloth cloth = Cloth::drawn(*knitting->fabric);
        const Path drawn = cloth.path();
        cloth.settle();
        if (cloth.fault()) FAIL_CHECK(sentence(*cloth.fault()));
        CHECK(cloth.figures().nearest >= 0.9);
        CHECK(cloth.figures().worstReach < 1);
        CHECK(cloth.heldAsDrawn() == 0);
        CHECK(compareKnots(drawn, cloth.path()) == Knots::same);
    }
}

}  // namespace loopmend::outside
