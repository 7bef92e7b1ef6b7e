// SPDX-License-Identifier: MIT
#include "shape/relax_links.h"

#include <algorithm>
#include <utility>

#include "shape/relax_monitor.h"

namespace loopmend {

namespace {

struct Stretch {
    std::size_t rod = 0;
    std::size_t from = 0;
    std::size_t to = 0;  ///< its last point, which may be the first of the next stretch
    bool there = false;
};

std::vector<Stretch> stretchesOf(const PathRods& rods) {
    std::vector<Stretch> found;
    for (std::size_t r = 0; r < rods.entries.size(); ++r) {
        const std::vector<EntryId>& entries = rods.entries[r];
        for (std::size_t i = 0; i < entries.size(); ++i) {
            if (!entries[i]) continue;
            const auto e = static_cast<std::size_t>(entries[i].value);
            if (e >= found.size()) found.resize(e + 1);
            if (!found[e].there) found[e] = {r, i, i, true};
            if (found[e].rod == r) found[e].to = std::min(i + 1, entries.size() - 1);
        }
    }
    return found;
}

Point3 cross(const Point3& a, const Point3& b) {
    return {a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
}

/// +1 or -1 where the piece p-q goes through the triangle, by the side it comes from; 0 where it does not.
int pierces(const Point3& p, const Point3& q, const Point3& a, const Point3& b, const Point3& c) {
    const Point3 n = cross(b - a, c - a);
    const double from = dot(n, p - a);
    const double to = dot(n, q - a);
    if ((from > 0) == (to > 0)) return 0;
    const Point3 way = q - p;
    const auto side = [&](const Point3& u, const Point3& v) { return dot(way, cross(u - p, v - p)) > 0; };
    const bool s = side(a, b);
    if (side(b, c) != s || side(c, a) != s) return 0;
    return from > 0 ? 1 : -1;
}

/// A place on the yarn at which it goes through a surface.
struct Met {
    std::size_t at = 0;
    int face = 0;
};

std::vector<Met> metBy(const std::vector<Point3>& l, std::size_t from, std::size_t to,
                       const std::vector<Point3>& h, std::size_t hostFrom, std::size_t hostTo) {
    Point3 low = h[hostFrom];
    Point3 high = low;
    for (std::size_t i = hostFrom; i <= hostTo; ++i) {
        low = {std::min(low.x, h[i].x), std::min(low.y, h[i].y), std::min(low.z, h[i].z)};
        high = {std::max(high.x, h[i].x), std::max(high.y, h[i].y), std::max(high.z, h[i].z)};
    }
    std::vector<Met> met;
    for (std::size_t i = from; i < to; ++i) {
        const Point3& p = l[i];
        const Point3& q = l[i + 1];
        if (std::max(p.x, q.x) < low.x || std::min(p.x, q.x) > high.x || std::max(p.y, q.y) < low.y ||
            std::min(p.y, q.y) > high.y)
            continue;
        for (std::size_t k = hostFrom + 1; k < hostTo; ++k) {
            if (const int face = pierces(p, q, h[hostFrom], h[k], h[k + 1]); face != 0)
                met.push_back({i, face});
        }
    }
    return met;
}

WaysThrough waysThroughStretch(const PathRods& rods, const Stretch& loop, const Stretch& host) {
    WaysThrough ways;
    const std::size_t top = (loop.from + loop.to) / 2;
    for (const Met& m : metBy(rods.rods.rods[loop.rod].points, loop.from, loop.to,
                              rods.rods.rods[host.rod].points, host.from, host.to))
        (m.at < top ? ways.up : ways.down) += m.face;
    return ways;
}

}  // namespace

std::vector<int> slippedLinks(const PathRods& drawn, const PathRods& now, bool onlyLoose, int threads) {
    if (onlyLoose && std::none_of(drawn.links.begin(), drawn.links.end(), [](auto& l) { return l.loose; }))
        return {};
    const std::vector<PlannedCrossing> plan = plannedCrossings(drawn.rods);
    std::vector<std::pair<EntryId, EntryId>> changed;
    for (const int c : changedCrossings(drawn.rods, now.rods, plan, threads)) {
        const PlannedCrossing& x = plan[static_cast<std::size_t>(c)];
        const auto entryAt = [&](int rod, double at) {
            const std::vector<EntryId>& entries = drawn.entries[static_cast<std::size_t>(rod)];
            return entries[std::min(static_cast<std::size_t>(at), entries.size() - 1)];
        };
        changed.emplace_back(entryAt(x.overRod, x.over), entryAt(x.underRod, x.under));
    }
    std::vector<int> slipped;
    if (changed.empty()) return slipped;
    const std::vector<Stretch> stretches = stretchesOf(drawn);
    for (std::size_t i = 0; i < drawn.links.size(); ++i) {
        const PathRods::Through& link = drawn.links[i];
        if (onlyLoose && !link.loose) continue;
        const auto isOf = [&](const std::pair<EntryId, EntryId>& c) {
            return (c.first == link.loop && c.second == link.host) ||
                   (c.first == link.host && c.second == link.loop);
        };
        if (std::none_of(changed.begin(), changed.end(), isOf)) continue;
        const auto loop = static_cast<std::size_t>(link.loop.value);
        const auto host = static_cast<std::size_t>(link.host.value);
        if (loop >= stretches.size() || host >= stretches.size()) continue;
        if (!stretches[loop].there || !stretches[host].there) continue;
        const WaysThrough ways = waysThroughStretch(now, stretches[loop], stretches[host]);
        if (ways.up == 0 && ways.down == 0) slipped.push_back(static_cast<int>(i));
    }
    return slipped;
}

WaysThrough waysThrough(const PathRods& rods, LoopId loop, LoopId host) {
    const std::vector<Stretch> stretches = stretchesOf(rods);
    const auto l = static_cast<std::size_t>(loop.value);
    const auto h = static_cast<std::size_t>(host.value);
    if (l >= stretches.size() || h >= stretches.size() || !stretches[l].there || !stretches[h].there)
        return {};
    return waysThroughStretch(rods, stretches[l], stretches[h]);
}

std::vector<int> facesMet(const PathRods& rods, LoopId first, LoopId last, LoopId host, int further) {
    const std::vector<Stretch> stretches = stretchesOf(rods);
    const auto there = [&](LoopId e) {
        const auto i = static_cast<std::size_t>(e.value);
        return i < stretches.size() && stretches[i].there;
    };
    if (!there(first) || !there(last) || !there(host)) return {};
    const Stretch& a = stretches[static_cast<std::size_t>(first.value)];
    const Stretch& b = stretches[static_cast<std::size_t>(last.value)];
    const Stretch& h = stretches[static_cast<std::size_t>(host.value)];
    if (a.rod != b.rod) return {};
    const std::vector<Point3>& points = rods.rods.rods[a.rod].points;
    const std::vector<Point3>& around = rods.rods.rods[h.rod].points;
    const auto more = static_cast<std::size_t>(further);
    const auto before = [&](std::size_t at) { return at > more ? at - more : 0; };
    const auto after = [&](std::size_t at, std::size_t n) { return std::min(at + more, n - 1); };
    std::vector<Met> met;
    for (const Met& m : metBy(points, before(a.from), after(b.to, points.size()), around, before(h.from),
                              after(h.to, around.size()))) {
        const bool back = !met.empty() && met.back().face != m.face && m.at - met.back().at < 2;
        if (back) {
            met.pop_back();
        } else {
            met.push_back(m);
        }
    }
    std::vector<int> faces;
    faces.reserve(met.size());
    for (const Met& m : met) faces.push_back(m.face);
    return faces;
}

}  // namespace loopmend
