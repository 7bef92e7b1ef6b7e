// SPDX-License-Identifier: MIT
#pragma once

#include "pattern/chart.h"

namespace loopmend {

/// Puts no-stitch and waiting cells into the rows of a chart without any, so that all rows are equally wide
/// and columns jump sideways as little as can be: each square stands as near as it can to the squares it is
/// worked into. Only rows that have fewer stitches than the widest one get such cells.
void layOut(WrittenChart& chart, int castOn);

}  // namespace loopmend
