// SPDX-License-Identifier: MIT
#include "app/paint.h"

#include <algorithm>

#include <imgui.h>

namespace loopmend::app {

namespace {

ImU32 ink(const Colour& c) {
    return ImGui::ColorConvertFloat4ToU32(
        ImVec4(static_cast<float>(c.r), static_cast<float>(c.g), static_cast<float>(c.b), 1));
}

}  // namespace

void paint(const Drawing& drawing, ImDrawList& draw, float x, float y, float unitsPerMm) {
    const auto at = [&](Point2 p) {
        return ImVec2(x + static_cast<float>(p.x) * unitsPerMm, y + static_cast<float>(p.y) * unitsPerMm);
    };
    for (const DrawItem& item : drawing.items) {
        if (item.what == DrawItem::What::words) {
            const float size = static_cast<float>(item.sizeMm) * unitsPerMm * 1.3F;
            const ImVec2 extent = ImGui::GetFont()->CalcTextSizeA(size, 1e9F, 0, item.words.c_str());
            ImVec2 from = at(item.at);
            from.y -= size * 0.8F;
            if (item.align == Align::middle) from.x -= extent.x / 2;
            if (item.align == Align::right) from.x -= extent.x;
            draw.AddText(ImGui::GetFont(), size, from, ink(item.colour), item.words.c_str());
            continue;
        }
        const std::vector<Point2>& points = item.curve.points;
        if (points.empty()) continue;
        draw.PathClear();
        draw.PathLineTo(at(points[0]));
        for (std::size_t i = 3; i < points.size(); i += 3) {
            draw.PathBezierCubicCurveTo(at(points[i - 2]), at(points[i - 1]), at(points[i]));
        }
        if (item.what == DrawItem::What::area) {
            draw.PathFillConvex(ink(item.colour));
        } else {
            draw.PathStroke(ink(item.colour), item.curve.closed ? ImDrawFlags_Closed : ImDrawFlags_None,
                            std::max(1.0F, static_cast<float>(item.widthMm) * unitsPerMm));
        }
    }
}

}  // namespace loopmend::app
