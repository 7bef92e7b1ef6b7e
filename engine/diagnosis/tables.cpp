// SPDX-License-Identifier: MIT
#include "diagnosis/tables.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <limits>

#include "fault/steps.h"
#include "reading/answer_piece.h"

namespace loopmend {

namespace {

using What = Sighting::What;
constexpr int kHighest = 1'000'000;
constexpr int kAtEdge = 6;
constexpr int kFew = 8;  // stitches more or less, where it hardly matters

Sighting signOfPlace(OddSign sign) {
    if (sign == OddSign::other) return said(What::unnamed);
    Sighting s = said(What::sign);
    s.oddity = sign;
    s.ease = easeOf(sign);
    return s;
}

/// Signs by which the eye knows that a line breaks.
bool breaksLine(LandmarkKind kind, OddSign sign) {
    if (sign == OddSign::slides) return true;
    switch (kind) {
        case LandmarkKind::eyelets:
        case LandmarkKind::eyeletRow: return sign == OddSign::noHole;
        case LandmarkKind::rightLeaning:
        case LandmarkKind::leftLeaning: return sign == OddSign::noJoin;
        case LandmarkKind::cable: return sign == OddSign::noCross;
        case LandmarkKind::ridge: return sign == OddSign::v;
        default: return false;
    }
}

}  // namespace

FaultPlace CaseTables::placeOf(const CaseHypothesis& h) const {
    FaultPlace place;
    place.id = std::string(id(h.kind));
    place.row = h.row;
    place.stitch = h.stitch;
    return place;
}

// ---- what a mistake does about itself ------------------------------------------------------------------

/// Whether anything of it could lie in a box, as far as its like shows.
bool CaseTables::reaches(std::size_t number, const Box& box) const {
    const CaseHypothesis& h = at(number);
    if (h.row > box.rowTo + 2) return false;
    if (h.kind == kinds() + kRow) return h.row >= box.rowFrom;
    if (!isListed(h) && h.kind != kinds() + kColumn)
        return h.row >= box.rowFrom && h.column >= box.columnFrom && h.column <= box.columnTo;
    if (likeOf_[number] < 0) return true;
    constexpr int kRows = 2;
    constexpr int kColumns = 4;
    const Box about{box.rowFrom - kRows, box.rowTo + kRows, box.columnFrom - kColumns,
                    box.columnTo + kColumns};
    const CaseEffect& e = likeInRow(number);
    // Far below, and it shows no further up.
    if (!e.goesOn && anchorRow(h) + std::max<int>(e.rows, CaseEffects::kEndRows) + kRows < about.rowFrom)
        return false;
    // What is told by its like anyhow is looked up there at once.
    if (isLight(number)) return true;
    bool some = false;
    const auto see = [&](const Odd&) { some = true; };
    const auto skip = [&](const EffectOdd&, int) { return some; };
    const auto done = [&] { return some; };
    for (const auto* list : {&e.odds, &e.free, &e.slack}) {
        if (!some) oddIn(h, e, *list, about, see, skip, done);
    }
    if (some) return true;
    if (const CaseEffect* end = endOf(number)) endIn(h, *end, about, see);
    return some;
}

bool CaseTables::can(std::size_t h) const {
    const bool untold =
        isListed(at(h)) && likeOf_[h] >= 0 && (effectOf_[h] < 0 || (isLight(h) && standsByCount(at(h))));
    return untold || ownEffect(h).can;
}

int CaseTables::columnAt(const CaseHypothesis& h, int row) const {
    return cloth_.follow(h.row, h.column, std::clamp(row, 0, rows()));
}

bool CaseTables::standsByCount(const CaseHypothesis& h) const {
    return static_cast<After>(h.after) != After::byReading && !(fault(h.kind) && fault(h.kind)->misread());
}

template <class See, class Skip, class Done>
void CaseTables::oddIn(const CaseHypothesis& h, const CaseEffect& e, const std::vector<EffectOdd>& list,
                       const Box& box, See see, Skip skip, Done done) const {
    if (list.empty()) return;
    if (h.kind == kinds() + kColumn) {
        // Of a tall box the lowest place is the one that is told.
        const int from = std::max<int>(h.row, box.rowFrom);
        const int drift = cloth_.driftBetween(h.row, std::clamp<int>(box.rowTo, h.row, rows()));
        if (h.column + drift < box.columnFrom || h.column - drift > box.columnTo) return;
        const bool tall = box.rowTo - box.rowFrom > 3;
        int column = from <= rows() ? columnAt(h, from) : 0;
        for (int row = from; row <= std::min(rows(), box.rowTo); ++row) {
            if (row > from) column = cloth_.follow(row - 1, column, row);
            if (column < box.columnFrom || column > box.columnTo) continue;
            see(Odd{row, column, list.front().sign, true, true});
            if (tall) return;
        }
        return;
    }
    if (h.kind == kinds() + kRow) {
        // Any of its places; that in the middle of a small box is told.
        if (h.row < box.rowFrom || h.row > box.rowTo) return;
        const int from = std::max(1, box.columnFrom);
        const int to = std::min(cloth_.width(h.row), box.columnTo);
        if (from <= to)
            see(Odd{h.row, to - from < 6 ? (from + to) / 2 : from, list.front().sign, true, true});
        return;
    }
    if (e.along == 0) {
        // All of it lies aside.
        const int drift = driftAbout(h, h.row - 3, box.rowTo + 1);
        if (h.column + e.reach + drift < box.columnFrom || h.column - e.reach - drift > box.columnTo) return;
    }
    const int base = anchorRow(h);
    const int deeper = base - h.row;  // of a run: rows that the window did not hold
    // What goes along its row goes on as the words of the row come again, up to its end.
    int words = 0;
    if (e.along > 0 && !e.aside) {
        words = cloth_.repeat(h.row);
        if (words <= 0 || words > e.along) words = 1;
    }
    const bool drifts = driftsFar(h);
    // Its column in the row last asked for: rows above follow from there.
    int knownRow = -1;
    int known = 0;
    const auto columnIn = [&](int row) {
        row = std::clamp(row, 0, rows());
        if (row == knownRow) return known;
        known = knownRow >= h.row && row > knownRow ? cloth_.follow(knownRow, known, row) : columnAt(h, row);
        knownRow = row;
        return known;
    };
    const auto show = [&](const EffectOdd& odd, int row) {
        if (row < box.rowFrom || row > box.rowTo || skip(odd, row)) return;
        if (e.along == 0) {
            const int drift = cloth_.driftBetween(h.row, std::clamp(row + odd.above, 0, rows()));
            const int about = h.column + odd.column;
            if (about + drift < box.columnFrom || about - drift > box.columnTo) return;
        }
        const int column = columnIn(row + odd.above) + odd.column;
        if (drifts && (column < 1 || column > cloth_.width(std::min(row, rows())))) return;
        const bool left = e.aside ? odd.column > 0 : e.along > 0 && cloth_.runsLeft(h.row);
        int again = words;
        if (e.aside) {
            again = cloth_.repeat(std::min(row, rows()));
            if (std::abs(odd.column) <= again || again > e.along) again = 0;
        }
        const int off = again == 0 ? 0 : left ? odd.column : -odd.column;
        const int width = cloth_.width(std::min(row, rows()));
        if (again > 0 && off > e.along && off < width) {
            const int edge = left ? width - column : column - 1;
            if (edge > 2) return;  // of the edge of the window
        }
        if (column >= box.columnFrom && column <= box.columnTo)
            see(Odd{row, column, odd.sign, odd.onRight, odd.onWrong});
        if (again == 0 || off <= e.along - again || off > e.along) return;
        const int step = left ? again : -again;
        const int low = std::max(1, box.columnFrom);
        const int high = std::min(width, box.columnTo);
        // The copies that lie in the box; of many the outermost do.
        int first = 1;
        int last = (left ? width - column : column - 1) / again;
        if (left) {
            if (low > column) first = std::max(first, (low - column + again - 1) / again);
            last = std::min(last, high < column ? 0 : (high - column) / again);
        } else {
            if (high < column) first = std::max(first, (column - high + again - 1) / again);
            last = std::min(last, low > column ? 0 : (column - low) / again);
        }
        const bool many = last - first > 16;
        for (int k = first; k <= last; k += many ? std::max(1, last - first) : 1)
            see(Odd{row, column + k * step, odd.sign, odd.onRight, odd.onWrong});
    };
    // Those of so many rows of the window.
    const auto inRows = [&](int low, int high, const auto& each) {
        auto odd = list.begin();
        if (e.inRows)
            odd = std::lower_bound(odd, list.end(), low,
                                   [](const EffectOdd& o, int row) { return o.row < row; });
        for (; odd != list.end() && !(e.inRows && odd->row > high); ++odd) {
            if (odd->row >= low && odd->row <= high) each(*odd);
        }
    };
    if (deeper > 0) {
        for (const EffectOdd& odd : list) show(odd, odd.row + (odd.row < kLowOfRun ? h.row : base));
    } else {
        inRows(box.rowFrom - base, box.rowTo - base,
               [&](const EffectOdd& odd) { show(odd, base + odd.row); });
    }
    // Rows of a deep run between those that the window held.
    if (deeper > 0) {
        const int from = std::max(h.row + kLowOfRun, box.rowFrom);
        for (int row = from; row <= std::min(base + 2, box.rowTo) && !done(); ++row) {
            const int like = 3 + ((row - base - 3) % 2 + 2) % 2;
            inRows(like, like, [&](const EffectOdd& odd) { show(odd, row); });
        }
    }
    // Above the window it goes on as the rows come again; if they do not so soon, as in its last two rows.
    const int top = base + e.rows;
    if (!e.goesOn || top >= rows() || box.rowTo <= top || e.rows < 3 || done()) return;
    const int period = cloth_.period() > 0 && cloth_.period() + 1 <= e.rows ? cloth_.period() : 2;
    // The plainest of all lies below these: they are the same signs again.
    if (box.columnFrom <= -kHighest && box.rowFrom <= top - period) return;
    int until = rows();
    if (!e.off.empty() && e.off.back() < 0 && !(isListed(h) && fault(h.kind)->wholeRow)) {
        const int taken = cloth_.takenIn(top, columnAt(h, top));
        if (taken > 0) until = std::min(until, taken);
    }
    for (int row = std::max(top + 1, box.rowFrom); row <= std::min(until, box.rowTo) && !done(); ++row) {
        const int like = row - base - (row - base - e.rows + period - 1) / period * period;
        inRows(like, like, [&](const EffectOdd& odd) { show(odd, row); });
    }
}

int CaseTables::periodAbove(const CaseEffect& e) const {
    return cloth_.period() > 0 && cloth_.period() + CaseEffects::kMore <= e.rows ? cloth_.period() : 2;
}

template <class See>
void CaseTables::aboveIn(const CaseHypothesis& h, const CaseEffect& e, const Box& box, See see) const {
    const int top = h.row + e.rows;
    const int period = periodAbove(e);
    for (int row = std::max<int>(h.row, box.rowFrom); row <= std::min(rows(), box.rowTo); ++row) {
        int like = row - h.row;
        if (row > top) {
            if (!e.goesOn) return;
            like -= (row - top + period - 1) / period * period;
        }
        const auto begin = e.odds.begin() + e.oddFrom[static_cast<std::size_t>(like)];
        const auto end = e.odds.begin() + e.oddFrom[static_cast<std::size_t>(like) + 1];
        const auto first = std::lower_bound(begin, end, box.columnFrom,
                                            [](const EffectOdd& o, int column) { return o.column < column; });
        for (auto o = first; o != end && o->column <= box.columnTo; ++o)
            see(Odd{row, o->column, o->sign, o->onRight, o->onWrong});
    }
}

template <class See>
void CaseTables::endIn(const CaseHypothesis& h, const CaseEffect& e, const Box& box, See see) const {
    const bool left = cloth_.runsLeft(h.row);
    for (const EffectOdd& odd : e.odds) {
        const int row = h.row + odd.row;
        if (row < box.rowFrom || row > box.rowTo) continue;
        const int column = std::max(1, (left ? cloth_.width(std::min(row, rows())) : 1) + odd.column);
        if (column < box.columnFrom || column > box.columnTo) continue;
        see(Odd{row, column, odd.sign, odd.onRight, odd.onWrong});
    }
}

template <class Counts>
bool CaseTables::plainest(const CaseHypothesis& h, const CaseEffect& e, const CaseEffect* end, const Box& box,
                          Side side, Counts counts, Odd& best) const {
    // What lies about the mistake alone is always the same of it.
    const bool whole = box.columnFrom <= -kHighest && e.along == 0 && end == nullptr && isListed(h) &&
                       !driftsFar(h) && h.row + e.topmost <= box.rowTo && !e.goesOn &&
                       anchorRow(h) == h.row && aboveOf(h) == nullptr;
    if (whole && counts(OddSign::other)) {
        const std::int32_t i = e.plainest[side == Side::right ? 0 : 1];
        if (i < 0) return false;
        const EffectOdd& o = e.odds[static_cast<std::size_t>(i)];
        const int row = h.row + o.row;
        if (row < box.rowFrom) return false;
        best = Odd{row, columnAt(h, row + o.above) + o.column, o.sign, o.onRight, o.onWrong};
        return true;
    }
    bool found = false;
    const std::int32_t first = e.plainest[side == Side::right ? 0 : 1];
    const auto see = [&](const Odd& p) {
        if (!(side == Side::right ? p.onRight : p.onWrong) || !counts(p.sign)) return;
        if (found && (easeOf(p.sign) > easeOf(best.sign) ||
                      (easeOf(p.sign) == easeOf(best.sign) &&
                       (p.row > best.row || (p.row == best.row && p.column >= best.column)))))
            return;
        best = p;
        found = true;
    };
    const auto skip = [&](const EffectOdd& odd, int row) {
        if (!(side == Side::right ? odd.onRight : odd.onWrong) || !counts(odd.sign)) return true;
        return found && (easeOf(odd.sign) > easeOf(best.sign) ||
                         (easeOf(odd.sign) == easeOf(best.sign) && row > best.row));
    };
    if (box.columnFrom <= -kHighest && first >= 0 && isListed(h) && counts(OddSign::other)) {
        // Nothing else is as plain as what lies in the row of the plainest.
        const EffectOdd& o = e.odds[static_cast<std::size_t>(first)];
        const Ease ease = easeOf(o.sign);
        const int row = h.row + o.row;
        const bool here = anchorRow(h) == h.row;
        if (e.along == 0 && !driftsFar(h) && (here || o.row < kLowOfRun)) {
            for (const EffectOdd& odd : e.odds) {
                if (row < box.rowFrom || row > box.rowTo || odd.row != o.row || easeOf(odd.sign) != ease)
                    continue;
                see(Odd{row, columnAt(h, row + odd.above) + odd.column, odd.sign, odd.onRight, odd.onWrong});
            }
        } else if (here) {
            oddIn(h, e, e.odds, box, see, [&](const EffectOdd& odd, int at) {
                return odd.row != o.row || at != row || easeOf(odd.sign) != ease;
            });
        }
    }
    if (!found) oddIn(h, e, e.odds, box, see, skip);
    if (end != nullptr) endIn(h, *end, box, see);
    if (const CaseEffect* const above = aboveOf(h)) {
        if (box.columnFrom > -kHighest) {
            aboveIn(h, *above, box, see);
        } else if (const std::int32_t i = above->plainest[side == Side::right ? 0 : 1]; i >= 0) {
            const EffectOdd& o = above->odds[static_cast<std::size_t>(i)];
            see(Odd{h.row + o.row, o.column, o.sign, o.onRight, o.onWrong});
        }
    }
    return found;
}

// ---- looks -----------------------------------------------------------------------------------------------

CaseForecast CaseTables::forecast(const Look& look, std::size_t number_) const {
    Box box{std::min(look.rowFrom, look.rowTo), std::max(look.rowFrom, look.rowTo),
            std::min(look.columnFrom, look.columnTo), std::max(look.columnFrom, look.columnTo)};
    CaseForecast f = seenBy(look, number_, box);
    if (look.way == LookWay::armsLength || look.way == LookWay::rowFits) box.rowTo = rows();
    if (look.way == LookWay::closeLook) box.rowTo = look.rowFrom + 1;
    f.doubt = doubtOf(number_, likeIt(number_), look, box);
    return f;
}

/// What lies further from a mistake than it was tried in little is arithmetic, and arithmetic is now and then
/// wrong; of what is not in the list nobody knows what it does above.
CaseDoubt CaseTables::doubtOf(std::size_t number_, const CaseEffect& e, const Look& look,
                              const Box& box) const {
    const CaseHypothesis& h = at(number_);
    const bool counts =
        look.way == LookWay::countSpan || look.way == LookWay::rowFits || look.way == LookWay::bothEnds;
    if (box.rowTo < h.row - 1) return CaseDoubt::none;
    const int off = e.off.empty() ? 0 : e.off.front();
    if (!isListed(h)) {
        if (h.kind == kinds() + kColumn)
            return counts || look.way == LookWay::slantLight ? CaseDoubt::much : CaseDoubt::some;
        // What was done to a row as a whole may move all that stands on it.
        if (h.kind == kinds() + kRow)
            return (!counts && box.rowTo > h.row + 1) || look.way == LookWay::slantLight ? CaseDoubt::much
                                                                                         : CaseDoubt::some;
        if (counts || box.rowTo < h.row) return CaseDoubt::none;
        // Whether light from the side, or a pull, shows it, nobody knows either.
        if (look.way == LookWay::slantLight) return CaseDoubt::much;
        if (look.way == LookWay::stretchPatch || look.way == LookWay::tug) return CaseDoubt::some;
        if (box.rowTo <= h.row + 1) return CaseDoubt::none;
        return off != 0 ? CaseDoubt::much : CaseDoubt::some;
    }
    const Fault& f = *fault(h.kind);
    // Where in its row the stitches of a row read otherwise are more or less, is a guess.
    if (counts && (f.wholeRow || turnsBack_[h.kind]) && box.rowTo >= h.row) return CaseDoubt::much;
    if (f.misread()) return f.wholeRow || box.rowTo > h.row + 1 ? CaseDoubt::some : CaseDoubt::none;
    if (counts) return CaseDoubt::none;
    if (standsByCount(h)) {
        // The rest of its row stands over other stitches, and so may all above.
        const bool own =
            box.rowTo <= h.row + 1 && box.columnFrom >= h.column - 3 && box.columnTo <= h.column + 3;
        return off != 0 && !own ? CaseDoubt::some : CaseDoubt::none;
    }
    const int top = anchorRow(h) + e.rows;
    const bool open = e.goesOn || (!e.off.empty() && e.off.back() != 0);
    return !e.whole && open && box.rowTo > top ? CaseDoubt::some : CaseDoubt::none;
}

CaseForecast CaseTables::seenBy(const Look& look, std::size_t number_, const Box& box) const {
    const CaseHypothesis& h = at(number_);
    CaseForecast f;
    f.any = !isListed(h);
    f.along = h.kind == kinds() + kRow;
    const auto placed = [&](const Odd& odd, OddSign sign) {
        f.seen = said(What::place);
        f.seen.row = odd.row;
        f.seen.column = odd.column;
        f.seen.oddity = sign;
        f.seen.ease = easeOf(odd.sign);
    };
    const auto anySign = [](OddSign) { return true; };
    Odd best{};
    switch (look.way) {
        case LookWay::armsLength: {
            const CaseEffect& e = likeInRow(number_);
            if (!plainest(h, e, endOf(number_), {0, rows() + e.moreRows, -kHighest, kHighest}, look.side,
                          anySign, best))
                break;
            const int below = rows() + e.moreRows - best.row;
            const int row = std::min(best.row, rows());
            const auto thirdOf = [&](int width) {
                return std::clamp((best.column - 1) * 3 / std::max(1, width), 0, 2);
            };
            int third = thirdOf(cloth_.width(row));
            const bool turned = isListed(h) && turnsBack_[h.kind];
            if (turned || thirdOf(cloth_.width(row) - kFew) != thirdOf(cloth_.width(row) + kFew)) {
                // A row begun at the left edge ends there.
                const bool begun =
                    turned && row >= h.row && row < h.row + CaseEffects::kMore && !cloth_.runsLeft(h.row);
                bool there = true;
                const int off =
                    begun ? 0 : otherwiseIn(number_, row, false, there).value_or(offAfter(number_, row));
                third = thirdOf(cloth_.width(row) + off);
            }
            f.seen = said(What::ninth);
            f.seen.by = (below < 6 ? 0 : below < 20 ? 1 : 2) * 3 + third + 1;
            f.seen.ease = easeOf(best.sign);
            break;
        }
        case LookWay::countSpan: {
            f.any = false;
            const int row = std::clamp(look.rowFrom, 0, rows());
            bool there = true;
            if (const auto other = otherwiseIn(number_, row, false, there); other || !there) {
                f.seen = there ? number(*other, 2) : said(What::unclear);
                break;
            }
            int off = countedIn(number_, row);
            if (off != 0 && (box.columnFrom > 1 || box.columnTo < cloth_.width(row))) {
                if (standsByCount(h) && row >= h.row) {
                    const int from = foundAt(number_, row, sinkingFrom(row, box.columnFrom));
                    const int to = foundAt(number_, row, sinkingFrom(row, box.columnTo));
                    if (from == 0 || to == 0 || to < from) {
                        f.seen = said(What::unclear);
                        break;
                    }
                    off = to - from - (box.columnTo - box.columnFrom);
                } else {
                    const int where = columnAt(h, row);
                    if (where < box.columnFrom || where > box.columnTo) off = 0;
                }
            }
            f.seen = number(off, 2);
            break;
        }
        case LookWay::rowFits:
            f.any = false;
            f.seen = fits(number_, std::min(look.rowFrom - 1, rows()));
            break;
        case LookWay::bothEnds: {
            f.any = false;
            // What came out inside leaves the edges as they were.
            const bool inside = isListed(h) && fault(h.kind)->suffered() && h.column > kAtEdge &&
                                h.column + kAtEdge <= cloth_.width(h.row);
            f.seen = number(inside ? 0 : likeIt(number_).bothEnds, 6);
            break;
        }
        case LookWay::closeLook: {
            const Box about{look.rowFrom - 1, look.rowFrom + 1, look.columnFrom - 2, look.columnFrom + 2};
            if (!reaches(number_, about)) break;
            const CaseEffect& e = effect(number_, about);
            int nearest = kHighest;
            const auto see = [&](const Odd& p) {
                const int off = std::abs(p.row - look.rowFrom) + std::abs(p.column - look.columnFrom);
                if (off >= nearest) return;
                nearest = off;
                best = p;
            };
            oddIn(h, e, e.odds, about, see);
            if (const CaseEffect* end = endOf(number_)) endIn(h, *end, about, see);
            if (const CaseEffect* const above = aboveOf(h)) aboveIn(h, *above, about, see);
            if (nearest < kHighest)
                f.seen = signOfPlace(look.side == Side::right || !best.onWrong ? best.sign
                                                                               : turnedOver(best.sign));
            break;
        }
        case LookWay::turnOver: {
            if (!reaches(number_, box)) break;
            const CaseEffect& e = effect(number_, box);
            oddIn(h, e, e.odds, {box.rowFrom, box.rowFrom, box.columnFrom, box.columnFrom},
                  [&](const Odd& p) {
                      f.seen = signOfPlace(look.side == Side::right ? p.sign : turnedOver(p.sign));
                  });
            break;
        }
        case LookWay::follow: {
            const int about = look.columnFrom;
            int first = lineBreak(look, number_, box.rowFrom, box.rowTo);
            if (reaches(number_, box)) {
                const CaseEffect& e = effect(number_, box);
                oddIn(h, e, e.odds, {box.rowFrom, box.rowTo, about - 2, about + 2}, [&](const Odd& p) {
                    if (breaksLine(look.landmark, p.sign)) first = std::max(first, p.row);
                });
            }
            if (first > 0) {
                f.seen = said(What::place);
                f.seen.row = first;
            }
            break;
        }
        case LookWay::compareRepeat:
        case LookWay::oddRepeat: {
            if (!reaches(number_, box)) break;
            const CaseEffect& e = effect(number_, box);
            const bool left = cloth_.runsLeft(std::clamp(look.rowFrom, 1, rows()));
            bool found = false;
            oddIn(h, e, e.odds, {look.rowFrom, look.rowFrom, box.columnFrom, box.columnTo},
                  [&](const Odd& p) {
                      if (found && (left ? p.column >= best.column : p.column <= best.column)) return;
                      best = p;
                      found = true;
                  });
            if (!found) break;
            if (look.way == LookWay::compareRepeat) {
                placed(best, OddSign::none);
                f.seen.row = look.rowFrom;
                break;
            }
            f.seen = said(What::repeat);
            f.seen.by = 1 + (left ? best.column - box.columnFrom : box.columnTo - best.column) /
                                std::max(1, look.width);
            break;
        }
        case LookWay::searchPatch: {
            if (!reaches(number_, box)) break;
            if (plainest(h, effect(number_, box), endOf(number_), box, look.side, anySign, best))
                placed(best, look.side == Side::right ? best.sign : turnedOver(best.sign));
            break;
        }
        case LookWay::slantLight: {
            if (!reaches(number_, box)) break;
            if (plainest(
                    h, effect(number_, box), endOf(number_), box, look.side,
                    [&](OddSign s) { return f.any || slanted(s) != OddSign::none; }, best))
                placed(best, f.any ? OddSign::other : slanted(best.sign));
            break;
        }
        case LookWay::stretchPatch: {
            f.any = false;
            if (!reaches(number_, box)) break;
            const CaseEffect& e = effect(number_, box);
            bool found = false;
            oddIn(h, e, e.free, box, [&](const Odd& p) {
                if (found && (p.row > best.row || (p.row == best.row && p.column >= best.column))) return;
                best = p;
                found = true;
            });
            if (found) {
                placed(best, OddSign::freeLoop);
                f.seen.ease = Ease::usual;
            }
            break;
        }
        case LookWay::tug: {
            f.any = false;
            const Box about{look.rowFrom - 3, look.rowFrom + 3, look.columnFrom - 4, look.columnFrom + 4};
            if (!reaches(number_, about)) break;
            const CaseEffect& e = effect(number_, about);
            OddSign sign = OddSign::none;
            oddIn(h, e, e.free, about, [&](const Odd&) { sign = OddSign::freeLoop; });
            if (sign == OddSign::none)
                oddIn(h, e, e.slack, about, [&](const Odd&) { sign = OddSign::longBar; });
            if (sign != OddSign::none) f.seen = signOfPlace(sign);
            break;
        }
    }
    return f;
}

Sighting CaseTables::plainestOf(std::size_t number_, Side side) const {
    Odd best{};
    const CaseEffect& e = likeInRow(number_);
    if (!plainest(
            at(number_), e, nullptr, {0, rows() + e.moreRows, -kHighest, kHighest}, side,
            [](OddSign) { return true; }, best))
        return {};
    Sighting s = said(What::place);
    s.row = best.row;
    s.column = best.column;
    s.oddity = side == Side::right ? best.sign : turnedOver(best.sign);
    s.ease = easeOf(best.sign);
    return s;
}

CaseTables::AllPlaces& CaseTables::allPlacesFor(const Look& patch) const {
    AllPlaces& all = allPlaces_[patch.side == Side::right ? 0 : 1];
    if (!(all.look == patch)) all = {patch, {}, std::vector<std::int32_t>(strips(), -1)};
    return all;
}

int CaseTables::placesIn(const Look& patch, std::size_t number_) const {
    const bool whole = patch.columnTo >= kHighest && patch.rowFrom <= 0 && patch.rowTo >= rows();
    if (!whole || !isLight(number_) || stripOf_[number_] < 0) return countPlaces(patch, number_);
    std::int32_t& known = allPlacesFor(patch).ofStrip[static_cast<std::size_t>(stripOf_[number_])];
    if (known < 0) known = countPlaces(patch, number_);
    return known;
}

int CaseTables::countPlaces(const Look& patch, std::size_t number_) const {
    const Box box{patch.rowFrom, patch.rowTo, patch.columnFrom, patch.columnTo};
    if (!reaches(number_, box)) return 0;
    const CaseHypothesis& h = at(number_);
    const CaseEffect& e = isLight(number_) ? likeInRow(number_) : ownEffect(number_);
    int places = 0;
    if (patch.way == LookWay::stretchPatch) {
        oddIn(h, e, e.free, box, [&](const Odd&) { ++places; });
        return places;
    }
    const auto see = [&](const Odd& p) {
        const bool shows = patch.side == Side::right ? p.onRight : p.onWrong;
        if (shows && (patch.way != LookWay::slantLight || !isListed(h) || slanted(p.sign) != OddSign::none))
            ++places;
    };
    const int top = anchorRow(h) + e.rows;
    const int period = cloth_.period() > 0 && cloth_.period() + 1 <= e.rows ? cloth_.period() : 2;
    if (isLarge() && e.goesOn && box.rowFrom <= top && top + 2 * period < std::min(box.rowTo, rows())) {
        // Of a large piece as many again in each period up to the needle.
        Box part = box;
        part.rowTo = top;
        oddIn(h, e, e.odds, part, see);
        const int below = places;
        part.rowFrom = top + 1;
        part.rowTo = top + period;
        oddIn(h, e, e.odds, part, see);
        places = below + (places - below) * (std::min(box.rowTo, rows()) - top) / period;
    } else {
        oddIn(h, e, e.odds, box, see);
    }
    if (const CaseEffect* const end = endOf(number_)) endIn(h, *end, box, see);
    const CaseEffect* const above = aboveOf(h);
    if (above == nullptr) return places;
    const bool whole = box.columnTo >= kHighest && box.rowFrom <= h.row && box.rowTo >= rows();
    if (!whole || !above->goesOn) {
        aboveIn(h, *above, box, see);
        return places;
    }
    // Wherever in its row it was begun again: the same, and so in each period up to the needle.
    const auto [known, isNew] =
        allPlacesFor(patch).above.try_emplace(std::pair<const CaseEffect*, int>{above, h.row}, 0);
    if (isNew) {
        const int beside = places;
        const int until = h.row + above->rows;
        const int again = periodAbove(*above);
        const auto in = [&](int from, int to) {
            const int before = places;
            Box part = box;
            part.rowFrom = from;
            part.rowTo = std::min(to, rows());
            aboveIn(h, *above, part, see);
            return places - before;
        };
        in(h.row, until);
        const int more = std::max(0, rows() - until);
        in(until + 1, until + more % again);
        if (more >= again) {
            const int each = in(until + 1, until + again);
            places += each * (more / again - 1);
        }
        known->second = places - beside;
        return places;
    }
    return places + known->second;
}

void CaseTables::eachOdd(std::size_t number_, const std::function<void(int, int)>& see) const {
    const CaseHypothesis& h = at(number_);
    const CaseEffect& e = effect(number_);
    const Box all{0, std::min(rows(), h.row + e.rows), 1, kHighest};
    oddIn(h, e, e.odds, all, [&](const Odd& odd) { see(odd.row, odd.column); });
}

}  // namespace loopmend
