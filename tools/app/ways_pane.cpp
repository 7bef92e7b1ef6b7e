// SPDX-License-Identifier: MIT
//
// The ways back from what lies on the free table: chosen by what they cost and leave, gone through move by
// move on the cloth, then done by hand.
#include <algorithm>

#include <fmt/format.h>
#include <imgui.h>

#include "app/panes.h"

namespace loopmend::app {

namespace {

bool press(const Desk& desk, const std::string& id, const std::string& words, std::string_view key = {},
           bool enabled = true, Controls::Kind kind = Controls::Kind::button, float width = -1) {
    Controls::Extra extra;
    extra.width = width;
    extra.enabled = enabled;
    extra.key = key;
    return desk.controls.button(Area::page, id, words, kind, extra);
}

/// `The best result, and the fastest`.
std::string titleOf(const WaysBack& ways, std::size_t way) {
    std::string title;
    const auto add = [&](const std::optional<std::size_t>& which, const char* words) {
        if (which == way) title += (title.empty() ? "The " : ", the ") + std::string(words);
    };
    add(ways.best, "best result");
    add(ways.fastest, "fastest");
    add(ways.gentlest, "gentlest");
    return title;
}

/// `A few minutes. Nothing shows afterwards.`
std::string aboutOf(const WayBack& way) {
    std::string time = way.time;
    if (!time.empty() && time[0] >= 'a' && time[0] <= 'z') time[0] = static_cast<char>(time[0] - 'a' + 'A');
    return fmt::format("{}. {}", time, way.after);
}

void drawWay(const Desk& desk, const WaysBack& ways, std::size_t i) {
    const WayBack& way = ways.all[i];
    Controls::Card card;
    const std::string title = titleOf(ways, i);
    const std::string about = aboutOf(way);
    card.title = way.name;
    card.about = about;
    card.state = title;
    if (desk.controls.card(Area::page, fmt::format("ways.way.{}", i), card, desk.fonts))
        desk.commands.push(Ask::chooseWay, static_cast<int>(i));
    if (!way.why.empty() && way.why != way.after) paragraph(desk, way.why, desk.palette.quiet);
    if (!way.whyNot.empty()) paragraph(desk, way.whyNot, desk.palette.quiet);
}

void drawChoice(const Desk& desk, const WaysBack& ways, const FreePageState& state) {
    const bool more = state.moreWays;
    std::vector<bool> drawn(ways.all.size());
    for (const auto& which : {ways.best, ways.fastest, ways.gentlest}) {
        if (!which || drawn[*which]) continue;
        drawn[*which] = true;
        drawWay(desk, ways, *which);
    }
    if (state.paced > 0)
        paragraph(desk, "How long each takes is reckoned by your own mendings.", desk.palette.quiet);
    const auto left = static_cast<std::size_t>(std::count(drawn.begin(), drawn.end(), false));
    if (left == 0 && ways.refused.empty()) return;
    if (press(desk, "ways.more", more ? "Only those three" : "Other ways, and why not"))
        desk.commands.push(Ask::moreWays);
    if (!more) return;
    for (std::size_t i = 0; i < ways.all.size(); ++i) {
        if (!drawn[i]) drawWay(desk, ways, i);
    }
    for (const WaysBack::Refused& refused : ways.refused) paragraph(desk, refused.why, desk.palette.quiet);
}

void drawChosen(const Desk& desk, const ChosenWay& chosen) {
    const Plan& plan = chosen.way.plan;
    const std::size_t all = plan.moves.size();
    heading(desk, chosen.way.name);
    paragraph(desk, aboutOf(chosen.way), desk.palette.quiet);
    if (chosen.shown == 0) {
        std::string first;
        if (!plan.comesUndone.empty())
            first = fmt::format("Dotted: what must come undone, {} stitch{}.", plan.comesUndone.size(),
                                plan.comesUndone.size() == 1 ? "" : "es");
        if (!plan.needsOnTool.empty())
            first += std::string(first.empty() ? "" : " ") +
                     "With a line along the yarn: what must be held on a pin or a needle first.";
        if (!first.empty()) aside(desk, "Before you begin", first);
    }
    for (const Caution& caution : plan.cautions) {
        if (caution.beforeMove == chosen.shown) aside(desk, "Take care", caution.words);
    }
    if (chosen.shown < all) {
        paragraph(desk, fmt::format("Move {} of {}", chosen.shown + 1, all), desk.palette.quiet);
        paragraph(desk, plan.moves[chosen.shown].words, desk.palette.text);
    } else {
        aside(desk, "", "That is all of it. Turn it over and look at the other side too.");
    }
    const float half = (ImGui::GetContentRegionAvail().x - ImGui::GetStyle().ItemSpacing.x) / 2;
    if (press(desk, "ways.back", "Back", ",", chosen.shown > 0, Controls::Kind::button, half))
        desk.commands.push(Ask::wayBack);
    ImGui::SameLine();
    if (press(desk, "ways.forward", "Forward", ".", chosen.shown < all, Controls::Kind::button, half))
        desk.commands.push(Ask::wayForward);
    if (press(desk, "ways.hand", chosen.shown == 0 ? "Do it by hand" : "Take that back, and do it by hand",
              {}, true, Controls::Kind::main))
        desk.commands.push(Ask::wayByHand);
    if (press(desk, "ways.others", "The other ways")) desk.commands.push(Ask::chooseWay, -1);
}

}  // namespace

void drawWays(const Desk& desk, FreePiece& piece, const FreePageState& state) {
    if (!state.showPlans) return;
    if (state.chosen) {
        drawChosen(desk, *state.chosen);
        return;
    }
    if (piece.isMended()) {
        aside(desk, "", "It is as the pattern says. Nothing to put right.");
        return;
    }
    const WaysBack& ways = piece.ways();
    if (ways.all.empty()) {
        aside(desk, "", "No way back from here is known but to undo what was done.");
        return;
    }
    if (const PlannedMove* hint = ways.hint(); hint != nullptr && state.byHand) {
        aside(desk, "Next", hint->words);
        if (press(desk, "ways.others", "The other ways")) desk.commands.push(Ask::chooseWay, -1);
        return;
    }
    drawChoice(desk, ways, state);
}

}  // namespace loopmend::app
