// SPDX-License-Identifier: MIT
#include "app/app.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <filesystem>
#include <utility>

#include <SDL.h>
#include <backends/imgui_impl_opengl3.h>
#include <fmt/format.h>
#include <imgui.h>

#include "repair/builder.h"

namespace loopmend::app {

namespace {

struct Shortcut {
    int code;
    bool shift;
    bool control;
    Ask ask;
    int n;
};
constexpr std::array<Shortcut, 47> kShortcuts = {{
    {SDLK_h, false, false, Ask::hint, 0},
    {SDLK_BACKSPACE, false, false, Ask::goBack, 0},
    {SDLK_t, false, false, Ask::turnOver, 0},
    {SDLK_b, false, false, Ask::bothSides, 0},
    {SDLK_PLUS, false, false, Ask::nearer, 0},
    {SDLK_EQUALS, false, false, Ask::nearer, 0},
    {SDLK_EQUALS, true, false, Ask::nearer, 0},
    {SDLK_KP_PLUS, false, false, Ask::nearer, 0},
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
    {SDLK_a, false, false, Ask::otherWay, 0},
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
}};

}  // namespace

App::App(Window& window, Start start)
    : window_(window), start_(std::move(start)), keeping_(start_.folder), cloth_(start_.wake) {
    IMGUI_CHECKVERSION();
    ImGui::CreateContext();
    ImGui::GetIO().IniFilename = nullptr;
    ImGui::GetIO().LogFilename = nullptr;
    ImGui_ImplOpenGL3_Init("#version 330 core");
    unfit_ = cloth_.begin();

    const Keeping::Kept kept = keeping_.read();
    settings_ = kept.settings;
    lessonText_ = kept.lesson;
    lessonDone_ = kept.lessonDone;
    beginLesson(false);
    paper_ = Paper::work;
    if (!kept.trouble.empty()) notice(kept.trouble);
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
    const float pageWidth = std::min(0.42F * w, 334 * settings_.textSize);
    const float trayHeight = std::clamp(trayNeeds_, 100 * settings_.textSize, 0.4F * h);
    const float rowsWish =
        rows_.asChart ? std::min(0.3F * w, 380.0F) : std::min(0.22F * w, 206 * settings_.textSize);
    const float rowsWidth = paper_ == Paper::work && w > 1050 ? rowsWish : 0;
    const float looksHeight = std::clamp(looksNeed_, 40 * settings_.textSize, 0.3F * h);
    Sheets layout;
    layout.page = {0, 0, pageWidth, h};
    layout.rows = {w - rowsWidth, 0, w, h};
    layout.tray = {pageWidth, h - trayHeight, w - rowsWidth, h};
    layout.looks = {pageWidth, 0, w - rowsWidth, looksHeight};
    layout.cloth = {pageWidth, looksHeight, w - rowsWidth, h - trayHeight};
    return layout;
}

void App::frame(float seconds) {
    if (dirty_ > 0) --dirty_;
    if (styleStale_) remakeLook();
    const Sheets layout = layoutNow();
    moving_ = cloth_.update(*table_, seconds, settings_.reducedMotion);

    if (!files_.typing()) takeKeys();
    if (files_.typing()) {
        for (const KeyPress& key : input_.keys) {
            if (key.code == SDLK_ESCAPE) commands_.push(Ask::letGo);
        }
    }
    const Window::Size size = window_.size();
    const Window::Size pixels = window_.pixels();
    const float scale = static_cast<float>(pixels.width) / static_cast<float>(std::max(1, size.width));
    input_.toWidgets(static_cast<float>(size.width), static_cast<float>(size.height), seconds);
    ImGui::GetIO().DisplayFramebufferScale = ImVec2(scale, scale);
    takePointer(layout);
    refreshOffers();

    cloth_.showGhost(*table_, ghostWanted());
    ClothPane::Dress dress;
    dress.dark = settings_.dark;
    dress.ground = palette(settings_.dark).table;
    dress.wool = woolInHand();
    cloth_.draw(layout.cloth, scale, dress, marksNow());

    buffer_.begin(pixels.width, pixels.height, palette(settings_.dark).table);
    ImGui_ImplOpenGL3_NewFrame();
    ImGui::NewFrame();
    ImGui::PushFont(fonts_.body);
    controls_.beginFrame(palette(settings_.dark), settings_.textSize);
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

/// The move under the pointer; without one, what the page shows.
std::optional<Move> App::ghostWanted() const {
    if (inHand_ > 0 && pointed_ && !offers_.empty()) {
        const Offer& offer = offers_[offer_];
        const bool shows =
            offer.possible && (offer.move.kind == MoveKind::hook || offer.move.kind == MoveKind::pin ||
                               offer.move.kind == MoveKind::seat || offer.move.kind == MoveKind::work ||
                               offer.move.kind == MoveKind::liftBar);
        if (shows) return offer.move;
        return std::nullopt;
    }
    const Session* session = table_->session();
    return session != nullptr ? session->shownMove() : std::nullopt;
}

int App::woolInHand() const {
    return table_->session() != nullptr ? static_cast<int>(table_->session()->piece().yarn.color) : 1;
}

bool App::settled() const {
    return dirty_ == 0 && !moving_ && cloth_.still() && commands_.empty();
}

void App::takeKeys() {
    for (const std::string& file : input_.dropped) commands_.push(Ask::openFile, 0, file);
    for (const KeyPress& key : input_.keys) {
        if (key.code == SDLK_TAB) {
            controls_.nextArea(key.shift);
            continue;
        }
        if (!key.shift && !key.control && controls_.key(key)) continue;
        if (controls_.area() == Area::cloth && !key.shift && !key.control) {
            if (key.code == SDLK_SPACE) {
                commands_.push(Ask::doIt);
                continue;
            }
            if (walk(key.code)) continue;
        }
        if (key.code == SDLK_RETURN || key.code == SDLK_KP_ENTER) {
            commands_.push(Ask::goOn);
            continue;
        }
        for (const Shortcut& shortcut : kShortcuts) {
            if (shortcut.code == key.code && shortcut.shift == key.shift && shortcut.control == key.control) {
                commands_.push(shortcut.ask, shortcut.n);
                break;
            }
        }
    }
}

/// The next place in the direction of an arrow key: near, and rather straight ahead than aside.
bool App::walk(int code) {
    PixelPoint way;
    switch (code) {
        case SDLK_LEFT: way = {-1, 0}; break;
        case SDLK_RIGHT: way = {1, 0}; break;
        case SDLK_UP: way = {0, -1}; break;
        case SDLK_DOWN: way = {0, 1}; break;
        default: return false;
    }
    std::vector<PointedAt> places;
    if (inHand_ == 0) {
        const StitchPlaces stitches(table_->fabric());
        for (const auto& row : stitches.rows()) {
            for (const LoopId loop : row) places.push_back({PointedAt::What::loop, loop});
        }
        for (const PointedAt& rung : stops(table_->work(), Notion::hook, table_->seen())) {
            if (rung.what == PointedAt::What::rung) places.push_back(rung);
        }
    } else {
        places = stops(table_->work(), static_cast<Notion>(inHand_ - 1), table_->seen());
    }
    if (places.empty()) return true;
    const auto where = [&](const PointedAt& p) -> std::optional<PixelPoint> {
        if (p.what == PointedAt::What::tips) return tipsAt();
        const auto drawn = cloth_.whereIs(p.entry);
        if (!drawn) return std::nullopt;
        if (p.what != PointedAt::What::strand) return drawn->at;
        // The strand lies between its stitch and the next one.
        const Fabric& fabric = table_->fabric();
        EntryId next = fabric[p.entry].next;
        while (next && !fabric.isLoop(next)) next = fabric[next].next;
        const auto other = next ? cloth_.whereIs(next) : std::nullopt;
        if (!other) return drawn->at;
        return PixelPoint{(drawn->at.x + other->at.x) / 2, (drawn->at.y + other->at.y) / 2};
    };
    std::optional<PixelPoint> from = pointed_ ? where(*pointed_) : std::nullopt;
    const PointedAt* best = nullptr;
    double bestCost = 0;
    for (const PointedAt& place : places) {
        if (pointed_ && place == *pointed_) continue;
        const auto there = where(place);
        if (!there) continue;
        double cost = 0;
        if (from) {
            const double dx = there->x - from->x;
            const double dy = there->y - from->y;
            const double ahead = dx * way.x + dy * way.y;
            const double aside = std::abs(dx * way.y - dy * way.x);
            if (ahead < 2) continue;
            cost = ahead + 2.5 * aside;
        } else {
            cost = static_cast<double>(&place - places.data());
        }
        if (best == nullptr || cost < bestCost) {
            best = &place;
            bestCost = cost;
        }
    }
    if (best != nullptr) {
        pointed_ = *best;
        part_ = YarnPart::head;
        offersOf_ = 0;
        notice_.clear();
    }
    return true;
}

/// Where the next stitch is worked: at the first stitch of the left needle, or the last one of the right.
std::optional<PixelPoint> App::tipsAt() const {
    const Knitter& knitter = table_->work().knitter();
    const std::vector<LoopId> ahead = knitter.ahead();
    const std::vector<LoopId> behind = knitter.behind();
    if (ahead.empty() && behind.empty()) return std::nullopt;
    const auto drawn = cloth_.whereIs(ahead.empty() ? behind.back() : ahead.front());
    if (!drawn) return std::nullopt;
    return PixelPoint{drawn->at.x, drawn->low.y};
}

std::optional<PixelPoint> App::drawnAt(EntryId entry) const {
    const auto drawn = cloth_.whereIs(entry);
    if (!drawn || !drawn->visible) return std::nullopt;
    const Sheets sheets = layoutNow();
    if (!sheets.cloth.contains(static_cast<float>(drawn->at.x), static_cast<float>(drawn->at.y)))
        return std::nullopt;
    return drawn->at;
}

void App::takePointer(const Sheets& layout) {
    const bool inCloth = layout.cloth.contains(input_.x, input_.y);
    if (inCloth && input_.wheel != 0) {
        cloth_.nearer(std::pow(1.2, static_cast<double>(input_.wheel)), input_.x, input_.y);
        moving_ = true;
    }
    if (dragging_ && input_.down[2] && input_.moved) {
        const ImVec2 before = ImGui::GetIO().MousePosPrev;
        cloth_.moveBy(input_.x - before.x, input_.y - before.y);
        moving_ = true;
    }
    dragging_ = inCloth && input_.down[2];
    if (inCloth && (input_.moved || input_.pressed[0] || input_.pressed[1]))
        point(cloth_.at(input_.x, input_.y));
    if (inCloth && input_.pressed[0]) {
        controls_.goTo(Area::cloth);
        commands_.push(Ask::doIt);
    }
    if (inCloth && input_.pressed[1]) commands_.push(Ask::otherWay);
}

void App::point(const std::optional<Picked>& picked) {
    std::optional<PointedAt> now;
    YarnPart part = YarnPart::head;
    if (picked) {
        part = picked->part;
        if (picked->part == YarnPart::tool) {
            now = PointedAt{PointedAt::What::tips, {}};
        } else if (picked->part == YarnPart::rung) {
            now = PointedAt{PointedAt::What::rung, picked->entry};
        } else if (table_->fabric().isLoop(picked->entry)) {
            now = PointedAt{PointedAt::What::loop, picked->entry};
        }
    }
    part_ = part;
    const bool same = now.has_value() == pointed_.has_value() && (!now || *now == *pointed_);
    if (same) return;
    pointed_ = now;
    offersOf_ = 0;
}

void App::refreshOffers() {
    if (offersOf_ == table_->version()) return;
    offersOf_ = table_->version();
    offers_.clear();
    offer_ = 0;
    free_.placeWords.clear();
    free_.showFaults = false;
    if (!pointed_) return;
    if (pointed_->entry && !table_->fabric().has(pointed_->entry)) {
        pointed_.reset();
        return;
    }
    if (inHand_ > 0) {
        offers_ =
            offersAt(table_->work(), static_cast<Notion>(inHand_ - 1), *pointed_, terms(), table_->seen());
        const auto fits =
            std::find_if(offers_.begin(), offers_.end(), [](const Offer& o) { return o.possible; });
        if (fits != offers_.end()) offer_ = static_cast<std::size_t>(fits - offers_.begin());
    }
    if (pointed_->what == PointedAt::What::loop) free_.placeWords = placeWords(pointed_->entry);
}

}  // namespace loopmend::app
