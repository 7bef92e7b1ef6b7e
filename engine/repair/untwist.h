// SPDX-License-Identifier: MIT
#pragma once

#include "repair/builder.h"

namespace loopmend {

/// A round that is joined with another twist than was meant.
struct OtherTwist {
    LoopId last;                 ///< the loop that its join lies after; none: there is no such round
    std::int32_t halfTurns = 0;  ///< what is lacking, meant less actual
};
OtherTwist otherTwist(const Fabric& meant, const Fabric& actual, const Pairing& pairing);

/// A round that was joined with a twist is turned at its join. Hands can do that only while nothing but a
/// strand bridges the gap between the last stitch and the first: later rounds are taken back first and worked
/// again. Refused where anything else is wrong, and where half a turn would be left.
bool planUntwist(const Situation& situation, PlanBuilder& builder);

}  // namespace loopmend
