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

/// Rows of a column down to another row, both counted: since the last decrease, the last crossing. A slipped
/// stitch counts once. The column ends where nothing stands below.
int rowsDownTo(const Columns& columns, Columns::Place place, int row);

/// How many rows more one column has than another, counted down from the same row: left and right of a turn
/// in mid-row they differ by two.
int rowsMore(const Columns& columns, int row, int column, int thanColumn);

/// Rows that came to each edge.
struct EdgeRows {
    int right = 0;
    int left = 0;
};
EdgeRows rowsAtEdges(const Reading& reading);

/// Ridges as one counts garter: from the newest row down, the row at the needle not yet a ridge while no head
/// of it lies on this side. rows: what they come to (two a ridge), and the half ridge that is left.
struct Ridges {
    int ridges = 0;
    int rows = 0;
};
Ridges garterRows(const Reading& reading);

/// The stretches of a row between markers, from right to left: each marker lies right of the stitch in its
/// column (from the right edge). The first stretch begins at the right edge.
std::vector<int> countsBetween(const Reading& reading, int row, const std::vector<int>& markers);

/// Stitches of the same span, live and some rows down: from the column of one place to that of another, both
/// counted, followed down to `row`. None if a column does not come from there.
std::optional<int> spanBelow(const Columns& columns, Columns::Place right, Columns::Place left, int row);

/// Rows from each crossing of a rope to the next, from below up: the strands between its gaps. `column`: any
/// column of the rope where it is crossed first.
std::vector<int> strandsBetweenGaps(const Fabric& fabric, const Reading& reading, int column);

/// Repeats of `width` stitches of a row, from the `edge`-th stitch (0 = the first) in the order worked on.
int repeatsIn(const Reading& reading, int row, int edge, int width);
/// The first repeat that does not look like most of its sisters, from 1; none if all are alike. Rows in which
/// no two are alike tell nothing.
std::optional<int> oddRepeat(const Reading& reading, int row, int edge, int width);
/// The same among so many repeats only; those that do not fit on the row are odd.
std::optional<int> oddRepeat(const Reading& reading, int row, int edge, int width, int repeats);

}  // namespace loopmend
