// SPDX-License-Identifier: MIT
#include "reading/counts.h"

#include <algorithm>

#include "reading/landmarks.h"

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

int rowsDownTo(const Columns& columns, Columns::Place place, int row) {
    int rows = 0;
    for (Columns::Place p = place; p != Columns::kNone && columns.cell(p).row >= row; p = columns.below(p)) {
        const Cell& cell = columns.cell(p);
        if (cell.row > 0 && cell.symbol.sight != Sight::slipped) ++rows;
    }
    return rows;
}

namespace {

Columns::Place placeIn(const Columns& columns, int row, int column) {
    if (row < 0 || row >= columns.rows()) return Columns::kNone;
    for (Columns::Place p = columns.first(row); p < columns.last(row); ++p) {
        if (columns.cell(p).column == column) return p;
    }
    return Columns::kNone;
}

/// The newest place of a column at or below a row: where a turn left it behind, it ends lower.
Columns::Place newestIn(const Columns& columns, int row, int column) {
    for (int r = std::min(row, columns.rows() - 1); r >= 0; --r) {
        const Columns::Place p = placeIn(columns, r, column);
        if (p != Columns::kNone) return p;
    }
    return Columns::kNone;
}

}  // namespace

int rowsMore(const Columns& columns, int row, int column, int thanColumn) {
    const auto rows = [&](int at) {
        const Columns::Place p = newestIn(columns, row, at);
        return p == Columns::kNone ? 0 : rowsInColumn(columns, p);
    };
    return rows(column) - rows(thanColumn);
}

EdgeRows rowsAtEdges(const Reading& reading) {
    EdgeRows edges;
    for (const ReadRow& row : reading.rows) {
        if (row.row == 0 || row.cells.empty()) continue;
        edges.right += row.waitingRight == 0 ? 1 : 0;
        edges.left += row.waitingLeft == 0 ? 1 : 0;
    }
    return edges;
}

Ridges garterRows(const Reading& reading) {
    Ridges found;
    const int last = static_cast<int>(reading.rows.size()) - 1;
    found.ridges = garterRidges(reading, 1, last);
    int newest = 0;
    int lowest = 0;
    for (int r = 1; r <= last; ++r) {
        if (!isRidge(reading.rows[static_cast<std::size_t>(r)])) continue;
        newest = r;
        if (lowest == 0) lowest = r;
    }
    if (lowest == 0) return {0, last > 0 ? last : 0};
    // Rows under the first ridge and above the last one are half ridges.
    found.rows = (lowest - 1) + 2 * (found.ridges - 1) + 1 + (last - newest);
    return found;
}

std::vector<int> countsBetween(const Reading& reading, int row, const std::vector<int>& markers) {
    const ReadRow* read = rowAt(reading, row);
    if (read == nullptr) return {};
    std::vector<int> sorted = markers;
    std::sort(sorted.begin(), sorted.end());
    std::vector<int> counts(sorted.size() + 1, 0);
    for (const Cell& cell : read->cells) {
        if (cell.stitch < 1) continue;
        const auto span = std::upper_bound(sorted.begin(), sorted.end(), cell.column) - sorted.begin();
        ++counts[static_cast<std::size_t>(span)];
    }
    return counts;
}

std::optional<int> spanBelow(const Columns& columns, Columns::Place right, Columns::Place left, int row) {
    const auto down = [&](Columns::Place p) {
        while (p != Columns::kNone && columns.cell(p).row > row) p = columns.below(p);
        return p != Columns::kNone && columns.cell(p).row == row ? p : Columns::kNone;
    };
    const Columns::Place a = down(right);
    const Columns::Place b = down(left);
    if (a == Columns::kNone || b == Columns::kNone) return std::nullopt;
    int count = 0;
    for (Columns::Place p = std::min(a, b); p <= std::max(a, b); ++p)
        count += columns.cell(p).symbol.sight == Sight::rung ? 0 : 1;
    return count;
}

std::vector<int> strandsBetweenGaps(const Fabric& fabric, const Reading& reading, int column) {
    const Landmark* best = nullptr;
    const std::vector<Landmark> all = landmarks(fabric, reading);
    for (const Landmark& mark : all) {
        if (mark.kind == LandmarkKind::cable && mark.column <= column &&
            (best == nullptr || mark.column > best->column))
            best = &mark;
    }
    return best == nullptr ? std::vector<int>() : best->between;
}

int repeatsIn(const Reading& reading, int row, int edge, int width) {
    const ReadRow* read = rowAt(reading, row);
    if (read == nullptr || width < 1 || edge < 0) return 0;
    const auto stitches = static_cast<int>(worked(*read).size());
    return std::max(0, (stitches - edge) / width);
}

std::optional<int> oddRepeat(const Reading& reading, int row, int edge, int width) {
    return oddRepeat(reading, row, edge, width, repeatsIn(reading, row, edge, width));
}

std::optional<int> oddRepeat(const Reading& reading, int row, int edge, int width, int repeats) {
    const ReadRow* read = rowAt(reading, row);
    if (repeats < 3 || read == nullptr || width < 1 || edge < 0) return std::nullopt;
    const std::vector<const Cell*> cells = worked(*read);
    const auto alike = [&](int a, int b) {
        for (int i = 0; i < width; ++i) {
            const auto x = static_cast<std::size_t>(edge + a * width + i);
            const auto y = static_cast<std::size_t>(edge + b * width + i);
            if (x >= cells.size() || y >= cells.size()) return x >= cells.size() && y >= cells.size();
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
