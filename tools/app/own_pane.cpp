// SPDX-License-Identifier: MIT
#include <algorithm>
#include <array>
#include <cstdint>
#include <utility>
#include <vector>

#include <fmt/format.h>
#include <imgui.h>

#include "app/files_pane.h"
#include "app/own_knitting.h"
#include "app/wide_paper.h"

namespace loopmend::app {

namespace {

constexpr std::size_t kFirstAnswers = 8;

/// As wide as the page, with a picture where there is one.
bool choice(const Desk& desk, const std::string& id, const std::string& words,
            const SignPictures::Picture* picture, Controls::Kind kind) {
    Controls::Extra extra;
    extra.width = -1;
    if (picture != nullptr) {
        extra.picture = picture->texture;
        extra.pictureHeight = kSignPictureHeight * desk.textSize;
        extra.pictureWidth = extra.pictureHeight * picture->aspect();
    }
    return desk.controls.button(Area::page, id, words, kind, extra);
}

bool answer(const Desk& desk, const std::string& id, const std::string& words,
            const SignPictures::Picture* picture = nullptr) {
    return choice(desk, id, words, picture, Controls::Kind::choice);
}

bool press(const Desk& desk, const std::string& id, const std::string& words, float width,
           std::string_view key = {}, Controls::Kind kind = Controls::Kind::button) {
    Controls::Extra extra;
    extra.width = width;
    extra.key = key;
    return desk.controls.button(Area::page, id, words, kind, extra);
}

std::string sentence(std::string words) {
    if (words.empty()) return words;
    if (words[0] >= 'a' && words[0] <= 'z') words[0] = static_cast<char>(words[0] - 'a' + 'A');
    if (words.back() != '.' && words.back() != '?' && words.back() != '!') words += '.';
    return words;
}

/// How sure it is, in words: nobody reads decimals with a ruined row in her hands.
const char* sureness(double probability) {
    if (probability >= 0.9) return "almost surely";
    if (probability >= 0.6) return "probably";
    if (probability >= 0.25) return "perhaps";
    return "less likely";
}

/// The first of several is the likeliest, however little that is.
const char* likeliest(double probability) {
    return probability >= 0.25 ? sureness(probability) : "likeliest of many";
}

void drawSafe(const Desk& desk) {
    heading(desk, "Stop. Nothing is lost.");
    aside(desk, "",
          "Put the work down flat. Do not pull. Put a pin through every open stitch, or a bit of thread.");
    paragraph(desk,
              "This program cannot see your knitting. It asks for one look after another, and works out what "
              "happened and where, before you rip anything.",
              desk.palette.text);
    if (press(desk, "own.on", "It is safe", -1, "Enter", Controls::Kind::main)) desk.commands.push(Ask::goOn);
}

void drawWhat(const Desk& desk, const OwnPageState& state) {
    heading(desk, "What are you knitting?");
    constexpr std::array<std::pair<CaseGround, const char*>, kCaseGrounds> kGrounds = {
        {{CaseGround::plain, "Plain: Vs on one side, bumps on the other"},
         {CaseGround::garter, "Garter: ridges on both sides"},
         {CaseGround::rib, "Rib: columns of two"},
         {CaseGround::seed, "Seed stitch: bumps like spilled seeds"},
         {CaseGround::unknown, "I don't know, or something else"}}};
    for (const auto& [ground, words] : kGrounds) {
        if (answer(desk, "own.ground." + std::string(name(ground)), words,
                   state.pictures != nullptr ? state.pictures->of(ground) : nullptr))
            desk.commands.push(Ask::ownGround, static_cast<int>(ground));
    }
    if (!state.onTable.empty() &&
        answer(desk, "own.table", "The pattern on the free table: " + state.onTable))
        desk.commands.push(Ask::ownGround, -1);
    if (answer(desk, "own.file", "From a pattern in a file"))
        desk.commands.push(Ask::showFiles, static_cast<int>(FilesPane::For::ownPattern));
}

void drawSize(const Desk& desk, OwnKnitting& own) {
    heading(desk, "How big is it?");
    paragraph(desk, sentence("You are knitting " + own.name()), desk.palette.text);
    const float half = (ImGui::GetContentRegionAvail().x - ImGui::GetStyle().ItemSpacing.x) / 2;
    const auto number = [&](const char* id, const char* words, std::array<char, 8>& text, int what) {
        paragraph(desk, words, desk.palette.text);
        (void)desk.controls.field(Area::page, id, text.data(), text.size(), -1);
        if (press(desk, std::string(id) + ".fewer", "One less", half))
            desk.commands.push(Ask::ownSize, -what);
        ImGui::SameLine();
        if (press(desk, std::string(id) + ".more", "One more", half)) desk.commands.push(Ask::ownSize, what);
    };
    number("own.stitches", "Stitches cast on. Leave it empty if you do not know.", own.stitches, 1);
    number("own.rows", "Rows done, the one in hand among them if you came to its end.", own.rows, 2);
    gap(desk, 4);
    if (press(desk, "own.begin", "Begin", -1, "Enter", Controls::Kind::main)) desk.commands.push(Ask::goOn);
}

void drawQuestion(const Desk& desk, const OwnKnitting& own, const OwnPageState& state) {
    const CaseQuestion& question = *own.asked().question();
    heading(desk, fmt::format("Look {}", own.asked().looks() + 1));
    paragraph(desk, question.words, desk.palette.text);
    if (!question.touch.empty()) aside(desk, "Where", sentence(question.touch));
    if (own.part())
        paragraph(desk,
                  sentence("Your piece is too large to be drawn whole. On the table lies a part of it: " +
                           own.part()->words(question.look.side)),
                  desk.palette.quiet);
    if (!question.why.empty()) paragraph(desk, question.why, desk.palette.quiet);
    if (const CaseChoice* waiting = own.waiting()) {
        aside(desk, sentence(waiting->words),
              "Now point at the place on the picture: click it, or walk there with the arrow keys and press "
              "Space.");
        if (answer(desk, "own.nowhere", "I can't say where")) desk.commands.push(Ask::ownNowhere);
        return;
    }
    const std::size_t all = question.choices.size();
    const std::size_t shown = state.all || all <= kFirstAnswers + 2 ? all : kFirstAnswers;
    for (std::size_t i = 0; i < shown; ++i) {
        const SignPictures::Picture* picture =
            state.pictures != nullptr ? state.pictures->of(question.choices[i].note) : nullptr;
        if (answer(desk, fmt::format("own.answer.{}", i), sentence(question.choices[i].words), picture))
            desk.commands.push(Ask::choose, static_cast<int>(i));
    }
    if (shown < all && answer(desk, "own.all", fmt::format("Something else: {} more answers", all - shown)))
        desk.commands.push(Ask::ownAll);
    if (answer(desk, "own.cannot", "I can't tell")) desk.commands.push(Ask::ownCannotTell);
}

/// Pictures side by side as far as the page is wide, each with its words below it.
struct Captioned {
    const SignPictures::Picture* picture = nullptr;
    std::string words;
};

void drawPictures(const Desk& desk, const std::vector<Captioned>& row) {
    const float space = ImGui::GetStyle().ItemSpacing.x;
    const float room = ImGui::GetContentRegionAvail().x;
    float aspects = 0;
    for (const Captioned& it : row) aspects += it.picture->aspect();
    const float fits = (room - space * static_cast<float>(row.size() - 1)) / std::max(0.1F, aspects);
    const float height = std::min(fits, kCloseUpHeight * desk.textSize);
    for (std::size_t i = 0; i < row.size(); ++i) {
        if (i > 0) ImGui::SameLine();
        ImGui::BeginGroup();
        const float width = height * row[i].picture->aspect();
        ImGui::Image(reinterpret_cast<ImTextureID>(static_cast<std::intptr_t>(row[i].picture->texture)),
                     ImVec2(width, height));
        ImGui::PushTextWrapPos(ImGui::GetCursorPosX() + width);
        ImGui::TextUnformatted(row[i].words.c_str());
        ImGui::PopTextWrapPos();
        ImGui::EndGroup();
    }
}

/// What was meant beside what it says happened.
void drawCloseUp(const Desk& desk, const SignPictures::Explained& it) {
    gap(desk, 4);
    paragraph(desk,
              fmt::format("Hold this beside yours, the {} side facing you:",
                          it.side == Side::right ? "right" : "wrong"),
              desk.palette.quiet);
    drawPictures(desk, {{&it.meant, "As it should be"}, {&it.actual, "As it is then"}});
    gap(desk, 4);
}

/// The likeliest other thing at that place that has a name.
void drawOther(const Desk& desk, const OwnKnitting& own, const CaseExplanation& found,
               SignPictures* pictures) {
    const auto& all = own.explanations();
    const auto other = std::find_if(all.begin(), all.end(), [&](const CaseExplanation& e) {
        return e.fault && std::find(found.taken.begin(), found.taken.end(), e.id) != found.taken.end();
    });
    if (other == all.end() || pictures == nullptr) return;
    const SignPictures::Explained* it = pictures->of(own.asked(), *other);
    if (it != nullptr) drawPictures(desk, {{&it->meant, "As it should be"}, {&it->actual, other->name}});
}

void drawExplanation(const Desk& desk, const OwnKnitting& own, int n, bool full, SignPictures* pictures) {
    const CaseExplanation& found = own.explanations()[static_cast<std::size_t>(n)];
    if (full) {
        heading(desk, sentence(found.name));
        paragraph(desk, found.words, desk.palette.text);
        if (const auto* it = pictures != nullptr ? pictures->of(own.asked(), found) : nullptr)
            drawCloseUp(desk, *it);
        if (!found.signs.empty()) aside(desk, "", found.signs);
        if (!found.notThis.empty()) {
            aside(desk, "", found.notThis);
            drawOther(desk, own, found, pictures);
        }
        for (const std::string& same : found.sameAs)
            paragraph(desk, sentence("It cannot be told from this, and is mended alike: " + same),
                      desk.palette.quiet);
    } else {
        const char* const sure = n == 0 ? likeliest(found.probability) : sureness(found.probability);
        paragraph(desk, sentence(fmt::format("{}: {}", sure, found.name)), desk.palette.text);
        paragraph(desk, found.words, desk.palette.quiet);
    }
    if (!found.fault) return;
    const char* const words = full ? "See it on the model, and how to put it right" : "See that on the model";
    const SignPictures::Explained* small =
        !full && pictures != nullptr ? pictures->of(own.asked(), found) : nullptr;
    if (choice(desk, fmt::format("own.show.{}", n), words, small != nullptr ? &small->actual : nullptr,
               full ? Controls::Kind::main : Controls::Kind::button))
        desk.commands.push(Ask::ownShow, n);
}

void drawFound(const Desk& desk, const OwnKnitting& own, SignPictures* pictures) {
    const CaseSettled& end = own.settled();
    if (end.settled && !own.explanations().empty()) {
        drawExplanation(desk, own, 0, true, pictures);
        if (end.second) aside(desk, "And one more", end.second->words);
    } else {
        heading(desk, "As far as looks can tell");
        paragraph(desk, end.words, desk.palette.text);
        for (std::size_t n = 0; n < own.explanations().size(); ++n)
            drawExplanation(desk, own, static_cast<int>(n), false, pictures);
    }
    if (!end.contradiction.empty()) aside(desk, "Two answers do not go together", end.contradiction);
}

}  // namespace

void drawOwnPage(const Desk& desk, OwnKnitting& own, const OwnPageState& state) {
    const bool asking = own.stage() == OwnKnitting::Stage::asking;
    const float link = 28 * desk.textSize + ImGui::GetStyle().ItemSpacing.y;
    ImGui::BeginChild("own", ImVec2(0, -(asking ? 2 : 1) * link));
    scrollBy(state.pages);
    if (state.fresh) ImGui::SetScrollY(0);
    switch (own.stage()) {
        case OwnKnitting::Stage::safe: drawSafe(desk); break;
        case OwnKnitting::Stage::what: drawWhat(desk, state); break;
        case OwnKnitting::Stage::size: drawSize(desk, own); break;
        case OwnKnitting::Stage::asking:
            if (!own.said().empty()) aside(desk, "", sentence(own.said()));
            if (own.asked().question() && !own.settled().settled) {
                drawQuestion(desk, own, state);
            } else {
                drawFound(desk, own, state.pictures);
            }
            gap(desk, 4);
            aside(desk, "So far", own.place().words);
            for (const std::string& out : own.place().ruledOut)
                paragraph(desk, sentence(out), desk.palette.quiet);
            break;
    }
    ImGui::EndChild();
    if (press(desk, "own.back", "A step back  (Backspace)", 0, {}, Controls::Kind::link))
        desk.commands.push(Ask::goBack);
    if (asking && press(desk, "own.anew", "Another piece of knitting", 0, {}, Controls::Kind::link))
        desk.commands.push(Ask::ownAnew);
}

}  // namespace loopmend::app
