// SPDX-License-Identifier: MIT
#include "shape/relax_near.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "shape/relax_monitor.h"

namespace loopmend {

namespace {

/// Where an entry's stretch lies in the rods.
struct Stretch {
    std::size_t rod = 0;
    std::size_t first = 0;
    std::size_t count = 0;  ///< 0: it is not there
    Point3 middle;
};

std::vector<Stretch> stretchesOf(const PathRods& rods) {
    std::vector<Stretch> found;
    for (std::size_t r = 0; r < rods.entries.size(); ++r) {
        for (std::size_t i = 0; i < rods.entries[r].size(); ++i) {
            const EntryId e = rods.entries[r][i];
            if (!e) continue;
            if (static_cast<std::size_t>(e.value) >= found.size())
                found.resize(static_cast<std::size_t>(e.value) + 1);
            Stretch& s = found[static_cast<std::size_t>(e.value)];
            if (s.count == 0) {
                s.rod = r;
                s.first = i;
            }
            ++s.count;
            s.middle = s.middle + rods.rods.rods[r].points[i];
        }
    }
    for (Stretch& s : found) {
        if (s.count > 0) s.middle = s.middle * (1.0 / static_cast<double>(s.count));
    }
    return found;
}

/// Everything about one change.
class Place {
  public:
    Place(const PathRods& lay, const PathRods& drawn, const std::vector<EntryId>& changed)
        : lay_(lay), drawn_(drawn), old_(stretchesOf(lay)), now_(stretchesOf(drawn)) {
        std::vector<bool> marked(std::max(old_.size(), now_.size()), false);
        for (const EntryId e : changed) {
            if (e && static_cast<std::size_t>(e.value) < marked.size())
                marked[static_cast<std::size_t>(e.value)] = true;
        }
        old_.resize(marked.size());
        now_.resize(marked.size());
        for (std::size_t e = 0; e < marked.size(); ++e) {
            if (old_[e].count == now_[e].count && !marked[e]) continue;
            if (now_[e].count > 0) centres_.push_back(now_[e].middle);
            if (now_[e].count == 0) centres_.push_back(old_[e].middle);
        }
        distance_.assign(now_.size(), std::numeric_limits<double>::max());
        for (std::size_t e = 0; e < now_.size(); ++e) {
            if (now_[e].count > 0) distance_[e] = toChange(now_[e].middle);
        }
    }

    double toChange(const Point3& p) const {
        double best = std::numeric_limits<double>::max();
        for (const Point3& c : centres_) best = std::min(best, std::hypot(p.x - c.x, p.y - c.y));
        return best;
    }
    double toChange(std::size_t rod, std::size_t point) const {
        const EntryId e = drawn_.entries[rod][point];
        return e ? distance_[static_cast<std::size_t>(e.value)]
                 : toChange(drawn_.rods.rods[rod].points[point]);
    }
    bool kept(std::size_t e, double fresh) const {
        return now_[e].count > 0 && now_[e].count == old_[e].count && distance_[e] > fresh;
    }

    PathRods start(double fresh) const {
        PathRods out = drawn_;
        std::vector<std::size_t> around;  // entries that tell how the surroundings were moved
        for (std::size_t e = 0; e < now_.size(); ++e) {
            if (!kept(e, fresh)) continue;
            const Stretch& to = now_[e];
            const Stretch& from = old_[e];
            for (std::size_t i = 0; i < to.count; ++i)
                out.rods.rods[to.rod].points[to.first + i] = lay_.rods.rods[from.rod].points[from.first + i];
            around.push_back(e);
        }
        // The nearest ring is enough, and keeps a large piece cheap.
        const auto ring = [&](double reach) {
            std::vector<std::size_t> in;
            for (const std::size_t e : around) {
                if (distance_[e] < fresh + reach) in.push_back(e);
            }
            return in;
        };
        std::vector<std::size_t> near = ring(2.5 * std::max(fresh, 1e-3));
        if (near.size() < 4) near = around;
        for (std::size_t r = 0; r < out.rods.rods.size(); ++r) {
            for (std::size_t i = 0; i < out.rods.rods[r].points.size(); ++i) {
                const EntryId e = drawn_.entries[r][i];
                if (!e || kept(static_cast<std::size_t>(e.value), fresh)) continue;
                Point3& p = out.rods.rods[r].points[i];
                p = p + movedAt(p, near);
            }
        }
        return out;
    }

  private:
    /// How the surroundings of a drawn point were moved between the drawing and the piece as it lay.
    Point3 movedAt(const Point3& p, const std::vector<std::size_t>& near) const {
        Point3 sum;
        double weight = 0;
        for (const std::size_t e : near) {
            const Point3 d = now_[e].middle - p;
            const double w = 1 / (dot(d, d) * dot(d, d) + 1e-6);
            sum = sum + (old_[e].middle - now_[e].middle) * w;
            weight += w;
        }
        return weight > 0 ? sum * (1 / weight) : sum;
    }

    const PathRods& lay_;
    const PathRods& drawn_;
    std::vector<Stretch> old_;
    std::vector<Stretch> now_;
    std::vector<Point3> centres_;
    std::vector<double> distance_;  ///< by entry, of its middle to the nearest change, in the plane
};

/// A run of points of one rod, taken out.
struct Cut {
    std::size_t rod;
    std::size_t from;
    std::size_t to;
};

std::vector<Cut> cutsOf(const PathRods& drawn, const Place& place, double border) {
    std::vector<Cut> cuts;
    for (std::size_t r = 0; r < drawn.rods.rods.size(); ++r) {
        bool open = false;
        for (std::size_t i = 0; i < drawn.entries[r].size(); ++i) {
            const bool in = place.toChange(r, i) < border;
            if (in && !open) cuts.push_back({r, i, i});
            open = in;
            if (open) cuts.back().to = i + 1;
        }
    }
    cuts.erase(std::remove_if(cuts.begin(), cuts.end(), [](const Cut& c) { return c.to - c.from < 4; }),
               cuts.end());
    return cuts;
}

Rods partOf(const PathRods& from, const std::vector<Cut>& cuts, const Place& place, double active) {
    Rods part;
    part.unit = from.rods.unit;
    for (const Cut& c : cuts) {
        const Rod& rod = from.rods.rods[c.rod];
        Rod piece;
        piece.radius = rod.radius;
        for (std::size_t i = c.from; i < c.to; ++i) {
            piece.points.push_back(rod.points[i]);
            piece.rest.push_back(i < rod.rest.size() ? rod.rest[i] : rod.rest.back());
            if (!rod.bent.empty()) piece.bent.push_back(rod.bent[i]);
            const bool still = !rod.fixed.empty() && rod.fixed[i] != 0;
            // The first and last points of a cut go on outside, unless they are the yarn's own ends.
            const bool edge = (i < c.from + 2 && c.from > 0) || (i + 2 >= c.to && c.to < rod.points.size());
            piece.fixed.push_back(still || edge || place.toChange(c.rod, i) > active ? 1 : 0);
        }
        part.rods.push_back(std::move(piece));
    }
    return part;
}

}  // namespace

NearOptions::NearOptions() {
    relax.ramp = 60;
    relax.settle = 60;
    relax.most = 180;
    relax.restForce = 3e-3;
    relax.alarm = false;  // relaxNear compares with the drawing instead
}

PathRods warmStart(const PathRods& lay, const PathRods& drawn, const std::vector<EntryId>& changed,
                   double freshMm) {
    return Place(lay, drawn, changed).start(freshMm);
}

tl::expected<PathRods, RelaxFault> relaxNear(const PathRods& lay, const PathRods& drawn,
                                             const std::vector<EntryId>& changed, double stitchMm,
                                             const NearOptions& options, RelaxFigures* figures) {
    const Place place(lay, drawn, changed);
    const std::vector<Cut> cuts = cutsOf(drawn, place, options.border * stitchMm);
    const Rods plan = partOf(drawn, cuts, place, options.active * stitchMm);
    const std::vector<PlannedCrossing> crossings = plannedCrossings(plan);
    RelaxFault fault;
    for (double fresh = options.fresh; fresh < 1.45 * options.active; fresh *= 1.4) {
        PathRods out = place.start(std::min(fresh, options.active) * stitchMm);
        Rods part = partOf(out, cuts, place, options.active * stitchMm);
        const auto changedIn = [&](const Rods& rods) -> int {
            const std::vector<int> bad = changedCrossings(plan, rods, crossings, options.relax.threads);
            if (!bad.empty()) {
                const Point2 at = crossings[static_cast<std::size_t>(bad.front())].where;
                fault = {RelaxFault::Kind::crossingChanged, {at.x, at.y, 0}, static_cast<int>(bad.size())};
            }
            return static_cast<int>(bad.size());
        };
        if (changedIn(part) > 0) continue;
        auto relaxed = relax(part, options.relax);
        if (!relaxed) {
            fault = relaxed.error();
            continue;
        }
        if (changedIn(relaxed->rods) > 0) continue;
        for (std::size_t k = 0; k < cuts.size(); ++k) {
            for (std::size_t i = cuts[k].from; i < cuts[k].to; ++i)
                out.rods.rods[cuts[k].rod].points[i] = relaxed->rods.rods[k].points[i - cuts[k].from];
        }
        if (figures != nullptr) *figures = relaxed->figures;
        return out;
    }
    return tl::unexpected(fault);
}

}  // namespace loopmend
