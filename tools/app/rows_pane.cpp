// SPDX-License-Identifier: MIT
#include <algorithm>

#include <fmt/format.h>
#include <imgui.h>

#include "app/paint.h"
#include "app/panes.h"
#include "pattern/print.h"
#include "picture/chart.h"

namespace loopmend::app {

namespace {

/// One step as often as it stands there: `k5`, `yo`, `(k2tog) 3 times`.
std::string stepWords(const Step& step, std::size_t times, Terms terms) {
    if (step.op == Op::knit || step.op == Op::purl)
        return fmt::format("{}{}", step.op == Op::knit ? 'k' : 'p', times);
    if (times == 1) return printStep(step, terms);
    return fmt::format("({}) {} times", printStep(step, terms), times);
}

/// Steps from `from` up to `to`, like ones counted together.
std::string runWords(const std::vector<Step>& steps, std::size_t from, std::size_t to, Terms terms) {
    std::string text;
    for (std::size_t i = from; i < to;) {
        std::size_t n = 1;
        while (i + n < to && steps[i + n] == steps[i]) ++n;
        if (!text.empty()) text += ", ";
        text += stepWords(steps[i], n, terms);
        i += n;
    }
    return text;
}

/// `(k1, p1) 8 times, k1`: groups that stand there again and again are said once.
std::string rowWords(const std::vector<Step>& steps, Terms terms) {
    constexpr std::size_t kLongestGroup = 24;
    std::string text;
    std::size_t plainFrom = 0;
    const auto say = [&](const std::string& words) {
        if (words.empty()) return;
        if (!text.empty()) text += ", ";
        text += words;
    };
    for (std::size_t i = 0; i < steps.size();) {
        std::size_t best = 0;
        std::size_t bestTimes = 0;
        for (std::size_t period = 2; period <= kLongestGroup && i + 2 * period <= steps.size(); ++period) {
            if (runWords(steps, i, i + period, terms).find(',') == std::string::npos) continue;
            std::size_t covered = period;
            while (i + covered < steps.size() && steps[i + covered] == steps[i + covered - period]) ++covered;
            const std::size_t times = covered / period;
            if (times >= 2 && times * period > best * bestTimes) {
                best = period;
                bestTimes = times;
            }
        }
        if (best == 0) {
            ++i;
            continue;
        }
        say(runWords(steps, plainFrom, i, terms));
        say(fmt::format("({}) {} times", runWords(steps, i, i + best, terms), bestTimes));
        i += best * bestTimes;
        plainFrom = i;
    }
    say(runWords(steps, plainFrom, steps.size(), terms));
    return text;
}

void drawWords(const Desk& desk, const Script& script, const RowsState& state) {
    int stitches = script.castOn;
    paragraph(desk, fmt::format("Cast on {}.", script.castOn), desk.palette.text);
    for (const WorkedRow& row : script.rows) {
        if (row.number > state.current + 1) break;
        for (const Step& step : row.steps) stitches += makes(step) - uses(step);
        const bool inHand = row.number == state.current;
        const ImVec2 from = ImGui::GetCursorScreenPos();
        const std::string face = row.round ? "" : row.facing == Facing::right ? " (RS)" : " (WS)";
        const std::string words = fmt::format("{} {}{}: {} ({})", row.round ? "Round" : "Row", row.number,
                                              face, rowWords(row.steps, desk.terms), stitches);
        paragraph(desk, words, inHand ? desk.palette.text : desk.palette.quiet);
        if (inHand) {
            // The folded edge of paper that knitters lay on the row in hand.
            const float bottom = ImGui::GetCursorScreenPos().y - ImGui::GetStyle().ItemSpacing.y / 2;
            const float right = from.x + ImGui::GetContentRegionAvail().x;
            ImGui::GetWindowDrawList()->AddLine(ImVec2(from.x, bottom), ImVec2(right, bottom),
                                                desk.palette.chosen, 3 * desk.textSize);
            ImGui::SetScrollHereY(0.6F);
        }
    }
}

void drawChart(const Desk& desk, const Fabric& fabric, const RowsState& state) {
    ChartOptions options;
    options.terms = desk.terms;
    options.firstRow = std::max(1, state.current - 10);
    options.side = Side::right;
    const Drawing drawing = drawingOf(chartOf(fabric, options), options);
    const float room = ImGui::GetContentRegionAvail().x;
    const float scale = std::min(6.0F, room / static_cast<float>(std::max(1.0, drawing.widthMm)));
    const ImVec2 from = ImGui::GetCursorScreenPos();
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    const ImVec2 size(static_cast<float>(drawing.widthMm) * scale,
                      static_cast<float>(drawing.heightMm) * scale);
    draw.AddRectFilled(from, ImVec2(from.x + size.x, from.y + size.y), 0xFFFFFFFF);
    paint(drawing, draw, from.x, from.y, scale);
    ImGui::Dummy(size);
}

}  // namespace

void drawRows(const Desk& desk, const Script& script, const RowsState& state) {
    Controls::Extra extra;
    extra.width = -1;
    extra.key = "X";
    if (desk.controls.button(Area::rows, "rows.chart", state.asChart ? "Rows: chart" : "Rows: words",
                             Controls::Kind::button, extra)) {
        desk.commands.push(Ask::rowsAsChart);
    }
    if (state.asChart && state.meant != nullptr) {
        drawChart(desk, *state.meant, state);
    } else {
        drawWords(desk, script, state);
    }
}

}  // namespace loopmend::app
