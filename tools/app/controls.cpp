// SPDX-License-Identifier: MIT
#include "app/controls.h"

#include <algorithm>
#include <array>
#include <utility>

#include <SDL.h>
#include <imgui.h>

namespace loopmend::app {

void Controls::beginFrame(const Palette& palette, float textSize, bool cloth) {
    palette_ = palette;
    scale_ = textSize;
    cloth_ = cloth;
    typingNow_ = false;
    listing_.clear();
}

void Controls::endFrame() {
    shown_ = std::move(listing_);
    listing_.clear();
    activated_.clear();
    typing_ = typingNow_;
    if (!cloth_ && area_ == Area::cloth && !shown_.empty()) area_ = shown_.front().area;
    const bool there = std::any_of(shown_.begin(), shown_.end(), [&](const Control& c) {
        return c.id == focused_ && c.area == area_ && c.enabled;
    });
    if (!there) {
        focused_.clear();
        const auto reach = reachable();
        if (!reach.empty()) focused_ = reach.front()->id;
    }
}

std::vector<const Control*> Controls::reachable() const {
    std::vector<const Control*> found;
    for (const Control& control : shown_) {
        if (control.area == area_ && control.enabled) found.push_back(&control);
    }
    return found;
}

void Controls::goTo(Area area) {
    if (area_ == area) return;
    area_ = area;
    focused_.clear();
    const auto reach = reachable();
    if (!reach.empty()) focused_ = reach.front()->id;
}

void Controls::nextArea(bool backward) {
    keyboardUsed_ = true;
    scrollTo_ = true;
    constexpr std::array<Area, 5> kOrder = {Area::cloth, Area::page, Area::notions, Area::rows, Area::shelf};
    const auto here = std::find(kOrder.begin(), kOrder.end(), area_) - kOrder.begin();
    for (std::size_t step = 1; step <= kOrder.size(); ++step) {
        const std::size_t i =
            (static_cast<std::size_t>(here) + (backward ? kOrder.size() - step : step)) % kOrder.size();
        const bool stocked = (kOrder[i] == Area::cloth && cloth_) ||
                             std::any_of(shown_.begin(), shown_.end(),
                                         [&](const Control& c) { return c.area == kOrder[i] && c.enabled; });
        if (stocked) {
            goTo(kOrder[i]);
            return;
        }
    }
}

bool Controls::key(const KeyPress& press) {
    if (area_ == Area::cloth) return false;
    const auto reach = reachable();
    if (reach.empty()) return false;
    auto at = std::find_if(reach.begin(), reach.end(), [&](const Control* c) { return c->id == focused_; });
    if (at == reach.end()) at = reach.begin();
    switch (press.code) {
        case SDLK_DOWN:
        case SDLK_RIGHT:
            ++at;
            if (at == reach.end()) at = reach.begin();
            break;
        case SDLK_UP:
        case SDLK_LEFT:
            if (at == reach.begin()) at = reach.end();
            --at;
            break;
        case SDLK_RETURN:
        case SDLK_KP_ENTER:
        case SDLK_SPACE: activated_ = (*at)->id; break;
        default: return false;
    }
    focused_ = (*at)->id;
    keyboardUsed_ = true;
    scrollTo_ = true;
    return true;
}

/// Remembers where a control was drawn last.
void Controls::list(Area area, const std::string& id, bool enabled) {
    const ImVec2 from = ImGui::GetItemRectMin();
    const ImVec2 to = ImGui::GetItemRectMax();
    const ImVec2 middle((from.x + to.x) / 2, (from.y + to.y) / 2);
    const bool inSight =
        ImGui::IsRectVisible(ImVec2(middle.x - 1, middle.y - 1), ImVec2(middle.x + 1, middle.y + 1));
    listing_.push_back({id, area, from.x, from.y, to.x, to.y, enabled, inSight});
}

/// The ring round what the keyboard is at.
void Controls::ring(Area area, const std::string& id) {
    if (area != area_ || id != focused_) return;
    if (scrollTo_) {
        scrollTo_ = false;
        const float top = ImGui::GetItemRectMin().y - ImGui::GetWindowPos().y;
        const float bottom = ImGui::GetItemRectMax().y - ImGui::GetWindowPos().y;
        if (top < 0 || bottom > ImGui::GetWindowHeight()) ImGui::SetScrollFromPosY((top + bottom) / 2, 0.5F);
    }
    if (!keyboardUsed_) return;
    const float gap = 3 * scale_;
    const ImVec2 from = ImGui::GetItemRectMin();
    const ImVec2 to = ImGui::GetItemRectMax();
    ImGui::GetWindowDrawList()->AddRect(ImVec2(from.x - gap, from.y - gap), ImVec2(to.x + gap, to.y + gap),
                                        palette_.focus, 4 * scale_, 0, 3 * scale_);
}

bool Controls::card(Area area, const std::string& id, const Card& card, const Fonts& fonts) {
    const float pad = 10 * scale_;
    const float width = ImGui::GetContentRegionAvail().x;
    const float wrap = width - card.indent - 2 * pad;
    const auto heightOf = [&](std::string_view words) {
        return words.empty() ? 0
                             : ImGui::CalcTextSize(words.data(), words.data() + words.size(), false, wrap).y;
    };
    ImGui::PushFont(fonts.strong);
    const float title = heightOf(card.title);
    ImGui::PopFont();
    const float about = heightOf(card.about);
    const float state = heightOf(card.state);
    const float height = std::max({44 * scale_, card.least, title + about + state + 2 * pad});
    const ImVec2 from = ImGui::GetCursorScreenPos();
    const bool pressed = ImGui::InvisibleButton(id.c_str(), ImVec2(width, height));
    const bool hovered = ImGui::IsItemHovered();
    list(area, id, true);
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    const ImVec2 to(from.x + width, from.y + height);
    draw.AddRectFilled(from, to, hovered ? palette_.hover : palette_.button, 4 * scale_);
    draw.AddRect(from, to, palette_.edge, 4 * scale_, 0, 1.2F * scale_);
    float y = from.y + pad;
    const auto write = [&](ImFont* font, std::string_view words, Ink ink, float high) {
        if (words.empty()) return;
        draw.AddText(font, font->FontSize, ImVec2(from.x + card.indent + pad, y), ink, words.data(),
                     words.data() + words.size(), wrap + 1);
        y += high;
    };
    write(fonts.strong, card.title, palette_.text, title);
    write(fonts.body, card.about, palette_.text, about);
    write(fonts.body, card.state, palette_.quiet, state);
    ring(area, id);
    if (pressed) {
        area_ = area;
        focused_ = id;
    }
    return pressed || activated_ == id;
}

void Controls::leaveField() {
    ImGui::SetWindowFocus(nullptr);
    typing_ = false;
}

bool Controls::field(Area area, const std::string& id, char* text, std::size_t size, float width) {
    if (activated_ == id) ImGui::SetKeyboardFocusHere();
    ImGui::SetNextItemWidth(width);
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, ImVec2(10 * scale_, 13 * scale_));
    ImGui::PushStyleVar(ImGuiStyleVar_FrameBorderSize, 1.2F * scale_);
    ImGui::PushStyleColor(ImGuiCol_Border, palette_.edge);
    const bool entered =
        ImGui::InputText(("##" + id).c_str(), text, size, ImGuiInputTextFlags_EnterReturnsTrue);
    ImGui::PopStyleColor();
    ImGui::PopStyleVar(2);
    if (ImGui::IsItemActive()) {
        typingNow_ = true;
        area_ = area;
        focused_ = id;
    }
    list(area, id, true);
    ring(area, id);
    return entered;
}

float Controls::widthOf(const std::string& label, Kind kind, const Extra& extra) const {
    const float padX = (kind == Kind::link ? 4.0F : 10.0F) * scale_;
    float width = ImGui::CalcTextSize(label.c_str()).x + 2 * padX;
    if (!extra.mark.empty()) width += ImGui::CalcTextSize((std::string(extra.mark) + "  ").c_str()).x;
    if (!extra.key.empty()) width += ImGui::CalcTextSize(std::string(extra.key).c_str()).x + padX;
    return std::max(width, 40 * scale_);
}

void Controls::flow(float width) const {
    ImGui::SameLine();
    if (ImGui::GetContentRegionAvail().x < width) ImGui::NewLine();
}

bool Controls::button(Area area, const std::string& id, const std::string& label, Kind kind,
                      const Extra& extra) {
    const float padX = (kind == Kind::link ? 4.0F : 10.0F) * scale_;
    const float padY = (kind == Kind::link ? 4.0F : 10.0F) * scale_;
    const float room = ImGui::GetContentRegionAvail().x;
    float width = extra.width;
    std::string words = extra.mark.empty() ? label : std::string(extra.mark) + "  " + label;
    const float keyRoom =
        extra.key.empty() ? 0 : ImGui::CalcTextSize(std::string(extra.key).c_str()).x + padX;
    const bool wide = kind == Kind::choice || width < 0;
    if (wide) {
        width = room;
    } else if (width == 0) {
        width = widthOf(label, kind, extra);
    }
    const float inset = extra.picture != 0 ? extra.pictureWidth + padX : 0;
    const float wrap = width - 2 * padX - keyRoom - inset;
    const ImVec2 text = ImGui::CalcTextSize(words.c_str(), nullptr, false, wrap);
    const float least = (kind == Kind::link ? 28.0F : 44.0F) * scale_;
    const float frame = 4 * scale_;
    const float height =
        std::max({least, text.y + 2 * padY, extra.picture != 0 ? extra.pictureHeight + 2 * frame : 0});

    const ImVec2 from = ImGui::GetCursorScreenPos();
    const bool pressed = ImGui::InvisibleButton(id.c_str(), ImVec2(width, height)) && extra.enabled;
    const bool hovered = ImGui::IsItemHovered() && extra.enabled;
    const ImVec2 to(from.x + width, from.y + height);
    list(area, id, extra.enabled);

    ImDrawList& draw = *ImGui::GetWindowDrawList();
    const float round = 4 * scale_;
    const bool filled = extra.chosen || (kind == Kind::main && extra.enabled);
    const Ink words_ = filled ? palette_.onChosen : extra.enabled ? palette_.text : palette_.quiet;
    if (kind != Kind::link) {
        draw.AddRectFilled(from, to,
                           filled    ? palette_.chosen
                           : hovered ? palette_.hover
                                     : palette_.button,
                           round);
        draw.AddRect(from, to, palette_.edge, round, 0, extra.chosen ? 2.5F * scale_ : 1.2F * scale_);
    } else if (hovered) {
        draw.AddLine(ImVec2(from.x + padX, to.y - 3), ImVec2(to.x - padX, to.y - 3), palette_.text, 1.5F);
    }
    if (extra.picture != 0) {
        const ImVec2 at(from.x + frame, from.y + (height - extra.pictureHeight) / 2);
        draw.AddImage(reinterpret_cast<ImTextureID>(static_cast<std::intptr_t>(extra.picture)), at,
                      ImVec2(at.x + extra.pictureWidth, at.y + extra.pictureHeight));
    }
    const float x = wide || kind == Kind::link ? from.x + padX + inset : from.x + padX + (wrap - text.x) / 2;
    draw.AddText(ImGui::GetFont(), ImGui::GetFontSize(), ImVec2(x, from.y + (height - text.y) / 2), words_,
                 words.c_str(), nullptr, wrap + 1);
    if (!extra.key.empty()) {
        const std::string key(extra.key);
        const ImVec2 size = ImGui::CalcTextSize(key.c_str());
        draw.AddText(ImVec2(to.x - padX - size.x, from.y + (height - size.y) / 2),
                     filled ? palette_.onChosen : palette_.quiet, key.c_str());
    }
    ring(area, id);
    if (pressed) {
        area_ = area;
        focused_ = id;
    }
    return pressed || (extra.enabled && activated_ == id);
}

}  // namespace loopmend::app
