// SPDX-License-Identifier: MIT
#include <fmt/format.h>
#include <imgui.h>

#include "app/shelf_pane.h"
#include "app/wide_paper.h"

namespace loopmend::app {

void drawGroup(const Desk& desk, const Learning& learning, const GroupState& state) {
    WidePaper paper(desk, "group", state.pages);
    heading(desk, "Show a group");
    paragraph(desk,
              "A mending, large and slow: one move at a time, forward with Page Down and back with Page Up. "
              "Nobody is asked anything.",
              desk.palette.text);
    if (!state.notice.empty()) aside(desk, "", state.notice);
    if (!state.onTable.empty() &&
        wideButton(desk, "group.table", "What lies on the table: " + state.onTable, Controls::Kind::main)) {
        desk.commands.push(Ask::showMending);
    }
    paragraph(desk, "For another piece, put a mistake in on the free table first.", desk.palette.quiet);
    if (wideButton(desk, "group.free", "The free table", Controls::Kind::choice))
        desk.commands.push(Ask::freeTable);
    gap(desk, 6);
    if (wideButton(desk, "group.back", "Back to the shelf", Controls::Kind::button, "Esc"))
        desk.commands.push(Ask::letGo);

    paper.second();
    paragraph(desk, "From the course:", desk.palette.text);
    for (const Course::Unit& unit : learning.course().units) {
        bool headed = false;
        for (const Lesson& lesson : unit.lessons) {
            for (std::size_t i = 0; i < lesson.swatches.size(); ++i) {
                const LessonSwatch& swatch = lesson.swatches[i];
                if (swatch.faults.empty()) continue;
                if (!headed) {
                    gap(desk, 4);
                    heading(desk, unit.title);
                }
                headed = true;
                std::string whose =
                    swatch.member.empty() ? swatch.thing : swatch.member + "'s " + swatch.thing;
                if (lesson.swatches.size() > 1) whose = fmt::format("Swatch {}: {}", i + 1, whose);
                Controls::Card card;
                card.title = lesson.title;
                card.about = whose;
                if (desk.controls.card(Area::shelf, fmt::format("group.{}.{}", lesson.id, i), card,
                                       desk.fonts))
                    desk.commands.push(Ask::showMending, static_cast<int>(i), lesson.id);
            }
        }
    }
}

}  // namespace loopmend::app
