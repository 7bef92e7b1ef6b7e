// SPDX-License-Identifier: MIT
#pragma once

#include "pattern/counts.h"

#include <cstddef>
#include <vector>

namespace loopmend {

/// What misprint advice is asked about.
struct Misfit {
    std::size_t position = 0;      ///< of the working order: the row that does not come out
    std::size_t believedUpTo = 0;  ///< rows before it were borne out by a printed count and are not doubted
    bool comparesCounts = false;   ///< counts printed behind rows are for this cast-on, and are to be met
    std::size_t most = 10;         ///< suggestions
};

/// Misprint advice: a search over small changes of the printed words (edits.h), each with a price, in the row
/// itself or in any before it. A change must make the row in question come out; those after which the rest
/// comes out for longest stand first, at this number of stitches and at one repeat more of the stated
/// multiple; then the cheapest, by the price of the misprint and by how well the row then goes with the
/// others (likeness.h).
///
/// Nothing is worked again but numbers: a changed row uses a + b n and makes c + d n, and only what its
/// difference does to the rows behind it is followed, once for each difference. `before` is the needle before
/// each row of the working order as the report counts them.
std::vector<Repair> repairsFor(const Pattern& pattern, const PatternCounts& counts,
                               const std::vector<OnNeedle>& before, const Misfit& misfit);

/// The same for a row whose words are not understood: which small change of them lets it be read (reword.h),
/// and all come out that does not depend on other such rows.
std::vector<Repair> rewordingsFor(const Pattern& pattern, const PatternCounts& counts,
                                  const std::vector<OnNeedle>& before, const Misfit& misfit);

}  // namespace loopmend
