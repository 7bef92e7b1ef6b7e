// SPDX-License-Identifier: MIT
#include "pattern/wrapped_ahead.h"

#include <algorithm>
#include <utility>

#include "pattern/counts.h"
#include "pattern/order.h"

namespace loopmend {

namespace {

bool slips(Op op) {
    return op == Op::slipPurlwiseBack || op == Op::slipPurlwiseFront || op == Op::slipKnitwiseBack ||
           op == Op::slipKnitwiseFront;
}

}  // namespace

std::optional<std::vector<bool>> wrappedAhead(const Pattern& pattern) {
    if (!pattern.castOn) return std::nullopt;
    const RowOrder order = rowOrder(pattern);
    // More than any heel has: too long to be looked through for one wrap.
    constexpr std::size_t kMostStitchesWorked = 1'000'000;
    if (order.rows.size() * static_cast<std::size_t>(*pattern.castOn) > kMostStitchesWorked)
        return std::nullopt;
    const auto script = expand(pattern, *pattern.castOn, static_cast<int>(order.rows.size()));
    if (!script) return std::nullopt;
    // Both needles from the tip: the next stitch, and the one worked last, stand at the end.
    std::vector<bool> left(static_cast<std::size_t>(*pattern.castOn), false);
    std::vector<bool> right;
    for (const WorkedRow& row : script->rows) {
        bool turned = !row.round;
        for (const Step& step : row.steps) {
            const int taken = uses(step);
            if (taken < 0) left.insert(left.end(), static_cast<std::size_t>(-taken), false);
            bool wrapped = false;
            for (int i = 0; i < taken && !left.empty(); ++i) {
                wrapped = left.back();
                left.pop_back();
            }
            for (int i = 0; i < makes(step); ++i) right.push_back(slips(step.op) && wrapped);
            if (makes(step) < 0 && !right.empty()) right.pop_back();
            if (step.op == Op::wrapTurn && !left.empty()) left.back() = true;
            turned = turned || step.op == Op::turn || step.op == Op::wrapTurn;
        }
        // Turned, the needles change hands, and each is met from its tip. A round begins again.
        if (turned) {
            std::swap(left, right);
        } else {
            left = std::exchange(right, {});
            std::reverse(left.begin(), left.end());
        }
    }
    std::reverse(left.begin(), left.end());
    return left;
}

}  // namespace loopmend
