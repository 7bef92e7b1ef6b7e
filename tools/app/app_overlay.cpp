// SPDX-License-Identifier: MIT
//
// What lies over the cloth: marks, labels, the ball, the hook, the names of parts.
#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>
#include <imgui.h>

#include "app/app.h"
#include "repair/builder.h"

namespace loopmend::app {

namespace {

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
    if (paper_ == Paper::showing) return static_cast<int>(showing_->piece().yarn.color);
    return table_->session() != nullptr ? static_cast<int>(table_->session()->piece().yarn.color) : 1;
}

std::vector<ClothMark> App::marksNow() const {
    std::vector<ClothMark> marks;
    const auto light = [&](const std::vector<PageMark>& lit) {
        for (const PageMark& mark : lit) {
            for (const std::vector<EntryId>* list : {&mark.loops, &mark.rungs, &mark.strands}) {
                for (const EntryId entry : *list) marks.push_back({entry, kindOf(mark.kind)});
            }
        }
    };
    if (paper_ == Paper::showing) {
        light(showing_->now().marks());
        return marks;
    }
    if (const Session* session = table_->session()) light(session->marks());
    lightOwn(marks);
    lightWay(marks);
    if (pointed_ && pointed_->entry) {
        const Fabric& fabric = table_->fabric();
        if (pointed_->what == PointedAt::What::loop && fabric.has(pointed_->entry)) {
            lightUp(fabric, pointed_->entry, cloth_.looking.light, marks);
        }
        marks.push_back({pointed_->entry, MarkKind::pointedAt});
    }
    return marks;
}

void App::drawOverlay(const Sheets& layout) {
    ImDrawList& draw = *ImGui::GetBackgroundDrawList();
    const Palette& colours = palette(settings_.dark);
    for (const ClothPane::Shown& shown : cloth_.shown()) {
        draw.AddImage(reinterpret_cast<ImTextureID>(static_cast<std::intptr_t>(shown.texture)),
                      ImVec2(shown.box.left, shown.box.top), ImVec2(shown.box.right, shown.box.bottom),
                      ImVec2(0, 1), ImVec2(1, 0));
    }
    if (cloth_.shown().size() == 2) {
        const Box& beside = cloth_.shown()[1].box;
        draw.AddRectFilled(ImVec2(beside.left - 2, beside.top), ImVec2(beside.left + 2, beside.bottom),
                           colours.tray);
    }
    if (const auto end = cloth_.ballEnd(); end && !cloth_.looking.both) drawBall(*end, colours, draw);
    if (paper_ != Paper::showing) {
        drawHook(colours, draw);
        drawParts(draw);
        drawPointedPart(draw);
        drawOrder(draw);
        drawOwnPlace(draw);
    }
    const float pad = 7 * settings_.textSize;
    // What is longer than `wrap` (0: no matter how long) takes further lines, upward from there.
    const auto label = [&](float x, float y, const std::string& words, bool flag, float wrap) {
        const ImVec2 size = ImGui::CalcTextSize(words.c_str(), nullptr, false, wrap);
        y -= size.y - ImGui::CalcTextSize(words.c_str()).y;
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
        draw.AddText(ImGui::GetFont(), ImGui::GetFontSize(), ImVec2(left, y + pad), colours.text,
                     words.c_str(), nullptr, wrap);
    };
    bool first = true;
    for (const ClothPane::Shown& shown : cloth_.shown()) {
        const std::string side = shown.side == Side::right ? "right side" : "wrong side";
        label(shown.box.left + 10, shown.box.top + 6, (first ? "Facing you: " : "From behind: ") + side,
              first, 0);
        first = false;
    }
    if (!notice_.empty())
        label(layout.cloth.left + 10, layout.cloth.bottom - 44 * settings_.textSize, notice_, false,
              layout.cloth.right - layout.cloth.left - 20 - 2 * pad);
    if (controls_.area() == Area::cloth && paper_ != Paper::showing) {
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
    const auto place = cloth_.whereIs(pointed_->entry, handSide() == table_->seen() ? 0 : 1);
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

/// The hook, as long as it holds a stitch: a shaft that lies below it, so that the rungs above stay in view.
void App::drawHook(const Palette& colours, ImDrawList& draw) const {
    const Work& work = table_->work();
    const Fabric& fabric = table_->fabric();
    LoopId held;
    for (std::size_t i = work.made().size(); i-- > 0 && !held;) {
        const LoopId made = work.made()[i];
        if (!made) continue;
        if (!fabric.has(made) || !fabric.isLoop(made) || !fabric.isLive(made) || !fabric.isLoose(made)) break;
        held = made;
    }
    if (!held && !work.stacked().empty()) held = work.stacked().front();
    if (!held) return;
    const Box box = layoutNow().cloth;
    draw.PushClipRect(ImVec2(box.left, box.top), ImVec2(box.right, box.bottom));
    for (std::size_t which = 0; which < cloth_.pictures(); ++which) {
        const auto place = cloth_.whereIs(held, which);
        if (!place) continue;
        // A right hand holds it from the right, and from behind it comes from the other side.
        const float to = (work.knitter().mirrored() ? -1.0F : 1.0F) * (which == 0 ? 1.0F : -1.0F);
        const auto thick = static_cast<float>(std::clamp((place->high.x - place->low.x) * 0.16, 6.0, 16.0));
        const ImVec2 tip(static_cast<float>((place->low.x + place->high.x) / 2),
                         static_cast<float>(place->low.y) + thick * 1.2F);
        const ImVec2 way(0.62F * to, 0.785F);
        const float length = thick * 11;
        const auto along = [&](float far, float aside) {
            return ImVec2(tip.x + way.x * far - way.y * aside, tip.y + way.y * far + way.x * aside);
        };
        // Shaft, and the tip bent back over the yarn.
        const std::array<ImVec2, 4> shaft = {along(0, 0), along(length, 0), along(length, 0), along(0, 0)};
        for (const auto& [ink, wide] : {std::pair(colours.text, thick + 3), std::pair(colours.tray, thick)}) {
            draw.AddLine(shaft[0], shaft[1], ink, wide);
            draw.AddCircleFilled(along(0, 0), wide / 2, ink, 20);
            draw.AddLine(along(0, 0), along(thick * 0.9F, -thick * 0.95F * to), ink, wide * 0.6F);
            draw.AddCircleFilled(along(thick * 0.9F, -thick * 0.95F * to), wide * 0.3F, ink, 12);
        }
    }
    draw.PopClipRect();
}

/// A ring at the part that is pointed at, where the page asks for parts or the keyboard chose one.
void App::drawPointedPart(ImDrawList& draw) const {
    if (!pointed_ || inHand_ != 0 || wholePart_ || cloth_.looking.light == Light::parts) return;
    if (pointed_->what != PointedAt::What::loop && pointed_->what != PointedAt::What::strand) return;
    if (table_->session() == nullptr || table_->session()->step() != StepKind::ask) return;
    const auto place = cloth_.whereIs(pointed_->entry, handSide() == table_->seen() ? 0 : 1);
    if (!place) return;
    const double w = place->high.x - place->low.x;
    const double h = place->high.y - place->low.y;
    const char* name = "";
    PixelPoint at{(place->low.x + place->high.x) / 2, (place->low.y + place->high.y) / 2};
    switch (part_) {
        case YarnPart::head:
            name = "head";
            at.y = place->low.y + 0.1 * h;
            break;
        case YarnPart::leftLeg:
            name = "left leg";
            at.x -= 0.25 * w;
            break;
        case YarnPart::rightLeg:
            name = "right leg";
            at.x += 0.25 * w;
            break;
        case YarnPart::strand:
            name = "bar";
            at.y = place->high.y - 0.05 * h;
            break;
        default:
            name = "feet";
            at.y = place->high.y - 0.1 * h;
            break;
    }
    const Palette& colours = palette(settings_.dark);
    const ImVec2 size = ImGui::CalcTextSize(name);
    const ImVec2 corner(static_cast<float>(place->high.x) + 12, static_cast<float>(at.y) - size.y / 2 - 3);
    draw.AddRectFilled(corner, ImVec2(corner.x + size.x + 10, corner.y + size.y + 6), colours.paper, 3);
    draw.AddRect(corner, ImVec2(corner.x + size.x + 10, corner.y + size.y + 6), colours.edge, 3);
    draw.AddText(ImVec2(corner.x + 5, corner.y + 3), colours.text, name);
}

/// What was pointed at so far, numbered as it came.
void App::drawOrder(ImDrawList& draw) const {
    const Session* session = table_->session();
    if (session == nullptr || session->step() != StepKind::ask) return;
    const Palette& colours = palette(settings_.dark);
    for (const PageMark& mark : session->marks()) {
        if (mark.kind != PageMarkKind::evidence || mark.loops.size() < 2) continue;
        int n = 0;
        for (const EntryId loop : mark.loops) {
            ++n;
            const auto place = cloth_.whereIs(loop);
            if (!place) continue;
            const std::string number = std::to_string(n);
            const ImVec2 size = ImGui::CalcTextSize(number.c_str());
            const ImVec2 at(static_cast<float>(place->at.x), static_cast<float>(place->at.y));
            const float round = std::max(size.x, size.y) * 0.62F;
            draw.AddCircleFilled(at, round, colours.paper, 20);
            draw.AddCircle(at, round, colours.text, 20, 1.5F);
            draw.AddText(ImVec2(at.x - size.x / 2, at.y - size.y / 2), colours.text, number.c_str());
        }
    }
}

}  // namespace loopmend::app
