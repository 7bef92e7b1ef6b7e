// SPDX-License-Identifier: MIT
#include <algorithm>
#include <map>
#include <utility>
#include <vector>

#include "shape/cloth.h"

namespace loopmend {

namespace {

/// Points of one entry, or of a tool, that follow each other.
struct Stretch {
    std::size_t strand = 0;
    std::size_t from = 0;
    std::size_t to = 0;  ///< its last point
};

std::vector<Stretch> stretchesOf(const Path& path) {
    std::vector<Stretch> out;
    for (std::size_t s = 0; s < path.strands.size(); ++s) {
        const std::vector<PathPoint>& points = path.strands[s].points;
        for (std::size_t i = 0; i < points.size(); ++i) {
            if (i == 0 || points[i].entry != points[i - 1].entry) out.push_back({s, i, i});
            out.back().to = i;
        }
    }
    return out;
}

/// What a stretch is of: the entry or, for a tool, its number below zero.
std::int64_t nameOf(const Path& path, const Stretch& s) {
    const PathStrand& strand = path.strands[s.strand];
    return strand.tool ? -1 - std::int64_t{strand.tool.value}
                       : std::int64_t{strand.points[s.from].entry.value};
}

}  // namespace

Path between(const Path& from, const Path& to, double share) {
    // By name and by how often the name came before: an entry may lie in pieces, a tool may be two rods.
    std::map<std::pair<std::int64_t, int>, Stretch> old;
    std::map<std::int64_t, int> times;
    for (const Stretch& s : stretchesOf(from)) {
        const std::int64_t name = nameOf(from, s);
        old[{name, times[name]++}] = s;
    }
    times.clear();
    Path out = to;
    for (const Stretch& s : stretchesOf(to)) {
        const std::int64_t name = nameOf(to, s);
        const auto found = old.find({name, times[name]++});
        if (found == old.end()) continue;
        const Stretch& o = found->second;
        const std::vector<PathPoint>& points = from.strands[o.strand].points;
        for (std::size_t i = s.from; i <= s.to; ++i) {
            const double part =
                s.to > s.from ? static_cast<double>(i - s.from) / static_cast<double>(s.to - s.from) : 0;
            const double at = static_cast<double>(o.from) + part * static_cast<double>(o.to - o.from);
            const auto k = std::min(static_cast<std::size_t>(at), o.to);
            const Point3 was =
                mix(points[k].at, points[std::min(k + 1, o.to)].at, at - static_cast<double>(k));
            Point3& p = out.strands[s.strand].points[i].at;
            p = mix(was, p, share);
        }
    }
    return out;
}

}  // namespace loopmend
