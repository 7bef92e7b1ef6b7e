// SPDX-License-Identifier: MIT
#include "picture/strokes.h"

#include <algorithm>

#include "shape/crossings.h"

namespace loopmend {

Cubic Cubic::part(double a, double b) const {
    const auto blossom = [&](double u, double v, double w) {
        const Point2 q0 = mix(mix(p0, p1, u), mix(p1, p2, u), v);
        const Point2 q1 = mix(mix(p1, p2, u), mix(p2, p3, u), v);
        return mix(q0, q1, w);
    };
    return {blossom(a, a, a), blossom(a, a, b), blossom(a, b, b), blossom(b, b, b)};
}

Cubic cubicAt(const PathStrand& strand, int i) {
    const auto n = static_cast<int>(strand.points.size());
    const auto at = [&](int k) {
        const Point3& p = strand.points[static_cast<std::size_t>(std::clamp(k, 0, n - 1))].at;
        return Point2{p.x, p.y};
    };
    const Point2 p0 = at(i);
    const Point2 p3 = at(i + 1);
    return {p0, p0 + (p3 - at(i - 1)) * (1.0 / 6), p3 - (at(i + 2) - p0) * (1.0 / 6), p3};
}

std::vector<StrokePiece> piecesOf(const Path& path, double side) {
    struct Event {
        double at;
        double z;
        bool over;
    };
    std::vector<std::vector<Event>> events(path.strands.size());
    for (const PlanarCrossing& x : crossingsOf(path)) {
        const bool right = side > 0;
        events[static_cast<std::size_t>(x.over.strand)].push_back({x.over.at, side * x.over.z, right});
        events[static_cast<std::size_t>(x.under.strand)].push_back({x.under.at, side * x.under.z, !right});
    }
    std::vector<StrokePiece> pieces;
    for (std::size_t s = 0; s < path.strands.size(); ++s) {
        std::vector<Event>& list = events[s];
        std::sort(list.begin(), list.end(), [](const Event& a, const Event& b) { return a.at < b.at; });
        StrokePiece piece;
        piece.strand = static_cast<int>(s);
        double sum = 0;
        int count = 0;
        const double end = static_cast<double>(path.strands[s].points.size()) - 1;
        const auto finish = [&](double to) {
            piece.to = to;
            piece.z = count > 0 ? sum / count : 0;
            if (to > piece.from) pieces.push_back(piece);
            piece.from = to;
            sum = 0;
            count = 0;
        };
        for (std::size_t i = 0; i < list.size(); ++i) {
            if (i > 0 && list[i].over != list[i - 1].over) finish(0.5 * (list[i].at + list[i - 1].at));
            piece.over = list[i].over;
            sum += list[i].z;
            ++count;
        }
        finish(end);
    }
    std::stable_sort(pieces.begin(), pieces.end(), [](const StrokePiece& a, const StrokePiece& b) {
        return a.over != b.over ? b.over : a.z < b.z;
    });
    return pieces;
}

}  // namespace loopmend
