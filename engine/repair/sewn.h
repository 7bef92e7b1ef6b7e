// SPDX-License-Identifier: MIT
#pragma once

#include "repair/builder.h"

/// Ways with a blunt needle: what is sewn does not become what was meant, but it holds, or looks like it.
namespace loopmend {

/// Open stitches are sewn down on the side away from the knitter; if the count is then out, it is put right.
bool planFasten(const Situation& situation, PlanBuilder& builder);
/// Stitches of the wrong color are sewn over in the right one. Refused where anything else is wrong.
bool planDuplicateOver(const Situation& situation, PlanBuilder& builder);
/// One row is cut between two threads, drawn out, and sewn anew as it was meant. Refused unless all that is
/// wrong lies in one row of single stitches with at least `kRowsAbove` rows above it, or the piece is off the
/// needle.
bool planSnipAndGraft(const Situation& situation, PlanBuilder& builder);
inline constexpr int kRowsAbove = 8;
/// The stitches are right, but some took yarn from their neighbors, or lie beside a wide strand: it is drawn
/// along the row. Refused where that settles less than half of what shows.
bool planEase(const Situation& situation, PlanBuilder& builder);

}  // namespace loopmend
