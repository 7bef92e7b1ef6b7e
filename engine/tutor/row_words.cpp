// SPDX-License-Identifier: MIT
#include "tutor/row_words.h"

#include <algorithm>
#include <utility>

#include "pattern/chart_layout.h"
#include "pattern/part_of_row.h"
#include "pattern/print.h"

namespace loopmend {

namespace {

std::vector<Step> part(const std::vector<Step>& steps, std::size_t from, std::size_t to) {
    return {steps.begin() + static_cast<std::ptrdiff_t>(from),
            steps.begin() + static_cast<std::ptrdiff_t>(to)};
}

}  // namespace

int usesOf(const std::vector<Step>& steps) {
    int sum = 0;
    for (const Step& step : steps) sum += uses(step);
    return sum;
}

int makesOf(const std::vector<Step>& steps) {
    int sum = 0;
    for (const Step& step : steps) sum += makes(step);
    return sum;
}

std::vector<Item> shortestItems(const std::vector<Step>& steps) {
    constexpr std::size_t kLongestUnit = 14;
    constexpr std::size_t kLongestStart = 6;
    std::vector<Item> best = itemsOf(steps);
    std::size_t bestCount = best.size();
    for (std::size_t start = 0; start <= std::min(kLongestStart, steps.size()); ++start) {
        for (std::size_t unit = 2; unit <= kLongestUnit && start + 2 * unit <= steps.size(); ++unit) {
            std::size_t end = start + unit;
            while (end + unit <= steps.size() &&
                   std::equal(steps.begin() + static_cast<std::ptrdiff_t>(start),
                              steps.begin() + static_cast<std::ptrdiff_t>(start + unit),
                              steps.begin() + static_cast<std::ptrdiff_t>(end)))
                end += unit;
            if (end < start + 2 * unit) continue;
            const std::vector<Step> rest = part(steps, end, steps.size());
            const int left = usesOf(rest);
            const std::vector<Step> repeated = part(steps, start, start + unit);
            // A star stops where no repeat fits any more: the rest must be shorter, and take stitches.
            if (usesOf(repeated) == 0 || (!rest.empty() && left == 0)) continue;
            Item star;
            star.kind = ItemKind::star;
            star.items = itemsOf(repeated);
            star.until = rest.empty() ? Until::end : Until::last;
            star.last = left;
            std::vector<Item> items = itemsOf(part(steps, 0, start));
            const std::vector<Item> after = itemsOf(rest);
            const std::size_t count = items.size() + star.items.size() + after.size() + 1;
            if (count >= bestCount) continue;
            bestCount = count;
            items.push_back(std::move(star));
            items.insert(items.end(), after.begin(), after.end());
            best = std::move(items);
        }
    }
    return best;
}

std::string rowWords(const std::vector<Step>& steps, Terms terms) {
    Row row;
    row.items = shortestItems(steps);
    return printBody(row, terms);
}

WrittenChart writtenOut(const Script& script) {
    WrittenChart chart;
    chart.round = script.round;
    chart.yarns = script.yarns;
    chart.rows.reserve(script.rows.size());
    for (const WorkedRow& worked : script.rows) {
        WrittenRow row;
        row.number = worked.number;
        row.facing = worked.facing;
        row.cells.reserve(worked.steps.size());
        for (const Step& step : worked.steps) {
            ChartCell cell;
            cell.sign = signOf(step, worked.facing);
            row.cells.push_back(cell);
        }
        // Kept from right to left; a wrong-side row is worked the other way.
        if (worked.facing == Facing::wrong && !worked.round) std::reverse(row.cells.begin(), row.cells.end());
        chart.rows.push_back(std::move(row));
    }
    layOut(chart, script.castOn);
    return chart;
}

std::optional<WrittenChart> boxed(const Script& script) {
    Pattern pattern;
    pattern.round = script.round;
    pattern.castOn = script.castOn;
    pattern.yarns = script.yarns;
    for (const WorkedRow& worked : script.rows) {
        Row row;
        row.round = script.round;
        row.spans = {{worked.number, worked.number}};
        if (!script.round) row.facing = worked.facing;
        row.items = shortestItems(worked.steps);
        if (row.items.size() == 1 && row.items[0].kind == ItemKind::stitch &&
            printedWithNumber(row.items[0].step.op)) {
            row.items[0].kind = ItemKind::run;  // `p19` says nothing of a repeat, `p to end` does
            row.items[0].times = 1;
        }
        pattern.rows.push_back(std::move(row));
    }
    auto chart = chartOf(pattern, script.castOn);
    if (!chart || chart->rows.size() != script.rows.size()) return std::nullopt;
    return std::move(*chart);
}

std::string chartLine(const WrittenChart& whole, int row, bool mirrored, Terms terms) {
    WrittenChart chart;
    chart.round = whole.round;
    chart.yarns = whole.yarns;
    chart.leftHanded = mirrored;
    chart.rows = {whole.rows[static_cast<std::size_t>(row) - 1]};
    const std::string text = printChart(chart, ChartStyle::symbols, terms);
    constexpr std::string_view kBegin = "Chart:\n";
    const std::size_t from = text.find(kBegin) + kBegin.size();
    std::string line;
    for (const char c : text.substr(from, text.find('\n', from) - from)) {
        if (c == ' ' && (line.empty() || line.back() == ' ')) continue;
        line += c;
    }
    while (!line.empty() && line.back() == ' ') line.pop_back();
    return line;
}

}  // namespace loopmend
