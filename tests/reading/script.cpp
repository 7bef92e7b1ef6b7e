// SPDX-License-Identifier: MIT
//
// Reading is the inverse of working: whatever was worked is read back from both lines of the fabric's text.
#include "reading/script.h"

#include <rapidcheck.h>
#include <catch2/catch.hpp>

#include "pattern/samplers.h"
#include "reading/scripts.h"

namespace loopmend {
namespace {

std::string unnamedIn(const ScriptReading& reading) {
    std::string text;
    for (const Unnamed& u : reading.unnamed)
        text += std::to_string(u.row) + "," + std::to_string(u.stitch) + " " + u.words + "\n";
    return text;
}

Knits handsOf(const Setup& setup) {
    return setup.mirrored ? Knits::leftHanded : Knits::rightHanded;
}

// Worked, written, loaded, read word for word, and worked again from what was read: the same knot. turned:
// loops were slipped knitwise, or made the other way, and worked through the one leg or the other; where that
// cancels it is no other knot, and no words tell it.
void readsBack(const Case& c, bool turned = false) {
    const auto knitting = knit(c.script, c.setup);
    RC_ASSERT(knitting.has_value());
    const Itinerary lines = itinerary(*knitting->fabric);
    const Fabric fabric = reloaded(*knitting->fabric);
    const ScriptReading reading = readScript(fabric, handsOf(c.setup));
    RC_LOG() << textOf(c.script) << "read\n"
             << textOf(reading.script) << unnamedIn(reading) << lines.knot << "\n";
    RC_ASSERT(reading.unnamed.empty());
    RC_ASSERT(reading.left == 0);
    RC_ASSERT(reading.castOn == c.setup.castOn);
    RC_ASSERT(reading.script.round == c.script.round);
    if (!turned) RC_ASSERT(textOf(reading.script) == textOf(asRead(c.script)));
    Setup setup = c.setup;
    setup.habit = Habit::western;
    const auto again = knit(reading.script, setup);
    RC_ASSERT(again.has_value());
    RC_ASSERT(itinerary(*again->fabric).knot == lines.knot);
}

}  // namespace

TEST_CASE("a faultless knitting is read back word for word") {
    Draw draw;
    draw.edges = false;
    CHECK(rc::check("words", [=] { readsBack(*anyCase(draw)); }));
}

TEST_CASE("with edges, stitches passed over and holders it is read back word for word") {
    CHECK(rc::check("knots", [] { readsBack(*anyCase()); }));
}

TEST_CASE("with loops that sit turned it is read back as the same knot") {
    Draw draw;
    draw.turns = true;
    CHECK(rc::check("turned loops", [=] { readsBack(*anyCase(draw), true); }));
}

TEST_CASE("stitches worked into the one below are read back") {
    Draw draw;
    draw.below = true;
    draw.cables = false;
    CHECK(rc::check("below", [=] { readsBack(*anyCase(draw)); }));
}

TEST_CASE("eastern, combination and left-handed knitters' work reads the same") {
    Draw draw;
    draw.twists = false;
    for (const Habit habit : {Habit::eastern, Habit::combination}) {
        Setup setup;
        setup.habit = habit;
        CHECK(rc::check("habit", [=] { readsBack(*anyCase(draw, setup)); }));
    }
    Setup mirrored;
    mirrored.mirrored = true;
    CHECK(rc::check("left-handed", [=] { readsBack(*anyCase(Draw{}, mirrored)); }));
}

TEST_CASE("short rows are read back: turns, wraps left or lifted, doubled stitches") {
    Draw draw;
    draw.edges = draw.slips = draw.made = draw.twins = false;
    draw.shortRows = true;
    for (const bool mirrored : {false, true}) {
        Setup setup;
        setup.mirrored = mirrored;
        CHECK(rc::check("short rows", [=] { readsBack(*anyCase(draw, setup)); }));
    }
}

TEST_CASE("lifted increases are read back") {
    Draw draw;
    draw.edges = draw.slips = draw.twins = draw.cables = false;
    draw.lifted = true;
    for (const bool mirrored : {false, true}) {
        Setup setup;
        setup.mirrored = mirrored;
        CHECK(rc::check("lifted", [=] { readsBack(*anyCase(draw, setup)); }));
    }
}

TEST_CASE("yarn led several times round the needle is read back, let fall or worked") {
    Draw draw;
    draw.edges = draw.slips = draw.twins = draw.made = draw.cables = false;
    draw.wraps = true;
    CHECK(rc::check("wraps", [=] { readsBack(*anyCase(draw)); }));
}

TEST_CASE("several yarns are read back, linked or floating") {
    Draw draw;
    draw.edges = draw.slips = draw.twins = draw.made = draw.cables = false;
    draw.yarns = true;
    for (const bool mirrored : {false, true}) {
        Setup setup;
        setup.mirrored = mirrored;
        CHECK(rc::check("yarns", [=] { readsBack(*anyCase(draw, setup)); }));
    }
}

TEST_CASE("stitches picked up along the rows' ends are read back") {
    Draw draw;
    draw.edges = draw.slips = draw.twins = false;
    draw.picks = true;
    CHECK(rc::check("picked up", [=] { readsBack(*anyCase(draw)); }));
}

TEST_CASE("every sampler is read back") {
    for (const Sampler& sampler : samplers()) {
        for (const bool mirrored : {false, true}) {
            Sampler one = sampler;
            one.setup.mirrored = mirrored;
            INFO(one.id << (mirrored ? " mirrored" : ""));
            const auto knitting = knitSampler(one);
            REQUIRE(knitting);
            const ScriptReading reading = readScript(reloaded(*knitting->fabric), handsOf(one.setup));
            const bool grafted = one.id.substr(0, 5) == "graft";
            CHECK(reading.grafted == (grafted ? std::vector<int>{one.row} : std::vector<int>{}));
            CHECK(reading.unnamed.empty());
            CHECK(reading.left == 0);
            CHECK(textOf(reading.script) == textOf(asRead(one.script)));
            CHECK(reading.castOn == one.setup.castOn);
            CHECK(reading.sewn.empty() == (grafted || !one.sew));
        }
    }
}

TEST_CASE("what is one knot is read in one way") {
    const auto read = [](const std::string& row, int castOn) {
        const auto knitting = knit(scriptFrom(castOn, {row}));
        REQUIRE(knitting);
        const auto script = scriptOf(reloaded(*knitting->fabric));
        REQUIRE(script.has_value());
        return textOf(script->rows.front().steps);
    };
    CHECK(read("skp k", 3) == "ssk k");
    CHECK(read("spp sp2p", 5) == "p2tog p3tog");
    CHECK(read("ryo k3", 3) == "yo k3");
    CHECK(read("k yo yo k", 2) == "k yo2 k");
    CHECK(read("kpk3 kyok3", 2) == "kpk kyok");
    CHECK(read("k2 po k2", 4) == "bo k3");
    CHECK(read("k p po k2", 4) == "k p po k2");
    CHECK(read("bo3 p k4", 8) == "bo3 k5");
    CHECK(read("k3 bo2 k3", 8) == "k3 bo2 k3");
    CHECK(read("bo5", 5) == "bo5");
    CHECK(read("k2 bo3", 5) == "k2 bo3");
    CHECK(read("bop4", 4) == "bop4");
    CHECK(read("bo2 hold3 k3", 8) == "bo2 hold3 k3");
}

// A chain begins with a stitch of its own: binding off 3 after 2 knits leaves both (common practice).
TEST_CASE("a bind-off in mid-row leaves the stitches before it") {
    const auto knitting = knit(scriptFrom(12, {"k2 bo3 k7"}));
    REQUIRE(knitting);
    CHECK(knitting->knitter.ahead().size() == 9);
    const Reading reading = readFrom(*knitting->fabric, Side::right);
    CHECK_FALSE(cellAt(reading, 1, 2)->symbol.boundOff);
    for (const int stitch : {3, 4, 5}) CHECK(cellAt(reading, 1, stitch)->symbol.boundOff);
    CHECK_FALSE(cellAt(reading, 1, 6)->symbol.boundOff);
}

TEST_CASE("what no operation explains is named, in place") {
    auto knitting = knit(scriptFrom(6, {"k6", "p6"}));
    REQUIRE(knitting);
    Knitter& k = knitting->knitter;
    REQUIRE(k.knit());
    REQUIRE(k.skp(SlipWay::purlwise));  // the passed loop is twisted
    REQUIRE(k.drop(k.ahead().front()));
    while (k.aheadCount() > 0) REQUIRE(k.knit());
    k.turn();
    const auto script = scriptOf(reloaded(*knitting->fabric));
    REQUIRE_FALSE(script.has_value());
    REQUIRE(script.error().unnamed.size() == 3);
    CHECK(script.error().unnamed[0].row == 2);  // the loop that fell
    CHECK(script.error().unnamed[1].row == 3);
    CHECK(script.error().unnamed[1].stitch == 2);
    CHECK(script.error().unnamed[1].words ==
          "two stitches meet, the right one on top: leans left, its feet crossed");
    CHECK(script.error().unnamed[2].words == "a stitch was left behind and stands free");
}

TEST_CASE("stitches still to come in the last row are told") {
    auto knitting = knit(scriptFrom(6, {"k6", "p6"}));
    REQUIRE(knitting);
    REQUIRE(knitting->knitter.k2tog());
    REQUIRE(knitting->knitter.knit());
    const ScriptReading reading = readScript(reloaded(*knitting->fabric));
    CHECK(reading.unnamed.empty());
    CHECK(reading.left == 3);
    CHECK(textOf(reading.script.rows.back().steps) == "k2tog k");
    REQUIRE(reading.madeBy.size() == 3);
    CHECK(reading.madeBy.back().size() == 2);
}

}  // namespace loopmend
