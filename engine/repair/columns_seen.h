// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "fabric/fabric.h"
#include "fabric/rows.h"

namespace loopmend {

/// Where loops stand from right to left, and what the columns below them look like: all that a tool has to
/// know about the place it points at. Worked out once for a fabric, linear in its entries.
class SeenColumns {
  public:
    explicit SeenColumns(const Fabric& fabric);

    /// The loop's column as the right side shows it, from the right: places of the needle are 0, 1, 2 ...;
    /// others stand under, or between, those.
    double of(LoopId loop) const { return columns_[static_cast<std::size_t>(loop.value)]; }
    /// The gap between the two tips.
    double tip() const;
    /// The stitch on the needle (or hanging place there) to the right of a loop's column; none: it would be
    /// the first.
    LoopId rightOnNeedle(LoopId loop) const;

    /// The loop before the bare strand that crosses the column above an open loop, one row higher; none:
    /// there is none.
    LoopId strandAbove(LoopId loop) const;
    /// Open loops (loose or on a pin) over which the strand after this loop is the next one.
    std::vector<LoopId> openUnder(LoopId before) const;
    /// The loop after the strand, if it is bare: no rung of an open stitch lies in it.
    LoopId bareStrandAfter(LoopId before) const;

    /// The side to which the next loop through this one is likely to be drawn: as the
    /// stitch two rows below it, which holds in all common grounds (plain, garter, rib, seed).
    Side nextSide(LoopId loop) const;

  private:
    double fromNeighbors(LoopId loop) const;

    const Fabric& f_;
    std::vector<double> columns_;
    Rows rows_;
};

}  // namespace loopmend
