// SPDX-License-Identifier: MIT
#include "shape/patch.h"

#include <algorithm>
#include <cmath>

namespace loopmend {

namespace {

Point3 onCurve(const Point3& a, const Point3& b, const Point3& c, const Point3& d, double t) {
    const double t2 = t * t;
    const double t3 = t2 * t;
    return (b * 2 + (c - a) * t + (a * 2 - b * 5 + c * 4 - d) * t2 + (b * 3 - a - c * 3 + d) * t3) * 0.5;
}

}  // namespace

Rods rodsOfPatch(const Patch& patch) {
    const double w = patch.l / patch.kw;
    const double h = patch.l / patch.kc;
    const double depth = 0.51 * patch.d;
    const double a = 0.31 * w;
    const double b = 0.5 * w - a;
    const double yc = 0.07 * w;
    const double ay = 0.78 * a;
    const double q = 0.7 * ay;
    const auto nx = static_cast<int>(patch.rows.front().size());
    const auto ny = static_cast<int>(patch.rows.size());
    const auto side = [&](int column, int row) {
        const std::string& r = patch.rows[static_cast<std::size_t>((row + ny) % ny)];
        return r[static_cast<std::size_t>((column + nx) % nx)] == 'k' ? 1.0 : -1.0;
    };
    Rods rods;
    rods.unit = 0.5 * patch.d;
    rods.periodX = nx * w;
    rods.periodY = ny * h;
    for (int row = 0; row < ny; ++row) {
        std::vector<Point3> c;
        for (int column = 0; column < nx; ++column) {
            const double s = side(column, row);
            const double up = side(column, row + 1);
            const double x = column * w;
            const double y = row * h;
            c.push_back({x - 0.5 * w, y - yc - ay, -0.5 * depth * (s + side(column - 1, row))});
            const Point3 leg[7] = {{-(0.5 * w - 0.7 * a), -yc - q, -s * depth},
                                   {-b, -yc, 0},
                                   {-(b + 0.04 * w), yc + q, s * depth},
                                   {-(a - 0.04 * w), h - yc - q, up * depth},
                                   {-a, h + yc, 0},
                                   {-0.7 * a, h + yc + q, -up * depth},
                                   {0, h + yc + ay, -up * depth}};
            for (int k = 0; k < 7; ++k) c.push_back({x + leg[k].x, y + leg[k].y, leg[k].z});
            for (int k = 5; k >= 0; --k) c.push_back({x - leg[k].x, y + leg[k].y, leg[k].z});
        }
        const auto n = static_cast<int>(c.size());
        const auto control = [&](int i) {
            Point3 p = c[static_cast<std::size_t>((i + n) % n)];
            p.x += i < 0 ? -rods.periodX : i >= n ? rods.periodX : 0;
            return p;
        };
        std::vector<Point3> fine;
        std::vector<double> along{0};
        for (int i = 0; i < n; ++i) {
            for (int k = 0; k < 16; ++k)
                fine.push_back(onCurve(control(i - 1), control(i), control(i + 1), control(i + 2), k / 16.0));
        }
        fine.push_back(control(n));
        for (std::size_t i = 1; i < fine.size(); ++i)
            along.push_back(along.back() + length(fine[i] - fine[i - 1]));
        Rod rod;
        rod.around = true;
        rod.radius = 0.5 * patch.d;
        const int points = nx * patch.pointsPerStitch;
        std::size_t k = 0;
        for (int i = 0; i < points; ++i) {
            const double at = along.back() * i / points;
            while (along[k + 1] < at) ++k;
            Point3 p = mix(fine[k], fine[k + 1], (at - along[k]) / (along[k + 1] - along[k]));
            // A shear of the whole patch: what lay in front still does.
            p.z += patch.pleat * std::sin(2 * 3.14159265358979323846 * (p.x + 0.5 * w) / rods.periodX);
            rod.points.push_back(p);
            rod.rest.push_back(patch.l / patch.pointsPerStitch);
        }
        rods.rods.push_back(std::move(rod));
    }
    return rods;
}

RelaxOptions frictionless(int most) {
    RelaxOptions options;
    options.flatten = 0;
    options.set = 0;
    options.friction = 0;
    options.most = most;
    options.restForce = 1e-5;
    options.threads = 1;
    return options;
}

Density densityOf(const Rods& rods, const Patch& patch) {
    const auto nx = static_cast<double>(patch.rows.front().size());
    const auto ny = static_cast<double>(patch.rows.size());
    Density d;
    d.kw = patch.l * nx / rods.periodX;
    d.kc = patch.l * ny / rods.periodY;
    d.ks = d.kc * d.kw;
    d.r = d.kc / d.kw;
    return d;
}

}  // namespace loopmend
