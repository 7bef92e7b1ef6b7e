// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "pattern/pattern.h"

namespace loopmend {

/// Which of the stitches ahead are wrapped when the next row of a pattern begins, from the tip on (a wrap
/// lies round its stitch until the stitch is worked). None: its rows do not come out so far, or the stitches
/// cast on are not told.
std::optional<std::vector<bool>> wrappedAhead(const Pattern& pattern);

}  // namespace loopmend
