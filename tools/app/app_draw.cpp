// SPDX-License-Identifier: MIT
#include <algorithm>
#include <cmath>
#include <utility>

#include <SDL.h>
#include <fmt/format.h>
#include <imgui.h>

#include "app/app.h"
#include "tutor/practice.h"

namespace loopmend::app {

namespace {

/// One sheet of paper.
class Sheet {
  public:
    /// scrolls: as long as it needs to be, else as wide as can be.
    Sheet(const char* name, const Box& box, Ink ground, bool scrolls) {
        const ImVec2 margin = ImGui::GetStyle().WindowPadding;
        ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding,
                            scrolls ? margin : ImVec2(margin.x * 0.55F, margin.y * 0.6F));
        ImGui::SetNextWindowPos(ImVec2(box.left, box.top));
        ImGui::SetNextWindowSize(ImVec2(box.width(), box.height()));
        ImGui::PushStyleColor(ImGuiCol_WindowBg, ground);
        ImGuiWindowFlags flags = ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove |
                                 ImGuiWindowFlags_NoNav | ImGuiWindowFlags_NoSavedSettings |
                                 ImGuiWindowFlags_NoBringToFrontOnFocus;
        if (scrolls) flags &= ~ImGuiWindowFlags_NoScrollbar;
        ImGui::Begin(name, nullptr, flags);
        ImGui::PopStyleVar();
    }
    ~Sheet() {
        ImGui::End();
        ImGui::PopStyleColor();
    }
    Sheet(const Sheet&) = delete;
    Sheet& operator=(const Sheet&) = delete;
};

/// Sheets to scroll by.
float pagesAsked(const Input& input) {
    float pages = 0;
    for (const KeyPress& key : input.keys) {
        if (key.code == SDLK_PAGEDOWN) pages += 1;
        if (key.code == SDLK_PAGEUP) pages -= 1;
    }
    return pages;
}

}  // namespace

void App::drawLooks(const Desk& desk, const Box& box) {
    const Sheet sheet("looks", box, desk.palette.table, false);
    bool begun = false;
    const auto press = [&](const char* id, const char* label, const char* key, bool chosen, Ask what) {
        Controls::Extra extra;
        extra.chosen = chosen;
        // Large letters need the room; the keys stand on a page of their own.
        if (settings_.textSize < 1.45F) extra.key = key;
        if (begun) controls_.flow(controls_.widthOf(label, Controls::Kind::button, extra));
        begun = true;
        if (controls_.button(Area::notions, id, label, Controls::Kind::button, extra)) commands_.push(what);
    };
    press("look.turn", "Turn over", "T", false, Ask::turnOver);
    press("look.both", "Both", "B", cloth_.looking.both, Ask::bothSides);
    press("look.shelf", "Shelf", "F2", false, Ask::shelf);
    press("look.pull", "Pull", "W", cloth_.looking.pulled, Ask::pull);
    press("look.closer", "Closer", "E", closer_.has_value(), Ask::closer);
    press("look.tug", "Tug", "G", false, Ask::tug);
    press("look.held", "As you hold it", "0", false, Ask::asYouHoldIt);
    press("look.rows", "Rows", "X", rows_.shown, Ask::rowsAsChart);
    press("look.near", "+", "", false, Ask::nearer);
    press("look.far", "-", "", false, Ask::farther);
    fitTo(looksNeed_);
}

/// Remembers how high the sheet being drawn had to be, and asks for another frame if that is new.
void App::fitTo(float& height, float below) {
    // What was scrolled by is part of the place that is reached.
    const float needs = ImGui::GetCursorPosY() - ImGui::GetStyle().ItemSpacing.y +
                        (below > 0 ? below : 10 * settings_.textSize);
    if (std::abs(needs - height) < 1) return;
    height = needs;
    dirty_ = std::max(dirty_, 2);
}

void App::drawPage(const Desk& desk) {
    switch (paper_) {
        case Paper::files: files_.draw(desk); return;
        case Paper::keys: drawKeys(desk); return;
        default: break;
    }
    if (own_ && ownOpen_) {
        OwnPageState state;
        if (const FreePiece* piece = table_->piece(); piece != nullptr && !ownIsAsking())
            state.onTable = tableName_;
        state.pages = pagesAsked(input_);
        state.all = ownAll_;
        state.fresh = std::exchange(ownShown_, own_->version()) != own_->version();
        own_->setTerms(terms());
        SignPictures::Dress dress;
        dress.pixels = settings_.textSize * ImGui::GetIO().DisplayFramebufferScale.y;
        dress.dark = settings_.dark;
        dress.wool = cloth_.woolInk(settings_.dark, woolInHand());
        signs_.begin(own_->start(), dress);
        state.pictures = &signs_;
        drawOwnPage(desk, *own_, state);
        return;
    }
    if (const Session* session = table_->session()) {
        LessonPageState state;
        state.title = session->lesson().title;
        const LessonSwatch& piece = session->piece();
        if (session->lesson().swatches.size() > 1) {
            state.swatch =
                fmt::format("Swatch {} of {}", session->swatch() + 1, session->lesson().swatches.size());
            if (!piece.member.empty()) state.swatch += ": " + piece.member + "'s " + piece.thing;
        }
        if (!learning_.isOfCourse(kept_.id)) state.word = kept_.id;
        state.begunAgain = anewAsked_;
        state.pages = pagesAsked(input_);
        drawLessonPage(desk, session->page(), state);
    } else {
        free_.name = tableName_;
        free_.pages = pagesAsked(input_);
        free_.unsaved = table_->version() != savedVersion_;
        free_.paced = learning_.progress().paced;
        table_->piece()->setPace(learning_.progress().pace);
        drawFreePage(desk, *table_->piece(), table_->said(), free_);
    }
}

void App::drawWidePaper(const Desk& desk) {
    const float pages = pagesAsked(input_);
    const std::int64_t now = start_.now();
    const ShowsOf shows = [this](const Lesson& lesson) { return showsOf(lesson); };
    switch (paper_) {
        case Paper::shelf:
            drawShelf(desk, learning_,
                      {shows, now, pages, notice_, std::exchange(bringIntoSight_, {}), ownWaits()});
            break;
        case Paper::liking: drawLiking(desk, settings_); break;
        case Paper::practice:
            practice_.now = now;
            practice_.pages = pages;
            practice_.notice = notice_;
            drawPractice(desk, learning_, practice_);
            break;
        case Paper::group: {
            GroupState state;
            if (const auto lesson = lessonOfPiece()) {
                const Session* session = table_->session();
                const std::size_t swatch =
                    session == nullptr ? 0 : static_cast<std::size_t>(session->swatch());
                if (!lesson->swatches[swatch].faults.empty()) state.onTable = lesson->title;
            }
            state.pages = pages;
            state.notice = notice_;
            drawGroup(desk, learning_, state);
            break;
        }
        case Paper::progress:
            drawProgress(desk, learning_, {shows, now, forgetAsked_, pages, notice_});
            break;
        default: break;
    }
}

void App::drawNotions(const Desk& desk) {
    ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, ImVec2(6 * settings_.textSize, 8 * settings_.textSize));
    TrayState tray;
    tray.inHand = inHand_;
    tray.offers = offers_;
    tray.offer = offer_;
    tray.pointed = free_.placeWords;
    tray.hasParts =
        pointed_ && (pointed_->what == PointedAt::What::loop || pointed_->what == PointedAt::What::strand);
    tray.canUndo = table_->work().canUndo();
    tray.canRedo = table_->work().canRedo();
    tray.canKnitRow = true;
    drawTray(desk, tray);
    fitTo(trayNeeds_);
    ImGui::PopStyleVar();
}

void App::drawPapers(const Sheets& layout) {
    const Desk desk = this->desk();
    if (isWide()) {
        const Sheet sheet("wide", layout.page, desk.palette.paper, false);
        drawWidePaper(desk);
        return;
    }
    drawOverlay(layout);
    if (paper_ == Paper::showing) {
        const Sheet sheet("showing", layout.tray, desk.palette.paper, true);
        drawShowing(desk, *showing_);
        fitTo(showNeeds_, ImGui::GetStyle().WindowPadding.y);
        return;
    }
    drawLooks(desk, layout.looks);
    {
        const Sheet sheet("page", layout.page, desk.palette.paper, true);
        drawPage(desk);
    }
    {
        const Sheet sheet("tray", layout.tray, desk.palette.tray, false);
        drawNotions(desk);
    }
    if (layout.rows.width() > 1) {
        const Sheet sheet("rows", layout.rows, desk.palette.paper, true);
        rows_.current = rowInHand();
        const Session* session = table_->session();
        rows_.away = session != nullptr && session->page().patternAway;
        rows_.below = rowsBelowTable_;
        rows_.meant = rows_.asChart && !rows_.below ? meantForChart() : nullptr;
        drawRows(desk, table_->script(), rows_);
    }
}

}  // namespace loopmend::app
