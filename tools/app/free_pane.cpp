// SPDX-License-Identifier: MIT
#include <algorithm>

#include <fmt/format.h>
#include <imgui.h>

#include "app/panes.h"
#include "app/wide_paper.h"

namespace loopmend::app {

namespace {

bool press(const Desk& desk, const std::string& id, const std::string& words, float width,
           bool enabled = true, std::string_view key = {}) {
    Controls::Extra extra;
    extra.width = width;
    extra.enabled = enabled;
    extra.key = key;
    return desk.controls.button(Area::page, id, words, Controls::Kind::button, extra);
}

const char* familyWords(Family family, Terms terms) {
    switch (family) {
        case Family::drops: return "Stitches come off";
        case Family::strands: return "Strands: too many, missing, caught";
        case Family::stitches: return "Another stitch, or twisted";
        case Family::shaping: return "Decreases and increases";
        case Family::cables: return "Cables";
        case Family::rows: return "Whole rows, and turns";
        case Family::repeats: return "Columns and repeats";
        case Family::starts: return "The beginning";
        case Family::edges: return "Edges";
        case Family::colours: return terms == Terms::uk ? "Colours" : "Colors";
        case Family::harm: return "Harm that comes later";
        case Family::lengths: return "Too much yarn, or too little";
    }
    return "";
}

void drawFaults(const Desk& desk, const FreePageState& state) {
    if (!state.showFaults) return;
    if (state.faults.empty()) {
        aside(desk, "", "No mistake that is known here can happen at that stitch. Point at another one.");
        return;
    }
    paragraph(desk, "What shall happen there?", desk.palette.quiet);
    for (std::size_t i = 0; i < state.faults.size(); ++i) {
        const Family family = state.faults[i].family;
        if (i == 0 || family != state.faults[i - 1].family)
            paragraph(desk, familyWords(family, desk.terms), desk.palette.quiet);
        Controls::Extra extra;
        extra.width = -1;
        if (desk.controls.button(Area::page, fmt::format("free.fault.{}", i), state.faults[i].name,
                                 Controls::Kind::choice, extra)) {
            desk.commands.push(Ask::putIn, static_cast<int>(i));
        }
    }
}

/// Which piece of the pattern it is, and how its words were read.
void drawWords(const Desk& desk, const FreePiece& piece, const FreePageState& state) {
    const std::vector<std::string>& parts = piece.parts();
    const std::size_t part = std::min(piece.recipe().part, std::max<std::size_t>(parts.size(), 1) - 1);
    if (parts.size() > 1) {
        paragraph(desk,
                  fmt::format("The pattern tells {} pieces. This is the {}.", parts.size(), parts[part]),
                  desk.palette.text);
        for (std::size_t i = 0; i < parts.size(); ++i) {
            if (i != part &&
                press(desk, fmt::format("free.piece.{}", i), "Take the " + parts[i] + " instead", -1))
                desk.commands.push(Ask::otherPiece, static_cast<int>(i));
        }
    }
    if (piece.readings().empty()) return;
    if (press(desk, "free.readings", state.showReadings ? "Hide how it was read" : "How its words were read",
              -1))
        desk.commands.push(Ask::showReadings);
    if (!state.showReadings) return;
    for (const Understood& reading : piece.readings())
        aside(desk, fmt::format("Line {}: {}", reading.line, reading.words), reading.message);
}

/// How many rows, and which mistakes.
void drawMaking(const Desk& desk, const FreePiece& piece, const FreePageState& state, float half) {
    const Recipe& recipe = piece.recipe();
    if (press(desk, "free.fewer", "A row less", half, recipe.rows > 1, "["))
        desk.commands.push(Ask::fewerRows);
    ImGui::SameLine();
    if (press(desk, "free.more", "A row more", half, recipe.rows < piece.mostRows(), "]")) {
        desk.commands.push(Ask::moreRows);
    }
    paragraph(desk, state.placeWords.empty() ? "Point at a stitch to put a mistake there." : state.placeWords,
              desk.palette.text);
    if (press(desk, "free.faults", "Put in a mistake here", -1, !state.placeWords.empty(), "F")) {
        desk.commands.push(Ask::showFaults);
    }
    drawFaults(desk, state);
    if (!recipe.faults.empty()) {
        const int after = recipe.after == After::byReading ? 0 : recipe.after == After::byCount ? 1 : 2;
        constexpr const char* kAfter[] = {"Then she read her knitting", "Then she went on counting",
                                          "Then she stopped at the row's end"};
        if (press(desk, "free.after", kAfter[after], -1)) desk.commands.push(Ask::goOnAs, (after + 1) % 3);
        if (press(desk, "free.clear", "Take all mistakes out", -1)) desk.commands.push(Ask::takeOutFaults);
    }
}

}  // namespace

void drawFreePage(const Desk& desk, FreePiece& piece, const std::string& said, const FreePageState& state) {
    scrollBy(state.pages);
    if (state.ofOwn) {
        heading(desk, "A model of your knitting");
        paragraph(desk, "Try it here, as often as you like, before you touch the wool.", desk.palette.text);
        if (press(desk, "free.own", "Back to the questions", -1)) desk.commands.push(Ask::ownAgain);
    } else {
        heading(desk, "The free table");
    }
    const Recipe& recipe = piece.recipe();
    paragraph(desk,
              fmt::format("{}{}: {} stitches, {} rows.", state.name, state.unsaved ? " (not saved)" : "",
                          recipe.stitches, recipe.rows),
              desk.palette.text);
    if (!state.ofOwn) drawWords(desk, piece, state);
    const float half = (ImGui::GetContentRegionAvail().x - ImGui::GetStyle().ItemSpacing.x) / 2;
    if (!state.ofOwn) drawMaking(desk, piece, state, half);
    if (!said.empty()) aside(desk, "Just now", said);
    if (press(desk, "free.plans", state.showPlans ? "Hide the ways back" : "How to put it right", -1, true,
              "?")) {
        desk.commands.push(Ask::showPlans);
    }
    drawWays(desk, piece, state);
    ImGui::Dummy(ImVec2(0, 4 * desk.textSize));
    if (press(desk, "free.open", "Open", half)) desk.commands.push(Ask::showFiles, 0);
    ImGui::SameLine();
    if (press(desk, "free.save", "Save", half)) desk.commands.push(Ask::saveFile);
    if (press(desk, "free.picture", "Export the picture", -1)) desk.commands.push(Ask::showFiles, 2);
}

}  // namespace loopmend::app
