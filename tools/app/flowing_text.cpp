// SPDX-License-Identifier: MIT
#include "app/flowing_text.h"

#include <algorithm>
#include <vector>

#include <imgui.h>

#include "picture/set_off.h"

namespace loopmend::app {

void flowingText(const std::string& words, Ink ink, Ink trade) {
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    const ImVec2 from = ImGui::GetCursorScreenPos();
    const float room = ImGui::GetContentRegionAvail().x;
    const float line = ImGui::GetTextLineHeight() * 1.18F;
    const float blank = ImGui::CalcTextSize(" ").x;
    float x = 0;
    float y = 0;
    const std::vector<SetOff> setOffs = setOff(words);
    const auto isMark = [&](std::size_t i) {
        return std::any_of(setOffs.begin(), setOffs.end(),
                           [&](const SetOff& word) { return word.open == i || word.close == i; });
    };
    for (std::size_t at = 0; at < words.size();) {
        std::size_t end = words.find_first_of(" \n", at);
        if (end == std::string::npos) end = words.size();
        const bool ends = end < words.size() && words[end] == '\n';
        const bool isTrade = std::any_of(setOffs.begin(), setOffs.end(), [&](const SetOff& word) {
            return word.open < end && word.close >= at;
        });
        std::string word;
        for (; at < end; ++at) {
            if (!isMark(at)) word += words[at];
        }
        at = end + 1;
        const float width = ImGui::CalcTextSize(word.c_str()).x;
        const std::size_t marks = word.find_last_not_of(".,:;?!");
        const std::size_t letters = marks == std::string::npos ? word.size() : marks + 1;
        if (x > 0 && x + width > room) {
            x = 0;
            y += line;
        }
        draw.AddText(ImVec2(from.x + x, from.y + y), isTrade ? trade : ink, word.c_str());
        if (isTrade) {
            const float under = from.y + y + ImGui::GetTextLineHeight() + 1;
            const float length = ImGui::CalcTextSize(word.substr(0, letters).c_str()).x;
            draw.AddLine(ImVec2(from.x + x, under), ImVec2(from.x + x + length, under), trade, 1.5F);
        }
        x += width + blank;
        if (ends) {
            x = 0;
            y += line;
        }
    }
    ImGui::Dummy(ImVec2(room, y + line));
}

}  // namespace loopmend::app
