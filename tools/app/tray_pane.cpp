// SPDX-License-Identifier: MIT
#include <array>

#include <fmt/format.h>
#include <imgui.h>

#include "app/panes.h"

namespace loopmend::app {

namespace {

/// A pointing finger, then the notions in their order.
constexpr std::array<ToolShown, kNotions + 1> kTools = {{{Ask::takeNotion, 0, "Point", "1"},
                                                         {Ask::takeNotion, 1, "Fingers", "2"},
                                                         {Ask::takeNotion, 2, "Needle", "3"},
                                                         {Ask::takeNotion, 3, "Hook", "4"},
                                                         {Ask::takeNotion, 4, "Pin", "5"},
                                                         {Ask::takeNotion, 5, "Spare needle", "6"},
                                                         {Ask::takeNotion, 6, "Cable needle", "7"},
                                                         {Ask::takeNotion, 7, "Thread", "8"},
                                                         {Ask::takeNotion, 8, "Scissors", "9"},
                                                         {Ask::takeNotion, 9, "Sewing needle", "S"}}};

/// Tools with which cloth can come to harm: their line of caution is kept free.
bool mindsCaution(Notion notion) {
    return notion == Notion::thread || notion == Notion::spareNeedle || notion == Notion::scissors ||
           notion == Notion::bluntNeedle;
}

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
    const std::string prompt =
        state.pointed.empty() ? "Point at a stitch, or walk with the arrow keys." : state.pointed;
    if (state.offers.empty() && state.inHand > 0) {
        // As high as an offer: the cloth must not move under the pointer as she comes to a stitch.
        Controls::Extra extra;
        extra.enabled = false;
        extra.width = -1;
        (void)desk.controls.button(Area::notions, "tray.do", prompt, Controls::Kind::button, extra);
    } else if (state.offers.empty()) {
        paragraph(desk, prompt, desk.palette.text);
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
    const bool cautious = !state.offers.empty() && state.offers[state.offer].possible &&
                          !state.offers[state.offer].caution.empty();
    if (cautious) {
        paragraph(desk, "! " + state.offers[state.offer].caution, desk.palette.text);
    } else if (state.inHand > 0 && mindsCaution(static_cast<Notion>(state.inHand - 1))) {
        paragraph(desk, " ", desk.palette.text);
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
