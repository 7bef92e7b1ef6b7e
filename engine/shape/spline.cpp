// SPDX-License-Identifier: MIT
#include "shape/spline.h"

#include <algorithm>
#include <array>

namespace loopmend {

namespace {

/// One span of the centripetal Catmull-Rom curve by the pyramid of Barry and Goldman (1988).
Point3 onSpan(const std::array<Point3, 4>& p, const std::array<double, 4>& t, double u) {
    const auto blend = [&](Point3 a, Point3 b, double ta, double tb) {
        return a * ((tb - u) / (tb - ta)) + b * ((u - ta) / (tb - ta));
    };
    const Point3 a1 = blend(p[0], p[1], t[0], t[1]);
    const Point3 a2 = blend(p[1], p[2], t[1], t[2]);
    const Point3 a3 = blend(p[2], p[3], t[2], t[3]);
    const Point3 b1 = blend(a1, a2, t[0], t[2]);
    const Point3 b2 = blend(a2, a3, t[1], t[3]);
    return blend(b1, b2, t[1], t[2]);
}

double knot(Point3 a, Point3 b) {
    return std::sqrt(std::max(length(b - a), 1e-6));
}

}  // namespace

std::vector<PathPoint> resampled(const std::vector<PathPoint>& controls, double step) {
    if (controls.size() < 2) return controls;
    constexpr int kFine = 12;
    std::vector<PathPoint> fine;
    fine.reserve(controls.size() * kFine);
    const std::size_t n = controls.size();
    for (std::size_t i = 0; i + 1 < n; ++i) {
        const Point3 p1 = controls[i].at;
        const Point3 p2 = controls[i + 1].at;
        const Point3 p0 = i > 0 ? controls[i - 1].at : p1 + (p1 - p2);
        const Point3 p3 = i + 2 < n ? controls[i + 2].at : p2 + (p2 - p1);
        std::array<double, 4> t{};
        t[1] = knot(p0, p1);
        t[2] = t[1] + knot(p1, p2);
        t[3] = t[2] + knot(p2, p3);
        for (int k = 0; k < kFine; ++k) {
            const double u = t[1] + (t[2] - t[1]) * k / kFine;
            fine.push_back(
                {onSpan({p0, p1, p2, p3}, t, u), k == 0 ? controls[i].entry : controls[i + 1].entry});
        }
    }
    fine.push_back(controls.back());

    std::vector<double> along(fine.size(), 0);
    for (std::size_t i = 1; i < fine.size(); ++i)
        along[i] = along[i - 1] + length(fine[i].at - fine[i - 1].at);
    const double total = along.back();
    const int pieces = std::max(1, static_cast<int>(std::lround(total / step)));
    std::vector<PathPoint> points;
    points.reserve(static_cast<std::size_t>(pieces) + 1);
    std::size_t k = 0;
    for (int i = 0; i < pieces; ++i) {
        const double s = total * i / pieces;
        while (k + 2 < fine.size() && along[k + 1] <= s) ++k;
        const double span = along[k + 1] - along[k];
        const double u = span > 1e-12 ? (s - along[k]) / span : 0;
        points.push_back({mix(fine[k].at, fine[k + 1].at, u), fine[i == 0 ? 0 : k + 1].entry});
    }
    points.push_back(fine.back());
    return points;
}

}  // namespace loopmend
