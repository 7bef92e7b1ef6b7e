// SPDX-License-Identifier: MIT
#pragma once

#include "pattern/pattern.h"

namespace loopmend {

/// `Reverse shaping`: the mirror image of a flat piece. The same rows are worked with the other side facing,
/// so that what began at the right edge begins at the left one; knits and purls change places, and each
/// decrease, increase and cross is the one that looks from the right side as the mirror image of what was
/// printed (common practice, and the hand of a crossing, which stays when the work is turned). What has no
/// such twin here is a problem at its place.
void reverseShaping(Pattern& pattern);

}  // namespace loopmend
