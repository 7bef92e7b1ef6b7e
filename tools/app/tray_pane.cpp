// SPDX-License-Identifier: MIT
#include <array>

#include <fmt/format.h>
#include <imgui.h>

#include "app/panes.h"

namespace loopmend::app {

namespace {

constexpr std::array<ToolShown, 5> kTools = {{{Ask::takeNotion, 0, "Point", "1"},
                                              {Ask::takeNotion, 1, "Fingers", "2"},
                                              {Ask::takeNotion, 2, "Needle tips", "3"},
                                              {Ask::takeNotion, 3, "Hook", "4"},
                                              {Ask::takeNotion, 4, "Pin", "5"}}};

void pressable(const Desk& desk, const char* id, const char* label, const char* key, bool enabled, Ask ask) {
    Controls::Extra extra;
    extra.enabled = enabled;
    extra.key = key;
    if (desk.controls.button(Area::notions, id, label, Controls::Kind::button, extra)) desk.commands.push(ask);
    ImGui::SameLine();
}

}  // namespace

void drawTray(const Desk& desk, const TrayState& state) {
    // What the tool in hand would do comes first: it changes as she points.
    if (state.offers.empty()) {
        paragraph(desk, state.pointed.empty() ? "Point at a stitch, or walk with the arrow keys." : state.pointed,
                  desk.palette.text);
    } else {
        const Offer& offer = state.offers[state.offer];
        const std::string doing = offer.possible ? offer.words : offer.words + "  " + offer.refusal;
        Controls::Extra extra;
        extra.key = "Space";
        extra.enabled = offer.possible;
        extra.mark = offer.possible ? "" : "✗";
        if (state.offers.size() > 1) {
            extra.width = ImGui::GetContentRegionAvail().x - 190 * desk.textSize;
        } else {
            extra.width = -1;
        }
        if (desk.controls.button(Area::notions, "tray.do", doing, Controls::Kind::button, extra)) {
            desk.commands.push(Ask::doIt);
        }
        if (state.offers.size() > 1) {
            ImGui::SameLine();
            extra = {};
            extra.key = "A";
            extra.width = -1;
            if (desk.controls.button(Area::notions, "tray.other",
                                     fmt::format("Other way {}/{}", state.offer + 1, state.offers.size()),
                                     Controls::Kind::button, extra)) {
                desk.commands.push(Ask::otherWay);
            }
        }
    }
    for (const ToolShown& tool : kTools) {
        Controls::Extra extra;
        extra.chosen = tool.n == state.inHand;
        extra.key = tool.key;
        if (desk.controls.button(Area::notions, fmt::format("tool.{}", tool.n), tool.name, Controls::Kind::button,
                                 extra)) {
            desk.commands.push(tool.ask, tool.n);
        }
        ImGui::SameLine();
    }
    ImGui::Dummy(ImVec2(10 * desk.textSize, 0));
    ImGui::SameLine();
    pressable(desk, "tray.undo", "Undo", "Z", state.canUndo, Ask::undo);
    pressable(desk, "tray.redo", "Redo", "Y", state.canRedo, Ask::redo);
    pressable(desk, "tray.row", "Knit the row", "K", state.canKnitRow, Ask::knitRow);
    ImGui::NewLine();
}

}  // namespace loopmend::app
