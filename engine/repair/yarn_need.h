// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "fabric/fabric.h"
#include "repair/pace.h"
#include "repair/plan.h"

namespace loopmend {

/// What yarn there is for stitches that are to be made again, against what they want.
struct YarnNeed {
    Leaves leaves = Leaves::exact;
    double shortageMm = 0;     ///< what all of them lack together after easing
    bool possible = true;      ///< false: for some of them there is no yarn at all
    std::vector<LoopId> ease;  ///< meant loops into which slack has to be drawn from their neighbors
};

/// Strand by strand: between two kept loops lies a length of yarn, and the stitches to be made there want
/// theirs. What lacks is eased from up to six neighbors each side; a strand with too much gives to them.
/// redo: meant loops, hosts before loops. now: by meant entry id the actual loop that is kept, or none.
/// actual: before anything is let down.
YarnNeed yarnNeedOf(const Fabric& meant, const Fabric& actual, const std::vector<LoopId>& redo,
                    const std::vector<LoopId>& now, const YarnTable& table = {});

}  // namespace loopmend
