// SPDX-License-Identifier: MIT
#include "fault/steps.h"

#include <algorithm>

#include "pattern/op_kinds.h"

namespace loopmend {

bool isPlain(const Step& step) {
    return step.op == Op::knit || step.op == Op::purl;
}

bool isOfOneStitch(const std::vector<Step>& steps, int from) {
    const auto first = steps.begin() + std::min<std::ptrdiff_t>(from, std::ssize(steps));
    return std::all_of(first, steps.end(), [&](const Step& s) { return isPlain(s) && s == *first; });
}

bool isPurl(const Step& step) {
    return purls(step.op);
}

bool isDecrease(const Step& step) {
    return makes(step) == 1 && uses(step) > 1 && step.op != Op::cable;
}

bool isYarnOver(const Step& step) {
    return step.op == Op::yarnOver || step.op == Op::yarnOverReverse;
}

bool isMakeOne(const Step& step) {
    switch (step.op) {
        case Op::m1Left:
        case Op::m1Right:
        case Op::m1PurlLeft:
        case Op::m1PurlRight:
        case Op::m1Open: return true;
        default: return false;
    }
}

bool isBindOff(const Step& step) {
    return step.op == Op::bindOff || step.op == Op::bindOffPurl || step.op == Op::bindOffTogether;
}

bool takesLoopLeft(const WorkedRow& row, int step) {
    for (int i = step - 1; i >= 0; --i) {
        const Step& before = row.steps[static_cast<std::size_t>(i)];
        if (isBindOff(before)) return true;
        if (uses(before) > 0) return false;
    }
    return false;
}

bool plainIsPurl(const WorkedRow& row, int step) {
    const int n = static_cast<int>(row.steps.size());
    for (int i = step; i < n; ++i) {
        if (isPlain(row.steps[static_cast<std::size_t>(i)]))
            return isPurl(row.steps[static_cast<std::size_t>(i)]);
    }
    for (int i = std::min(step, n) - 1; i >= 0; --i) {
        if (isPlain(row.steps[static_cast<std::size_t>(i)]))
            return isPurl(row.steps[static_cast<std::size_t>(i)]);
    }
    return std::any_of(row.steps.begin(), row.steps.end(), [](const Step& s) { return isPurl(s); });
}

std::vector<Step> withFewer(const Step& step, int there, int over, int under) {
    Step fewer = step;
    Step plain;
    plain.op = isPurl(step) ? Op::purl : Op::knit;
    switch (step.op) {
        case Op::bindOff:
        case Op::bindOffPurl:
        case Op::hold: fewer.count = static_cast<std::int16_t>(there); return {fewer};
        case Op::cable: {
            if (over > 0 && under > 0) {
                fewer.over = static_cast<std::int16_t>(over);
                fewer.under = static_cast<std::int16_t>(under);
                return {fewer};
            }
            plain.op = (over > 0 ? step.purlOver : step.purlUnder) ? Op::purl : Op::knit;
            return std::vector<Step>(static_cast<std::size_t>(there), plain);
        }
        case Op::k2togOver: {
            Step over1;
            over1.op = Op::passOver;
            return {plain, over1};
        }
        case Op::slip1k2Over: return std::vector<Step>(static_cast<std::size_t>(there), plain);
        default: break;
    }
    if (there < 2) return {plain};
    switch (step.op) {
        case Op::k3togTbl: fewer.op = Op::k2togTbl; break;
        case Op::sssk: fewer.op = Op::ssk; break;
        case Op::sk2p: fewer.op = Op::skp; break;
        case Op::p3togTbl: fewer.op = Op::p2togTbl; break;
        case Op::sp2p: fewer.op = Op::spp; break;
        default: fewer.op = isPurl(step) ? Op::p2tog : Op::k2tog; break;
    }
    return {fewer};
}

}  // namespace loopmend
