// SPDX-License-Identifier: MIT
// Columns that the eye follows: ribs, ropes and their edges.
#include "reading/landmark_lines.h"

#include <algorithm>
#include <cstdlib>

namespace loopmend::lines {

namespace {

constexpr int kShortestRib = 4;

bool isFace(const Columns& c, Place p, Face face) {
    return p != kNone && c.cell(p).symbol.sight == Sight::stitch && c.cell(p).symbol.face == face;
}

}  // namespace

void findRibs(const Columns& c, std::vector<Landmark>& out) {
    // A run of V's up one column; how many of them have a bump beside them.
    struct RunUp {
        std::int32_t length = 0;
        std::int32_t bumps = 0;
        Place first = kNone;
    };
    std::vector<RunUp> runs(static_cast<std::size_t>(c.count()));
    std::vector<Line> lines;
    for (Place p = 0; p < c.count(); ++p) {
        if (!isFace(c, p, Face::v)) continue;
        RunUp run;
        run.first = p;
        const Place below = c.below(p);
        if (isFace(c, below, Face::v) && c.above(below) == p) run = runs[static_cast<std::size_t>(below)];
        ++run.length;
        if (isFace(c, c.right(p), Face::bump) || isFace(c, c.left(p), Face::bump)) ++run.bumps;
        runs[static_cast<std::size_t>(p)] = run;
        const Place above = c.above(p);
        const bool ends = above == kNone || !isFace(c, above, Face::v);
        if (!ends || run.bumps * 4 < run.length * 3 || run.length < 2) continue;
        Line line;
        line.places = {run.first, p};
        line.rowFrom = c.cell(run.first).row;
        line.rowTo = c.cell(p).row;
        line.period = 2;
        lines.push_back(std::move(line));
    }
    // Ribs that began together mostly end together: that is the pattern.
    std::vector<std::pair<int, int>> spans;
    spans.reserve(lines.size());
    for (const Line& line : lines) spans.emplace_back(line.rowFrom, line.rowTo);
    std::sort(spans.begin(), spans.end());
    const auto motifEnds = [&](const Line& line) {
        const auto from = std::lower_bound(spans.begin(), spans.end(), std::pair{line.rowFrom, 0});
        const auto ended = std::upper_bound(from, spans.end(), std::pair{line.rowFrom, line.rowTo});
        const auto all = std::lower_bound(from, spans.end(), std::pair{line.rowFrom + 1, 0});
        return (ended - from) * 2 > all - from;
    };
    std::vector<std::vector<std::size_t>> startsAt(static_cast<std::size_t>(c.rows()));
    for (std::size_t i = 0; i < lines.size(); ++i)
        startsAt[static_cast<std::size_t>(lines[i].rowFrom)].push_back(i);
    std::vector<bool> taken(lines.size(), false);
    std::vector<std::size_t> order(lines.size());
    for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return lines[a].rowTo > lines[b].rowTo; });
    for (const std::size_t i : order) {
        Line& line = lines[i];
        if (motifEnds(line)) continue;
        for (int row = line.rowTo + 1; row <= std::min(line.rowTo + 4, c.rows() - 1); ++row) {
            const int column = columnAt(c, line.places.back(), row);
            std::size_t best = i;
            for (const std::size_t j : startsAt[static_cast<std::size_t>(row)]) {
                const int gap = std::abs(c.cell(lines[j].places.front()).column - column);
                // Another rib may go on one aside; a new one in the same column was interrupted.
                if (!taken[j] && j != i && (gap == 0 || (gap == 1 && row == line.rowTo + 1))) best = j;
            }
            if (best == i) continue;
            taken[best] = true;
            line.breaks.push_back(breakAt(c, line.places.back(), line.rowTo + 1));
            line.breaks.insert(line.breaks.end(), lines[best].breaks.begin(), lines[best].breaks.end());
            line.rowTo = lines[best].rowTo;
            lines[best].gone = true;
            break;
        }
    }
    lines.erase(std::remove_if(lines.begin(), lines.end(),
                               [](const Line& l) { return l.rowTo - l.rowFrom + 1 < kShortestRib; }),
                lines.end());
    emit(c, LandmarkKind::rib, lines, 2, out);
}

// ---- cables
// ------------------------------------------------------------------------------------------------------

namespace {

struct Group {
    Place right;
    int size;
    Lean hand;
};

/// The two arms of the crossing whose right-most stitch is at p; size 0 if they are not whole.
Group groupAt(const Columns& c, Place p) {
    const Symbol& lead = c.cell(p).symbol;
    const int row = c.cell(p).row;
    Group group{p, 0, lead.crossing};
    int first = 0;
    Place q = p;
    for (; q < c.last(row); ++q, ++first) {
        const Symbol& s = c.cell(q).symbol;
        if (s.crossing != lead.crossing || s.crossesInFront != lead.crossesInFront ||
            s.crossesOver != lead.crossesOver)
            break;
    }
    int second = 0;
    for (; q < c.last(row) && second < lead.crossesOver; ++q, ++second) {
        const Symbol& s = c.cell(q).symbol;
        if (s.crossing != lead.crossing || s.crossesInFront == lead.crossesInFront || s.crossesOver != first)
            break;
    }
    if (second == lead.crossesOver) group.size = first + second;
    return group;
}

/// Both edges of a rope. One crossing that took a stitch of the ground, or left one of the rope, breaks them.
void ropeEdges(const Columns& c, const Line& line, const std::vector<Group>& groups,
               const std::vector<std::int32_t>& groupOf, const std::vector<bool>& aside, const Landmark& rope,
               std::vector<Landmark>& out) {
    std::vector<std::size_t> ids;
    for (const Place p : line.places)
        ids.push_back(static_cast<std::size_t>(groupOf[static_cast<std::size_t>(p)]));
    const int width = groups[ids.front()].size;
    Landmark right = rope;
    right.kind = LandmarkKind::cableEdge;
    right.between.clear();
    Landmark left = right;
    left.left = true;
    left.column = left.columnTo = rope.column + width - 1;
    std::vector<LineBreak> shifted;
    std::vector<LineBreak> wider;
    for (std::size_t i = 1; i < ids.size(); ++i) {
        const Cell& cell = c.cell(line.places[i]);
        if (aside[ids[i]] && shifted.empty()) shifted.push_back({cell.row, cell.stitch, cell.column});
        if (groups[ids[i]].size != width && wider.empty())
            wider.push_back({cell.row, cell.stitch, cell.column + groups[ids[i]].size - 1});
    }
    // Strands of a plait come and go by turns; a rope is crossed alike all the way but once.
    const auto odd = [&](auto isOdd) {
        std::size_t n = 0;
        for (std::size_t i = 1; i < ids.size(); ++i) n += isOdd(ids[i]) ? 1U : 0U;
        return n;
    };
    const std::size_t strays = odd([&](std::size_t g) { return static_cast<bool>(aside[g]); });
    const bool rightBroken = ids.size() >= 4 && strays >= 1 && strays <= 2 && strays * 2 <= ids.size() - 1;
    const bool leftBroken =
        ids.size() >= 4 && odd([&](std::size_t g) { return groups[g].size != width; }) == 1;
    setBreaks(right, rightBroken ? shifted : std::vector<LineBreak>());
    setBreaks(left, leftBroken || rightBroken ? (leftBroken ? wider : shifted) : std::vector<LineBreak>());
    out.push_back(std::move(right));
    out.push_back(std::move(left));
}

}  // namespace

void findCables(const Columns& c, std::vector<Landmark>& out) {
    std::vector<std::int32_t> groupOf(static_cast<std::size_t>(c.count()), -1);
    std::vector<Group> groups;
    std::vector<Place> nodes;
    std::vector<Place> prev;
    std::vector<bool> aside;  // by group: its right edge does not stand on that of the crossing below
    for (Place p = 0; p < c.count(); ++p) {
        if (c.cell(p).symbol.crossing == Lean::none || groupOf[static_cast<std::size_t>(p)] >= 0) continue;
        const Group group = groupAt(c, p);
        if (group.size == 0) continue;
        std::vector<Place> bases;
        for (Place q = p; q < p + group.size; ++q) {
            groupOf[static_cast<std::size_t>(q)] = static_cast<std::int32_t>(groups.size());
            if (c.below(q) != kNone) bases.push_back(c.below(q));
        }
        std::sort(bases.begin(), bases.end());
        const int lowest = c.cell(p).row - kFarthest;
        // The crossing below its right-most stitch; of a broad one, if there is none, below the next: one
        // stitch of the ground may have been drawn in.
        Place base = kNone;
        std::int32_t g = -1;
        const std::size_t tries = group.size >= 4 ? 2 : 1;
        for (std::size_t i = 0; i < std::min(tries, bases.size()) && g < 0; ++i) {
            base = bases[i];
            while (base != kNone && groupOf[static_cast<std::size_t>(base)] < 0 && c.cell(base).row > lowest)
                base = c.below(base);
            g = base == kNone ? -1 : groupOf[static_cast<std::size_t>(base)];
            if (i > 0 && g >= 0) base = kNone;  // aside
        }
        nodes.push_back(p);
        prev.push_back(g >= 0 ? groups[static_cast<std::size_t>(g)].right : kNone);
        aside.push_back(g >= 0 && base != groups[static_cast<std::size_t>(g)].right);
        groups.push_back(group);
    }
    std::vector<Line> lines = linesOf(c, nodes, prev);
    for (Line& line : lines) {
        // What most crossings of the line are like, and how far apart.
        const auto n = line.places.size();
        int right = 0;
        std::vector<int> gaps;
        for (std::size_t i = 0; i < n; ++i) {
            right += c.cell(line.places[i]).symbol.crossing == Lean::right ? 1 : 0;
            if (i > 0) gaps.push_back(c.cell(line.places[i]).row - c.cell(line.places[i - 1]).row);
        }
        if (n < 3) continue;
        std::vector<int> sorted = gaps;
        std::sort(sorted.begin(), sorted.end());
        const int usual = sorted[(sorted.size() - 1) / 2];
        const bool one = right * 4 >= static_cast<int>(n) * 3 || right * 4 <= static_cast<int>(n);
        const Lean hand = right * 2 > static_cast<int>(n) ? Lean::right : Lean::left;
        for (std::size_t i = 0; i < n; ++i) {
            const int row = c.cell(line.places[i]).row;
            if (i > 0 && gaps[i - 1] != usual)
                line.breaks.push_back(
                    breakAt(c, line.places[i - 1], std::min(row, row - gaps[i - 1] + usual)));
            if (one && c.cell(line.places[i]).symbol.crossing != hand)
                line.breaks.push_back({row, c.cell(line.places[i]).stitch, c.cell(line.places[i]).column});
        }
    }
    const std::size_t from = out.size();
    emit(c, LandmarkKind::cable, lines, 2, out);
    std::vector<Landmark> edges;
    std::size_t mark = from;
    for (const Line& line : lines) {
        if (line.places.size() < 2 && line.breaks.empty()) continue;
        Landmark& rope = out[mark++];
        for (std::size_t i = 1; i < line.places.size(); ++i)
            rope.between.push_back(c.cell(line.places[i]).row - c.cell(line.places[i - 1]).row);
        ropeEdges(c, line, groups, groupOf, aside, rope, edges);
    }
    out.insert(out.end(), edges.begin(), edges.end());
}

}  // namespace loopmend::lines
