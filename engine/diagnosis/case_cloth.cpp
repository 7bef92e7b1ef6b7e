// SPDX-License-Identifier: MIT
#include "diagnosis/case_cloth.h"

#include <algorithm>
#include <cstddef>
#include <utility>

#include "fault/steps.h"

namespace loopmend {

namespace {

constexpr std::uint64_t kPrime = 0x9E3779B97F4A7C15ULL;
constexpr int kMostOff = 6;  // stitches too many or too few that are followed

std::uint64_t mixed(std::uint64_t z) {
    z = (z ^ (z >> 30U)) * 0xBF58476D1CE4E5B9ULL;
    z = (z ^ (z >> 27U)) * 0x94D049BB133111EBULL;
    return z ^ (z >> 31U);
}

std::uint64_t codeOf(const Step& s) {
    std::uint64_t c = static_cast<std::uint64_t>(s.op) + 1;
    const auto add = [&c](std::uint64_t x) { c = c * 131 + x + 1; };
    add(static_cast<std::uint64_t>(s.count));
    add(static_cast<std::uint64_t>(s.over));
    add(static_cast<std::uint64_t>(s.under));
    add((s.front ? 1U : 0U) + (s.purlOver ? 2U : 0U) + (s.purlUnder ? 4U : 0U) + (s.tblOver ? 8U : 0U) +
        (s.tblUnder ? 16U : 0U) + (s.link ? 32U : 0U));
    add(static_cast<std::uint64_t>(s.yarn));
    return mixed(c * kPrime);
}

bool isOrderly(const Step& s) {
    switch (s.op) {
        case Op::castOn:
        case Op::castOnRight:
        case Op::castOnKnitted:
        case Op::bindOff:
        case Op::bindOffPurl:
        case Op::bindOffTogether:
        case Op::hold:
        case Op::turn:
        case Op::wrapTurn:
        case Op::pickUp:
        case Op::passOver:
        case Op::k2togOver: return false;
        default: return uses(s) >= 0 && makes(s) >= 0;
    }
}

/// Which of the stitches that it takes, in the order worked, lies on top (craft of the decreases: what the
/// loop is drawn through last).
int topOf(const Step& s) {
    switch (s.op) {
        case Op::k2tog:
        case Op::p2togTbl:
        case Op::ssp:
        case Op::s2kp:
        case Op::s2pp: return 1;
        case Op::k3tog:
        case Op::p3togTbl: return 2;
        default: return 0;
    }
}

std::uint64_t powerOf(std::uint64_t base, std::size_t n) {
    std::uint64_t p = 1;
    for (; n > 0; n >>= 1U, base *= base) {
        if ((n & 1U) != 0) p *= base;
    }
    return p;
}

constexpr std::uint64_t kBase = 0x100000001B3ULL;

}  // namespace

CaseCloth::CaseCloth(const Script& script, const Setup& setup, int rows) : script_(&script), setup_(setup) {
    const int done = std::min(rows, static_cast<int>(script.rows.size()));
    rows_.resize(static_cast<std::size_t>(done) + 1);
    rows_[0].after = script.castOn;
    rows_[0].columns.resize(static_cast<std::size_t>(script.castOn) + 1);
    bool known = true;  // columns are known so far
    for (int r = 1; r <= done; ++r) {
        const WorkedRow& words = script.rows[static_cast<std::size_t>(r) - 1];
        RowWords& row = rows_[static_cast<std::size_t>(r)];
        RowWords& under = rows_[static_cast<std::size_t>(r) - 1];
        row.leftward = (words.facing == Facing::right || words.round) != setup_.mirrored;
        row.before = under.after;
        row.in.push_back(0);
        row.out.push_back(0);
        row.sum.push_back(0);
        row.regular = known;
        for (const Step& s : words.steps) {
            if (!isOrderly(s)) row.regular = false;
            crosses_ = crosses_ || s.op == Op::cable;
            const int u = std::max(0, uses(s));
            for (int k = 0; k < u; ++k) row.taker.push_back(static_cast<std::int32_t>(row.in.size()) - 1);
            row.in.push_back(row.in.back() + u);
            row.out.push_back(row.out.back() + std::max(0, makes(s)));
            row.sum.push_back(row.sum.back() * kBase + codeOf(s));
        }
        if (row.in.back() != row.before) row.regular = false;
        row.after = row.out.back();
        if (!row.regular) {
            known = false;
            int off = 0;
            for (const Step& s : words.steps) off += makes(s) - uses(s);
            row.after = std::max(0, row.before + off);
        }
        row.words = mixed(row.sum.back() + (row.leftward ? 1U : 2U) * kPrime +
                          static_cast<std::uint64_t>(row.before) * 977U);
        row.columns.resize(static_cast<std::size_t>(row.after) + 1);
        if (!row.regular) continue;
        row.straight = std::all_of(words.steps.begin(), words.steps.end(),
                                   [](const Step& s) { return uses(s) == 1 && makes(s) == 1; });
        const auto columnIn = [&](int index) { return row.leftward ? index + 1 : row.before - index; };
        const auto columnOut = [&](int index) { return row.leftward ? index + 1 : row.after - index; };
        const int n = static_cast<int>(words.steps.size());
        for (int i = 0; i < n; ++i) {
            const auto s = static_cast<std::size_t>(i);
            const int made = row.out[s + 1] - row.out[s];
            const int first = std::clamp(row.out[s], 0, std::max(0, row.after - 1));
            for (int h = row.in[s]; h < row.in[s + 1]; ++h) {
                under.columns[static_cast<std::size_t>(columnIn(h))].above =
                    static_cast<std::int16_t>(row.after > 0 ? columnOut(first) : 0);
                if (row.in[s + 1] - row.in[s] > made)
                    under.columns[static_cast<std::size_t>(columnIn(h))].takenIn =
                        static_cast<std::int16_t>(r);
            }
            const int host = std::clamp(row.in[s], 0, std::max(0, row.before - 1));
            for (int o = row.out[s]; o < row.out[s + 1]; ++o) {
                Up& up = row.columns[static_cast<std::size_t>(columnOut(o))];
                up.below = static_cast<std::int16_t>(columnIn(host));
                up.step = static_cast<std::int16_t>(i);
            }
        }
        // A row by count, from what is there: only its last steps matter.
        row.byCount.resize(2 * kMostOff + 1);
        for (int off = -kMostOff; off <= kMostOff; ++off) {
            int made = row.after + std::max(0, off);
            if (off < 0) {
                int lack = -off;
                int left = 0;
                for (int i = n; i-- > 0 && lack > 0;) {
                    const auto s = static_cast<std::size_t>(i);
                    const int u = row.in[s + 1] - row.in[s];
                    made -= row.out[s + 1] - row.out[s];
                    left = u > lack ? u - lack : 0;
                    lack -= u;
                }
                made += left;
            }
            row.byCount[static_cast<std::size_t>(off + kMostOff)] =
                static_cast<std::int8_t>(std::clamp(made - row.after, -100, 100));
        }
        // Along the row, words that come again.
        const auto steps = static_cast<std::size_t>(n);
        for (std::size_t p = 1; p * 2 <= steps && p <= 48 && row.repeat == 0; ++p) {
            const std::size_t from = steps / 4;
            const std::size_t to = std::max(from + p + 1, steps - steps / 4);
            bool same = to <= steps;
            for (std::size_t i = from; i + p < to && same; ++i) same = words.steps[i] == words.steps[i + p];
            if (same) row.repeat = row.out[from + p] - row.out[from];
        }
    }
    // Where each column is taken in, from the top down.
    for (int r = done - 1; r >= 0; --r) {
        RowWords& row = rows_[static_cast<std::size_t>(r)];
        if (!at(r + 1).regular) continue;
        for (int c = 1; c <= row.after; ++c) {
            Up& u = row.columns[static_cast<std::size_t>(c)];
            if (u.takenIn == 0 && u.above > 0)
                u.takenIn = at(r + 1).columns[static_cast<std::size_t>(u.above)].takenIn;
        }
    }
    for (int r = 1; r <= done; ++r) {
        RowWords& row = rows_[static_cast<std::size_t>(r)];
        bool same = row.regular && row.after == at(r - 1).after;
        for (int c = 1; c <= row.after && same; ++c)
            same = row.columns[static_cast<std::size_t>(c)].below == c;
        row.sameSince = same ? at(r - 1).sameSince : r;
    }
    measureDrift();
    for (int r = 0; r + kFar <= done; ++r) {
        RowWords& row = rows_[static_cast<std::size_t>(r)];
        if (at(r + kFar).sameSince <= r) continue;
        std::vector<std::int16_t> far(row.columns.size(), 0);
        for (std::size_t c = 1; c < far.size(); ++c) {
            int column = static_cast<int>(c);
            for (int q = r; q < r + kFar && column > 0; ++q) column = up(q, column).above;
            far[c] = static_cast<std::int16_t>(column);
        }
        row.far = std::move(far);
    }
    for (int p = 1; p * 2 <= done && p <= 48 && period_ == 0; ++p) {
        bool same = true;
        for (int r = done; r - p >= std::max(1, done / 3) && same; --r) same = wordsOf(r) == wordsOf(r - p);
        if (same) period_ = p;
    }
}

void CaseCloth::measureDrift() {
    for (int r = 1; r <= rows(); ++r) {
        RowWords& row = rows_[static_cast<std::size_t>(r)];
        const RowWords& under = at(r - 1);
        int most = 0;
        for (int c = 1; c <= row.after; ++c)
            most = std::max(most, std::abs(row.columns[static_cast<std::size_t>(c)].below - c));
        for (int c = 1; c <= under.after; ++c)
            most = std::max(most, std::abs(under.columns[static_cast<std::size_t>(c)].above - c));
        row.drift = under.drift + most;
        row.bend = under.bend + (row.sameSince == r ? 1 : 0);
    }
    std::vector<std::int16_t> columns;
    for (int r = rows(); r >= 0; --r) {
        RowWords& row = rows_[static_cast<std::size_t>(r)];
        row.straightTo = r < rows() && at(r + 1).bend == row.bend ? at(r + 1).straightTo : r;
        if (r == rows() || row.straightTo > r) continue;
        columns.resize(static_cast<std::size_t>(row.after) + 1);
        for (std::size_t c = 0; c < columns.size(); ++c) columns[c] = static_cast<std::int16_t>(c);
        row.aside.push_back(0);
        int most = 0;
        for (int q = r; q < rows() && at(q + 1).bend <= row.bend + kMostBends; ++q) {
            if (at(q + 1).bend == at(q).bend) continue;
            for (std::size_t c = 1; c < columns.size(); ++c) {
                std::int16_t& column = columns[c];
                if (column > 0) column = up(q, column).above;
                most = std::max(most, std::abs(column - static_cast<int>(c)));
            }
            row.aside.push_back(static_cast<std::int16_t>(most));
        }
    }
}

int CaseCloth::driftBetween(int row, int other) const {
    if (other <= row) return at(row).drift - at(other).drift;
    // As from the topmost row in which all columns still stand where they do in this one.
    int drift = 0;
    for (int from = row; at(from).bend < at(other).bend;) {
        const RowWords& top = at(at(from).straightTo);
        const int bends = std::min(at(other).bend - top.bend, static_cast<int>(top.aside.size()) - 1);
        drift += top.aside[static_cast<std::size_t>(bends)];
        const int reached = top.bend + bends;
        if (reached >= at(other).bend) break;
        while (at(from).bend < reached) ++from;
    }
    return drift;
}

const CaseCloth::Up& CaseCloth::up(int row, int column) const {
    const auto& columns = at(row).columns;
    const auto most = static_cast<int>(columns.size()) - 1;
    return columns[static_cast<std::size_t>(std::clamp(column, std::min(1, most), most))];
}

int CaseCloth::columnOf(int row, int stitch) const {
    const RowWords& r = at(row);
    return r.leftward ? stitch : r.after - stitch + 1;
}

int CaseCloth::columnOfStep(int row, int step) const {
    const RowWords& r = at(row);
    const int index = std::clamp(r.out[static_cast<std::size_t>(step)], 0, std::max(0, r.after - 1));
    return r.leftward ? index + 1 : r.after - index;
}

int CaseCloth::stepOf(int row, int column) const {
    return up(row, column).step;
}

int CaseCloth::follow(int from, int column, int to) const {
    if (at(std::max(from, to)).sameSince <= std::min(from, to)) return column;
    while (from + kFar <= to && column > 0 && !at(from).far.empty()) {
        const auto& far = at(from).far;
        column = far[static_cast<std::size_t>(std::min<int>(column, static_cast<int>(far.size()) - 1))];
        from += kFar;
    }
    while (from < to && column > 0) {
        const RowWords& row = at(from);
        if (row.straightTo > from) {
            column = std::min(column, row.after);
            from = std::min(to, row.straightTo);
        } else {
            column = up(from, column).above;
            ++from;
        }
    }
    for (; from > to && column > 0; --from) column = up(from, column).below;
    return column;
}

std::optional<int> CaseCloth::above(int row, int host) const {
    const RowWords& r = at(row);
    if (!r.regular || host < 0) return std::nullopt;
    if (host >= r.before) return r.after + host - r.before;
    const auto step = static_cast<std::size_t>(r.taker[static_cast<std::size_t>(host)]);
    const Step& s = script_->rows[static_cast<std::size_t>(row) - 1].steps[step];
    const int of = host - r.in[step];
    const int made = r.out[step + 1] - r.out[step];
    if (made < 1) return std::nullopt;
    if (s.op == Op::cable) return r.out[step] + (of < s.over ? of + s.under : of - s.over);
    if (r.in[step + 1] - r.in[step] > 1 && of != topOf(s)) return std::nullopt;
    // Of several out of one the right-most.
    return r.leftward ? r.out[step] : r.out[step + 1] - 1;
}

int CaseCloth::byCount(int row, int off) const {
    const RowWords& r = at(row);
    if (off == 0 || r.byCount.empty()) return off;
    return r.byCount[static_cast<std::size_t>(std::clamp(off, -kMostOff, kMostOff) + kMostOff)];
}

CaseCloth::Window CaseCloth::window(int row, int step, const Size& size, bool build) const {
    Window w;
    if (!at(row).regular) return w;
    int low = row;
    while (low > 1 && row - low < size.below && at(low - 1).regular) --low;
    int high = row;
    while (high < rows() && high - row < size.above && at(high + 1).regular) ++high;
    // The stitches below it that come under the step and so many to its right and left.
    const RowWords& here = at(row);
    const auto s = static_cast<std::size_t>(step);
    const auto under = [](const RowWords& words, int index) {
        const int i = std::clamp(index, 0, std::max(0, words.before - 1));
        return words.leftward ? i + 1 : words.before - i;
    };
    // All that a step was worked from, and what it was made between.
    const auto underStep = [&](const RowWords& words, std::size_t made) {
        const int last = std::max(words.in[made], words.in[made + 1] - 1);
        const int first = words.in[made] == words.in[made + 1] ? words.in[made] - 1 : words.in[made];
        const int one = under(words, first);
        const int other = under(words, last);
        return std::pair<int, int>{std::min(one, other), std::max(one, other)};
    };
    auto [a, b] = underStep(here, s);
    a = std::max(1, a - size.aside);
    b = std::min(here.before, b + size.aside);
    for (int r = row - 1; r >= low; --r) {
        const RowWords& words = at(r);
        const int first = underStep(words, static_cast<std::size_t>(up(r, a).step)).first;
        const int last = underStep(words, static_cast<std::size_t>(up(r, b).step)).second;
        a = a == 1 ? 1 : std::max(1, first - 1);
        b = b == words.after ? words.before : std::min(words.before, last + 1);
    }
    w.rowFrom = low;
    w.row = row - low + 1;
    w.whole = high == rows();
    int right = 0;  // stitches at either end that are none of the cloth: worked plainly
    int left = 0;
    w.script.castOn = b - a + 1;
    w.script.round = script_->round;
    w.script.yarns = script_->yarns;
    w.rows.push_back({1, b - a + 1, a});
    std::uint64_t key = mixed(static_cast<std::uint64_t>(b - a + 1) * kPrime + (low == 1 ? 1U : 0U) +
                              (w.whole ? 2U : 0U) + static_cast<std::uint64_t>(w.row) * 64U);
    for (int r = low; r <= high; ++r) {
        const RowWords& words = at(r);
        const int n = static_cast<int>(words.in.size()) - 1;
        // In the order worked: stitches from..to-1 are inside.
        const int from = words.leftward ? a - 1 : words.before - b;
        const int to = words.leftward ? b : words.before - a + 1;
        int i0 = from < words.before ? words.taker[static_cast<std::size_t>(from)] : n;
        if (i0 < n && words.in[static_cast<std::size_t>(i0)] < from) ++i0;
        if (from == 0) i0 = 0;
        // What is made just before a stitch at the border belongs to both sides: leave it out.
        int i1 = to > 0 ? words.taker[static_cast<std::size_t>(to) - 1] + 1 : 0;
        if (i1 > 0 && words.in[static_cast<std::size_t>(i1)] > to) --i1;
        if (to == words.before) i1 = n;
        while (i1 > i0 && to != words.before &&
               words.in[static_cast<std::size_t>(i1)] == words.in[static_cast<std::size_t>(i1) - 1])
            --i1;
        if (i1 <= i0) {
            w.whole = false;
            break;
        }
        const int hostFrom = words.in[static_cast<std::size_t>(i0)];
        const int hostTo = words.in[static_cast<std::size_t>(i1)];
        const int before = std::max(0, hostFrom - from);  // inside, but of a step that is not
        const int behind = std::max(0, to - hostTo);
        (words.leftward ? right : left) += before;
        (words.leftward ? left : right) += behind;
        const int lead = words.leftward ? right : left;
        const int trail = words.leftward ? left : right;
        const std::uint64_t slice =
            words.sum[static_cast<std::size_t>(i1)] -
            words.sum[static_cast<std::size_t>(i0)] * powerOf(kBase, static_cast<std::size_t>(i1 - i0));
        key = mixed(key ^ slice) + static_cast<std::uint64_t>(lead) * 31U +
              static_cast<std::uint64_t>(trail) * 17U + (words.leftward ? 5U : 3U);
        if (r == row) {
            if (step < i0 || step >= i1) return {};
            w.step = lead + step - i0;
            key = mixed(key + static_cast<std::uint64_t>(w.step) * 1009U);
        }
        if (build) {
            const WorkedRow& meant = script_->rows[static_cast<std::size_t>(r) - 1];
            WorkedRow cut;
            cut.number = r - low + 1;
            cut.printed = meant.printed;
            cut.facing = meant.facing;
            cut.round = meant.round;
            Step plain;
            plain.op = meant.facing == Facing::right ? Op::knit : Op::purl;
            cut.steps.assign(static_cast<std::size_t>(lead), plain);
            cut.steps.insert(cut.steps.end(), meant.steps.begin() + i0, meant.steps.begin() + i1);
            cut.steps.insert(cut.steps.end(), static_cast<std::size_t>(trail), plain);
            w.script.rows.push_back(std::move(cut));
        }
        const int outFrom = words.out[static_cast<std::size_t>(i0)];
        const int outTo = words.out[static_cast<std::size_t>(i1)];
        if (outTo <= outFrom) {
            w.whole = false;
            break;
        }
        a = words.leftward ? outFrom + 1 : words.after - outTo + 1;
        b = words.leftward ? outTo : words.after - outFrom;
        w.rows.push_back({right + 1, b - a + 1, a});
        w.toRight = w.toRight && a == 1;
        w.toLeft = w.toLeft && b == words.after;
    }
    if (static_cast<int>(w.rows.size()) <= w.row) return {};
    w.key = mixed(key + w.rows.size() + (w.toRight ? 4096U : 0U) + (w.toLeft ? 8192U : 0U));
    return w;
}

}  // namespace loopmend
