// SPDX-License-Identifier: MIT
#include "reading/landmarks.h"

#include <algorithm>
#include <cstdlib>

#include <fmt/format.h>

namespace loopmend {

namespace {

using Place = Columns::Place;
constexpr Place kNone = Columns::kNone;
constexpr int kFarthest = 24;  // rows between two places of one line
constexpr int kShortestRib = 4;

/// A stretch of a line without a gap: places from below up.
struct Line {
    std::vector<Place> places;
    int rowFrom = 0;
    int rowTo = 0;
    int period = 0;  ///< rows from the last place but one to the last; 0 if there is one place
    std::vector<int> breaks;
    bool gone = false;  ///< part of the line below it
};

bool upright(const Symbol& s) {
    return s.sight == Sight::together && s.lean == Lean::upright;
}

/// Joins each place to the one below it (`prev`, kNone: none) into lines, in the order of their lowest
/// places.
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

/// Sisters: lines that began in the same row and have gone the same way since, as repeats of one pattern do.
/// What most of them do is the pattern; what one of them does alone is a break.
class Sisters {
  public:
    Sisters(const Columns& c, const std::vector<Line>& lines) : ways_(lines.size()) {
        for (std::size_t i = 0; i < lines.size(); ++i) {
            std::uint64_t way = 1469598103934665603ULL;
            const Line& line = lines[i];
            for (std::size_t k = 0; k < line.places.size(); ++k) {
                const Cell& here = c.cell(line.places[k]);
                const Cell& before = c.cell(line.places[k > 0 ? k - 1 : 0]);
                const int aside = here.column - before.column;
                add(way, k == 0 ? here.row : here.row - before.row);
                add(way, aside < 0 ? 1 : aside > 0 ? 2 : 0);
                ways_[i].push_back(way);
                const int gap = k + 1 < line.places.size() ? c.cell(line.places[k + 1]).row - here.row : 0;
                all_.push_back({way, gap});
            }
        }
        std::sort(all_.begin(), all_.end(), [](const Step& a, const Step& b) {
            return a.way != b.way ? a.way < b.way : a.gap < b.gap;
        });
    }

    struct Next {
        int lines = 0;  ///< that came the same way, the asked one included
        int goOn = 0;   ///< of them within `gap` rows
        /// Two are no majority.
        bool most() const { return lines > 2 && goOn * 2 > lines; }
    };
    Next next(std::size_t line, std::size_t place, int gap) const {
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

  private:
    struct Step {
        std::uint64_t way;
        int gap;
    };
    static void add(std::uint64_t& way, int value) {
        way = (way ^ static_cast<std::uint32_t>(value)) * 1099511628211ULL;
    }
    std::vector<std::vector<std::uint64_t>> ways_;
    std::vector<Step> all_;
};

/// A line that passes over a row in which most of its sisters go on.
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
            if (next.most()) line.breaks.push_back(c.cell(line.places[k]).row + usual);
        }
    }
}

/// The column in which a place's stitch stands some rows up, as far as it can be followed.
int columnAt(const Columns& c, Place p, int row) {
    while (c.cell(p).row < row && c.takenBy(p) != kNone) p = c.takenBy(p);
    return c.cell(p).column;
}

/// A line that ends, and one that begins a step aside where it should have gone on: one broken line. jumps:
/// it may also do so together with its sisters, in the very next row of the pattern.
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
        below.breaks.push_back(std::min(below.rowTo + below.period, above.rowFrom));
        below.breaks.insert(below.breaks.end(), above.breaks.begin(), above.breaks.end());
        below.rowTo = above.rowTo;
        above.gone = true;
    }
}

void emit(const Columns& c, LandmarkKind kind, const std::vector<Line>& lines, std::size_t least,
          std::vector<Landmark>& out) {
    for (const Line& line : lines) {
        if (line.gone || (line.places.size() < least && line.breaks.empty())) continue;
        Landmark mark;
        mark.kind = kind;
        mark.rowFrom = line.rowFrom;
        mark.rowTo = line.rowTo;
        mark.column = c.cell(line.places.front()).column;
        mark.breaksAt = line.breaks;
        out.push_back(std::move(mark));
    }
}

// ---- spines
// ------------------------------------------------------------------------------------------------------

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

bool isHole(const Columns& c, Place p) {
    return p != kNone && c.cell(p).symbol.sight == Sight::hole;
}

/// The hole that goes on the line of hole p: beside what stands on its stitch.
Place nextHole(const Columns& c, Place p) {
    const int highest = c.cell(p).row + kFarthest / 2;
    for (Place at = p, t = c.takenBy(p); t != kNone && c.cell(t).row <= highest; at = t, t = c.takenBy(t)) {
        const Symbol& s = c.cell(t).symbol;
        const Place right = c.right(t);
        const Place left = c.left(t);
        const bool fromLeft = s.sight == Sight::together && c.below(t) != kNone && at > c.below(t);
        if (fromLeft ? isHole(c, left) : isHole(c, right)) return fromLeft ? left : right;
        if (fromLeft ? isHole(c, right) : isHole(c, left)) return fromLeft ? right : left;
        if (s.sight == Sight::together) return kNone;
    }
    return kNone;
}

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

// ---- ribs
// --------------------------------------------------------------------------------------------------------

bool isFace(const Columns& c, Place p, Face face) {
    return p != kNone && c.cell(p).symbol.sight == Sight::stitch && c.cell(p).symbol.face == face;
}

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
            line.breaks.push_back(line.rowTo + 1);
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

void findCables(const Columns& c, std::vector<Landmark>& out) {
    std::vector<std::int32_t> groupOf(static_cast<std::size_t>(c.count()), -1);
    std::vector<Group> groups;
    std::vector<Place> nodes;
    std::vector<Place> prev;
    for (Place p = 0; p < c.count(); ++p) {
        if (c.cell(p).symbol.crossing == Lean::none || groupOf[static_cast<std::size_t>(p)] >= 0) continue;
        const Group group = groupAt(c, p);
        if (group.size == 0) continue;
        Place base = kNone;
        for (Place q = p; q < p + group.size; ++q) {
            groupOf[static_cast<std::size_t>(q)] = static_cast<std::int32_t>(groups.size());
            const Place b = c.below(q);
            if (b != kNone && (base == kNone || b < base)) base = b;
        }
        const int lowest = c.cell(p).row - kFarthest;
        while (base != kNone && groupOf[static_cast<std::size_t>(base)] < 0 && c.cell(base).row > lowest)
            base = c.below(base);
        const std::int32_t g = base == kNone ? -1 : groupOf[static_cast<std::size_t>(base)];
        nodes.push_back(p);
        prev.push_back(g >= 0 ? groups[static_cast<std::size_t>(g)].right : kNone);
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
                line.breaks.push_back(std::min(row, row - gaps[i - 1] + usual));
            if (one && c.cell(line.places[i]).symbol.crossing != hand) line.breaks.push_back(row);
        }
        std::sort(line.breaks.begin(), line.breaks.end());
        line.breaks.erase(std::unique(line.breaks.begin(), line.breaks.end()), line.breaks.end());
    }
    emit(c, LandmarkKind::cable, lines, 2, out);
}

}  // namespace

std::string_view name(LandmarkKind kind) {
    switch (kind) {
        case LandmarkKind::spine: return "double-decrease";
        case LandmarkKind::eyelets: return "yarn-overs";
        case LandmarkKind::rib: return "rib";
        case LandmarkKind::cable: return "cable";
    }
    return "";
}

std::vector<Landmark> landmarks(const Fabric& fabric, const Reading& reading) {
    const Columns columns(fabric, reading);
    std::vector<Landmark> out;
    findSpines(columns, out);
    findEyelets(columns, out);
    findRibs(columns, out);
    findCables(columns, out);
    std::stable_sort(out.begin(), out.end(), [](const Landmark& a, const Landmark& b) {
        if (a.kind != b.kind) return a.kind < b.kind;
        if (a.column != b.column) return a.column < b.column;
        return a.rowFrom < b.rowFrom;
    });
    return out;
}

std::string words(const Landmark& mark, Terms) {
    std::string_view what = "a line";
    switch (mark.kind) {
        case LandmarkKind::spine: what = "a line of double decreases"; break;
        case LandmarkKind::eyelets: what = "a line of yarn-overs"; break;
        case LandmarkKind::rib: what = "a rib"; break;
        case LandmarkKind::cable: what = "a cable"; break;
    }
    std::string text = fmt::format("{} from row {} to row {}, column {} from the right", what, mark.rowFrom,
                                   mark.rowTo, mark.column);
    for (std::size_t i = 0; i < mark.breaksAt.size(); ++i)
        text += fmt::format("{}row {}", i == 0 ? "; it breaks in " : " and ", mark.breaksAt[i]);
    return text;
}

}  // namespace loopmend
