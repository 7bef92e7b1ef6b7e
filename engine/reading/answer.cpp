// SPDX-License-Identifier: MIT
#include "reading/answer.h"

#include <algorithm>
#include <array>
#include <cstdlib>
#include <optional>

#include "reading/answer_piece.h"
#include "reading/counts.h"

namespace loopmend {

namespace {

using Place = Columns::Place;
using What = Sighting::What;
using Inner = LookedAt::Inner;
constexpr Place kNone = Columns::kNone;

Sighting placed(const OddPlace& odd, Side side) {
    Sighting s = said(What::place);
    s.row = odd.row;
    s.column = odd.column;
    s.oddity = side == Side::right ? odd.sign : turnedOver(odd.sign);
    s.ease = easeOf(odd.sign);
    return s;
}

Sighting where(int row, int column) {
    Sighting s = said(What::place);
    s.row = row;
    s.column = column;
    return s;
}

struct Box {
    int rowFrom;
    int rowTo;
    int columnFrom;
    int columnTo;
    bool has(const OddPlace& p) const {
        return p.row >= rowFrom && p.row <= rowTo && p.column >= columnFrom && p.column <= columnTo;
    }
};
Box boxOf(const Look& look) {
    return {std::min(look.rowFrom, look.rowTo), std::max(look.rowFrom, look.rowTo),
            std::min(look.columnFrom, look.columnTo), std::max(look.columnFrom, look.columnTo)};
}

/// Calls `see` for every odd place of the rows of a box that lies in it.
template <class See>
void oddIn(const Inner& in, const Box& box, See see) {
    const auto rows = static_cast<int>(in.oddFrom.size()) - 1;
    const int from = std::clamp(box.rowFrom, 0, rows);
    const int to = std::clamp(box.rowTo + 1, from, rows);
    for (std::size_t i = in.oddFrom[static_cast<std::size_t>(from)];
         i < in.oddFrom[static_cast<std::size_t>(to)]; ++i) {
        if (box.has(in.odd[i])) see(in.odd[i]);
    }
}

/// The plainest of what lies in a box, of two alike the lower one, of those the one further right.
template <class Counts>
std::optional<OddPlace> plainest(const Inner& in, const Box& box, Side side, Counts counts) {
    std::optional<OddPlace> best;
    oddIn(in, box, [&](const OddPlace& p) {
        if (!p.shows(side) || !counts(p.sign)) return;
        if (!best || easeOf(p.sign) < easeOf(best->sign)) best = p;
    });
    return best;
}

int widthOf(const Inner& in, int row) {
    const ReadRow* read = in.row(in.is->right(), row);
    int widest = 1;
    if (read != nullptr) {
        for (const Cell& cell : read->cells) widest = std::max(widest, static_cast<int>(cell.column));
    }
    return widest;
}

// ---- arm's length
// --------------------------------------------------------------------------------------------

constexpr int kTopRows = 6;
constexpr int kNextRows = 14;

Sighting armsLength(const Look& look, const Inner& in) {
    const Box all{0, in.rows(), 0, 1'000'000};
    const auto odd = plainest(in, all, look.side, [](OddSign) { return true; });
    if (!odd) return said(What::nothing);
    const int below = in.rows() - odd->row;
    const int band = below < kTopRows ? 0 : below < kTopRows + kNextRows ? 1 : 2;
    const int width = widthOf(in, odd->row);
    const int third = std::clamp((odd->column - 1) * 3 / width, 0, 2);
    Sighting s = said(What::ninth);
    s.by = band * 3 + third + 1;
    s.ease = easeOf(odd->sign);
    return s;
}

// ---- counting
// ------------------------------------------------------------------------------------------------

/// A stitch that one finds again: more than a V or a bump.
bool isFeature(const Cell& cell) {
    const Symbol& s = cell.symbol;
    return cell.row == 0 || (s.sight != Sight::stitch && s.sight != Sight::slipped) || s.sisters > 1 ||
           s.crossing != Lean::none;
}

Place placeAt(const Columns& c, int row, int column) {
    if (row < 0 || row >= c.rows()) return kNone;
    for (Place p = c.first(row); p < c.last(row); ++p) {
        if (c.cell(p).column == column) return p;
    }
    return kNone;
}

Place placeOfStitch(const Columns& c, int row, int stitch) {
    if (row < 0 || row >= c.rows()) return kNone;
    for (Place p = c.first(row); p < c.last(row); ++p) {
        if (c.cell(p).stitch == stitch) return p;
    }
    return kNone;
}

int stitchesOf(const Columns& c, int row) {
    int most = 0;
    for (Place p = c.first(row); p < c.last(row); ++p)
        most = std::max(most, static_cast<int>(c.cell(p).stitch));
    return most;
}

/// The column in which the actual row has what stands at `column` of the meant one: the end of the row for
/// its end; else the nearest feature below is found again, and its column followed up. 0: not to be found.
int columnMeant(const Inner& in, int row, int column) {
    const Columns& m = in.was->columns;
    const Columns& a = in.is->columns;
    if (row >= m.rows() || row >= a.rows() || row < 0) return 0;
    Place p = placeAt(m, row, column);
    if (p == kNone) return 0;
    const int stitch = m.cell(p).stitch;
    if (stitch == 1 || stitch == stitchesOf(m, row)) {
        const Place end = placeOfStitch(a, row, stitch == 1 ? 1 : stitchesOf(a, row));
        return end == kNone ? 0 : a.cell(end).column;
    }
    while (!isFeature(m.cell(p)) && m.below(p) != kNone) p = m.below(p);
    const int at = m.cell(p).row;
    const int found = in.matches[static_cast<std::size_t>(at)].actualOf(static_cast<int>(m.cell(p).stitch));
    Place q = found > 0 ? placeOfStitch(a, at, found) : kNone;
    while (q != kNone && a.cell(q).row < row) q = a.above(q);
    return q == kNone || a.cell(q).row != row ? 0 : a.cell(q).column;
}

constexpr int kMostOff = 2;

Sighting countSpan(const Look& look, const Inner& in) {
    const Box box = boxOf(look);
    if (!in.compared()) {
        const ReadRow* read = in.row(in.is->right(), look.rowFrom);
        if (read == nullptr) return said(What::unclear);
        const int there = countBetween(in.is->right(), look.rowFrom, box.columnFrom, box.columnTo);
        return number(there - (box.columnTo - box.columnFrom + 1), kMostOff);
    }
    const int from = columnMeant(in, look.rowFrom, box.columnFrom);
    const int to = columnMeant(in, look.rowFrom, box.columnTo);
    if (from == 0 || to == 0 || to < from) return said(What::unclear);
    const int there = countBetween(in.is->right(), look.rowFrom, from, to);
    return number(there - (box.columnTo - box.columnFrom + 1), kMostOff);
}

constexpr int kMostMisfit = 6;

Sighting rowFits(const Look& look, const Inner& in) {
    const int below = look.rowFrom - 1;
    const ReadRow* read = in.row(in.is->right(), below);
    if (read == nullptr || !in.compared() || below >= static_cast<int>(in.stitchesMeant.size()) ||
        in.stitchesMeant.empty())
        return said(What::unclear);
    const int off = read->stitches + read->cameOut - in.stitchesMeant[static_cast<std::size_t>(below)];
    return number(off, kMostMisfit);
}

Sighting bothEnds(const Inner& in) {
    // Rows that came to each edge: a turn in mid-row leaves one side two rows longer.
    const EdgeRows edges = rowsAtEdges(in.is->right());
    return number(edges.right - edges.left, kMostMisfit);
}

// ---- places
// --------------------------------------------------------------------------------------------------

constexpr int kCloseRows = 1;
constexpr int kCloseStitches = 2;

Sighting signAt(OddSign sign) {
    Sighting s = said(sign == OddSign::none ? What::nothing : What::sign);
    s.oddity = sign;
    s.ease = easeOf(sign);
    return s;
}

/// The stitch itself, from the side she is to see.
Sighting seenAt(const Look& look, const Inner& in) {
    const Reading& reading = look.side == Side::right ? in.is->right() : in.is->sides.wrong;
    const ReadRow* row = in.row(reading, look.rowFrom);
    if (row == nullptr) return said(What::unclear);
    for (const Cell& cell : row->cells) {
        if (cell.column != look.columnFrom) continue;
        const OddSign sign = signOf(cell.symbol);
        return sign == OddSign::other ? said(What::unnamed) : signAt(sign);
    }
    return said(What::unclear);
}

Sighting closeLook(const Look& look, const Inner& in) {
    const Box box{look.rowFrom - kCloseRows, look.rowFrom + kCloseRows, look.columnFrom - kCloseStitches,
                  look.columnFrom + kCloseStitches};
    std::optional<OddPlace> best;
    int nearest = 0;
    oddIn(in, box, [&](const OddPlace& p) {  // she looks from both sides
        const int off = std::abs(p.row - look.rowFrom) + std::abs(p.column - look.columnFrom);
        if (!best || off < nearest) {
            best = p;
            nearest = off;
        }
    });
    if (best) {
        const OddSign sign = look.side == Side::right || !best->onWrong ? best->sign : turnedOver(best->sign);
        return sign == OddSign::other ? said(What::unnamed) : signAt(sign);
    }
    return in.compared() ? signAt(OddSign::none) : seenAt(look, in);
}

Sighting tug(const Look& look, const Inner& in) {
    constexpr int kRows = 3;
    constexpr int kStitches = 4;
    const Box box{look.rowFrom - kRows, look.rowFrom + kRows, look.columnFrom - kStitches,
                  look.columnFrom + kStitches};
    for (const OddPlace& p : in.free) {
        if (box.has(p)) return signAt(OddSign::freeLoop);
    }
    const Columns& c = in.is->columns;
    for (int row = std::max(box.rowFrom, 0); row <= std::min(box.rowTo, c.rows() - 1); ++row) {
        for (Place p = c.first(row); p < c.last(row); ++p) {
            const int column = c.cell(p).column;
            if (in.slack[static_cast<std::size_t>(p)] && column >= box.columnFrom && column <= box.columnTo)
                return signAt(OddSign::longBar);
        }
    }
    return said(What::nothing);
}

// ---- patches
// -------------------------------------------------------------------------------------------------

Sighting searchPatch(const Look& look, const Inner& in) {
    const auto odd = plainest(in, boxOf(look), look.side, [](OddSign) { return true; });
    return odd ? placed(*odd, look.side) : said(What::nothing);
}

Sighting stretchPatch(const Look& look, const Inner& in) {
    const Box box = boxOf(look);
    for (const OddPlace& p : in.free) {
        if (box.has(p)) {
            Sighting s = where(p.row, p.column);
            s.oddity = OddSign::freeLoop;
            return s;
        }
    }
    return said(What::nothing);
}

Sighting slantLight(const Look& look, const Inner& in) {
    const auto odd =
        plainest(in, boxOf(look), look.side, [](OddSign sign) { return slanted(sign) != OddSign::none; });
    if (!odd) return said(What::nothing);
    Sighting s = placed(*odd, look.side);
    s.oddity = slanted(odd->sign);
    return s;
}

// ---- lines and repeats
// ---------------------------------------------------------------------------------------

/// The line of that kind that is found about there, in those rows.
const Landmark* lineAt(const std::vector<Landmark>& lines, const Look& look, int bottom, int top) {
    const Landmark* best = nullptr;
    int nearest = 4;  // it is found again beside where it was
    for (const Landmark& line : lines) {
        if (line.kind != look.landmark || line.rowFrom > top || line.rowTo < bottom) continue;
        const int off = std::abs(line.column - look.columnFrom);
        if (off < nearest) {
            nearest = off;
            best = &line;
        }
    }
    return best;
}

/// How a place stands on one below it: so far aside of what was made of that one, which was taken in as this
/// one of several (from the right), row by row.
struct Standing {
    int aside = 0;
    std::vector<int> taken;
    friend bool operator==(const Standing& a, const Standing& b) {
        return a.aside == b.aside && a.taken == b.taken;
    }
};
Standing standingOn(const Columns& c, Place lower, Place upper) {
    Standing s;
    for (Place by = c.takenBy(lower); c.cell(lower).row < c.cell(upper).row && by != kNone;
         lower = by, by = c.takenBy(lower)) {
        int before = 0;
        for (Place p = c.right(lower); p != kNone && c.takenBy(p) == by; p = c.right(p)) ++before;
        s.taken.push_back(before);
    }
    s.aside = c.cell(upper).column - c.cell(lower).column;
    return s;
}

/// The topmost row in which a line is not there, or stands otherwise on what lies below, than was meant; 0:
/// none. (Lines may go aside by one: of the cloth alone such a step is no break.)
int partsFrom(const Landmark& meant, const Inner& in, int bottom, int top) {
    const Columns& m = in.was->columns;
    int first = 0;
    Place lowerMeant = kNone;
    Place lower = kNone;
    for (const LinePlace& at : meant.places) {
        if (at.row < bottom || at.row > top || at.row >= static_cast<int>(in.matches.size())) continue;
        const Place p = placeOfStitch(m, at.row, at.stitch);
        const int found = in.matches[static_cast<std::size_t>(at.row)].actualOf(at.stitch);
        const Place q = found > 0 ? placeOfStitch(in.is->columns, at.row, found) : kNone;
        if (p == kNone) continue;
        if (q == kNone || signAgainst(m.cell(p).symbol, in.is->columns.cell(q).symbol) != OddSign::none) {
            first = at.row;
            continue;
        }
        if (lower != kNone && !(standingOn(m, lowerMeant, p) == standingOn(in.is->columns, lower, q)))
            first = at.row;
        lowerMeant = p;
        lower = q;
    }
    return first;
}

Sighting follow(const Look& look, const Inner& in) {
    const int top = std::max(look.rowFrom, look.rowTo);
    const int bottom = std::min(look.rowFrom, look.rowTo);
    const Landmark* const best = lineAt(in.is->lines, look, bottom, top);
    if (best == nullptr) return said(What::unclear);
    const auto meantToBreak = [&](int row) {
        return std::any_of(in.was->lines.begin(), in.was->lines.end(), [&](const Landmark& line) {
            return line.kind == best->kind && line.column == best->column &&
                   std::find(line.breaksAt.begin(), line.breaksAt.end(), row) != line.breaksAt.end();
        });
    };
    int first = 0;
    for (const int row : best->breaksAt) {
        if (row >= bottom && row <= top && row > first && !(in.compared() && meantToBreak(row))) first = row;
    }
    const Landmark* const meant = in.compared() ? lineAt(in.was->lines, look, bottom, top) : nullptr;
    if (meant != nullptr) first = std::max(first, partsFrom(*meant, in, bottom, top));
    return first > 0 ? where(first, 0) : said(What::nothing);
}

Sighting compareRepeat(const Look& look, const Inner& in) {
    const ReadRow* was = in.compared() ? in.row(in.was->right(), look.rowFrom) : nullptr;
    const ReadRow* is = in.row(in.is->right(), look.rowFrom);
    if (was == nullptr || is == nullptr) return said(What::unclear);
    const Box box = boxOf(look);
    // Both are walked in the order worked; the meant row says where the repeat begins.
    const std::vector<const Cell*> a = Inner::worked(*was);
    const std::vector<const Cell*> b = Inner::worked(*is);
    for (std::size_t i = 0; i < a.size(); ++i) {
        if (a[i]->column < box.columnFrom || a[i]->column > box.columnTo) continue;
        if (i >= b.size()) return where(look.rowFrom, a[i]->column);
        if (signAgainst(a[i]->symbol, b[i]->symbol) != OddSign::none)
            return where(look.rowFrom, a[i]->column);
    }
    return said(What::nothing);
}

Sighting whichRepeat(const Look& look, const Inner& in) {
    const ReadRow* is = in.row(in.is->right(), look.rowFrom);
    if (is == nullptr || look.width < 1) return said(What::unclear);
    const Box box = boxOf(look);
    int edge = 0;
    for (const Cell* cell : Inner::worked(*is)) {
        if (cell->column >= box.columnFrom && cell->column <= box.columnTo) break;
        ++edge;
    }
    const int repeats = (box.columnTo - box.columnFrom + 1) / look.width;
    const std::optional<int> odd = oddRepeat(in.is->right(), look.rowFrom, edge, look.width, repeats);
    if (!odd) return said(What::nothing);
    Sighting s = said(What::repeat);
    s.by = *odd;
    return s;
}

}  // namespace

std::string_view name(LookWay way) {
    constexpr std::array<std::string_view, kLookWays> kNames = {
        "glance", "count",   "row-fits", "close", "follow",    "compare",  "odd-repeat",
        "search", "stretch", "slant",    "tug",   "turn-over", "both-ends"};
    return kNames[static_cast<std::size_t>(way)];
}

std::string_view name(OddSign sign) {
    constexpr std::array<std::string_view, kOddSigns> kNames = {"none",         "v",
                                                                "bump",         "hole",
                                                                "no-hole",      "leans-right",
                                                                "leans-left",   "upright",
                                                                "gathered",     "no-join",
                                                                "cross-right",  "cross-left",
                                                                "no-cross",     "crossed-feet",
                                                                "tall",         "strand-across",
                                                                "two-from-one", "on-bar",
                                                                "free-loop",    "ladder",
                                                                "split",        "other-color",
                                                                "edge",         "slides",
                                                                "long-bar",     "slack",
                                                                "tight",        "other"};
    return kNames[static_cast<std::size_t>(sign)];
}

Ease easeOf(OddSign sign) {
    switch (sign) {
        case OddSign::slides: return Ease::slides;
        case OddSign::crossedFeet:
        case OddSign::slack:
        case OddSign::tight:
        case OddSign::split: return Ease::hard;
        default: return Ease::usual;
    }
}

Sighting answer(const Look& look, const LookedAt& piece) {
    const Inner& in = piece.inner();
    switch (look.way) {
        case LookWay::armsLength: return armsLength(look, in);
        case LookWay::countSpan: return countSpan(look, in);
        case LookWay::rowFits: return rowFits(look, in);
        case LookWay::closeLook: return closeLook(look, in);
        case LookWay::follow: return follow(look, in);
        case LookWay::compareRepeat: return compareRepeat(look, in);
        case LookWay::oddRepeat: return whichRepeat(look, in);
        case LookWay::searchPatch: return searchPatch(look, in);
        case LookWay::stretchPatch: return stretchPatch(look, in);
        case LookWay::slantLight: return slantLight(look, in);
        case LookWay::tug: return tug(look, in);
        case LookWay::turnOver: return seenAt(look, in);
        case LookWay::bothEnds: return bothEnds(in);
    }
    return {};
}

}  // namespace loopmend
