// SPDX-License-Identifier: MIT
#include "shape/relax_near.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <utility>

#include "shape/relax_links.h"
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
                // A tool lies where it is drawn.
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

struct RelaxingNear::State {
    State(const PathRods& lay_, PathRods drawn_, const std::vector<EntryId>& changed, double stitch,
          const NearOptions& options_)
        : lay(lay_),
          drawn(std::move(drawn_)),
          place(lay, drawn, changed),
          stitchMm(stitch),
          options(options_),
          fresh(options_.fresh),
          cuts(cutsOf(drawn, place, options.border * stitchMm)),
          plan(partOf(drawn, cuts, place, options.active * stitchMm)),
          crossings(plannedCrossings(plan)) {}

    bool isRight(const Rods& rods) {
        const std::vector<int> bad = changedCrossings(plan, rods, crossings, options.relax.threads);
        if (bad.empty()) return true;
        const Point2 at = crossings[static_cast<std::size_t>(bad.front())].where;
        lastFault = {RelaxFault::Kind::crossingChanged, {at.x, at.y, 0}, static_cast<int>(bad.size())};
        return false;
    }

    /// With as much drawn anew as it takes. False: nothing helps.
    bool start() {
        for (; fresh < 1.45 * options.active; fresh *= 1.4) {
            now = place.start(std::min(fresh, options.active) * stitchMm);
            const Rods part = partOf(now, cuts, place, options.active * stitchMm);
            if (!isRight(part)) continue;
            auto begun = Relaxing::begin(part, options.relax);
            if (!begun) {
                lastFault = begun.error();
                continue;
            }
            relaxing.emplace(std::move(*begun));
            return true;
        }
        relaxing.reset();
        fault = lastFault;
        return false;
    }

    bool nothingSlipped() {
        const auto partly = [&](const PathRods& rods) {
            PathRods part;
            part.rods = partOf(rods, cuts, place, options.active * stitchMm);
            for (const Cut& c : cuts) {
                const auto from = rods.entries[c.rod].begin();
                part.entries.emplace_back(from + static_cast<std::ptrdiff_t>(c.from),
                                          from + static_cast<std::ptrdiff_t>(c.to));
            }
            part.links = drawn.links;
            return part;
        };
        const std::vector<int> out = slippedLinks(partly(drawn), partly(now), false, options.relax.threads);
        if (out.empty()) return true;
        lastFault = {RelaxFault::Kind::loopSlipped, {}, static_cast<int>(out.size())};
        return false;
    }

    void put() {
        const Rods part = relaxing->rods();
        for (std::size_t k = 0; k < cuts.size(); ++k) {
            for (std::size_t i = cuts[k].from; i < cuts[k].to; ++i)
                now.rods.rods[cuts[k].rod].points[i] = part.rods[k].points[i - cuts[k].from];
        }
    }

    PathRods lay;
    PathRods drawn;
    Place place;
    double stitchMm;
    NearOptions options;
    double fresh;
    std::vector<Cut> cuts;
    Rods plan;
    std::vector<PlannedCrossing> crossings;
    PathRods now;
    std::optional<Relaxing> relaxing;
    RelaxFault lastFault;
    std::optional<RelaxFault> fault;
};

RelaxingNear::RelaxingNear(std::unique_ptr<State> state) : state_(std::move(state)) {}
RelaxingNear::RelaxingNear(RelaxingNear&&) noexcept = default;
RelaxingNear& RelaxingNear::operator=(RelaxingNear&&) noexcept = default;
RelaxingNear::~RelaxingNear() = default;

tl::expected<RelaxingNear, RelaxFault> RelaxingNear::begin(const PathRods& lay, PathRods drawn,
                                                           const std::vector<EntryId>& changed,
                                                           double stitchMm, const NearOptions& options) {
    auto state = std::make_unique<State>(lay, std::move(drawn), changed, stitchMm, options);
    if (!state->start()) return tl::unexpected(*state->fault);
    return RelaxingNear(std::move(state));
}

bool RelaxingNear::advance(int steps) {
    State& s = *state_;
    if (!s.relaxing || s.fault) return false;
    const bool more = s.relaxing->advance(steps);
    s.put();
    if (more) return true;
    if (s.nothingSlipped()) return false;
    s.fresh *= 1.4;
    return s.start();
}

const PathRods& RelaxingNear::rods() const {
    return state_->now;
}
const std::optional<RelaxFault>& RelaxingNear::fault() const {
    return state_->fault;
}
RelaxFigures RelaxingNear::figures() const {
    return state_->relaxing ? state_->relaxing->figures() : RelaxFigures{};
}

tl::expected<PathRods, RelaxFault> relaxNear(const PathRods& lay, const PathRods& drawn,
                                             const std::vector<EntryId>& changed, double stitchMm,
                                             const NearOptions& options, RelaxFigures* figures) {
    auto near = RelaxingNear::begin(lay, drawn, changed, stitchMm, options);
    if (!near) return tl::unexpected(near.error());
    while (near->advance(options.relax.most)) {
    }
    if (near->fault()) return tl::unexpected(*near->fault());
    if (figures != nullptr) *figures = near->figures();
    return near->rods();
}

}  // namespace loopmend
