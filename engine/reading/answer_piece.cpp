// SPDX-License-Identifier: MIT
// Reading a piece once, so that thousands of looks at it are cheap.
#include "reading/answer_piece.h"

#include <algorithm>
#include <array>
#include <cstdlib>

#include "reading/counts.h"
#include "reading/symptoms.h"

namespace loopmend {

namespace {

using Place = Columns::Place;

bool alike(const Symbol& a, const Symbol& b) {
    Symbol x = a;
    Symbol y = b;
    // How tall a stitch is shows in the rows above, where it passes them.
    x.tall = y.tall = 0;
    x.strandsBehind = y.strandsBehind = 0;
    x.strandsInFront = y.strandsInFront = 0;
    return a.loose == b.loose && looksAlike(x, y);
}

OddSign joinSign(const Symbol& s) {
    if (s.face == Face::bump) return OddSign::gathered;
    switch (s.lean) {
        case Lean::right: return OddSign::leansRight;
        case Lean::left: return OddSign::leansLeft;
        case Lean::upright: return OddSign::upright;
        case Lean::none:
        case Lean::wound: break;
    }
    return OddSign::gathered;
}

OddSign crossSign(const Symbol& s) {
    return s.crossing == Lean::right ? OddSign::crossRight : OddSign::crossLeft;
}

OddSign slipSign(const Symbol& s) {
    return s.strand == Strand::inFront ? OddSign::acrossStrand : OddSign::tall;
}

/// What the break of a line comes to: a hole that is missing, or the pattern over other stitches.
OddSign brokenSign(LandmarkKind kind) {
    switch (kind) {
        case LandmarkKind::eyelets:
        case LandmarkKind::eyeletRow: return OddSign::noHole;
        case LandmarkKind::rightLeaning:
        case LandmarkKind::leftLeaning: return OddSign::noJoin;
        case LandmarkKind::cable: return OddSign::noCross;
        case LandmarkKind::ridge: return OddSign::v;
        default: return OddSign::slides;
    }
}

OddSign signOfSymptom(const Symptom& s, const Symbol* at) {
    switch (s.kind) {
        case SymptomKind::ladder:
        case SymptomKind::edgeLoop: return OddSign::ladder;
        case SymptomKind::freeLoop: return OddSign::freeLoop;
        case SymptomKind::loneHole:
        case SymptomKind::turned: return OddSign::hole;
        case SymptomKind::loneBump: return OddSign::bump;
        case SymptomKind::loneV: return OddSign::v;
        case SymptomKind::crossedFeet: return OddSign::crossedFeet;
        case SymptomKind::loneJoin: return at != nullptr ? joinSign(*at) : OddSign::gathered;
        case SymptomKind::extraColumn:
            return at != nullptr && at->sight == Sight::made ? OddSign::onBar : OddSign::twoFromOne;
        case SymptomKind::tallStitch: return OddSign::tall;
        case SymptomKind::wrongHand: return at != nullptr ? signOf(*at) : OddSign::other;
        case SymptomKind::lineBreaks: return OddSign::slides;
        case SymptomKind::split: return OddSign::split;
        default: break;
    }
    return OddSign::other;
}

/// A stretch in which two rows differ.
struct Gap {
    std::size_t a;
    std::size_t aTo;
    std::size_t b;
    std::size_t bTo;
};

/// Where two stretches of rows differ, found by going along both and looking a few stitches ahead for where
/// they find together again. `to` gets for each stitch of the one, from `aFrom`, the number of the other.
std::vector<Gap> gapsBetween(const std::vector<const Cell*>& a, const std::vector<const Cell*>& b,
                             std::size_t aFrom, std::size_t aTo, std::size_t bFrom, std::size_t bTo,
                             std::vector<int>& to) {
    struct Step {
        std::size_t a;
        std::size_t b;
        std::size_t alike;  // stitches that must be alike behind it
    };
    constexpr std::array<Step, 8> kSteps = {
        {{1, 1, 2}, {1, 0, 3}, {0, 1, 3}, {2, 2, 2}, {2, 1, 3}, {1, 2, 3}, {2, 0, 3}, {0, 2, 3}}};
    std::vector<Gap> gaps;
    std::size_t i = aFrom;
    std::size_t j = bFrom;
    const auto differ = [&](std::size_t da, std::size_t db) {
        if (!gaps.empty() && gaps.back().aTo == i && gaps.back().bTo == j) {
            gaps.back().aTo = i + da;
            gaps.back().bTo = j + db;
        } else {
            gaps.push_back({i, i + da, j, j + db});
        }
        i += da;
        j += db;
    };
    while (i < aTo && j < bTo) {
        if (alike(a[i]->symbol, b[j]->symbol)) {
            to[i - aFrom] = static_cast<int>(j) + 1;
            ++i;
            ++j;
            continue;
        }
        const Step* found = nullptr;
        for (const Step& step : kSteps) {
            if (i + step.a > aTo || j + step.b > bTo) continue;
            std::size_t n = 0;
            const std::size_t most = std::min({step.alike, a.size() - i - step.a, b.size() - j - step.b});
            while (n < most && alike(a[i + step.a + n]->symbol, b[j + step.b + n]->symbol)) ++n;
            if (n < most || most == 0) continue;
            found = &step;
            break;
        }
        differ(found != nullptr ? found->a : 1, found != nullptr ? found->b : 1);
    }
    if (i < aTo || j < bTo) differ(aTo - i, bTo - j);
    return gaps;
}

}  // namespace

OddSign signOf(const Symbol& s) {
    if (s.loose) return s.longRungs + s.shortRungs + s.edgeLoops > 0 ? OddSign::ladder : OddSign::freeLoop;
    if (s.split) return OddSign::split;
    if (s.crossing == Lean::right || s.crossing == Lean::left) return crossSign(s);
    switch (s.sight) {
        case Sight::together: return joinSign(s);
        case Sight::hole: return OddSign::hole;
        case Sight::made: return OddSign::onBar;
        case Sight::slipped: return slipSign(s);
        case Sight::tuck: return OddSign::tall;
        case Sight::rung: return OddSign::ladder;
        case Sight::castOn:
        case Sight::pickedUp: return OddSign::edge;
        case Sight::stitch:
        case Sight::wrapped:
        case Sight::caught:
        case Sight::turned: break;
    }
    if (s.sisters > 1) return OddSign::twoFromOne;
    if (s.twist != 0) return OddSign::crossedFeet;
    return s.face == Face::v ? OddSign::v : OddSign::bump;
}

OddSign sizeAgainst(const Symbol& x, const Symbol& y) {
    if (x.slack != y.slack) return y.slack ? OddSign::slack : OddSign::tight;
    if (x.tight != y.tight) return y.tight ? OddSign::tight : OddSign::slack;
    return OddSign::none;
}

OddSign signAgainst(const Symbol& x, const Symbol& y) {
    if (y.loose && !x.loose) return signOf(y);
    if (y.split != x.split) return OddSign::split;
    if ((x.sight == Sight::hole) != (y.sight == Sight::hole))
        return y.sight == Sight::hole ? OddSign::hole : OddSign::noHole;
    if (x.crossing != y.crossing || x.crossesOver != y.crossesOver)
        return y.crossing == Lean::none ? OddSign::noCross : crossSign(y);
    if (x.sight == Sight::slipped || y.sight == Sight::slipped)
        return x.sight == y.sight && x.strand == y.strand ? OddSign::none
               : y.sight == Sight::slipped                ? slipSign(y)
                                                          : signOf(y);
    // The loose strand under a tuck is of the same stitch as the V above it.
    const auto strandOnly = [](const Symbol& s) { return s.sight == Sight::tuck && s.bases == 0; };
    if (strandOnly(x) || strandOnly(y)) return OddSign::none;
    if (x.sight == Sight::tuck || y.sight == Sight::tuck)
        return y.sight == x.sight ? OddSign::none : y.sight == Sight::tuck ? OddSign::tall : signOf(y);
    const bool joins = y.sight == Sight::together;
    if ((x.sight == Sight::together) != joins || x.bases != y.bases)
        return joins && y.bases > x.bases ? joinSign(y) : joins ? OddSign::gathered : OddSign::noJoin;
    if (x.face != y.face) return y.face == Face::v ? OddSign::v : OddSign::bump;
    if (joins && (x.lean != y.lean || x.stack != y.stack)) return joinSign(y);
    if (x.sight != y.sight) return signOf(y);
    if (x.sisters != y.sisters) return y.sisters > 1 ? OddSign::twoFromOne : OddSign::other;
    // A made stitch worked open leaves a small hole at its foot; meant open, it lacks it.
    if (x.sight == Sight::made && (x.twist == 0) != (y.twist == 0))
        return y.twist == 0 ? OddSign::hole : OddSign::noHole;
    if (x.twist != y.twist || x.twists != y.twists) return OddSign::crossedFeet;
    if (x.colour != y.colour) return OddSign::otherColour;
    return alike(x, y) ? sizeAgainst(x, y) : OddSign::other;
}

OddSign turnedOver(OddSign sign) {
    switch (sign) {
        case OddSign::v: return OddSign::bump;
        case OddSign::bump: return OddSign::v;
        case OddSign::leansRight:
        case OddSign::leansLeft:
        case OddSign::upright: return OddSign::gathered;
        case OddSign::acrossStrand: return OddSign::tall;
        default: return sign;
    }
}

std::vector<const Cell*> LookedAt::Inner::worked(const ReadRow& row) {
    std::vector<const Cell*> cells(row.cells.size(), nullptr);
    std::size_t n = 0;
    for (const Cell& cell : row.cells) {
        if (cell.stitch < 1 || static_cast<std::size_t>(cell.stitch) > cells.size()) continue;
        const Cell*& at = cells[static_cast<std::size_t>(cell.stitch) - 1];
        n += at == nullptr ? 1 : 0;
        at = &cell;
    }
    cells.resize(n);
    return cells;
}

ReadPiece::ReadPiece(const Fabric& fabric, Knits hands)
    : sides(readBothSides(fabric, hands)),
      columns(fabric, sides.right),
      lines(landmarks(fabric, sides.right)) {}

LookedAt::Inner::Inner(const Fabric& fabric, std::shared_ptr<const ReadPiece> read,
                       std::shared_ptr<const ReadPiece> meant, const Script* script)
    : is(std::move(read)), was(std::move(meant)) {
    if (compared()) {
        countMeant(script);
        compare();
    } else {
        whatStandsOut(fabric);
    }
    sortOdd();
    findFree();
    findSlack(fabric);
}

void LookedAt::Inner::countMeant(const Script* script) {
    for (const ReadRow& row : was->right().rows) stitchesMeant.push_back(row.stitches + row.cameOut);
    if (script == nullptr) return;
    for (std::size_t r = stitchesMeant.size(); r <= script->rows.size() && r > 0; ++r) {
        int stitches = stitchesMeant.back();
        for (const Step& step : script->rows[r - 1].steps) stitches += makes(step) - uses(step);
        stitchesMeant.push_back(stitches);
    }
}

void LookedAt::Inner::add(int row, int column, OddSign sign, bool onRight, bool onWrong) {
    OddPlace place;
    place.row = row;
    place.column = column;
    place.sign = sign;
    place.onRight = onRight;
    place.onWrong = onWrong;
    odd.push_back(place);
}

void LookedAt::Inner::compare() {
    const std::size_t both = std::min(was->right().rows.size(), is->right().rows.size());
    matches.resize(both);
    for (std::size_t r = 0; r < both; ++r) compareRow(static_cast<int>(r));
    // A line that breaks where the same line was meant to go on.
    std::vector<std::pair<LandmarkKind, int>> known;
    for (const Landmark& line : was->lines) {
        for (const int row : line.breaksAt) known.emplace_back(line.kind, row);
    }
    std::sort(known.begin(), known.end());
    for (const Landmark& line : is->lines) {
        for (const LineBreak& b : line.breaks) {
            if (!std::binary_search(known.begin(), known.end(), std::pair{line.kind, b.row}))
                add(b.row, b.column, brokenSign(line.kind));
        }
    }
    compareTurns();
}

/// A turn in mid-row that was not meant: a small hole at the end of the row that stops there, and two rows
/// more on one side of it.
void LookedAt::Inner::compareTurns() {
    const auto same = [](const Landmark& x, const Landmark& y) {
        return x.kind == y.kind && x.rowFrom == y.rowFrom && x.column == y.column;
    };
    for (const Landmark& line : is->lines) {
        if (line.kind != LandmarkKind::turn) continue;
        const bool known = std::any_of(was->lines.begin(), was->lines.end(),
                                       [&](const Landmark& other) { return same(line, other); });
        if (!known) add(line.rowFrom - 1, line.column, OddSign::hole);
    }
}

void LookedAt::Inner::compareRow(int r) {
    const ReadRow& meant = was->right().rows[static_cast<std::size_t>(r)];
    const ReadRow& now = is->right().rows[static_cast<std::size_t>(r)];
    const std::vector<const Cell*> a = worked(meant);
    const std::vector<const Cell*> b = worked(now);
    RowMatch& match = matches[static_cast<std::size_t>(r)];
    match.meant = static_cast<int>(a.size());
    match.actual = static_cast<int>(b.size());
    const std::size_t n = std::min(a.size(), b.size());
    std::size_t i = 0;
    while (i < n && alike(a[i]->symbol, b[i]->symbol)) ++i;
    std::size_t end = 0;
    while (end < n - i && alike(a[a.size() - 1 - end]->symbol, b[b.size() - 1 - end]->symbol)) ++end;
    match.alike = static_cast<int>(i);
    match.alikeAtEnd = static_cast<int>(end);
    // The same stitches, some of them larger or smaller.
    for (std::size_t k = 0; k < i; ++k) compareSizes(*a[k], *b[k], r);
    for (std::size_t k = end; k > 0; --k) compareSizes(*a[a.size() - k], *b[b.size() - k], r);
    const std::size_t lacking = a.size() - i - end;
    const std::size_t instead = b.size() - i - end;
    if (lacking == 0 && instead == 0) return;
    const auto columnAt = [&](std::size_t k) {
        return k < b.size() ? static_cast<int>(b[k]->column)
               : b.empty()  ? 1
                            : static_cast<int>(b.back()->column);
    };
    match.between.assign(lacking, 0);
    if (now.cameOut != meant.cameOut) {
        // The stitch is gone; its strand crosses the gap. Among stitches that are all alike only the strand
        // itself says where.
        int column = columnAt(i);
        int beside = 0;
        for (const Cell& cell : now.cells) {
            if (cell.column > 0) beside = cell.column;
            if (cell.symbol.sight != Sight::rung) continue;
            column = beside + 1;
            break;
        }
        add(r, column, OddSign::ladder);
        return;
    }
    const std::size_t aEnd = a.size() - end;
    const std::size_t bEnd = b.size() - end;
    const std::vector<Gap> gaps = gapsBetween(a, b, i, aEnd, i, bEnd, match.between);
    // Many differences in a row of another length: the pattern stands over other stitches.
    constexpr std::size_t kSlide = 4;
    if (lacking != instead && gaps.size() > kSlide) {
        add(r, columnAt(i), OddSign::slides);
        return;
    }
    for (const Gap& gap : gaps) {
        const std::size_t pairs = std::min(gap.aTo - gap.a, gap.bTo - gap.b);
        for (std::size_t k = 0; k < pairs; ++k) comparePair(a[gap.a + k], *b[gap.b + k], r);
        // What lacks at the end of the row is a count, nothing to see.
        const bool last = gap.aTo == a.size() || gap.bTo == b.size();
        for (std::size_t k = gap.a + pairs; k < gap.aTo; ++k) {
            if (!last || a[k]->symbol.sight == Sight::hole) compareLost(*a[k], r, columnAt(gap.bTo));
        }
        for (std::size_t k = gap.b + pairs; k < gap.bTo; ++k) {
            if (!last || b[k]->symbol.sight == Sight::hole) comparePair(nullptr, *b[k], r);
        }
    }
}

void LookedAt::Inner::compareLost(const Cell& a, int row, int column) {
    add(row, column, a.symbol.sight == Sight::hole ? OddSign::noHole : OddSign::noJoin);
}

void LookedAt::Inner::compareSizes(const Cell& a, const Cell& b, int row) {
    const OddSign sign = sizeAgainst(a.symbol, b.symbol);
    if (sign != OddSign::none) add(row, b.column, sign);
}

void LookedAt::Inner::comparePair(const Cell* a, const Cell& b, int row) {
    const OddSign sign = a != nullptr ? signAgainst(a->symbol, b.symbol) : signOf(b.symbol);
    if (sign == OddSign::none) return;
    const bool v = b.symbol.face == Face::v;
    switch (sign) {
        case OddSign::crossedFeet:
            // Seen one row below the row in which it was worked, and only where no head lies over the feet.
            // (A made stitch has only a bar below it: it shows at its own foot.)
            add(b.symbol.sight == Sight::made ? row : std::max(row - 1, 0), b.column, sign, v, !v);
            return;
        case OddSign::leansRight:
        case OddSign::leansLeft:
        case OddSign::upright:
        case OddSign::gathered:
            // Which one lies on top is hidden on the bumpy side; that stitches meet shows on both.
            if (a != nullptr && a->symbol.sight == Sight::together && a->symbol.bases == b.symbol.bases) {
                add(row, b.column, sign == OddSign::gathered ? OddSign::other : sign, v, !v);
                return;
            }
            break;
        case OddSign::acrossStrand: break;
        default: break;
    }
    add(row, b.column, sign);
}

void LookedAt::Inner::whatStandsOut(const Fabric& fabric) {
    for (const Symptom& s : symptoms(fabric, is->right())) {
        const Cell* cell = s.stitch > 0 ? cellAt(is->right(), s.row, s.stitch) : nullptr;
        const OddSign sign = signOfSymptom(s, cell != nullptr ? &cell->symbol : nullptr);
        const int row = sign == OddSign::crossedFeet ? std::max(s.row - 1, 0) : s.row;
        add(row, s.column, sign, true, s.seenFrom != SeenFrom::right);
    }
    for (const Symptom& s : symptoms(fabric, is->sides.wrong)) {
        const Cell* cell = s.stitch > 0 ? cellAt(is->right(), s.row, s.stitch) : nullptr;
        const OddSign sign = turnedOver(signOfSymptom(s, cell != nullptr ? &cell->symbol : nullptr));
        const int row = sign == OddSign::crossedFeet ? std::max(s.row - 1, 0) : s.row;
        const bool known = std::any_of(odd.begin(), odd.end(), [&](OddPlace& p) {
            if (p.row != row || p.column != s.column || !p.onRight) return false;
            p.onWrong = true;
            return true;
        });
        if (!known) add(row, s.column, sign, false, true);
    }
}

void LookedAt::Inner::sortOdd() {
    std::stable_sort(odd.begin(), odd.end(), [](const OddPlace& a, const OddPlace& b) {
        return a.row != b.row ? a.row < b.row : a.column < b.column;
    });
    oddFrom.assign(is->right().rows.size() + 1, odd.size());
    for (std::size_t i = odd.size(); i-- > 0;) {
        const auto r = static_cast<std::size_t>(std::max(odd[i].row, 0));
        if (r < oddFrom.size()) oddFrom[r] = i;
    }
    for (std::size_t r = oddFrom.size() - 1; r-- > 0;) oddFrom[r] = std::min(oddFrom[r], oddFrom[r + 1]);
}

void LookedAt::Inner::findFree() {
    for (const ReadRow& row : is->right().rows) {
        for (const Cell& cell : row.cells) {
            if (!cell.symbol.loose || cell.symbol.sight == Sight::slipped) continue;
            OddPlace place;
            place.row = cell.row;
            place.column = cell.column;
            place.sign = signOf(cell.symbol);
            free.push_back(place);
        }
    }
}

void LookedAt::Inner::findSlack(const Fabric& f) {
    slack.assign(static_cast<std::size_t>(is->columns.count()), false);
    for (Place p = 0; p < is->columns.count(); ++p) {
        const Cell& cell = is->columns.cell(p);
        if (cell.symbol.sight == Sight::slipped || cell.symbol.sight == Sight::rung) continue;
        EntryId next = f[cell.loop].next;
        std::int64_t bar = f[cell.loop].strandUm;
        // What fell and holds nothing is no stitch: its yarn is the bar's.
        for (; next && f.isLoop(next) && f.isNothing(next); next = f[next].next)
            bar += std::int64_t{f[next].um} + f[next].strandUm;
        if (!next || !f.isLoop(next) || f.run(next) != f.run(cell.loop)) continue;  // a turn, a float, a rung
        // A yarn-over that fell leaves two bars and its own yarn there: more than three bars. Two stitches
        // slipped to be passed over leave three.
        slack[static_cast<std::size_t>(p)] = bar * 5 > std::int64_t{f[f[cell.loop].yarn].strandUm} * 16;
    }
}

LookedAt::LookedAt(const Fabric& actual, Knits hands)
    : inner_(std::make_unique<const Inner>(actual, std::make_shared<ReadPiece>(actual, hands), nullptr,
                                           nullptr)) {}
LookedAt::LookedAt(const Fabric& actual, const Fabric& meant, const Script* script, Knits hands) {
    auto is = std::make_shared<const ReadPiece>(actual, hands);
    // Of what is as it was meant there is but one to be read.
    auto was = &actual == &meant ? is : std::make_shared<const ReadPiece>(meant, hands);
    inner_ = std::make_unique<const Inner>(actual, std::move(is), std::move(was), script);
}
LookedAt::LookedAt(const Fabric& actual, const LookedAt& meant, const Script* script, Knits hands)
    : inner_(std::make_unique<const Inner>(actual, std::make_shared<ReadPiece>(actual, hands),
                                           meant.inner_->is, script)) {}
LookedAt::LookedAt(LookedAt&& other) noexcept = default;
LookedAt& LookedAt::operator=(LookedAt&& other) noexcept = default;
LookedAt::~LookedAt() = default;

const Reading& LookedAt::reading() const {
    return inner_->is->right();
}
const std::vector<Landmark>& LookedAt::lines() const {
    return inner_->is->lines;
}
int LookedAt::rows() const {
    return inner_->rows();
}
int LookedAt::width(int row) const {
    const ReadRow* read = inner_->compared() ? inner_->row(inner_->was->right(), row) : nullptr;
    if (read == nullptr) read = inner_->row(inner_->is->right(), row);
    if (read == nullptr) return 0;
    int widest = 0;
    for (const Cell& cell : read->cells) widest = std::max(widest, static_cast<int>(cell.column));
    return widest;
}

OddSign slanted(OddSign sign) {
    switch (sign) {
        case OddSign::v:
        case OddSign::bump:
        case OddSign::gathered: return OddSign::bump;
        case OddSign::crossedFeet: return OddSign::crossedFeet;
        case OddSign::tall:
        case OddSign::acrossStrand: return OddSign::tall;
        default: return OddSign::none;
    }
}

Sighting said(Sighting::What what) {
    Sighting s;
    s.what = what;
    return s;
}

Sighting number(int by, int most) {
    using What = Sighting::What;
    Sighting s = said(std::abs(by) > most ? What::beyond : What::number);
    if (s.what == What::number) s.by = by;
    return s;
}

}  // namespace loopmend
