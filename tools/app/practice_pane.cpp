// SPDX-License-Identifier: MIT
#include <algorithm>

#include <fmt/format.h>
#include <imgui.h>

#include "app/shelf_pane.h"
#include "app/wide_paper.h"

namespace loopmend::app {

namespace {

const char* levelWords(int level) {
    switch (level) {
        case 0: return "How hard: as suits you";
        case 1: return "How hard: 1, plain to see";
        case 2: return "How hard: 2, a closer look";
        case 3: return "How hard: 3, both sides and a count";
        case 4: return "How hard: 4, signs that mislead";
        default: return "How hard: 5, as it comes out of the bag";
    }
}

const char* kindWords(SkillKind kind) {
    switch (kind) {
        case SkillKind::seeing: return "Seeing";
        case SkillKind::diagnosing: return "What happened, and where";
        case SkillKind::mending: return "Putting it right";
        case SkillKind::instructions: return "Words and charts";
    }
    return "";
}

const char* standsWords(const SkillProgress* skill, std::int64_t now) {
    if (skill == nullptr || !skill->met()) return "Not met yet";
    if (skill->dueAt(now)) return "Due again";
    return skill->mastered ? "Sits well" : "Met, not firm yet";
}

}  // namespace

void drawPractice(const Desk& desk, Learning& learning, PracticeState& state) {
    WidePaper paper(desk, "practice", state.pages);
    heading(desk, "Practice");
    paragraph(desk, "A fresh swatch each time. Now and then nothing is wrong with it.", desk.palette.text);
    if (!state.notice.empty()) aside(desk, "", state.notice);
    std::vector<const Skill*> due;
    for (const Skill* skill : learning.practiced()) {
        const SkillProgress* stands = learning.progress().find(skill->id);
        if (stands != nullptr && stands->dueAt(state.now)) due.push_back(skill);
    }
    if (due.empty()) {
        paragraph(desk, "Nothing is due today. Choose whatever you like.", desk.palette.text);
    } else {
        const std::string words = "Due first: " + std::string(due.front()->name);
        if (wideButton(desk, "practice.due", words, Controls::Kind::main))
            desk.commands.push(Ask::practiseSkill, 0, std::string(due.front()->id));
    }
    gap(desk, 4);
    paragraph(desk, levelWords(state.level), desk.palette.text);
    const float half = (ImGui::GetContentRegionAvail().x - ImGui::GetStyle().ItemSpacing.x) / 2;
    Controls::Extra extra;
    extra.width = half;
    extra.enabled = state.level > 0;
    if (desk.controls.button(Area::shelf, "practice.easier", "Easier", Controls::Kind::button, extra))
        desk.commands.push(Ask::level, -1);
    ImGui::SameLine();
    extra.enabled = state.level < 5;
    if (desk.controls.button(Area::shelf, "practice.harder", "Harder", Controls::Kind::button, extra))
        desk.commands.push(Ask::level, 1);
    gap(desk, 6);
    paragraph(desk, "Every exercise has a word. Whoever types it in gets the same swatch.",
              desk.palette.text);
    if (desk.controls.field(Area::shelf, "practice.word", state.word.data(), state.word.size(), -1))
        desk.commands.push(Ask::practiseWord, 0, state.word.data());
    if (wideButton(desk, "practice.go", "Lay that one on the table", Controls::Kind::button, {},
                   state.word.front() != '\0'))
        desk.commands.push(Ask::practiseWord, 0, state.word.data());
    if (!state.lastWord.empty() &&
        wideButton(desk, "practice.copy", "Copy the word " + state.lastWord, Controls::Kind::button)) {
        desk.commands.push(Ask::copyWord);
    }
    gap(desk, 6);
    if (wideButton(desk, "practice.back", "Back to the shelf", Controls::Kind::button, "Esc"))
        desk.commands.push(Ask::letGo);

    paper.second();
    paragraph(desk, "What would you like to practice?", desk.palette.text);
    for (const SkillKind kind :
         {SkillKind::seeing, SkillKind::diagnosing, SkillKind::mending, SkillKind::instructions}) {
        bool headed = false;
        for (const Skill* skill : learning.practiced()) {
            if (skill->kind != kind) continue;
            if (!headed) {
                gap(desk, 4);
                heading(desk, kindWords(kind));
            }
            headed = true;
            Controls::Card card;
            card.title = skill->name;
            card.state = standsWords(learning.progress().find(skill->id), state.now);
            if (desk.controls.card(Area::shelf, "practice.skill." + std::string(skill->id), card, desk.fonts))
                desk.commands.push(Ask::practiseSkill, 0, std::string(skill->id));
        }
    }
}

}  // namespace loopmend::app
