// SPDX-License-Identifier: MIT
// Pieces of starts, ends, edges, turns and picked-up stitches, relaxed and read back out of the yarn
// (read_back.h).
#include <catch2/catch.hpp>

#include "sampled.h"
#include "shape/rebuilt_samplers.h"

using namespace loopmend;

TEST_CASE(
    "hosts, sides, twist and stack of starts, ends, edges, turns and picked-up stitches are read back out of "
    "relaxed yarn") {
    const ReadSamplers read = readSamplers(edgeSamplers());
    INFO(read.told());
    CHECK(read.refused.empty());
    CHECK(read.pieces >= sampled(15));
    CHECK(read.tally.links > 80 * read.pieces);
    CHECK(read.tally.tilted <= read.tally.links / 50);
    CHECK(read.tally.wrong.empty());
}
