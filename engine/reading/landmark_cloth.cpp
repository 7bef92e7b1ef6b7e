// SPDX-License-Identifier: MIT
// What runs along and across a piece: ridges, edges, where colours meet, turns.
#include "reading/landmark_lines.h"

#include <algorithm>
#include <array>
#include <cstdlib>

namespace loopmend::lines {

namespace {

bool isPlainStitch(const Cell& cell) {
    return cell.symbol.sight == Sight::stitch;
}

/// Bumps all along but for one V in a long row: a ridge, perhaps with a slip of the hands in it.
struct Ridge {
    bool is = false;
    const Cell* odd = nullptr;
};
Ridge ridgeOf(const ReadRow& row) {
    constexpr int kLong = 8;
    Ridge ridge;
    int bumps = 0;
    int others = 0;
    for (const Cell& cell : row.cells) {
        const Sight sight = cell.symbol.sight;
        if (sight == Sight::rung || sight == Sight::slipped || sight == Sight::hole) continue;
        if (cell.symbol.face == Face::bump && sight != Sight::castOn) {
            ++bumps;
        } else {
            ++others;
            ridge.odd = &cell;
        }
    }
    ridge.is = bumps > 1 && (others == 0 || (others == 1 && bumps >= kLong && isPlainStitch(*ridge.odd)));
    return ridge;
}

}  // namespace

void findRidges(const Columns&, const Reading& reading, std::vector<Landmark>& out) {
    std::vector<Ridge> ridges;
    for (const ReadRow& row : reading.rows) ridges.push_back(row.row == 0 ? Ridge{} : ridgeOf(row));
    const auto is = [&](std::size_t r) { return r < ridges.size() && ridges[r].is; };
    const auto alone = [&](std::size_t r) { return is(r) && !is(r - 1) && !is(r + 1); };
    // The same V in another ridge is a border, not a slip.
    std::vector<int> columns;
    for (std::size_t r = 1; r < ridges.size(); ++r) {
        if (alone(r) && ridges[r].odd != nullptr) columns.push_back(ridges[r].odd->column);
    }
    std::sort(columns.begin(), columns.end());
    for (std::size_t r = 1; r < ridges.size(); ++r) {
        if (!alone(r)) continue;
        Landmark mark;
        mark.kind = LandmarkKind::ridge;
        mark.rowFrom = mark.rowTo = static_cast<int>(r);
        mark.column = 1;
        for (const Cell& cell : reading.rows[r].cells)
            mark.columnTo = std::max(mark.columnTo, static_cast<int>(cell.column));
        std::vector<LineBreak> breaks;
        const Cell* odd = ridges[r].odd;
        if (odd != nullptr) {
            const auto same = std::equal_range(columns.begin(), columns.end(), odd->column);
            const bool inside = odd->column > 2 && odd->column < mark.columnTo - 1;
            if (same.second - same.first == 1 && inside)
                breaks.push_back({odd->row, odd->stitch, odd->column});
        }
        setBreaks(mark, std::move(breaks));
        out.push_back(std::move(mark));
    }
}

namespace {

/// The stitch at one edge of a row; none if the row did not come to it.
const Cell* edgeCell(const ReadRow& row, bool left) {
    if ((left ? row.waitingLeft : row.waitingRight) > 0) return nullptr;
    const Cell* cell = nullptr;
    for (const Cell& c : row.cells) {
        if (c.column == 0) continue;
        cell = &c;
        if (!left) break;
    }
    return cell;
}

int habitOf(const Cell& cell) {
    if (cell.symbol.sight == Sight::slipped) return 2;
    return cell.symbol.face == Face::bump ? 1 : 0;
}

/// One edge up the piece. What every second row does is the habit; a single row that does otherwise among
/// many breaks it.
void findSideEdge(const Reading& reading, bool left, std::vector<Landmark>& out) {
    constexpr int kSure = 16;
    struct Seen {
        const Cell* cell;
        int habit;
    };
    std::vector<Seen> seen;
    std::array<std::array<int, 3>, 2> count{};
    for (const ReadRow& row : reading.rows) {
        if (row.row == 0) continue;
        const Cell* cell = edgeCell(row, left);
        if (cell == nullptr || cell->symbol.boundOff || cell->symbol.sight == Sight::pickedUp) continue;
        const int habit = habitOf(*cell);
        seen.push_back({cell, habit});
        ++count[static_cast<std::size_t>(row.row % 2)][static_cast<std::size_t>(habit)];
    }
    if (seen.size() < 2) return;
    std::array<int, 2> usual{};
    for (std::size_t half = 0; half < 2; ++half) {
        usual[half] =
            static_cast<int>(std::max_element(count[half].begin(), count[half].end()) - count[half].begin());
    }
    Landmark mark;
    mark.kind = LandmarkKind::edge;
    mark.left = left;
    mark.rowFrom = seen.front().cell->row;
    mark.rowTo = seen.back().cell->row;
    mark.column = mark.columnTo = seen.front().cell->column;
    const bool slips = usual[0] == 2 || usual[1] == 2;
    mark.selvedge = slips ? Selvedge::slipped : usual[0] != usual[1] ? Selvedge::garter : Selvedge::plain;
    std::vector<LineBreak> breaks;
    for (const Seen& s : seen) {
        if (s.habit != usual[static_cast<std::size_t>(s.cell->row % 2)])
            breaks.push_back({s.cell->row, s.cell->stitch, s.cell->column});
    }
    const bool once = breaks.size() == 1 && seen.size() >= static_cast<std::size_t>(kSure) &&
                      breaks[0].row > mark.rowFrom && breaks[0].row < mark.rowTo;
    if (!once || mark.selvedge == Selvedge::plain) breaks.clear();
    setBreaks(mark, std::move(breaks));
    out.push_back(std::move(mark));
}

}  // namespace

void findEdges(const Reading& reading, std::vector<Landmark>& out) {
    if (reading.rows.empty()) return;
    const bool round = std::any_of(reading.rows.begin(), reading.rows.end(),
                                   [](const ReadRow& row) { return row.row > 0 && row.round; });
    if (!round) {
        findSideEdge(reading, false, out);
        findSideEdge(reading, true, out);
    }
    const auto along = [&](const ReadRow& row, Selvedge selvedge) {
        Landmark mark;
        mark.kind = LandmarkKind::edge;
        mark.selvedge = selvedge;
        mark.rowFrom = mark.rowTo = row.row;
        std::vector<LineBreak> breaks;
        for (const Cell& cell : row.cells) {
            if (cell.column == 0) continue;
            if (mark.column == 0) mark.column = cell.column;
            mark.columnTo = cell.column;
            // A stitch that the binding off passed by.
            if (selvedge == Selvedge::boundOff && cell.symbol.loose)
                breaks.push_back({cell.row, cell.stitch, cell.column});
        }
        setBreaks(mark, std::move(breaks));
        if (mark.column > 0) out.push_back(std::move(mark));
    };
    along(reading.rows.front(), Selvedge::castOn);
    const ReadRow& last = reading.rows.back();
    std::size_t bound = 0;
    for (const Cell& cell : last.cells) bound += cell.symbol.boundOff || cell.symbol.chained ? 1U : 0U;
    if (last.row > 0 && bound > 0 && bound * 2 > last.cells.size()) along(last, Selvedge::boundOff);
}

// ---- colours
// -----------------------------------------------------------------------------------------------------

void findColours(const Columns& c, const Reading& reading, std::vector<Landmark>& out) {
    constexpr int kLeastRows = 4;
    constexpr std::size_t kSure = 8;
    const auto colour = [&](Place p) { return c.cell(p).symbol.colour; };
    // Across: a row of one colour over a row of another.
    char before = 0;
    bool any = false;
    for (int row = 0; row < c.rows(); ++row) {
        char only = 0;
        bool mixed = false;
        for (Place p = c.first(row); p < c.last(row); ++p) {
            const Sight sight = c.cell(p).symbol.sight;
            if (sight == Sight::rung || sight == Sight::slipped) continue;
            mixed = mixed || (only != 0 && only != colour(p));
            only = colour(p);
        }
        any = any || mixed;
        if (!mixed && only != 0 && before != 0 && before != only) {
            Landmark mark;
            mark.kind = LandmarkKind::colours;
            mark.rowFrom = mark.rowTo = row;
            mark.column = 1;
            for (const Cell& cell : reading.rows[static_cast<std::size_t>(row)].cells)
                mark.columnTo = std::max(mark.columnTo, static_cast<int>(cell.column));
            out.push_back(std::move(mark));
        }
        before = mixed ? '\0' : only;
    }
    if (!any) return;
    // Up: the stitch to the left is of another colour.
    const auto meets = [&](Place p) {
        const Place left = c.left(p);
        return left != kNone && colour(left) != colour(p) && c.cell(p).symbol.sight != Sight::rung;
    };
    std::vector<Place> nodes;
    std::vector<Place> prev;
    std::vector<bool> taken(static_cast<std::size_t>(c.count()), false);
    for (Place p = 0; p < c.count(); ++p) {
        if (!meets(p)) continue;
        Place found = kNone;
        const Place below = c.below(p);
        if (below != kNone) {
            for (const Place q : {below, c.right(below), c.left(below)}) {
                if (found != kNone || q == kNone || !meets(q) || taken[static_cast<std::size_t>(q)] ||
                    colour(q) != colour(p))
                    continue;
                found = q;
            }
        }
        if (found != kNone) taken[static_cast<std::size_t>(found)] = true;
        nodes.push_back(p);
        prev.push_back(found);
    }
    std::vector<Line> lines = linesOf(c, nodes, prev);
    for (Line& line : lines) {
        if (line.places.size() < kSure) continue;
        // Upright but for one row that steps aside and comes back: a stitch of the other block's colour.
        std::vector<LineBreak> aside;
        for (const Place p : line.places) {
            const Cell& cell = c.cell(p);
            if (cell.column != c.cell(line.places.front()).column)
                aside.push_back({cell.row, cell.stitch, cell.column});
        }
        if (aside.size() == 1 && aside[0].row < line.rowTo) line.breaks = aside;
    }
    lines.erase(std::remove_if(lines.begin(), lines.end(),
                               [](const Line& l) { return l.rowTo - l.rowFrom + 1 < kLeastRows; }),
                lines.end());
    emit(c, LandmarkKind::colours, lines, 2, out);
}

void findTurns(const Reading& reading, std::vector<Landmark>& out) {
    for (const ReadRow& row : reading.rows) {
        const bool fromRight = (row.facing == Facing::right) != reading.mirrored;
        const int before = fromRight ? row.waitingRight : row.waitingLeft;
        const bool chain =
            std::any_of(row.cells.begin(), row.cells.end(), [](const Cell& c) { return c.symbol.chained; });
        if (row.row == 0 || before == 0 || chain) continue;  // a chain: cast on anew or bound off
        Landmark mark;
        mark.kind = LandmarkKind::turn;
        mark.rowFrom = mark.rowTo = row.row;
        mark.left = !fromRight;
        for (const Cell& cell : row.cells) {
            if (cell.stitch == 1) mark.column = mark.columnTo = cell.column;
        }
        out.push_back(std::move(mark));
    }
}

}  // namespace loopmend::lines
