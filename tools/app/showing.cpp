// SPDX-License-Identifier: MIT
#include "app/showing.h"

#include <algorithm>
#include <utility>

#include <fmt/format.h>
#include <imgui.h>

namespace loopmend::app {

Showing::Showing(Lesson lesson, int swatch, Terms terms, bool mirrored)
    : lesson_(std::move(lesson)),
      swatch_(swatch),
      terms_(terms),
      mirrored_(mirrored),
      title_(lesson_.title),
      now_(lesson_, swatch, terms, mirrored),
      ahead_(lesson_, swatch, terms, mirrored) {}

void Showing::setMirrored(bool mirrored) {
    const int at = now_.at();
    const bool turned = now_.seen() != now_.facing();
    mirrored_ = mirrored;
    now_ = Demonstration(lesson_, swatch_, terms_, mirrored);
    ahead_ = Demonstration(lesson_, swatch_, terms_, mirrored);
    now_.goTo(std::min(at, now_.moves()));
    if (turned != (now_.seen() != now_.facing())) now_.turnOver();
}

void Showing::afterNext(const std::function<void(const Fabric&)>& look) {
    if (now_.at() >= now_.moves()) return;
    ahead_.goTo(now_.at() + 1);
    look(ahead_.fabric());
}

namespace {

void large(const Desk& desk, const std::string& words, ImFont* font, Ink ink) {
    if (words.empty()) return;
    ImGui::PushFont(font);
    ImGui::PushStyleColor(ImGuiCol_Text, ink);
    ImGui::TextWrapped("%s", words.c_str());
    ImGui::PopStyleColor();
    ImGui::PopFont();
    gap(desk, 1);
}

}  // namespace

void drawShowing(const Desk& desk, const Showing& showing) {
    const Demonstration& now = showing.now();
    const std::string where = now.moves() == 0         ? showing.title()
                              : now.at() < now.moves() ? fmt::format("{}: move {} of {}", showing.title(),
                                                                     now.at() + 1, now.moves())
                                                       : showing.title() + ": done";
    paragraph(desk, where, desk.palette.text);
    large(desk, now.heading(), desk.fonts.far, desk.palette.text);
    large(desk, now.words(), desk.fonts.heading, desk.palette.text);
    if (!now.caution().empty()) paragraph(desk, "Take care: " + now.caution(), desk.palette.text);
    bool begun = false;
    const auto press = [&](const char* id, const char* words, const char* key, bool chosen, bool enabled,
                           Ask ask) {
        Controls::Extra extra;
        extra.key = key;
        extra.chosen = chosen;
        extra.enabled = enabled;
        if (begun) desk.controls.flow(desk.controls.widthOf(words, Controls::Kind::button, extra));
        begun = true;
        if (desk.controls.button(Area::notions, id, words, Controls::Kind::button, extra))
            desk.commands.push(ask, ask == Ask::showFiles ? 5 : 0);
    };
    press("show.back", "Back", "Page Up", false, now.at() > 0, Ask::showBack);
    press("show.on", "On", "Page Down", false, now.at() < now.moves(), Ask::showForward);
    press("show.turn", "Turn over", "T", false, true, Ask::turnOver);
    press("show.mirrored", "Left-handed", "M", showing.mirrored(), true, Ask::showMirrored);
    press("show.slow", "Slowly", "S", showing.slow, true, Ask::showSlowly);
    press("show.freeze", "Freeze", "F", showing.frozen, true, Ask::showFrozen);
    press("show.page", "A page to take home", "", false, true, Ask::showFiles);
    press("show.close", "Close", "Esc", false, true, Ask::letGo);
}

}  // namespace loopmend::app
