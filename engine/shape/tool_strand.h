// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "shape/measure.h"
#include "shape/path.h"

namespace loopmend {

/// How a tool ends.
struct ToolEnds {
    bool needle = false;    ///< thick, and standing out far
    bool inner = false;     ///< loops hang on both sides of the gap between its tips
    bool tipLeft = false;   ///< pointed
    bool tipRight = false;  ///< pointed
};

/// A tool as a straight strand through the middle of the loops it holds, `at` from right to left (not empty),
/// with its ends standing out.
PathStrand toolStrand(ToolId tool, std::vector<PathPoint> at, const Measure& measure, double step,
                      const ToolEnds& ends);

}  // namespace loopmend
