// SPDX-License-Identifier: MIT
#include "picture/canvas.h"

#include <array>
#include <utility>

namespace loopmend {

Curve straight(Point2 a, Point2 b) {
    Curve c;
    c.start(a);
    c.line(b);
    return c;
}

Curve polygon(const std::vector<Point2>& corners) {
    Curve c;
    for (const Point2& p : corners) {
        if (c.points.empty()) {
            c.start(p);
        } else {
            c.line(p);
        }
    }
    c.closed = true;
    return c;
}

Curve circle(Point2 centre, double radius) {
    constexpr double k = 0.5522847498;  // handles of a quarter circle
    const auto at = [&](double x, double y) { return centre + Point2{x * radius, y * radius}; };
    Curve c;
    c.start(at(1, 0));
    c.bend(at(1, k), at(k, 1), at(0, 1));
    c.bend(at(-k, 1), at(-1, k), at(-1, 0));
    c.bend(at(-1, -k), at(-k, -1), at(0, -1));
    c.bend(at(k, -1), at(1, -k), at(1, 0));
    c.closed = true;
    return c;
}

void Drawing::stroke(Curve curve, double width, Colour colour, Cap cap, std::vector<double> dash) {
    DrawItem item;
    item.what = DrawItem::What::stroke;
    item.curve = std::move(curve);
    item.widthMm = width;
    item.colour = colour;
    item.cap = cap;
    item.dash = std::move(dash);
    items.push_back(std::move(item));
}

void Drawing::window(Curve curve) {
    DrawItem item;
    item.what = DrawItem::What::window;
    item.curve = std::move(curve);
    items.push_back(std::move(item));
}

void Drawing::area(Curve curve, Colour colour) {
    DrawItem item;
    item.what = DrawItem::What::area;
    item.curve = std::move(curve);
    item.colour = colour;
    items.push_back(std::move(item));
}

void Drawing::words(std::string text, Point2 at, double sizeMm, Colour colour, Align align, bool bold) {
    DrawItem item;
    item.what = DrawItem::What::words;
    item.words = std::move(text);
    item.at = at;
    item.sizeMm = sizeMm;
    item.colour = colour;
    item.align = align;
    item.bold = bold;
    items.push_back(std::move(item));
}

Colour safeColour(int index) {
    static const std::array<Colour, 8> colours = {{{0, 0, 0},
                                                   {0.902, 0.624, 0},
                                                   {0.337, 0.706, 0.914},
                                                   {0, 0.620, 0.451},
                                                   {0.941, 0.894, 0.259},
                                                   {0, 0.447, 0.698},
                                                   {0.835, 0.369, 0},
                                                   {0.800, 0.475, 0.655}}};
    return colours[static_cast<std::size_t>(((index % 8) + 8) % 8)];
}

Colour blend(Colour a, Colour b, double share) {
    return {a.r + (b.r - a.r) * share, a.g + (b.g - a.g) * share, a.b + (b.b - a.b) * share};
}

}  // namespace loopmend
