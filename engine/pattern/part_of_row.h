// SPDX-License-Identifier: MIT
#pragma once

#include "pattern/pattern.h"

#include <optional>
#include <vector>

namespace loopmend {

/// The stitches [from, to) of a row as single operations, counted from where it begins; of a piece that is
/// shaped at its edges while a pattern goes on. What lies beyond the ends of the row (from < 0, to past it:
/// stitches added at an edge) is worked plain. So is what has lost its partner: a decrease whose yarn-over
/// lies outside, and a yarn-over whose decrease does is left out. So the part keeps its count. Nothing: the
/// row changes the count by itself, turns before its end, or cannot be cut there.
std::optional<std::vector<Step>> partOfRow(const std::vector<Step>& row, int from, int to);

/// Whether the row, plain where nothing else is said, is knitted (else purled) as it faces her.
bool isPlainKnit(const std::vector<Step>& row);

/// The same steps as a row is printed: five knits as `k5`.
std::vector<Item> itemsOf(const std::vector<Step>& steps);

}  // namespace loopmend
