// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "shape/relax.h"

/// Crossings as they were planned, and whether they still are.
namespace loopmend {

/// Two pieces that cross in the plan view of a start.
struct PlannedCrossing {
    int overRod = 0;
    int underRod = 0;
    double over = 0;  ///< 3.25: a quarter of the way from point 3 to point 4
    double under = 0;
    Point2 where;
};
std::vector<PlannedCrossing> plannedCrossings(const Rods& rods);

/// Moves points along z only, so that strands which cross lie `gap` (a share of their contact distance)
/// apart. The plan view and who lies over whom stay, so no knot changes: the start is the same knitting.
/// False: some pair could not be brought a quarter of that apart.
bool pullApart(Rods& rods, const std::vector<PlannedCrossing>& crossings, double gap = 0.7);

/// Pieces to either side of a crossing that the alarm looks at.
inline constexpr int kReach = 5;

/// The Gauss integral of the two arcs around a crossing, `reach` pieces to either side. It jumps by one when
/// a strand passes through the other, and moves by little else.
double localLinking(const Rods& rods, const PlannedCrossing& crossing, int reach = kReach);

/// Whether the local integral can tell: arcs of one yarn that overlap may untwist, and change it, though
/// nothing passes through (a kink that opens).
bool isTelling(const PlannedCrossing& crossing, int reach = kReach);

/// Crossings that changed from one shape to the other (same rods, same numbers of points), as indexes; of
/// those that tell. An alarm and no proof: that is RelaxFigures::worstReach.
std::vector<int> changedCrossings(const Rods& before, const Rods& after,
                                  const std::vector<PlannedCrossing>& crossings, int threads = 1);

}  // namespace loopmend
