// SPDX-License-Identifier: MIT
#include "shape/ridges.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

namespace loopmend {

namespace {

/// In garter stitch two rows rise as high as a stitch is wide. Relaxation finds that by itself in a patch
/// without edges (tests/shape/relax_density.cpp), but a whole piece takes many thousand steps to close up so
/// far.
constexpr double kRidge = 0.65;

/// +1 knit, -1 purl, as the right side shows it; 0: not one stitch in one, or twisted.
int sideOf(const Fabric& f, LoopId loop) {
    const LinkId l = f[loop].firstLink;
    if (!l || l != f[loop].lastLink || f[l].form.twist != 0) return 0;
    return f[l].form.side == Side::right ? 1 : -1;
}

/// From the row below it to the one above.
bool isRidge(const Fabric& f, LoopId loop) {
    const int side = sideOf(f, loop);
    return side != 0 && f[loop].firstKid && f[loop].firstKid == f[loop].lastKid &&
           sideOf(f, f[f[loop].firstKid].loop) == -side && sideOf(f, f[f[loop].firstLink].host) == -side;
}

bool isRowOfRidges(const Fabric& f, const SweptRow& row) {
    int loops = 0;
    int ridges = 0;
    int knits = 0;
    for (const EntryId e : row.entries) {
        if (!f.isLoop(e)) continue;
        ++loops;
        ridges += isRidge(f, e) ? 1 : 0;
        knits += sideOf(f, e) > 0 ? 1 : 0;
    }
    const bool one = 10 * std::max(knits, loops - knits) >= 9 * loops;
    return loops > 0 && one && 10 * ridges >= 9 * loops;
}

/// Of its loops, in the middle; NaN: none is placed.
double heightOf(const Fabric& f, const Layout& layout, const SweptRow& row) {
    double sum = 0;
    int n = 0;
    for (const EntryId e : row.entries) {
        if (!f.isLoop(e) || !layout[e].placed) continue;
        sum += layout[e].frame.at.y;
        ++n;
    }
    return n > 0 ? sum / n : std::numeric_limits<double>::quiet_NaN();
}

}  // namespace

Squeeze closedRidges(const Fabric& fabric, const Layout& layout) {
    Squeeze squeeze;
    const std::vector<SweptRow>& rows = layout.columns.rows;
    double reached = -std::numeric_limits<double>::infinity();
    for (std::size_t r = 0; r + 1 < rows.size(); ++r) {
        if (!isRowOfRidges(fabric, rows[r])) continue;
        const double from = heightOf(fabric, layout, rows[r]);
        const double to = heightOf(fabric, layout, rows[r + 1]);
        if (!(from >= reached) || !(to > from)) continue;
        reached = to;
        squeeze.add(from, to, kRidge);
    }
    return squeeze;
}

}  // namespace loopmend
