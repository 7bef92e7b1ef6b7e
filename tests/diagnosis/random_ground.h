// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>

#include "pattern/op.h"

namespace loopmend {

/// Rows of anything that a pattern may ask for, the same for the same seed: knits, purls, twisted and slipped
/// stitches, yarn-overs, decreases and increases of all hands, small cables; every other row plain if
/// `plainBetween`.
Script randomGround(std::uint64_t seed, int stitches, int rows, bool round, bool plainBetween);

}  // namespace loopmend
