// SPDX-License-Identifier: MIT
#pragma once

#include <string_view>

namespace loopmend {

/// Mistakes (a place as text, and its ground) that are not drawn as their links say on the flat grounds of
/// outside/relaxed_drawn.cpp, which tells of all others: a row that left its last stitch, in seed and lace.
inline bool isMistakeNotYetDrawn(std::string_view place) {
    return place.substr(0, 9) == "last_left";
}

/// Drawn as their links say and relaxed as the same knot (outside/relaxed_knots.h), but yarn slides in them
/// so far that it is not read back link by link: the stitches that picots are cast on lie across the chain,
/// and where the yarn of the last stitch of a piece goes back under it to the other piece, a half turn of its
/// legs and one of the strands below them are the same.
inline bool isOnlyToldAsAKnot(std::string_view id) {
    return id.substr(0, 14) == "picot-bind-off" || id == "three-needle-bind-off";
}

}  // namespace loopmend
