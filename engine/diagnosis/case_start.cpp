// SPDX-License-Identifier: MIT
// What was meant: a pattern's rows, or a ground.
#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "diagnosis/case.h"
#include "fault/grounds.h"
#include "pattern/chart_text.h"
#include "pattern/counts.h"
#include "pattern/parse.h"

namespace loopmend {

namespace {

constexpr int kEnoughToSee = 24;
constexpr int kRowsToCome = 4;
constexpr int kMostCaseRows = 2000;

StockGround stockFor(CaseGround ground) {
    switch (ground) {
        case CaseGround::garter: return StockGround::garter;
        case CaseGround::rib: return StockGround::rib;
        case CaseGround::seed: return StockGround::seed;
        case CaseGround::plain:
        case CaseGround::unknown: break;
    }
    return StockGround::stockinette;
}

}  // namespace

std::string_view name(CaseGround ground) {
    constexpr std::array<std::string_view, kCaseGrounds> kNames = {"plain", "garter", "rib", "seed",
                                                                   "unknown"};
    return kNames[static_cast<std::size_t>(ground)];
}

std::optional<CaseGround> caseGroundFrom(std::string_view word) {
    for (int i = 0; i < kCaseGrounds; ++i) {
        if (name(static_cast<CaseGround>(i)) == word) return static_cast<CaseGround>(i);
    }
    return std::nullopt;
}

tl::expected<CaseMeant, std::string> meantBy(const CaseStart& start) {
    const auto bad = [](std::string words) { return tl::unexpected<std::string>(std::move(words)); };
    if (start.rowsDone < 1)
        return bad("no row is done yet; say how many rows are worked (rows_done), at least 1");
    if (start.rowsDone > kMostCaseRows)
        return bad(fmt::format("{} rows are more than a case can hold ({})", start.rowsDone, kMostCaseRows));
    CaseMeant meant;
    meant.rowsDone = start.rowsDone;
    if (start.pattern.empty()) {
        const int stitches = start.stitches > 0 ? start.stitches : kEnoughToSee;
        if (stitches > kMostCaseRows)
            return bad(
                fmt::format("{} stitches are more than a case can hold ({})", stitches, kMostCaseRows));
        meant.script = stockGround(stockFor(start.ground), stitches, start.rowsDone + kRowsToCome);
        return meant;
    }
    Pattern pattern;
    if (looksLikeChart(start.pattern)) {
        const WrittenChart chart = parseChart(start.pattern);
        if (!chart.problems.empty()) return bad("the chart: " + chart.problems.front().message);
        pattern = patternOf(chart);
    } else {
        pattern = parse(start.pattern);
    }
    if (!pattern.problems.empty()) {
        const Problem& problem = pattern.problems.front();
        return bad(fmt::format("the pattern, line {}: {}", problem.line, problem.message));
    }
    int stitches = start.stitches;
    if (stitches <= 0) {
        if (pattern.castOn) {
            stitches = *pattern.castOn;
        } else {
            const PatternCounts counts = countAll(pattern);
            stitches = kEnoughToSee;
            if (counts.multiple) {
                const Multiple& m = *counts.multiple;
                std::int64_t n = std::max(m.plus, m.least);
                if (m.of > 0 && n < kEnoughToSee) n += (kEnoughToSee - n + m.of - 1) / m.of * m.of;
                stitches = static_cast<int>(n);
            }
        }
    }
    // As many rows to come as there are.
    for (int rows = start.rowsDone + kRowsToCome; rows >= start.rowsDone; --rows) {
        auto script = expand(pattern, stitches, rows);
        if (script && static_cast<int>(script->rows.size()) >= start.rowsDone) {
            meant.script = std::move(*script);
            return meant;
        }
        if (rows == start.rowsDone) {
            if (!script)
                return bad(fmt::format("the pattern cannot be worked on {} stitches: {}", stitches,
                                       script.error().message));
            return bad(fmt::format("{} rows are said to be done, but the pattern has {}", start.rowsDone,
                                   script->rows.size()));
        }
    }
    return bad("the pattern has no rows");
}

}  // namespace loopmend
