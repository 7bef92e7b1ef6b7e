// SPDX-License-Identifier: MIT
//
// Every stitch of one or no loop, its piece relaxed and read back out of the yarn (read_back.h). The other
// families: rebuilt_together, rebuilt_edges, rebuilt_colours.
#include <catch2/catch.hpp>

#include <utility>

#include "sampled.h"
#include "shape/rebuilt_samplers.h"

using namespace loopmend;

TEST_CASE("hosts, sides, twist and stack of single stitches are read back out of relaxed yarn") {
    const ReadSamplers read = readSamplers(stitchSamplers(), [](const Sampler& s) { return !takesMany(s); });
    INFO(read.told());
    CHECK(read.refused.empty());
    CHECK(read.pieces >= sampled(42));
    CHECK(read.tally.links > 140 * read.pieces);
    CHECK(read.tally.twists > 130 * read.pieces);
    CHECK(read.tally.tilted < read.tally.links / 50);
    CHECK(read.tally.tiltedEdges < read.tally.links / 20);
    CHECK(read.tally.wrong.empty());
}

TEST_CASE(
    "reading relaxed yarn back tells a knit from a purl and a twisted stitch, and a lean from the other") {
    const std::vector<Sampler> all = stitchSamplers();
    const std::pair<const char*, const char*> pairs[] = {{"k", "p"},       {"k", "k-tbl"}, {"k2tog", "ssk"},
                                                         {"sk2p", "s2kp"}, {"kpk", "pkp"}, {"kfbf", "kpk"}};
    for (const auto& [laid, said] : pairs) {
        INFO(laid << " and " << said);
        REQUIRE(samplerOf(all, laid) != nullptr);
        REQUIRE(samplerOf(all, said) != nullptr);
        const auto one = knitSampler(*samplerOf(all, laid));
        const auto other = knitSampler(*samplerOf(all, said));
        REQUIRE(one);
        REQUIRE(other);
        ReadBack tally;
        readBack("", *one->fabric, *one->fabric, tally);
        CHECK(tally.wrong.empty());
        readBack("", *one->fabric, *other->fabric, tally);
        CHECK_FALSE(tally.wrong.empty());
    }
}
