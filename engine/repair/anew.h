// SPDX-License-Identifier: MIT
#pragma once

#include "repair/builder.h"

/// Ways that begin again: the whole piece, or rows that came out too tight or too wide.
namespace loopmend {

/// All is drawn out, and the piece cast on and worked anew as it was meant. It can always be done; for what
/// nothing else mends.
bool planStartAgain(const Situation& situation, PlanBuilder& builder);
/// The stitches are right, but not their size: rows are taken back to the first that is too tight or too wide
/// and worked again as the yarn wants it. Refused where that settles nothing.
bool planRework(const Situation& situation, PlanBuilder& builder);

/// Strands that go by a stitch and are less than half, or more than one and a half times, as long as they
/// were meant: loops of the actual fabric, those before such a strand.
std::vector<LoopId> unevenFloats(const Fabric& meant, const Fabric& actual, const Pairing& pairing);

}  // namespace loopmend
