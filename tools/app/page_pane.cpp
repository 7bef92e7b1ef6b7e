// SPDX-License-Identifier: MIT
#include <fmt/format.h>
#include <imgui.h>

#include "app/flowing_text.h"
#include "app/panes.h"
#include "app/wide_paper.h"

namespace loopmend::app {

void heading(const Desk& desk, const std::string& words) {
    ImGui::PushFont(desk.fonts.heading);
    ImGui::TextWrapped("%s", words.c_str());
    ImGui::PopFont();
    ImGui::Dummy(ImVec2(0, 2 * desk.textSize));
}

void paragraph(const Desk& desk, const std::string& words, Ink ink) {
    flowingText(words, ink, desk.palette.trade);
}

void aside(const Desk& desk, const std::string& label, const std::string& words) {
    const float indent = 14 * desk.textSize;
    const ImVec2 from = ImGui::GetCursorScreenPos();
    ImGui::Indent(indent);
    if (!label.empty()) paragraph(desk, label, desk.palette.quiet);
    if (!label.empty()) ImGui::SetCursorPosY(ImGui::GetCursorPosY() - ImGui::GetStyle().ItemSpacing.y * 0.7F);
    paragraph(desk, words, desk.palette.text);
    ImGui::Unindent(indent);
    const float bottom = ImGui::GetCursorScreenPos().y - ImGui::GetStyle().ItemSpacing.y;
    ImGui::GetWindowDrawList()->AddRectFilled(from, ImVec2(from.x + 4 * desk.textSize, bottom),
                                              desk.palette.chosen);
    ImGui::Dummy(ImVec2(0, 2 * desk.textSize));
}

void gap(const Desk& desk, float height) {
    ImGui::Dummy(ImVec2(0, height * desk.textSize));
}

namespace {

const char* markOf(ChoiceState state) {
    switch (state) {
        case ChoiceState::right: return "✓";
        case ChoiceState::possible: return "~";
        case ChoiceState::notThis: return "✗";
        case ChoiceState::open: break;
    }
    return "";
}

void drawChoices(const Desk& desk, const Page& page) {
    int index = 0;
    for (const Choice& choice : page.choices) {
        Controls::Extra extra;
        extra.width = -1;
        extra.mark = markOf(choice.state);
        extra.chosen = choice.state == ChoiceState::right;
        if (desk.controls.button(Area::page, fmt::format("page.choice.{}", index), choice.text,
                                 Controls::Kind::choice, extra)) {
            desk.commands.push(Ask::choose, index);
        }
        ++index;
    }
}

}  // namespace

void drawLessonPage(const Desk& desk, const Page& page, const LessonPageState& state) {
    Controls::Extra onward;
    onward.width = -1;
    onward.key = "Enter";
    onward.enabled = page.canGoOn || page.step == page.steps;
    // What is always in reach stands at the foot of the page; the rest scrolls above it.
    const float line = 44 * desk.textSize + ImGui::GetStyle().ItemSpacing.y;
    const float link = 28 * desk.textSize + ImGui::GetStyle().ItemSpacing.y;
    const float foot = 2 * line + (page.canGoBack ? link : 0) + (page.step > 1 ? link : 0);
    ImGui::BeginChild("words", ImVec2(0, -foot));
    scrollBy(state.pages);
    std::string where = fmt::format("{}, page {} of {}", state.title, page.step, page.steps);
    if (!state.swatch.empty()) where += ". " + state.swatch;
    paragraph(desk, where, desk.palette.quiet);
    heading(desk, page.heading);
    for (const std::string& words : page.paragraphs) paragraph(desk, words, desk.palette.text);
    if (!page.task.empty()) aside(desk, "", page.task);
    if (!page.caution.empty()) aside(desk, "Take care", page.caution);
    drawChoices(desk, page);
    if (!page.evidence.empty()) {
        paragraph(desk, "You have pointed at", desk.palette.quiet);
        for (const std::string& words : page.evidence) {
            ImGui::Bullet();
            ImGui::SameLine();
            paragraph(desk, words, desk.palette.text);
        }
    }
    if (!page.said.empty()) aside(desk, "Just now", page.said);
    int rung = 0;
    for (const std::string& words : page.hints) aside(desk, fmt::format("Hint {}", ++rung), words);
    if (!state.word.empty() && page.step == page.steps)
        aside(desk, "This exercise's word", state.word + ". Whoever types it in gets the same swatch.");
    ImGui::EndChild();

    Controls::Extra extra;
    extra.key = "H";
    extra.width = -1;
    extra.enabled = page.hasHint;
    if (desk.controls.button(Area::page, "page.hint", page.hints.empty() ? "A hint" : "Another hint",
                             Controls::Kind::button, extra)) {
        desk.commands.push(Ask::hint);
    }
    const char* on = page.step < page.steps ? "Turn the page" : "Back to the shelf";
    if (desk.controls.button(Area::page, "page.on", on, Controls::Kind::main, onward))
        desk.commands.push(Ask::goOn);
    if (page.canGoBack &&
        desk.controls.button(Area::page, "page.back", "The page before  (Backspace)", Controls::Kind::link)) {
        desk.commands.push(Ask::goBack);
    }
    if (page.step > 1 &&
        desk.controls.button(Area::page, "page.anew",
                             state.begunAgain ? "Sure? Press again: from the start" : "From the start",
                             Controls::Kind::link)) {
        desk.commands.push(Ask::lessonAnew);
    }
}

}  // namespace loopmend::app
