// SPDX-License-Identifier: MIT
//
// Single mistakes of hands: what each leaves behind, and how it comes undone.
#include <catch2/catch.hpp>
#include <set>

#include "fabric/itinerary.h"
#include "fabric/pairing.h"
#include "fault/scenes.h"

namespace loopmend {
namespace {

int childrenOf(const Fabric& fabric, LoopId loop) {
    return fabric.kidCount(loop);
}

/// Loops of the fabric that have a property.
template <class Test>
int count(const Fabric& fabric, Test test) {
    int n = 0;
    for (std::int32_t i = 0; i < fabric.entryCount(); ++i) {
        const EntryId e{i};
        if (fabric.has(e) && fabric.isLoop(e) && !fabric.isNothing(e) && test(e)) ++n;
    }
    return n;
}

int twisted(const Fabric& f) {
    return count(f, [&](LoopId loop) {
        for (const LinkId link : f.linksOf(loop)) {
            if (f[link].form.twist != 0) return true;
        }
        return false;
    });
}

/// Takes the last row back stitch by stitch and works it again as it was meant.
std::string workedAgain(const Script& script, FaultyKnitting& k) {
    Knitter& hands = k.actual.knitter;
    REQUIRE(hands.backOneRow());
    while (hands.rowBegun()) REQUIRE(hands.tink());
    hands.uncross();
    const auto row = workRow(hands, script.rows[static_cast<std::size_t>(k.rows) - 1]);
    INFO((row ? "" : sentence(row.error())));
    REQUIRE(row);
    endRow(hands, script.rows[static_cast<std::size_t>(k.rows) - 1]);
    return knotOf(*k.actual.fabric);
}

}  // namespace

TEST_CASE(
    "a held arm turned over: its columns change places and its feet are crossed, the other arm lies open") {
    // Common practice: the cross has the right hand, the arm that was held is narrow and hard.
    const Script cables = stockGround(StockGround::cables, 14, 4);
    const FaultPlace place = placesFor(*findFault("arm_turned"), cables, {}).front();
    const FaultyKnitting k = spoiled(cables, {place}, After::byReading);
    const Fabric& f = *k.actual.fabric;
    CHECK(twisted(f) == 2);
    CHECK(twisted(*k.meant.fabric) == 0);
    // One crossing more than the four of each rope: the two stitches of the arm.
    const auto crossings = [](const Fabric& fabric) {
        int n = 0;
        for (std::int32_t i = 0; i < fabric.crossingCount(); ++i)
            n += fabric[CrossingId{i}].sign != 0 ? 1 : 0;
        return n;
    };
    CHECK(crossings(f) == crossings(*k.meant.fabric) + 1);
    CHECK(f.loopCount() == k.meant.fabric->loopCount());
}

TEST_CASE("an edge stitch made into two: both from one stitch, feet open, and it grows with every row") {
    // Common practice: the two edge stitches share one base; a plain piece widens like a wedge.
    const Script garter = stockGround(StockGround::garter, 10, 8);
    const FaultyKnitting one = spoiled(garter, {{"edge_doubled", 4, 1, 0}}, After::byReading);
    CHECK(twisted(*one.actual.fabric) == 0);
    CHECK(count(*one.actual.fabric, [&](LoopId l) { return childrenOf(*one.actual.fabric, l) == 2; }) == 1);
    const FaultyKnitting three =
        spoiled(garter, {{"edge_doubled", 4, 1, 0}, {"edge_doubled", 5, 1, 0}, {"edge_doubled", 6, 1, 0}},
                After::byCount);
    CHECK(three.counts[3].actual == three.counts[3].meant + 1);
    CHECK(three.counts[4].actual == three.counts[4].meant + 2);
    CHECK(three.counts[5].actual == three.counts[5].meant + 3);
}

TEST_CASE("wrapped twice and a yarn over after the stitch are one knot; a wrap takes more yarn") {
    const Script plain = stockGround(StockGround::stockinette, 10, 4);
    const FaultyKnitting wrap = spoiled(plain, {{"double_wrap", 3, 4, 0}}, After::byReading);
    const FaultyKnitting over = spoiled(plain, {{"accidental_yo", 3, 5, 0}}, After::byReading);
    CHECK(knotOf(*wrap.actual.fabric) == knotOf(*over.actual.fabric));
    CHECK(itinerary(*wrap.actual.fabric).measure != itinerary(*over.actual.fabric).measure);
}

TEST_CASE("a split stitch is the same stitch but for its plies; of two halves both stand on one") {
    const Script plain = stockGround(StockGround::stockinette, 10, 5);
    const FaultyKnitting split = spoiled(plain, {{"split_yarn", 3, 4, 0}}, After::byReading);
    const Pairing pairing = pairUp(*split.meant.fabric, *split.actual.fabric);
    REQUIRE(pairing.changed.size() == 1);
    CHECK(pairing.missing.empty());
    CHECK(pairing.extra.empty());
    const Fabric& f = *split.actual.fabric;
    CHECK(f[f[pairing.changed[0]].firstLink].form.plies == Plies::pierced);
    const FaultyKnitting two = spoiled(plain, {{"split_in_two", 3, 4, 0}}, After::byReading);
    CHECK(two.counts[2].actual == two.counts[2].meant + 1);
    const Fabric& g = *two.actual.fabric;
    CHECK(count(g, [&](LoopId l) {
              return g[l].firstLink && g[g[l].firstLink].form.plies == Plies::pierced;
          }) == 2);
}

TEST_CASE("a ring worked in is unclipped, and nothing else was wrong") {
    const Script plain = stockGround(StockGround::stockinette, 10, 6);
    const FaultyKnitting k = spoiled(plain, {{"marker_knitted", 3, 4, 0}}, After::byReading);
    Fabric& f = *k.actual.fabric;
    const Tool& ring = f[ToolId{f.toolCount() - 1}];
    REQUIRE(ring.kind == ToolKind::pin);
    REQUIRE(ring.first);
    REQUIRE(f.letGo(f[ring.first].loop, ToolId{f.toolCount() - 1}, false));
    CHECK(knotOf(f) == knotOf(*k.meant.fabric));
}

TEST_CASE("a stitch missed in binding off stands free, and the chain is one shorter") {
    // Common practice.
    for (const bool round : {false, true}) {
        const Script bound = stockGround(StockGround::bound, 9, 6, round);
        for (const int stitch : {1, 4, 9}) {
            const FaultyKnitting k = spoiled(bound, {{"bindoff_open", 6, stitch, 0}}, After::byReading);
            INFO(stitch);
            const Fabric& f = *k.actual.fabric;
            CHECK(looseLoops(f).size() == 1);
            CHECK(k.actual.knitter.aheadCount() == 0);
            CHECK(f.loopCount() == k.meant.fabric->loopCount() - 1);
        }
    }
}

TEST_CASE("a gap in what is picked up leaves one stitch fewer at its place; from the back none") {
    const Script band = stockGround(StockGround::banded, 11, 8);
    const std::vector<FaultPlace> gaps = placesFor(*findFault("pickup_gap"), band, {});
    REQUIRE(gaps.size() == 4);
    std::set<std::string> knots;
    for (const FaultPlace& gap : gaps) {
        const FaultyKnitting k = spoiled(band, {gap}, After::byReading);
        CHECK(k.counts.back().actual == k.counts.back().meant - 1);
        knots.insert(knotOf(*k.actual.fabric));
    }
    CHECK(knots.size() == gaps.size());
    const FaultPlace back = placesFor(*findFault("pickup_wrong_side"), band, {}).front();
    const FaultyKnitting k = spoiled(band, {back}, After::byReading);
    CHECK(k.counts.back().actual == k.counts.back().meant);
    const auto toward = [](const Fabric& f, Side side) {
        return count(f, [&](LoopId l) {
            const LinkId link = f[l].firstLink;
            return link && f[link].form.part == Part::bothLegs && f[link].form.side == side;
        });
    };
    CHECK(toward(*k.meant.fabric, Side::right) == 4);
    CHECK(toward(*k.actual.fabric, Side::wrong) == 4);
}

TEST_CASE("a stitch in the wrong color changes no other, and both yarns go on") {
    const Script script = stockGround(StockGround::stranded, 12, 6);
    const auto ofColour = [](const Fabric& f, char colour) {
        return count(f, [&](LoopId l) { return f[f[l].yarn].flags.colour == colour; });
    };
    for (const FaultPlace& place : placesFor(*findFault("wrong_colour"), script, {}, {3, 4, 3, false})) {
        INFO(text(place));
        const FaultyKnitting k = spoiled(script, {place}, After::byCount);
        const Fabric& f = *k.actual.fabric;
        const Fabric& g = *k.meant.fabric;
        CHECK(f.loopCount() == g.loopCount());
        CHECK(std::abs(ofColour(f, 'A') - ofColour(g, 'A')) == 1);
        CHECK(k.misfits.empty());
    }
}

TEST_CASE("taken back stitch by stitch and worked again, the row is as it was meant") {
    int tried = 0;
    for (const GroundCloth& cloth : allCloths(12, 6)) {
        // (A lifted strand stays on the needle until it is let fall: see the test after this one.)
        for (const char* id : {"arm_turned", "cross_off_by_one", "double_wrap", "split_yarn", "split_in_two",
                               "wrong_colour"}) {
            const std::vector<FaultPlace> places =
                placesFor(*findFault(id), cloth.script, {}, {3, 5, 0, false});
            for (std::size_t i = 0; i < places.size(); i += 7) {
                INFO(cloth.words << " " << text(places[i]));
                FaultyKnitting k = spoiled(cloth.script, {places[i]}, After::rowEnd);
                ++tried;
                CHECK(workedAgain(cloth.script, k) == knotOf(*k.meant.fabric));
            }
        }
    }
    CHECK(tried > 100);
}

TEST_CASE("a strand that was caught is let fall again before its stitch is worked") {
    const Script plain = stockGround(StockGround::stockinette, 8, 3);
    FaultyKnitting k = spoiled(plain, {{"caught_strand", 3, 4, 0}}, After::rowEnd);
    Knitter& hands = k.actual.knitter;
    REQUIRE(hands.backOneRow());
    while (hands.rowBegun()) REQUIRE(hands.tink());
    for (int i = 0; i < 8; ++i) {
        if (i == 3) REQUIRE(hands.letFall());
        REQUIRE(hands.knit());
    }
    hands.turn();
    CHECK(knotOf(*k.actual.fabric) == knotOf(*k.meant.fabric));
}

}  // namespace loopmend
