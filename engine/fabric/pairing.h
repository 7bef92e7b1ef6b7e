// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <vector>

#include "fabric/fabric.h"

namespace loopmend {

/// Which entry of an actual fabric answers to which of the meant one.
///
/// Both are walked along the yarn in lockstep: entries agree if they are alike and their links agree under
/// the pairing made so far. At a disagreement a best-first search tries a substitution, a loop left out, a
/// loop put in; a substitution costs more than both together unless the two share a paired host, or blame
/// would slide to a neighbour. A missing loop among equal ones is a tie: the first place is taken, and
/// whoever reports a place reports the span.
struct Pairing {
    std::vector<EntryId> actualOf;  ///< by meant entry id; none: missing
    std::vector<EntryId> meantOf;   ///< by actual entry id; none: extra

    std::vector<LoopId> missing;  ///< meant loops without an actual one, in the meant fabric's order
    std::vector<LoopId> extra;    ///< actual loops without a meant one
    std::vector<LoopId> changed;  ///< actual loops whose links differ from those of their pair
    std::vector<PassId> missingPasses;
    std::vector<PassId> extraPasses;
    std::vector<CrossingId> missingCrossings;  ///< of the meant fabric
    std::vector<CrossingId> extraCrossings;    ///< of the actual one
    bool complete =
        true;  ///< false: the search was given up, and what follows the last agreement is unpaired

    LoopId actual(EntryId meant) const { return actualOf[static_cast<std::size_t>(meant.value)]; }
    LoopId meant(EntryId actualEntry) const { return meantOf[static_cast<std::size_t>(actualEntry.value)]; }
    bool crossingsDiffer() const { return !missingCrossings.empty() || !extraCrossings.empty(); }
    /// Nothing differs in loops, passes and crossings. (Tools are not compared.)
    bool agrees() const {
        return missing.empty() && extra.empty() && changed.empty() && missingPasses.empty() &&
               extraPasses.empty() && !crossingsDiffer();
    }
};

/// effort: how many states the search may look at. Linear where the fabrics agree.
Pairing pairUp(const Fabric& meant, const Fabric& actual, int effort = 60'000);

}  // namespace loopmend
