// SPDX-License-Identifier: MIT
//
// What is told, and what is left open.
#include <catch2/catch.hpp>
#include <set>

#include "diagnosis/explain.h"
#include "fabric/hands.h"
#include "fabric/itinerary.h"
#include "fault/catalogue.h"
#include "fault/draw.h"
#include "fault/grounds.h"
#include "fault/knit_with.h"
#include "sampled.h"

namespace loopmend {
namespace {

FaultyKnitting spoiled(const Script& script, const std::vector<FaultPlace>& faults, After after) {
    auto k = knitWith(script, {}, faults, after);
    INFO((k ? "" : k.error().message));
    REQUIRE(k);
    return std::move(*k);
}

std::set<std::string> asSet(const std::vector<std::string>& ids) {
    return {ids.begin(), ids.end()};
}

}  // namespace

TEST_CASE("of two equal fabrics it says that nothing is wrong") {
    for (int g = 0; g < kStockGrounds; ++g) {
        const Script script = stockGround(static_cast<StockGround>(g), 11, 8);
        const auto a = knit(script);
        Setup combination;
        combination.habit = Habit::combination;
        const auto b = knit(script, g == static_cast<int>(StockGround::shaped) ? Setup{} : combination);
        const Explanations told = explain(*a->fabric, *b->fabric);
        INFO(name(static_cast<StockGround>(g)));
        CHECK(told.nothingWrong);
        CHECK(told.explanations.empty());
        CHECK(told.unknown.empty());
        CHECK(told.words.find("Nothing is wrong") != std::string::npos);
    }
}

TEST_CASE("fewer rows than were meant are no mistake") {
    const Script script = stockGround(StockGround::eyelets, 11, 8);
    Script half = script;
    half.rows.resize(5);
    const Explanations told = explain(*knit(script)->fabric, *knit(half)->fabric);
    CHECK(told.nothingWrong);
    CHECK(told.rows == 5);
}

TEST_CASE("mistakes that make one knot are told together, each proved by its text") {
    const Script lace = stockGround(StockGround::eyelets, 15, 8);
    const auto meant = knit(lace);
    for (const After after : {After::byCount, After::byReading}) {
        const FaultyKnitting k = spoiled(lace, {{"missed_yo", 3, 4, 0}}, after);
        const Explanations told = explain(*meant->fabric, *k.actual.fabric);
        REQUIRE(told.explanations.size() == 2);
        CHECK(told.explanations[0].faults[0].id == "missed_yo");
        CHECK(told.explanations[0].faults[0].row == 3);
        CHECK(told.explanations[0].faults[0].stitch == 4);
        CHECK(told.explanations[0].faults[0].after == after);
        CHECK(told.explanations[0].sameFabricAs == std::vector<std::string>{"lost_yo"});
        CHECK(told.explanations[1].faults[0].id == "lost_yo");
        CHECK(told.explanations[1].faults[0].row == 4);
        CHECK(told.explanations[1].sameFabricAs == std::vector<std::string>{"missed_yo"});
        // Every one that is told makes the very knot that is there.
        for (const Explanation& e : told.explanations) {
            const FoundFault& f = e.faults[0];
            const FaultyKnitting again = spoiled(lace, {{f.id, f.row, f.stitch, f.rows}}, f.after);
            CHECK(knotOf(*again.actual.fabric) == knotOf(*k.actual.fabric));
        }
    }
}

TEST_CASE("the length of a bar tells a yarn over that was dropped from one that was missed") {
    const Script lace = stockGround(StockGround::eyelets, 15, 8);
    const auto meant = knit(lace);
    // Row 4, the stitch on the yarn-over of row 3.
    const auto lost = placesFor(*findFault("lost_yo"), lace, {}, {4, 4, 0, false});
    REQUIRE_FALSE(lost.empty());
    const FaultyKnitting k = spoiled(lace, {lost.front()}, After::byReading);
    const Explanations told = explain(*meant->fabric, *k.actual.fabric);
    REQUIRE(told.explanations.size() == 2);
    CHECK(told.explanations[0].faults[0].id == "lost_yo");
    CHECK(told.explanations[0].yarnAgrees);
    CHECK(told.explanations[1].faults[0].id == "missed_yo");
    CHECK_FALSE(told.explanations[1].yarnAgrees);
    CHECK(told.explanations[0].probability > 0.8);
}

TEST_CASE("long rungs tell a run from a stitch left behind, short ones the other") {
    const Script plain = stockGround(StockGround::stockinette, 12, 10);
    const auto meant = knit(plain);
    const FaultyKnitting ran = spoiled(plain, {{"ladder_stockinette", 6, 5, 0}}, After::byReading);
    const Explanations run = explain(*meant->fabric, *ran.actual.fabric);
    REQUIRE_FALSE(run.explanations.empty());
    CHECK(run.explanations[0].faults[0].id == "ladder_stockinette");
    CHECK(run.explanations[0].yarnAgrees);
    CHECK(asSet(run.explanations[0].sameFabricAs).count("drop_left_behind") == 1);
    const FaultyKnitting left = spoiled(plain, {{"drop_left_behind", 6, 5, 0}}, After::byReading);
    const Explanations behind = explain(*meant->fabric, *left.actual.fabric);
    REQUIRE_FALSE(behind.explanations.empty());
    CHECK(behind.explanations[0].faults[0].id == "drop_left_behind");
    CHECK(behind.explanations[0].yarnAgrees);
    // Run through three rows, and then left behind.
    const FaultyKnitting both = spoiled(plain, {{"ladder_stockinette", 3, 5, 3}}, After::byReading);
    const Explanations mixed = explain(*meant->fabric, *both.actual.fabric);
    REQUIRE_FALSE(mixed.explanations.empty());
    CHECK(mixed.explanations[0].faults[0].id == "ladder_stockinette");
    CHECK(mixed.explanations[0].faults[0].row == 3);
    CHECK(mixed.explanations[0].faults[0].rows == 3);
}

TEST_CASE("a twist is told in the row of the hands and seen in the row below") {
    // A twisted stitch shows one row below the row in which it was worked (common practice).
    const Script plain = stockGround(StockGround::stockinette, 10, 8);
    const auto meant = knit(plain);
    for (const char* id : {"twist_tbl", "twist_wrap", "twist_pickup"}) {
        const FaultyKnitting k = spoiled(plain, {{id, 5, 4, 0}}, After::byReading);
        const Explanations told = explain(*meant->fabric, *k.actual.fabric);
        INFO(id);
        REQUIRE_FALSE(told.explanations.empty());
        for (const Explanation& e : told.explanations) {
            CHECK(e.faults[0].row == 5);
            CHECK(e.faults[0].stitch == 4);
            CHECK(e.faults[0].seenRow == 4);
        }
        CHECK(told.explanations.size() == (id == std::string("twist_tbl") ? 1 : 2));
        CHECK(told.explanations[0].words.find("seen in row 4") != std::string::npos);
    }
    const FaultyKnitting bump = spoiled(plain, {{"wrong_kp", 5, 4, 0}}, After::byReading);
    CHECK(explain(*meant->fabric, *bump.actual.fabric).explanations.at(0).faults.at(0).seenRow == 5);
}

TEST_CASE("she who stopped at the end of the row noticed there") {
    const Script lace = stockGround(StockGround::net, 12, 8);
    const auto meant = knit(lace);
    const FaultyKnitting k = spoiled(lace, {{"missed_yo", 4, 4, 0}}, After::rowEnd);
    const Explanations told = explain(*meant->fabric, *k.actual.fabric);
    CHECK(told.rows == 4);
    REQUIRE_FALSE(told.explanations.empty());
    CHECK(told.explanations[0].faults[0].after == After::rowEnd);
    // With every row worked she did not.
    const FaultyKnitting on = spoiled(lace, {{"missed_yo", 4, 4, 0}}, After::byCount);
    CHECK(explain(*meant->fabric, *on.actual.fabric).explanations.at(0).faults.at(0).after == After::byCount);
}

TEST_CASE("where the places give one fabric, the span is told") {
    // Before or after a yarn over that belongs there: nobody can tell which of the two is one too many.
    const Script lace = stockGround(StockGround::eyelets, 11, 6);
    const auto meant = knit(lace);
    const FaultyKnitting k = spoiled(lace, {{"accidental_yo", 1, 4, 0}}, After::byReading);
    const Explanations told = explain(*meant->fabric, *k.actual.fabric);
    REQUIRE_FALSE(told.explanations.empty());
    CHECK(told.explanations[0].faults[0].stitch <= 4);
    CHECK(told.explanations[0].faults[0].stitchTo >= 4);
}

TEST_CASE("what no single mistake explains is said to be unknown, with the first place that differs") {
    const Script lace = stockGround(StockGround::eyelets, 19, 10);
    const auto meant = knit(lace);
    // Two mistakes far apart are told together.
    const FaultyKnitting two =
        spoiled(lace, {{"missed_yo", 3, 4, 0}, {"wrong_kp", 6, 9, 0}}, After::byReading);
    const Explanations told = explain(*meant->fabric, *two.actual.fabric);
    CHECK_FALSE(told.nothingWrong);
    CHECK(told.unknown.empty());
    REQUIRE_FALSE(told.explanations.empty());
    REQUIRE(told.explanations[0].faults.size() == 2);
    CHECK(told.explanations[0].faults[0].id == "missed_yo");
    CHECK(told.explanations[0].faults[1].id == "wrong_kp");
    CHECK(told.explanations[0].faults[1].row == 6);
    CHECK(told.explanations[0].words.find("row 6") != std::string::npos);

    // A stitch hooked up again with a whole turn: no hands' mistake that is in the list.
    auto turned = knit(lace);
    Fabric& f = *turned->fabric;
    const LoopId loop = turned->knitter.ahead()[4];
    REQUIRE(turned->knitter.drop(loop));
    REQUIRE(letRunFrom(f, loop, 1) == 1);
    std::vector<LoopId> loose;
    for (std::int32_t i = 0; i < f.entryCount(); ++i) {
        if (f.has(EntryId{i}) && f.isLoop(EntryId{i}) && f.isLoose(EntryId{i})) loose.push_back(EntryId{i});
    }
    REQUIRE(loose.size() == 1);
    const Fabric& g = *meant->fabric;
    const Side toward = g[g[meant->knitter.ahead()[4]].firstLink].form.side;
    Hooking hooking;
    hooking.rung = rungs(f, loose[0]).front();
    hooking.through = {{loose[0], 2, 0}};
    hooking.toward = toward;
    const auto hooked = hook(f, hooking);
    REQUIRE(hooked);
    const HeldId hangs = f.heldOn(*hooked, f.needle());
    REQUIRE(hangs);
    REQUIRE(f.hold(*hooked, f.needle(), f[hangs].next, Mount::western));
    const Explanations whole = explain(*meant->fabric, f);
    CHECK(whole.explanations.empty());
    REQUIRE(whole.unknown.size() == 1);
    CHECK(whole.unknown[0].row == 10);
}

TEST_CASE("fabrics of other patterns do not confuse it for long") {
    const auto rib = knit(stockGround(StockGround::rib, 14, 8));
    const auto seed = knit(stockGround(StockGround::seed, 13, 8));
    const Explanations told = explain(*rib->fabric, *seed->fabric);
    CHECK(told.explanations.empty());
    CHECK(told.unknown.size() == 1);
    CHECK_FALSE(told.nothingWrong);
}

TEST_CASE("probabilities add up to one and go down; the same bytes every time") {
    int n = 0;
    for (const Fault* fault : catalogue()) {
        for (const StockGround ground : {StockGround::eyelets, StockGround::cables, StockGround::shaped}) {
            if (!isSampled(n++)) continue;
            const Script script = stockGround(ground, 12, 8);
            const auto place = drawPlace(11, *fault, script, {});
            // Where only lengths differ, knots do not tell; a yarn in two pieces is not followed yet.
            if (!place || fault->family == Family::lengths || fault->id == "broken_yarn") continue;
            const auto meant = knit(script);
            const FaultyKnitting k = spoiled(script, {*place}, After::byReading);
            const Explanations told = explain(*meant->fabric, *k.actual.fabric);
            const Explanations again = explain(*meant->fabric, *k.actual.fabric);
            INFO(text(*place));
            REQUIRE(told.explanations.size() == again.explanations.size());
            double sum = 0;
            double last = 1;
            for (std::size_t i = 0; i < told.explanations.size(); ++i) {
                const Explanation& e = told.explanations[i];
                CHECK(e.probability <= last);
                CHECK(e.probability > 0);
                last = e.probability;
                sum += e.probability;
                CHECK(e.words == again.explanations[i].words);
                CHECK(e.faults[0].stitch == again.explanations[i].faults[0].stitch);
                CHECK(e.probability == again.explanations[i].probability);
                CHECK(std::find(e.sameFabricAs.begin(), e.sameFabricAs.end(), e.faults[0].id) ==
                      e.sameFabricAs.end());
            }
            CHECK(sum == Approx(1).margin(1e-12));
        }
    }
}

TEST_CASE("it is told in a learner's words, what and where and by which sign") {
    std::set<std::string> seen;
    for (int g = 0; g < kStockGrounds; ++g) {
        const Script script = stockGround(static_cast<StockGround>(g), 12, 8);
        const auto meant = knit(script);
        for (const Fault* fault : catalogue()) {
            const auto place = drawPlace(2, *fault, script, {});
            if (!place || !seen.insert(place->id).second) continue;
            const FaultyKnitting k = spoiled(script, {*place}, After::byCount);
            for (const Explanation& e : explain(*meant->fabric, *k.actual.fabric).explanations) {
                INFO(place->id << ": " << e.words);
                CHECK(e.words.find("row " + std::to_string(e.faults[0].row)) != std::string::npos);
                CHECK(std::count(e.words.begin(), e.words.end(), '.') >= 2);
                CHECK(e.words.size() < 400);
                for (const char* no :
                     {"graph", "host", "pass ", "cone", "itinerary", "fault", "link", "knot "})
                    CHECK(e.words.find(no) == std::string::npos);
            }
        }
    }
    CHECK(seen.size() >= lessonFaults().size());
    const Script plain = stockGround(StockGround::stockinette, 12, 8);
    const FaultyKnitting k = spoiled(plain, {{"ladder_stockinette", 6, 5, 0}}, After::byCount);
    const auto meant = knit(plain);
    CHECK(explain(*meant->fabric, *k.actual.fabric).words.find("ladder in stockinette") != std::string::npos);
    CHECK(explain(*meant->fabric, *k.actual.fabric, Terms::uk).words.find("ladder in stocking stitch") !=
          std::string::npos);
}

TEST_CASE("a script that cannot be worked is said to be so") {
    Script broken = stockGround(StockGround::rib, 14, 4);
    const auto actual = knit(broken);
    broken.rows[2].steps.pop_back();
    const Explanations told = explain(broken, {}, *actual->fabric);
    CHECK_FALSE(told.nothingWrong);
    CHECK(told.explanations.empty());
    CHECK(told.words.find("cannot be worked") != std::string::npos);
}

}  // namespace loopmend
