// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <vector>

#include "repair/builder.h"

/// Yarn that broke inside the cloth.
namespace loopmend {

/// Two ends that were one strand: the loop after which the one hangs, and the loop before which the other
/// does.
struct BrokenEnds {
    LoopId last;
    LoopId first;
};
/// Ends that the actual fabric has and the meant one has not, nearest to each other along the yarn. Empty:
/// as many yarns as were meant.
std::vector<BrokenEnds> brokenEnds(const Fabric& meant, const Fabric& actual);

/// The move that makes the ends one yarn again.
bool joinEnds(const BrokenEnds& ends, const StitchPlaces& spots, PlanBuilder& builder);

/// A stitch that slipped out where the yarn broke: what it stood in, and what stands in it.
struct SlippedOut {
    LoopId below;
    LoopId above;
    Run run = Run::leftward;
    Side side = Side::right;       ///< to which it was drawn
    Side aboveSide = Side::right;  ///< to which the one above it was
};
/// pairing: of the meant fabric and of the actual one with its ends joined. None: it is not one single
/// stitch.
std::optional<SlippedOut> slippedOut(const Situation& joined);
/// It is sewn in with a length of the same yarn, and its ends are joined to the broken ones.
bool planSewIn(const BrokenEnds& ends, const SlippedOut& stitch, const StitchPlaces& spots,
               PlanBuilder& builder);

}  // namespace loopmend
