// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "fabric/ids.h"
#include "shape/geometry.h"

namespace loopmend {

/// A point of a yarn and the loop or pass it belongs to.
struct PathPoint {
    Point3 at;
    EntryId entry;
};

/// The curve through the control points (centripetal Catmull-Rom: it does not overshoot where points lie
/// unevenly), as points that are about `step` mm apart. What lies between two control
/// points belongs to the entry of the second.
std::vector<PathPoint> resampled(const std::vector<PathPoint>& controls, double step);

}  // namespace loopmend
