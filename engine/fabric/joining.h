// SPDX-License-Identifier: MIT
#pragma once

#include "fabric/fabric.h"
#include "fabric/pairing.h"

namespace loopmend {

/// The join that lies after a loop; none: there is no round joined there.
JoinId joinAfter(const Fabric& fabric, LoopId last);

/// A round that is joined with another twist than was meant.
struct OtherTwist {
    LoopId last;                 ///< the loop that its join lies after; none: there is no such round
    std::int32_t halfTurns = 0;  ///< what is lacking, meant less actual
};
OtherTwist otherTwist(const Fabric& meant, const Fabric& actual, const Pairing& pairing);

/// Turns the band of a round at its join, between the last stitch cast on and the first: so many whole turns
/// are added to the twist noted there (two half turns each; seen along the yarn as `addJoin` has it).
///
/// Hands can do it only while a single strand bridges that gap: the turns run out into the strand and the
/// yarn in hand, and are nothing there. Refused: no round is joined after this loop; a stitch of the second
/// round stands in the first of the first, or a strand goes by it (then cloth bridges the gap, and turning it
/// would wind that cloth about itself).
Result<void> turnAtJoin(Fabric& fabric, LoopId last, std::int32_t wholeTurns);

}  // namespace loopmend
