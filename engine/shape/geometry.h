// SPDX-License-Identifier: MIT
#pragma once

#include <cmath>

/// Points of the plane of the fabric and of space. Right side up: x to the right and y to the top as the
/// right side faces you, z toward the viewer of the right side. Lengths are mm.
namespace loopmend {

struct Point2 {
    double x = 0;
    double y = 0;
};

struct Point3 {
    double x = 0;
    double y = 0;
    double z = 0;
};

constexpr Point2 operator+(Point2 a, Point2 b) {
    return {a.x + b.x, a.y + b.y};
}
constexpr Point2 operator-(Point2 a, Point2 b) {
    return {a.x - b.x, a.y - b.y};
}
constexpr Point2 operator*(Point2 a, double s) {
    return {a.x * s, a.y * s};
}
constexpr double dot(Point2 a, Point2 b) {
    return a.x * b.x + a.y * b.y;
}
/// The z component of the cross product: positive where b lies to the left of a.
constexpr double turnOf(Point2 a, Point2 b) {
    return a.x * b.y - a.y * b.x;
}
/// A quarter turn to the left.
constexpr Point2 leftOf(Point2 a) {
    return {-a.y, a.x};
}
/// A quarter turn to the right.
constexpr Point2 rightOf(Point2 a) {
    return {a.y, -a.x};
}
inline double length(Point2 a) {
    return std::sqrt(dot(a, a));
}
/// Of length one; `otherwise` for a vector of no length.
inline Point2 unit(Point2 a, Point2 otherwise = {0, 1}) {
    const double l = length(a);
    return l > 1e-9 ? a * (1 / l) : otherwise;
}
constexpr Point2 mix(Point2 a, Point2 b, double t) {
    return a * (1 - t) + b * t;
}

constexpr Point3 operator+(Point3 a, Point3 b) {
    return {a.x + b.x, a.y + b.y, a.z + b.z};
}
constexpr Point3 operator-(Point3 a, Point3 b) {
    return {a.x - b.x, a.y - b.y, a.z - b.z};
}
constexpr Point3 operator*(Point3 a, double s) {
    return {a.x * s, a.y * s, a.z * s};
}
constexpr double dot(Point3 a, Point3 b) {
    return a.x * b.x + a.y * b.y + a.z * b.z;
}
inline double length(Point3 a) {
    return std::sqrt(dot(a, a));
}
constexpr Point3 mix(Point3 a, Point3 b, double t) {
    return a * (1 - t) + b * t;
}

/// Where it lies in the plane of the fabric.
constexpr Point2 flat(Point3 a) {
    return {a.x, a.y};
}

/// A place on the fabric with its directions: `up` runs along the column, `right` along the row.
struct Frame {
    Point2 at;
    Point2 right = {1, 0};
    Point2 up = {0, 1};

    constexpr Point2 point(double x, double y) const { return at + right * x + up * y; }
    constexpr Point3 point(double x, double y, double z) const {
        const Point2 p = point(x, y);
        return {p.x, p.y, z};
    }
    static constexpr Frame along(Point2 at, Point2 right) { return {at, right, leftOf(right)}; }
};

/// How big a stitch is, mm: from column to column, from row to row, and across the yarn.
struct Gauge {
    double stitchMm = 5.0;
    double rowMm = 3.85;
    double yarnMm = 1.2;
};

}  // namespace loopmend
