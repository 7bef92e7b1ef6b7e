// SPDX-License-Identifier: MIT
#include "reading/stitch_facts.h"

#include <catch2/catch.hpp>

using namespace loopmend;

namespace {

StitchFacts of(const char* id) {
    const std::vector<Sampler> all = samplers();
    const Sampler* sampler = samplerOf(all, id);
    REQUIRE(sampler != nullptr);
    const auto facts = stitchFacts(*sampler);
    REQUIRE(facts);
    return *facts;
}

}  // namespace

TEST_CASE("what is known of every stitch was found by knitting it") {
    for (const Sampler& sampler : samplers()) {
        INFO(sampler.id);
        const auto facts = stitchFacts(sampler);
        REQUIRE(facts);
        if (sampler.stitch == 0 || facts->loops.empty()) continue;  // nothing was made or moved
        CHECK_FALSE(facts->looksRight.empty());
        CHECK_FALSE(facts->looksWrong.empty());
    }
}

// Common practice, each of these.
TEST_CASE("how stitches are taken back") {
    for (const char* id : {"k", "p-ws", "k2tog", "ssk", "sk2p", "s2kp", "kfb", "kyok", "yo", "sl-wyib"}) {
        INFO(id);
        CHECK(of(id).comesBack);
    }
    CHECK(of("kfb").takenBack == 2);
    CHECK(of("kyok").takenBack == 3);
    // The bar stays on the needle until it is let fall; crossed columns have to be crossed back.
    CHECK(of("m1l").takenBackWords.find("let it fall") != std::string::npos);
    CHECK(of("cross-2-2-left").takenBackWords.find("crossed back") != std::string::npos);
    CHECK(of("cross-2-2-left").takenBack == 4);
    // What was dropped into a stitch is a strand now.
    CHECK_FALSE(of("k-below").comesBack);
}

TEST_CASE("how stitches run") {
    CHECK(of("k").opens == 1);
    CHECK(of("k").runsTo == 0);
    CHECK(of("k2tog").opens == 2);
    CHECK(of("s2kp").opens == 3);
    for (const char* id : {"yo", "m1l", "kfb"}) {  // nothing below, or a sister holds it
        INFO(id);
        CHECK(of(id).opens == 0);
    }
    CHECK(of("sl-wyib").opens == 1);
}

TEST_CASE("a stitch looks otherwise from its two sides, and a lean keeps its hand") {
    CHECK(of("k").looksRight != of("k").looksWrong);
    CHECK(of("k").looksRight == of("p-ws").looksRight);
    CHECK(of("k").looksWrong == of("p").looksRight);
    CHECK(of("k2tog").looksRight != of("ssk").looksRight);
    CHECK(of("k2tog").change == -1);
    CHECK(of("double-yo").change == 2);
}
