// SPDX-License-Identifier: MIT
#include "app/app.h"

#include <algorithm>
#include <array>
#include <utility>

#include <SDL.h>
#include <backends/imgui_impl_opengl3.h>
#include <fmt/format.h>
#include <imgui.h>

#include "lessons_folder.h"

namespace loopmend::app {

namespace {

struct Shortcut {
    int code;
    bool shift;
    bool control;
    Ask ask;
    int n;
};
constexpr std::array<Shortcut, 56> kShortcuts = {{
    {SDLK_h, false, false, Ask::hint, 0},
    {SDLK_BACKSPACE, false, false, Ask::goBack, 0},
    {SDLK_t, false, false, Ask::turnOver, 0},
    {SDLK_b, false, false, Ask::bothSides, 0},
    {SDLK_PLUS, false, false, Ask::nearer, 0},
    {SDLK_EQUALS, false, false, Ask::nearer, 0},
    {SDLK_EQUALS, true, false, Ask::nearer, 0},
    {SDLK_KP_PLUS, false, false, Ask::nearer, 0},
    {SDLK_e, false, false, Ask::closer, 0},
    {SDLK_MINUS, false, false, Ask::farther, 0},
    {SDLK_KP_MINUS, false, false, Ask::farther, 0},
    {SDLK_UP, true, false, Ask::tiltUp, 0},
    {SDLK_DOWN, true, false, Ask::tiltDown, 0},
    {SDLK_LEFT, true, false, Ask::turnLeft, 0},
    {SDLK_RIGHT, true, false, Ask::turnRight, 0},
    {SDLK_0, false, false, Ask::asYouHoldIt, 0},
    {SDLK_w, false, false, Ask::pull, 0},
    {SDLK_g, false, false, Ask::tug, 0},
    {SDLK_l, false, false, Ask::slant, 0},
    {SDLK_r, false, false, Ask::lightRow, 0},
    {SDLK_c, false, false, Ask::lightColumn, 0},
    {SDLK_p, false, false, Ask::lightParts, 0},
    {SDLK_u, false, false, Ask::traceYarn, 0},
    {SDLK_v, false, false, Ask::otherLook, 0},
    {SDLK_1, false, false, Ask::takeNotion, 0},
    {SDLK_2, false, false, Ask::takeNotion, 1},
    {SDLK_3, false, false, Ask::takeNotion, 2},
    {SDLK_4, false, false, Ask::takeNotion, 3},
    {SDLK_5, false, false, Ask::takeNotion, 4},
    {SDLK_6, false, false, Ask::takeNotion, 5},
    {SDLK_7, false, false, Ask::takeNotion, 6},
    {SDLK_8, false, false, Ask::takeNotion, 7},
    {SDLK_9, false, false, Ask::takeNotion, 8},
    {SDLK_s, false, false, Ask::takeNotion, 9},
    {SDLK_a, false, false, Ask::otherWay, 0},
    {SDLK_n, false, false, Ask::nextPart, 0},
    {SDLK_ESCAPE, false, false, Ask::letGo, 0},
    {SDLK_z, false, false, Ask::undo, 0},
    {SDLK_z, false, true, Ask::undo, 0},
    {SDLK_y, false, false, Ask::redo, 0},
    {SDLK_y, false, true, Ask::redo, 0},
    {SDLK_z, true, true, Ask::redo, 0},
    {SDLK_k, false, false, Ask::knitRow, 0},
    {SDLK_x, false, false, Ask::rowsAsChart, 0},
    {SDLK_F1, false, false, Ask::keys, 0},
    {SDLK_F2, false, false, Ask::shelf, 0},
    {SDLK_o, false, true, Ask::showFiles, 0},
    {SDLK_s, false, true, Ask::saveFile, 0},
    {SDLK_e, false, true, Ask::showFiles, 2},
    {SDLK_LEFTBRACKET, false, false, Ask::fewerRows, 0},
    {SDLK_RIGHTBRACKET, false, false, Ask::moreRows, 0},
    {SDLK_f, false, false, Ask::showFaults, 0},
    {SDLK_SLASH, true, false, Ask::showPlans, 0},
    {SDLK_QUESTION, false, false, Ask::showPlans, 0},
    {SDLK_PERIOD, false, false, Ask::wayForward, 0},
    {SDLK_COMMA, false, false, Ask::wayBack, 0},
}};

/// Before a group: two keys suffice.
constexpr std::array<Shortcut, 12> kShowingKeys = {{
    {SDLK_PAGEDOWN, false, false, Ask::showForward, 0},
    {SDLK_RIGHT, false, false, Ask::showForward, 0},
    {SDLK_PAGEUP, false, false, Ask::showBack, 0},
    {SDLK_LEFT, false, false, Ask::showBack, 0},
    {SDLK_t, false, false, Ask::turnOver, 0},
    {SDLK_m, false, false, Ask::showMirrored, 0},
    {SDLK_f, false, false, Ask::showFrozen, 0},
    {SDLK_s, false, false, Ask::showSlowly, 0},
    {SDLK_b, false, false, Ask::bothSides, 0},
    {SDLK_v, false, false, Ask::otherLook, 0},
    {SDLK_ESCAPE, false, false, Ask::letGo, 0},
    {SDLK_F2, false, false, Ask::shelf, 0},
}};

template <std::size_t N>
const Shortcut* found(const std::array<Shortcut, N>& keys, const KeyPress& key) {
    for (const Shortcut& shortcut : keys) {
        if (shortcut.code == key.code && shortcut.shift == key.shift && shortcut.control == key.control)
            return &shortcut;
    }
    return nullptr;
}

}  // namespace

App::App(Window& window, Start start)
    : window_(window),
      start_(std::move(start)),
      keeping_(start_.folder),
      learning_(start_.lessons.empty() ? lessonsFolder() : start_.lessons, start_.folder),
      cloth_(start_.wake) {
    IMGUI_CHECKVERSION();
    ImGui::CreateContext();
    ImGui::GetIO().IniFilename = nullptr;
    ImGui::GetIO().LogFilename = nullptr;
    ImGui_ImplOpenGL3_Init("#version 330 core");
    unfit_ = cloth_.begin();

    const Keeping::Kept kept = keeping_.read();
    settings_ = kept.settings;
    std::string trouble = kept.trouble;
    if (!learning_.trouble().empty()) trouble += (trouble.empty() ? "" : " ") + learning_.trouble();
    std::string first = start_.lesson.empty() ? kept.lesson : start_.lesson;
    if (learning_.find(first) == nullptr) {
        const std::vector<Lesson> lessons = learning_.course().lessons();
        first = lessons.empty() ? std::string() : lessons.front().id;
    }
    if (first.empty()) {
        openFreeTable();
    } else {
        const KeptLesson* last = keeping_.lesson(first);
        const bool ended = last != nullptr && last->ended && start_.lesson.empty();
        openLesson(first, false);
        if (ended) openPaper(Paper::shelf);
    }
    if (!trouble.empty()) notice(trouble);
    if (!start_.open.empty()) openPath(start_.open);
}

App::~App() {
    ImGui_ImplOpenGL3_Shutdown();
    ImGui::DestroyContext();
}

Desk App::desk() {
    return Desk{controls_, commands_, fonts_, palette(settings_.dark), settings_.textSize, terms()};
}

void App::remakeLook() {
    styleStale_ = false;
    applyStyle(palette(settings_.dark), settings_.textSize);
    ImGui_ImplOpenGL3_DestroyFontsTexture();
    fonts_ = loadFonts(settings_.textSize);
    ImGui_ImplOpenGL3_CreateFontsTexture();
    cloth_.looking.drawing = settings_.drawing;
}

void App::handle(const SDL_Event& event) {
    input_.take(event);
    dirty_ = std::max(dirty_, 2);  // one frame to act, one to show what the act changed
}

void App::ask(Ask what, int n, std::string words) {
    commands_.push(what, n, std::move(words));
    dirty_ = std::max(dirty_, 2);
}

App::Sheets App::layoutNow() const {
    const Window::Size size = window_.size();
    const auto w = static_cast<float>(size.width);
    const auto h = static_cast<float>(size.height);
    Sheets layout;
    if (isWide()) {
        layout.page = {0, 0, w, h};
        return layout;
    }
    if (paper_ == Paper::showing) {
        const float words = std::clamp(showNeeds_, 120 * settings_.textSize, 0.55F * h);
        layout.tray = {0, h - words, w, h};
        layout.cloth = {0, 0, w, h - words};
        return layout;
    }
    const float pageWidth = std::min(0.42F * w, 334 * settings_.textSize);
    const float trayHeight = std::clamp(trayNeeds_, 100 * settings_.textSize, 0.4F * h);
    const float rowsWish =
        rows_.asChart ? std::min(0.3F * w, 380.0F) : std::min(0.22F * w, 206 * settings_.textSize);
    const float rowsWidth = rows_.shown && w > 1050 ? rowsWish : 0;
    const float looksHeight = std::clamp(looksNeed_, 40 * settings_.textSize, 0.3F * h);
    layout.page = {0, 0, pageWidth, h};
    layout.rows = {w - rowsWidth, 0, w, h};
    layout.tray = {pageWidth, h - trayHeight, w - rowsWidth, h};
    layout.looks = {pageWidth, 0, w - rowsWidth, looksHeight};
    layout.cloth = {pageWidth, looksHeight, w - rowsWidth, h - trayHeight};
    return layout;
}

ClothPane::Piece App::shownPiece() const {
    if (paper_ == Paper::showing && showing_)
        return {showing_->now().fabric(), showing_->now().version(), showing_->now().seen()};
    return {table_->fabric(), table_->version(), table_->seen()};
}

void App::frame(float seconds) {
    if (dirty_ > 0) --dirty_;
    if (styleStale_) remakeLook();
    const Sheets layout = layoutNow();
    ClothPane::Pace pace;
    pace.stillness = settings_.reducedMotion;
    if (paper_ == Paper::showing && showing_) {
        pace.frozen = showing_->frozen;
        pace.slow = showing_->slow;
    }
    moving_ = cloth_.update(shownPiece(), seconds, pace);

    takeKeys();
    const Window::Size size = window_.size();
    const Window::Size pixels = window_.pixels();
    const float scale = static_cast<float>(pixels.width) / static_cast<float>(std::max(1, size.width));
    input_.toWidgets(static_cast<float>(size.width), static_cast<float>(size.height), seconds);
    ImGui::GetIO().DisplayFramebufferScale = ImVec2(scale, scale);
    if (!isWide()) {
        takePointer(layout);
        refreshOffers();
        if (paper_ == Paper::showing) {
            cloth_.showGhost(showing_->now().version(), showing_->now().next(),
                             [&](const auto& look) { showing_->afterNext(look); });
        } else {
            const std::optional<Move> move = ghostWanted();
            cloth_.showGhost(table_->version(), move, [&](const auto& look) {
                (void)table_->work().tryOut(*move, [&](const Fabric& after, LoopId) { look(after); });
            });
        }
        ClothPane::Dress dress;
        dress.dark = settings_.dark;
        dress.ground = palette(settings_.dark).table;
        dress.wool = woolInHand();
        dress.smooth = start_.smooth;
        cloth_.draw(layout.cloth, scale, dress, marksNow());
    }

    buffer_.begin(pixels.width, pixels.height, palette(settings_.dark).table);
    ImGui_ImplOpenGL3_NewFrame();
    ImGui::NewFrame();
    ImGui::PushFont(fonts_.body);
    const bool clothIsWalked = !isWide() && paper_ != Paper::showing;
    controls_.beginFrame(palette(settings_.dark), settings_.textSize, clothIsWalked);
    drawPapers(layout);
    controls_.endFrame();
    ImGui::PopFont();
    ImGui::Render();
    ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
    buffer_.show();
    window_.present();

    const bool quitAsked = input_.quit;
    input_.endFrame();
    if (quitAsked) closing_ = true;
    const std::vector<Command> asked = commands_.take();
    for (const Command& command : asked) perform(command);
    if (!asked.empty()) dirty_ = std::max(dirty_, 2);
}

bool App::settled() const {
    return dirty_ == 0 && !moving_ && cloth_.still() && commands_.empty();
}

void App::takeKeys() {
    for (const std::string& file : input_.dropped) commands_.push(Ask::openFile, 0, file);
    if (controls_.typing()) {
        // Letters go to the field; Tab and Esc leave it.
        for (const KeyPress& key : input_.keys) {
            if (key.code == SDLK_TAB || key.code == SDLK_ESCAPE) controls_.leaveField();
        }
        return;
    }
    for (const KeyPress& key : input_.keys) takeKey(key);
}

void App::takeKey(const KeyPress& key) {
    if (key.code == SDLK_TAB) {
        controls_.nextArea(key.shift);
        return;
    }
    if (paper_ == Paper::showing) {
        // A clicker or the two keys come first; buttons are walked with the others.
        if (const Shortcut* shortcut = found(kShowingKeys, key)) {
            commands_.push(shortcut->ask, shortcut->n);
        } else if (!key.shift && !key.control) {
            (void)controls_.key(key);
        }
        return;
    }
    if (!key.shift && !key.control && controls_.key(key)) return;
    if (controls_.area() == Area::cloth && !key.shift && !key.control && !isWide()) {
        if (key.code == SDLK_SPACE) {
            commands_.push(Ask::doIt);
            return;
        }
        if (walk(key.code)) return;
    }
    if ((key.code == SDLK_RETURN || key.code == SDLK_KP_ENTER) && !isWide()) {
        commands_.push(Ask::goOn);
        return;
    }
    if (const Shortcut* shortcut = found(kShortcuts, key)) {
        // Over the table lies a paper: only what belongs to it.
        const bool papers = shortcut->ask == Ask::letGo || shortcut->ask == Ask::shelf ||
                            shortcut->ask == Ask::keys || shortcut->ask == Ask::showFiles ||
                            shortcut->ask == Ask::otherLook;
        if (!isWide() || papers) commands_.push(shortcut->ask, shortcut->n);
    }
}

}  // namespace loopmend::app
