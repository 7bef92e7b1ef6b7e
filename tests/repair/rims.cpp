// SPDX-License-Identifier: MIT
// What has to be held before anything is let go, and how much yarn there is for what is hooked up.
#include <algorithm>
#include <catch2/catch.hpp>

#include "fabric/hands.h"
#include "fabric/itinerary.h"
#include "repair/plan.h"
#include "repair/ways_back.h"
#include "repair/workplace.h"
#include "scenes.h"

using namespace loopmend;
using namespace loopmend::scenes;

namespace {

/// The stitch at a column was off the needle for the last rows: its strands go by, bars only.
struct LeftBehind {
    Knitting meant;
    Knitting actual;
    Script script;
};
LeftBehind leftBehind(int stitches, int column, int rows) {
    Script script = stockinette(stitches, 6 + rows);
    Script before = script;
    before.rows.resize(6);
    Knitting meant = worked(script);
    Knitting actual = worked(before);
    const LoopId loop = onNeedle(*actual.fabric, column);
    REQUIRE(actual.knitter.drop(loop));
    for (int r = 7; r <= 6 + rows; ++r) {
        WorkedRow row = script.rows[static_cast<std::size_t>(r - 1)];
        row.steps.pop_back();
        REQUIRE(workRow(actual.knitter, row));
        endRow(actual.knitter, row);
    }
    return {std::move(meant), std::move(actual), std::move(script)};
}

const Plan* columnOf(const std::vector<Plan>& plans) {
    for (const Plan& p : plans) {
        if (p.family == PlanFamily::column) return &p;
    }
    return nullptr;
}

}  // namespace

TEST_CASE("With the rule of the rim switched off, the fabric runs", "[plan]") {
    // Common practice: secure the right stitch first, then let the wrong one go.
    const Script meantScript = stockinette(12, 9);
    Script spoiled = meantScript;
    spoiled.rows[5].steps[4] = {Op::knit};
    const Knitting meant = worked(meantScript);
    Knitting actual = worked(spoiled);
    PlanAsk ask;
    ask.all = true;
    const std::vector<Plan> held = plansFor(*meant.fabric, meantScript, actual.knitter, ask);
    const Plan* good = columnOf(held);
    REQUIRE(good != nullptr);
    CHECK(good->proved);
    REQUIRE(good->needsOnTool.size() == 1);
    CHECK(good->moves.front().move.kind == MoveKind::pin);
    CHECK(good->moves.front().move.loops == good->needsOnTool);
    CHECK(good->comesUndone.size() == 4);  // the wrong stitch and the three above it

    ask.holdRims = false;
    const std::vector<Plan> bare = plansFor(*meant.fabric, meantScript, actual.knitter, ask);
    const Plan* bad = columnOf(bare);
    REQUIRE(bad != nullptr);
    CHECK_FALSE(bad->proved);
    CHECK_FALSE(bad->reason.empty());
    // The stitch that should have been held is gone, and what was right below it.
    const Knitter::State before = actual.knitter.mark();
    Workplace place(actual.knitter);
    int undone = 0;
    for (const PlannedMove& m : bad->moves) {
        if (m.move.kind == MoveKind::hook) break;
        REQUIRE(place.perform(m.move));
    }
    CHECK_FALSE(actual.fabric->has(good->needsOnTool.front()));
    for (std::int32_t i = 0; i < actual.fabric->entryCount(); ++i)
        undone += actual.fabric->has(LoopId{i}) ? 0 : 1;
    CHECK(undone > 4);
    actual.knitter.rollBack(before);
}

TEST_CASE("Short rungs: one to three go, four will show, six find no yarn; long ones always do", "[plan]") {
    // Common practice: one or two short rungs are fine, three pass with easing, more are for ripping back.
    struct Row {
        int rungs;
        std::vector<Leaves> leaves;  ///< none: not possible
    };
    for (const Row& row : {Row{1, {Leaves::exact, Leaves::tight}}, Row{2, {Leaves::tight}},
                           Row{3, {Leaves::tight}}, Row{4, {Leaves::visible}}, Row{6, {}}}) {
        LeftBehind k = leftBehind(20, 10, row.rungs);
        PlanAsk ask;
        ask.all = true;
        const std::vector<Plan> plans = plansFor(*k.meant.fabric, k.script, k.actual.knitter, ask);
        const Plan* plan = columnOf(plans);
        REQUIRE(plan != nullptr);
        INFO(row.rungs << ": " << nameOf(plan->leaves) << ", " << plan->shortageMm << " mm, "
                       << plan->reason);
        CHECK(plan->proved == !row.leaves.empty());
        if (row.leaves.empty()) {
            CHECK(plan->reason.find("yarn") != std::string::npos);
        } else {
            CHECK(std::find(row.leaves.begin(), row.leaves.end(), plan->leaves) != row.leaves.end());
            if (plan->leaves != Leaves::exact) CHECK(plan->shortageMm > 0);
        }
    }
    for (const int rungs : {1, 2, 3, 4, 6, 10}) {
        const Script script = stockinette(20, 12);
        const Knitting meant = worked(script);
        Knitting actual = worked(script);
        const LoopId loop = onNeedle(*actual.fabric, 10);
        REQUIRE(actual.knitter.drop(loop));
        CHECK(letRunFrom(*actual.fabric, loop, rungs) == rungs);
        const std::vector<Plan> plans = plansFor(*meant.fabric, script, actual.knitter);
        const Plan* plan = columnOf(plans);
        REQUIRE(plan != nullptr);
        CHECK(plan->proved);
        CHECK(plan->leaves == Leaves::exact);
        CHECK(plan->shortageMm == 0);
    }
}

TEST_CASE("Her own pace makes plans longer or shorter, and is drawn from her attempts", "[plan]") {
    const auto read = Pace::from("# measured on Tuesday\nseconds-per-stitch 2\nhook 3\n");
    REQUIRE(read);
    CHECK(read->secondsPerStitch == 2);
    CHECK(read->hookFactor == 3);
    CHECK(read->tinkFactor == Pace{}.tinkFactor);
    const auto again = Pace::from(read->text());
    REQUIRE(again);
    CHECK(again->text() == read->text());
    for (const char* bad : {"hook", "hook x", "hook 0", "hook -2", "hock 3", "hook 3 4"}) {
        INFO(bad);
        const auto refused = Pace::from(bad);
        REQUIRE_FALSE(refused);
        CHECK(refused.error().find("line 1") == 0);
    }
    const Pace usual;
    CHECK(usual.calibrated({}).secondsPerStitch == 4);
    CHECK(usual.calibrated({{100, 50}}).secondsPerStitch == Approx(4 * 0.875));  // one attempt tells little
    CHECK(usual.calibrated(std::vector<Pace::Attempted>(97, {100, 50})).secondsPerStitch ==
          Approx(4 * 0.515));
    CHECK(usual.calibrated({{10, 4000}, {0, 3}}).secondsPerStitch == 4);  // she went away
}
