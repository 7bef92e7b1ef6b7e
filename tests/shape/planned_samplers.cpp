// SPDX-License-Identifier: MIT
// The yarn of every sampler is drawn with each crossing as the links say, before anything is relaxed.
#include <catch2/catch.hpp>

#include "pattern/samplers.h"
#include "sampled.h"
#include "shape/weave.h"

using namespace loopmend;

namespace {

void requireAsPlanned(const std::vector<Sampler>& all) {
    int i = 0;
    for (const Sampler& sampler : all) {
        if (!isSampled(i++)) continue;
        const auto knitting = knitSampler(sampler);
        INFO(sampler.id);
        REQUIRE(knitting);
        std::string text;
        for (const std::string& line : Weave(*knitting->fabric).wrongLinks()) text += line + "\n";
        INFO(text);
        CHECK(text.empty());
    }
}

}  // namespace

TEST_CASE("every stitch is drawn with its crossings as its links say") {
    requireAsPlanned(stitchSamplers());
}

TEST_CASE("every start, edge, turn and picked-up stitch is drawn with its crossings as its links say") {
    requireAsPlanned(edgeSamplers());
}

TEST_CASE("every piece of several yarns is drawn with its crossings as its links say") {
    requireAsPlanned(colourSamplers());
}
