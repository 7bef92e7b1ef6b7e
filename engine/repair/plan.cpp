// SPDX-License-Identifier: MIT
#include "repair/plan.h"

#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "fabric/itinerary.h"
#include "repair/planner.h"

namespace loopmend {

std::string_view nameOf(PlanFamily family) {
    static constexpr std::array<std::string_view, kPlanFamilies> kNames = {
        "column",         "tink",           "rip",    "block", "lifeline-first", "fudge",
        "duplicate-over", "snip-and-graft", "fasten", "ease",  "wash",           "untwist",
        "sew-in",         "start-again",    "leave"};
    return kNames[static_cast<std::size_t>(family)];
}

std::string_view nameOf(Leaves leaves) {
    static constexpr std::array<std::string_view, 5> kNames = {"exact", "tight", "visible", "count-only",
                                                               "nothing-done"};
    return kNames[static_cast<std::size_t>(leaves)];
}

std::vector<Plan> plansFor(const Fabric& meant, const Script& script, Knitter& knitter, const PlanAsk& ask) {
    return Planner(meant, script, knitter, ask).provable();
}

std::vector<Plan> plansFor(const Fabric& meant, const Script& script, Knitter& knitter, const Pace& pace,
                           bool all) {
    PlanAsk ask;
    ask.pace = pace;
    ask.all = all;
    ask.panels = false;
    ask.threads = false;
    ask.anew = false;
    return plansFor(meant, script, knitter, ask);
}

std::vector<std::string> differencesOf(const Fabric& meant, const Fabric& actual, const Pairing& p,
                                       const StitchPlaces& meantSpots, const StitchPlaces& actualSpots) {
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
    sentences.reserve(found.size());
    for (auto& [row, text] : found) sentences.push_back(std::move(text));
    if (sentences.empty()) sentences.emplace_back("the same stitches are not all on the needle");
    return sentences;
}

std::vector<std::string> differencesOf(const Fabric& meant, const Fabric& actual) {
    if (knotOf(meant) == knotOf(actual)) return {};
    return differencesOf(meant, actual, pairUp(meant, actual), StitchPlaces(meant), StitchPlaces(actual));
}

}  // namespace loopmend
