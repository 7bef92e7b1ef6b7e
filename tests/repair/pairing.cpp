// SPDX-License-Identifier: MIT
// Two fabrics paired: what is missing, extra and changed after a mistake, row by row.
#include <catch2/catch.hpp>

#include "fabric/hands.h"
#include "fabric/itinerary.h"
#include "fabric/pairing.h"
#include "scenes.h"

using namespace loopmend;
using namespace loopmend::scenes;

namespace {

Script withoutStep(Script script, int row, int step) {
    auto& steps = script.rows[static_cast<std::size_t>(row - 1)].steps;
    steps.erase(steps.begin() + step - 1);
    return script;
}

Script rowsOnly(Script script, int rows) {
    script.rows.resize(static_cast<std::size_t>(rows));
    return script;
}

}  // namespace

TEST_CASE("A fabric pairs with itself, entry by entry, also when reloaded", "[pairing]") {
    for (const Script& script : {lace(20, 9), seed(13, 7), rib(12, 5)}) {
        const Knitting a = worked(script);
        const auto b = fabricFrom(itinerary(*a.fabric));
        REQUIRE(b);
        const Pairing p = pairUp(*a.fabric, *b);
        CHECK(p.agrees());
        CHECK(p.complete);
        for (const LoopId loop : numbering(*a.fabric).order) CHECK(p.actual(loop));
    }
}

TEST_CASE(
    "A yarn-over missed in the row in hand is one missing loop; a row later it and its child are missing",
    "[pairing]") {
    const Script meant = lace(20, 6);
    const Script missed = withoutStep(meant, 5, 7);  // the second yarn-over of row 5
    {
        const Knitting a = worked(rowsOnly(meant, 5));
        const Knitting b = worked(rowsOnly(missed, 5));
        const Pairing p = pairUp(*a.fabric, *b.fabric);
        REQUIRE(p.missing.size() == 1);
        CHECK(a.fabric->linkCount(p.missing.front()) == 0);
        CHECK(p.extra.empty());
        CHECK(p.changed.empty());
    }
    const Knitting a = worked(meant);
    const Knitting b = worked(withoutStep(missed, 6, 1));
    const Pairing p = pairUp(*a.fabric, *b.fabric);
    REQUIRE(p.missing.size() == 2);
    CHECK(a.fabric->linkCount(p.missing[0]) == 0);
    CHECK(a.fabric->hostsRightToLeft(p.missing[1]) == std::vector<LoopId>{p.missing[0]});
    CHECK(p.extra.empty());
    CHECK(p.changed.empty());
}

TEST_CASE("A wrong stitch is one changed loop, however many rows were knitted on", "[pairing]") {
    for (const Step& by : {Step{Op::purl}, Step{Op::knitTbl}}) {
        const Script meant = stockinette(15, 30);
        Script wrong = meant;
        wrong.rows[6].steps[8] = by;
        const Knitting a = worked(meant);
        const Knitting b = worked(wrong);
        const Pairing p = pairUp(*a.fabric, *b.fabric);
        CHECK(p.missing.empty());
        CHECK(p.extra.empty());
        REQUIRE(p.changed.size() == 1);
        const LoopId m = p.meant(p.changed.front());
        CHECK(p.actual(m) == p.changed.front());
    }
}

TEST_CASE("A run leaves only its own column missing", "[pairing]") {
    const Script meant = garter(12, 10);
    const Knitting a = worked(meant);
    const Knitting b = worked(meant);
    const LoopId loop = onNeedle(*b.fabric, 7);
    REQUIRE(b.fabric->letGo(loop, b.fabric->needle(), true));
    REQUIRE(letRunFrom(*b.fabric, loop, 4) == 4);
    const Pairing p = pairUp(*a.fabric, *b.fabric);
    CHECK(p.missing.size() == 4);
    CHECK(p.extra.empty());
    CHECK(p.changed.empty());
}

TEST_CASE("Blame does not slide to a neighbour when the knitter goes on by count", "[pairing]") {
    // The yarn-over left out in row 5 must be the first thing missing, not a stitch before or after it.
    Script meant = lace(20, 7);
    Script missed = withoutStep(meant, 5, 7);
    missed.rows[5].steps.pop_back();
    missed.rows[6].steps.pop_back();
    const Knitting a = worked(meant);
    const Knitting b = worked(missed);
    const Pairing p = pairUp(*a.fabric, *b.fabric);
    REQUIRE(!p.missing.empty());
    CHECK(a.fabric->linkCount(p.missing.front()) == 0);
    const Knitting upToRow5 = worked(rowsOnly(meant, 5));
    const Knitting missedToRow5 = worked(rowsOnly(withoutStep(meant, 5, 7), 5));
    CHECK(p.missing.front() == pairUp(*upToRow5.fabric, *missedToRow5.fabric).missing.front());
}

TEST_CASE("A search that is given up says so", "[pairing]") {
    const Knitting a = worked(stockinette(12, 12));
    const Knitting b = worked(seed(12, 12));
    const Pairing p = pairUp(*a.fabric, *b.fabric, 5);
    CHECK_FALSE(p.complete);
    CHECK_FALSE(p.agrees());
}
