// SPDX-License-Identifier: MIT
#pragma once

#include "repair/builder.h"

namespace loopmend {

/// A round that was joined with a twist is turned at its join. Hands can do that only while nothing but a
/// strand bridges the gap between the last stitch and the first: later rounds are taken back first and worked
/// again. Refused where anything else is wrong, and where half a turn would be left.
bool planUntwist(const Situation& situation, PlanBuilder& builder);

}  // namespace loopmend
