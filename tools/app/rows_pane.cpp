// SPDX-License-Identifier: MIT
#include <algorithm>

#include <fmt/format.h>
#include <imgui.h>

#include "app/paint.h"
#include "app/panes.h"
#include "picture/chart.h"
#include "tutor/row_words.h"

namespace loopmend::app {

namespace {

void drawWords(const Desk& desk, const Script& script, const RowsState& state) {
    int stitches = script.castOn;
    paragraph(desk,
              state.below ? fmt::format("A part, {} stitches.", script.castOn)
                          : fmt::format("Cast on {}.", script.castOn),
              desk.palette.text);
    for (const WorkedRow& row : script.rows) {
        if (row.number > state.current + 1) break;
        for (const Step& step : row.steps) stitches += makes(step) - uses(step);
        const bool inHand = row.number == state.current;
        const ImVec2 from = ImGui::GetCursorScreenPos();
        const std::string face = row.round ? "" : row.facing == Facing::right ? " (RS)" : " (WS)";
        const std::string words =
            fmt::format("{} {}{}: {} ({})", row.round ? "Round" : "Row", row.number + state.below.value_or(0),
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
    if (state.away) {
        paragraph(desk, "The pattern lies face down: read it from the cloth.", desk.palette.text);
        return;
    }
    if (state.asChart && state.meant != nullptr) {
        drawChart(desk, *state.meant, state);
    } else {
        drawWords(desk, script, state);
    }
}

}  // namespace loopmend::app
