// SPDX-License-Identifier: MIT
#pragma once

#include "repair/builder.h"

/// Ways that begin again: the whole piece, or rows that came out too tight or too wide.
namespace loopmend {

/// How a piece was cast on, as the loops of its first row show.
CastOn castOnOf(const Fabric& fabric, const std::vector<LoopId>& firstRow);

/// All is drawn out, and the piece cast on and worked anew as it was meant. It can always be done; for what
/// nothing else mends.
bool planStartAgain(const Situation& situation, PlanBuilder& builder);
/// The stitches are right, but not their size: rows are taken back to the first that is too tight or too wide
/// and worked again as the yarn wants it. Refused where that settles less than half of what shows.
bool planRework(const Situation& situation, PlanBuilder& builder);

}  // namespace loopmend
