// SPDX-License-Identifier: MIT
// Pieces of several yarns, relaxed and read back out of the yarn (read_back.h).
#include <catch2/catch.hpp>

#include "sampled.h"
#include "shape/rebuilt_samplers.h"

using namespace loopmend;

TEST_CASE("hosts, sides, twist and stack of several yarns are read back out of relaxed yarn") {
    const ReadSamplers read = readSamplers(colourSamplers());
    INFO(read.told());
    CHECK(read.refused.empty());
    CHECK(read.pieces >= sampled(8));
    CHECK(read.tally.links > 80 * read.pieces);
    CHECK(read.tally.tilted <= read.tally.links / 50);
    CHECK(read.tally.wrong.empty());
}
