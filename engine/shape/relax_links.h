// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "shape/relax_path.h"

/// Loops that slipped out of what they were drawn through.
namespace loopmend {

/// Links that are not as drawn. No yarn has to pass through another for that (a fallen loop can be drawn out
/// of its host), so the limit of a step does not prevent it. Two signs together tell:
///  - a crossing of the two loops changed (relax_monitor.h: an alarm; a crossing that slid along both yarns
///    sounds it too);
///  - neither the loop's way up nor its way down leads through its host any more: neither pierces a surface
///    that fills the host, a fan of triangles over its stretch of yarn. (Alone this says too much: it changes
///    where the foot or the top of the loop goes through that surface.)
/// Where every step of the way from `drawn` is known to have let no yarn through another (worstReach < 1),
/// `onlyLoose` asks after those links alone that can come undone so: no more can have.
/// drawn and now: the same strands and points. Returns indexes of `drawn.links`.
std::vector<int> slippedLinks(const PathRods& drawn, const PathRods& now, bool onlyLoose, int threads = 1);

/// How often a loop's way up and its way down go through a surface that fills its host, each counted by the
/// face from which it comes: a loop that is drawn through a host, seen from anywhere and however it lies,
/// goes up through it once and comes back down once (1 and -1, or -1 and 1: the face that is left of the
/// host's own yarn comes first). Both 0: it does not, or its foot or its top lies in the opening.
struct WaysThrough {
    int up = 0;
    int down = 0;
};
WaysThrough waysThrough(const PathRods& rods, LoopId loop, LoopId host);

/// The same in the order in which it happens along the yarn from one loop to another that follows it (or to
/// itself): by which face of the host's surface the yarn comes each time, 1 or -1 as above. Stretches are
/// taken `further` points longer at both ends, since yarn slides along itself; there and back within a point
/// or two is not told.
std::vector<int> facesMet(const PathRods& rods, LoopId first, LoopId last, LoopId host, int further);

}  // namespace loopmend
