// SPDX-License-Identifier: MIT
#pragma once

#include <string_view>

namespace loopmend {

/// Drawn as their links say and relaxed as the same knot (outside/relaxed_knots.h), but yarn slides in them
/// so far that it is not read back link by link: the stitches that picots are cast on lie across the chain,
/// and where the yarn of the last stitch of a piece goes back under it to the other piece, a half turn of its
/// legs and one of the strands below them are the same.
inline bool isOnlyToldAsAKnot(std::string_view id) {
    return id.substr(0, 14) == "picot-bind-off" || id == "three-needle-bind-off";
}

}  // namespace loopmend
