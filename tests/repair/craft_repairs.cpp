// SPDX-License-Identifier: MIT
// The repairs of the craft: which of them a plan is made of is seen from what it does.
#include <algorithm>
#include <catch2/catch.hpp>
#include <set>
#include <string>

#include "fault/catalogue.h"
#include "fault/draw.h"
#include "fault/grounds.h"
#include "fault/knit_with.h"
#include "repair/craft_plans.h"
#include "repair/craft_repairs.h"
#include "repair/ways_back.h"

namespace loopmend {

namespace {

/// Ids of the repairs in all ways back from one mistake on a ground.
std::set<std::string> repairsOf(std::string_view id, StockGround ground, std::uint64_t seed,
                                bool round = false) {
    std::set<std::string> ids;
    const Fault* fault = nullptr;
    for (const Fault* f : catalogue()) fault = f->id == id ? f : fault;
    if (fault == nullptr) return ids;
    const Script script = stockGround(ground, 13, 10, round);
    Wanted wanted;
    wanted.rowFrom = 3;
    auto place = drawPlace(seed, *fault, script, {}, wanted);
    if (!place) place = drawPlace(seed, *fault, script, {});  // at the cast-on
    if (!place) return ids;
    auto k = knitWith(script, {}, {*place}, After::byReading);
    if (!k) return ids;
    Script done = script;
    done.rows.resize(std::min(done.rows.size(), static_cast<std::size_t>(k->rows)));
    for (const WayBack& way : waysBack(*k->meant.fabric, done, k->actual.knitter).all) {
        for (const CraftRepair r : way.repairs) ids.insert(std::string(idOf(r)));
    }
    return ids;
}

}  // namespace

TEST_CASE("Every repair has an id and words of its own", "[repairs]") {
    std::set<std::string_view> ids;
    for (int i = 0; i < kCraftRepairs; ++i) {
        const auto repair = static_cast<CraftRepair>(i);
        ids.insert(idOf(repair));
        CHECK_FALSE(wordsFor(repair).empty());
    }
    CHECK(ids.size() == kCraftRepairs);
}

TEST_CASE("What a plan is in the craft's words follows from what it does", "[repairs]") {
    // Common practice: the repair that the trade names for each of these.
    struct Named {
        const char* fault;
        StockGround ground;
        const char* repair;
    };
    for (const Named& n : {Named{"ladder_stockinette", StockGround::stockinette, "ladder_up"},
                           Named{"ladder_garter", StockGround::garter, "ladder_up_alternating"},
                           Named{"wrong_kp", StockGround::stockinette, "drop_to_change"},
                           Named{"twist_tbl", StockGround::stockinette, "untwist_below"},
                           Named{"wrong_lean", StockGround::eyelets, "lean_decrease"},
                           Named{"cdd_wrong_stack", StockGround::spines, "restack_centred"},
                           Named{"knit_below", StockGround::stockinette, "free_knit_below"},
                           Named{"knit_below", StockGround::seed, "free_knit_below"},
                           Named{"accidental_yo", StockGround::stockinette, "remove_yarn_over"},
                           Named{"miscrossed", StockGround::cables, "cross_one_arm"},
                           Named{"wrong_colour", StockGround::stranded, "sew_over"},
                           Named{"wrong_kp", StockGround::rib, "rip_rows"}}) {
        bool found = false;
        for (std::uint64_t seed = 1; seed <= 6 && !found; ++seed)
            found = repairsOf(n.fault, n.ground, seed).count(n.repair) != 0;
        INFO(n.fault << " on " << name(n.ground) << ": " << n.repair);
        CHECK(found);
    }
}

TEST_CASE("A repair that is said to be made is made by a plan, and no other", "[.all]") {
    std::set<std::string> made;
    for (const Fault* fault : catalogue()) {
        for (int g = 0; g < kAllStockGrounds; ++g) {
            for (std::uint64_t seed = 1; seed <= 2; ++seed) {
                for (const bool round : {false, true}) {
                    const auto ids = repairsOf(fault->id, static_cast<StockGround>(g), seed, round);
                    made.insert(ids.begin(), ids.end());
                }
            }
        }
    }
    for (int i = 0; i < kCraftRepairs; ++i) {
        const auto repair = static_cast<CraftRepair>(i);
        INFO(idOf(repair));
        CHECK(isMade(repair) == (made.count(std::string(idOf(repair))) != 0 || isByPlace(repair)));
    }
}

}  // namespace loopmend
