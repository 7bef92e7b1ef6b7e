// SPDX-License-Identifier: MIT
#include "repair/depths.h"

#include <map>
#include <string>
#include <vector>

#include "repair/search.h"

namespace loopmend {

namespace {

/// What is decided, from the needle downward: how far rows are taken back, then for each wrong row below how
/// its stitches are worked up again.
struct Choice {
    int row = 0;
    bool panel = false;
};

}  // namespace

std::optional<int> depthToRip(const Situation& s) {
    const Pace& pace = s.ask.pace;
    const int top = s.actualSpots.lastRow() + 1;
    std::map<int, int> wrong;  // stitches of a row
    for (const LoopId m : s.pairing.missing) ++wrong[s.meantSpots.of(m).row];
    for (const LoopId a : s.pairing.extra) ++wrong[s.actualSpots.of(a).row];
    for (const LoopId a : s.pairing.changed) ++wrong[s.actualSpots.of(a).row];
    const auto ripSeconds = [&](int from) {
        double seconds = 0;
        const auto& rows = s.actualSpots.rows();
        for (auto r = static_cast<std::size_t>(from); r < rows.size(); ++r)
            seconds +=
                static_cast<double>(rows[r].size()) * (pace.ripSecondsPerStitch + pace.secondsPerStitch);
        if (from < top && !rows.empty())
            seconds += static_cast<double>(rows.back().size()) * pace.seatFactor * pace.secondsPerStitch;
        return seconds;
    };
    // A state: the row taken back to, the row looked at below it, whether the spare needles are out.
    const auto keyOf = [](int to, int at, bool needles) {
        return std::to_string(to) + " " + std::to_string(at) + (needles ? " n" : " -");
    };
    const auto below = [&](int row) {
        auto at = wrong.lower_bound(row);
        while (at != wrong.begin()) {
            --at;
            if (at->first > 0) return at->first;
        }
        return 0;
    };
    const auto way = cheapestWay<Choice, std::string>(
        "start",
        [&](const std::vector<Choice>& path, auto emit) {
            if (path.empty()) {
                emit(Choice{top, false}, keyOf(top, below(top), false), 0.0);
                for (const auto& [row, stitches] : wrong) {
                    if (row > 1) emit(Choice{row, false}, keyOf(row, below(row), false), ripSeconds(row));
                }
                return;
            }
            const int to = path.front().row;
            const int at = path.size() == 1 ? below(to) : below(path.back().row);
            if (at == 0) return;
            bool needles = false;
            for (const Choice& c : path) needles = needles || c.panel;
            const double stitches = static_cast<double>(wrong.at(at)) * (to - at);
            emit(Choice{at, false}, keyOf(to, below(at), needles),
                 wrong.at(at) * (pace.hookSetUpSeconds + pace.pinSeconds) +
                     stitches * pace.hookFactor * pace.secondsPerStitch);
            emit(Choice{at, true}, keyOf(to, below(at), true),
                 (needles ? 0.0 : pace.panelSetUpSeconds) + (to - at) * pace.panelRowSeconds +
                     stitches * pace.panelFactor * pace.secondsPerStitch);
        },
        [](const std::string& key) { return key.find(" 0 ") != std::string::npos; }, {20000, 1e12});
    if (!way.found || way.steps.empty()) return std::nullopt;
    const int to = way.steps.front().row;
    if (to >= top || to == s.firstWrongRow()) return std::nullopt;
    return to;
}

}  // namespace loopmend
