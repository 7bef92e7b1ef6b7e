// SPDX-License-Identifier: MIT
#pragma once

#include "fabric/fabric.h"
#include "shape/columns.h"

namespace loopmend {

/// What loops that are laid out have to do with each other: who stands on whom, beside whom, on the way of a
/// chain.
class LayoutTies {
  public:
    LayoutTies(const Fabric& fabric, const ColumnGrid& columns) : f_(fabric), columns_(columns) {}

    /// It goes through a loop of another piece, which lies behind this one.
    bool behind(LoopId loop, LoopId host) const {
        return columns_.behind[static_cast<std::size_t>(loop.value)] == host;
    }
    /// It goes through a loop of its own row or beside it, which lies round its legs.
    bool chained(LoopId loop, LoopId host) const;
    /// Of a bind-off, or passed over: the loop before it lies round its legs.
    bool endsChain(LoopId loop) const;
    /// What was cast on through it stands beside it, what was picked up under its legs elsewhere.
    bool standsAbove(LinkId link) const;
    /// Loops that stand on it.
    int kidsAbove(LoopId host) const;
    /// Something was cast on through it, and it stands upright on a host of its own.
    bool beginsCastOn(LoopId loop) const;
    /// It stands on a loop through which others were cast on.
    bool standsByCastOn(EntryId e) const;
    /// One of them was cast on through the other.
    bool castOnBeside(EntryId a, EntryId b) const;
    /// One of them is bound off over the other.
    bool boundOffTogether(EntryId a, EntryId b) const;
    /// Not at the end of a short row: one of them stands on rows, or what stands on it is of rows, that the
    /// other waited for.
    bool goOnTogether(EntryId a, EntryId b) const;
    bool sameLevel(EntryId a, EntryId b) const;

  private:
    bool has(const std::vector<bool>& which, EntryId e) const {
        return which[static_cast<std::size_t>(e.value)];
    }
    bool goesThrough(EntryId loop, EntryId host) const;
    LoopId standingOn(EntryId e) const;
    LoopId standingOnWhat(EntryId e) const;

    const Fabric& f_;
    const ColumnGrid& columns_;
};

}  // namespace loopmend
