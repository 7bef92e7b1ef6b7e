// SPDX-License-Identifier: MIT
#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>
#include <imgui.h>

#include "app/app.h"
#include "repair/builder.h"

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

MarkKind kindOf(PageMarkKind kind) {
    switch (kind) {
        case PageMarkKind::evidence: return MarkKind::evidence;
        case PageMarkKind::look: return MarkKind::row;
        case PageMarkKind::notice: return MarkKind::evidence;
        case PageMarkKind::mustGo: return MarkKind::mustComeUndone;
        case PageMarkKind::keep: return MarkKind::column;
        case PageMarkKind::next: return MarkKind::pointedAt;
        case PageMarkKind::through: return MarkKind::evidence;
    }
    return MarkKind::row;
}

}  // namespace

namespace {

/// So far the yarn is traced, in entries to either side.
constexpr int kTraced = 14;

/// Marks the row, the column or the yarn of a loop.
void lightUp(const Fabric& fabric, LoopId loop, Light light, std::vector<ClothMark>& marks) {
    if (light == Light::yarn) {
        EntryId back = fabric[loop].prev;
        EntryId on = fabric[loop].next;
        for (int i = 0; i < kTraced; ++i) {
            for (EntryId* at : {&back, &on}) {
                if (*at) marks.push_back({*at, MarkKind::row});
            }
            if (back) back = fabric[back].prev;
            if (on) on = fabric[on].next;
        }
        return;
    }
    if (light != Light::row && light != Light::column) return;
    const StitchPlaces places(fabric);
    const StitchPlace here = places.of(loop);
    for (const auto& row : places.rows()) {
        for (const LoopId other : row) {
            const StitchPlace there = places.of(other);
            const bool lit = light == Light::row ? there.row == here.row : there.column == here.column;
            if (lit) marks.push_back({other, light == Light::row ? MarkKind::row : MarkKind::column});
        }
    }
}

}  // namespace

std::vector<ClothMark> App::marksNow() const {
    std::vector<ClothMark> marks;
    if (const Session* session = table_->session()) {
        for (const PageMark& mark : session->marks()) {
            for (const std::vector<EntryId>* list : {&mark.loops, &mark.rungs, &mark.strands}) {
                for (const EntryId entry : *list) marks.push_back({entry, kindOf(mark.kind)});
            }
        }
    }
    if (pointed_ && pointed_->entry) {
        const Fabric& fabric = table_->fabric();
        if (pointed_->what == PointedAt::What::loop && fabric.has(pointed_->entry)) {
            lightUp(fabric, pointed_->entry, cloth_.looking.light, marks);
        }
        marks.push_back({pointed_->entry, MarkKind::pointedAt});
    }
    return marks;
}

void App::drawLooks(const Desk& desk, const Box& box) {
    const Sheet sheet("looks", box, desk.palette.table, false);
    bool begun = false;
    const auto press = [&](const char* id, const char* label, const char* key, bool chosen, Ask what) {
        Controls::Extra extra;
        extra.chosen = chosen;
        extra.key = key;
        if (begun) controls_.flow(controls_.widthOf(label, Controls::Kind::button, extra));
        begun = true;
        if (controls_.button(Area::notions, id, label, Controls::Kind::button, extra)) commands_.push(what);
    };
    press("look.turn", "Turn over", "T", false, Ask::turnOver);
    press("look.both", "Both", "B", cloth_.looking.both, Ask::bothSides);
    press("look.near", "+", "", false, Ask::nearer);
    press("look.far", "-", "", false, Ask::farther);
    press("look.pull", "Pull", "W", cloth_.looking.pulled, Ask::pull);
    press("look.tug", "Tug", "G", false, Ask::tug);
    press("look.held", "As you hold it", "0", false, Ask::asYouHoldIt);
    press("look.shelf", "Shelf", "F2", paper_ == Paper::shelf, Ask::shelf);
    fitTo(looksNeed_);
}

/// Remembers how high the sheet being drawn had to be, and asks for another frame if that is new.
void App::fitTo(float& height) {
    const float needs = ImGui::GetCursorPosY() - ImGui::GetStyle().ItemSpacing.y + 10 * settings_.textSize;
    if (std::abs(needs - height) < 1) return;
    height = needs;
    dirty_ = std::max(dirty_, 2);
}

void App::drawOverlay(const Sheets& layout) {
    ImDrawList& draw = *ImGui::GetBackgroundDrawList();
    const Palette& colours = palette(settings_.dark);
    for (const ClothPane::Shown& shown : cloth_.shown()) {
        draw.AddImage(reinterpret_cast<ImTextureID>(static_cast<std::intptr_t>(shown.texture)),
                      ImVec2(shown.box.left, shown.box.top), ImVec2(shown.box.right, shown.box.bottom),
                      ImVec2(0, 1), ImVec2(1, 0));
    }
    if (const auto end = cloth_.ballEnd(); end && !cloth_.looking.both) drawBall(*end, colours, draw);
    drawParts(draw);
    const auto label = [&](float x, float y, const std::string& words, bool flag) {
        const float pad = 7 * settings_.textSize;
        const ImVec2 size = ImGui::CalcTextSize(words.c_str());
        const ImVec2 to(x + size.x + 2 * pad + (flag ? 16 * settings_.textSize : 0), y + size.y + 2 * pad);
        draw.AddRectFilled(ImVec2(x, y), to, colours.paper, 3);
        draw.AddRect(ImVec2(x, y), to, colours.edge, 3);
        float left = x + pad;
        if (flag) {
            // A little pennant on a pin.
            const float s = 12 * settings_.textSize;
            draw.AddLine(ImVec2(left, y + pad), ImVec2(left, y + pad + s * 1.4F), colours.text, 2);
            draw.AddTriangleFilled(ImVec2(left, y + pad), ImVec2(left + s, y + pad + s * 0.4F),
                                   ImVec2(left, y + pad + s * 0.8F), colours.focus);
            left += 16 * settings_.textSize;
        }
        draw.AddText(ImVec2(left, y + pad), colours.text, words.c_str());
    };
    for (const ClothPane::Shown& shown : cloth_.shown()) {
        label(shown.box.left + 10, shown.box.top + 6,
              shown.side == Side::right ? "Facing you: right side" : "Facing you: wrong side", true);
    }
    if (!notice_.empty())
        label(layout.cloth.left + 10, layout.cloth.bottom - 44 * settings_.textSize, notice_, false);
    if (controls_.area() == Area::cloth) {
        draw.AddRect(ImVec2(layout.cloth.left + 1, layout.cloth.top + 1),
                     ImVec2(layout.cloth.right - 1, layout.cloth.bottom - 1), colours.focus, 0, 0, 2);
    }
}

/// The ball that the working yarn runs to, lying beside the cloth.
void App::drawBall(const ClothPane::YarnEnd& end, const Palette& colours, ImDrawList& draw) const {
    // It may lie half out of sight, but never where it cannot be seen.
    const Box box = layoutNow().cloth;
    const auto radius = static_cast<float>(std::clamp(end.yarnPixels * 3.2, 16.0, 60.0));
    const auto reach = [&](double at, double way) {
        return static_cast<float>(at + way * static_cast<double>(radius) * 0.8);
    };
    const ImVec2 middle(std::clamp(reach(end.at.x, end.way.x), box.left, box.right - radius * 0.55F),
                        std::clamp(reach(end.at.y, end.way.y), box.top + radius, box.bottom - radius));
    const Ink wool = cloth_.woolInk(settings_.dark, woolInHand());
    draw.PushClipRect(ImVec2(box.left, box.top), ImVec2(box.right, box.bottom));
    draw.AddCircleFilled(middle, radius, wool, 40);
    const Ink shade = (colours.text & 0x00FFFFFFU) | 0x60000000U;
    // Turns of yarn round it.
    constexpr std::array<float, 4> kTurns = {0.3F, 0.5F, 0.7F, 0.88F};
    for (std::size_t i = 0; i < kTurns.size(); ++i) {
        const float from = i % 2 == 0 ? 2.6F : -0.4F;
        draw.PathArcTo(middle, radius * kTurns[i], from, from + 2.4F, 24);
        draw.PathStroke(shade, 0, std::max(1.2F, radius * 0.06F));
    }
    draw.AddCircle(middle, radius, colours.edge, 40, 1.5F);
    draw.PopClipRect();
}

/// Names beside the parts of the stitch pointed at.
void App::drawParts(ImDrawList& draw) const {
    if (cloth_.looking.light != Light::parts || !pointed_ || pointed_->what != PointedAt::What::loop) return;
    const auto place = cloth_.whereIs(pointed_->entry);
    if (!place) return;
    const Palette& colours = palette(settings_.dark);
    const auto low = ImVec2(static_cast<float>(place->low.x), static_cast<float>(place->low.y));
    const auto high = ImVec2(static_cast<float>(place->high.x), static_cast<float>(place->high.y));
    const float middle = (low.x + high.x) / 2;
    const float gap = 34 * settings_.textSize;
    const auto name = [&](const char* words, ImVec2 to, ImVec2 from) {
        const ImVec2 size = ImGui::CalcTextSize(words);
        const ImVec2 corner(from.x - size.x / 2 - 5, from.y - size.y / 2 - 3);
        draw.AddLine(from, to, colours.text, 2);
        draw.AddCircleFilled(to, 3.5F, colours.text);
        draw.AddRectFilled(corner, ImVec2(corner.x + size.x + 10, corner.y + size.y + 6), colours.paper, 3);
        draw.AddRect(corner, ImVec2(corner.x + size.x + 10, corner.y + size.y + 6), colours.edge, 3);
        draw.AddText(ImVec2(corner.x + 5, corner.y + 3), colours.text, words);
    };
    const float third = (high.y - low.y) / 3;
    const float quarter = (high.x - low.x) / 4;
    name("head", ImVec2(middle, low.y + 2), ImVec2(middle, low.y - gap));
    name("left leg", ImVec2(low.x + quarter, low.y + third * 1.5F),
         ImVec2(low.x - gap * 1.6F, low.y + third));
    name("right leg", ImVec2(high.x - quarter, low.y + third * 1.5F),
         ImVec2(high.x + gap * 1.6F, low.y + third));
    name("feet", ImVec2(middle, high.y - third * 0.4F), ImVec2(middle, high.y + gap));
}

void App::drawPapers(const Sheets& layout) {
    const Desk desk = this->desk();
    drawOverlay(layout);
    drawLooks(desk, layout.looks);
    {
        const Sheet sheet("page", layout.page, desk.palette.paper, true);
        switch (paper_) {
            case Paper::shelf:
                drawShelf(desk, settings_, !lessonText_.empty() || table_->session() != nullptr, lessonDone_);
                break;
            case Paper::files: files_.draw(desk); break;
            case Paper::keys: drawKeys(desk); break;
            case Paper::work:
                if (const Session* session = table_->session()) {
                    drawLessonPage(desk, session->page());
                } else {
                    free_.name = tableName_;
                    free_.unsaved = table_->version() != savedVersion_;
                    drawFreePage(desk, *table_->piece(), table_->said(), free_);
                }
                break;
        }
    }
    {
        const Sheet sheet("tray", layout.tray, desk.palette.tray, false);
        ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing,
                            ImVec2(6 * settings_.textSize, 8 * settings_.textSize));
        TrayState tray;
        tray.inHand = inHand_;
        tray.offers = offers_;
        tray.offer = offer_;
        tray.pointed = free_.placeWords;
        tray.canUndo = table_->work().canUndo();
        tray.canRedo = table_->work().canRedo();
        tray.canKnitRow = true;
        drawTray(desk, tray);
        fitTo(trayNeeds_);
        ImGui::PopStyleVar();
    }
    if (layout.rows.width() > 1) {
        const Sheet sheet("rows", layout.rows, desk.palette.paper, true);
        rows_.current = rowInHand();
        drawRows(desk, *table_, rows_);
    }
}

}  // namespace loopmend::app
