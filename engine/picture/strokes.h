// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "picture/canvas.h"
#include "shape/path.h"

namespace loopmend {

/// A stretch of one strand that is drawn in one go: it lies over everything it crosses, or under everything.
struct StrokePiece {
    int strand = 0;
    double from = 0;  ///< counted in points of the strand
    double to = 0;
    bool over = false;
    double z = 0;  ///< mean height where it crosses, mm toward the viewer
};

/// The curves cut so that drawing the pieces in the order given shows over and under right. Two heights are
/// enough: each strand is cut only between a crossing where it lies over and the next where it lies under, so
/// of two pieces that cross one is of the lower kind and one of the upper.
/// side +1: seen from the right side, -1: from the wrong side.
std::vector<StrokePiece> piecesOf(const Path& path, double side);

/// The smooth curve through the points of a strand between two places, each point moved by `place`.
template <class Place>
Curve curveAlong(const PathStrand& strand, double from, double to, Place place);

// ---- implementation of the template

/// The four control points of the cubic from point i to point i + 1 (uniform Catmull-Rom).
struct Cubic {
    Point2 p0, p1, p2, p3;
    Cubic part(double a, double b) const;
};
Cubic cubicAt(const PathStrand& strand, int i);

template <class Place>
Curve curveAlong(const PathStrand& strand, double from, double to, Place place) {
    Curve curve;
    const int last = static_cast<int>(strand.points.size()) - 2;
    for (int i = static_cast<int>(from); i <= last && i < to; ++i) {
        const double a = from > i ? from - i : 0;
        const double b = to < i + 1 ? to - i : 1;
        if (b - a < 1e-6) continue;
        const Cubic c = cubicAt(strand, i).part(a, b);
        if (curve.points.empty()) curve.start(place(c.p0));
        curve.bend(place(c.p1), place(c.p2), place(c.p3));
    }
    return curve;
}

}  // namespace loopmend
