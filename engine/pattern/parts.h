// SPDX-License-Identifier: MIT
#pragma once

#include "pattern/op.h"

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace loopmend {

/// A text that tells several pieces under headings of their own (`Back`, `Left front`, `Sleeve`), each cast
/// on by itself, or one whose stitches on a holder are taken up again (held_parts.h), cut so that one of them
/// can be read.
struct Parts {
    std::vector<std::string> names;  ///< fewer than two: the text tells one piece
    /// The text with everything blanked that belongs to other pieces, so that lines and columns stay.
    std::string text;
    int line = 1;              ///< of the heading of the piece that is read
    bool reversed = false;     ///< `work as for right front, reversing shaping`
    std::string as;            ///< the piece that it is worked as; empty: none
    std::string until;         ///< only so far, as these words say; its own rows follow
    std::string unknownUntil;  ///< there is no such place in that piece
    std::string unknownAs;     ///< it is worked as a piece that is not in the text
    long long joined = 0;      ///< it begins with the stitches of other pieces, so many; 0: it is cast on
    /// It begins with stitches that waited on a holder since the piece before: that one's place among the
    /// names, and how many they are as printed (0: that is not said).
    std::optional<std::size_t> heldSince;
    long long held = 0;
    long long pickedUp = 0;            ///< beside them, along an edge
    std::optional<Facing> heldFacing;  ///< in its first row, if that is said
};

/// Which pieces a text tells, and the text of the one at `index` (the last one if there are fewer).
Parts partsOf(std::string_view text, std::size_t index);

}  // namespace loopmend
