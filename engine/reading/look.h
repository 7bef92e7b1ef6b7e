// SPDX-License-Identifier: MIT
#pragma once

#include "fabric/fabric.h"
#include "reading/courses.h"
#include "reading/symbol.h"

namespace loopmend {

/// What a loop looks like from one side, in the row in which it was drawn through. `tall` and the strands of
/// a slipped loop are left to the reading, which knows the rows it passes. O(its links, loops through it,
/// passes).
Symbol look(const Fabric& fabric, const Courses& courses, LoopId loop, Side side);

/// What the eye sees of a base's twist: half turns at a link, less the half turn in which a backward loop of
/// the edge always sits.
int twistSeen(const Fabric& fabric, const Link& link);

}  // namespace loopmend
