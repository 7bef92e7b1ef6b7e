// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <vector>

#include "fabric/fabric.h"

namespace loopmend {

/// Rows by the walk. All yarns are walked together, each waiting until its hosts are placed; a row ends where
/// the yarn turns, or where an entry goes through or passes a loop of the row being walked (a loop counts,
/// for a yarn that passed it, as of that row too); picked-up loops begin a section. A row mark settles what
/// the knot leaves open: which round a loop at a join belongs to that meets nothing of the round before (a
/// yarn-over, a stitch into a bar two rows down), and which row is row 0 (a long-tail cast-on is already one
/// knitted row); nothing else.
struct Rows {
    static constexpr std::int32_t kNotPlaced = -1'000'000;

    std::vector<std::int32_t> ofEntry;  ///< by entry id; the cast-on is row 0
    std::int32_t last = 0;              ///< the highest row

    std::int32_t operator[](EntryId id) const { return ofEntry[static_cast<std::size_t>(id.value)]; }
};
Rows rowsOf(const Fabric& fabric);

/// Loops of every row in the order in which they lie along their yarns, row 0 first. Loops of rows before row
/// 0 (the hitches of a long-tail cast-on) are left out.
std::vector<std::vector<LoopId>> loopsByRow(const Fabric& fabric, const Rows& rows);

}  // namespace loopmend
