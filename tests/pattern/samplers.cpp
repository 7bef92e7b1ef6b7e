// SPDX-License-Identifier: MIT
#include <catch2/catch.hpp>

#include <set>

#include "pattern/samplers.h"

using namespace loopmend;

TEST_CASE("every sampler can be knitted, and says where to look") {
    std::set<std::string> ids;
    for (const Sampler& sampler : samplers()) {
        INFO(sampler.id);
        CHECK(ids.insert(sampler.id).second);
        CHECK_FALSE(sampler.name.empty());
        REQUIRE_FALSE(sampler.shows.empty());
        REQUIRE_FALSE(sampler.script.rows.empty());
        const auto knitting = knitSampler(sampler);
        if (!knitting) INFO(sentence(knitting.error()));
        REQUIRE(knitting);
        REQUIRE(sampler.row >= 1);
        REQUIRE(sampler.row <= static_cast<int>(sampler.script.rows.size()));
    }
}
