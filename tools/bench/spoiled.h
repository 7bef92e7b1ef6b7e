// SPDX-License-Identifier: MIT
#pragma once

#include "fault/grounds.h"
#include "fault/knit_with.h"

namespace loopmend {

/// A mistake on a stock ground, and how the rows go on after it.
struct Spoiling {
    StockGround ground = StockGround::stockinette;
    const char* id = "";
    After after = After::byReading;
};

/// Put in at the first place at so many hundredths of the piece's height where it can stand, from the middle
/// of its row on.
tl::expected<FaultyKnitting, FaultProblem> spoiled(const Script& script, const Spoiling& what, int height);

}  // namespace loopmend
