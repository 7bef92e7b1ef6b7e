// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <vector>

#include "reading/columns.h"
#include "reading/read.h"

/// What a knitter counts.
namespace loopmend {

/// Loops on the needle.
int liveStitches(const Reading& reading);

/// Stitches on the needle after each row, the cast-on first.
std::vector<int> stitchesAfter(const Reading& reading);

/// Stitches of a row from one loop to another to its left, both counted: between two markers. Row -1: on the
/// needle. 0 if they do not lie there in this order.
int countBetween(const Reading& reading, LoopId right, LoopId left, int row = -1);
/// Stitches between two places counted from the right edge, for a row; what is not there is not counted.
int countBetween(const Reading& reading, int row, int fromColumn, int toColumn);

/// Ridges that stand out on the side that was read, from row to row, both counted: rows of bumps (at least
/// nine in ten stitches) with no such row next to them. Over garter, one ridge is two rows (common practice).
int garterRidges(const Reading& reading, int rowFrom, int rowTo);

/// Loops one above another from this place down to the cast-on, both counted, the cast-on not: a slipped
/// stitch counts once.
int rowsInColumn(const Columns& columns, Columns::Place place);

/// Repeats of `width` stitches of a row, from the `edge`-th stitch (0 = the first) in the order worked on.
int repeatsIn(const Reading& reading, int row, int edge, int width);
/// The first repeat that does not look like most of its sisters, from 1; none if all are alike. Rows in which
/// no two are alike tell nothing.
std::optional<int> oddRepeat(const Reading& reading, int row, int edge, int width);

}  // namespace loopmend
