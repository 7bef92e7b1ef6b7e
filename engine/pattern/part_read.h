// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string_view>

#include "pattern/parse.h"
#include "pattern/parts.h"
#include "pattern/pattern.h"

namespace loopmend {

/// What is known of a piece before its own words are read.
struct Begun {
    std::optional<Facing> facing;     ///< in its first row, if that is said
    std::optional<bool> leftAtRight;  ///< the other half lies at its right edge, as the right side shows it
};

/// The stitches that a piece has from other pieces of the text (all of it); they are its cast-on, and what
/// was taken for granted is said (Pattern::understood).
Begun beginPart(const Parts& parts, std::string_view text, const ParseOptions& options, Pattern& pattern);

/// Once its own rows are read: what it has from the piece that it is worked as, its rows turned about.
void finishPart(const Parts& parts, const ParseOptions& options, Pattern& pattern);

/// Whether the stitches held last were left at the right edge, as the right side shows it; none: none were.
std::optional<bool> leftAtRight(const Pattern& pattern);

}  // namespace loopmend
