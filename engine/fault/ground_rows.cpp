// SPDX-License-Identifier: MIT
// Stock grounds with edges of their own, short rows, several yarns.
#include "fault/ground_rows.h"

#include <algorithm>

namespace loopmend {

namespace {

using Steps = std::vector<Step>;

/// Rows below the band: as many as above it, a right-side row on top of them.
int rowsUnderBand(const GroundRow& p) {
    return std::max(2, p.rows / 4 * 2);
}

/// Stitches left at a turn.
constexpr int kLeft = 4;

void work(Steps& steps, Op op, int times, std::uint8_t yarn, bool link = false) {
    Step step;
    step.op = op;
    step.yarn = yarn;
    for (int i = 0; i < times; ++i) {
        step.link = link && i == 0;
        steps.push_back(step);
    }
}

}  // namespace

std::vector<Step> chainedRow(const GroundRow& p) {
    Steps steps;
    addSteps(steps, p.wrong ? Op::slipPurlwiseFront : Op::slipPurlwiseBack);
    addSteps(steps, p.wrong ? Op::purl : Op::knit, p.stitches - 1);
    return steps;
}

std::vector<Step> boundRow(const GroundRow& p) {
    if (p.row + 1 < p.rows) return stockinetteRow(p);
    Steps steps;
    addSteps(steps, p.wrong ? Op::bindOffPurl : Op::bindOff);
    steps.back().count = static_cast<std::int16_t>(p.stitches);
    return steps;
}

std::vector<Step> bandedRow(const GroundRow& p) {
    const int under = rowsUnderBand(p);
    if (p.row < under) return stockinetteRow(p);
    Steps steps;
    if (p.row == under) {
        addSteps(steps, Op::bindOff);
        steps.back().count = static_cast<std::int16_t>(p.stitches - 1);
        addSteps(steps, Op::knit);
        addSteps(steps, Op::pickUp);
        steps.back().count = static_cast<std::int16_t>(under);
    } else {
        addSteps(steps, Op::knit, p.stitches);
    }
    return steps;
}

std::vector<Step> turnedRow(const GroundRow& p) {
    const Op plain = p.wrong ? Op::purl : Op::knit;
    const int short_ = p.stitches - kLeft;
    Steps steps;
    switch (p.row % 8) {
        case 1:
            addSteps(steps, plain, short_);
            addSteps(steps, Op::turn);
            break;
        case 2:
            addSteps(steps, Op::doubled);
            addSteps(steps, plain, short_ - 1);
            break;
        case 3:
            addSteps(steps, plain, short_ - 1);
            addSteps(steps, Op::purlDoubled);
            addSteps(steps, plain, kLeft);
            break;
        case 4:
            addSteps(steps, plain, short_);
            addSteps(steps, Op::wrapTurn);
            break;
        case 5: addSteps(steps, plain, short_); break;
        case 6:
            addSteps(steps, plain, short_);
            addSteps(steps, Op::knitWithWrap);
            addSteps(steps, plain, kLeft - 1);
            break;
        default: return stockinetteRow(p);
    }
    return steps;
}

std::vector<Step> joinedRow(const GroundRow& p) {
    const int at = p.rows / 2;
    const int before = p.row < at ? p.stitches : p.row == at ? p.stitches / 2 : 0;
    const Op plain = p.wrong ? Op::purl : Op::knit;
    Steps steps;
    work(steps, plain, before, 0);
    work(steps, plain, p.stitches - before, 1);
    return steps;
}

std::vector<Step> strandedRow(const GroundRow& p) {
    if (p.row == 0) return stockinetteRow(p);
    Steps steps;
    for (int i = 0; i < p.stitches; ++i) {
        const int column = p.wrong ? p.stitches - 1 - i : i;
        const bool second = (column + 2 * (p.row / 2)) % 4 >= 2;
        work(steps, p.wrong ? Op::purl : Op::knit, 1, second ? 1 : 0);
    }
    return steps;
}

std::vector<Step> blocksRow(const GroundRow& p) {
    const Op plain = p.wrong ? Op::purl : Op::knit;
    const int right = p.stitches / 2;
    Steps steps;
    work(steps, plain, p.wrong ? p.stitches - right : right, p.wrong ? 1 : 0);
    work(steps, plain, p.wrong ? right : p.stitches - right, p.wrong ? 0 : 1, p.row > 0);
    return steps;
}

std::vector<Step> caughtRow(const GroundRow& p) {
    if (p.row == 0) return stockinetteRow(p);
    constexpr int kEvery = 7;
    constexpr int kFirst =
        3;  // the second color, counted from the right edge; between two of them lies a float
    const int last = p.stitches - kEvery + kFirst;
    // One row to the right of the middle, one to the left: what catches does not stand on what has caught.
    const int middle = p.row % 2 == 0 ? kFirst + 3 : kFirst + 4;
    Steps steps;
    for (int i = 0; i < p.stitches; ++i) {
        const int column = p.wrong ? p.stitches - 1 - i : i;
        const bool second = column % kEvery == kFirst;
        const bool catches =
            p.row > 1 && column > kFirst && column < last && column % kEvery == middle % kEvery;
        const Op plain = p.wrong ? Op::purl : Op::knit;
        const Op caught = p.wrong ? Op::purlWithFloat : Op::knitWithFloat;
        work(steps, catches ? caught : plain, 1, second ? 1 : 0);
    }
    return steps;
}

}  // namespace loopmend
