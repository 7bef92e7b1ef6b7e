// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <vector>

#include "fabric/fabric.h"
#include "fabric/rows.h"

/// Who stands beside whom. The rows are swept from bottom to top with the live loops in their order, as they
/// would lie on a needle: each new loop takes the place of its hosts, and columns that cross change places.
namespace loopmend {

/// Two entries that lie side by side when their row is done.
struct Beside {
    EntryId right;
    EntryId left;
    int gap = 0;  ///< so many columns were bound off between them
};

/// One row of the sweep.
struct SweptRow {
    std::int32_t row = 0;
    std::vector<EntryId> entries;  ///< loops, fixed passes and rungs, in the order in which they were laid
    std::vector<Beside> beside;    ///< pairs of which at least one is of this row
    std::vector<Beside> swapped;   ///< loops that change places above this row; `right` stood right before
};

struct ColumnGrid {
    std::vector<SweptRow> rows;        ///< lowest first
    std::vector<std::int32_t> ofRow;   ///< by entry id: the row it was swept in, Rows::kNotPlaced if none
    std::vector<std::int32_t> height;  ///< by entry id, of a pass: how many levels above the loop it goes by
    std::vector<std::int32_t> slips;   ///< by entry id, of a loop: levels that strands going by it take up
    std::vector<LoopId> over;      ///< by entry id: a loop without hosts that is worked together with what it
                                   ///< lies over (a wrap, a loop let fall into the one drawn out of it)
    std::vector<EntryId> tied;     ///< by entry id, of a pass: the loop or rung of another yarn behind which
                                   ///< it lies in its place (a float); none: a place of its own
    std::vector<bool> besideHost;  ///< by entry id: a loop drawn through one of its own row that goes on
                                   ///< standing, and put beside it (a knitted cast-on)
    std::vector<LoopId> copies;    ///< by entry id: a loop of another yarn that goes the way of this one,
                                   ///< through the same and under the same (a duplicate stitch)
    std::vector<EntryId> joins;  ///< by entry id: a loop with which two sections become one row, and the last
                                 ///< one of the other section, beside it
    std::vector<LoopId> behind;  ///< by entry id: of a loop drawn through two pieces that lie face to face,
                                 ///< the one of the piece that was not in hand
    std::vector<bool> begins;    ///< by entry id: a loop drawn through a standing edge, where a new
                                 ///< section begins

    std::int32_t row(EntryId e) const { return ofRow[static_cast<std::size_t>(e.value)]; }
};

/// Any fabric; an entry that no row claims is swept with its neighbour along the yarn.
ColumnGrid columnsOf(const Fabric& fabric, const Rows& rows);

}  // namespace loopmend
