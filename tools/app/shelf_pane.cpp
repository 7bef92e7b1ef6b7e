// SPDX-License-Identifier: MIT
#include <array>
#include <utility>

#include <fmt/format.h>
#include <imgui.h>

#include "app/panes.h"
#include "app/settings.h"

namespace loopmend::app {

namespace {

void choice(const Desk& desk, const char* id, const std::string& words, const char* key, Ask ask) {
    Controls::Extra extra;
    extra.width = -1;
    extra.key = key;
    if (desk.controls.button(Area::shelf, id, words, Controls::Kind::choice, extra)) desk.commands.push(ask);
}

}  // namespace

void drawShelf(const Desk& desk, const Settings& settings, bool lessonBegun, bool lessonDone) {
    heading(desk, "The shelf");
    paragraph(desk, "Harbour Lane evening knitting circle", desk.palette.quiet);
    ImGui::Dummy(ImVec2(0, 6 * desk.textSize));

    paragraph(desk, "Oswin's scarf end: a stitch has run down six rows.", desk.palette.text);
    choice(desk, "shelf.lesson",
           lessonDone    ? "A stitch that ran: finished, look again"
           : lessonBegun ? "A stitch that ran: go on"
                         : "A stitch that ran: begin",
           "", Ask::lesson);
    if (lessonBegun || lessonDone)
        choice(desk, "shelf.anew", "A stitch that ran: from the start", "", Ask::lessonAnew);
    ImGui::Dummy(ImVec2(0, 4 * desk.textSize));
    paragraph(desk, "Your own swatch: any pattern, any mistake, any row.", desk.palette.text);
    choice(desk, "shelf.free", "The free table", "", Ask::freeTable);
    choice(desk, "shelf.open", "Open a pattern or a saved table", "Ctrl O", Ask::showFiles);

    ImGui::Dummy(ImVec2(0, 6 * desk.textSize));
    paragraph(desk, "How you like it", desk.palette.quiet);
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
    choice(desk, "shelf.ground", settings.dark ? "Ground: dark" : "Ground: light", "", Ask::ground);
    choice(desk, "shelf.look", settings.drawing ? "Yarn: as a drawing" : "Yarn: as wool", "V",
           Ask::otherLook);
    choice(desk, "shelf.motion", settings.reducedMotion ? "Movement: none" : "Movement: shown", "",
           Ask::motion);
    choice(desk, "shelf.hand", settings.mirrored ? "Hands: left-handed" : "Hands: right-handed", "",
           Ask::hand);
    choice(desk, "shelf.words", settings.ukWords ? "Words: UK" : "Words: US", "", Ask::words);
    choice(desk, "shelf.keys", "All keys", "F1", Ask::keys);
}

void drawKeys(const Desk& desk) {
    heading(desk, "Keys");
    constexpr std::array<std::pair<const char*, const char*>, 26> kKeys = {{
        {"Tab", "from cloth to page, tray, rows and back"},
        {"Arrows", "walk over the cloth, or from button to button"},
        {"1 to 5", "point, fingers, needle tips, hook, pin"},
        {"Space", "do what the tray says"},
        {"A", "another way to do it there"},
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
        {"L", "light from the side"},
        {"R, C, P", "light up the row, the column, the parts of a stitch"},
        {"U", "trace the yarn"},
        {"V", "as wool, as a drawing"},
        {"X", "rows as words, as a chart"},
        {"Ctrl O, S", "open, save"},
        {"Ctrl E", "export the picture"},
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
