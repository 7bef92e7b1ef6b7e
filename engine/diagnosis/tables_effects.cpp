// SPDX-License-Identifier: MIT
// Which window tells what a mistake does about itself.
#include <algorithm>
#include <cstdlib>
#include <map>
#include <utility>

#include "diagnosis/tables.h"

namespace loopmend {

namespace {

constexpr int kAmongBelow = 3;   // rows below and ...
constexpr int kAmongAbove = 14;  // ... above that a window may hold
constexpr int kClose = 10;       // columns that are looked at closely

}  // namespace

/// Runs deeper than windows go are looked up near the needle, in their own column.
int CaseTables::anchorRow(const CaseHypothesis& h) const {
    const Fault* const f = fault(h.kind);
    if (f == nullptr || !f->suffered() || !f->runs) return h.row;
    return std::max<int>(h.row, rows() - CaseEffects::kDeepest);
}

/// The look lies so far from where the hands did it that of what was worked on by count only the rest of its
/// row and the rows above show there.
bool CaseTables::isAway(const CaseHypothesis& h, const Box& box) {
    constexpr int kRows = 3;
    constexpr int kColumns = 6;
    return box.rowFrom > h.row + kRows || box.rowTo < h.row - kRows || box.columnFrom > h.column + kColumns ||
           box.columnTo < h.column - kColumns;
}

const CaseEffect& CaseTables::ownEffect(std::size_t h) const {
    const CaseHypothesis& it = at(h);
    if (!isListed(it)) return unlisted_[static_cast<std::size_t>(it.kind - kinds())];
    std::int32_t& e = effectOf_[h];
    if (e < 0) {
        e = findEffect(h);
        // What cannot be done there, though it can at its like, goes its own way.
        if (!stripOf_.empty() && !effects_->at(e).can && likeOf_[h] >= 0) stripOf_[h] = -1;
    }
    return effects_->at(e);
}

std::int32_t CaseTables::findEffect(std::size_t h) const {
    const CaseHypothesis& it = at(h);
    const int row = anchorRow(it);
    const int column = cloth_.follow(it.row, it.column, row);
    // What its like does nothing to far away is tried in little.
    CaseEffects::Part part = aboveOf(it) != nullptr ? CaseEffects::Part::row : CaseEffects::Part::all;
    if (likeOf_[h] >= 0) {
        const CaseEffect& like = effects_->at(likeOf_[h]);
        if (!like.goesOn &&
            std::all_of(like.off.begin(), like.off.end(), [](std::int8_t o) { return o == 0; }) &&
            std::all_of(like.odds.begin(), like.odds.end(), [](const EffectOdd& o) { return o.row <= 1; }))
            part = CaseEffects::Part::near;
        return findEffectAt(h, row, column, part);
    }
    const CaseCloth::Size size =
        CaseEffects::sizeFor(cloth_, *fault(it.kind), static_cast<After>(it.after), row, part);
    if (size.below > kAmongBelow || size.above > kAmongAbove) return findEffectAt(h, row, column, part);
    // Among the same rows the windows are the same.
    std::int32_t& e = amongSame(it, part, row, column);
    if (e < 0) e = findEffectAt(h, row, column, part);
    return e;
}

std::int32_t& CaseTables::amongSame(const CaseHypothesis& h, CaseEffects::Part part, int row,
                                    int column) const {
    const auto [among, isNew] =
        effectsAmong_.try_emplace({h.kind, h.after, static_cast<int>(part), row == h.row ? 0 : 1,
                                   amongRows_[static_cast<std::size_t>(row)]});
    if (isNew) among->second.assign(static_cast<std::size_t>(cloth_.width(row)) + 1, -1);
    return among->second[static_cast<std::size_t>(std::clamp(column, 0, cloth_.width(row)))];
}

std::int32_t CaseTables::findEffectAt(std::size_t h, int row, int column, CaseEffects::Part part) const {
    const CaseHypothesis& it = at(h);
    int step = cloth_.stepOf(row, column);
    const int stitch = row == it.row ? it.stitch - 1 - cloth_.madeBefore(row, step) : 0;
    if (driftsFar(it)) step = likeFurtherBack(row, step);
    std::int32_t e = effects_->find(cloth_, setup_, *fault(it.kind), it.kind, static_cast<After>(it.after),
                                    row, step, stitch, part);
    // A deep run may lie in another cloth up there, and is called otherwise: it is the same run.
    for (int kind = 0; kind < kinds() && row != it.row && !effects_->at(e).can; ++kind) {
        if (!fault(kind)->suffered() || !fault(kind)->runs) continue;
        e = effects_->find(cloth_, setup_, *fault(kind), kind, static_cast<After>(it.after), row, step,
                           stitch, part);
    }
    return e;
}

const CaseEffect& CaseTables::likeIt(std::size_t h) const {
    const std::int32_t like = likeOf_[h];
    return like >= 0 ? effects_->at(like) : ownEffect(h);
}

const CaseEffect& CaseTables::likeInRow(std::size_t number) const {
    const CaseEffect& like = likeIt(number);
    if (likeOf_[number] < 0 || !standsByCount(at(number)) || like.off.empty() || like.off.front() == 0)
        return like;
    return alike(number);
}

const CaseEffect& CaseTables::alike(std::size_t number) const {
    const int period = cloth_.period() > 0 ? cloth_.period() : rows() + 1;
    const auto numberOf = [&](std::size_t h) {
        return static_cast<std::size_t>(likeOf_[h]) * static_cast<std::size_t>(period) +
               static_cast<std::size_t>(at(h).row % period);
    };
    if (alikeOf_.empty()) {
        // Rather one that has rows below it, as most have; of a wide piece, stitches to either side.
        const int from = std::min(rows() / 2, CaseEffects::kRowsBelow);
        const auto fromMiddle = [&](const CaseHypothesis& h) {
            return std::abs(2 * h.column - cloth_.width(h.row));
        };
        const auto isRather = [&](std::size_t h, std::size_t than) {
            if (at(h).row <= from) return false;
            if (at(than).row <= from) return true;
            return isLarge() && at(h).row == at(than).row && fromMiddle(at(h)) < fromMiddle(at(than));
        };
        const std::int32_t likes = 1 + *std::max_element(likeOf_.begin(), likeOf_.end());
        alikeOf_.assign(static_cast<std::size_t>(likes) * static_cast<std::size_t>(period), -1);
        for (std::size_t h = 0; h < hypotheses_.size(); ++h) {
            if (likeOf_[h] < 0) continue;
            std::int32_t& alike = alikeOf_[numberOf(h)];
            if (alike < 0 || isRather(h, static_cast<std::size_t>(alike)))
                alike = static_cast<std::int32_t>(h);
        }
    }
    const CaseEffect& e = ownEffect(static_cast<std::size_t>(alikeOf_[numberOf(number)]));
    return e.can ? e : likeIt(number);
}

const CaseEffect& CaseTables::effect(std::size_t h, const Box& box) const {
    if (!isLight(h)) return ownEffect(h);
    if (!standsByCount(at(h))) return likeIt(h);
    const bool close = box.columnTo - box.columnFrom <= kClose;
    return close && at(h).row + 1 == rows() && !isAway(at(h), box) ? ownEffect(h) : likeInRow(h);
}

int CaseTables::findEnd(const CaseHypothesis& h) const {
    const WorkedRow& words = script_.rows[static_cast<std::size_t>(h.row) - 1];
    const int steps = static_cast<int>(words.steps.size());
    const int step = cloth_.stepOf(h.row, h.column);
    const auto at = [&](int i) { return words.steps[static_cast<std::size_t>(i)]; };
    // The same steps nearest to the end, but not so near that the mistake itself lies there; of a whole row
    // any.
    const bool whole = fault(h.kind)->wholeRow;
    const int least = whole ? CaseEffects::kEnd / 2 : 5;
    int stitches = 0;
    int found = step;
    for (int i = steps - 1; i >= step; --i) {
        stitches += std::max(uses(at(i)), stitchesOf(at(i)));
        if (stitches > CaseEffects::kEnd) break;
        if (stitches < least) continue;
        if (!whole && (at(i) != at(step) || (step + 1 < steps && i + 1 < steps && at(i + 1) != at(step + 1))))
            continue;
        found = i;
        break;
    }
    int left = 0;
    for (int i = found; i < steps; ++i) left += uses(at(i));
    if (left > CaseEffects::kEnd) return -2;
    return effects_->find(cloth_, setup_, *fault(h.kind), h.kind, static_cast<After>(h.after), h.row, found,
                          0, CaseEffects::Part::end);
}

const CaseEffect* CaseTables::aboveOf(const CaseHypothesis& h) const {
    if (!isListed(h) || !turnsBack_[h.kind] || static_cast<After>(h.after) != After::byCount ||
        h.row + CaseEffects::kMore > rows())
        return nullptr;
    // Wherever she turned round: then she has worked the whole row on as many stitches.
    const int own = cloth_.stepOf(h.row, h.column);
    const int more = cloth_.moreBefore(h.row, own);
    const auto [it, isNew] = aboveOf_.try_emplace(std::array<int, 3>{h.kind, h.row, more}, -1);
    if (isNew) {
        int step = own;
        for (int i = own; i-- > 0 && cloth_.madeBefore(h.row, i) > 0;) {
            if (cloth_.moreBefore(h.row, i) == more &&
                makes(script_.rows[h.row - 1U].steps[static_cast<std::size_t>(i)]) > 0)
                step = i;
        }
        const int e = effects_->find(cloth_, setup_, *fault(h.kind), h.kind, After::byCount, h.row, step, 0,
                                     CaseEffects::Part::above);
        if (effects_->at(e).can && effects_->at(e).across) it->second = e;
    }
    return it->second >= 0 ? &effects_->at(it->second) : nullptr;
}

const CaseEffect* CaseTables::endOf(std::size_t h) const {
    const CaseHypothesis& it = at(h);
    if (!isListed(it)) return nullptr;
    const bool whole = fault(it.kind)->wholeRow;
    if (!whole && !standsByCount(it)) return nullptr;
    // Of a strip it is the same, but for those that lie there themselves; these are the same in rows among
    // the same rows.
    const int step = cloth_.stepOf(it.row, it.column);
    const bool near = stripOf_[h] < 0 || cloth_.steps(it.row) - step <= CaseEffects::kEnd + 1;
    std::int32_t& e = whole  ? endOfWhole_.try_emplace(h, -1).first->second
                      : near ? amongSame(it, CaseEffects::Part::end, it.row, it.column)
                             : endOfStrip_[static_cast<std::size_t>(stripOf_[h])];
    if (e == -1) {
        const CaseEffect& own = likeIt(h);
        const bool changes = !own.off.empty() && own.off.front() != 0;
        e = own.can && (whole ? !own.across && own.along == 0 : changes) ? findEnd(it) : -2;
    }
    return e >= 0 ? &effects_->at(e) : nullptr;
}

void CaseTables::nameRows() {
    std::map<std::vector<std::uint64_t>, std::int32_t> known;
    amongRows_.assign(static_cast<std::size_t>(rows()) + 1, 0);
    for (int row = 1; row <= rows(); ++row) {
        std::vector<std::uint64_t> words;
        for (int r = row - kAmongBelow; r <= row + kAmongAbove; ++r) {
            const bool there = r >= 1 && r <= rows();
            words.push_back(there ? cloth_.wordsOf(r) : 0);
            words.push_back(there ? (cloth_.isRegular(r) ? 3 : 2) : r < 1 ? 1 : 0);
        }
        amongRows_[static_cast<std::size_t>(row)] =
            known.try_emplace(std::move(words), static_cast<std::int32_t>(known.size())).first->second;
    }
}

bool CaseTables::driftsFar(const CaseHypothesis& h) const {
    const Fault* const f = fault(h.kind);
    return f != nullptr && f->misread() && !f->wholeRow && !turnsBack_[h.kind] &&
           cloth_.width(h.row) > CaseEffects::kWidestTried;
}

int CaseTables::likeFurtherBack(int row, int step) const {
    // The first repeat that is so far from the beginning that a window of some size lies wholly inside, if
    // it is the same there.
    const int repeat = cloth_.repeat(row);
    const int more = cloth_.takenBefore(row, step) - CaseEffects::kWidestTried / 3 - 1;
    if (repeat < 1 || more < repeat) return step;
    const int made = cloth_.madeBefore(row, step) - more / repeat * repeat;
    const int like = cloth_.stepOf(row, cloth_.columnOf(row, made + 1));
    const CaseCloth::Size size{.below = 2, .above = 8, .aside = CaseEffects::kWidestTried / 9};
    return cloth_.window(row, like, size, false).key == cloth_.window(row, step, size, false).key ? like
                                                                                                  : step;
}

std::int64_t CaseTables::label(std::size_t number_) const {
    const CaseHypothesis& h = at(number_);
    const std::uint64_t place = static_cast<std::uint64_t>(h.seenRow) * 65536U + h.column;
    const std::uint64_t kind = isListed(h) ? effect(number_).looks : 0x5EED;
    std::uint64_t z = kind ^ (place * 0x9E3779B97F4A7C15ULL);
    z = (z ^ (z >> 30U)) * 0xBF58476D1CE4E5B9ULL;
    return static_cast<std::int64_t>(z ^ (z >> 27U));
}

}  // namespace loopmend
