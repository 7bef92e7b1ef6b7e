// SPDX-License-Identifier: MIT
#include "reading/columns.h"

#include "reading/courses.h"

namespace loopmend {

namespace {

/// The base on top as the knit side shows it: the last one of the bight, the chain of a bind-off left out.
LoopId topBase(const Fabric& f, LoopId loop) {
    LoopId top;
    for (LinkId l = f[loop].firstLink; l; l = f[l].nextInLoop) {
        if (f[l].form.part == Part::opening && !isChainLink(f, f[l])) top = f[l].host;
    }
    return top;
}

}  // namespace

Columns::Columns(const Fabric& fabric, const Reading& reading) {
    std::size_t total = 0;
    for (const ReadRow& row : reading.rows) total += row.cells.size();
    cells_.reserve(total);
    below_.reserve(total);
    above_.assign(total, kNone);
    takenBy_.assign(total, kNone);
    rowStart_.reserve(reading.rows.size() + 1);
    std::vector<Place> highest(static_cast<std::size_t>(fabric.entryCount()), kNone);
    const auto highestOf = [&](LoopId loop) -> Place& {
        return highest[static_cast<std::size_t>(loop.value)];
    };
    for (const ReadRow& row : reading.rows) {
        rowStart_.push_back(static_cast<Place>(cells_.size()));
        for (const Cell& cell : row.cells) {
            Place below = kNone;
            const auto here = static_cast<Place>(cells_.size());
            const auto take = [&](Place base) {
                if (base == kNone) return;
                Place& by = takenBy_[static_cast<std::size_t>(base)];
                if (by == kNone) by = here;
            };
            if (cell.symbol.sight == Sight::slipped) {
                below = highestOf(cell.loop);
                take(below);
            } else if (cell.symbol.sight != Sight::rung) {
                const LoopId base = topBase(fabric, cell.loop);
                if (base) below = highestOf(base);
                for (LinkId l = fabric[cell.loop].firstLink; l; l = fabric[l].nextInLoop) {
                    if (!isChainLink(fabric, fabric[l])) take(highestOf(fabric[l].host));
                }
            }
            below_.push_back(below);
            cells_.push_back(&cell);
        }
        for (Place p = rowStart_.back(); p < static_cast<Place>(cells_.size()); ++p) {
            if (this->cell(p).symbol.sight != Sight::rung) highestOf(this->cell(p).loop) = p;
        }
    }
    rowStart_.push_back(static_cast<Place>(cells_.size()));
    for (Place p = count() - 1; p >= 0; --p) {
        if (below(p) != kNone) above_[static_cast<std::size_t>(below(p))] = p;
    }
}

Columns::Place Columns::beside(Place p, int way) const {
    const int row = cell(p).row;
    for (Place q = p + way; q >= first(row) && q < last(row); q += way) {
        if (cell(q).symbol.sight != Sight::rung) return q;
    }
    return kNone;
}

}  // namespace loopmend
