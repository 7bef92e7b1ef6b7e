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

WaysThrough waysThroughStretch(const PathRods& rods, const Stretch& loop, const Stretch& host) {
    const std::vector<Point3>& h = rods.rods.rods[host.rod].points;
    const std::vector<Point3>& l = rods.rods.rods[loop.rod].points;
    Point3 low = h[host.from];
    Point3 high = low;
    for (std::size_t i = host.from; i <= host.to; ++i) {
        low = {std::min(low.x, h[i].x), std::min(low.y, h[i].y), std::min(low.z, h[i].z)};
        high = {std::max(high.x, h[i].x), std::max(high.y, h[i].y), std::max(high.z, h[i].z)};
    }
    WaysThrough ways;
    const std::size_t top = (loop.from + loop.to) / 2;
    for (std::size_t i = loop.from; i < loop.to; ++i) {
        const Point3& p = l[i];
        const Point3& q = l[i + 1];
        if (std::max(p.x, q.x) < low.x || std::min(p.x, q.x) > high.x || std::max(p.y, q.y) < low.y ||
            std::min(p.y, q.y) > high.y)
            continue;
        int sum = 0;
        for (std::size_t k = host.from + 1; k < host.to; ++k)
            sum += pierces(p, q, h[host.from], h[k], h[k + 1]);
        (i < top ? ways.up : ways.down) += sum;
    }
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

}  // namespace loopmend
