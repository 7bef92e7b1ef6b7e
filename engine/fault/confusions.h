// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "fault/facts.h"
#include "reading/answer.h"

/// Which mistakes look alike. Nothing is listed beforehand: each mistake that can happen at the same place is
/// made there, the same looks are taken at both pieces, and what a perfect eye finds is compared.
namespace loopmend {

/// How far another mistake can be taken for the one that was made.
struct Likeness {
    std::string id;
    /// Looks at which both show the same, and something.
    std::vector<LookWay> same;
    /// Looks at which what they show tells them apart.
    std::vector<LookWay> apart;

    /// 1: no look tells them apart; 0: no look shows the same.
    double share() const;
};

/// The other mistakes that show the same at one look at least, the most alike first. The other one is tried
/// within a stitch and a row (hands do not know it to the stitch), and its best likeness counts.
///
/// She looks at the end of the row, and again when two rows more are worked (every stitch kept above its own
/// column): at the count and whether the next row fits, closely and with the light from the side from both
/// sides, stretched, tugged, and up both edges. (At arm's length everything is *something*.)
/// About the price of working two hundred small pieces.
std::vector<Likeness> likenesses(const FaultExample& example);

/// Ids of the mistakes it is most easily taken for: those that share half of what can be seen; if there are
/// none, the one that shares most. At most `most`, the most alike
/// first; none if nothing else looks like it.
std::vector<std::string> easilyTakenFor(const std::vector<Likeness>& likenesses, std::size_t most = 4);

}  // namespace loopmend
