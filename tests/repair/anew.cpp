// SPDX-License-Identifier: MIT
// Edges, broken yarn, sizes, and what nothing mends: by moves, or begun again.
#include <algorithm>
#include <string>

#include <catch2/catch.hpp>

#include "fabric/itinerary.h"
#include "fault/catalogue.h"
#include "fault/draw.h"
#include "fault/grounds.h"
#include "fault/knit_with.h"
#include "repair/builder.h"
#include "repair/uneven.h"
#include "repair/ways_back.h"
#include "repair/work.h"
#include "sampled.h"

using namespace loopmend;

namespace {

struct Piece {
    Script script;
    FaultyKnitting knitting;
};

Piece pieceWith(StockGround ground, const char* id, bool round = false, std::uint64_t seed = 1) {
    Script script = stockGround(ground, 9, 7, round);
    const Fault* fault = findFault(id);
    REQUIRE(fault != nullptr);
    const auto place = drawPlace(seed, *fault, script, {});
    REQUIRE(place);
    auto k = knitWith(script, {}, {*place}, After::byReading);
    REQUIRE(k);
    script.rows.resize(std::min(script.rows.size(), static_cast<std::size_t>(k->rows)));
    return {std::move(script), std::move(*k)};
}

WaysBack waysOf(Piece& piece) {
    return waysBack(*piece.knitting.meant.fabric, piece.script, piece.knitting.actual.knitter);
}

const WayBack* provedOf(const WaysBack& ways, PlanFamily family) {
    for (const WayBack& way : ways.all) {
        if (way.plan.family == family && way.plan.proved) return &way;
    }
    return nullptr;
}

/// From the text of its moves on the piece as it is read again from its text.
Fabric carriedOut(const Piece& piece, const Plan& plan) {
    Knitting start{std::make_unique<Fabric>(*piece.knitting.actual.fabric), piece.knitting.actual.knitter};
    const Knitter& k = piece.knitting.actual.knitter;
    start.knitter = Knitter(*start.fabric, k.yarn(), k.facing(), k.inTheRound(), k.habit(), k.mirrored());
    Workplace place(start.knitter);
    for (const PlannedMove& m : plan.moves) {
        const auto move = moveFrom(textOf(m.move));
        INFO(textOf(m.move));
        REQUIRE(move);
        CHECK(*move == m.move);
        CHECK_FALSE(m.words.empty());
        REQUIRE(place.perform(*move));
    }
    return std::move(*start.fabric);
}

bool has(const WayBack& way, CraftRepair repair) {
    return std::find(way.repairs.begin(), way.repairs.end(), repair) != way.repairs.end();
}

}  // namespace

TEST_CASE("Turned before the last stitch of the newest row: one comes back, and the row is worked on",
          "[plan]") {
    // Found by the search over single hand moves: taking back whole rows took twice as long.
    const Script script = stockGround(StockGround::garter, 7, 4);
    auto k = knitWith(script, {}, {{"last_left", 4, 1, 0}}, After::byReading);
    REQUIRE(k);
    const std::vector<Plan> plans = plansFor(*k->meant.fabric, script, k->actual.knitter);
    REQUIRE_FALSE(plans.empty());
    CHECK(plans.front().family == PlanFamily::tink);
    CHECK(plans.front().proved);
    CHECK(plans.front().moves.front().move.count == 1);
    CHECK(plans.front().comesUndone.size() == 1);
}

TEST_CASE("An edge stitch of the newest row that fell goes back on the needle before anything is taken back",
          "[plan]") {
    // Found by the search over single hand moves: the needle passes back over it, and it alone is worked.
    const Script script = stockGround(StockGround::garter, 4, 4);
    auto k = knitWith(script, {}, {{"ladder_edge", 4, 4, 0}}, After::byReading);
    REQUIRE(k);
    const std::vector<Plan> plans = plansFor(*k->meant.fabric, script, k->actual.knitter);
    REQUIRE_FALSE(plans.empty());
    const Plan& best = plans.front();
    CHECK(best.family == PlanFamily::tink);
    CHECK(best.proved);
    REQUIRE(best.moves.size() == 4);
    CHECK(best.moves[0].move.kind == MoveKind::seat);
    CHECK(best.moves[1].move.count == 1);
    CHECK(best.moves[2].move.steps.size() == 1);
    const Pace pace;
    CHECK(best.seconds ==
          Approx((pace.seatFactor + pace.tinkFactor + 1) * pace.secondsPerStitch + pace.otherMoveSeconds));
    CHECK(best.comesUndone.empty());
}

TEST_CASE("A bind-off with a hole in it is opened and worked again", "[plan]") {
    // Common practice: unchained from its end, every freed loop onto the needle.
    for (const bool round : {false, true}) {
        Piece piece = pieceWith(StockGround::bound, "bindoff_open", round);
        const WaysBack ways = waysOf(piece);
        const WayBack* rip = provedOf(ways, PlanFamily::rip);
        REQUIRE(rip != nullptr);
        CHECK(has(*rip, CraftRepair::openBindOff));
        CHECK(rip->plan.leaves == Leaves::exact);
        // A stitch unchained takes three seconds, one bound off again the time of a stitch.
        CHECK(rip->plan.seconds >= 8 * (3.0 + 4.0));
        CHECK(knotOf(carriedOut(piece, rip->plan)) == knotOf(*piece.knitting.meant.fabric));
    }
}

TEST_CASE("Stitches picked up wrong are picked up anew", "[plan]") {
    for (const char* id : {"pickup_gap", "pickup_wrong_side"}) {
        Piece piece = pieceWith(StockGround::banded, id);
        const WaysBack ways = waysOf(piece);
        const WayBack* rip = provedOf(ways, PlanFamily::rip);
        INFO(id);
        REQUIRE(rip != nullptr);
        CHECK(has(*rip, CraftRepair::mendPickUp));
        CHECK(knotOf(carriedOut(piece, rip->plan)) == knotOf(*piece.knitting.meant.fabric));
    }
}

TEST_CASE("What broke is joined, and mended like any other; or sewn in", "[plan]") {
    for (const StockGround ground : {StockGround::stockinette, StockGround::rib, StockGround::seed}) {
        Piece piece = pieceWith(ground, "broken_yarn", false, 3);
        const WaysBack ways = waysOf(piece);
        INFO(name(ground));
        const WayBack* sewn = provedOf(ways, PlanFamily::sewIn);
        const WayBack* column = provedOf(ways, PlanFamily::column);
        const WayBack* rip = provedOf(ways, PlanFamily::rip);
        REQUIRE((sewn != nullptr || column != nullptr || rip != nullptr));
        for (const WayBack* way : {sewn, column, rip}) {
            if (way == nullptr) continue;
            CHECK(has(*way, CraftRepair::weaveEnd));
            CHECK(way->plan.leaves >= Leaves::visible);
            CHECK(knotOf(carriedOut(piece, way->plan)) == knotOf(*piece.knitting.meant.fabric));
        }
    }
    Piece piece = pieceWith(StockGround::rib, "broken_yarn", false, 3);
    CHECK(provedOf(waysOf(piece), PlanFamily::sewIn) != nullptr);
}

TEST_CASE("Rows of another size are worked again as the yarn wants it", "[plan]") {
    // The knot is right, so it is the lengths that show that it was worth it.
    for (const auto& [ground, id, round] : {std::tuple{StockGround::stockinette, "needle_size", false},
                                            std::tuple{StockGround::bound, "edge_tension", false},
                                            std::tuple{StockGround::bound, "edge_tension", true},
                                            std::tuple{StockGround::stranded, "float_tight", false}}) {
        Piece piece = pieceWith(ground, id, round);
        const Fabric& meant = *piece.knitting.meant.fabric;
        CHECK(knotOf(meant) == knotOf(*piece.knitting.actual.fabric));
        const WaysBack ways = waysOf(piece);
        INFO(id << " on " << name(ground));
        const WayBack* rip = provedOf(ways, PlanFamily::rip);
        REQUIRE(rip != nullptr);
        if (ground == StockGround::bound) CHECK(has(*rip, CraftRepair::bindOffAgain));
        CHECK_FALSE(rip->plan.cautions.empty());
        CHECK(provedOf(ways, PlanFamily::leave) == nullptr);
        if (ground == StockGround::stranded) continue;  // two balls are laid out
        const Fabric after = carriedOut(piece, rip->plan);
        CHECK(knotOf(after) == knotOf(meant));
        CHECK(unevenLoops(meant, after, pairUp(meant, after)).empty());
    }
}

TEST_CASE("Where only lengths differ there are ways as well, and each settles what it says", "[plan]") {
    int held = 0;
    for (const Fault* fault : catalogue()) {
        if (fault->family != Family::lengths) continue;
        for (const StockGround ground : {StockGround::stockinette, StockGround::rib, StockGround::bound,
                                         StockGround::joined, StockGround::stranded}) {
            const bool round = fault->id == "needle_ladder";
            if (round && !goesRound(ground)) continue;
            const Script script = stockGround(ground, 18, 9, round);
            const auto place = drawPlace(2, *fault, script, {});
            if (!place) continue;
            auto k = knitWith(script, {}, {*place}, After::byReading);
            REQUIRE(k);
            Piece piece{script, std::move(*k)};
            piece.knitting.actual.knitter.setTension({});  // she has laid the wrong needle aside
            const Fabric& meant = *piece.knitting.meant.fabric;
            const Fabric& actual = *piece.knitting.actual.fabric;
            INFO(text(*place) << " on " << name(ground));
            REQUIRE(knotOf(meant) == knotOf(actual));
            CHECK_FALSE(nothingToMend(meant, actual));
            const std::size_t before = unevenIn(meant, actual, pairUp(meant, actual)).size();
            const WaysBack ways = waysOf(piece);
            CHECK(std::any_of(ways.all.begin(), ways.all.end(), [](const WayBack& w) {
                return w.plan.proved && w.plan.family != PlanFamily::leave;
            }));
            for (const WayBack& way : ways.all) {
                INFO(nameOf(way.plan.family) << ": " << way.after);
                CHECK_FALSE(way.name.empty());
                CHECK_FALSE(way.after.empty());
                if (way.plan.family == PlanFamily::leave || way.plan.family == PlanFamily::wash) continue;
                CHECK(way.plan.seconds > 0);
                const auto after =
                    fabricAfter(piece.knitting.actual.knitter, way.plan, way.plan.moves.size());
                REQUIRE(after);
                const std::size_t left = unevenIn(meant, *after, pairUp(meant, *after)).size();
                CHECK(left * 2 <= before);
                CHECK((way.plan.leaves == Leaves::exact) == (left == 0));
                CHECK((way.plan.leaves == Leaves::exact) == nothingToMend(meant, *after));
            }
            ++held;
        }
    }
    CHECK(held > 10);
}

TEST_CASE("A little unevenness may be left to water, another size may not", "[plan]") {
    // Common practice: small steps in size even out in the wash, whole rows of another size do not.
    const Script script = stockGround(StockGround::stockinette, 14, 8);
    auto k = knit(script);
    REQUIRE(k);
    Knitting uneven{std::make_unique<Fabric>(*k->fabric), k->knitter};
    uneven.knitter = Knitter(*uneven.fabric, k->knitter.yarn(), k->knitter.facing(), false,
                             k->knitter.habit(), k->knitter.mirrored());
    const std::vector<LoopId> row = StitchPlaces(*uneven.fabric).rows()[4];
    REQUIRE(uneven.fabric->ease(row[5], row[6], (*uneven.fabric)[row[5]].um / 4));
    const auto washIn = [](const WaysBack& ways) {
        return std::find_if(ways.all.begin(), ways.all.end(),
                            [](const WayBack& w) { return w.plan.family == PlanFamily::wash; });
    };
    const WaysBack ways = waysBack(*k->fabric, script, uneven.knitter);
    const auto wash = washIn(ways);
    REQUIRE(wash != ways.all.end());
    CHECK(wash->plan.proved);
    CHECK(wash->plan.leaves == Leaves::tight);
    CHECK(wash->plan.moves.empty());
    CHECK(wash->plan.shortageMm == Approx((*k->fabric)[row[5]].um / 4 / 1000.0));
    CHECK(has(*wash, CraftRepair::wash));
    CHECK_FALSE(wash->plan.cautions.empty());
    // It is not what is done first where easing settles it.
    REQUIRE(ways.best);
    CHECK(ways.all[*ways.best].plan.family == PlanFamily::ease);

    Piece other = pieceWith(StockGround::stockinette, "needle_size");
    const WaysBack no = waysOf(other);
    CHECK(washIn(no) == no.all.end());
    const Script wide = stockGround(StockGround::stockinette, 18, 12);
    auto snagged = knitWith(wide, {}, {{"snag", 6, 9, 0}}, After::byReading);
    REQUIRE(snagged);
    const WaysBack never = waysBack(*snagged->meant.fabric, wide, snagged->actual.knitter);
    CHECK(washIn(never) == never.all.end());
}

TEST_CASE("What is wrong from the cast-on is begun again", "[plan]") {
    // Common practice: a wrong number cast on, a twist at the join.
    for (const auto& [ground, id, round] :
         {std::tuple{StockGround::stockinette, "cast_on_count", false},
          std::tuple{StockGround::shaped, "cast_on_count", false},
          std::tuple{StockGround::rib, "cast_on_count", true},
          std::tuple{StockGround::stockinette, "joined_round_twisted", true}}) {
        Piece piece = pieceWith(ground, id, round);
        const WaysBack ways = waysOf(piece);
        INFO(id << " on " << name(ground));
        const WayBack* again = provedOf(ways, PlanFamily::startAgain);
        REQUIRE(again != nullptr);
        CHECK(has(*again, CraftRepair::startAgain));
        CHECK_FALSE(again->plan.cautions.empty());
        CHECK(provedOf(ways, PlanFamily::rip) == nullptr);
        CHECK(knotOf(carriedOut(piece, again->plan)) == knotOf(*piece.knitting.meant.fabric));
    }
}

TEST_CASE("Beginning again is offered for what nothing else mends, and can be taken back", "[plan][moves]") {
    Piece piece = pieceWith(StockGround::stockinette, "wrong_kp");
    CHECK(provedOf(waysOf(piece), PlanFamily::startAgain) == nullptr);

    Work work(std::move(piece.knitting.actual));
    const std::string before = knotOf(work.fabric());
    for (const char* line : {"cast-on 5", "cast-on 7 backward", "cast-on 4 knitted", "cast-on 5 wrong"}) {
        const auto move = moveFrom(line);
        REQUIRE(move);
        CHECK(textOf(*move) == line);
        REQUIRE(work.perform(*move));
        CHECK(work.knitter().aheadCount() == move->count);
        CHECK(work.fabric().yarnCount() == 1);
        CHECK((work.knitter().facing() == Side::wrong) == (move->side == Side::wrong));
        REQUIRE(work.undo());
        CHECK(knotOf(work.fabric()) == before);
    }
    for (const char* line : {"cast-on", "cast-on 0", "cast-on -3", "cast-on 5 sideways", "cast-on 5 twist",
                             "cast-on 5 twist 99"})
        CHECK_FALSE(moveFrom(line));
}

namespace {

/// Every n-th of the mistakes on every ground.
void allHaveAWay(int every, bool round) {
    int n = 0;
    int held = 0;
    for (const Fault* fault : catalogue()) {
        for (int g = 0; g < kAllStockGrounds; ++g) {
            const auto ground = static_cast<StockGround>(g);
            if (n++ % every != 3 % every || (round && !goesRound(ground))) continue;
            const Script script = stockGround(ground, 9, 7, round);
            const auto place = drawPlace(static_cast<std::uint64_t>(n), *fault, script, {});
            if (!place) continue;
            auto k = knitWith(script, {}, {*place}, After::byReading);
            if (!k) continue;
            Script done = script;
            done.rows.resize(std::min(done.rows.size(), static_cast<std::size_t>(k->rows)));
            const WaysBack ways = waysBack(*k->meant.fabric, done, k->actual.knitter);
            INFO(text(*place) << " on " << name(ground));
            CHECK(std::any_of(ways.all.begin(), ways.all.end(),
                              [](const WayBack& way) { return way.plan.proved; }));
            ++held;
        }
    }
    CHECK(held > 0);
}

}  // namespace

TEST_CASE("Every mistake has a proved way back, whatever it stands on", "[plan]") {
    allHaveAWay(isSampled(1) ? 29 : 232, false);
}

TEST_CASE("Every mistake has a proved way back, all of them", "[.all]") {
    for (const bool round : {false, true}) allHaveAWay(1, round);
}

TEST_CASE("What was begun with the tail is taken back and worked with the end that runs to the ball",
          "[plan]") {
    // Common practice: take the stitches back, and take up the right end.
    for (const After after : {After::rowEnd, After::byReading}) {
        for (const bool round : {false, true}) {
            Script script = stockGround(StockGround::garter, 9, 5, round);
            auto k = knitWith(script, {}, {{"tail_used", 1, 1, 0}}, after);
            REQUIRE(k);
            script.rows.resize(static_cast<std::size_t>(k->rows));
            Piece piece{std::move(script), std::move(*k)};
            const WaysBack ways = waysOf(piece);
            INFO(name(after) << (round ? " in the round" : ""));
            for (const PlanFamily family : {PlanFamily::tink, PlanFamily::rip}) {
                const WayBack* const way = provedOf(ways, family);
                // Stitch by stitch only in the row in hand.
                REQUIRE((way != nullptr) == (family == PlanFamily::rip || after == After::rowEnd));
                if (way == nullptr) continue;
                CHECK(way->plan.leaves == Leaves::exact);
                REQUIRE_FALSE(way->plan.cautions.empty());
                const Caution& which = way->plan.cautions.back();
                CHECK(which.words.find("the yarn that runs to the ball") != std::string::npos);
                CHECK(which.beforeMove == 1);
                CHECK(knotOf(carriedOut(piece, way->plan)) == knotOf(*piece.knitting.meant.fabric));
            }
        }
    }
}
