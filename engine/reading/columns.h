// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "reading/read.h"

namespace loopmend {

/// Which place of a reading stands on which: columns, followed stitch by stitch. A column runs through the
/// base of each stitch, at a decrease through the one on top (the middle one of a centred double); it begins
/// at a hole, a bar or the cast-on and ends where nothing goes on. A slipped stitch carries its column.
class Columns {
  public:
    /// A place: all cells of all rows, numbered from row 0 up and from right to left.
    using Place = std::int32_t;
    static constexpr Place kNone = -1;

    Columns(const Fabric& fabric, const Reading& reading);

    Place count() const { return static_cast<Place>(cells_.size()); }
    const Cell& cell(Place p) const { return *cells_[static_cast<std::size_t>(p)]; }
    Place below(Place p) const { return below_[static_cast<std::size_t>(p)]; }
    /// The right-most place whose column runs through p.
    Place above(Place p) const { return above_[static_cast<std::size_t>(p)]; }
    /// The right-most place that goes through p, also where p's column ends in it.
    Place takenBy(Place p) const { return takenBy_[static_cast<std::size_t>(p)]; }
    /// The next place to the left in the same row, rungs left out.
    Place left(Place p) const { return beside(p, 1); }
    Place right(Place p) const { return beside(p, -1); }
    Place first(int row) const { return rowStart_[static_cast<std::size_t>(row)]; }
    Place last(int row) const { return rowStart_[static_cast<std::size_t>(row) + 1]; }
    int rows() const { return static_cast<int>(rowStart_.size()) - 1; }

  private:
    Place beside(Place p, int way) const;

    std::vector<const Cell*> cells_;
    std::vector<Place> rowStart_;
    std::vector<Place> below_;
    std::vector<Place> above_;
    std::vector<Place> takenBy_;
};

}  // namespace loopmend
