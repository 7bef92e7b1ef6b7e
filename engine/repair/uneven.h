// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "fabric/pairing.h"

/// Where every stitch is the one that was meant, but the yarn lies in other lengths than it should: what an
/// eye sees of it. How much is seen is a rule of thumb of ours.
namespace loopmend {

/// Loops of the actual fabric that are more than a sixth larger or smaller than those they stand for.
std::vector<LoopId> unevenLoops(const Fabric& meant, const Fabric& actual, const Pairing& pairing);
/// Strands that go by a stitch and are less than half, or more than one and a half times, as long as they
/// were meant: loops of the actual fabric, those before such a strand.
std::vector<LoopId> unevenFloats(const Fabric& meant, const Fabric& actual, const Pairing& pairing);
/// Bare strands between two columns, more than twice as long as they were meant: the loops before them.
std::vector<LoopId> wideStrands(const Fabric& meant, const Fabric& actual, const Pairing& pairing);

/// All three together.
struct Uneven {
    std::vector<LoopId> loops;
    std::vector<LoopId> floats;
    std::vector<LoopId> strands;

    std::size_t size() const { return loops.size() + floats.size() + strands.size(); }
    bool none() const { return size() == 0; }
};
Uneven unevenIn(const Fabric& meant, const Fabric& actual, const Pairing& pairing);

/// The very knot that was meant, and nothing of it lies in lengths that show.
bool nothingToMend(const Fabric& meant, const Fabric& actual);

}  // namespace loopmend
