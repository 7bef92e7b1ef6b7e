// SPDX-License-Identifier: MIT
#include "picture/wool.h"

#include <algorithm>
#include <cmath>

#include "picture/strokes.h"

namespace loopmend {

namespace {

constexpr Colour kBlack{0.04, 0.02, 0.04};
constexpr Colour kWhite{1, 1, 1};
/// Toward the light on paper, where y runs downward.
constexpr Point2 kLight{-0.57, -0.82};
/// Plies meet every so many widths along the yarn, and a line runs along so many on its way across.
constexpr double kPlyStep = 1.0;
constexpr double kPlyRun = 0.85;

/// Lines across the yarn where one ply goes under the next.
void drawPlies(Drawing& drawing, const PathStrand& strand, const WoolStroke& s, double width, Colour colour,
               const std::function<Point2(Point2)>& place) {
    const Curve curve = curveAlong(strand, s.from, s.to, place);
    std::vector<Point2> line;
    for (std::size_t i = 0; i + 3 < curve.points.size(); i += 3) {
        for (int k = 0; k < 6; ++k) {
            const double t = k / 6.0;
            const double r = 1 - t;
            line.push_back(curve.points[i] * (r * r * r) + curve.points[i + 1] * (3 * r * r * t) +
                           curve.points[i + 2] * (3 * r * t * t) + curve.points[i + 3] * (t * t * t));
        }
    }
    if (curve.points.empty()) return;
    line.push_back(curve.points.back());
    std::vector<double> along(line.size(), 0);
    for (std::size_t i = 1; i < line.size(); ++i) along[i] = along[i - 1] + length(line[i] - line[i - 1]);
    const auto at = [&](double a, double across) {
        const auto next = std::upper_bound(along.begin() + 1, along.end() - 1, a);
        const auto i = static_cast<std::size_t>(next - along.begin());
        const double span = along[i] - along[i - 1];
        const double t = span > 1e-9 ? (a - along[i - 1]) / span : 0;
        const Point2 way = unit(line[i] - line[i - 1], {1, 0});
        return mix(line[i - 1], line[i], t) + leftOf(way) * (across * s.hand);
    };
    if (line.size() < 3) return;
    const double step = kPlyStep * width;
    const double run = kPlyRun * width;
    for (double a = 0.5 * step; a + 0.5 * step <= along.back(); a += step) {
        Curve ply;
        const double half = 0.42 * width;
        const double b0 = std::max(0.0, a - 0.5 * run);
        const double b1 = std::min(along.back(), a + 0.5 * run);
        ply.start(at(b0, -half));
        ply.bend(at(b0 + 0.2 * (a - b0), -0.6 * half), at(a + 0.8 * (b1 - a), 0.6 * half), at(b1, half));
        drawing.stroke(std::move(ply), 0.11 * width, colour, Cap::round);
    }
}

}  // namespace

void drawWool(Drawing& drawing, const PathStrand& strand, const WoolStroke& s,
              const std::function<Point2(Point2)>& place) {
    const double last = static_cast<double>(strand.points.size()) - 1;
    const double w = s.widthMm;
    const Colour colour = s.under ? blend(s.colour, kBlack, 0.16) : s.colour;
    const auto layer = [&](double reach, double toLight, double width, Colour c) {
        const Point2 shift = kLight * (toLight * w);
        drawing.stroke(curveAlong(strand, std::max(0.0, s.from - reach), std::min(last, s.to + reach),
                                  [&](Point2 p) { return place(p) + shift; }),
                       width * w, c);
    };
    // Each layer reaches a little beyond the one below, so that no line shows where pieces meet.
    layer(0.07, 0, 1.00, blend(colour, kBlack, 0.62));
    layer(0.16, 0.02, 0.84, blend(colour, kBlack, 0.22));
    layer(0.20, 0.07, 0.62, colour);
    layer(0.20, 0.13, 0.30, blend(colour, kWhite, 0.16));
    if (s.plies) drawPlies(drawing, strand, s, w, blend(colour, kBlack, 0.34), place);
}

}  // namespace loopmend
