// SPDX-License-Identifier: MIT
// How many stitches there are after each row if something happened, by the words of the rows.
#include <algorithm>
#include <cstdlib>

#include "diagnosis/tables.h"
#include "reading/answer_piece.h"

namespace loopmend {

namespace {

using What = Sighting::What;
constexpr int kMostOff = 6;

}  // namespace

/// Rows worked by count from `row` to `to`, so many off after `row`.
int CaseTables::chain(int row, int off, int to) const {
    if (off == 0 || row >= to) return off;
    const auto [it, isNew] = chains_.try_emplace(to);
    std::vector<std::int8_t>& table = it->second;
    constexpr int kWide = 2 * kMostOff + 1;
    if (isNew) {
        // From above down: what comes of `off` after a row.
        table.resize(static_cast<std::size_t>(to + 1) * kWide);
        for (int r = to; r >= 0; --r) {
            for (int o = -kMostOff; o <= kMostOff; ++o) {
                const int next = r == to ? o : std::clamp(cloth_.byCount(r + 1, o), -kMostOff, kMostOff);
                table[static_cast<std::size_t>(r * kWide + o + kMostOff)] =
                    r == to ? static_cast<std::int8_t>(o)
                            : table[static_cast<std::size_t>((r + 1) * kWide + next + kMostOff)];
            }
        }
    }
    return table[static_cast<std::size_t>(row * kWide + std::clamp(off, -kMostOff, kMostOff) + kMostOff)];
}

int CaseTables::offAfter(std::size_t number, int row) const {
    const CaseHypothesis& h = at(number);
    if (row < h.row) return 0;
    if (h.kind < kinds() && turnsBack_[h.kind]) {
        // What she had made so far of the row is worked once more from its beginning.
        const int off = cloth_.byCount(h.row, cloth_.moreBefore(h.row, cloth_.stepOf(h.row, h.column)));
        return static_cast<After>(h.after) == After::byReading ? healed(off, h.row, h.column, row)
                                                               : chain(h.row, off, std::min(row, rows()));
    }
    const CaseEffect& e = likeIt(number);
    if (e.off.empty()) return 0;
    if (standsByCount(h)) {
        const int own = e.counts ? e.made + cloth_.byCount(h.row, e.left) : e.off.front();
        return chain(h.row, own, std::min(row, rows()));
    }
    const int base = anchorRow(h);
    if (likeOf_[number] < 0) {
        const auto above = static_cast<std::size_t>(std::max(0, row - base));
        if (above < e.off.size()) return e.off[above];
        const int top = std::min(rows(), base + static_cast<int>(e.off.size()) - 1);
        return healed(e.off.back(), top, columnAt(h, top), row);
    }
    // Of its like: what it is at first, and one row on (a yarn-over lost in the next row).
    const std::int8_t first = e.off.front();
    const std::int8_t later = first == 0 && e.off.size() > 1 ? e.off[1] : first;
    if (row == h.row) return first;
    const int lacks = cloth_.columnOf(h.row, std::min(h.stitch + e.lacking, cloth_.width(h.row)));
    return healed(later, h.row, lacks, row);
}

int CaseTables::countedIn(std::size_t number, int row) const {
    const CaseHypothesis& h = at(number);
    const Fault* const f = fault(h.kind);
    if (f == nullptr) return offAfter(number, row);
    if (row == h.row - 1 && !f->misread()) return likeIt(number).countedBelow;
    if (row < h.row || (!f->suffered() && !(f->wholeRow && row == h.row))) return offAfter(number, row);
    const CaseEffect& e = effect(number);
    if (e.counted.empty()) return 0;
    int above = row - anchorRow(h);
    if (above < 0) {
        // Of a deep run: as in a row of the same words that the window held.
        const int period = cloth_.period() > 0 && cloth_.period() + 1 < e.rows ? cloth_.period() : 2;
        above += (1 - above + period - 1) / period * period;
    }
    return e.counted[std::min(static_cast<std::size_t>(above), e.counted.size() - 1)];
}

/// In the cloth, where it has other rows than were meant: what stands in the place of a row against that.
std::optional<int> CaseTables::otherwiseIn(std::size_t number, int row, bool onNeedle, bool& there) const {
    const CaseHypothesis& h = at(number);
    there = true;
    if (!isListed(h) || row < h.row) return std::nullopt;
    const bool turned = turnsBack_[h.kind];
    if (!turned && !fault(h.kind)->wholeRow) return std::nullopt;
    const int more = turned ? 2 : likeIt(number).moreRows;
    if (more == 0) return std::nullopt;
    // The row is begun, and worked back: so many stitches as were made of it. The others wait.
    if (turned && row < h.row + more) {
        const int step = cloth_.stepOf(h.row, h.column);
        return onNeedle ? cloth_.width(h.row - 1) + cloth_.moreBefore(h.row, step) - cloth_.width(row)
                        : h.stitch - 1 - cloth_.width(row);
    }
    const int meant = row - more;
    there = meant <= rows();
    if (!there) return std::nullopt;
    if (meant < h.row) {
        // Rows that come again, on what is there now.
        const int before = h.row - more;
        if (row == h.row || before < 0) return std::nullopt;
        return cloth_.width(meant) + chain(before, cloth_.width(h.row) - cloth_.width(before), meant) -
               cloth_.width(row);
    }
    return cloth_.width(meant) + offAfter(number, meant) - cloth_.width(row);
}

Sighting CaseTables::fits(std::size_t number_, int row) const {
    bool there = true;
    if (const auto off = otherwiseIn(number_, row, true, there)) return number(*off, 6);
    if (!there) return said(What::unclear);
    const CaseHypothesis& h = at(number_);
    if (isListed(h) && fault(h.kind)->suffered() && row == rows() && effect(number_).whole)
        return number(effect(number_).fits, 6);
    return number(offAfter(number_, row), 6);
}

/// Where columns of rows that are worked by count come to in row `to`: by row, by stitches too many and by
/// column; 0: it goes into a decrease, under the stitch on top. Built from above down.
const CaseTables::Rising& CaseTables::risingTo(int to) const {
    constexpr std::size_t kKept = 12;
    const auto known =
        std::find_if(rising_.begin(), rising_.end(), [&](const Rising& r) { return r.to == to; });
    if (known != rising_.end()) return *known;
    if (rising_.size() >= kKept) rising_.pop_front();
    Rising rising;
    rising.to = to;
    rising.columns.resize(static_cast<std::size_t>(to + 1) * Rising::kOffs);
    for (int r = to; r >= 0; --r) {
        for (int off = -Rising::kMost; off <= Rising::kMost; ++off) {
            const int width = std::max(0, cloth_.width(r) + off);
            auto& kept = rising.columns[Rising::index(r, off)];
            const int then = r == to ? 0 : cloth_.byCount(r + 1, off);
            if (r < to && then == off && cloth_.isStraight(r + 1)) {
                kept = rising.columns[Rising::index(r + 1, off)];
                continue;
            }
            const auto made =
                std::make_shared<std::vector<std::int16_t>>(static_cast<std::size_t>(width) + 1);
            kept = made;
            std::vector<std::int16_t>& here = *made;
            if (r == to) {
                for (int c = 1; c <= width; ++c)
                    here[static_cast<std::size_t>(c)] = static_cast<std::int16_t>(c);
                continue;
            }
            if (std::abs(then) > Rising::kMost) continue;
            const std::vector<std::int16_t>& next = *rising.columns[Rising::index(r + 1, then)];
            const bool left = cloth_.runsLeft(r + 1);
            const int wide = static_cast<int>(next.size()) - 1;
            for (int c = 1; c <= width; ++c) {
                const std::optional<int> above = cloth_.above(r + 1, left ? c - 1 : width - c);
                if (!above) continue;
                const int up = left ? *above + 1 : wide - *above;
                if (up >= 1 && up <= wide)
                    here[static_cast<std::size_t>(c)] = next[static_cast<std::size_t>(up)];
            }
        }
    }
    rising_.push_back(std::move(rising));
    return rising_.back();
}

/// Worked on by count: where the stitch is found that was meant in a column of a row; 0: nowhere. It is found
/// again by the nearest below it that is more than plain; what was worked by count stands so far from where
/// its row began as was meant. From there its column goes up through rows that are worked by count.
int CaseTables::foundAt(std::size_t number, int row, const Sinking& sinking) const {
    const CaseHypothesis& h = at(number);
    const int column = sinking.column;
    const int off = offAfter(number, row);
    if (column <= 1) return column;
    if (column >= cloth_.width(row)) return column + off;
    const int q = featureRow_[static_cast<std::size_t>(row)][static_cast<std::size_t>(column)];
    const int from = std::max<int>(q, h.row);
    int c = sinking.down[static_cast<std::size_t>(q >= h.row ? q : h.row - 1)];
    const CaseEffect& e = likeIt(number);
    const bool left = cloth_.runsLeft(from);
    const int there = offAfter(number, from);
    if (std::abs(there) > Rising::kMost) return 0;
    if (q > h.row) {
        if (!left) c += there;
    } else if (q == h.row) {
        const bool after = left ? c > h.column : c < h.column;
        const int along = after ? e.made : 0;
        c += left ? along : there - along;
    } else {
        // Up through the row of the mistake.
        const int step = cloth_.stepOf(h.row, h.column);
        const int first = cloth_.takenBefore(h.row, step);
        const int behind = cloth_.takenBefore(h.row, step + 1) - std::min<int>(0, e.left);
        int host = left ? c - 1 : cloth_.width(h.row - 1) - c;
        int more = 0;
        if (host >= behind) {
            host += e.left;
            more = e.made;
        } else if (host >= first) {
            // Nothing stands on it, or it was worked together with the next.
            if (e.made < 0 && e.left == 0) return 0;
            const Step& own =
                script_.rows[static_cast<std::size_t>(h.row) - 1].steps[static_cast<std::size_t>(step)];
            if (e.left < 0 && (host == first) == (own.op == Op::knit)) return 0;
            host = first;
        }
        const std::optional<int> made = cloth_.above(h.row, host);
        if (!made) return 0;
        c = left ? *made + more + 1 : cloth_.width(h.row) + there - *made - more;
    }
    const std::vector<std::int16_t>& rising = *risingTo(row).columns[Rising::index(from, there)];
    return c >= 1 && c < static_cast<int>(rising.size()) ? rising[static_cast<std::size_t>(c)] : 0;
}

const CaseTables::Sinking& CaseTables::sinkingFrom(int row, int column) const {
    for (const Sinking& s : sinking_) {
        if (s.row == row && s.column == column) return s;
    }
    Sinking& s = sinking_[nextSinking_];
    nextSinking_ = (nextSinking_ + 1) % sinking_.size();
    s.row = row;
    s.column = column;
    s.down.assign(static_cast<std::size_t>(row) + 1, static_cast<std::int16_t>(column));
    for (int r = row; r > 0; --r)
        s.down[static_cast<std::size_t>(r) - 1] =
            static_cast<std::int16_t>(cloth_.follow(r, s.down[static_cast<std::size_t>(r)], r - 1));
    return s;
}

/// A stitch lacking is taken in by the decrease that its column goes into.
int CaseTables::healed(int off, int from, int column, int row) const {
    if (off >= 0) return off;
    const int taken = cloth_.takenIn(from, column);
    return taken > 0 && taken <= row ? off + 1 : off;
}

}  // namespace loopmend
