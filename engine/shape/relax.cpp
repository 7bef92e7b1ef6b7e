// SPDX-License-Identifier: MIT
#include "shape/relax.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include "shape/relax_bed.h"
#include "shape/relax_contacts.h"
#include "shape/relax_forces.h"
#include "shape/relax_monitor.h"
#include "shape/relax_team.h"

namespace loopmend {

std::string sentence(const RelaxFault& fault) {
    switch (fault.kind) {
        case RelaxFault::Kind::badRods: return "A strand has no length, or its sizes do not fit.";
        case RelaxFault::Kind::strandsTouch:
            return fmt::format(
                "Two strands lie in one another near ({:.1f}, {:.1f}) before anything has moved.",
                fault.where.x, fault.where.y);
        case RelaxFault::Kind::crossingChanged:
            return fmt::format(
                "{} crossing{} of strands changed on the way, the first near ({:.1f}, {:.1f}).", fault.count,
                fault.count == 1 ? "" : "s", fault.where.x, fault.where.y);
        case RelaxFault::Kind::loopSlipped:
            return fmt::format(
                "{} loop{} slipped out of what {} drawn through, the first near ({:.1f}, {:.1f}).",
                fault.count, fault.count == 1 ? "" : "s", fault.count == 1 ? "it was" : "they were",
                fault.where.x, fault.where.y);
    }
    return "";
}

/// FIRE (Bitzek et al., Phys. Rev. Lett. 97 (2006) 170201): points with mass 1 that roll downhill, and stop
/// when they would roll up.
///
/// Measured against L-BFGS (8 pairs, the same energy, contacts and step limit) on one busy thread, 20 x 24
/// stitches, without friction, energy after 0.1, 0.25, 0.5, 1, 2 s:
///   plain  FIRE 284.8 275.9 271.5 268.6 264.5   L-BFGS 284.7 275.9 270.8 267.3 261.8
///   seed   FIRE 491.6 416.8 356.2 308.5 263.1   L-BFGS 506.0 424.8 361.2 297.3 257.1
/// A tie within the time a picture has; L-BFGS is ahead of it later. FIRE stays because friction is no energy
/// and a line search has nothing to go by. (Its time step has since grown by a quarter.)
struct Relaxing::State {
    State(Rods start_, RelaxOptions options_, RodBed bed_, std::vector<PlannedCrossing> plan_)
        : start(std::move(start_)),
          options(options_),
          plan(std::move(plan_)),
          bed(std::move(bed_)),
          team(std::clamp(options_.threads, 1, 16)),
          forces(bed, {static_cast<float>(options_.stretch), static_cast<float>(options_.contact),
                       static_cast<float>(options_.flatten)}),
          velocity(bed.x.size(), Quad{0, 0, 0, 0}),
          moved((bed.x.size() + kBlock - 1) / kBlock, 0.0F) {
        const double l = static_cast<double>(bed.shortest);
        longestTime = static_cast<float>(
            1.7 / std::sqrt(4 * options.stretch / l + 16 / (l * l * l) + 6.5 * options.contact));
        time = 0.5F * longestTime;
        for (std::size_t i = 0; i < static_cast<std::size_t>(bed.n); ++i) free += bed.free[i] > 0 ? 1 : 0;
        refresh();
    }

    static constexpr std::size_t kBlock = 1024;
    static constexpr double kQuiet = 0.012;

    float thickness() const {
        if (figures.steps >= options.ramp) return 1;
        const double t = static_cast<double>(figures.steps) / options.ramp;
        return static_cast<float>(options.rampFrom + (1 - options.rampFrom) * t);
    }
    /// Friction would hold what is still under way: it sets in when the worst is over.
    float friction() {
        const int settled = figures.steps - options.ramp;
        if (settled >= 3 * options.settle || (settled >= options.settle && figures.force < kQuiet))
            rubs = true;
        return rubs ? static_cast<float>(options.friction) : 0.0F;
    }

    void refresh() {
        // While yarns swell and start to move the list wears fast; later a short one is quicker.
        contacts.rebuild(bed, team, figures.steps < options.ramp ? 0.9F : 0.8F);
        ++figures.rebuilds;
        since = 0;
        drift = 0;
    }

    void measure() {
        forces.compute(bed, contacts, team, thickness(), friction(), velocity);
        figures.energy = forces.energy();
        figures.force = std::sqrt(forces.force2() / std::max(1, free));
        figures.nearest = std::min(1.0, std::sqrt(static_cast<double>(forces.closeness2())));
        figures.everNearest = std::min(figures.everNearest, figures.nearest);
    }

    void step() {
        if (contacts.worn(since)) refresh();
        measure();
        const bool rough = figures.steps <= options.ramp;
        const double speed = std::sqrt(forces.velocity2() / std::max(1, free));
        if (!rough && figures.force < options.restForce && speed < 10 * options.restForce) {
            figures.atRest = true;
            return;
        }
        double power = forces.power();
        double vv = forces.velocity2();
        double ff = forces.force2();
        if (bed.periodic) {
            for (int d = 0; d < 2; ++d) {
                power += forces.pull()[d] * periodVelocity[d];
                vv += periodVelocity[d] * periodVelocity[d];
                ff += forces.pull()[d] * forces.pull()[d];
            }
        }
        float keep = 0;
        float turn = 0;
        if (power > 0) {
            turn = mix * static_cast<float>(std::sqrt(vv / (ff + 1e-20)));
            keep = 1 - mix;
            if (++downhill > 5) {
                time = std::min(time * 1.1F, longestTime);
                mix *= 0.99F;
            }
        } else {
            time = std::max(time * 0.5F, 0.1F * longestTime);
            mix = 0.1F;
            downhill = 0;
        }
        const float nearest = std::sqrt(forces.nearest2());
        const float longest = std::min(static_cast<float>(options.step), 0.45F * nearest);
        // A step without pairs on the list has nothing near enough to meet.
        figures.worstReach = std::max(figures.worstReach, static_cast<double>(2 * longest / nearest));
        team.run(static_cast<int>(moved.size()), [&](int block) { move(block, keep, turn, longest); });
        since = 0;
        for (const float m : moved) since = std::max(since, m);
        if (bed.periodic) movePeriod(keep, turn, longest);
        ++figures.steps;
    }

    void move(int block, float keep, float turn, float longest) {
        const std::size_t from = static_cast<std::size_t>(block) * kBlock;
        const std::size_t to = std::min(static_cast<std::size_t>(bed.n), from + kBlock);
        float most = 0;
        for (std::size_t i = from; i < to; ++i) {
            Quad v = velocity[i] * keep + forces.force()[i] * (turn + time);
            const float far = std::sqrt(dot3(v, v)) * time;
            if (far > longest) v *= longest / far;
            v *= bed.free[i];
            velocity[i] = v;
            bed.x[i] += v * time;
            const Quad d = bed.x[i] - contacts.placed(static_cast<int>(i));
            most = std::max(most, dot3(d, d));
        }
        moved[static_cast<std::size_t>(block)] = most;
    }

    /// The periods are two more coordinates; images up to three periods away move with them.
    void movePeriod(float keep, float turn, float longest) {
        for (int d = 0; d < 2; ++d) {
            double& v = periodVelocity[d];
            v = v * static_cast<double>(keep) + forces.pull()[d] * static_cast<double>(turn + time);
            const double most = static_cast<double>(longest) / 3;
            const double by = std::clamp(v * static_cast<double>(time), -most, most);
            v = by / static_cast<double>(time);
            bed.period[d] += by;
            drift += 3 * static_cast<float>(std::abs(by));
        }
        bed.placeImages();
        const float s = std::sqrt(since) + drift;
        since = s * s;
    }

    Rods start;
    RelaxOptions options;
    RelaxFigures figures;
    std::vector<PlannedCrossing> plan;
    RodBed bed;
    Team team;
    Contacts contacts;
    Forces forces;
    std::vector<Quad> velocity;
    double periodVelocity[2] = {0, 0};
    std::vector<float> moved;
    float since = 0;  ///< largest squared way since the list was made
    float drift = 0;
    float time = 0;
    float longestTime = 0;
    float mix = 0.1F;
    int downhill = 0;
    int free = 0;
    bool rubs = false;
};

Relaxing::Relaxing(std::unique_ptr<State> state) : state_(std::move(state)) {}
Relaxing::Relaxing(Relaxing&&) noexcept = default;
Relaxing& Relaxing::operator=(Relaxing&&) noexcept = default;
Relaxing::~Relaxing() = default;

tl::expected<Relaxing, RelaxFault> Relaxing::begin(const Rods& rods, const RelaxOptions& options) {
    auto drawn = bedOf(rods, options.set);
    if (!drawn) return tl::unexpected(drawn.error());
    std::vector<PlannedCrossing> plan;
    const bool repeats = rods.periodX > 0;
    if (!repeats && (options.pullApart || options.alarm)) plan = plannedCrossings(rods);
    Rods start = rods;
    if (!repeats && options.pullApart) {
        (void)pullApart(start, plan);
        std::vector<float> set = std::move(drawn->set);
        drawn = bedOf(start, 0);
        drawn->set = std::move(set);
    }
    auto state = std::make_unique<State>(std::move(start), options, std::move(*drawn), std::move(plan));
    state->measure();
    if (state->forces.nearest2() < 1e-6F) {
        return tl::unexpected(RelaxFault{RelaxFault::Kind::strandsTouch, {}, 0});
    }
    return Relaxing(std::move(state));
}

bool Relaxing::advance(int steps) {
    State& s = *state_;
    for (int k = 0; k < steps && !s.figures.atRest && s.figures.steps < s.options.most; ++k) s.step();
    return !s.figures.atRest && s.figures.steps < s.options.most;
}

Rods Relaxing::rods() const {
    return rodsOf(state_->bed, state_->start);
}

RelaxFigures Relaxing::figures() const {
    RelaxFigures f = state_->figures;
    const RodBed& bed = state_->bed;
    double sum = 0;
    int count = 0;
    for (std::size_t i = 0; i < static_cast<std::size_t>(bed.n); ++i) {
        if (bed.rest[i] <= 0) continue;
        const Quad d = bed.x[i + 1] - bed.x[i];
        const double e = std::abs(static_cast<double>(std::sqrt(dot3(d, d)) / bed.rest[i]) - 1);
        if (bed.free[i] == 0 && bed.free[i + 1] == 0) continue;
        f.strain = std::max(f.strain, e);
        sum += e;
        ++count;
    }
    f.meanStrain = count > 0 ? sum / count : 0;
    for (const PlannedCrossing& c : state_->plan) f.crossings += isTelling(c) ? 1 : 0;
    return f;
}

tl::expected<void, RelaxFault> Relaxing::check() const {
    const State& s = *state_;
    const std::vector<int> changed = changedCrossings(s.start, rods(), s.plan, s.options.threads);
    if (changed.empty()) return {};
    const Point2 at = s.plan[static_cast<std::size_t>(changed.front())].where;
    return tl::unexpected(
        RelaxFault{RelaxFault::Kind::crossingChanged, {at.x, at.y, 0}, static_cast<int>(changed.size())});
}

tl::expected<Relaxed, RelaxFault> relax(const Rods& rods, const RelaxOptions& options) {
    auto relaxing = Relaxing::begin(rods, options);
    if (!relaxing) return tl::unexpected(relaxing.error());
    relaxing->advance(options.most);
    if (options.alarm) {
        if (auto fine = relaxing->check(); !fine) return tl::unexpected(fine.error());
    }
    return Relaxed{relaxing->rods(), relaxing->figures()};
}

}  // namespace loopmend
