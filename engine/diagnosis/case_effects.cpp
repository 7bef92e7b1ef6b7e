// SPDX-License-Identifier: MIT
#include "diagnosis/case_effects.h"

#include <algorithm>
#include <cstdlib>

#include "fault/knit_with.h"
#include "fault/side_by_side.h"
#include "reading/answer_piece.h"

namespace loopmend {

namespace {

std::uint64_t mixed(std::uint64_t z) {
    z += 0x9E3779B97F4A7C15ULL;
    z = (z ^ (z >> 30U)) * 0xBF58476D1CE4E5B9ULL;
    z = (z ^ (z >> 27U)) * 0x94D049BB133111EBULL;
    return z ^ (z >> 31U);
}

std::uint64_t keyOf(const Setup& setup) {
    return static_cast<std::uint64_t>(setup.castOn) * 8U + static_cast<std::uint64_t>(setup.habit) * 2U +
           (setup.mirrored ? 1U : 0U);
}

/// Of a piece worked on by count only what lies about the mistake is its own; the rest is the edge of the
/// window.
constexpr int kOwnRows = 1;
constexpr int kOwnColumns = 3;
/// Rows that come again later than that are not followed to where they do.
constexpr int kLongest = 24;
/// Stitches of a row against those that were meant, as one counts it: also where that is beyond all that she
/// could answer.
int countOf(int row, const LookedAt& looked) {
    Look count;
    count.way = LookWay::countSpan;
    count.rowFrom = count.rowTo = row;
    count.columnFrom = 1;
    count.columnTo = looked.width(row);
    const Sighting s = answer(count, looked);
    const ReadRow* const is = looked.inner().row(looked.reading(), row);
    if (s.what != Sighting::What::beyond || is == nullptr) return s.by;
    return std::clamp(is->stitches - looked.inner().stitchesMeant[static_cast<std::size_t>(row)], -99, 99);
}

/// What the mistake by itself does to the stitches before it and behind it.
void countItself(const Script& script, const Setup& setup, const FaultPlace& place, CaseEffect& effect) {
    const auto placed = loopmend::place(script, place);
    if (!placed) return;
    SideBySide both(script, setup, After::byReading);
    while (both.rows() + 1 < place.row) {
        if (!both.workRow()) return;
    }
    both.split();
    if (!both.workTo(placed->step) || !both.makeMistake(*placed)) return;
    const Knitter& was = both.meant().knitter;
    const Knitter& is = both.actual().knitter;
    effect.left = static_cast<std::int8_t>(std::clamp(is.aheadCount() - was.aheadCount(), -99, 99));
    effect.made = static_cast<std::int8_t>(
        std::clamp(static_cast<int>(is.behind().size()) - static_cast<int>(was.behind().size()), -99, 99));
    effect.counts = true;
    if (!both.endRow()) return;
    const std::vector<LoopId>& meant = both.meantLoops().back();
    for (std::size_t i = static_cast<std::size_t>(place.stitch) - 1; i < meant.size(); ++i) {
        if (!meant[i] || both.actualOf(meant[i])) continue;
        effect.lacking = static_cast<std::int8_t>(std::min(99, static_cast<int>(i) + 1 - place.stitch));
        break;
    }
}

/// Columns at the edge of a window that may be odd for the cut alone; of what is worked by count, which ends
/// there.
constexpr int kEdge = 2;
constexpr int kEdgeByCount = 4;
/// Rows whose words come again later than that are not followed to where they do.
constexpr int kWidest = 32;
/// Rows between crossings that are gone down to.
constexpr int kRope = 8;
constexpr std::uint64_t kPart = 0xE4DULL;
/// Rows so long are made as a whole.
constexpr int kWholeRow = 128;
constexpr int kDrifts = 64;
constexpr int kShortRow = 48;  // the same at every stitch

}  // namespace

CaseCloth::Size CaseEffects::sizeFor(const CaseCloth& cloth, const Fault& fault, After after, int row,
                                     Part part) {
    const int rowsAbove = cloth.rows() - row;
    CaseCloth::Size size;
    if (part == Part::end) {
        size.above = kEndRows;
        size.aside = kEnd;
        return size;
    }
    if (part == Part::row) {
        size.above = kMore;
        size.aside = cloth.width(row) <= kShortRow ? cloth.width(row) : 8;
        return size;
    }
    if (part == Part::above) {
        size.above = cloth.period() <= kLongest ? std::max(8, cloth.period() + kMore + 2) : 8;
        size.aside = std::max(cloth.width(row), cloth.width(row - 1));
        return size;
    }
    if (fault.misread()) {
        // Of a row as a whole, and of a repeat that drifts, the end of the row matters too.
        const int wide = cloth.width(row);
        size.aside = fault.wholeRow ? (wide <= kWholeRow ? kWholeRow : 20) : wide <= kDrifts ? kDrifts : 8;
        // Rows out of step are odd as the rows come again.
        if (fault.wholeRow && cloth.period() <= kLongest)
            size.above = cloth.period() > 0 ? std::max(8, cloth.period() + 2) : kLongest;
        return size;
    }
    if (fault.suffered()) {
        if (fault.runs) {
            // In lace a run spreads.
            size.above = std::min(rowsAbove, kDeepest);
            size.aside = 10;
        }
        if (fault.inCloth) size.above = 3;
        return size;
    }
    if (part == Part::near) {
        size.above = 2;
        size.aside = 4;
        return size;
    }
    // A stitch more or less shows in every such row above: until the rows come again.
    size.above = cloth.period() <= 10 ? std::max(12, cloth.period() + 4) : 12;
    size.aside = 9;
    // By count what is worked then stands over other stitches, all along the rows: until their words come
    // again.
    if (after != After::byReading) {
        int repeat = 0;
        for (int r = row; r <= std::min(cloth.rows(), row + cloth.period()); ++r)
            repeat = std::max(repeat, cloth.repeat(r));
        size.above = cloth.period() <= 10 ? cloth.period() + 2 : 4;
        // Where the edges of a rope stood shows by several crossings.
        if (cloth.crosses() && cloth.period() <= kRope) size.below = 3 * cloth.period() + 1;
        size.aside = std::clamp(2 * repeat + kEdgeByCount, 9, kWidest);
    }
    return size;
}

int CaseEffects::find(const CaseCloth& cloth, const Setup& setup, const Fault& fault, int faultNumber,
                      After after, int row, int step, int stitch, Part part) {
    CaseCloth::Size size = sizeFor(cloth, fault, after, row, part);
    // Where a cut goes through what belongs together (a cable, a repeat) it may be that it cannot be done in
    // so small a piece, though it can in the cloth.
    const int widest = cloth.width(row);
    constexpr int kTries = 4;
    const bool own = part == Part::all || part == Part::near;
    int found = -1;
    for (int tried = 0; tried < kTries; ++tried) {
        const std::uint64_t window = cloth.window(row, step, size, false).key;
        std::uint64_t key =
            mixed(window + keyOf(setup) + (own ? 0 : kPart * static_cast<std::uint64_t>(part)));
        key = mixed(key ^ (static_cast<std::uint64_t>(faultNumber) * 4096U +
                           static_cast<std::uint64_t>(after) * 1024U + static_cast<std::uint64_t>(stitch)));
        if (window == 0) key = mixed(key + static_cast<std::uint64_t>(size.aside));
        const auto [at, isNew] = known_.try_emplace(key, static_cast<int>(effects_.size()));
        if (isNew) effects_.push_back(make(cloth.window(row, step, size), setup, fault, after, stitch, part));
        found = at->second;
        if (part == Part::end || this->at(found).can || size.aside >= widest || !cloth.isRegular(row)) break;
        size.aside = std::min(widest, std::max(16, size.aside * 3));
    }
    return found;
}

struct CaseEffects::Meant {
    Meant(std::uint64_t itsKey, const Script& words, const Setup& setup, const Fabric& fabric)
        : key(itsKey),
          script(words),
          cloth(script, setup, static_cast<int>(script.rows.size())),
          looked(fabric, fabric, &script) {}
    std::uint64_t key;
    Script script;
    CaseCloth cloth;
    LookedAt looked;
};

const CaseEffects::Meant& CaseEffects::meantOf(const CaseCloth::Window& window, const Setup& setup,
                                               const Knitting& meant, int rows) {
    const std::uint64_t key = mixed(mixed(window.key + keyOf(setup)) + static_cast<std::uint64_t>(rows));
    const auto known =
        std::find_if(meant_.begin(), meant_.end(), [&](const auto& m) { return m->key == key; });
    if (window.key != 0 && known != meant_.end()) return **known;
    if (meant_.size() == kKept) meant_.pop_front();
    meant_.push_back(std::make_shared<Meant>(key, window.script, setup, *meant.fabric));
    return *meant_.back();
}

CaseEffect CaseEffects::make(const CaseCloth::Window& window, const Setup& setup, const Fault& fault,
                             After after, int stitch, Part part) {
    CaseEffect effect;
    const bool end = part == Part::end;
    if (window.rows.empty()) return effect;
    const Script& script = window.script;
    const int rows = static_cast<int>(script.rows.size());
    const WorkedRow& words = script.rows[static_cast<std::size_t>(window.row) - 1];
    FaultPlace place;
    place.id = std::string(fault.id);
    place.row = window.row;
    place.stitch = end && fault.wholeRow ? 1 : stitchOfStep(words, window.step) + stitch;
    const auto piece = knitWith(script, setup, {place}, after);
    if (!piece) return effect;
    const Meant& meant = meantOf(window, setup, piece->meant, piece->rows);
    const LookedAt looked(*piece->actual.fabric, meant.looked, &script);
    const LookedAt::Inner& in = looked.inner();
    const CaseCloth& small = meant.cloth;
    effect.can = true;
    effect.whole = window.whole;
    effect.across = window.toRight && window.toLeft;
    effect.rows = static_cast<std::int8_t>(rows - window.row);
    effect.moreRows = static_cast<std::int8_t>(std::clamp(in.rows() - piece->rows, -9, 9));
    Look ends;
    ends.way = LookWay::bothEnds;
    effect.bothEnds = static_cast<std::int8_t>(answer(ends, looked).by);
    const int anchor = small.columnOf(window.row, place.stitch);
    const bool blindly = after != After::byReading && !fault.misread();
    int topmost = 0;
    const auto keep = [&](const OddPlace& p, std::vector<EffectOdd>& into) {
        if (p.row < 0 || p.row > rows + 2) return;
        const int row = std::min(p.row, rows);
        const CaseCloth::Window::Row& cut = window.rows[static_cast<std::size_t>(row)];
        if (p.column < cut.first || p.column > cut.first + cut.count + (end ? 4 : 0)) return;
        const int above = p.sign == OddSign::crossedFeet && row < rows ? 1 : 0;
        if (part == Part::row && p.row >= window.row + kMore) return;
        if (part == Part::above && p.row < window.row + kMore) return;
        int off = part == Part::above ? p.column - cut.first + cut.column
                                      : p.column - small.follow(window.row, anchor, row + above);
        if (end) {
            // Only what is about the edge at which the row of the mistake ends.
            if (p.row < window.row || std::abs(off) <= kOwnColumns) return;
            off = small.runsLeft(window.row) ? p.column - small.width(row) : p.column - 1;
            if (std::abs(off) > kOwnColumns) return;
        } else if (blindly && (p.row > window.row + kOwnRows || std::abs(off) > kOwnColumns)) {
            // What its end does to the window it does elsewhere in the cloth.
            if (p.column < cut.first + kEdgeByCount || p.column >= cut.first + cut.count - kEdgeByCount)
                return;
        }
        EffectOdd odd;
        odd.row = static_cast<std::int8_t>(p.row - window.row);
        odd.above = static_cast<std::int8_t>(part == Part::above ? 0 : above);
        odd.column = static_cast<std::int16_t>(off);
        odd.sign = p.sign;
        odd.onRight = p.onRight;
        odd.onWrong = p.onWrong;
        into.push_back(odd);
    };
    for (const OddPlace& p : in.odd) {
        keep(p, effect.odds);
        if (!effect.odds.empty()) topmost = std::max<int>(topmost, effect.odds.back().row);
    }
    for (const OddPlace& p : in.free) keep(p, effect.free);
    for (Columns::Place p = 0; p < in.is->columns.count(); ++p) {
        if (!in.slack[static_cast<std::size_t>(p)]) continue;
        OddPlace bar;
        bar.row = in.is->columns.cell(p).row;
        bar.column = in.is->columns.cell(p).column;
        bar.sign = OddSign::longBar;
        keep(bar, effect.slack);
    }
    const bool wide = fault.wholeRow || (fault.suffered() && !fault.runs && !fault.inCloth);
    if (wide && !blindly && !end) {
        const CaseCloth::Window::Row& cut = window.rows[static_cast<std::size_t>(window.row)];
        const bool left = small.runsLeft(window.row);
        const int valid = (left ? cut.first + cut.count - 1 - anchor : anchor - cut.first) - kEdge;
        const auto reaches = [&](const std::vector<EffectOdd>& list) {
            return std::any_of(list.begin(), list.end(), [&](const EffectOdd& o) {
                const int off = left ? o.column : -o.column;
                return o.row >= 0 && o.row <= 2 && off > valid - kEdge - 2 && off <= valid;
            });
        };
        if (valid > kEdge && (reaches(effect.odds) || reaches(effect.free)))
            effect.along = static_cast<std::int16_t>(valid);
    }
    if (fault.wholeRow && !end && effect.along == 0) {
        // Where the row ends in the window it does not in the cloth.
        const CaseCloth::Window::Row& cut = window.rows[static_cast<std::size_t>(window.row)];
        const bool left = small.runsLeft(window.row);
        const int valid = (left ? cut.first + cut.count - 1 - anchor : anchor - cut.first) - kEdge;
        const auto beyond = [&](const EffectOdd& o) { return (left ? o.column : -o.column) > valid; };
        if (!(left ? window.toLeft : window.toRight)) {
            for (auto* list : {&effect.odds, &effect.free, &effect.slack})
                list->erase(std::remove_if(list->begin(), list->end(), beyond), list->end());
        }
    }
    if (blindly && !end) {
        const CaseCloth::Window::Row& cut = window.rows[static_cast<std::size_t>(window.row)];
        constexpr int kFar = 10'000;
        const int right = window.toRight ? kFar : anchor - cut.first;
        const int left = window.toLeft ? kFar : cut.first + cut.count - 1 - anchor;
        const int valid = std::min(right, left) - kEdgeByCount - 1;
        effect.aside = valid > kOwnColumns;
        if (effect.aside) effect.along = static_cast<std::int16_t>(valid);
    }
    effect.goesOn = !window.whole && topmost > 2 && topmost + 4 > effect.rows;
    for (std::size_t r = static_cast<std::size_t>(window.row) - 1; r < piece->counts.size(); ++r) {
        effect.off.push_back(
            static_cast<std::int8_t>(std::clamp(piece->counts[r].actual - piece->counts[r].meant, -99, 99)));
    }
    effect.counted = effect.off;
    if (window.row > 1) effect.countedBelow = static_cast<std::int8_t>(countOf(window.row - 1, looked));
    if (fault.suffered() || fault.misread()) {
        // Of other words only the row itself: a stitch that was not worked counts to the row below.
        const std::size_t rowsCounted = fault.suffered() ? effect.counted.size() : 1;
        for (std::size_t k = 0; k < std::min(rowsCounted, effect.counted.size()); ++k)
            effect.counted[k] = static_cast<std::int8_t>(countOf(window.row + static_cast<int>(k), looked));
    }
    if (window.whole && !in.is->right().rows.empty()) {
        const ReadRow& last = in.is->right().rows.back();
        effect.fits = static_cast<std::int8_t>(
            std::clamp(last.stitches + last.cameOut - in.stitchesMeant.back(), -99, 99));
    }
    if (!end && !fault.suffered() && !fault.misread() &&
        (effect.countedBelow != 0 ||
         std::any_of(effect.off.begin(), effect.off.end(), [](std::int8_t o) { return o != 0; })))
        countItself(script, setup, place, effect);
    for (const auto* list : {&effect.odds, &effect.free, &effect.slack}) {
        effect.inRows = effect.inRows &&
                        std::is_sorted(list->begin(), list->end(),
                                       [](const EffectOdd& a, const EffectOdd& b) { return a.row < b.row; });
        for (const EffectOdd& odd : *list)
            effect.reach =
                std::max<std::int16_t>(effect.reach, static_cast<std::int16_t>(std::abs(odd.column)));
    }
    std::uint64_t h = mixed(static_cast<std::uint64_t>(effect.moreRows + 50) * 128U +
                            static_cast<std::uint64_t>(effect.bothEnds + 50));
    const auto add = [&h](const EffectOdd& odd) {
        h = mixed(h ^ (static_cast<std::uint64_t>(odd.row + 64) << 32U) ^
                  (static_cast<std::uint64_t>(odd.column + 512) << 8U) ^
                  static_cast<std::uint64_t>(odd.sign) ^ (odd.onRight ? 1ULL << 50U : 0) ^
                  (odd.onWrong ? 1ULL << 51U : 0));
    };
    for (const EffectOdd& odd : effect.odds) add(odd);
    h = mixed(h + 1);
    for (const EffectOdd& odd : effect.free) add(odd);
    h = mixed(h + 2);
    for (const EffectOdd& odd : effect.slack) add(odd);
    for (const std::int8_t off : effect.off) h = mixed(h + static_cast<std::uint64_t>(off + 100));
    for (const std::int8_t off : effect.counted) h = mixed(h + static_cast<std::uint64_t>(off + 100));
    effect.looks = h;
    for (const EffectOdd& odd : effect.odds) {
        const auto i = static_cast<std::int32_t>(&odd - effect.odds.data());
        effect.topmost = std::max(effect.topmost, odd.row);
        if (part == Part::above)
            effect.oddFrom.resize(
                std::max<std::size_t>(effect.oddFrom.size(), static_cast<std::size_t>(odd.row) + 1), i);
        for (const Side side : {Side::right, Side::wrong}) {
            std::int32_t& first = effect.plainest[side == Side::right ? 0 : 1];
            if (!(side == Side::right ? odd.onRight : odd.onWrong)) continue;
            const EffectOdd* const was = first < 0 ? nullptr : &effect.odds[static_cast<std::size_t>(first)];
            if (was == nullptr || easeOf(odd.sign) < easeOf(was->sign) ||
                (easeOf(odd.sign) == easeOf(was->sign) && odd.row == was->row && odd.column < was->column))
                first = i;
        }
    }
    if (part != Part::above) return effect;
    effect.oddFrom.resize(static_cast<std::size_t>(effect.rows) + 2,
                          static_cast<std::int32_t>(effect.odds.size()));
    return effect;
}

}  // namespace loopmend
