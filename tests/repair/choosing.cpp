// SPDX-License-Identifier: MIT
// Three ways out of all, why, and why not the others; cautions; previews; hints.
#include <algorithm>
#include <catch2/catch.hpp>

#include "fabric/hands.h"
#include "fabric/itinerary.h"
#include "repair/ways_back.h"
#include "scenes.h"

using namespace loopmend;
using namespace loopmend::scenes;

namespace {

const WayBack* find(const WaysBack& ways, PlanFamily family) {
    for (const WayBack& w : ways.all) {
        if (w.plan.family == family) return &w;
    }
    return nullptr;
}

Script withPurl(Script script, int row, int step) {
    script.rows[static_cast<std::size_t>(row - 1)].steps[static_cast<std::size_t>(step - 1)] = {Op::purl};
    return script;
}

}  // namespace

TEST_CASE("Three ways are chosen, each with what speaks for it, the others with what speaks against",
          "[ways]") {
    const Script script = stockinette(24, 11);
    const Knitting meant = worked(script);
    Knitting actual = worked(withPurl(script, 7, 12));
    const Itinerary before = itinerary(*actual.fabric);
    const WaysBack ways = waysBack(*meant.fabric, script, actual.knitter);
    CHECK(itinerary(*actual.fabric).knot == before.knot);
    CHECK(itinerary(*actual.fabric).measure == before.measure);
    REQUIRE(ways.best);
    REQUIRE(ways.fastest);
    REQUIRE(ways.gentlest);
    for (const WayBack& w : ways.all) {
        INFO(w.name << " | " << w.time << " | " << w.after << " | " << w.why << " | " << w.whyNot);
        CHECK_FALSE(w.name.empty());
        CHECK_FALSE(w.why.empty());
        CHECK_FALSE(w.after.empty());
        CHECK(w.plan.risk >= ways.all[*ways.gentlest].plan.risk * (w.plan.proved ? 1 : 0));
        if (w.plan.proved) CHECK(w.plan.seconds >= ways.all[*ways.fastest].plan.seconds);
        CHECK((&w == &ways.all[*ways.best]) == w.whyNot.empty());
    }
    CHECK(ways.all[*ways.best].plan.family == PlanFamily::column);
    const PlannedMove* hint = ways.hint();
    REQUIRE(hint != nullptr);
    CHECK(hint->move.kind == MoveKind::pin);
    const WayBack* leave = find(ways, PlanFamily::leave);
    REQUIRE(leave != nullptr);
    CHECK(leave->plan.leaves == Leaves::nothingDone);
    CHECK(leave->plan.moves.empty());
    CHECK_FALSE(leave->plan.proved);
    CHECK(find(ways, PlanFamily::fudge) == nullptr);  // the count is right
}

TEST_CASE("A missed increase may be left, and the count put right", "[ways]") {
    Script script = stockinette(16, 8);
    auto& row = script.rows[4].steps;
    row.insert(row.begin() + 8, Step{Op::m1Left});
    for (std::size_t r = 5; r < 8; ++r) script.rows[r].steps.push_back(script.rows[r].steps.front());
    Script spoiled = stockinette(16, 8);
    const Knitting meant = worked(script);
    Knitting actual = worked(spoiled);
    const WaysBack ways = waysBack(*meant.fabric, script, actual.knitter);
    const WayBack* fudge = find(ways, PlanFamily::fudge);
    REQUIRE(fudge != nullptr);
    CHECK(fudge->plan.leaves == Leaves::countOnly);
    CHECK_FALSE(fudge->plan.cautions.empty());
    const auto after = fabricAfter(actual.knitter, fudge->plan, 100);
    REQUIRE(after);
    int stitches = 0;
    for (HeldId h = (*after)[after->needle()].first; h; h = (*after)[h].next)
        stitches += (*after)[h].state.hanging == 0 ? 1 : 0;
    CHECK(stitches == 17);
}

TEST_CASE("Previews go forward and back, and leave no trace", "[ways]") {
    const Script script = rib(14, 9);
    const Knitting meant = worked(script);
    Knitting actual = worked(withPurl(script, 5, 5));
    const WaysBack ways = waysBack(*meant.fabric, script, actual.knitter);
    REQUIRE(ways.best);
    const Plan& plan = ways.all[*ways.best].plan;
    const Itinerary before = itinerary(*actual.fabric);
    std::vector<std::string> knots;
    for (std::size_t k = 0; k <= plan.moves.size(); ++k) {
        const auto fabric = fabricAfter(actual.knitter, plan, k);
        REQUIRE(fabric);
        knots.push_back(knotOf(*fabric));
    }
    CHECK(knots.front() == before.knot);
    CHECK(knots.back() == knotOf(*meant.fabric));
    for (std::size_t k = plan.moves.size() + 1; k-- > 0;) {
        REQUIRE(previewOf(actual.knitter, plan, k, [&](const Fabric& f) { CHECK(knotOf(f) == knots[k]); }));
    }
    CHECK(itinerary(*actual.fabric).measure == before.measure);
}

TEST_CASE("Cautions stand where they belong", "[ways]") {
    const Script script = stockinette(40, 30);
    const Knitting meant = worked(script);
    Knitting actual = worked(withPurl(script, 5, 12));
    Circumstances heirloom;
    heirloom.precious = true;
    const WaysBack ways = waysBack(*meant.fabric, script, actual.knitter, {}, heirloom);
    const auto says = [](const Plan& plan, const char* word) {
        return std::any_of(plan.cautions.begin(), plan.cautions.end(),
                           [&](const Caution& c) { return c.words.find(word) != std::string::npos; });
    };
    const WayBack* rip = find(ways, PlanFamily::rip);
    REQUIRE(rip != nullptr);
    CHECK(says(rip->plan, "thread a row"));
    CHECK(says(rip->plan, "rest your hands"));
    CHECK(says(rip->plan, "for a living"));
    const WayBack* column = find(ways, PlanFamily::column);
    REQUIRE(column != nullptr);
    CHECK(says(column->plan, "sideways"));
    CHECK_FALSE(says(column->plan, "rest your hands"));
    for (const WayBack& w : ways.all) {
        for (const Caution& c : w.plan.cautions) CHECK(c.beforeMove <= w.plan.moves.size());
    }
}

TEST_CASE("Seconds in words", "[ways]") {
    CHECK(timeInWords(20) == "less than a minute");
    CHECK(timeInWords(200) == "a few minutes");
    CHECK(timeInWords(1800) == "half an hour");
    CHECK(timeInWords(2.5 * 3600) == "an evening");
    CHECK(timeInWords(6 * 3600) == "two or three evenings");
}
