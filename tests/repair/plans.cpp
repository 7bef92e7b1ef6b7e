// SPDX-License-Identifier: MIT
#include <algorithm>

#include <catch2/catch.hpp>

#include "fabric/hands.h"
#include "fabric/itinerary.h"
#include "repair/plan.h"
#include "repair/workplace.h"
#include "scenes.h"

using namespace loopmend;
using namespace loopmend::scenes;

namespace {

const Plan* find(const std::vector<Plan>& plans, PlanFamily family) {
    for (const Plan& p : plans) {
        if (p.family == family) return &p;
    }
    return nullptr;
}

/// Carries a plan out, from its text, and compares with what was meant.
bool mends(const Plan& plan, Knitting& actual, const Fabric& meant) {
    Workplace place(actual.knitter);
    for (const PlannedMove& m : plan.moves) {
        const auto read = moveFrom(textOf(m.move));
        if (!read) {
            UNSCOPED_INFO(textOf(m.move) << ": " << read.error().message);
            return false;
        }
        if (!(*read == m.move)) {
            UNSCOPED_INFO("not the same move when read back: " << textOf(m.move));
            return false;
        }
        const Result<LoopId> done = place.perform(*read);
        if (!done) {
            UNSCOPED_INFO(textOf(m.move) << ": " << sentence(done.error()));
            return false;
        }
    }
    return knotOf(*actual.fabric) == knotOf(meant);
}

std::vector<Plan> planned(const Script& meantScript, const Knitting& meant, Knitting& actual) {
    const Itinerary before = itinerary(*actual.fabric);
    std::vector<Plan> plans = plansFor(*meant.fabric, meantScript, actual.knitter, Pace{}, true);
    const Itinerary after = itinerary(*actual.fabric);
    CHECK(before.knot == after.knot);  // planning leaves no trace
    CHECK(before.measure == after.measure);
    for (const Plan& p : plans) {
        UNSCOPED_INFO(nameOf(p.family) << ": " << p.seconds << " s, proved " << p.proved << " " << p.reason);
        for (const PlannedMove& m : p.moves) UNSCOPED_INFO("  " << textOf(m.move) << "   " << m.words);
    }
    return plans;
}

void swapStep(Script& s, int row, int step, Step by) {
    s.rows[static_cast<std::size_t>(row - 1)].steps[static_cast<std::size_t>(step - 1)] = by;
}
void dropStep(Script& s, int row, int step) {
    auto& steps = s.rows[static_cast<std::size_t>(row - 1)].steps;
    steps.erase(steps.begin() + step - 1);
}

}  // namespace

TEST_CASE("A purl among knits is mended by its column, cheaper than by taking back rows", "[plan]") {
    // Common practice: repairing one column in place saves hours over ripping a wide piece.
    const Script meantScript = stockinette(20, 9);
    Script spoiled = meantScript;
    swapStep(spoiled, 5, 8, {Op::purl});
    const Knitting meant = worked(meantScript);
    Knitting actual = worked(spoiled);
    const std::vector<Plan> plans = planned(meantScript, meant, actual);
    REQUIRE(plans.size() >= 2);
    CHECK(plans.front().family == PlanFamily::column);
    CHECK(plans.front().proved);
    CHECK(plans.front().leaves == Leaves::exact);
    const Plan* rip = find(plans, PlanFamily::rip);
    REQUIRE(rip != nullptr);
    CHECK(rip->proved);
    CHECK(plans.front().seconds * 3 < rip->seconds);
    CHECK(mends(plans.front(), actual, *meant.fabric));
}

TEST_CASE("Taking back whole rows mends what the column mends", "[plan]") {
    const Script meantScript = lace(16, 8);
    Script spoiled = meantScript;
    swapStep(spoiled, 5, 2, {Op::ssk});
    const Knitting meant = worked(meantScript);
    for (const PlanFamily family : {PlanFamily::column, PlanFamily::rip}) {
        Knitting actual = worked(spoiled);
        const std::vector<Plan> plans = planned(meantScript, meant, actual);
        const Plan* plan = find(plans, family);
        REQUIRE(plan != nullptr);
        CHECK(plan->proved);
        CHECK(mends(*plan, actual, *meant.fabric));
    }
}

TEST_CASE("A mistake in the newest row is tinked", "[plan]") {
    const Script meantScript = stockinette(12, 4);
    Script spoiled = meantScript;
    swapStep(spoiled, 4, 10, {Op::knit});
    const Knitting meant = worked(meantScript);
    Knitting actual = worked(spoiled);
    const std::vector<Plan> plans = planned(meantScript, meant, actual);
    const Plan* tink = find(plans, PlanFamily::tink);
    REQUIRE(tink != nullptr);
    CHECK(tink->proved);
    CHECK(plans.front().family == PlanFamily::tink);
    CHECK(mends(*tink, actual, *meant.fabric));
}

TEST_CASE("A dropped stitch that ran is hooked up, on every ground", "[plan]") {
    for (const Script& meantScript : {stockinette(10, 8), garter(10, 8), rib(10, 8), seed(10, 8)}) {
        for (const int column : {1, 4, 10}) {
            const Knitting meant = worked(meantScript);
            Knitting actual = worked(meantScript);
            const LoopId loop = onNeedle(*actual.fabric, column);
            REQUIRE(actual.knitter.drop(loop));
            CHECK(letRunFrom(*actual.fabric, loop, 4) == 4);
            const std::vector<Plan> plans = planned(meantScript, meant, actual);
            const Plan* plan = find(plans, PlanFamily::column);
            REQUIRE(plan != nullptr);
            CHECK(plan->proved);
            CHECK(plan->leaves == Leaves::exact);
            CHECK(mends(*plan, actual, *meant.fabric));
        }
    }
}

TEST_CASE("A live stitch off the needle is only set back", "[plan]") {
    const Script meantScript = stockinette(10, 4);
    const Knitting meant = worked(meantScript);
    Knitting actual = worked(meantScript);
    REQUIRE(actual.knitter.drop(onNeedle(*actual.fabric, 5)));
    const std::vector<Plan> plans = planned(meantScript, meant, actual);
    REQUIRE(!plans.empty());
    CHECK(plans.front().family == PlanFamily::column);
    CHECK(plans.front().proved);
    CHECK(mends(plans.front(), actual, *meant.fabric));
}

TEST_CASE("A yarn-over restored from the bar is tighter than one that was made", "[plan]") {
    // Common practice (facts of the trade).
    const Script meantScript = lace(16, 6);
    Script spoiled = meantScript;
    dropStep(spoiled, 5, 3);
    dropStep(spoiled, 6, 1);
    const Knitting meant = worked(meantScript);
    Knitting actual = worked(spoiled);
    const std::vector<Plan> plans = planned(meantScript, meant, actual);
    const Plan* plan = find(plans, PlanFamily::column);
    REQUIRE(plan != nullptr);
    CHECK(plan->proved);
    CHECK(plan->leaves != Leaves::exact);
    CHECK(plan->shortageMm > 0);
    CHECK(mends(*plan, actual, *meant.fabric));
}

TEST_CASE("A yarn-over too many is let go", "[plan]") {
    const Script meantScript = stockinette(12, 6);
    Script spoiled = meantScript;
    auto& steps = spoiled.rows[2].steps;
    steps.insert(steps.begin() + 5, Step{Op::yarnOver});
    for (std::size_t r = 3; r < 6; ++r) spoiled.rows[r].steps.push_back(spoiled.rows[r].steps.front());
    const Knitting meant = worked(meantScript);
    Knitting actual = worked(spoiled);
    const std::vector<Plan> plans = planned(meantScript, meant, actual);
    const Plan* plan = find(plans, PlanFamily::column);
    REQUIRE(plan != nullptr);
    CHECK(plan->proved);
    CHECK(mends(*plan, actual, *meant.fabric));
}

TEST_CASE("Two stitches caught together are parted; the freed column lacks yarn", "[plan]") {
    const Script meantScript = stockinette(12, 5);
    Script spoiled = meantScript;
    swapStep(spoiled, 4, 5, {Op::p2tog});
    dropStep(spoiled, 4, 6);
    dropStep(spoiled, 5, 1);
    const Knitting meant = worked(meantScript);
    Knitting actual = worked(spoiled);
    const std::vector<Plan> plans = planned(meantScript, meant, actual);
    const Plan* plan = find(plans, PlanFamily::column);
    REQUIRE(plan != nullptr);
    CHECK(plan->proved);
    CHECK(plan->shortageMm > 0);
    CHECK(mends(*plan, actual, *meant.fabric));
}

TEST_CASE("A right fabric needs no plan", "[plan]") {
    const Script script = seed(9, 5);
    const Knitting meant = worked(script);
    Knitting actual = worked(script);
    CHECK(plansFor(*meant.fabric, script, actual.knitter).empty());
    CHECK(differencesOf(*meant.fabric, *actual.fabric).empty());
}

TEST_CASE("A wrong move gives the true wrong fabric, and an impossible one changes nothing", "[moves]") {
    const Script script = stockinette(8, 6);
    const Knitting meant = worked(script);
    Knitting actual = worked(script);
    const LoopId loop = onNeedle(*actual.fabric, 4);
    Workplace place(actual.knitter);
    const auto perform = [&](const std::string& line) {
        const auto move = moveFrom(line);
        REQUIRE(move);
        return place.perform(*move);
    };
    const std::string name = std::to_string(loop.value);
    const Itinerary before = itinerary(*actual.fabric);
    CHECK_FALSE(perform("let-run " + name));  // it is still on the needle
    CHECK_FALSE(perform("hook-k rung 1 loop " + name));
    CHECK_FALSE(perform("pin 99999"));
    CHECK(itinerary(*actual.fabric).knot == before.knot);
    CHECK(itinerary(*actual.fabric).measure == before.measure);

    const LoopId foot = actual.fabric->hostsRightToLeft(loop).front();
    REQUIRE(perform("drop " + name));
    REQUIRE(perform("let-run " + name + " 1"));
    const Knitter::State state = actual.knitter.mark();
    const std::string footName = std::to_string(foot.value);
    REQUIRE(perform("hook-k rung 1 loop " + footName + " twist -1"));
    REQUIRE(perform("seat " + std::to_string(actual.fabric->entryCount() - 1)));
    CHECK(knotOf(*actual.fabric) != knotOf(*meant.fabric));  // crossed feet
    actual.knitter.rollBack(state);
    REQUIRE(perform("hook-k rung 1 loop " + footName));
    REQUIRE(perform("seat " + std::to_string(actual.fabric->entryCount() - 1)));
    CHECK(knotOf(*actual.fabric) == knotOf(*meant.fabric));
}

TEST_CASE("Lines that are no moves are refused with a sentence", "[moves]") {
    for (const char* line :
         {"", "   ", "fly 3", "pin", "pin x", "hook-k", "hook-k rung 0 loop 3", "hook-k rung 1", "tink 0",
          "tink -2", "seat 4 beside", "work", "let-run", "stack 4", "turn 3", "hook-p bar x loop 2",
          "pin 4 5", "hook-k rung 1 loop 3 twist"}) {
        const auto move = moveFrom(line);
        INFO(line);
        REQUIRE_FALSE(move);
        CHECK(!move.error().message.empty());
    }
}

TEST_CASE("A row with a make-one in it is taken back: the bar is let fall and lifted anew", "[plan]") {
    // Common practice: when a lifted bar's stitch is undone, the bar stays on the needle until it is let
    // drop.
    Script meantScript = stockinette(12, 4);
    auto& row = meantScript.rows[2].steps;
    row.insert(row.begin() + 6, Step{Op::m1Left});
    meantScript.rows[3].steps.push_back({Op::purl});
    Script spoiled = meantScript;
    swapStep(spoiled, 3, 3, {Op::purl});
    const Knitting meant = worked(meantScript);
    Knitting actual = worked(spoiled);
    const std::vector<Plan> plans = planned(meantScript, meant, actual);
    const Plan* rip = find(plans, PlanFamily::rip);
    REQUIRE(rip != nullptr);
    CHECK(rip->proved);
    CHECK(std::any_of(rip->moves.begin(), rip->moves.end(),
                      [](const PlannedMove& m) { return m.move.kind == MoveKind::drop; }));
    CHECK(mends(*rip, actual, *meant.fabric));
}

TEST_CASE("A hooking move says which strand to take", "[plan]") {
    const Script meantScript = stockinette(10, 6);
    const Knitting meant = worked(meantScript);
    Knitting actual = worked(meantScript);
    const LoopId loop = onNeedle(*actual.fabric, 4);
    REQUIRE(actual.knitter.drop(loop));
    REQUIRE(letRunFrom(*actual.fabric, loop, 2) == 2);
    const std::vector<Plan> plans = planned(meantScript, meant, actual);
    REQUIRE(!plans.empty());
    int hooks = 0;
    for (const PlannedMove& m : plans.front().moves) {
        if (m.move.kind != MoveKind::hook) continue;
        ++hooks;
        CHECK(m.move.rung == 1);
        CHECK(m.words.find("the lowest rung") != std::string::npos);
    }
    CHECK(hooks == 2);
}

namespace {

/// p2, four knits, p2, crossed in rows 3 and 7.
Script rope() {
    Script script;
    script.castOn = 8;
    Step cross{Op::cable};
    cross.over = 2;
    cross.under = 2;
    cross.front = true;
    const Steps plain{{Op::purl}, {Op::purl}, {Op::knit}, {Op::knit},
                      {Op::knit}, {Op::knit}, {Op::purl}, {Op::purl}};
    const Steps crossed{{Op::purl}, {Op::purl}, cross, {Op::purl}, {Op::purl}};
    const Steps back{{Op::knit}, {Op::knit}, {Op::purl}, {Op::purl},
                     {Op::purl}, {Op::purl}, {Op::knit}, {Op::knit}};
    for (int r = 1; r <= 9; ++r) {
        WorkedRow row;
        row.number = r;
        row.facing = r % 2 == 1 ? Facing::right : Facing::wrong;
        row.steps = r % 2 == 0 ? back : r % 4 == 3 ? crossed : plain;
        script.rows.push_back(row);
    }
    return script;
}

}  // namespace

TEST_CASE("A crossing to the wrong side is taken back to its own row, not to the first crossing", "[plan]") {
    const Script meantScript = rope();
    Script spoiled = meantScript;
    spoiled.rows[6].steps[2].front = false;
    const Knitting meant = worked(meantScript);
    Knitting actual = worked(spoiled);
    const std::vector<Plan> plans = planned(meantScript, meant, actual);
    const Plan* rip = find(plans, PlanFamily::rip);
    REQUIRE(rip != nullptr);
    CHECK(rip->proved);
    CHECK(rip->moves.front().move.count == 3);  // rows 9, 8 and 7
    CHECK(mends(*rip, actual, *meant.fabric));
}

TEST_CASE("A run through a crossing is mended by taking back: what hangs between does not keep arms crossed",
          "[plan]") {
    for (int column = 3; column <= 6; ++column) {
        const Script meantScript = rope();
        const Knitting meant = worked(meantScript);
        Knitting actual = worked(meantScript);
        const LoopId loop = onNeedle(*actual.fabric, column);
        REQUIRE(actual.knitter.drop(loop));
        REQUIRE(letRunFrom(*actual.fabric, loop, 5) == 5);
        const std::vector<Plan> plans = planned(meantScript, meant, actual);
        const Plan* rip = find(plans, PlanFamily::rip);
        REQUIRE(rip != nullptr);
        INFO("column " << column << ": " << rip->reason);
        CHECK(rip->proved);
        CHECK(mends(*rip, actual, *meant.fabric));
    }
}
