// SPDX-License-Identifier: MIT
// Lines of stitches that stand out: double and single decreases, holes.
#include "reading/landmark_lines.h"

#include <algorithm>
#include <cstdlib>

namespace loopmend::lines {

namespace {

bool upright(const Symbol& s) {
    return s.sight == Sight::together && s.lean == Lean::upright;
}

}  // namespace

void findSpines(const Columns& c, std::vector<Landmark>& out) {
    std::vector<Place> nodes;
    std::vector<Place> prev;
    for (Place p = 0; p < c.count(); ++p) {
        if (!upright(c.cell(p).symbol)) continue;
        Place q = c.below(p);
        const int lowest = c.cell(p).row - kFarthest;
        while (q != kNone && !upright(c.cell(q).symbol)) {
            const Sight sight = c.cell(q).symbol.sight;
            const bool goesDown =
                (sight == Sight::stitch || sight == Sight::slipped) && c.cell(q).row > lowest;
            q = goesDown ? c.below(q) : kNone;
        }
        nodes.push_back(p);
        prev.push_back(q);
    }
    std::vector<Line> lines = linesOf(c, nodes, prev);
    const Sisters sisters(c, lines);
    markGaps(c, lines, sisters);
    joinBroken(c, lines, sisters, true);
    emit(c, LandmarkKind::spine, lines, 2, out);
}

// ---- yarn-overs
// --------------------------------------------------------------------------------------------------

namespace {

bool isHole(const Columns& c, Place p) {
    return p != kNone && c.cell(p).symbol.sight == Sight::hole;
}

/// Of the stitches taken together by t, whether this one lies left of another. (Which one lies on top is
/// another matter: how a decrease leans moves no hole.)
bool isLeftBase(const Columns& c, Place p, Place t) {
    const Place right = c.right(p);
    return right != kNone && c.takenBy(right) == t;
}

/// The hole that goes on the line of hole p: beside what stands on its stitch.
Place nextHole(const Columns& c, Place p) {
    const int highest = c.cell(p).row + kFarthest / 2;
    for (Place at = p, t = c.takenBy(p); t != kNone && c.cell(t).row <= highest; at = t, t = c.takenBy(t)) {
        const Symbol& s = c.cell(t).symbol;
        const Place right = c.right(t);
        const Place left = c.left(t);
        const bool fromLeft = s.sight == Sight::together && isLeftBase(c, at, t);
        if (fromLeft ? isHole(c, left) : isHole(c, right)) return fromLeft ? left : right;
        if (fromLeft ? isHole(c, right) : isHole(c, left)) return fromLeft ? right : left;
        if (s.sight == Sight::together) return kNone;
    }
    return kNone;
}

}  // namespace

void findEyelets(const Columns& c, std::vector<Landmark>& out) {
    std::vector<Place> below(static_cast<std::size_t>(c.count()), kNone);
    std::vector<Place> nodes;
    std::vector<Place> prev;
    for (Place p = 0; p < c.count(); ++p) {
        if (!isHole(c, p)) continue;
        nodes.push_back(p);
        prev.push_back(below[static_cast<std::size_t>(p)]);
        const Place next = nextHole(c, p);
        if (next != kNone && below[static_cast<std::size_t>(next)] == kNone)
            below[static_cast<std::size_t>(next)] = p;
    }
    std::vector<Line> lines = linesOf(c, nodes, prev);
    const Sisters sisters(c, lines);
    markGaps(c, lines, sisters);
    joinBroken(c, lines, sisters, false);
    emit(c, LandmarkKind::eyelets, lines, 2, out);
}

// ---- lines of single decreases
// ---------------------------------------------------------------------------------------

namespace {

bool leans(const Columns& c, Place p, Lean lean) {
    if (p == kNone) return false;
    const Symbol& s = c.cell(p).symbol;
    return s.sight == Sight::together && s.bases == 2 && s.lean == lean;
}

/// The decrease of the same lean that the line of p comes from: in p's own column below, or beside it.
Place decreaseBelow(const Columns& c, Place p, Lean lean) {
    const int lowest = c.cell(p).row - kFarthest;
    bool passed = false;  // one that leans the other way: a broken tooth of the same line
    for (Place q = c.below(p); q != kNone && c.cell(q).row > lowest; q = c.below(q)) {
        if (leans(c, q, lean)) return q;
        const Place right = c.right(q);
        const Place left = c.left(q);
        if (leans(c, right, lean)) return right;
        if (leans(c, left, lean)) return left;
        const Symbol& s = c.cell(q).symbol;
        if (s.sight == Sight::hole || (s.sight == Sight::together && (passed || s.bases != 2))) return kNone;
        passed = passed || s.sight == Sight::together;
    }
    return kNone;
}

/// A decrease that leans the other way where the line should have gone on.
void markOtherLean(const Columns& c, std::vector<Line>& lines, Lean lean) {
    const Lean other = lean == Lean::right ? Lean::left : Lean::right;
    for (Line& line : lines) {
        const std::size_t n = line.places.size();
        if (n < 4) continue;
        std::vector<int> gaps;
        for (std::size_t k = 0; k + 1 < n; ++k)
            gaps.push_back(c.cell(line.places[k + 1]).row - c.cell(line.places[k]).row);
        const auto usual = gaps.front();
        const auto odd = std::count_if(gaps.begin(), gaps.end(), [&](int g) { return g != usual; });
        if (odd != 1) continue;
        for (std::size_t k = 0; k < gaps.size(); ++k) {
            if (gaps[k] != 2 * usual) continue;
            const int row = c.cell(line.places[k]).row + usual;
            for (Place p = c.first(row); p < c.last(row); ++p) {
                const int aside = c.cell(p).column - columnAt(c, line.places[k], row);
                if (leans(c, p, other) && aside >= -1 && aside <= 1) {
                    line.breaks.push_back({row, c.cell(p).stitch, c.cell(p).column});
                    break;
                }
            }
        }
    }
}

}  // namespace

void findDecreases(const Columns& c, std::vector<Landmark>& out) {
    for (const Lean lean : {Lean::right, Lean::left}) {
        std::vector<Place> nodes;
        std::vector<Place> prev;
        std::vector<bool> taken(static_cast<std::size_t>(c.count()), false);
        for (Place p = 0; p < c.count(); ++p) {
            if (!leans(c, p, lean)) continue;
            Place q = decreaseBelow(c, p, lean);
            if (q != kNone && taken[static_cast<std::size_t>(q)]) q = kNone;
            if (q != kNone) taken[static_cast<std::size_t>(q)] = true;
            nodes.push_back(p);
            prev.push_back(q);
        }
        std::vector<Line> lines = linesOf(c, nodes, prev);
        const Sisters sisters(c, lines);
        markGaps(c, lines, sisters);
        markOtherLean(c, lines, lean);
        emit(c, lean == Lean::right ? LandmarkKind::rightLeaning : LandmarkKind::leftLeaning, lines, 3, out);
    }
}

// ---- rows of holes
// ---------------------------------------------------------------------------------------------------

void findEyeletRows(const Columns& c, std::vector<Landmark>& out) {
    constexpr std::size_t kLeast = 3;
    constexpr std::size_t kSure = 5;  // of fewer holes none is missed for certain
    struct RowOfHoles {
        int row;
        std::vector<Place> holes;
        std::vector<int> columns;
    };
    std::vector<RowOfHoles> rows;
    for (int row = 1; row < c.rows(); ++row) {
        RowOfHoles found{row, {}, {}};
        for (Place p = c.first(row); p < c.last(row); ++p) {
            if (!isHole(c, p)) continue;
            found.holes.push_back(p);
            found.columns.push_back(c.cell(p).column);
        }
        if (found.holes.size() >= kLeast) rows.push_back(std::move(found));
    }
    std::vector<std::vector<int>> all;
    all.reserve(rows.size());
    for (const RowOfHoles& r : rows) all.push_back(r.columns);
    std::sort(all.begin(), all.end());
    for (const RowOfHoles& r : rows) {
        Landmark mark;
        mark.kind = LandmarkKind::eyeletRow;
        mark.rowFrom = mark.rowTo = r.row;
        mark.column = r.columns.front();
        mark.columnTo = r.columns.back();
        std::vector<LineBreak> breaks;
        const auto same = std::equal_range(all.begin(), all.end(), r.columns);
        if (same.second - same.first == 1 && r.columns.size() >= kSure) {
            // One hole is lacking: all spaces are alike but one, which is twice as wide. Where another row
            // has the same holes it is the pattern.
            const int usual = std::min(r.columns[1] - r.columns[0], r.columns[2] - r.columns[1]);
            int wide = 0;
            int odd = 0;
            std::size_t at = 0;
            for (std::size_t i = 0; i + 1 < r.columns.size(); ++i) {
                const int space = r.columns[i + 1] - r.columns[i];
                if (space == usual) continue;
                ++odd;
                if (space == 2 * usual || space == 2 * usual - 1) {
                    ++wide;
                    at = i;
                }
            }
            if (wide == 1 && odd == 1 && usual > 1) {
                const int column = r.columns[at] + usual;
                Place p = r.holes[at];
                while (c.left(p) != kNone && c.cell(p).column < column) p = c.left(p);
                breaks.push_back({r.row, c.cell(p).stitch, column});
            }
        }
        setBreaks(mark, std::move(breaks));
        out.push_back(std::move(mark));
    }
}

}  // namespace loopmend::lines
