// SPDX-License-Identifier: MIT
#include "app/small_swatch.h"

#include <algorithm>

#include <imgui.h>

namespace loopmend::app {

namespace {

constexpr int kColumns = 7;
constexpr int kRows = 8;

bool isBump(StockGround ground, int column, int row) {
    switch (ground) {
        case StockGround::garter: return row % 2 == 0;
        case StockGround::rib: return column % 4 >= 2;
        case StockGround::seed: return (column + row) % 2 == 0;
        default: return false;
    }
}

void needle(ImDrawList& draw, ImVec2 from, ImVec2 to, float thick, const Palette& colours) {
    draw.AddLine(from, to, colours.text, thick + 2);
    draw.AddLine(ImVec2(from.x + 1, from.y), ImVec2(to.x - 1, to.y), colours.paper, thick);
    draw.AddCircleFilled(to, thick * 1.1F, colours.text);
}

}  // namespace

void drawSmallSwatch(ImDrawList& draw, const Box& box, SwatchShows shows, StockGround ground, Ink wool,
                     const Palette& colours) {
    const float w = box.width() / kColumns;
    const float h = box.height() / (kRows + 2);
    const int rows = shows == SwatchShows::castOn ? 1 : shows == SwatchShows::unfinished ? kRows / 2 : kRows;
    // It hangs from its upper edge, as it hangs from a needle.
    const float top = box.top + h * 1.2F;
    const float bottom = top + static_cast<float>(rows) * h;
    draw.AddRectFilled(ImVec2(box.left, top), ImVec2(box.right, bottom), wool, 3);
    draw.AddRect(ImVec2(box.left, top), ImVec2(box.right, bottom), colours.text, 3, 0, 1.2F);
    const Ink ink = (colours.text & 0x00FFFFFFU) | 0xC0000000U;
    for (int row = 0; row < rows; ++row) {
        const float y = bottom - (static_cast<float>(row) + 0.5F) * h;
        for (int column = 0; column < kColumns; ++column) {
            const float x = box.left + (static_cast<float>(column) + 0.5F) * w;
            if (isBump(ground, column, row)) {
                draw.AddLine(ImVec2(x - w * 0.3F, y), ImVec2(x + w * 0.3F, y), ink, 1.6F);
            } else {
                draw.AddLine(ImVec2(x - w * 0.28F, y - h * 0.3F), ImVec2(x, y + h * 0.3F), ink, 1.2F);
                draw.AddLine(ImVec2(x, y + h * 0.3F), ImVec2(x + w * 0.28F, y - h * 0.3F), ink, 1.2F);
            }
        }
    }
    const bool ended = shows == SwatchShows::finished || shows == SwatchShows::pinned;
    if (!ended) {
        const float y = top - h * 0.15F;
        needle(draw, ImVec2(box.left - w * 0.8F, y), ImVec2(box.right + w * 0.9F, y),
               std::max(2.0F, h * 0.4F), colours);
    } else {
        // Bound off: a chain along the upper edge.
        for (int column = 0; column < kColumns; ++column) {
            const float x = box.left + (static_cast<float>(column) + 0.5F) * w;
            draw.AddCircle(ImVec2(x, top), w * 0.4F, colours.text, 12, 1.4F);
        }
    }
    if (shows == SwatchShows::pinned) {
        const ImVec2 head(box.right - w * 0.6F, top - h * 0.4F);
        const ImVec2 tip(box.left + w * 1.2F, bottom - h * 1.4F);
        draw.AddLine(tip, head, colours.paper, 5);
        draw.AddLine(tip, head, colours.text, 2.4F);
        draw.AddCircleFilled(head, w * 0.75F, colours.trade, 20);
        draw.AddCircle(head, w * 0.75F, colours.text, 20, 1.6F);
    }
}

}  // namespace loopmend::app
