// SPDX-License-Identifier: MIT
#include "shape/relax_monitor.h"

#include <algorithm>
#include <cmath>

#include "shape/crossings.h"
#include "shape/relax_team.h"

namespace loopmend {

namespace {

Point3 cross(const Point3& a, const Point3& b) {
    return {a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
}

/// The solid angle of a triangle seen from the origin (van Oosterom & Strackee 1983), signed.
double solidAngle(const Point3& a, const Point3& b, const Point3& c) {
    const double la = length(a);
    const double lb = length(b);
    const double lc = length(c);
    const double up = dot(a, cross(b, c));
    const double down = la * lb * lc + dot(a, b) * lc + dot(b, c) * la + dot(c, a) * lb;
    return 2 * std::atan2(up, down);
}

/// Gauss integral of two straight pieces: the solid angle of the parallelogram of their differences.
double linkingOf(const Point3& a0, const Point3& a1, const Point3& b0, const Point3& b1) {
    const Point3 p = b0 - a0;
    const Point3 q = b0 - a1;
    const Point3 r = b1 - a1;
    const Point3 s = b1 - a0;
    return (solidAngle(p, q, r) + solidAngle(p, r, s)) / (4 * 3.14159265358979323846);
}

constexpr int kSweeps = 60;
constexpr int kMostSweeps = 400;
/// Where it takes more than this in the end, in radii, strands lie in one another.
constexpr double kHigh = 2;

bool isLifted(const Rods& before, const Rods& after) {
    for (std::size_t r = 0; r < after.rods.size(); ++r) {
        for (std::size_t i = 0; i < after.rods[r].points.size(); ++i) {
            if (std::abs(after.rods[r].points[i].z - before.rods[r].points[i].z) > kHigh * after.unit)
                return true;
        }
    }
    return false;
}

struct Place {
    std::size_t piece;
    double part;
};

Place placeOn(double at, std::size_t points) {
    const auto i = std::min(static_cast<std::size_t>(at), points - 2);
    return {i, at - static_cast<double>(i)};
}

double zAt(const Rod& rod, const Place& p) {
    return rod.points[p.piece].z * (1 - p.part) + rod.points[p.piece + 1].z * p.part;
}

/// Moves the place along z by `by`; both ends of the piece move as little as that takes.
void lift(Rod& rod, const Place& p, double by) {
    const double a = 1 - p.part;
    const double b = p.part;
    const double share = by / (a * a + b * b);
    const bool still = !rod.fixed.empty() && rod.fixed[p.piece] != 0;
    const bool still1 = !rod.fixed.empty() && rod.fixed[p.piece + 1] != 0;
    if (!still) rod.points[p.piece].z += share * a;
    if (!still1) rod.points[p.piece + 1].z += share * b;
}

}  // namespace

std::vector<PlannedCrossing> plannedCrossings(const Rods& rods) {
    Path path;
    path.gauge.stitchMm = 8 * rods.unit;
    for (const Rod& rod : rods.rods) {
        PathStrand strand;
        for (const Point3& p : rod.points) strand.points.push_back({p, EntryId{}});
        path.strands.push_back(std::move(strand));
    }
    std::vector<PlannedCrossing> planned;
    for (const PlanarCrossing& c : crossingsOf(path))
        planned.push_back({c.over.strand, c.under.strand, c.over.at, c.under.at, c.where});
    return planned;
}

bool pullApart(Rods& rods, const std::vector<PlannedCrossing>& crossings, double gap) {
    const auto between = [&](const PlannedCrossing& c, Place& over, Place& under) {
        const Rod& a = rods.rods[static_cast<std::size_t>(c.overRod)];
        const Rod& b = rods.rods[static_cast<std::size_t>(c.underRod)];
        over = placeOn(c.over, a.points.size());
        under = placeOn(c.under, b.points.size());
        return zAt(a, over) - zAt(b, under);
    };
    bool enough = true;
    Rods early;
    for (int sweep = 0; sweep < kMostSweeps; ++sweep) {
        if (sweep == kSweeps) {
            if (enough) break;
            // A crowd needs longer; one that cannot part would only be lifted ever higher.
            early = rods;
        }
        bool moved = false;
        enough = true;
        for (const PlannedCrossing& c : crossings) {
            Place over{};
            Place under{};
            Rod& a = rods.rods[static_cast<std::size_t>(c.overRod)];
            Rod& b = rods.rods[static_cast<std::size_t>(c.underRod)];
            const double want = gap * (a.radius + b.radius);
            const double have = between(c, over, under);
            if (have < 0.25 * want) enough = false;
            if (have > 0.98 * want) continue;
            moved = true;
            lift(a, over, 0.5 * (want - have));
            lift(b, under, -0.5 * (want - have));
        }
        if (!moved || (sweep >= kSweeps && enough)) break;
    }
    if (early.rods.empty() || (enough && !isLifted(early, rods))) return enough;
    rods = std::move(early);
    return false;
}

double localLinking(const Rods& rods, const PlannedCrossing& crossing, int reach) {
    const Rod& a = rods.rods[static_cast<std::size_t>(crossing.overRod)];
    const Rod& b = rods.rods[static_cast<std::size_t>(crossing.underRod)];
    const auto i = static_cast<int>(placeOn(crossing.over, a.points.size()).piece);
    const auto j = static_cast<int>(placeOn(crossing.under, b.points.size()).piece);
    double sum = 0;
    for (int p = std::max(0, i - reach); p <= std::min(static_cast<int>(a.points.size()) - 2, i + reach);
         ++p) {
        for (int q = std::max(0, j - reach); q <= std::min(static_cast<int>(b.points.size()) - 2, j + reach);
             ++q) {
            if (crossing.overRod == crossing.underRod && std::abs(p - q) < 2) continue;
            const auto k = static_cast<std::size_t>(p);
            const auto l = static_cast<std::size_t>(q);
            sum += linkingOf(a.points[k], a.points[k + 1], b.points[l], b.points[l + 1]);
        }
    }
    return sum;
}

bool isTelling(const PlannedCrossing& crossing, int reach) {
    return crossing.overRod != crossing.underRod || std::abs(crossing.over - crossing.under) > 2 * reach + 1;
}

std::vector<int> changedCrossings(const Rods& before, const Rods& after,
                                  const std::vector<PlannedCrossing>& crossings, int threads) {
    std::vector<std::uint8_t> changed(crossings.size(), 0);
    Team team(threads);
    constexpr std::size_t kBlock = 256;
    team.run(static_cast<int>((crossings.size() + kBlock - 1) / kBlock), [&](int block) {
        const std::size_t from = static_cast<std::size_t>(block) * kBlock;
        for (std::size_t c = from; c < std::min(crossings.size(), from + kBlock); ++c) {
            const auto jumps = [&](int reach) {
                const double now = localLinking(after, crossings[c], reach);
                return std::abs(now - localLinking(before, crossings[c], reach)) > 0.6;
            };
            if (!isTelling(crossings[c]) || !jumps(kReach)) continue;
            // A strand that slid along the other leaves the short arcs; one that went through it, the long
            // ones too.
            changed[c] = !isTelling(crossings[c], 2 * kReach) || jumps(2 * kReach) ? 1 : 0;
        }
    });
    std::vector<int> found;
    for (std::size_t c = 0; c < changed.size(); ++c) {
        if (changed[c] != 0) found.push_back(static_cast<int>(c));
    }
    return found;
}

}  // namespace loopmend
