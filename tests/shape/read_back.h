// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "fabric/fabric.h"

/// The fabric read back out of the relaxed yarn: who goes through whom, to which side, with which twist and
/// in which stack, from nothing but the curve, its crossings as the right side shows them, and which stretch
/// of yarn belongs to which loop.
namespace loopmend {

/// What was read of one piece or of several.
struct ReadBack {
    int links = 0;
    int tilted = 0;
    int tiltedEdges = 0;
    int apart = 0;
    int twists = 0;
    int stacks = 0;
    int several = 0;  ///< links of loops that stand side by side in one
    std::vector<std::string> wrong;
};

/// The relaxed yarn of one fabric against the links of another, which should be the same. Cast-on hitches are
/// not read link by link, because yarn slides in them; their knot is proved as a whole (outside/alexander.h,
/// and drawn as planned: weave.h).
void readBack(const std::string& name, const Fabric& laid, const Fabric& meant, ReadBack& tally);

}  // namespace loopmend
