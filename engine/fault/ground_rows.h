// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "pattern/op.h"

/// The rows of stock grounds with edges of their own or several yarns (see grounds.h).
namespace loopmend {

/// A row in the making: which it is, and how wide the pattern is.
struct GroundRow {
    int row;     ///< from 0
    int rows;    ///< of the whole piece
    bool wrong;  ///< its wrong side faces her
    bool round;
    int repeats;
    int stitches;  ///< on the needle before it
};

void addSteps(std::vector<Step>& steps, Op op, int times = 1);
std::vector<Step> stockinetteRow(const GroundRow& row);

std::vector<Step> chainedRow(const GroundRow& row);
std::vector<Step> boundRow(const GroundRow& row);
std::vector<Step> bandedRow(const GroundRow& row);
std::vector<Step> turnedRow(const GroundRow& row);
std::vector<Step> joinedRow(const GroundRow& row);
std::vector<Step> strandedRow(const GroundRow& row);
std::vector<Step> blocksRow(const GroundRow& row);
std::vector<Step> caughtRow(const GroundRow& row);

}  // namespace loopmend
