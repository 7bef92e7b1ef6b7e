// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <array>
#include <string_view>

/// Samplers of which some crossing is drawn otherwise than the links say: where two pieces are bound off
/// together, and in picots. Neither their knot nor that the picture can be read is vouched for. Whoever mends
/// one takes it out of this list.
namespace loopmend {

inline bool isNotYetDrawn(std::string_view id) {
    static constexpr std::array<std::string_view, 4> kIds = {
        "picot-bind-off", "picot-bind-off-ws", "three-needle-bind-off", "three-needle-bind-off-outside"};
    return std::find(kIds.begin(), kIds.end(), id) != kIds.end();
}

/// Drawn as their links say and relaxed as the same knot (outside/relaxed_knots.h), but yarn slides in them
/// so far that it is not read back link by link.
inline bool isOnlyToldAsAKnot(std::string_view id) {
    return id == "fishermans-rib" || id == "p-wrapping-ws" || id == "stranded";
}

}  // namespace loopmend
