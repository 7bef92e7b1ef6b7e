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
    const int first = e.off.front();
    const int later = first == 0 && e.off.size() > 1 ? e.off[1] : first;
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

/// Worked on by count: how far to the left the stitch is found that was meant in a column of a row with so
/// many stitches too many. It is found again by the nearest below it that is more than plain; what was worked
/// by count stands so far from where its row began as was meant.
int CaseTables::movedAt(std::size_t number, int row, int column, int off, bool right) const {
    const CaseHypothesis& h = at(number);
    if (column <= 1) return 0;
    if (column >= cloth_.width(row)) return off;
    const int q = featureRow_[static_cast<std::size_t>(row)][static_cast<std::size_t>(column)];
    const int c = cloth_.follow(row, column, q);
    const bool displaced = q > h.row || (q == h.row && (cloth_.runsLeft(q) ? c > h.column : c < h.column));
    if (displaced) return cloth_.runsLeft(q) ? 0 : offAfter(number, q);
    const int where = columnAt(h, row);
    return where < column || (where == column && !right) ? off : 0;
}

/// A stitch lacking is taken in by the decrease that its column goes into.
int CaseTables::healed(int off, int from, int column, int row) const {
    if (off >= 0) return off;
    const int taken = cloth_.takenIn(from, column);
    return taken > 0 && taken <= row ? off + 1 : off;
}

}  // namespace loopmend
