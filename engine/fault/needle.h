// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "fabric/knitter.h"

/// A glance at the tips of the needles: what hands see before they do something.
namespace loopmend {

/// The next loop to be worked; none if the left needle is empty.
LoopId nextLoop(const Knitter& knitter);
/// The next n loops to be worked, the nearest first; fewer if there are not so many. O(n).
void nextLoops(const Knitter& knitter, int n, std::vector<LoopId>& into);
/// Loops at the tip of the right needle that are newer than `firstNew` or among `were`, in the order worked.
void lastLoops(const Knitter& knitter, EntryId firstNew, const std::vector<LoopId>& were,
               std::vector<LoopId>& into);
/// The loop hangs on a needle (a place it only left behind does not count).
bool onNeedle(const Fabric& fabric, LoopId loop);
/// Goes through nothing and is knotted to nothing: a yarn-over, a lifted bar.
bool restsOnNothing(const Fabric& fabric, LoopId loop);
/// Sits left leg in front, as the work faces her.
bool sitsTurned(const Knitter& knitter, LoopId loop);

}  // namespace loopmend
