// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "shape/path.h"

namespace loopmend {

/// Two strands (or one with itself) that cross when seen along z. `at` counts points: 3.25 lies a quarter of
/// the way from point 3 to point 4.
struct PlanarCrossing {
    struct Branch {
        int strand = 0;
        double at = 0;
        double z = 0;  ///< mm toward the viewer of the right side
    };
    Branch over;  ///< nearer to the viewer of the right side
    Branch under;
    Point2 where;
};

/// All crossings of the curves, in a fixed order. About linear in the number of points.
std::vector<PlanarCrossing> crossingsOf(const Path& path);

}  // namespace loopmend
