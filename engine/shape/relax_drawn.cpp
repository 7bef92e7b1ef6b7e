// SPDX-License-Identifier: MIT
#include "shape/relax_drawn.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "shape/crossings.h"
#include "shape/relax_monitor.h"

namespace loopmend {

namespace {

/// Share of their contact distance that strands lie apart at least where some had to be brought back.
constexpr double kGap = 0.3;
/// A crossing moves so far along a strand when its bends are cut short, in pieces of a rod.
constexpr double kMoves = 1.6;

/// A crossing by the place on each strand, the lower strand (or the earlier place on one) first.
struct Drawn {
    double one = 0;
    double other = 0;
    bool oneOver = false;
    bool turnsLeft = false;  ///< the way of the other, seen from that of the first
};

Point2 wayOf(const std::vector<Point3>& points, double at) {
    const auto i = std::min(static_cast<std::size_t>(at), points.size() - 2);
    const Point3 d = points[i + 1] - points[i];
    return {d.x, d.y};
}

double placeOf(const std::vector<double>& places, double at) {
    const auto i = std::min(static_cast<std::size_t>(at), places.size() - 2);
    return places[i] + (places[i + 1] - places[i]) * (at - static_cast<double>(i));
}

using StrandPair = std::pair<int, int>;

bool isFirst(int strandA, double a, int strandB, double b) {
    return strandA != strandB ? strandA < strandB : a < b;
}

}  // namespace

int bringBackToDrawn(Rods& rods, const Path& drawn, const std::vector<std::vector<double>>& places) {
    std::map<StrandPair, std::vector<Drawn>> asDrawn;
    const auto pointsOf = [&](int strand) {
        std::vector<Point3> points;
        for (const PathPoint& p : drawn.strands[static_cast<std::size_t>(strand)].points)
            points.push_back(p.at);
        return points;
    };
    std::vector<std::vector<Point3>> strands;
    for (std::size_t s = 0; s < drawn.strands.size(); ++s) strands.push_back(pointsOf(static_cast<int>(s)));
    for (const PlanarCrossing& x : crossingsOf(drawn)) {
        const bool overFirst = isFirst(x.over.strand, x.over.at, x.under.strand, x.under.at);
        const PlanarCrossing::Branch& one = overFirst ? x.over : x.under;
        const PlanarCrossing::Branch& other = overFirst ? x.under : x.over;
        const double turn = turnOf(wayOf(strands[static_cast<std::size_t>(one.strand)], one.at),
                                   wayOf(strands[static_cast<std::size_t>(other.strand)], other.at));
        asDrawn[{one.strand, other.strand}].push_back({one.at, other.at, overFirst, turn > 0});
    }
    for (auto& [pair, list] : asDrawn)
        std::sort(list.begin(), list.end(), [](const Drawn& a, const Drawn& b) { return a.one < b.one; });

    std::vector<PlannedCrossing> plan = plannedCrossings(rods);
    int back = 0;
    for (PlannedCrossing& c : plan) {
        const auto over = static_cast<std::size_t>(c.overRod);
        const auto under = static_cast<std::size_t>(c.underRod);
        const double overAt = placeOf(places[over], c.over);
        const double underAt = placeOf(places[under], c.under);
        const bool overFirst = isFirst(c.overRod, overAt, c.underRod, underAt);
        const auto found =
            asDrawn.find(overFirst ? StrandPair{c.overRod, c.underRod} : StrandPair{c.underRod, c.overRod});
        if (found == asDrawn.end()) continue;
        const Point2 overWay = wayOf(rods.rods[over].points, c.over);
        const Point2 underWay = wayOf(rods.rods[under].points, c.under);
        const bool turnsLeft = (turnOf(overWay, underWay) > 0) == overFirst;
        const double one = overFirst ? overAt : underAt;
        const double other = overFirst ? underAt : overAt;
        const auto piece = [&](std::size_t rod, double at) {
            const auto i = std::min(static_cast<std::size_t>(at), places[rod].size() - 2);
            return std::max(1.0, places[rod][i + 1] - places[rod][i]);
        };
        const double reach = kMoves * std::max(piece(over, c.over), piece(under, c.under));
        const Drawn* best = nullptr;
        double nearest = 2 * reach;
        for (auto d = std::lower_bound(found->second.begin(), found->second.end(), one - reach,
                                       [](const Drawn&x, double at) { return x.one < at; });
             d != found->second.end() && d->one < one + reach; ++d) {
            const double far = std::abs(d->one - one) + std::abs(d->other - other);
            if (d->turnsLeft != turnsLeft || std::abs(d->other - other) > reach || far >= nearest) continue;
            nearest = far;
            best = &*d;
        }
        if (best == nullptr || best->oneOver == overFirst) continue;
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
