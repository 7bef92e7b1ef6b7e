// SPDX-License-Identifier: MIT
// From whatever state she has made: random knitting, one to three mistakes, random attempts, right and wrong.
// A way that is proved exists whenever taking back could do it, and none that is offered is dearer than that.
#include <algorithm>
#include <catch2/catch.hpp>

#include "fabric/hands.h"
#include "fabric/itinerary.h"
#include "fault/catalogue.h"
#include "fault/draw.h"
#include "fault/grounds.h"
#include "fault/knit_with.h"
#include "repair/ways_back.h"
#include "repair/workplace.h"
#include "sampled.h"
#include "scenes.h"

using namespace loopmend;

namespace {

/// Some move that hands could make without thinking.
Move anyMove(Seeded& dice, const Fabric& f) {
    std::vector<LoopId> live;
    for (std::int32_t i = 0; i < f.entryCount(); ++i) {
        const LoopId l{i};
        if (f.has(l) && f.isLoop(l) && f.isLive(l) && !f.isNothing(l)) live.push_back(l);
    }
    Move move;
    if (live.empty()) return move;
    const LoopId loop = live[static_cast<std::size_t>(dice.below(static_cast<int>(live.size())))];
    move.loops = {loop};
    switch (dice.below(7)) {
        case 0: move.kind = MoveKind::drop; break;
        case 1:
            move.kind = MoveKind::letRun;
            move.count = 1 + dice.below(3);
            break;
        case 2: move.kind = MoveKind::pin; break;
        case 3: move.kind = MoveKind::seat; break;
        case 4:
            move.kind = MoveKind::hook;
            move.rung = 1 + dice.below(2);
            move.knit = dice.below(2) == 0;
            if (dice.below(4) == 0) move.twists = {static_cast<std::int8_t>(dice.below(2) == 0 ? 1 : -1)};
            break;
        case 5:
            move.kind = MoveKind::tink;
            move.loops.clear();
            move.count = 1 + dice.below(4);
            break;
        default:
            move.kind = MoveKind::liftBar;
            move.strand = loop;
            move.loops.clear();
            break;
    }
    return move;
}

/// Whether taking back so many rows and knitting them again gives what was meant: tried with no planner, and
/// with nothing set right on the way but what has fallen off the needle.
bool canBeRipped(const Fabric& meant, const Script& script, Knitter& knitter) {
    const std::string knot = knotOf(meant);
    const int rows = static_cast<int>(script.rows.size());
    const Knitter::State before = knitter.mark();
    for (int back = 1; back <= rows + 1; ++back) {
        Workplace place(knitter);
        Move rip;
        rip.kind = MoveKind::rip;
        rip.count = back;
        bool good = place.perform(rip).has_value();
        const int from = rows - back + 1 + (knitter.rowBegun() ? 1 : 0);
        for (std::int32_t i = 0; good && i < knitter.fabric().entryCount(); ++i) {
            const LoopId l{i};
            const Fabric& f = knitter.fabric();
            if (!f.has(l) || !f.isLoop(l) || !f.isLoose(l) || f.isNothing(l)) continue;
            Move seat;
            seat.kind = MoveKind::seat;
            seat.loops = {l};
            good = place.perform(seat).has_value();
        }
        for (int r = std::max(1, from); good && r <= rows; ++r) {
            const WorkedRow& row = script.rows[static_cast<std::size_t>(r - 1)];
            good = workRow(knitter, row).has_value();
            if (good) endRow(knitter, row);
        }
        good = good && knotOf(knitter.fabric()) == knot;
        knitter.rollBack(before);
        if (good) return true;
    }
    return false;
}

struct Counted {
    int states = 0;
    int ripped = 0;   ///< taking back could do it
    int mended = 0;   ///< a proved way was found
    int quicker = 0;  ///< and was quicker
    int untaken = 0;  ///< no way at all
};

/// grounds: of so many, in their order.
void tryOne(std::uint64_t seed, int grounds, Counted& counted) {
    Seeded dice(seed);
    const auto ground = static_cast<StockGround>(dice.below(grounds));
    const int rows = 5 + dice.below(5);
    const int stitches = 9 + dice.below(8);
    const bool round = dice.below(5) == 0 && (grounds == kStockGrounds || goesRound(ground));
    const Script script = stockGround(ground, stitches, rows, round);
    const auto& faults = catalogue();
    std::vector<FaultPlace> places;
    const int many = 1 + dice.below(3);
    for (int i = 0; i < 12 && static_cast<int>(places.size()) < many; ++i) {
        const Fault* fault = faults[static_cast<std::size_t>(dice.below(static_cast<int>(faults.size())))];
        if (!fault->inLessons || fault->castsOn != nullptr) continue;
        Wanted wanted;
        wanted.rowFrom = 2;
        if (const auto place = drawPlace(dice.next(), *fault, script, {}, wanted)) places.push_back(*place);
    }
    std::sort(places.begin(), places.end(),
              [](const FaultPlace& x, const FaultPlace& y) { return x.row < y.row; });
    auto k = knitWith(script, {}, places, dice.below(2) == 0 ? After::byCount : After::byReading);
    if (!k) return;
    Script done = script;
    done.rows.resize(std::min(done.rows.size(), static_cast<std::size_t>(k->rows)));
    Workplace place(k->actual.knitter);
    // An attempt: part of a plan, then something else.
    for (int attempt = 0; attempt < 3; ++attempt) {
        const std::vector<Plan> plans = plansFor(*k->meant.fabric, done, k->actual.knitter);
        const bool same = knotOf(*k->actual.fabric) == knotOf(*k->meant.fabric);
        if (same) {
            CHECK(plans.empty());
        } else {
            ++counted.states;
            const auto rip = std::find_if(plans.begin(), plans.end(),
                                          [](const Plan& p) { return p.family == PlanFamily::rip; });
            const auto tink = std::find_if(plans.begin(), plans.end(),
                                           [](const Plan& p) { return p.family == PlanFamily::tink; });
            const bool canRip = canBeRipped(*k->meant.fabric, done, k->actual.knitter);
            counted.ripped += canRip ? 1 : 0;
            INFO(seed << ", attempt " << attempt << ", " << places.size() << " mistakes on " << name(ground));
            if (canRip) CHECK_FALSE(plans.empty());
            counted.mended += plans.empty() ? 0 : 1;
            counted.untaken += plans.empty() ? 1 : 0;
            for (const Plan& p : plans) CHECK(p.proved);
            if (rip != plans.end()) CHECK(plans.front().seconds <= rip->seconds);
            if (tink != plans.end()) CHECK(plans.front().seconds <= tink->seconds);
            counted.quicker += rip != plans.end() && plans.front().seconds < rip->seconds ? 1 : 0;
            if (!plans.empty() && dice.below(3) != 0) {
                const Plan& plan =
                    plans[static_cast<std::size_t>(dice.below(static_cast<int>(plans.size())))];
                const auto moves = dice.below(static_cast<int>(plan.moves.size()) + 1);
                for (int i = 0; i < moves; ++i) {
                    INFO(seed << ": " << textOf(plan.moves[static_cast<std::size_t>(i)].move));
                    REQUIRE(place.perform(plan.moves[static_cast<std::size_t>(i)].move));
                }
            }
        }
        for (int i = dice.below(3); i > 0; --i) (void)place.perform(anyMove(dice, *k->actual.fabric));
    }
}

}  // namespace

TEST_CASE("From any state a way is found, never dearer than taking back", "[plan][random]") {
    Counted counted;
    for (int seed = 1; seed <= 120; ++seed) {
        if (isSampled(seed)) tryOne(static_cast<std::uint64_t>(seed), kStockGrounds, counted);
    }
    INFO(counted.states << " states, " << counted.ripped << " can be taken back, " << counted.mended
                        << " mended, " << counted.quicker << " quicker than that, " << counted.untaken
                        << " without a way");
    CHECK(counted.mended * 10 >= counted.states * 9);
    CHECK(counted.states > 10);
}

TEST_CASE("Where a chain or a caught float miscounts the rows they are taken back as hands count them",
          "[plan][random]") {
    Counted counted;
    for (const std::uint64_t seed : {1383, 2787, 2898, 3477}) tryOne(seed, kAllStockGrounds, counted);
    CHECK(counted.ripped >= 4);
    CHECK(counted.mended >= counted.ripped);
}

TEST_CASE("From any state a way is found, many", "[.all]") {
    Counted counted;
    for (std::uint64_t seed = 1000; seed <= 4000; ++seed) tryOne(seed, kAllStockGrounds, counted);
    WARN(counted.states << " states, " << counted.ripped << " can be taken back, " << counted.mended
                        << " mended, " << counted.quicker << " quicker than that, " << counted.untaken
                        << " without a way");
    CHECK(counted.mended >= counted.ripped);
}
