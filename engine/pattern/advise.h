// SPDX-License-Identifier: MIT
#pragma once

#include "pattern/counts.h"

#include <cstddef>
#include <string>
#include <vector>

namespace loopmend {

/// Misprint advice. The row at `position` of the working order does not come out; which small changes of the
/// printed words, in it or in a row shortly before, would make it come out, and what follows too?
///
/// Tried are other numbers in the words (`k3`, `3 times`, `last 4 sts`), a decrease of one stitch more or
/// less, a yarn-over or a decrease left out or put in, and the other reading of `yo, k2tog twice` and of `rep
/// from * 3 times`. First come changes after which all comes out for longest, then small ones, then those in
/// the row itself. `before` is the needle before each row of the working order as the report counts them;
/// rows up to `believedUpTo`, the last one whose printed count was right, are believed. comparesCounts:
/// counts printed behind rows are for this cast-on, and to be met. At most `most` suggestions, each one line.
std::vector<std::string> smallestChanges(const Pattern& pattern, const PatternCounts& counts,
                                         const std::vector<OnNeedle>& before, std::size_t believedUpTo,
                                         std::size_t position, bool comparesCounts, std::size_t most = 3);

}  // namespace loopmend
