// SPDX-License-Identifier: MIT
//
// Stitches that fall: what is left of them in the cloth.
#include <catch2/catch.hpp>

#include "fabric/hands.h"
#include "fabric/itinerary.h"
#include "fabric/rows.h"
#include "fault/scenes.h"

namespace loopmend {
namespace {

struct Bare {
    int longRungs = 0;
    int shortRungs = 0;
    friend bool operator==(const Bare& a, const Bare& b) {
        return a.longRungs == b.longRungs && a.shortRungs == b.shortRungs;
    }
};

/// The rungs above the only loose loop.
Bare bareAbove(const Fabric& f) {
    const std::vector<LoopId> loose = looseLoops(f);
    REQUIRE(loose.size() == 1);
    Bare bare;
    for (const PassId rung : rungs(f, loose[0])) (isLongRung(f, rung) ? bare.longRungs : bare.shortRungs)++;
    return bare;
}

}  // namespace

TEST_CASE("a run through n rows leaves n long rungs; left behind for n rows, n short ones") {
    for (const StockGround ground :
         {StockGround::stockinette, StockGround::garter, StockGround::rib, StockGround::seed}) {
        for (const bool round : {false, true}) {
            const Script script = stockGround(ground, 13, 8, round);
            for (int n = 1; n <= 5; ++n) {
                INFO(name(ground) << (round ? " round " : " flat ") << n);
                const int row = 9 - n;
                FaultPlace run;
                for (const char* id : {"ladder_stockinette", "ladder_garter", "ladder_rib"}) {
                    if (knitWith(script, {}, {{id, row, 5, 0}}, After::byCount)) run = {id, row, 5, 0};
                }
                REQUIRE_FALSE(run.id.empty());
                const FaultyKnitting ran = spoiled(script, {run}, After::byReading);
                CHECK(bareAbove(*ran.actual.fabric) == Bare{n, 0});
                const FaultyKnitting left =
                    spoiled(script, {{"drop_left_behind", row, 5, 0}}, After::byReading);
                CHECK(bareAbove(*left.actual.fabric) == Bare{0, n});
                // The same knot; the yarn tells them apart.
                CHECK(knotOf(*ran.actual.fabric) == knotOf(*left.actual.fabric));
                CHECK(itinerary(*ran.actual.fabric).measure != itinerary(*left.actual.fabric).measure);
                CHECK(ran.actual.fabric->totalUm() == ran.meant.fabric->totalUm());
                CHECK(left.actual.fabric->totalUm() < left.meant.fabric->totalUm());
            }
        }
    }
}

TEST_CASE("a stitch that ran and was then left behind has long rungs below and short ones above") {
    const Script script = stockGround(StockGround::stockinette, 11, 9);
    const FaultyKnitting k = spoiled(script, {{"ladder_stockinette", 3, 6, 3}}, After::byReading);
    CHECK(bareAbove(*k.actual.fabric) == Bare{3, 4});
    const std::vector<PassId> all = rungs(*k.actual.fabric, looseLoops(*k.actual.fabric)[0]);
    for (std::size_t i = 0; i < all.size(); ++i) {
        INFO(i);
        CHECK(isLongRung(*k.actual.fabric, all[i]) == (i < 3));
    }
    CHECK(k.counts.back().actual == k.counts.back().meant - 1);
}

TEST_CASE("a stitch off the needle has no rung; the needle is one short and no loop is gone") {
    for (const GroundCloth& cloth : cloths(12, 6)) {
        INFO(cloth.words);
        const FaultyKnitting k = spoiled(
            cloth.script, {{"drop_live", 6, cloth.ground == StockGround::net ? 5 : 4, 0}}, After::byCount);
        CHECK(bareAbove(*k.actual.fabric) == Bare{0, 0});
        CHECK(k.actual.knitter.aheadCount() == k.meant.knitter.aheadCount() - 1);
        CHECK(k.actual.fabric->loopCount() == k.meant.fabric->loopCount());
    }
}

TEST_CASE("a run has the name of the ground it goes through, and only that one") {
    const std::vector<std::string> ids = {"ladder_stockinette", "ladder_garter", "ladder_rib",
                                          "ladder_lace",        "ladder_edge",   "ladder_cable"};
    struct Expected {
        StockGround ground;
        int row, stitch;
        const char* id;
    };
    for (const Expected& e :
         {Expected{StockGround::stockinette, 5, 6, "ladder_stockinette"},
          Expected{StockGround::stockinette, 5, 1, "ladder_edge"},
          Expected{StockGround::stockinette, 6, 13, "ladder_edge"},
          Expected{StockGround::garter, 5, 6, "ladder_garter"},
          Expected{StockGround::rib, 5, 6, "ladder_rib"}, Expected{StockGround::seed, 5, 6, "ladder_rib"},
          Expected{StockGround::eyelets, 5, 3, "ladder_lace"},
          Expected{StockGround::spines, 5, 4, "ladder_lace"},
          Expected{StockGround::cables, 3, 4, "ladder_cable"}}) {
        const Script script = stockGround(e.ground, 13, 8);
        for (const std::string& id : ids) {
            INFO(name(e.ground) << " " << e.row << "," << e.stitch << " " << id);
            CHECK(knitWith(script, {}, {{id, e.row, e.stitch, 0}}, After::byCount).has_value() ==
                  (id == e.id));
        }
    }
}

TEST_CASE("in lace a run forks at a decrease and ends at a yarn over") {
    const Script lace = stockGround(StockGround::eyelets, 11, 6);
    // Row 5 begins k1, k2tog: below it two columns come free.
    const FaultyKnitting fork = spoiled(lace, {{"ladder_lace", 5, 2, 0}}, After::byCount);
    CHECK(looseLoops(*fork.actual.fabric).size() == 2);
    // Down to a yarn over nothing is left below it.
    const FaultyKnitting end = spoiled(lace, {{"ladder_lace", 5, 3, 0}}, After::byCount);
    CHECK(looseLoops(*end.actual.fabric).empty());
    CHECK(end.actual.knitter.aheadCount() == end.meant.knitter.aheadCount() - 1);
}

TEST_CASE("a loop escaped from a decrease leaves the count right and a free loop") {
    const Script lace = stockGround(StockGround::eyelets, 11, 4);
    const FaultyKnitting caught = spoiled(lace, {{"decrease_escaped", 1, 2, 0}}, After::byReading);
    CHECK(looseLoops(*caught.actual.fabric).size() == 1);
    CHECK(caught.counts.back().actual == caught.counts.back().meant);
    // Not passed over: one too many, nothing loose.
    const Script shaped = stockGround(StockGround::shaped, 12, 8);
    const FaultyKnitting over = spoiled(shaped, {{"decrease_escaped", 7, 2, 0}}, After::byReading);
    CHECK(looseLoops(*over.actual.fabric).empty());
    CHECK(over.counts[6].actual == over.counts[6].meant + 1);
}

TEST_CASE("a run stops where it was told to, also where it would go on") {
    const Script script = stockGround(StockGround::stockinette, 9, 6);
    const FaultyKnitting k = spoiled(script, {{"ladder_stockinette", 4, 3, 0}}, After::byReading);
    const Fabric& f = *k.actual.fabric;
    const std::vector<LoopId> loose = looseLoops(f);
    REQUIRE(loose.size() == 1);
    CHECK(rowsOf(f)[loose[0]] == 3);
    Fabric copy = f;
    CHECK(letRun(copy) > 0);
}

}  // namespace loopmend
