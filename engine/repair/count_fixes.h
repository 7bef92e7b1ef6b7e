// SPDX-License-Identifier: MIT
#pragma once

#include "repair/builder.h"

/// Ways that leave the stitches as they are.
namespace loopmend {

/// The count is put right in the row in hand, near the place: two worked together, or one made.
bool planFudge(const Situation& situation, PlanBuilder& builder);
/// Nothing is done, but that nothing can run: what hangs open is pinned.
bool planLeave(const Situation& situation, PlanBuilder& builder);

/// Stitches on the needle, and how many there should be.
int stitchesTooMany(const Situation& situation, const Knitter& knitter);

}  // namespace loopmend
