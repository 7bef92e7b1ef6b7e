// SPDX-License-Identifier: MIT
#include "app/wide_paper.h"

#include <algorithm>

#include <imgui.h>

namespace loopmend::app {

void scrollBy(float pages) {
    if (pages != 0) ImGui::SetScrollY(ImGui::GetScrollY() + pages * 0.85F * ImGui::GetWindowHeight());
}

namespace {

/// Room is left for the ring round what the keyboard is at.
void begin(const std::string& name, float width, float textSize) {
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2(6 * textSize, 5 * textSize));
    ImGui::BeginChild(name.c_str(), ImVec2(width, 0), false,
                      ImGuiWindowFlags_AlwaysUseWindowPadding | ImGuiWindowFlags_NoNav);
    ImGui::PopStyleVar();
}

}  // namespace

WidePaper::WidePaper(const Desk& desk, const char* name, float pages)
    : name_(name), pages_(pages), textSize_(desk.textSize) {
    const float room = ImGui::GetContentRegionAvail().x;
    const float first = 330 * textSize_;
    if (room > first + 420 * textSize_) side_ = first;
    begin(name_ + ".first", side_ > 0 ? side_ : room, textSize_);
    if (side_ == 0) scrollBy(pages_);
}

void WidePaper::second() {
    if (side_ == 0) {
        ImGui::Dummy(ImVec2(0, 10 * textSize_));
        return;
    }
    ImGui::EndChild();
    ImGui::SameLine(0, 28 * textSize_);
    const float room = std::min(ImGui::GetContentRegionAvail().x, 860 * textSize_);
    begin(name_ + ".second", room, textSize_);
    scrollBy(pages_);
}

WidePaper::~WidePaper() {
    ImGui::EndChild();
}

bool wideButton(const Desk& desk, const std::string& id, const std::string& words, Controls::Kind kind,
                std::string_view key, bool enabled) {
    Controls::Extra extra;
    extra.width = -1;
    extra.key = key;
    extra.enabled = enabled;
    return desk.controls.button(Area::shelf, id, words, kind, extra);
}

}  // namespace loopmend::app
