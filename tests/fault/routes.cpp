// SPDX-License-Identifier: MIT
//
// One fabric by two mistakes, and mistakes that are told apart.
#include <catch2/catch.hpp>

#include "fabric/hands.h"
#include "fabric/itinerary.h"
#include "fabric/pairing.h"
#include "fault/scenes.h"

namespace loopmend {
namespace {

const std::vector<After> kGoingOn = {After::byCount, After::byReading};

/// The place in the next row that stands on the loop made at a place; none if something else stands on it.
std::optional<FaultPlace> above(const Script& script, const FaultPlace& place, const char* id) {
    SideBySide both(script, {}, After::byReading);
    while (!both.done()) REQUIRE(both.workRow());
    const Fabric& f = *both.meant().fabric;
    const auto row = static_cast<std::size_t>(place.row);
    const LoopId loop = both.meantLoops()[row - 1][static_cast<std::size_t>(place.stitch) - 1];
    if (row >= both.meantLoops().size() || !f[loop].firstKid) return std::nullopt;
    const std::vector<LoopId>& next = both.meantLoops()[row];
    for (std::size_t i = 0; i < next.size(); ++i) {
        if (next[i] == f[f[loop].firstKid].loop)
            return FaultPlace{id, place.row + 1, static_cast<int>(i) + 1, 0};
    }
    return std::nullopt;
}

}  // namespace

TEST_CASE("a yarn over dropped on the next row is a missed one, but for the length of its bar") {
    int compared = 0;
    for (const StockGround ground : {StockGround::eyelets, StockGround::spines, StockGround::net}) {
        for (const bool round : {false, true}) {
            const Script lace = stockGround(ground, 13, 6, round);
            for (const FaultPlace& place : placesFor(*findFault("missed_yo"), lace, {})) {
                const auto next = above(lace, place, "lost_yo");
                if (!next) continue;
                for (const After after : kGoingOn) {
                    const auto lost = knitWith(lace, {}, {*next}, after);
                    // Where the decrease above takes a stitch first, the strand is not the next one to fall.
                    if (!lost) continue;
                    ++compared;
                    INFO(name(ground) << " " << text(place) << " " << name(after));
                    const FaultyKnitting missed = spoiled(lace, {place}, after);
                    const Itinerary a = itinerary(*missed.actual.fabric);
                    const Itinerary b = itinerary(*lost->actual.fabric);
                    CHECK(a.knot == b.knot);
                    CHECK(a.measure != b.measure);
                    CHECK(lost->actual.fabric->totalUm() > missed.actual.fabric->totalUm());
                }
            }
        }
    }
    CHECK(compared > 60);
}

TEST_CASE("a stitch that fell after its row and one that was never worked in the next are the same") {
    int compared = 0;
    for (const GroundCloth& cloth : cloths(12, 5)) {
        SideBySide both(cloth.script, {}, After::byReading);
        while (!both.done()) REQUIRE(both.workRow());
        for (const int stitch : {2, 5, 8}) {
            const FaultPlace fell{"drop_live", 2, stitch, 0};
            const auto next = above(cloth.script, fell, "drop_left_behind");
            if (!next) continue;
            for (const After after : kGoingOn) {
                const auto left = knitWith(cloth.script, {}, {*next}, after);
                if (!left) continue;  // a decrease or a yarn-over is another mistake
                ++compared;
                INFO(cloth.words << " " << text(fell) << " " << name(after));
                const FaultyKnitting k = spoiled(cloth.script, {fell}, after);
                CHECK(knotOf(*k.actual.fabric) == knotOf(*left->actual.fabric));
                CHECK(looseLoops(*k.actual.fabric).size() == 1);
            }
        }
    }
    CHECK(compared > 40);
}

TEST_CASE("wrapped the other way or put back turned: one twist; through the back leg: its mirror image") {
    // craft: western through the back leg `\`, eastern through the front leg `/`.
    for (const GroundCloth& cloth : cloths(12, 6)) {
        for (const FaultPlace& at : placesFor(*findFault("twist_tbl"), cloth.script, {}, {3, 3, 0, false})) {
            INFO(cloth.words << " " << text(at));
            std::vector<std::string> knots;
            for (const char* id : {"twist_wrap", "twist_pickup", "twist_tbl"}) {
                const FaultyKnitting k =
                    spoiled(cloth.script, {{id, at.row, at.stitch, 0}}, After::byReading);
                knots.push_back(knotOf(*k.actual.fabric));
                const Pairing p = pairUp(*k.meant.fabric, *k.actual.fabric);
                REQUIRE(p.changed.size() == 1);
                CHECK(p.missing.empty());
                CHECK(p.extra.empty());
                const Fabric& f = *k.actual.fabric;
                CHECK(f[f[p.changed[0]].firstLink].form.twist == (id == std::string("twist_tbl") ? -1 : 1));
            }
            CHECK(knots[0] == knots[1]);
            CHECK(knots[0] != knots[2]);
        }
    }
}

TEST_CASE("a combination knitter who wraps the other way twists to the other hand") {
    const Script plain = stockGround(StockGround::stockinette, 8, 4);
    Setup setup;
    setup.habit = Habit::combination;
    // Row 3 is knitted into purls of row 2, which she wraps so that they sit left leg in front.
    const FaultyKnitting k = spoiled(plain, {{"twist_wrap", 3, 4, 0}}, After::byReading, setup);
    const Pairing p = pairUp(*k.meant.fabric, *k.actual.fabric);
    REQUIRE(p.changed.size() == 1);
    const Fabric& f = *k.actual.fabric;
    CHECK(f[f[p.changed[0]].firstLink].form.twist == -1);
    // Through the back leg is right for her there.
    CHECK_FALSE(knitWith(plain, setup, {{"twist_tbl", 3, 4, 0}}, After::byReading));
}

TEST_CASE("habits give the same faulty fabric, where the fault is not one of legs") {
    Setup other;
    for (const Habit habit : {Habit::eastern, Habit::combination}) {
        other.habit = habit;
        for (const GroundCloth& cloth : cloths(12, 6)) {
            // Front and back of one loop name its legs; so does a twist on purpose.
            if (cloth.ground == StockGround::shaped) continue;
            for (const Fault* fault : catalogue()) {
                if (fault->id.substr(0, 5) == "twist") continue;
                if (fault->id == "kfb_accident" || fault->id == "dec_twisted") continue;
                for (std::uint64_t seed = 0; seed < 2; ++seed) {
                    const auto at = drawPlace(seed, *fault, cloth.script, {});
                    if (!at) continue;
                    INFO(cloth.words << " " << text(*at));
                    const FaultyKnitting a = spoiled(cloth.script, {*at}, After::byReading);
                    const FaultyKnitting b = spoiled(cloth.script, {*at}, After::byReading, other);
                    CHECK(knotOf(*a.actual.fabric) == knotOf(*b.actual.fabric));
                }
            }
        }
    }
}

namespace {

/// The first line of the mirror image of a cloth of single stitches: the yarn runs the other way, twists
/// have the other hand.
std::string mirrored(std::string knot) {
    knot = knot.substr(0, knot.find(" | needle"));
    for (char& c : knot) {
        if (c == 'j') break;  // the join of a round has no hand
        c = c == '<' ? '>' : c == '>' ? '<' : c == '+' ? '-' : c == '-' ? '+' : c;
    }
    return knot;
}

}  // namespace

TEST_CASE("left-handed, every mistake makes the mirror image") {
    Setup left;
    left.mirrored = true;
    int compared = 0;
    for (const StockGround ground :
         {StockGround::stockinette, StockGround::garter, StockGround::rib, StockGround::seed}) {
        for (const bool round : {false, true}) {
            const Script script = stockGround(ground, 10, 6, round);
            for (const char* id : {"drop_left_behind", "wrong_kp", "twist_tbl", "twist_wrap", "accidental_yo",
                                   "slip_float_back", "slip_float_front"}) {
                for (const FaultPlace& at : placesFor(*findFault(id), script, left, {3, 4, 1, false})) {
                    for (const After after : kGoingOn) {
                        ++compared;
                        INFO(name(ground) << " " << text(at) << " " << name(after));
                        const FaultyKnitting a = spoiled(script, {at}, after);
                        const FaultyKnitting b = spoiled(script, {at}, after, left);
                        const std::string mine = knotOf(*b.actual.fabric);
                        CHECK(mine.substr(0, mine.find(" | needle")) == mirrored(knotOf(*a.actual.fabric)));
                        CHECK(mine != knotOf(*a.actual.fabric));
                    }
                }
            }
        }
    }
    CHECK(compared > 100);
}

TEST_CASE("left-handed lace, cables and shaping take every mistake too") {
    Setup left;
    left.mirrored = true;
    for (const GroundCloth& cloth : cloths(12, 8)) {
        const auto clean = knit(cloth.script, left);
        REQUIRE(clean);
        for (const Fault* fault : catalogue()) {
            for (std::uint64_t seed = 0; seed < 3; ++seed) {
                const auto at = drawPlace(seed, *fault, cloth.script, left);
                if (!at) continue;
                INFO(cloth.words << " " << text(*at));
                const FaultyKnitting a = spoiled(cloth.script, {*at}, After::byReading);
                const FaultyKnitting b = spoiled(cloth.script, {*at}, After::byReading, left);
                if (fault->family != Family::lengths)
                    CHECK(knotOf(*b.actual.fabric) != knotOf(*clean->fabric));
                CHECK(a.counts.back().actual == b.counts.back().actual);
                CHECK(a.actual.fabric->loopCount() == b.actual.fabric->loopCount());
            }
        }
    }
}

TEST_CASE("a missed yarn over, a stitch left behind and two merged are three fabrics of one count") {
    const Script lace = stockGround(StockGround::eyelets, 11, 4);
    std::vector<std::string> knots;
    for (const FaultPlace& place : {FaultPlace{"missed_yo", 1, 3, 0}, FaultPlace{"drop_left_behind", 1, 4, 0},
                                    FaultPlace{"merged", 1, 4, 0}, FaultPlace{"dec_3_for_2", 1, 2, 0}}) {
        const FaultyKnitting k = spoiled(lace, {place}, After::byReading);
        CHECK(k.counts.front().actual == k.counts.front().meant - 1);
        knots.push_back(knotOf(*k.actual.fabric));
    }
    std::sort(knots.begin(), knots.end());
    CHECK(std::unique(knots.begin(), knots.end()) == knots.end());
}

}  // namespace loopmend
