// SPDX-License-Identifier: MIT
// Which window tells what a mistake does about itself.
#include <algorithm>
#include <map>
#include <utility>

#include "diagnosis/tables.h"

namespace loopmend {

namespace {

constexpr int kAmongBelow = 3;   // rows below and ...
constexpr int kAmongAbove = 14;  // ... above that a window may hold

}  // namespace

/// Runs deeper than windows go are looked up near the needle, in their own column.
int CaseTables::anchorRow(const CaseHypothesis& h) const {
    const Fault* const f = fault(h.kind);
    if (f == nullptr || !f->suffered() || !f->runs) return h.row;
    return std::max<int>(h.row, rows() - CaseEffects::kDeepest);
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
