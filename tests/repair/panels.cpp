// SPDX-License-Identifier: MIT
// Cables crossed otherwise than meant, from either arm; a motif worked up again in place.
#include <algorithm>
#include <catch2/catch.hpp>
#include <map>
#include <string>

#include <fmt/format.h>

#include "fabric/hands.h"
#include "fabric/itinerary.h"
#include "fault/grounds.h"
#include "fault/knit_with.h"
#include "repair/ways_back.h"
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

int hooks(const Plan& plan) {
    return static_cast<int>(std::count_if(plan.moves.begin(), plan.moves.end(), [](const PlannedMove& m) {
        return m.move.kind == MoveKind::hook;
    }));
}

bool carriesOut(const Plan& plan, Knitting& actual, const Fabric& meant) {
    const Knitter::State before = actual.knitter.mark();
    Workplace place(actual.knitter);
    bool done = true;
    for (const PlannedMove& m : plan.moves) {
        const auto read = moveFrom(textOf(m.move));
        done = done && read && *read == m.move && place.perform(*read).has_value();
    }
    done = done && knotOf(*actual.fabric) == knotOf(meant);
    actual.knitter.rollBack(before);
    return done;
}

}  // namespace

TEST_CASE("A rope crossed to the wrong side is crossed again by one arm", "[plan]") {
    // Common practice: releasing one arm alone is half the work.
    const Script script = stockGround(StockGround::cables, 16, 12);
    int tried = 0;
    for (int row = 1; row <= 12; ++row) {
        for (int stitch = 1; stitch <= 16; ++stitch) {
            auto k = knitWith(script, {}, {{"miscrossed", row, stitch, 0}}, After::byReading);
            if (!k) continue;
            ++tried;
            INFO(row << "," << stitch);
            const std::vector<Plan> plans = plansFor(*k->meant.fabric, script, k->actual.knitter);
            const Plan* column = find(plans, PlanFamily::column);
            REQUIRE(column != nullptr);
            CHECK(column->proved);
            CHECK(column->leaves == Leaves::exact);
            CHECK(hooks(*column) == 2 * (12 - row + 1));  // two of the four columns
            CHECK(carriesOut(*column, k->actual, *k->meant.fabric));
        }
    }
    CHECK(tried > 0);
}

TEST_CASE("A run through a rope is mended by its column; a crossing that is not there, by taking back",
          "[plan]") {
    const Script script = stockGround(StockGround::cables, 16, 10);
    int tried = 0;
    int mended = 0;
    std::map<std::string, std::pair<int, int>> tally;
    for (const char* id : {"cross_missed", "cross_off_by_one", "arm_turned", "ladder_cable"}) {
        for (int row = 1; row <= 10; ++row) {
            for (int stitch = 1; stitch <= 16; ++stitch) {
                auto k = knitWith(script, {}, {{id, row, stitch, 0}}, After::byReading);
                if (!k || knotOf(*k->actual.fabric) == knotOf(*k->meant.fabric)) continue;
                ++tried;
                const std::vector<Plan> plans = plansFor(*k->meant.fabric, script, k->actual.knitter);
                const Plan* column = find(plans, PlanFamily::column);
                tally[id].first += column == nullptr ? 0 : 1;
                ++tally[id].second;
                if (std::string(id) != "ladder_cable") CHECK(find(plans, PlanFamily::rip) != nullptr);
                if (column == nullptr) continue;
                ++mended;
                CHECK(carriesOut(*column, k->actual, *k->meant.fabric));
            }
        }
    }
    std::string told;
    for (const auto& [id, counts] : tally)
        told += fmt::format("{}: {} of {}\n", id, counts.first, counts.second);
    INFO(told);
    CHECK(tried > 8);
    CHECK(tally["ladder_cable"].first == tally["ladder_cable"].second);
    // Known: where stitches stand in another order than meant, the strands above them lie in the order of the
    // old columns, and no hand move lays them anew. Rows are taken back for that.
    CHECK(mended >= tally["ladder_cable"].first);
}

TEST_CASE("A motif of 13 columns and 24 rows is mended in place, without being told", "[plan]") {
    // Common practice: one real case, about six hours of knitting the width again otherwise.
    const int stitches = 181;
    const int rows = 28;
    Script meantScript = stockinette(stitches, rows);
    Script spoiled = meantScript;
    for (int r = 3; r <= 26; ++r) {
        WorkedRow& meant = meantScript.rows[static_cast<std::size_t>(r - 1)];
        WorkedRow& wrong = spoiled.rows[static_cast<std::size_t>(r - 1)];
        for (int c = 84; c < 97; ++c) {
            // Blocks of knit and purl, their rows out by two: a chart read from the wrong row.
            const auto i = static_cast<std::size_t>(r % 2 == 1 ? c : stitches - 1 - c);
            const auto purlOnRight = [&](int row) { return ((row / 4) + (c / 3)) % 2 == 0; };
            const bool knitNow = r % 2 == 1;
            meant.steps[i] = {purlOnRight(r) == knitNow ? Op::purl : Op::knit};
            wrong.steps[i] = {purlOnRight(r + 2) == knitNow ? Op::purl : Op::knit};
        }
    }
    const Knitting meant = worked(meantScript);
    Knitting actual = worked(spoiled);
    const WaysBack ways = waysBack(*meant.fabric, meantScript, actual.knitter);
    std::string listed;
    for (const WayBack& w : ways.all) {
        listed +=
            fmt::format("{}: {:.0f} s, risk {:.2f}, cost {:.0f}, {}, proved {}\n", nameOf(w.plan.family),
                        w.plan.seconds, w.plan.risk, w.cost, nameOf(w.plan.leaves), w.plan.proved);
    }
    for (const WaysBack::Refused& r : ways.refused)
        listed += fmt::format("{}: {}\n", nameOf(r.family), r.why);
    INFO(listed);
    REQUIRE(ways.best);
    const Plan& best = ways.all[*ways.best].plan;
    CHECK(best.family == PlanFamily::block);
    CHECK(best.proved);
    CHECK(best.leaves == Leaves::exact);
    const auto rip = std::find_if(ways.all.begin(), ways.all.end(),
                                  [](const WayBack& w) { return w.plan.family == PlanFamily::rip; });
    REQUIRE(rip != ways.all.end());
    CHECK(rip->plan.seconds > 3 * best.seconds);
    CHECK(best.seconds < 2.5 * 3600);
    CHECK(carriesOut(best, actual, *meant.fabric));
}

TEST_CASE("A thread first makes a rip gentler", "[plan]") {
    const Script script = stockGround(StockGround::eyelets, 20, 14);
    Script spoiled = script;
    for (Step& step : spoiled.rows[7].steps) {
        if (step.op == Op::purl) step.op = Op::knit;  // a whole row of the wrong stitch
    }
    const Knitting meant = worked(script);
    Knitting actual = worked(spoiled);
    const WaysBack ways = waysBack(*meant.fabric, script, actual.knitter);
    const auto of = [&](PlanFamily family) {
        return std::find_if(ways.all.begin(), ways.all.end(),
                            [&](const WayBack& w) { return w.plan.family == family; });
    };
    const auto rip = of(PlanFamily::rip);
    const auto threaded = of(PlanFamily::lifelineFirst);
    for (const WaysBack::Refused& r : ways.refused) UNSCOPED_INFO(nameOf(r.family) << " refused: " << r.why);
    REQUIRE(rip != ways.all.end());
    REQUIRE(threaded != ways.all.end());
    CHECK(threaded->plan.proved);
    CHECK(threaded->plan.risk < rip->plan.risk);
    CHECK(carriesOut(threaded->plan, actual, *meant.fabric));
}
