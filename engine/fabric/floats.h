// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "fabric/fabric.h"

/// Floats: strands of a further yarn that lie across the stitches of another, and where they are caught.
///
/// A float goes by what those stitches stand on (`Knitter`). It is caught when a stitch of the next row is
/// worked together with it: there it is a loop without links in the float's strand, in place of the pass, and
/// the stitch goes through both.
namespace loopmend {

/// The passes of other yarns by what the stitch stands on, one list a strand, each in the order of its yarn.
/// Only strands that run on to both sides: not an end, not one that turns there or comes from a row below.
std::vector<std::vector<PassId>> floatsAcross(const Fabric& fabric, LoopId stitch);

/// Whether a loop without links is a float lifted where it lay across that stitch: its strand is of another
/// yarn, runs on to both sides, gave it little yarn and does not go by what the stitch stands on otherwise.
bool layAcross(const Fabric& fabric, LoopId bare, LoopId stitch);

}  // namespace loopmend
