// SPDX-License-Identifier: MIT
#include "diagnosis/close_up.h"

#include <algorithm>
#include <utility>

#include "diagnosis/close_by.h"
#include "fault/knit_with.h"

namespace loopmend {

namespace {

/// Above the place: what a mistake makes of the rows after it begins there.
constexpr int kRowsAbove = 5;

}  // namespace

std::optional<CloseUp> closeUpOf(const Case& its, const CaseExplanation& explanation) {
    if (!explanation.fault) return std::nullopt;
    Script script = its.meant().script;
    const int top = std::max(explanation.row, explanation.seenRow) + kRowsAbove;
    script.rows.resize(static_cast<std::size_t>(
        std::clamp(std::min(top, its.meant().rowsDone), 0, static_cast<int>(script.rows.size()))));
    auto knitting = knitWith(script, its.start().setup, {*explanation.fault}, explanation.after);
    if (!knitting) return std::nullopt;
    CloseUp up;
    const LookedAt looked(*knitting->actual.fabric, *knitting->meant.fabric, &script);
    up.row = std::max(1, explanation.seenRow);
    up.column = std::clamp<int>(explanation.column, 1, std::max(1, looked.width(up.row)));
    std::optional<CloseBy> plainest;
    for (const Side side : {Side::right, Side::wrong})
        for (const CloseBy& sign : closeBy(looked, up.row, up.column, side))
            if (!plainest || sign.away < plainest->away) {
                plainest = sign;
                up.side = side;
            }
    if (plainest) {
        up.row = plainest->row;
        up.column = plainest->column;
        up.sign = plainest->sign;
    }
    up.meant = std::move(knitting->meant.fabric);
    up.actual = std::move(knitting->actual.fabric);
    return up;
}

}  // namespace loopmend
