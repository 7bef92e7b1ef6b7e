// SPDX-License-Identifier: MIT
#include <fmt/format.h>
#include <imgui.h>

#include "app/shelf_pane.h"
#include "app/wide_paper.h"

namespace loopmend::app {

namespace {

/// Names in a list of their own, each on a line; nothing at all where there are none.
void list(const Desk& desk, const char* words, const std::vector<std::string>& names) {
    if (names.empty()) return;
    gap(desk, 4);
    heading(desk, words);
    for (const std::string& name : names) {
        ImGui::Bullet();
        ImGui::SameLine();
        paragraph(desk, name, desk.palette.text);
    }
}

}  // namespace

void drawProgress(const Desk& desk, const Learning& learning, const ProgressState& state) {
    WidePaper paper(desk, "progress", state.pages);
    heading(desk, "Your progress");
    if (!state.notice.empty()) aside(desk, "", state.notice);
    if (state.asked) {
        // The one thing that cannot be taken back stands alone.
        aside(desk, "Take care",
              "Everything you did in lessons and practice will be forgotten. This cannot be taken back.");
        if (wideButton(desk, "progress.keep", "No, keep it", Controls::Kind::main))
            desk.commands.push(Ask::forgetAll, 2);
        if (wideButton(desk, "progress.forget.really", "Yes, forget everything", Controls::Kind::button))
            desk.commands.push(Ask::forgetAll, 1);
        return;
    }
    if (learning.logPath().empty()) {
        paragraph(desk, "Nothing is kept in this run.", desk.palette.text);
    } else {
        paragraph(
            desk,
            "One line is kept for each step you did: which swatch, which step, how many tries and hints, "
            "when. No names.",
            desk.palette.text);
        paragraph(desk, "Nothing leaves this machine by itself. It lies here:", desk.palette.text);
        ImGui::PushStyleColor(ImGuiCol_Text, desk.palette.quiet);
        ImGui::TextWrapped("%s", learning.logPath().c_str());
        ImGui::PopStyleColor();
    }
    gap(desk, 4);
    if (wideButton(desk, "progress.export", "Write a copy", Controls::Kind::choice))
        desk.commands.push(Ask::showFiles, 3);
    if (wideButton(desk, "progress.import", "Take in a copy", Controls::Kind::choice, {},
                   !learning.logPath().empty()))
        desk.commands.push(Ask::showFiles, 4);
    if (wideButton(desk, "progress.forget", "Forget everything ...", Controls::Kind::choice))
        desk.commands.push(Ask::forgetAll, 0);
    gap(desk, 6);
    if (wideButton(desk, "progress.back", "Back to the shelf", Controls::Kind::main, "Esc"))
        desk.commands.push(Ask::letGo);

    paper.second();
    std::vector<std::string> begun, finished, due, sits, coming;
    for (const Lesson& lesson : learning.course().lessons()) {
        const SwatchShows shows = state.shows(lesson);
        if (shows == SwatchShows::unfinished) begun.push_back(lesson.title);
        if (shows == SwatchShows::finished || shows == SwatchShows::pinned) finished.push_back(lesson.title);
    }
    for (const SkillProgress& skill : learning.progress().skills) {
        const Skill* what = findSkill(skill.skill);
        if (what == nullptr || !skill.met()) continue;
        (skill.dueAt(state.now) ? due : skill.mastered ? sits : coming).emplace_back(what->name);
    }
    if (begun.empty() && finished.empty() && due.empty() && sits.empty() && coming.empty()) {
        paragraph(desk, "Nothing yet. The first swatch lies on the table.", desk.palette.text);
    }
    list(desk, "Due again", due);
    list(desk, "Sits well", sits);
    list(desk, "Met, not firm yet", coming);
    list(desk, "Swatches begun", begun);
    list(desk, "Swatches finished", finished);
}

}  // namespace loopmend::app
