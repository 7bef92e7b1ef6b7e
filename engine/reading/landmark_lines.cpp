// SPDX-License-Identifier: MIT
// Places joined into lines, and where lines break.
#include "reading/landmark_lines.h"

#include <algorithm>
#include <cstdlib>

namespace loopmend::lines {

std::vector<Line> linesOf(const Columns& c, const std::vector<Place>& nodes, const std::vector<Place>& prev) {
    std::vector<Line> lines;
    std::vector<std::int32_t> lineOf(static_cast<std::size_t>(c.count()), -1);
    for (std::size_t i = 0; i < nodes.size(); ++i) {
        const Place p = nodes[i];
        std::int32_t line = prev[i] == kNone ? -1 : lineOf[static_cast<std::size_t>(prev[i])];
        if (line < 0 || lines[static_cast<std::size_t>(line)].places.back() != prev[i]) {
            line = static_cast<std::int32_t>(lines.size());
            lines.emplace_back();
            lines.back().rowFrom = c.cell(p).row;
        }
        Line& l = lines[static_cast<std::size_t>(line)];
        if (!l.places.empty()) l.period = c.cell(p).row - l.rowTo;
        l.rowTo = c.cell(p).row;
        l.places.push_back(p);
        lineOf[static_cast<std::size_t>(p)] = line;
    }
    return lines;
}

namespace {

void addWay(std::uint64_t& way, int value) {
    way = (way ^ static_cast<std::uint32_t>(value)) * 1099511628211ULL;
}

}  // namespace

Sisters::Sisters(const Columns& c, const std::vector<Line>& lines) : ways_(lines.size()) {
    for (std::size_t i = 0; i < lines.size(); ++i) {
        std::uint64_t way = 1469598103934665603ULL;
        const Line& line = lines[i];
        for (std::size_t k = 0; k < line.places.size(); ++k) {
            const Cell& here = c.cell(line.places[k]);
            const Cell& before = c.cell(line.places[k > 0 ? k - 1 : 0]);
            const int aside = here.column - before.column;
            addWay(way, k == 0 ? here.row : here.row - before.row);
            addWay(way, aside < 0 ? 1 : aside > 0 ? 2 : 0);
            ways_[i].push_back(way);
            const int gap = k + 1 < line.places.size() ? c.cell(line.places[k + 1]).row - here.row : 0;
            all_.push_back({way, gap});
        }
    }
    std::sort(all_.begin(), all_.end(),
              [](const Step& a, const Step& b) { return a.way != b.way ? a.way < b.way : a.gap < b.gap; });
}

Sisters::Next Sisters::next(std::size_t line, std::size_t place, int gap) const {
    const std::uint64_t way = ways_[line][place];
    auto it = std::lower_bound(all_.begin(), all_.end(), way,
                               [](const Step& s, std::uint64_t w) { return s.way < w; });
    Next n;
    for (; it != all_.end() && it->way == way; ++it) {
        ++n.lines;
        n.goOn += it->gap > 0 && it->gap <= gap ? 1 : 0;
    }
    return n;
}

void markGaps(const Columns& c, std::vector<Line>& lines, const Sisters& sisters) {
    for (std::size_t i = 0; i < lines.size(); ++i) {
        Line& line = lines[i];
        const std::size_t n = line.places.size();
        if (n < 3) continue;
        std::vector<int> gaps;
        for (std::size_t k = 0; k + 1 < n; ++k)
            gaps.push_back(c.cell(line.places[k + 1]).row - c.cell(line.places[k]).row);
        std::vector<int> sorted = gaps;
        std::sort(sorted.begin(), sorted.end());
        const int usual = sorted[(sorted.size() - 1) / 2];
        for (std::size_t k = 0; k < gaps.size(); ++k) {
            if (gaps[k] <= usual) continue;
            const Sisters::Next next = sisters.next(i, k, gaps[k] - 1);
            if (next.most())
                line.breaks.push_back(breakAt(c, line.places[k], c.cell(line.places[k]).row + usual));
        }
    }
}

int columnAt(const Columns& c, Place p, int row) {
    while (c.cell(p).row < row && c.takenBy(p) != kNone) p = c.takenBy(p);
    return c.cell(p).column;
}

LineBreak breakAt(const Columns& c, Place from, int row) {
    Place p = from;
    while (c.cell(p).row < row && c.takenBy(p) != kNone) p = c.takenBy(p);
    const Cell& cell = c.cell(p);
    return {row, cell.row == row ? cell.stitch : 0, cell.column};
}

void joinBroken(const Columns& c, std::vector<Line>& lines, const Sisters& sisters, bool jumps) {
    constexpr int kAside = 2;
    std::vector<std::vector<std::size_t>> startsAt(static_cast<std::size_t>(c.rows()));
    for (std::size_t i = 0; i < lines.size(); ++i) {
        startsAt[static_cast<std::size_t>(lines[i].rowFrom)].push_back(i);
    }
    std::vector<std::size_t> order(lines.size());
    for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return lines[a].rowTo < lines[b].rowTo; });
    std::vector<std::size_t> heir(lines.size());
    for (std::size_t i = 0; i < heir.size(); ++i) heir[i] = i;
    for (const std::size_t i : order) {
        const Line& line = lines[i];
        if (line.period == 0 || line.places.size() < 2) continue;
        const Sisters::Next next = sisters.next(i, line.places.size() - 1, line.period);
        const bool motifEnds = !next.most();
        if (motifEnds && !jumps) continue;
        std::size_t best = i;
        int bestGap = kAside + 1;
        const int last = std::min(line.rowTo + 2 * line.period, c.rows() - 1);
        for (int row = line.rowTo + 1; row <= last && best == i; ++row) {
            if (motifEnds && row != line.rowTo + line.period) continue;
            const int column = columnAt(c, line.places.back(), row);
            for (const std::size_t j : startsAt[static_cast<std::size_t>(row)]) {
                const int gap = std::abs(c.cell(lines[j].places.front()).column - column);
                if (heir[j] != j || j == i || gap >= bestGap) continue;
                best = j;
                bestGap = gap;
            }
        }
        if (best == i) continue;
        heir[best] = i;
    }
    // From above down, so that a line broken twice is joined whole.
    for (auto it = order.rbegin(); it != order.rend(); ++it) {
        const std::size_t j = *it;
        if (heir[j] == j) continue;
        Line& below = lines[heir[j]];
        Line& above = lines[j];
        below.breaks.push_back(
            breakAt(c, below.places.back(), std::min(below.rowTo + below.period, above.rowFrom)));
        below.breaks.insert(below.breaks.end(), above.breaks.begin(), above.breaks.end());
        below.rowTo = above.rowTo;
        above.gone = true;
    }
}

void setBreaks(Landmark& mark, std::vector<LineBreak> breaks) {
    std::stable_sort(breaks.begin(), breaks.end(),
                     [](const LineBreak& a, const LineBreak& b) { return a.row < b.row; });
    const bool across = mark.rowFrom == mark.rowTo;
    breaks.erase(std::unique(breaks.begin(), breaks.end(),
                             [&](const LineBreak& a, const LineBreak& b) {
                                 return a.row == b.row && (!across || a.column == b.column);
                             }),
                 breaks.end());
    mark.breaksAt.clear();
    for (const LineBreak& b : breaks) {
        if (mark.breaksAt.empty() || mark.breaksAt.back() != b.row) mark.breaksAt.push_back(b.row);
    }
    mark.breaks = std::move(breaks);
}

void emit(const Columns& c, LandmarkKind kind, const std::vector<Line>& lines, std::size_t least,
          std::vector<Landmark>& out) {
    for (const Line& line : lines) {
        if (line.gone || (line.places.size() < least && line.breaks.empty())) continue;
        Landmark mark;
        mark.kind = kind;
        mark.rowFrom = line.rowFrom;
        mark.rowTo = line.rowTo;
        mark.column = mark.columnTo = c.cell(line.places.front()).column;
        setBreaks(mark, line.breaks);
        const bool stands = kind == LandmarkKind::spine || kind == LandmarkKind::eyelets ||
                            kind == LandmarkKind::rightLeaning || kind == LandmarkKind::leftLeaning;
        for (const Place p : line.places) {
            if (stands) mark.places.push_back({c.cell(p).row, c.cell(p).stitch, c.cell(p).column});
        }
        out.push_back(std::move(mark));
    }
}

}  // namespace loopmend::lines
