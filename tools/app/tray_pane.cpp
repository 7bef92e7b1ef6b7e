// SPDX-License-Identifier: MIT
#include <array>

#include <fmt/format.h>
#include <imgui.h>

#include "app/panes.h"

namespace loopmend::app {

namespace {

constexpr std::array<ToolShown, 5> kTools = {{{Ask::takeNotion, 0, "Point", "1"},
                                              {Ask::takeNotion, 1, "Fingers", "2"},
                                              {Ask::takeNotion, 2, "Needle", "3"},
                                              {Ask::takeNotion, 3, "Hook", "4"},
                                              {Ask::takeNotion, 4, "Pin", "5"}}};

/// Buttons beside each other, as many as a line holds.
class Line {
  public:
    explicit Line(const Desk& desk) : desk_(desk) {}
    void press(const std::string& id, const std::string& label, Controls::Extra extra, Ask ask, int n = 0) {
        // Large letters need the room; the keys stand on a page of their own.
        if (desk_.textSize > 1.45F) extra.key = {};
        if (begun_) desk_.controls.flow(desk_.controls.widthOf(label, Controls::Kind::button, extra));
        begun_ = true;
        if (desk_.controls.button(Area::notions, id, label, Controls::Kind::button, extra))
            desk_.commands.push(ask, n);
    }

  private:
    const Desk& desk_;
    bool begun_ = false;
};

Controls::Extra withKey(const char* key, bool enabled = true) {
    Controls::Extra extra;
    extra.key = key;
    extra.enabled = enabled;
    return extra;
}

}  // namespace

void drawTray(const Desk& desk, const TrayState& state) {
    // What the tool in hand would do comes first: it changes as she points.
    if (state.offers.empty()) {
        paragraph(desk,
                  state.pointed.empty() ? "Point at a stitch, or walk with the arrow keys." : state.pointed,
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
    Line line(desk);
    for (const ToolShown& tool : kTools) {
        Controls::Extra extra = withKey(tool.key);
        extra.chosen = tool.n == state.inHand;
        line.press(fmt::format("tool.{}", tool.n), tool.name, extra, tool.ask, tool.n);
    }
    if (state.hasParts && state.inHand == 0) line.press("tray.part", "Part", withKey("N"), Ask::nextPart);
    line.press("tray.undo", "Undo", withKey("Z", state.canUndo), Ask::undo);
    line.press("tray.redo", "Redo", withKey("Y", state.canRedo), Ask::redo);
    line.press("tray.row", "Knit row", withKey("K", state.canKnitRow), Ask::knitRow);
}

}  // namespace loopmend::app
