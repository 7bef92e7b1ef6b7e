// SPDX-License-Identifier: MIT
//
// The number of a knot (alexander.h) against the Alexander polynomials of J. W. Alexander and G. B. Briggs,
// On types of knotted curves, Annals of Mathematics 28 (1926) 562-586: 3_1 is 1 - t + t^2, 4_1 is 1 - 3t +
// t^2, 5_1 is 1 - t + t^2 - t^3 + t^4.
#include <catch2/catch.hpp>

#include <cmath>

#include "alexander.h"

using namespace loopmend;
using namespace loopmend::outside;

namespace {

constexpr double kPi = 3.14159265358979323846;

/// A closed curve, given for t from 0 to 1, cut open at its beginning.
template <class Curve>
Path yarnAlong(Curve curve, int points = 400) {
    Path path;
    path.gauge.stitchMm = 1;
    PathStrand strand;
    strand.yarn = YarnId{0};
    for (int i = 0; i < points; ++i) strand.points.push_back({curve((i + 0.37) / points), EntryId{0}});
    path.strands.push_back(std::move(strand));
    return path;
}

/// Twice round the middle while it goes up and down n times.
Point3 torus(double t, int n) {
    const double a = 4 * kPi * t;
    const double b = 2 * kPi * n * t;
    const double r = 3 + std::cos(b);
    return {r * std::cos(a), r * std::sin(a), std::sin(b)};
}

Point3 figureEight(double t) {
    const double a = 2 * kPi * t;
    return {(2 + std::cos(2 * a)) * std::cos(3 * a), (2 + std::cos(2 * a)) * std::sin(3 * a),
            std::sin(4 * a)};
}

/// Seen from elsewhere: other crossings, the same knot.
Path turned(Path path, double by) {
    for (PathPoint& p : path.strands[0].points) {
        const Point3 at = p.at;
        p.at = {at.x, at.y * std::cos(by) - at.z * std::sin(by), at.y * std::sin(by) + at.z * std::cos(by)};
    }
    return path;
}

}  // namespace

TEST_CASE("small knots have the polynomials that the tables give") {
    const auto ring = [](double t) {
        return Point3{std::cos(2 * kPi * t), std::sin(2 * kPi * t), 0.3 * std::sin(6 * kPi * t)};
    };
    const auto trefoil = [](double t) { return torus(t, 3); };
    const auto five = [](double t) { return torus(t, 5); };
    const std::uint64_t none = numberOfPolynomial({1});
    const std::uint64_t three = numberOfPolynomial({1, -1, 1});
    const std::uint64_t four = numberOfPolynomial({1, -3, 1});
    for (const double by : {0.0, 0.4, 0.9, 1.3}) {
        CAPTURE(by);
        const Path path = turned(yarnAlong(trefoil), by);
        CHECK(knotNumberOf(path).value == three);
        CHECK(knotNumberOf(turned(yarnAlong(figureEight), by)).value == four);
        CHECK(knotNumberOf(turned(yarnAlong(five), by)).value == numberOfPolynomial({1, -1, 1, -1, 1}));
        // A ring that crosses itself when it is seen from the side is no knot.
        const KnotNumber r = knotNumberOf(turned(yarnAlong(ring), by));
        CHECK((r.crossings == 0 || r.value == none));
    }
    CHECK(none != three);
    CHECK(three != four);
    // A trefoil with one of its three crossings changed is no knot.
    const KnotNumber flipped = knotNumberOf(yarnAlong(trefoil), false, 1);
    CHECK(flipped.value == none);
}

TEST_CASE("pieces are compared by their knots, whichever way a strand goes past an end") {
    const Path trefoil = yarnAlong([](double t) { return torus(t, 3); });
    const Path eight = yarnAlong(figureEight);
    CHECK(compareKnots(trefoil, turned(trefoil, 0.7)) == Knots::same);
    CHECK(compareKnots(trefoil, eight) == Knots::different);
    // Two rings that lie beside each other tell nothing each for itself (a split link has no polynomial);
    // tied to one yarn they do.
    const auto beside = [&](const Path& other) {
        Path apart = trefoil;
        apart.strands.push_back(other.strands.front());
        apart.strands[1].yarn = YarnId{1};
        for (PathPoint& p : apart.strands[1].points) p.at.x += 100;
        return apart;
    };
    CHECK(compareKnots(beside(trefoil), beside(trefoil)) == Knots::same);
    CHECK(compareKnots(beside(trefoil), beside(eight)) == Knots::different);
}
