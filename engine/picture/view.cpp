// SPDX-License-Identifier: MIT
#include "picture/view.h"

#include <algorithm>
#include <cmath>

namespace loopmend {

namespace {

constexpr double kDegree = 3.14159265358979323846 / 180;
/// Cloth pulled wide by x gets x^-0.71 as high (a plain cell widened 1.79 times is 0.66 times as high:
/// Singal et al., Nature Communications 15 (2024) 2622, published sample output).
constexpr double kHeightGivesWay = -0.71;

}  // namespace

void ClothBounds::add(Point3 p, double around) {
    low = {std::min(low.x, p.x - around), std::min(low.y, p.y - around), std::min(low.z, p.z - around)};
    high = {std::max(high.x, p.x + around), std::max(high.y, p.y + around), std::max(high.z, p.z + around)};
}

ClothBounds boundsOf(const Path& path, bool toolsAndTails) {
    ClothBounds bounds;
    for (const PathStrand& strand : path.strands) {
        if (strand.points.empty() || (strand.tool && !toolsAndTails)) continue;
        const EntryId first = strand.points.front().entry;
        const EntryId last = strand.points.back().entry;
        for (const PathPoint& p : strand.points) {
            if (toolsAndTails || (p.entry != first && p.entry != last)) bounds.add(p.at, 0.5 * strand.mm);
        }
    }
    return bounds.empty() && !toolsAndTails ? boundsOf(path) : bounds;
}

ViewAxes View::axes() const {
    const double wide = std::clamp(pull, 0.5, 3.0);
    const double high = std::pow(wide, kHeightGivesWay);
    const double facing = side == Side::right ? 1 : -1;
    const double ct = std::cos(turnDegrees * kDegree);
    const double st = std::sin(turnDegrees * kDegree);
    const double cl = std::cos(tiltDegrees * kDegree);
    const double sl = std::sin(tiltDegrees * kDegree);
    // The cloth as it lies, each column of the map in turn: where 1 mm along x, y and z comes to lie.
    const auto turned = [&](Point3 p) {
        const Point3 q{ct * p.x + st * p.z, p.y, ct * p.z - st * p.x};
        return Point3{q.x, cl * q.y + sl * q.z, cl * q.z - sl * q.y};
    };
    const Point3 x = turned({facing * wide, 0, 0});
    const Point3 y = turned({0, high, 0});
    const Point3 z = turned({0, 0, facing});
    ViewAxes a;
    a.hand = mirrored ? -1 : 1;
    a.right = {a.hand * x.x, a.hand * y.x, a.hand * z.x};
    a.up = {x.y, y.y, z.y};
    a.toward = {x.z, y.z, z.z};
    return a;
}

SeenPoint View::seen(Point3 mm) const {
    const Point3 p = axes().seen(mm - Point3{centre.x, centre.y, 0});
    return {{0.5 * width + p.x * pixelsPerMm, 0.5 * height - p.y * pixelsPerMm}, p.z};
}

Point2 View::onCloth(PixelPoint pixel) const {
    const ViewAxes a = axes();
    const double x = (pixel.x - 0.5 * width) / pixelsPerMm;
    const double y = (0.5 * height - pixel.y) / pixelsPerMm;
    const double det = a.right.x * a.up.y - a.right.y * a.up.x;
    if (std::abs(det) < 1e-6) return centre;
    return {centre.x + (x * a.up.y - y * a.right.y) / det, centre.y + (y * a.right.x - x * a.up.x) / det};
}

View View::turnedOver() const {
    View v = *this;
    v.side = opposite(side);
    return v;
}

View View::nearer(double factor, PixelPoint about) const {
    const Point2 fixed = onCloth(about);
    View v = *this;
    v.pixelsPerMm = std::clamp(pixelsPerMm * factor, 0.05, 400.0);
    v.centre = v.centre + fixed - v.onCloth(about);
    return v;
}

View View::moved(PixelPoint from, PixelPoint to) const {
    View v = *this;
    v.centre = centre + onCloth(from) - onCloth(to);
    return v;
}

View View::sized(int w, int h) const {
    View v = *this;
    v.width = w;
    v.height = h;
    return v;
}

View View::fitting(const ClothBounds& bounds, int width, int height, double marginPixels, Side side) {
    View v;
    v.side = side;
    v.width = width;
    v.height = height;
    if (bounds.empty()) return v;
    const Point3 m = bounds.middle();
    v.centre = {m.x, m.y};
    const double free = std::max(1.0, std::min(width, height) - 2 * marginPixels);
    const double w = std::max(free, width - 2 * marginPixels);
    const double h = std::max(free, height - 2 * marginPixels);
    v.pixelsPerMm = std::min(w / std::max(1e-6, bounds.high.x - bounds.low.x),
                             h / std::max(1e-6, bounds.high.y - bounds.low.y));
    return v;
}

}  // namespace loopmend
