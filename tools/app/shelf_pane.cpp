// SPDX-License-Identifier: MIT
#include "app/shelf_pane.h"

#include <algorithm>

#include <fmt/format.h>
#include <imgui.h>

#include "app/small_swatch.h"
#include "app/wide_paper.h"

namespace loopmend::app {

namespace {

/// Wools of the small swatches, light enough for dark stitches on them and the other way round.
Ink woolOf(std::uint32_t color, bool dark) {
    constexpr std::array<Ink, 6> kLight = {0xFFD9E6EFU, 0xFFBFD3E8U, 0xFFC9DEC4U,
                                           0xFFE3CDBCU, 0xFFC8C4E4U, 0xFFBDE3EAU};
    constexpr std::array<Ink, 6> kDark = {0xFF4A5560U, 0xFF3E5068U, 0xFF4A6046U,
                                          0xFF6A5442U, 0xFF504A68U, 0xFF46626AU};
    return (dark ? kDark : kLight)[color % kLight.size()];
}

/// What a teacher would hand over next, as one button.
void drawNext(const Desk& desk, const Learning& learning, const ShelfState& state) {
    const std::vector<NextThing> next =
        nextThings(learning.course().lessons(), learning.progress(), state.now);
    const auto titleOf = [&](const std::string& id) {
        const Lesson* lesson = learning.course().find(id);
        return lesson == nullptr ? id : lesson->title;
    };
    // What lies there unfinished comes before anything else.
    for (const Lesson& lesson : learning.course().lessons()) {
        if (state.shows(lesson) != SwatchShows::unfinished) continue;
        if (wideButton(desk, "shelf.next", "Go on: " + lesson.title, Controls::Kind::main))
            desk.commands.push(Ask::lesson, 0, lesson.id);
        return;
    }
    if (next.empty()) return;
    const NextThing& first = next.front();
    if (!first.lesson.empty()) {
        if (wideButton(desk, "shelf.next", "Next: " + titleOf(first.lesson), Controls::Kind::main))
            desk.commands.push(Ask::lesson, 0, first.lesson);
        return;
    }
    const Skill* skill = findSkill(first.skill);
    const std::string name(skill == nullptr ? std::string_view(first.skill) : skill->name);
    if (wideButton(desk, "shelf.next", "Practice: " + name, Controls::Kind::main))
        desk.commands.push(Ask::practiseSkill, 0, first.skill);
}

/// The course along one strand: it runs down the left and each swatch hangs on it.
void drawCourse(const Desk& desk, const Learning& learning, const ShelfState& state, bool bring) {
    const float ts = desk.textSize;
    const float picture = 78 * ts;
    const bool dark = contrast(desk.palette.paper, 0xFFFFFFFFU) > 4;
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    const float strandX = ImGui::GetCursorScreenPos().x + 12 * ts;
    const float begin = ImGui::GetCursorScreenPos().y;
    draw.ChannelsSplit(2);
    draw.ChannelsSetCurrent(1);
    float last = begin;
    for (const Course::Unit& unit : learning.course().units) {
        ImGui::Indent(34 * ts);
        heading(desk, unit.title);
        if (!unit.about.empty()) paragraph(desk, unit.about, desk.palette.quiet);
        for (const Lesson& lesson : unit.lessons) {
            const SwatchShows shows = state.shows(lesson);
            Controls::Card card;
            card.title = lesson.title;
            card.about = lesson.about;
            card.state = wordsOf(shows);
            card.indent = picture + 10 * ts;
            card.least = 80 * ts;
            const ImVec2 from = ImGui::GetCursorScreenPos();
            if (desk.controls.card(Area::shelf, "shelf.lesson." + lesson.id, card, desk.fonts))
                desk.commands.push(Ask::lesson, 0, lesson.id);
            if (bring && lesson.id == state.bring) ImGui::SetScrollHereY(0.4F);
            const ImVec2 to = ImGui::GetItemRectMax();
            const float middle = (from.y + to.y) / 2;
            const Box box{from.x + 18 * ts, middle - 33 * ts, from.x + picture - 4 * ts, middle + 33 * ts};
            drawSmallSwatch(draw, box, shows, lesson.first().ground, woolOf(lesson.first().yarn.color, dark),
                            desk.palette);
            // The strand goes through the swatch's edge.
            last = box.top;
            const float edge = box.top + box.height() * 0.16F;
            draw.AddBezierCubic(ImVec2(strandX, edge - 20 * ts), ImVec2(strandX, edge - 2 * ts),
                                ImVec2(strandX + 12 * ts, edge), ImVec2(box.left, edge), desk.palette.chosen,
                                3 * ts);
        }
        ImGui::Unindent(34 * ts);
        gap(desk, 8);
    }
    draw.ChannelsSetCurrent(0);
    draw.AddLine(ImVec2(strandX, begin), ImVec2(strandX, last - 6 * ts), desk.palette.chosen, 3 * ts);
    draw.AddCircleFilled(ImVec2(strandX, begin), 9 * ts, desk.palette.chosen, 24);
    draw.ChannelsMerge();
}

}  // namespace

const char* wordsOf(SwatchShows shows) {
    switch (shows) {
        case SwatchShows::castOn: return "Not begun";
        case SwatchShows::unfinished: return "Begun";
        case SwatchShows::finished: return "Finished";
        case SwatchShows::pinned: return "A pin is in it: due again";
    }
    return "";
}

void drawShelf(const Desk& desk, const Learning& learning, const ShelfState& state) {
    // Where there is only one column its head comes first: what to do is never scrolled away.
    const bool oneColumn = ImGui::GetContentRegionAvail().x < 750 * desk.textSize;
    WidePaper paper(desk, "shelf", state.pages);
    heading(desk, "The shelf");
    paragraph(desk, "Harbour Lane evening knitting circle", desk.palette.quiet);
    if (!state.notice.empty()) aside(desk, "", state.notice);
    const auto press = [&](const char* id, const char* words, const char* key, Ask ask) {
        if (wideButton(desk, id, words, Controls::Kind::choice, key)) desk.commands.push(ask);
    };
    press("shelf.wrong", "Something just went wrong", "", Ask::wentWrong);
    press("shelf.own", state.own.empty() ? "Your own knitting" : "Your own knitting: go on", "",
          Ask::ownKnitting);
    gap(desk, 4);
    drawNext(desk, learning, state);
    press("shelf.practice", "Practice", "", Ask::practice);
    press("shelf.group", "Show a group", "", Ask::group);
    press("shelf.progress", "Your progress", "", Ask::progress);
    gap(desk, 4);
    press("shelf.free", "The free table: any pattern, any mistake", "", Ask::freeTable);
    if (wideButton(desk, "shelf.open", "Open a pattern, table or lesson", Controls::Kind::choice, "Ctrl O"))
        desk.commands.push(Ask::showFiles, 0);
    gap(desk, 4);
    press("shelf.liking", "How you like it", "", Ask::liking);
    press("shelf.keys", "All keys", "F1", Ask::keys);
    press("shelf.table", "Back to the table", "F2", Ask::shelf);
    paper.second();
    paragraph(desk, "Nothing is locked. Most people go from the top down.", desk.palette.text);
    gap(desk, 6);
    drawCourse(desk, learning, state, !oneColumn);
    if (learning.course().units.empty()) {
        aside(desk, "", "No lessons were found. The free table works all the same.");
    }
}

}  // namespace loopmend::app
