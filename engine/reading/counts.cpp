// SPDX-License-Identifier: MIT
#include "reading/counts.h"

#include <algorithm>

namespace loopmend {

namespace {

const ReadRow* rowAt(const Reading& reading, int row) {
    return row >= 0 && row < static_cast<int>(reading.rows.size())
               ? &reading.rows[static_cast<std::size_t>(row)]
               : nullptr;
}

bool isRidge(const ReadRow& row) {
    int bumps = 0;
    int all = 0;
    for (const Cell& cell : row.cells) {
        const Sight sight = cell.symbol.sight;
        if (sight == Sight::rung || sight == Sight::slipped || sight == Sight::hole) continue;
        ++all;
        bumps += cell.symbol.face == Face::bump ? 1 : 0;
    }
    return all > 0 && bumps * 10 >= all * 9;
}

/// The cells of a row in the order worked, rungs left out.
std::vector<const Cell*> worked(const ReadRow& row) {
    std::vector<const Cell*> cells;
    for (const Cell& cell : row.cells) {
        if (cell.stitch > 0) cells.push_back(&cell);
    }
    std::sort(cells.begin(), cells.end(), [](const Cell* a, const Cell* b) { return a->stitch < b->stitch; });
    return cells;
}

}  // namespace

int liveStitches(const Reading& reading) {
    return static_cast<int>(reading.needle.size());
}

std::vector<int> stitchesAfter(const Reading& reading) {
    std::vector<int> counts;
    counts.reserve(reading.rows.size());
    for (const ReadRow& row : reading.rows) counts.push_back(row.stitches);
    return counts;
}

int countBetween(const Reading& reading, LoopId right, LoopId left, int row) {
    int count = 0;
    const auto step = [&](LoopId loop) {
        if (count > 0 || loop == right) ++count;
        return count > 0 && loop == left;
    };
    if (row < 0) {
        for (const LiveLoop& live : reading.needle) {
            if (step(live.loop)) return count;
        }
        return 0;
    }
    const ReadRow* read = rowAt(reading, row);
    if (read == nullptr) return 0;
    for (const Cell& cell : read->cells) {
        if (cell.stitch > 0 && step(cell.loop)) return count;
    }
    return 0;
}

int countBetween(const Reading& reading, int row, int fromColumn, int toColumn) {
    const ReadRow* read = rowAt(reading, row);
    if (read == nullptr) return 0;
    return static_cast<int>(std::count_if(read->cells.begin(), read->cells.end(), [&](const Cell& cell) {
        return cell.column >= fromColumn && cell.column <= toColumn && cell.stitch > 0;
    }));
}

int garterRidges(const Reading& reading, int rowFrom, int rowTo) {
    int ridges = 0;
    const auto ridge = [&](int row) {
        const ReadRow* read = rowAt(reading, row);
        return row > 0 && read != nullptr && isRidge(*read);
    };
    for (int row = std::max(rowFrom, 1); row <= rowTo; ++row) {
        if (ridge(row) && !ridge(row - 1) && !ridge(row + 1)) ++ridges;
    }
    return ridges;
}

int rowsInColumn(const Columns& columns, Columns::Place place) {
    int rows = 0;
    for (Columns::Place p = place; p != Columns::kNone; p = columns.below(p)) {
        const Cell& cell = columns.cell(p);
        if (cell.row > 0 && cell.symbol.sight != Sight::slipped) ++rows;
    }
    return rows;
}

int repeatsIn(const Reading& reading, int row, int edge, int width) {
    const ReadRow* read = rowAt(reading, row);
    if (read == nullptr || width < 1 || edge < 0) return 0;
    const auto stitches = static_cast<int>(worked(*read).size());
    return std::max(0, (stitches - edge) / width);
}

std::optional<int> oddRepeat(const Reading& reading, int row, int edge, int width) {
    const int repeats = repeatsIn(reading, row, edge, width);
    if (repeats < 3) return std::nullopt;
    const std::vector<const Cell*> cells = worked(reading.rows[static_cast<std::size_t>(row)]);
    const auto alike = [&](int a, int b) {
        for (int i = 0; i < width; ++i) {
            const auto x = static_cast<std::size_t>(edge + a * width + i);
            const auto y = static_cast<std::size_t>(edge + b * width + i);
            if (!looksAlike(cells[x]->symbol, cells[y]->symbol)) return false;
        }
        return true;
    };
    // The repeat that more than half of the others are like, found by pairing off those that differ.
    int candidate = 0;
    int lead = 0;
    for (int r = 0; r < repeats; ++r) {
        if (lead == 0) candidate = r;
        lead += alike(r, candidate) ? 1 : -1;
    }
    int like = 0;
    std::optional<int> odd;
    for (int r = 0; r < repeats; ++r) {
        if (alike(r, candidate)) {
            ++like;
        } else if (!odd) {
            odd = r + 1;
        }
    }
    return like * 2 > repeats ? odd : std::nullopt;
}

}  // namespace loopmend
