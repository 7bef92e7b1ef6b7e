// SPDX-License-Identifier: MIT
// Crosses, relaxed and read back out of the yarn (read_back.h).
#include <catch2/catch.hpp>

#include "sampled.h"
#include "shape/rebuilt_samplers.h"

using namespace loopmend;

TEST_CASE("hosts, sides, twist and stack of crosses are read back out of relaxed yarn") {
    const ReadSamplers read = readSamplers(stitchSamplers(), crosses);
    INFO(read.told());
    CHECK(read.refused.empty());
    CHECK(read.pieces >= sampled(32));
    CHECK(read.tally.links > 130 * read.pieces);
    CHECK(read.tally.twists > 120 * read.pieces);
    CHECK(read.tally.tilted < read.tally.links / 50);
    CHECK(read.tally.tiltedEdges < read.tally.links / 20);
    CHECK(read.tally.wrong.empty());
}
