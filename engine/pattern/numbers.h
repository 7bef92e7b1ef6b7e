// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string_view>
#include <vector>

/// Numbers and words as the program's own lines of text hold them (moves, places, notes of files).
namespace loopmend {

/// Words with one or more blanks between them; none is empty.
std::vector<std::string_view> splitAtBlanks(std::string_view line);

/// The number that the digits make, nothing around them: at most eight, so that it always fits. None for
/// anything else, an empty text included.
std::optional<int> wholeNumber(std::string_view digits);
/// The same with a sign before it, or without.
std::optional<int> signedNumber(std::string_view digits);

}  // namespace loopmend
