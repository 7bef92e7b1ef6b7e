// SPDX-License-Identifier: MIT
#pragma once

#include <initializer_list>
#include <string>
#include <vector>

#include "pattern/working.h"

/// Small grounds and ways to spoil them, for the tests of repair.
namespace loopmend::scenes {

using Steps = std::vector<Step>;

/// Rows of one list of steps for each side, repeated; odd rows show the right side.
Script ground(int stitches, int rows, const Steps& rightSide, const Steps& wrongSide);
Script stockinette(int stitches, int rows);
Script garter(int stitches, int rows);
Script rib(int stitches, int rows);
Script seed(int stitches, int rows);
/// k1, k2tog, yo, k1 on the right side, purl back; stitches a multiple of 4.
Script lace(int stitches, int rows);

Knitting worked(const Script& script);
/// The stitch in hand at a column of the needle, from the right edge as the right side shows it (1 = first).
LoopId onNeedle(const Fabric& fabric, int column);

}  // namespace loopmend::scenes
