// SPDX-License-Identifier: MIT
// Rows that were sewn: a thread of its own joins the edge below, where one yarn ends, with the edge above,
// where another begins.
#include <algorithm>
#include <optional>
#include <utility>

#include "pattern/order.h"
#include "pattern/sign.h"
#include "reading/script_reader.h"

namespace loopmend {

namespace {

/// The same row worked from its other end, with the other side facing. False: something in it has no like
/// there.
bool turnRow(WorkedRow& row, std::vector<LoopId>& made) {
    const Facing other = opposite(row.facing);
    std::vector<Step> steps;
    steps.reserve(row.steps.size());
    for (auto step = row.steps.rbegin(); step != row.steps.rend(); ++step) {
        const std::optional<Step> turned = stepOf(signOf(*step, row.facing), other);
        if (!turned) return false;
        steps.push_back(*turned);
    }
    row.facing = other;
    row.steps = std::move(steps);
    std::reverse(made.begin(), made.end());
    return true;
}

}  // namespace

void ScriptReader::joinGrafts() {
    std::vector<WorkedRow>& rows = out_.script.rows;
    /// The one yarn of a row; -1: of several, or none.
    const auto yarnOf = [&](std::size_t r) {
        if (r >= rows.size() || rows[r].steps.empty()) return -1;
        const int yarn = rows[r].steps.front().yarn;
        const bool one = std::all_of(rows[r].steps.begin(), rows[r].steps.end(),
                                     [&](const Step& s) { return s.yarn == yarn; });
        return one ? yarn : -1;
    };
    const auto isUsedBeside = [&](int yarn, std::size_t from, std::size_t to) {
        for (std::size_t r = 0; r < rows.size(); ++r) {
            if (r >= from && r < to) continue;
            for (const Step& step : rows[r].steps) {
                if (step.yarn == yarn) return true;
            }
        }
        return false;
    };
    const auto rename = [&](int from, int to) {
        for (WorkedRow& row : rows) {
            for (Step& step : row.steps) {
                if (step.yarn == from) step.yarn = static_cast<std::uint8_t>(to);
                if (step.yarn > from) --step.yarn;
            }
        }
        yarns_.erase(yarns_.begin() + from);
    };
    for (std::size_t r = 1; r + 1 < rows.size(); ++r) {
        const int below = yarnOf(r - 1);
        const int thread = yarnOf(r);
        const int above = yarnOf(r + 1);
        if (below < 0 || thread < 0 || above < 0 || below >= thread || thread >= above) continue;
        const Yarn& sewn = f_[yarns_[static_cast<std::size_t>(thread)]];
        const Yarn& under = f_[yarns_[static_cast<std::size_t>(below)]];
        const Yarn& over = f_[yarns_[static_cast<std::size_t>(above)]];
        if (sewn.flags.ball != 0 || under.flags.ball != 0 || under.flags.colour != over.flags.colour)
            continue;
        if (isUsedBeside(thread, r, r + 1) || isUsedBeside(below, 0, r) ||
            isUsedBeside(above, r + 1, rows.size()))
            continue;
        out_.grafted.push_back(static_cast<int>(r) + 1);
        rename(above, below);
        rename(thread, below);
        // Sewn from the other end than it would have been worked from.
        if (!rows[r].round && rows[r].facing == rows[r - 1].facing) (void)turnRow(rows[r], out_.madeBy[r]);
    }
}

}  // namespace loopmend
