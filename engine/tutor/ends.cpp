// SPDX-License-Identifier: MIT
#include "tutor/ends.h"

#include <algorithm>

#include "fabric/itinerary.h"
#include "repair/uneven.h"
#include "repair/ways_back.h"
#include "tutor/detours.h"

namespace loopmend {

namespace {

bool isUsual(PlanFamily family) {
    return family == PlanFamily::column || family == PlanFamily::tink || family == PlanFamily::rip;
}

/// Everything that a lesson has a use for; some of it reaches no meant cloth.
std::vector<Plan> allWays(const Fabric& meant, const Script& script, Knitter& knitter, const Ends& ends) {
    const auto asked = [&](PlanFamily family) {
        return std::find(ends.further.begin(), ends.further.end(), family) != ends.further.end();
    };
    PlanAsk ask;
    ask.panels = asked(PlanFamily::block);
    ask.threads = asked(PlanFamily::lifelineFirst);
    ask.anew = asked(PlanFamily::sewIn) || asked(PlanFamily::startAgain);
    std::vector<Plan> plans;
    for (WayBack& way : waysBack(meant, script, knitter, ask).all) {
        if (!way.plan.carriedOut || way.plan.moves.empty()) continue;
        if (asked(way.plan.family) || (isUsual(way.plan.family) && way.plan.proved))
            plans.push_back(std::move(way.plan));
    }
    return plans;
}

}  // namespace

std::vector<PlanFamily> furtherWays(const std::vector<std::string>& repairs) {
    std::vector<PlanFamily> further;
    for (int i = 0; i < kPlanFamilies; ++i) {
        const auto family = static_cast<PlanFamily>(i);
        if (!isUsual(family) && std::find(repairs.begin(), repairs.end(), nameOf(family)) != repairs.end())
            further.push_back(family);
    }
    return further;
}

Ends endsOf(const Fabric& meant, const Script& script, Knitter& knitter,
            const std::vector<std::string>& repairs) {
    Ends ends;
    ends.further = furtherWays(repairs);
    const std::string knot = knotOf(meant);
    if (knotOf(knitter.fabric()) == knot) {
        ends.unevenLeft = unevenIn(meant, knitter.fabric(), pairUp(meant, knitter.fabric())).size();
        ends.sizes = ends.unevenLeft > 0;
    }
    if (!ends.sizes && ends.further.empty()) return ends;
    for (const Plan& plan : allWays(meant, script, knitter, ends)) {
        (void)previewOf(knitter, plan, plan.moves.size(), [&](const Fabric& f) {
            if (ends.sizes) {
                ends.unevenLeft = std::min(ends.unevenLeft, unevenIn(meant, f, pairUp(meant, f)).size());
            } else if (std::string end = knotOf(f); end != knot) {
                ends.knots.push_back(std::move(end));
            }
        });
    }
    return ends;
}

std::vector<Plan> waysHome(const Fabric& meant, const Script& script, Knitter& knitter, const Ends& ends) {
    std::vector<Plan> plans = ends.sizes || !ends.further.empty() ? allWays(meant, script, knitter, ends)
                                                                  : plansFor(meant, script, knitter);
    std::stable_sort(plans.begin(), plans.end(),
                     [](const Plan& a, const Plan& b) { return costOf(a) < costOf(b); });
    return plans;
}

}  // namespace loopmend
