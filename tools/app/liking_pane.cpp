// SPDX-License-Identifier: MIT
#include <array>
#include <utility>

#include <fmt/format.h>
#include <imgui.h>

#include "app/panes.h"
#include "app/settings.h"
#include "app/wide_paper.h"

namespace loopmend::app {

void drawLiking(const Desk& desk, const Settings& settings) {
    WidePaper paper(desk, "liking", 0);
    heading(desk, "How you like it");
    paragraph(desk, "Everything here is kept for next time.", desk.palette.quiet);
    const float half = (ImGui::GetContentRegionAvail().x - ImGui::GetStyle().ItemSpacing.x) / 2;
    Controls::Extra extra;
    extra.width = half;
    if (desk.controls.button(Area::shelf, "shelf.smaller", "Smaller letters", Controls::Kind::button,
                             extra)) {
        desk.commands.push(Ask::textSize, -1);
    }
    ImGui::SameLine();
    if (desk.controls.button(Area::shelf, "shelf.larger", "Larger letters", Controls::Kind::button, extra)) {
        desk.commands.push(Ask::textSize, 1);
    }
    const auto choice = [&](const char* id, const char* words, const char* key, Ask ask) {
        if (wideButton(desk, id, words, Controls::Kind::choice, key)) desk.commands.push(ask);
    };
    choice("shelf.ground", settings.dark ? "Ground: dark" : "Ground: light", "", Ask::ground);
    choice("shelf.look", settings.drawing ? "Yarn: as a drawing" : "Yarn: as wool", "V", Ask::otherLook);
    choice("shelf.motion", settings.reducedMotion ? "Movement: none" : "Movement: shown", "", Ask::motion);
    choice("shelf.hand", settings.mirrored ? "Hands: left-handed" : "Hands: right-handed", "", Ask::hand);
    choice("shelf.words", settings.ukWords ? "Words: UK" : "Words: US", "", Ask::words);
    gap(desk, 6);
    if (wideButton(desk, "shelf.back", "Back to the shelf", Controls::Kind::main, "Esc"))
        desk.commands.push(Ask::letGo);
}

void drawKeys(const Desk& desk) {
    heading(desk, "Keys");
    constexpr std::array<std::pair<const char*, const char*>, 31> kKeys = {{
        {"Tab", "from cloth to page, tray, rows and back"},
        {"Arrows", "walk over the cloth, or from button to button"},
        {"1 to 5", "point, fingers, needle tips, hook, pin"},
        {"6 to 9, S", "spare needle, cable needle, thread, scissors, sewing needle"},
        {"Space", "do what the tray says"},
        {"A", "another way to do it there"},
        {"N", "the next part of the stitch: head, legs, feet, bar"},
        {"Esc", "let go"},
        {"Z, Y", "undo, redo"},
        {"K", "knit the rest of the row"},
        {"Enter", "turn the page"},
        {"Backspace", "the page before"},
        {"H", "a hint"},
        {"T", "turn the cloth over"},
        {"B", "both sides"},
        {"+, -", "nearer, farther"},
        {"Shift arrows", "tilt and turn a little"},
        {"0", "as you hold it"},
        {"W", "pull gently, let go"},
        {"G", "tug"},
        {"E", "closer, the way that shows it best, and back"},
        {"L", "light from the side"},
        {"R, C, P", "light up the row, the column, the parts of a stitch"},
        {"U", "trace the yarn"},
        {"V", "as wool, as a drawing"},
        {"X", "rows as words, as a chart, put away"},
        {"Ctrl O, S", "open, save"},
        {"Ctrl E", "export the picture"},
        {"Page Up, Down", "scroll; before a group, back and on"},
        {"F1", "these keys"},
        {"F2", "the shelf"},
    }};
    for (const auto& [key, words] : kKeys) {
        paragraph(desk, fmt::format("{}:  {}", key, words), desk.palette.text);
        ImGui::SetCursorPosY(ImGui::GetCursorPosY() - ImGui::GetStyle().ItemSpacing.y * 0.6F);
    }
    ImGui::Dummy(ImVec2(0, 10 * desk.textSize));
    Controls::Extra extra;
    extra.width = -1;
    extra.key = "Esc";
    if (desk.controls.button(Area::page, "keys.close", "Back", Controls::Kind::main, extra)) {
        desk.commands.push(Ask::keys);
    }
}

}  // namespace loopmend::app
