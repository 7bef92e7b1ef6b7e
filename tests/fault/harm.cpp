// SPDX-License-Identifier: MIT
//
// What the cloth suffers as a whole, and mistakes that are nothing but too much yarn or too little.
#include <catch2/catch.hpp>

#include "fabric/hands.h"
#include "fabric/itinerary.h"
#include "fault/scenes.h"

namespace loopmend {
namespace {

/// Loops by row and stitch as they were worked, and what stands for them in the cloth as it is.
struct Twins {
    const Fabric& meant;
    const Fabric& actual;
    Numbering first;
    Numbering second;

    Twins(const Fabric& a, const Fabric& b) : meant(a), actual(b), first(numbering(a)), second(numbering(b)) {
        REQUIRE(first.order.size() == second.order.size());
    }
    /// Loops that take another length of yarn than they should, and strands.
    int loops() const {
        return count([](const Entry& a, const Entry& b) { return a.um != b.um; });
    }
    int strands() const {
        return count([](const Entry& a, const Entry& b) { return a.strandUm != b.strandUm; });
    }

  private:
    template <class Differ>
    int count(Differ differ) const {
        int n = 0;
        for (std::size_t i = 0; i < first.order.size(); ++i)
            n += differ(meant[first.order[i]], actual[second.order[i]]) ? 1 : 0;
        return n;
    }
};

FaultyKnitting withOne(const Script& script, const char* id, const Wanted& wanted = {3, 0, 2, false}) {
    const std::vector<FaultPlace> places = placesFor(*findFault(id), script, {}, wanted);
    INFO(id);
    REQUIRE_FALSE(places.empty());
    return spoiled(script, {places[places.size() / 2]}, After::byReading);
}

}  // namespace

TEST_CASE("stitches that the needle slid out of stand level, and are put back where they hung") {
    // Common practice: as many too few until they are seated, then none.
    for (const GroundCloth& cloth : allCloths(12, 8)) {
        const std::vector<FaultPlace> places = placesFor(*findFault("needle_pulled_out"), cloth.script, {});
        if (places.empty()) continue;
        INFO(cloth.words);
        FaultyKnitting k = spoiled(cloth.script, {places[places.size() / 2]}, After::byReading);
        Fabric& f = *k.actual.fabric;
        const std::vector<LoopId> open = looseLoops(f);
        CHECK(open.size() >= 3);
        // A yarn over among them is slack: it does not come back.
        const bool lace = f.loopCount() < k.meant.fabric->loopCount();
        for (const LoopId loop : open) {
            CHECK(rungs(f, loop).empty());
            const HeldId place = f.heldOn(loop, f.needle());
            REQUIRE(place);
            REQUIRE(f.hold(loop, f.needle(), place, Mount::western));
        }
        if (!lace) CHECK(knotOf(f) == knotOf(*k.meant.fabric));
    }
}

TEST_CASE(
    "where the yarn is broken two ends lie, a loop below stands free and runs, the one above has lost its "
    "foot") {
    const Script plain = stockGround(StockGround::stockinette, 11, 8);
    FaultyKnitting k = spoiled(plain, {{"broken_yarn", 4, 6, 0}}, After::byReading);
    Fabric& f = *k.actual.fabric;
    CHECK(f.loopCount() == k.meant.fabric->loopCount() - 1);
    CHECK(numbering(f).yarns.size() == 2);
    CHECK(looseLoops(f).size() == 1);
    // Common practice: down from the lower loop it runs like any other.
    CHECK(letRun(f) == 4);
    CHECK(f.totalUm() == k.meant.fabric->totalUm());
    // She goes on with the ball, which is beyond the break.
    Knitter& hands = k.actual.knitter;
    const int stitches = hands.aheadCount();
    for (int i = 0; i < stitches; ++i) REQUIRE(hands.knit());
}

TEST_CASE("a snag takes its yarn from both neighbors, and none is lost") {
    const FaultyKnitting k = withOne(stockGround(StockGround::stockinette, 13, 8), "snag");
    CHECK(k.actual.fabric->totalUm() == k.meant.fabric->totalUm());
    const Twins twins(*k.meant.fabric, *k.actual.fabric);
    CHECK(twins.loops() == 7);
    CHECK(twins.strands() == 0);
}

TEST_CASE("another needle: every loop from its row on, none before; the same knot") {
    const Script plain = stockGround(StockGround::stockinette, 10, 8);
    const FaultyKnitting k = spoiled(plain, {{"needle_size", 5, 1, 0}}, After::byCount);
    CHECK(knotOf(*k.actual.fabric) == knotOf(*k.meant.fabric));
    const Twins twins(*k.meant.fabric, *k.actual.fabric);
    CHECK(twins.loops() == 4 * 10);
    CHECK(k.actual.fabric->totalUm() > k.meant.fabric->totalUm());
}

TEST_CASE("bound off too tight: the chain alone") {
    const FaultyKnitting k = withOne(stockGround(StockGround::bound, 10, 6), "edge_tension", {});
    const Twins twins(*k.meant.fabric, *k.actual.fabric);
    CHECK(twins.loops() == 10);
    CHECK(k.actual.fabric->totalUm() < k.meant.fabric->totalUm());
}

TEST_CASE(
    "slack where needles change stands in one column of every round; a swollen rib in its right-side rows") {
    const Script tube = stockGround(StockGround::stockinette, 12, 8, true);
    const FaultyKnitting wide = spoiled(tube, {{"needle_ladder", 3, 7, 0}}, After::byReading);
    CHECK(knotOf(*wide.actual.fabric) == knotOf(*wide.meant.fabric));
    CHECK(Twins(*wide.meant.fabric, *wide.actual.fabric).strands() == 6);
    const Script rib = stockGround(StockGround::rib, 10, 8);
    const FaultyKnitting swollen = spoiled(rib, {{"loose_last_knit", 3, 6, 0}}, After::byReading);
    CHECK(Twins(*swollen.meant.fabric, *swollen.actual.fabric).loops() == 3);
}

TEST_CASE("a strand drawn too short changes nothing else; a slack join is one stitch") {
    const FaultyKnitting tight = withOne(stockGround(StockGround::stranded, 12, 8), "float_tight");
    const Twins twins(*tight.meant.fabric, *tight.actual.fabric);
    CHECK(twins.loops() == 0);
    CHECK(twins.strands() == 1);
    const FaultyKnitting join = withOne(stockGround(StockGround::joined, 12, 8), "join_gap");
    CHECK(Twins(*join.meant.fabric, *join.actual.fabric).loops() == 1);
}

TEST_CASE("blocks not linked for some rows hang together above and below them") {
    const Script blocks = stockGround(StockGround::blocks, 12, 12);
    const FaultyKnitting some = spoiled(blocks, {{"colour_gap", 4, 7, 5}}, After::byReading);
    const FaultyKnitting all = spoiled(blocks, {{"colour_gap", 4, 7, 0}}, After::byReading);
    const auto passes = [](const Fabric& f) {
        int n = 0;
        for (std::int32_t i = 0; i < f.entryCount(); ++i)
            n += f.has(EntryId{i}) && !f.isLoop(EntryId{i}) ? 1 : 0;
        return n;
    };
    CHECK(passes(*some.meant.fabric) - passes(*some.actual.fabric) == 5);
    CHECK(passes(*all.meant.fabric) - passes(*all.actual.fabric) == 9);
}

}  // namespace loopmend
