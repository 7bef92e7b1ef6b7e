// SPDX-License-Identifier: MIT
#include "pattern/part_of_row.h"

#include <algorithm>

namespace loopmend {

namespace {

Step plainStep(bool knitted) {
    Step step;
    step.op = knitted ? Op::knit : Op::purl;
    return step;
}

int net(const Step& step) {
    return makes(step) - uses(step);
}

/// The first such step from one end; end(): there is none.
template <class Is>
std::vector<Step>::iterator firstFrom(std::vector<Step>& part, bool fromEnd, Is is) {
    if (!fromEnd) return std::find_if(part.begin(), part.end(), is);
    const auto last = std::find_if(part.rbegin(), part.rend(), is);
    return last == part.rend() ? part.end() : last.base() - 1;
}

/// The first step from one end that makes a stitch out of nothing is left out, or one of its wraps.
bool dropOne(std::vector<Step>& part, bool fromEnd) {
    const auto makesOne = [](const Step& s) { return uses(s) == 0 && makes(s) > 0; };
    const auto at = firstFrom(part, fromEnd, makesOne);
    if (at == part.end()) return false;
    if (at->count > 1) {
        --at->count;
    } else {
        part.erase(at);
    }
    return true;
}

/// The first decrease from one end takes a stitch fewer: what it does not take is worked plain on the side of
/// that end.
bool openOne(std::vector<Step>& part, bool fromEnd, bool knitted) {
    const auto takesMore = [](const Step& s) { return makes(s) == 1 && uses(s) > 1; };
    const auto at = firstFrom(part, fromEnd, takesMore);
    if (at == part.end()) return false;
    const int taken = uses(*at);
    if (taken == 2) {
        *at = plainStep(knitted);
    } else if (taken == 3) {
        at->op = knitted ? Op::k2tog : Op::p2tog;
    } else {
        return false;
    }
    part.insert(fromEnd ? at + 1 : at, plainStep(knitted));
    return true;
}

/// What lies outside one end changes the count by `lost`: as much has to go inside.
bool settled(std::vector<Step>& part, int lost, bool fromEnd, bool knitted) {
    for (; lost < 0; ++lost) {
        if (!dropOne(part, fromEnd)) return false;
    }
    for (; lost > 0; --lost) {
        if (!openOne(part, fromEnd, knitted)) return false;
    }
    return true;
}

}  // namespace

bool isPlainKnit(const std::vector<Step>& row) {
    const auto plain = std::find_if(row.begin(), row.end(),
                                    [](const Step& s) { return s.op == Op::knit || s.op == Op::purl; });
    return plain == row.end() || plain->op == Op::knit;
}

std::optional<std::vector<Step>> partOfRow(const std::vector<Step>& row, int from, int to) {
    // A row that turns before its end is no row of a pattern.
    if (std::any_of(row.begin(), row.end(),
                    [](const Step& step) { return step.op == Op::turn || step.op == Op::wrapTurn; }))
        return std::nullopt;
    const bool knitted = isPlainKnit(row);
    std::vector<Step> part;
    const auto plain = [&](int n) {
        part.insert(part.end(), static_cast<std::size_t>(std::max(0, n)), plainStep(knitted));
    };
    int width = 0;
    for (const Step& step : row) width += uses(step);
    int lostBefore = 0;
    int lostAfter = 0;
    int at = 0;
    plain(std::min(to, 0) - from);
    for (const Step& step : row) {
        const int taken = uses(step);
        if (taken < 0) return std::nullopt;
        const int end = at + taken;
        // At a shaped edge a yarn-over has no stitch beside it.
        const bool inside =
            taken > 0 ? at >= from && end <= to : (at > from || from <= 0) && (at < to || to >= width);
        if (inside) {
            part.push_back(step);
        } else {
            plain(std::min(end, to) - std::max(at, from));
            (at < from || (taken == 0 && at <= from) ? lostBefore : lostAfter) += net(step);
        }
        at = end;
    }
    plain(to - std::max(at, from));
    int all = 0;
    for (const Step& step : row) all += net(step);
    if (all != 0) return std::nullopt;
    std::vector<Step> eachSide = part;
    if (settled(eachSide, lostBefore, false, knitted) && settled(eachSide, lostAfter, true, knitted))
        return eachSide;
    if (!settled(part, lostBefore + lostAfter, lostAfter != 0, knitted)) return std::nullopt;
    return part;
}

std::vector<Item> itemsOf(const std::vector<Step>& steps) {
    std::vector<Item> items;
    for (const Step& step : steps) {
        if (!items.empty() && printedWithNumber(step.op) && items.back().step == step) {
            ++items.back().times;
            continue;
        }
        Item item;
        item.step = step;
        items.push_back(std::move(item));
    }
    return items;
}

}  // namespace loopmend
