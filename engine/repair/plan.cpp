// SPDX-License-Identifier: MIT
#include "repair/plan.h"

#include <algorithm>

#include <fmt/format.h>

#include "fabric/itinerary.h"
#include "repair/builder.h"

namespace loopmend {

std::string_view nameOf(PlanFamily family) {
    switch (family) {
        case PlanFamily::column: return "column";
        case PlanFamily::tink: return "tink";
        case PlanFamily::rip: return "rip";
    }
    return "column";
}

std::string_view nameOf(Leaves leaves) {
    switch (leaves) {
        case Leaves::exact: return "exact";
        case Leaves::tight: return "tight";
        case Leaves::visible: return "visible";
    }
    return "exact";
}

std::vector<Plan> plansFor(const Fabric& meant, const Script& script, Knitter& knitter, const Pace& pace,
                           bool all) {
    const std::string meantKnot = knotOf(meant);
    if (knotOf(knitter.fabric()) == meantKnot) return {};
    const Pairing pairing = pairUp(meant, knitter.fabric());
    const StitchPlaces meantSpots(meant);
    const StitchPlaces actualSpots(knitter.fabric());
    // A plan reads the cloth as it is before its first move: the generators look at a copy while the journal
    // runs.
    const Fabric before = knitter.fabric();
    const Situation situation{meant, script, before, pairing, meantSpots, actualSpots, pace};

    struct Generator {
        PlanFamily family;
        bool (*make)(const Situation&, PlanBuilder&);
    };
    static constexpr Generator kGenerators[] = {
        {PlanFamily::column, planColumns}, {PlanFamily::tink, planTink}, {PlanFamily::rip, planRip}};

    std::vector<Plan> plans;
    for (const Generator& generator : kGenerators) {
        const Knitter::State state = knitter.mark();
        PlanBuilder builder(knitter, generator.family, pace);
        const bool made = generator.make(situation, builder);
        const bool reached = made && knotOf(knitter.fabric()) == meantKnot;
        std::vector<std::string> left;
        if (made && !reached) left = differencesOf(meant, knitter.fabric());
        knitter.rollBack(state);
        Plan plan = builder.take();
        plan.proved = reached;
        if (!left.empty()) plan.reason = left.front();
        if (reached || (all && (made || !plan.reason.empty()))) plans.push_back(std::move(plan));
    }
    std::stable_sort(plans.begin(), plans.end(), [](const Plan& x, const Plan& y) {
        if (x.proved != y.proved) return x.proved;
        return x.seconds < y.seconds;
    });
    return plans;
}

std::vector<std::string> differencesOf(const Fabric& meant, const Fabric& actual) {
    if (knotOf(meant) == knotOf(actual)) return {};
    const Pairing p = pairUp(meant, actual);
    const StitchPlaces meantSpots(meant);
    const StitchPlaces actualSpots(actual);
    std::vector<std::pair<int, std::string>> found;
    const auto say = [&](const StitchPlaces& spots, LoopId loop, std::string_view what) {
        const StitchPlace spot = spots.of(loop);
        found.emplace_back(spot.row, fmt::format("row {}, stitch {}: {}", spot.row, spot.stitch, what));
    };
    for (const LoopId m : p.missing) say(meantSpots, m, "a stitch is missing");
    for (const LoopId a : p.extra) say(actualSpots, a, "a stitch too many");
    for (const LoopId a : p.changed) say(actualSpots, a, "this stitch is worked otherwise than meant");
    for (const PassId x : p.missingPasses)
        say(meantSpots, meant.passed(x), "a strand should go by this stitch");
    for (const PassId x : p.extraPasses) say(actualSpots, actual.passed(x), "a strand goes by this stitch");
    if (p.crossingsDiffer()) found.emplace_back(1 << 20, "stitches are crossed otherwise than meant");
    std::stable_sort(found.begin(), found.end(),
                     [](const auto& x, const auto& y) { return x.first < y.first; });
    std::vector<std::string> sentences;
    for (auto& [row, text] : found) sentences.push_back(std::move(text));
    if (sentences.empty()) sentences.emplace_back("the same stitches are not all on the needle");
    return sentences;
}

}  // namespace loopmend
