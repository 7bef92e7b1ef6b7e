// SPDX-License-Identifier: MIT
#include "fault/draw.h"

#include <catch2/catch.hpp>
#include <map>

#include "fault/scenes.h"
#include "sampled.h"

namespace loopmend {

TEST_CASE("seeded throws are the same everywhere") {
    // First numbers of splitmix64 from seed 1234567, as its authors' reference program prints them
    // (S. Vigna, splitmix64.c, public domain, 2015; numbers from memory, agreeing with the program).
    Seeded dice(1234567);
    CHECK(dice.next() == 6457827717110365317ULL);
    CHECK(dice.next() == 3203168211198807973ULL);
    CHECK(dice.next() == 9817491932198370423ULL);
    Seeded again(42);
    std::map<int, int> seen;
    for (int i = 0; i < 6000; ++i) ++seen[again.below(6)];
    REQUIRE(seen.size() == 6);
    for (const auto& [face, times] : seen) {
        CHECK(face >= 0);
        CHECK(face < 6);
        CHECK(times > 850);
        CHECK(times < 1150);
    }
    CHECK(Seeded(7).below(1) == 0);
}

TEST_CASE("places are where the pattern has what the fault stands on") {
    const Script lace = stockGround(StockGround::eyelets, 11, 4);
    const std::vector<FaultPlace> missed = placesFor(*findFault("missed_yo"), lace, {});
    CHECK(missed == std::vector<FaultPlace>{{"missed_yo", 1, 3, 0},
                                            {"missed_yo", 1, 7, 0},
                                            {"missed_yo", 3, 4, 0},
                                            {"missed_yo", 3, 8, 0}});
    CHECK(placesFor(*findFault("missed_yo"), stockGround(StockGround::garter, 8, 4), {}).empty());
    CHECK(placesFor(*findFault("miscrossed"), stockGround(StockGround::cables, 14, 6), {}) ==
          std::vector<FaultPlace>{{"miscrossed", 3, 3, 0}, {"miscrossed", 3, 9, 0}});
    // On the plain return row the strands of the row before.
    CHECK(placesFor(*findFault("lost_yo"), lace, {}, {2, 2, 0, false}) ==
          std::vector<FaultPlace>{{"lost_yo", 2, 5, 0}, {"lost_yo", 2, 9, 0}});
}

namespace {

/// Every so-many-th step of every fault on every ground.
void listedOrRefused(int every) {
    int tried = 0;
    for (const GroundCloth& cloth : allCloths(11, 6)) {
        for (const Fault* fault : catalogue()) {
            const std::vector<FaultPlace> places = placesFor(*fault, cloth.script, {});
            for (int row = 1; row <= 6; ++row) {
                const WorkedRow& words = cloth.script.rows[static_cast<std::size_t>(row) - 1];
                for (int i = 0; i < static_cast<int>(words.steps.size()); ++i) {
                    if (stitchesOf(words.steps[static_cast<std::size_t>(i)]) == 0) continue;
                    if (fault->suffered() && !fault->runs && !fault->inCloth && row < 6) continue;
                    if (tried++ % every != 0) continue;
                    const FaultPlace place{std::string(fault->id), row, stitchOfStep(words, i), 0};
                    const bool listed = std::find(places.begin(), places.end(), place) != places.end();
                    INFO(cloth.words << " " << text(place));
                    CHECK(knitWith(cloth.script, {}, {place}, After::rowEnd).has_value() == listed);
                }
            }
        }
    }
}

}  // namespace

TEST_CASE("every listed place can be worked, and no other") {
    listedOrRefused(kSanitized ? 211 : 31);
}

TEST_CASE("every listed place, and every one that is not listed", "[.all]") {
    listedOrRefused(1);
}

TEST_CASE("what is wanted of a place is kept to") {
    const Script script = stockGround(StockGround::rib, 14, 8);
    for (const FaultPlace& p : placesFor(*findFault("wrong_kp"), script, {}, {3, 5, 2, false})) {
        CHECK(p.row >= 3);
        CHECK(p.row <= 5);
        CHECK(p.stitch > 2);
        CHECK(p.stitch <= 12);
    }
    CHECK(placesFor(*findFault("wrong_kp"), script, {}, {3, 5, 2, false}).size() == 30);
    CHECK(placesFor(*findFault("wrong_kp"), script, {}, {1, 0, 0, true}).size() == 16);
}

TEST_CASE("places in a repeat, beside a marker, below the needle, on one kind of stitch, seen from a side") {
    const Script lace = stockGround(StockGround::eyelets, 15, 8);
    const Script rib = stockGround(StockGround::rib, 14, 8);
    const auto places = [](const char* id, const Script& script, const char* words) {
        const auto wanted = wantedFrom(words);
        INFO(words);
        REQUIRE(wanted);
        return placesFor(*findFault(id), script, {}, *wanted);
    };
    const auto repeat = places("wrong_kp", rib, "rows=4,stitches=5-8");
    REQUIRE(repeat.size() == 4);
    CHECK(repeat.front() == FaultPlace{"wrong_kp", 4, 5, 0});
    CHECK(repeat.back() == FaultPlace{"wrong_kp", 4, 8, 0});
    // Two stitches on either side of the marker before stitch 7.
    const auto near = places("wrong_kp", rib, "rows=2-2,near=7");
    REQUIRE(near.size() == 4);
    CHECK(near.front().stitch == 5);
    CHECK(near.back().stitch == 8);
    for (const FaultPlace& p : places("wrong_kp", rib, "below=2")) CHECK(p.row == 6);
    CHECK(places("wrong_kp", rib, "below=2").size() == 14);
    CHECK(places("wrong_kp", rib, "edge,rows=1-3").size() == 6);
    const auto on = places("wrong_lean", lace, "on=ssk");
    CHECK_FALSE(on.empty());
    CHECK(on.size() < places("wrong_lean", lace, "").size());
    for (const FaultPlace& p : on) {
        const WorkedRow& row = lace.rows[static_cast<std::size_t>(p.row) - 1];
        CHECK(row.steps[static_cast<std::size_t>(*stepOfStitch(row, p.stitch))].op == Op::ssk);
    }
    CHECK(places("wrong_kp", rib, "on=p1").size() == 56);

    // How a decrease leans is seen from the side on which it was knitted alone (common practice).
    const Fault& lean = *findFault("wrong_lean");
    Wanted wanted;
    wanted.seenFrom = Side::right;
    CHECK(drawPlace(3, lean, lace, {}, wanted));
    wanted.seenFrom = Side::wrong;
    CHECK_FALSE(drawPlace(3, lean, lace, {}, wanted));
}

TEST_CASE("what may be asked of a place is told") {
    for (const char* words : {"rows", "rows=", "rows=6-3", "rows=0", "rows=x", "near=0", "near=3-4",
                              "below=-1", "seen=front", "on=", "edge=1", "stitches=2-", "row=3", "rows=1 "}) {
        INFO(words);
        const auto wanted = wantedFrom(words);
        REQUIRE_FALSE(wanted);
        CHECK(wanted.error().find(std::string("\"") + words + "\"") == 0);
        CHECK(wanted.error().find("stitches=4-9") != std::string::npos);
    }
    CHECK(wantedFrom("clear=3,rows=2")->clearOfEdges == 3);
    CHECK(wantedFrom("clear=3,rows=2")->rowTo == 2);
}

TEST_CASE("a drawn place is the same for the same seed, and all places come up") {
    const Script script = stockGround(StockGround::eyelets, 11, 4);
    const Fault& fault = *findFault("missed_yo");
    std::map<std::string, int> drawn;
    for (std::uint64_t seed = 0; seed < 200; ++seed) {
        const auto place = drawPlace(seed, fault, script, {});
        REQUIRE(place);
        CHECK(place == drawPlace(seed, fault, script, {}));
        ++drawn[text(*place)];
    }
    CHECK(drawn.size() == 4);
    for (const auto& [place, times] : drawn) {
        INFO(place);
        CHECK(times > 25);
    }
    CHECK_FALSE(drawPlace(1, fault, stockGround(StockGround::seed, 11, 4), {}));
}

}  // namespace loopmend
