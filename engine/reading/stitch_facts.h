// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "pattern/samplers.h"
#include "pattern/terms.h"

/// What an operation does and how it looks, found by knitting its sampler: nothing here is known beforehand.
namespace loopmend {

struct StitchFacts {
    int change = 0;  ///< stitches more (below 0: fewer) on the needle after it
    /// What is seen where it was worked, from right to left as that side shows it; the same thing said once.
    std::vector<std::string> looksRight;
    std::vector<std::string> looksWrong;
    std::vector<LoopId> loops;  ///< that it made or moved, as worked

    int takenBack = 0;       ///< stitches to be taken back one by one until it is undone
    bool comesBack = false;  ///< then everything is as it was before it
    std::string takenBackWords;

    bool runs = false;  ///< a stitch dropped above it runs down through it
    int runsTo = 0;     ///< the row of the lowest open stitch after such a run; 0: the cast-on
    int opens = 0;      ///< stitches that stand open then
    std::string runsWords;
};

/// None if the sampler cannot be knitted. Of one that shows no step of a row, but how a piece is begun, its
/// looks.
std::optional<StitchFacts> stitchFacts(const Sampler& sampler, Terms terms = Terms::us);

}  // namespace loopmend
