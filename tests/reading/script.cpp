// SPDX-License-Identifier: MIT
//
// Reading is the inverse of working: whatever was worked is read back from both lines of the fabric's text.
#include "reading/script.h"

#include <rapidcheck.h>
#include <catch2/catch.hpp>

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

// Worked, written, loaded, read, and worked again from what was read: the same knot.
void readsBack(const Case& c, bool wordForWord) {
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
    if (wordForWord) RC_ASSERT(textOf(reading.script) == textOf(normalised(c.script)));
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
    CHECK(rc::check("words", [=] { readsBack(*anyCase(draw), true); }));
}

TEST_CASE("with edges, stitches passed over and holders it is read back as the same knot") {
    CHECK(rc::check("knots", [] { readsBack(*anyCase(), false); }));
}

TEST_CASE("with loops that sit turned it is read back as the same knot") {
    Draw draw;
    draw.turns = true;
    CHECK(rc::check("turned loops", [=] { readsBack(*anyCase(draw), false); }));
}

TEST_CASE("stitches worked into the one below are read back") {
    Draw draw;
    draw.below = true;
    draw.cables = false;
    CHECK(rc::check("below", [=] { readsBack(*anyCase(draw), false); }));
}

TEST_CASE("eastern, combination and left-handed knitters' work reads the same") {
    Draw draw;
    draw.twists = false;
    for (const Habit habit : {Habit::eastern, Habit::combination}) {
        Setup setup;
        setup.habit = habit;
        CHECK(rc::check("habit", [=] { readsBack(*anyCase(draw, setup), false); }));
    }
    Setup mirrored;
    mirrored.mirrored = true;
    CHECK(rc::check("left-handed", [=] { readsBack(*anyCase(Draw{}, mirrored), false); }));
}

}  // namespace loopmend
