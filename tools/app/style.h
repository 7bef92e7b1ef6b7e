// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <string>

struct ImFont;

namespace loopmend::app {

/// 0xAABBGGRR, as Dear ImGui has it.
using Ink = std::uint32_t;

/// The colours of the room: paper lying on a table. Text on its ground reaches a contrast of 7 : 1, edges of
/// controls 3 : 1 (WCAG 2.1, success criteria 1.4.6 and 1.4.11); tests/app/style.cpp measures them.
struct Palette {
    Ink table = 0;  ///< behind the cloth
    Ink paper = 0;  ///< page, rows, shelf
    Ink tray = 0;   ///< where the notions lie
    Ink text = 0;
    Ink quiet = 0;  ///< text of second rank
    Ink edge = 0;   ///< outlines of controls
    Ink button = 0;
    Ink hover = 0;
    Ink chosen = 0;
    Ink onChosen = 0;  ///< text on `chosen`
    Ink trade = 0;     ///< trade words where they are first met
    Ink focus = 0;     ///< the ring round what the keyboard is at
};
const Palette& palette(bool dark);

/// Ratio of the relative luminances of two opaque colours, 1 to 21 (WCAG 2.1).
double contrast(Ink a, Ink b);

/// Lettering: an open-licence face from a Debian package if one is installed, otherwise the plain one that
/// every build carries (legible, small, Latin letters only).
struct Fonts {
    ImFont* body = nullptr;
    ImFont* heading = nullptr;
    ImFont* strong = nullptr;  ///< bold, as large as the body
    ImFont* far = nullptr;     ///< to be read across a table
    float bodyPx = 18;
    std::string source;  ///< the file, empty for the plain one
};
/// Rebuilds the lettering for a text size, 1 = ordinary. Call between frames; the texture is made anew by the
/// renderer.
Fonts loadFonts(float textSize);

/// Spacings and colours of Dear ImGui's own parts.
void applyStyle(const Palette& palette, float textSize);

}  // namespace loopmend::app
