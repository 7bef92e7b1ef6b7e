// SPDX-License-Identifier: MIT
#include "spoiled.h"

#include <algorithm>

#include "fault/draw.h"

namespace loopmend {

tl::expected<FaultyKnitting, FaultProblem> spoiled(const Script& script, const Spoiling& what, int height) {
    constexpr int kRows = 4;
    constexpr int kStitches = 12;
    const int rows = static_cast<int>(script.rows.size());
    const int row = std::max(1, rows * height / 100);
    for (int r = row; r < std::min(row + kRows, rows + 1); ++r) {
        const int middle = stitchesIn(script.rows[static_cast<std::size_t>(r) - 1]) / 2;
        for (int s = middle; s < middle + kStitches; ++s) {
            auto knitting = knitWith(script, {}, {{what.id, r, s, 0}}, what.after);
            if (knitting) return knitting;
        }
    }
    return knitWith(script, {}, {{what.id, row, 1, 0}}, what.after);
}

}  // namespace loopmend
