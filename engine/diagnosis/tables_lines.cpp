// SPDX-License-Identifier: MIT
// Where lines of decreases and yarn-overs break in rows that were worked by count: each such row begins at an
// edge, so that its stitches stand over others than were meant. Worked to and fro with a pattern in every
// row, they do so anew in each; with plain rows between, once.
#include <algorithm>
#include <cstdlib>

#include "diagnosis/tables.h"

namespace loopmend {

namespace {

/// A step that a line of that kind goes through.
bool isOf(LandmarkKind kind, const Step& step) {
    switch (kind) {
        case LandmarkKind::eyelets: return step.op == Op::yarnOver || step.op == Op::yarnOverReverse;
        case LandmarkKind::spine: return uses(step) == 3 && makes(step) == 1;
        case LandmarkKind::rightLeaning: return step.op == Op::k2tog || step.op == Op::p2tog;
        case LandmarkKind::leftLeaning:
            return step.op == Op::ssk || step.op == Op::skp || step.op == Op::ssp ||
                   step.op == Op::k2togTbl || step.op == Op::p2togTbl;
        default: return false;
    }
}

}  // namespace

CaseTables::Upward CaseTables::upMeant(int row, int column) const {
    const bool left = cloth_.runsLeft(row + 1);
    const int host = left ? column - 1 : cloth_.width(row) - column;
    if (!cloth_.isRegular(row + 1) || host < 0 || host >= cloth_.width(row)) return {};
    const int step = cloth_.takerOf(row + 1, host);
    const int out = cloth_.madeBefore(row + 1, step);
    if (cloth_.madeBefore(row + 1, step + 1) == out) return {};
    const int first = cloth_.takenBefore(row + 1, step);
    const int last = cloth_.takenBefore(row + 1, step + 1) - 1;
    return {left ? out + 1 : cloth_.width(row + 1) - out, left ? host - first : last - host};
}

CaseTables::Upward CaseTables::upByCount(std::size_t number, int row, int column) const {
    const CaseHypothesis& h = at(number);
    const int above = row + 1;
    if (above < h.row || !cloth_.isRegular(above)) return upMeant(row, column);
    const bool left = cloth_.runsLeft(above);
    const int hosts = cloth_.width(row) + (row < h.row ? 0 : offAfter(number, row));
    const int width = cloth_.width(above) + offAfter(number, above);
    int host = left ? column - 1 : hosts - column;
    if (host < 0 || host >= hosts) return {};
    int more = 0;
    if (above == h.row) {
        // Past the mistake so many were made, and taken, otherwise.
        const CaseEffect& e = likeIt(number);
        const int step = cloth_.stepOf(h.row, h.column);
        if (host >= cloth_.takenBefore(above, step + 1) - std::min<int>(0, e.left)) {
            host += e.left;
            more = e.made;
        } else if (host >= cloth_.takenBefore(above, step) &&
                   uses(script_.rows[h.row - 1U].steps[static_cast<std::size_t>(step)]) > 0) {
            return {};
        }
    }
    // What lacks at its end is not worked; what begins there is worked plainly, and so is what is left over.
    const int meant = cloth_.width(row);
    const int lacking = above == h.row ? 0 : std::max(0, meant - hosts);
    int out = 0;
    int taken = 0;
    if (host >= meant) {
        out = cloth_.width(above) + host - meant;
    } else {
        const int step = cloth_.takerOf(above, host);
        const int first = cloth_.takenBefore(above, step);
        const int last = cloth_.takenBefore(above, step + 1) - 1;
        out = cloth_.madeBefore(above, step);
        if (lacking > 0 && last + 1 > meant - lacking) {
            out += host - first;
        } else {
            if (cloth_.madeBefore(above, step + 1) == out) return {};
            taken = left ? host - first : last - host;
        }
    }
    return {left ? out + more + 1 : width - out - more, taken};
}

/// The topmost of these rows in which a line is not there, or stands otherwise on what lies below, than was
/// meant; 0: none, or nobody knows.
int CaseTables::lineBreak(const Look& look, std::size_t number, int bottom, int top) const {
    const CaseHypothesis& h = at(number);
    if (!isListed(h) || !standsByCount(h) || turnsBack_[h.kind] || isWholeRow(h)) return 0;
    if (offAfter(number, h.row) == 0) return 0;
    constexpr int kBeside = 3;  // a line is found again beside where it was
    int first = 0;
    int below = 0;  // row of its last place, its column as it was meant and as it is
    int meant = 0;
    int actual = 0;
    int followed = look.columnFrom;
    for (int r = std::max(1, bottom); r <= std::min(top, rows()); ++r) {
        if (!cloth_.isRegular(r)) return first;
        if (below > 0) followed = upMeant(r - 1, followed).column;
        if (followed == 0) return first;
        const std::vector<Step>& steps = script_.rows[static_cast<std::size_t>(r) - 1].steps;
        int here = 0;
        for (int off = 0; off <= (below > 0 ? 1 : kBeside) && here == 0; ++off) {
            for (const int c : {followed - off, followed + off}) {
                if (here > 0 || c < 1 || c > cloth_.width(r)) continue;
                if (isOf(look.landmark, steps[static_cast<std::size_t>(cloth_.stepOf(r, c))])) here = c;
            }
        }
        if (here == 0) continue;
        followed = here;
        int is = here;
        if (r >= h.row) {
            const int step = cloth_.stepOf(r, here);
            const int lacking = r == h.row ? 0 : std::max(0, -offAfter(number, r - 1));
            const bool gone =
                r == h.row ? here == h.column
                           : lacking > 0 && cloth_.takenBefore(r, step + 1) > cloth_.width(r - 1) - lacking;
            if (gone) {
                first = r;
                continue;
            }
            // So far from where its row began as was meant.
            const int off = offAfter(number, r);
            const CaseEffect& e = likeIt(number);
            if (r == h.row) {
                const bool after = cloth_.runsLeft(r) ? here > h.column : here < h.column;
                is += cloth_.runsLeft(r) ? (after ? e.made : 0) : off - (after ? e.made : 0);
            } else if (!cloth_.runsLeft(r)) {
                is += off;
            }
        }
        bool same = true;
        if (below > 0 && r >= h.row) {
            int a = meant;
            int b = actual;
            for (int q = below; q < r && same && a > 0 && b > 0; ++q) {
                const Upward ua = upMeant(q, a);
                const Upward ub = upByCount(number, q, b);
                same = ua.taken == ub.taken;
                a = ua.column;
                b = ub.column;
            }
            same = same && (a == 0) == (b == 0) && (a == 0 || here - a == is - b);
        }
        if (!same) first = r;
        below = r;
        meant = here;
        actual = is;
    }
    return first;
}

}  // namespace loopmend
