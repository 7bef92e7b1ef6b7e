// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "shape/path.h"
#include "shape/relax.h"

/// Rods that were cut from a drawn path cross as it does.
namespace loopmend {

/// Straight pieces of rods take the bends of a finely drawn path short; where strands nearly touch, the one
/// that was drawn over the other may then lie under it. Such a pair is brought back along z, to the side on
/// which it was drawn, the plan view unchanged, and nothing else comes to lie on another side.
/// places: of every point of a rod on its strand's polyline, counted in points of the path.
/// Returns how many crossings were brought back. Rods that cross as drawn are left as they are, and so are
/// those of strands that lie in one another, which cannot be.
int bringBackToDrawn(Rods& rods, const Path& drawn, const std::vector<std::vector<double>>& places);

}  // namespace loopmend
