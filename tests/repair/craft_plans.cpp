// SPDX-License-Identifier: MIT
// Repairs done at a place of the cloth as it lies, each with what has to be so first; and what is told of
// all.
#include <algorithm>
#include <string>

#include <catch2/catch.hpp>

#include "fabric/itinerary.h"
#include "fault/grounds.h"
#include "fault/knit_with.h"
#include "repair/craft_plans.h"
#include "repair/craft_sheet.h"
#include "repair/ways_back.h"
#include "scenes.h"

using namespace loopmend;
using namespace loopmend::scenes;

namespace {

/// The plan, carried out; what the knitter's fabric is then. Planning leaves no trace.
Plan done(CraftRepair repair, Knitting& k, const CraftPlace& at) {
    const Itinerary before = itinerary(*k.fabric);
    const auto plan = craftPlan(repair, k.knitter, at);
    INFO(idOf(repair) << ": " << (plan ? "" : plan.error()));
    REQUIRE(plan);
    CHECK(itinerary(*k.fabric).knot == before.knot);
    CHECK(itinerary(*k.fabric).measure == before.measure);
    Workplace place(k.knitter);
    for (const PlannedMove& m : plan->moves) {
        const auto read = moveFrom(textOf(m.move));
        REQUIRE(read);
        CHECK(*read == m.move);
        REQUIRE(place.perform(*read));
        CHECK_FALSE(m.words.empty());
    }
    CHECK(plan->seconds > 0);
    return *plan;
}

std::string whyNot(CraftRepair repair, Knitting& k, const CraftPlace& at) {
    const auto plan = craftPlan(repair, k.knitter, at);
    return plan ? "" : plan.error();
}

LoopId below(const Fabric& f, LoopId loop, int rows) {
    for (int i = 0; i < rows; ++i) loop = f.hostsRightToLeft(loop).front();
    return loop;
}

}  // namespace

TEST_CASE("Every repair has its sheet", "[repairs]") {
    for (int i = 0; i < kCraftRepairs; ++i) {
        const CraftSheet sheet = sheetFor(static_cast<CraftRepair>(i));
        INFO(idOf(static_cast<CraftRepair>(i)));
        CHECK_FALSE(sheet.side.empty());
        CHECK_FALSE(sheet.needs.empty());
        CHECK_FALSE(sheet.risk.empty());
        CHECK((sheet.left >= 0 && sheet.left <= 3));
    }
    // Common practice: scissors in the cloth only after two rows are threaded; a snag is never cut.
    CHECK(sheetFor(CraftRepair::snipAndGraft).caution.find("threaded") != std::string_view::npos);
    CHECK(sheetFor(CraftRepair::easeSnag).caution.find("Never cut") != std::string_view::npos);
    CHECK(sheetFor(CraftRepair::startAgain).left == 0);
    CHECK(sheetFor(CraftRepair::leaveIt).left == 3);
}

TEST_CASE("Repairs at a place ask for what has to be so first", "[repairs]") {
    Knitting k = worked(stockinette(9, 6));
    const LoopId top = onNeedle(*k.fabric, 4);
    const LoopId inside = below(*k.fabric, top, 2);
    CHECK(whyNot(CraftRepair::secure, k, {top, {}, {}}) == "no stitch hangs open there");
    CHECK(whyNot(CraftRepair::fasten, k, {inside, {}, {}}) == "the stitch is not open: another holds it");
    CHECK(whyNot(CraftRepair::reseat, k, {inside, {}, {}}) == "another stitch stands in it");
    CHECK_FALSE(whyNot(CraftRepair::closeYarnOver, k, {top, {}, {}}).empty());
    CHECK_FALSE(whyNot(CraftRepair::openBindOff, k, {}).empty());
    CHECK_FALSE(whyNot(CraftRepair::weaveEnd, k, {inside, {}, {}}).empty());
    CHECK_FALSE(whyNot(CraftRepair::catchFloat, k, {}).empty());
    CHECK_FALSE(whyNot(CraftRepair::sewGapShut, k, {{}, {}, {inside}}).empty());
    CHECK_FALSE(whyNot(CraftRepair::leanDecrease, k, {inside, {}, {}}).empty());
    CHECK(craftPlan(CraftRepair::wash, k.knitter, {})->seconds == 1200);

    REQUIRE(k.knitter.drop(top));
    CHECK_FALSE(whyNot(CraftRepair::wash, k, {}).empty());
    const LoopId beside = below(*k.fabric, onNeedle(*k.fabric, 6), 2);
    CHECK_FALSE(whyNot(CraftRepair::sewGapShut, k, {{}, {}, {inside, beside}}).empty());
    done(CraftRepair::secure, k, {top, {}, {}});
    CHECK(pinOf(*k.fabric, top));
    done(CraftRepair::reseat, k, {top, {}, {}});
    CHECK(whyNot(CraftRepair::wash, k, {}).empty());
}

TEST_CASE("A thread, an end, a gap, a strand: each in its place", "[repairs]") {
    Knitting k = worked(stockinette(9, 6));
    const LoopId first = below(*k.fabric, onNeedle(*k.fabric, 4), 3);
    done(CraftRepair::lifeline, k, {first, {}, {}});
    CHECK(threadOf(*k.fabric, first));

    const std::string knot = knotOf(*k.fabric);
    const LoopId beside = below(*k.fabric, onNeedle(*k.fabric, 5), 1);
    const LoopId other = below(*k.fabric, onNeedle(*k.fabric, 6), 1);
    const int yarns = k.fabric->yarnCount();
    const Plan sewn = done(CraftRepair::sewGapShut, k, {{}, {}, {beside, other}});
    CHECK(sewn.leaves == Leaves::visible);
    CHECK(k.fabric->yarnCount() == yarns + 1);  // with yarn of its own; the stitches stay as they are
    CHECK(k.fabric->kidCount(beside) == 2);
    CHECK(knotOf(*k.fabric) != knot);

    // Two colors: the strand behind two stitches of the other one.
    auto colors = knit(stockGround(StockGround::stranded, 12, 5));
    REQUIRE(colors);
    PassId pass;
    const Fabric& f = *colors->fabric;
    for (std::int32_t i = 0; i < f.entryCount() && !pass; ++i) {
        const EntryId e{i};
        if (f.has(e) && !f.isLoop(e) && !f.isFree(e) && !f.isLive(f.passed(e))) pass = e;
    }
    REQUIRE(pass);
    const Plan caught = done(CraftRepair::catchFloat, *colors, {{}, pass, {}});
    CHECK(caught.moves.size() == 1);
}

TEST_CASE("A yarn-over too many can be worked shut, and the count put right", "[repairs][plan]") {
    // Common practice: through its back leg in the next row, and two together beside it.
    const Script script = stockinette(10, 4);
    Script spoiled = script;
    auto& steps = spoiled.rows[3].steps;
    steps.insert(steps.begin() + 5, Step{Op::yarnOver});
    const Knitting meant = worked(script);
    Knitting actual = worked(spoiled);
    const WaysBack ways = waysBack(*meant.fabric, script, actual.knitter);
    const auto shut = std::find_if(ways.all.begin(), ways.all.end(), [](const WayBack& way) {
        return std::count(way.repairs.begin(), way.repairs.end(), CraftRepair::closeYarnOver) != 0;
    });
    REQUIRE(shut != ways.all.end());
    CHECK(shut->plan.leaves == Leaves::countOnly);
    LoopId over;
    for (HeldId h = (*actual.fabric)[actual.fabric->needle()].first; h; h = (*actual.fabric)[h].next) {
        if (!(*actual.fabric)[(*actual.fabric)[h].loop].firstLink) over = (*actual.fabric)[h].loop;
    }
    REQUIRE(over);
    Workplace place(actual.knitter);
    for (const PlannedMove& m : shut->plan.moves) REQUIRE(place.perform(m.move));
    const LinkId above = (*actual.fabric)[over].firstKid;
    REQUIRE(above);
    CHECK((*actual.fabric)[above].form.twist != 0);
    int onNeedleNow = 0;
    for (HeldId h = (*actual.fabric)[actual.fabric->needle()].first; h; h = (*actual.fabric)[h].next)
        ++onNeedleNow;
    CHECK(onNeedleNow == 10);
}

TEST_CASE("Bound off, the chain is opened from its end", "[repairs]") {
    auto k = knit(stockGround(StockGround::bound, 8, 4));
    REQUIRE(k);
    const Plan plan = done(CraftRepair::openBindOff, *k, {});
    CHECK(plan.seconds >= 8 * 3.0);
    CHECK(k->knitter.aheadCount() == 8);
}
