// SPDX-License-Identifier: MIT
#include "app/style.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <filesystem>

#include <imgui.h>

namespace loopmend::app {

namespace {

constexpr Ink rgb(std::uint32_t hex) {
    return 0xFF000000U | ((hex & 0xFFU) << 16U) | (hex & 0xFF00U) | ((hex >> 16U) & 0xFFU);
}

constexpr Palette kLight = {rgb(0xE7E2D8), rgb(0xFBF8F2), rgb(0xD9D2C4), rgb(0x26231F),
                            rgb(0x4A453E), rgb(0x6E665A), rgb(0xF1ECE2), rgb(0xE3DBCB),
                            rgb(0x1D5A61), rgb(0xFFFFFF), rgb(0x1D5A61), rgb(0xA63A00)};
constexpr Palette kDark = {rgb(0x24272C), rgb(0x2F3339), rgb(0x1B1E22), rgb(0xF1ECE2),
                           rgb(0xC9C3B8), rgb(0x9A948A), rgb(0x3B4047), rgb(0x454B53),
                           rgb(0x9AD3D8), rgb(0x101214), rgb(0x9AD3D8), rgb(0xFFB27A)};

double luminance(Ink ink) {
    const auto channel = [](std::uint32_t byte) {
        const double c = static_cast<double>(byte & 0xFFU) / 255;
        return c <= 0.03928 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4);
    };
    return 0.2126 * channel(ink) + 0.7152 * channel(ink >> 8U) + 0.0722 * channel(ink >> 16U);
}

std::string firstThere(const std::array<const char*, 6>& paths) {
    for (const char* path : paths) {
        std::error_code ignored;
        if (std::filesystem::is_regular_file(path, ignored)) return path;
    }
    return {};
}

// Latin, and the dashes, quotation marks, arrows and marks that pages use.
constexpr std::array<ImWchar, 15> kLetters = {0x0020, 0x017F, 0x2010, 0x2026, 0x2032, 0x2033, 0x2190, 0x2199,
                                              0x21B0, 0x21BB, 0x2500, 0x25FF, 0x2600, 0x2764, 0};

constexpr std::array<ImWchar, 5> kLatin = {0x0020, 0x017F, 0x2010, 0x2026, 0};

}  // namespace

const Palette& palette(bool dark) {
    return dark ? kDark : kLight;
}

double contrast(Ink a, Ink b) {
    const double la = luminance(a) + 0.05;
    const double lb = luminance(b) + 0.05;
    return la > lb ? la / lb : lb / la;
}

Fonts loadFonts(float textSize) {
    ImFontAtlas& atlas = *ImGui::GetIO().Fonts;
    atlas.Clear();
    const std::string plain = firstThere({"/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf",
                                          "/usr/share/fonts/truetype/noto/NotoSans-Regular.ttf",
                                          "/usr/share/fonts/truetype/liberation/LiberationSans-Regular.ttf",
                                          "/usr/share/fonts/truetype/liberation2/LiberationSans-Regular.ttf",
                                          "/usr/share/fonts/truetype/freefont/FreeSans.ttf",
                                          "/usr/share/fonts/TTF/DejaVuSans.ttf"});
    const std::string bold = firstThere({"/usr/share/fonts/truetype/dejavu/DejaVuSans-Bold.ttf",
                                         "/usr/share/fonts/truetype/noto/NotoSans-Bold.ttf",
                                         "/usr/share/fonts/truetype/liberation/LiberationSans-Bold.ttf",
                                         "/usr/share/fonts/truetype/liberation2/LiberationSans-Bold.ttf",
                                         "/usr/share/fonts/truetype/freefont/FreeSansBold.ttf",
                                         "/usr/share/fonts/TTF/DejaVuSans-Bold.ttf"});
    Fonts fonts;
    fonts.bodyPx = std::round(17 * textSize);
    const float headingPx = std::round(24 * textSize);
    if (!plain.empty()) {
        fonts.body = atlas.AddFontFromFileTTF(plain.c_str(), fonts.bodyPx, nullptr, kLetters.data());
        fonts.heading = atlas.AddFontFromFileTTF((bold.empty() ? plain : bold).c_str(), headingPx, nullptr,
                                                 kLetters.data());
        fonts.strong = atlas.AddFontFromFileTTF((bold.empty() ? plain : bold).c_str(), fonts.bodyPx, nullptr,
                                                kLatin.data());
        fonts.far =
            atlas.AddFontFromFileTTF((bold.empty() ? plain : bold).c_str(),
                                     std::round(30 * std::min(textSize, 1.6F)), nullptr, kLatin.data());
        fonts.source = plain;
    }
    if (fonts.body == nullptr || fonts.heading == nullptr || fonts.strong == nullptr ||
        fonts.far == nullptr) {
        atlas.Clear();
        ImFontConfig config;
        config.SizePixels = fonts.bodyPx;
        fonts.body = atlas.AddFontDefault(&config);
        config.SizePixels = headingPx;
        fonts.heading = fonts.far = atlas.AddFontDefault(&config);
        fonts.strong = fonts.body;
        fonts.source.clear();
    }
    atlas.Build();
    return fonts;
}

void applyStyle(const Palette& colours, float textSize) {
    ImGuiStyle style;
    style.WindowRounding = 0;
    style.WindowBorderSize = 0;
    style.ChildBorderSize = 0;
    style.WindowPadding = ImVec2(18 * textSize, 16 * textSize);
    style.ItemSpacing = ImVec2(10 * textSize, 9 * textSize);
    style.ScrollbarSize = 14;
    style.FrameRounding = 3;
    const auto set = [&](ImGuiCol what, Ink ink) {
        style.Colors[what] = ImGui::ColorConvertU32ToFloat4(ink);
    };
    set(ImGuiCol_Text, colours.text);
    set(ImGuiCol_TextDisabled, colours.quiet);
    set(ImGuiCol_WindowBg, colours.paper);
    set(ImGuiCol_ChildBg, 0);
    set(ImGuiCol_FrameBg, colours.button);
    set(ImGuiCol_FrameBgHovered, colours.hover);
    set(ImGuiCol_FrameBgActive, colours.hover);
    set(ImGuiCol_ScrollbarBg, colours.paper);
    set(ImGuiCol_ScrollbarGrab, colours.edge);
    set(ImGuiCol_ScrollbarGrabHovered, colours.text);
    set(ImGuiCol_ScrollbarGrabActive, colours.text);
    set(ImGuiCol_Separator, colours.edge);
    set(ImGuiCol_TextSelectedBg, colours.hover);
    ImGui::GetStyle() = style;
}

}  // namespace loopmend::app
