// SPDX-License-Identifier: MIT
#include "shape/relax_drawn.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "shape/crossings.h"
#include "shape/relax_monitor.h"

namespace loopmend {

namespace {

/// Share of their contact distance that strands lie apart at least where some had to be brought back.
constexpr double kGap = 0.3;
/// Strands farther apart than that are not swapped by cutting bends short.
constexpr double kNear = 0.6;
/// A crossing moves so far along a strand when its bends are cut short, in pieces of a rod.
constexpr double kMoves = 1.6;

/// A place on a rod: what it is on the strand that was drawn.
struct Place {
    int strand = 0;
    double at = 0;     ///< in points of the drawn path
    double reach = 0;  ///< so far along it a crossing may have moved
    Point2 way;
    double z = 0;
};

Place placeOf(const Rods& rods, const std::vector<std::vector<double>>& places, int rod, double at) {
    const std::vector<Point3>& points = rods.rods[static_cast<std::size_t>(rod)].points;
    const std::vector<double>& drawn = places[static_cast<std::size_t>(rod)];
    const auto i = std::min(static_cast<std::size_t>(at), points.size() - 2);
    const double part = at - static_cast<double>(i);
    const Point3 d = points[i + 1] - points[i];
    const double piece = drawn[i + 1] - drawn[i];
    return {
        rod, drawn[i] + piece * part, kMoves * std::max(1.0, piece), {d.x, d.y}, points[i].z + d.z * part};
}

/// The stretch of the drawn strand about a place, and its first point.
std::pair<PathStrand, double> stretchAbout(const Path& drawn, const Place& place) {
    const std::vector<PathPoint>& points = drawn.strands[static_cast<std::size_t>(place.strand)].points;
    const double last = static_cast<double>(points.size() - 1);
    const auto from = static_cast<std::ptrdiff_t>(std::max(0.0, std::floor(place.at - place.reach)));
    const auto to = static_cast<std::ptrdiff_t>(std::min(last, std::ceil(place.at + place.reach)));
    PathStrand stretch;
    stretch.points.assign(points.begin() + from, points.begin() + to + 1);
    return {std::move(stretch), static_cast<double>(from)};
}

/// Whether the strand that lies under at a crossing of rods was drawn over the other there.
bool isSwapped(const Path& drawn, const Place& over, const Place& under) {
    // A curl of a few points can be turned either way.
    if (over.strand == under.strand && std::abs(over.at - under.at) < over.reach + under.reach + 2)
        return false;
    auto [one, oneFrom] = stretchAbout(drawn, over);
    auto [other, otherFrom] = stretchAbout(drawn, under);
    Path about;
    about.gauge = drawn.gauge;
    about.strands = {std::move(one), std::move(other)};
    const bool left = turnOf(over.way, under.way) > 0;
    double nearest = 1e300;
    bool swapped = false;
    for (const PlanarCrossing& x : crossingsOf(about)) {
        if (x.over.strand == x.under.strand) continue;
        const bool isOver = x.over.strand == 0;
        const PlanarCrossing::Branch& mine = isOver ? x.over : x.under;
        const PlanarCrossing::Branch& theirs = isOver ? x.under : x.over;
        const auto wayAt = [&](const PlanarCrossing::Branch& b) {
            const std::vector<PathPoint>& points = about.strands[static_cast<std::size_t>(b.strand)].points;
            const auto i = std::min(static_cast<std::size_t>(b.at), points.size() - 2);
            const Point3 d = points[i + 1].at - points[i].at;
            return Point2{d.x, d.y};
        };
        if ((turnOf(wayAt(mine), wayAt(theirs)) > 0) != left) continue;
        const double far = std::abs(mine.at + oneFrom - over.at) + std::abs(theirs.at + otherFrom - under.at);
        if (far >= nearest) continue;
        nearest = far;
        swapped = !isOver;
    }
    return swapped;
}

}  // namespace

int bringBackToDrawn(Rods& rods, const Path& drawn, const std::vector<std::vector<double>>& places) {
    std::vector<PlannedCrossing> plan = plannedCrossings(rods);
    int back = 0;
    for (PlannedCrossing& c : plan) {
        const Place over = placeOf(rods, places, c.overRod, c.over);
        const Place under = placeOf(rods, places, c.underRod, c.under);
        const double contact = rods.rods[static_cast<std::size_t>(c.overRod)].radius +
                               rods.rods[static_cast<std::size_t>(c.underRod)].radius;
        if (over.z - under.z > kNear * contact || !isSwapped(drawn, over, under)) continue;
        std::swap(c.overRod, c.underRod);
        std::swap(c.over, c.under);
        ++back;
    }
    if (back == 0) return 0;
    Rods apart = rods;
    if (!pullApart(apart, plan, kGap)) return 0;
    rods = std::move(apart);
    return back;
}

}  // namespace loopmend
