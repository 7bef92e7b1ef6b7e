// SPDX-License-Identifier: MIT
#include "shape/relax_bed.h"

#include <algorithm>
#include <cmath>

namespace loopmend {

namespace {

Quad inUnits(const Point3& p, double unit, double radius) {
    return quadOf(static_cast<float>(p.x / unit), static_cast<float>(p.y / unit),
                  static_cast<float>(p.z / unit), static_cast<float>(radius / unit));
}

bool fits(const Rod& rod) {
    const std::size_t n = rod.points.size();
    if (n < 2 || (rod.around && n < 8)) return false;
    if (rod.rest.size() + (rod.around ? 0 : 1) < n) return false;
    if (!rod.fixed.empty() && rod.fixed.size() != n) return false;
    if (!rod.bent.empty() && rod.bent.size() != n) return false;
    if (!rod.grip.empty() && rod.grip.size() != n) return false;
    for (std::size_t i = 0; i + (rod.around ? 0 : 1) < n; ++i) {
        if (!(rod.rest[i] > 0)) return false;
    }
    return rod.radius > 0;
}

}  // namespace

std::vector<double> curvatureOf(const Rod& rod) {
    const auto n = static_cast<int>(rod.points.size());
    std::vector<double> raw(rod.points.size(), 0);
    for (std::size_t i = 1; i + 1 < rod.points.size(); ++i) {
        const Point3 a = rod.points[i] - rod.points[i - 1];
        const Point3 b = rod.points[i + 1] - rod.points[i];
        const double bend = length(b - a) / std::max(length(a) * length(b), 1e-9);
        raw[i] = std::min(bend, 0.8 / rod.radius);
    }
    std::vector<double> smooth(rod.points.size(), 0);
    for (int i = 1; i + 1 < n; ++i) {
        const int from = std::max(1, i - 2);
        const int to = std::min(n - 2, i + 2);
        for (int k = from; k <= to; ++k)
            smooth[static_cast<std::size_t>(i)] += raw[static_cast<std::size_t>(k)];
        smooth[static_cast<std::size_t>(i)] /= to - from + 1;
    }
    return smooth;
}

void RodBed::placeImages() {
    for (const Image& image : images) {
        x[static_cast<std::size_t>(image.point)] =
            x[static_cast<std::size_t>(image.of)] + quadOf(static_cast<float>(period[0]), 0, 0, 0);
    }
}

tl::expected<RodBed, RelaxFault> bedOf(const Rods& rods, double setShare) {
    RodBed bed;
    const auto bad = [] { return tl::unexpected(RelaxFault{RelaxFault::Kind::badRods, {}, 0}); };
    if (!(rods.unit > 0)) return bad();
    bed.periodic = rods.periodX > 0 && rods.periodY > 0;
    bed.period[0] = rods.periodX / rods.unit;
    bed.period[1] = rods.periodY / rods.unit;
    bed.shortest = 1e9F;
    for (const Rod& rod : rods.rods) {
        if (!fits(rod) || (rod.around && !bed.periodic)) return bad();
        const std::vector<double> bent = setShare > 0 && rod.bent.empty() ? curvatureOf(rod) : rod.bent;
        RodBed::Span span;
        span.first = static_cast<int>(bed.x.size());
        const auto n = static_cast<int>(rod.points.size());
        span.around = rod.around ? n : 0;
        span.end = span.first + n + (rod.around ? 2 : 0);
        for (int i = 0; i < span.end - span.first; ++i) {
            const auto k = static_cast<std::size_t>(i % n);
            const bool piece = rod.around ? i < n : i + 1 < n;
            const double l = rod.rest[piece ? k : k - (k > 0 ? 1 : 0)] / rods.unit;
            bed.x.push_back(inUnits(rod.points[k], rods.unit, rod.radius));
            bed.rest.push_back(piece ? static_cast<float>(l) : 0.0F);
            const bool fixed = !rod.fixed.empty() && rod.fixed[k] != 0;
            bed.free.push_back(fixed || i >= n ? 0.0F : 1.0F);
            const bool corner = i > 0 && i + 1 < span.end - span.first;
            bed.bend.push_back(corner ? static_cast<float>(1 / (l * l * l)) : 0.0F);
            bed.set.push_back(setShare > 0 ? static_cast<float>(setShare * bent[k] * rods.unit * l * l)
                                           : 0.0F);
            bed.spanOf.push_back(static_cast<int>(bed.spans.size()));
            if (i >= n) bed.images.push_back({span.first + i, span.first + i - n});
            if (piece) {
                bed.longest = std::max(bed.longest, static_cast<float>(l));
                bed.shortest = std::min(bed.shortest, static_cast<float>(l));
            }
        }
        bed.spans.push_back(span);
    }
    if (bed.x.empty()) return bad();
    for (std::size_t r = 0; r < rods.rods.size(); ++r) {
        const std::vector<double>& grip = rods.rods[r].grip;
        if (grip.empty()) continue;
        bed.grip.resize(bed.x.size() + 4, 0);
        for (std::size_t i = 0; i < grip.size(); ++i)
            bed.grip[static_cast<std::size_t>(bed.spans[r].first) + i] = static_cast<float>(grip[i]);
    }
    bed.n = static_cast<int>(bed.x.size());
    bed.placeImages();
    // Idle points, far from everything and from each other: a partner for what fills up a group of four.
    for (int i = 0; i < 4; ++i) {
        const int pair = i / 2;
        bed.x.push_back(
            quadOf(-1e4F + 3e3F * static_cast<float>(pair), 1e4F + static_cast<float>(i % 2), 0, 0));
        bed.rest.push_back(0);
        bed.bend.push_back(0);
        bed.set.push_back(0);
        bed.free.push_back(0);
        bed.spanOf.push_back(-1);
    }
    return bed;
}

Rods rodsOf(const RodBed& bed, const Rods& like) {
    Rods out = like;
    out.periodX = bed.period[0] * like.unit;
    out.periodY = bed.period[1] * like.unit;
    for (std::size_t r = 0; r < out.rods.size(); ++r) {
        for (std::size_t i = 0; i < out.rods[r].points.size(); ++i) {
            if (!out.rods[r].fixed.empty() && out.rods[r].fixed[i] != 0) continue;  // to the last digit
            const Quad q = bed.x[static_cast<std::size_t>(bed.spans[r].first) + i];
            out.rods[r].points[i] = Point3{q[0], q[1], q[2]} * like.unit;
        }
    }
    return out;
}

}  // namespace loopmend
