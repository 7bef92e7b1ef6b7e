// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "fabric/knitter.h"
#include "pattern/op.h"

namespace loopmend {

/// The loops of the edge along which stitches are to be picked up, in the order in which they are drawn up.
std::vector<LoopId> edgeOf(const Knitter& knitter, Edge edge);

}  // namespace loopmend
