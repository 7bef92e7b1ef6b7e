// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "fault/catalogue.h"
#include "fault/draw.h"
#include "fault/grounds.h"
#include "fault/knit_with.h"

namespace loopmend {

/// A stock ground with its words for a failing test.
struct GroundCloth {
    StockGround ground;
    bool round;
    Script script;
    std::string words;
};
/// Every stock ground that lessons know, flat and in the round.
std::vector<GroundCloth> cloths(int stitches, int rows);
/// Those and the further ones, in the round where they go round.
std::vector<GroundCloth> allCloths(int stitches, int rows);

/// Works it with these mistakes; fails the test if that cannot be done.
FaultyKnitting spoiled(const Script& script, const std::vector<FaultPlace>& faults, After after,
                       const Setup& setup = {});
/// A row of the same step.
WorkedRow rowOf(int number, Facing facing, std::vector<Step> steps);
std::vector<Step> steps(std::initializer_list<std::pair<int, Op>> runs);

std::vector<LoopId> looseLoops(const Fabric& fabric);
inline const std::vector<After> kAllAfters = {After::byCount, After::byReading, After::rowEnd};

}  // namespace loopmend
