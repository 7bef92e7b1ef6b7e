// SPDX-License-Identifier: MIT
#include "shape/cloth.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "shape/cloth_changes.h"
#include "shape/relax_links.h"
#include "shape/relax_monitor.h"
#include "shape/relax_near.h"
#include "shape/relax_path.h"

namespace loopmend {

namespace {

constexpr double kPi = 3.14159265358979323846;
constexpr double kStitchesPerYarn = 4.2;
constexpr double kRowsPerYarn = 5.45;
constexpr double kLengthsPerCore = 17.5;
/// Of a loop that would slip out; a contact that deep (a hundredth of a radius) still moves it.
constexpr double kGrip = 0.1;

/// Ordinary loop and strand of the first yarn that has them, mm.
double stitchYarnOf(const Fabric& fabric) {
    for (std::int32_t y = 0; y < fabric.yarnCount(); ++y) {
        const Yarn& yarn = fabric[YarnId{y}];
        if (yarn.flags.gone == 0 && yarn.loopUm + yarn.strandUm > 0)
            return (yarn.loopUm + yarn.strandUm) / 1000.0;
    }
    return kStitchesPerYarn * Gauge{}.stitchMm;
}

}  // namespace

double YarnSpec::coreMm() const {
    return std::sqrt(4 * tex / (1000 * kPi * fibreDensity * packing));
}
double YarnSpec::stitchYarnMm() const {
    return 1.14 * kPi * (needleMm + coreMm());
}
std::int32_t YarnSpec::loopUm() const {
    return static_cast<std::int32_t>(std::lround(800 * stitchYarnMm()));
}
std::int32_t YarnSpec::strandUm() const {
    return static_cast<std::int32_t>(std::lround(200 * stitchYarnMm()));
}

Gauge gaugeOf(const Fabric& fabric, const ClothOptions& options) {
    const double stitch = stitchYarnOf(fabric);
    Gauge gauge;
    gauge.stitchMm = stitch / kStitchesPerYarn;
    gauge.rowMm = stitch / kRowsPerYarn;
    gauge.yarnMm =
        options.coreMm > 0 ? std::clamp(options.coreMm, stitch / 22, stitch / 16) : stitch / kLengthsPerCore;
    return gauge;
}

struct Cloth::State {
    explicit State(const ClothOptions& options_) : options(options_) {}

    void draw(const Fabric& fabric) {
        LayoutOptions how;
        how.gauge = gaugeOf(fabric, options);
        layout = layoutOf(fabric, how);
        weave(fabric);
    }

    void weave(const Fabric& fabric) {
        PathOptions fine;
        fine.step = 0.08;
        fine.tail = 3;
        like = pathOf(fabric, layout, fine);
        RodOptions cut;
        cut.lengthsPerCore = stitchYarnOf(fabric) / layout.gauge.yarnMm;
        cut.seed = options.seed;
        cut.unevenness = options.unevenness;
        template_ = rodsOfPath(like, fabric, cut);
    }

    void lie(const PathRods& rods) { path = pathOfRods(rods, like); }

    /// From the template.
    void beginWhole() {
        fault.reset();
        held.clear();
        lay = template_;
        fromTemplate = true;
        relaxWhole();
    }

    /// From the template, with the loops that slipped clinging to where they are drawn. False: that was
    /// tried often enough.
    bool holdAndTryAgain(const std::vector<int>& out) {
        if (++tries > 3) return false;
        lay = template_;
        fromTemplate = true;
        (void)pullApart(lay.rods, plannedCrossings(lay.rods), 0.95);
        for (const int i : out) {
            const LoopId loop = template_.links[static_cast<std::size_t>(i)].loop;
            if (std::find(held.begin(), held.end(), loop) == held.end()) held.push_back(loop);
        }
        relaxWhole();
        return whole.has_value();
    }

    void hold(PathRods& rods) const {
        for (std::size_t r = 0; r < rods.entries.size() && !held.empty(); ++r) {
            Rod& rod = rods.rods.rods[r];
            for (std::size_t i = 0; i < rods.entries[r].size(); ++i) {
                if (std::find(held.begin(), held.end(), rods.entries[r][i]) == held.end()) continue;
                rod.grip.resize(rod.points.size(), 0);
                rod.grip[i] = std::ldexp(kGrip, 2 * std::max(0, tries - 1));  // firmer each time
            }
        }
    }

    /// From where it lies.
    void relaxWhole() {
        near.reset();
        whole.reset();
        settled = false;
        if (options.relaxed && options.mostSteps > 0 && !lay.rods.rods.empty()) {
            RelaxOptions relaxing;
            relaxing.threads = options.threads;
            relaxing.most = options.mostSteps;
            hold(lay);
            auto begun = Relaxing::begin(lay.rods, relaxing);
            if (begun) {
                whole.emplace(std::move(*begun));
            } else {
                giveUp(begun.error());
            }
        }
        lie(lay);
    }

    void giveUp(const RelaxFault& why) {
        fault = why;
        lay = template_;
        settled = true;
    }

    /// Nothing passed through anything on the way (relax.h), but a loop may have slipped out of another.
    bool advanceWhole(int steps) {
        const bool more = whole->advance(steps);
        lay.rods = whole->rods();
        figures = whole->figures();
        if (more) {
            lie(lay);
            return true;
        }
        whole.reset();
        settled = true;
        const std::vector<int> out = slippedLinks(template_, lay, fromTemplate, options.threads);
        if (!out.empty() && !holdAndTryAgain(out)) {
            const LoopId host = template_.links[static_cast<std::size_t>(out.front())].host;
            const Point2 at = layout[host].frame.at;
            giveUp({RelaxFault::Kind::loopSlipped,
                    {at.x, layout.squeeze.height(at.y), 0},
                    static_cast<int>(out.size())});
        }
        lie(lay);
        return whole.has_value();
    }

    bool advanceNear(int steps) {
        const bool more = near->advance(steps);
        if (near->fault()) {
            beginWhole();
            return whole.has_value();
        }
        lay = near->rods();
        figures = near->figures();
        if (more) {
            lie(lay);
            return true;
        }
        near.reset();
        // The rest of the piece may have been on its way when the neighbourhood changed.
        if (!settled) relaxWhole();
        lie(lay);
        return whole.has_value();
    }

    void follow(const Fabric& fabric) {
        tries = 0;
        std::vector<std::uint64_t> now = footprintsOf(fabric);
        const std::uint64_t toolsNow = toolsPrintOf(fabric);
        const std::vector<EntryId> changed = changedBetween(footprints, now);
        const bool tools = toolsNow != toolsPrint;
        const std::size_t all = now.size();
        footprints = std::move(now);
        toolsPrint = toolsNow;
        if (changed.empty() && !tools) return;
        if (fault || !options.relaxed || 3 * changed.size() > all) {
            draw(fabric);
            beginWhole();
            return;
        }
        const bool flat = layout.fold.empty();
        const Winding winding = layout.winding;
        layout = layoutNear(fabric, layout, changed);
        // Another piece is laid behind it, or the band turns elsewhere.
        if (layout.fold.empty() != flat || !(layout.winding == winding)) {
            draw(fabric);
            beginWhole();
            return;
        }
        weave(fabric);
        fromTemplate = false;
        if (changed.empty()) {
            near.reset();
            whole.reset();
            lay = warmStart(lay, template_, {}, 0);
            if (!settled) relaxWhole();
            lie(lay);
            return;
        }
        // What was under way is broken off where it stands, and taken up again when the neighbourhood lies.
        settled = settled && !near;
        whole.reset();
        near.reset();
        NearOptions relaxing;
        relaxing.relax.threads = options.threads;
        auto begun = RelaxingNear::begin(lay, template_, changed, like.gauge.stitchMm, relaxing);
        if (!begun) {
            draw(fabric);
            beginWhole();
            return;
        }
        near.emplace(std::move(*begun));
        lay = near->rods();
        lie(lay);
    }

    ClothOptions options;
    Layout layout;
    Path like;           ///< what the strands are
    PathRods template_;  ///< as drawn
    PathRods lay;        ///< as it lies
    Path path;
    std::vector<std::uint64_t> footprints;
    std::optional<Relaxing> whole;
    std::optional<RelaxingNear> near;
    std::optional<RelaxFault> fault;
    RelaxFigures figures;
    std::uint64_t toolsPrint = 0;
    std::vector<LoopId> held;  ///< they slipped, and cling to where they are drawn
    int tries = 0;
    bool fromTemplate = true;  ///< lay has come from it by steps of relaxation alone
    bool settled = false;      ///< outside the neighbourhood under way
};

Cloth::Cloth(std::unique_ptr<State> state) : state_(std::move(state)) {}
Cloth::Cloth(Cloth&&) noexcept = default;
Cloth& Cloth::operator=(Cloth&&) noexcept = default;
Cloth::~Cloth() = default;

Cloth Cloth::drawn(const Fabric& fabric, const ClothOptions& options) {
    auto state = std::make_unique<State>(options);
    state->footprints = footprintsOf(fabric);
    state->toolsPrint = toolsPrintOf(fabric);
    state->draw(fabric);
    state->beginWhole();
    return Cloth(std::move(state));
}

const Path& Cloth::path() const {
    return state_->path;
}
const Layout& Cloth::layout() const {
    return state_->layout;
}
const std::optional<RelaxFault>& Cloth::fault() const {
    return state_->fault;
}
int Cloth::heldAsDrawn() const {
    return static_cast<int>(state_->held.size());
}
RelaxFigures Cloth::figures() const {
    return state_->figures;
}

bool Cloth::advance(int steps) {
    if (state_->near) return state_->advanceNear(steps);
    if (state_->whole) return state_->advanceWhole(steps);
    return false;
}

void Cloth::settle() {
    while (advance(100)) {
    }
}

void Cloth::follow(const Fabric& changed) {
    state_->follow(changed);
}

Cloth::Tried Cloth::tried(const Fabric& after) const {
    State other(state_->options);
    other.draw(after);
    Tried result;
    result.changed = changedBetween(state_->footprints, footprintsOf(after));
    const double fresh = NearOptions().fresh * other.like.gauge.stitchMm;
    result.path = pathOfRods(warmStart(state_->lay, other.template_, result.changed, fresh), other.like);
    return result;
}

}  // namespace loopmend
