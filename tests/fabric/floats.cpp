// SPDX-License-Identifier: MIT
//
// Floats caught by a stitch of the next row. Common practice: the strand is lifted onto the needle in
// mid-span and worked together with the stitch there, kept behind it.
#include "fabric/floats.h"

#include <rapidcheck.h>
#include <rapidcheck/catch.h>
#include <catch2/catch.hpp>

#include "fabric/rows.h"
#include "swatch.h"

namespace loopmend {

namespace {

/// Letter by letter as the knitter works it; lower case: together with what lies across the stitch.
bool colourRow(Swatch& s, YarnId b, const std::string& letters) {
    for (const char letter : letters) {
        const bool purl = s.knitter().facing() == Side::wrong;
        s.knitter().takeYarn(letter == 'B' || letter == 'b' ? b : s.yarn(), Side::wrong);
        const bool done = letter >= 'a' ? s.knitter().workWithFloat(purl).has_value()
                                        : s.knitter().work(1, purl, Leg::leading).has_value();
        if (!done) return false;
    }
    return true;
}

}  // namespace

TEST_CASE("a caught float goes through the stitch above it, behind the stitch across which it lay") {
    for (const bool mirrored : {false, true}) {
        for (const int plain : {2, 3}) {  // caught on either side
            CAPTURE(mirrored, plain);
            Swatch s = plainSwatch(9, plain, {Begin::bare, false, Habit::western, mirrored});
            const YarnId b = s.fabric().addYarn('B', kLoopUm, kStrandUm);
            REQUIRE(colourRow(s, b, "ABAAAAABA"));
            s.next();
            CHECK(s.knitter().workWithFloat(true).error().why == Why::noFloat);
            const std::vector<LoopId> stitches = s.knitter().ahead();
            const std::int64_t um = s.fabric().totalUm();
            REQUIRE(colourRow(s, b, "AAAA"));
            const std::string open = s.knot();
            REQUIRE(colourRow(s, b, "a"));
            const Fabric& f = s.fabric();
            const LoopId catches = s.knitter().behind().back();
            const std::vector<LinkId> links = f.linksOf(catches);
            REQUIRE(links.size() == 2);
            CHECK(s.knot() != open);
            // The stitch lies in front as the right side shows it: it is the last that a knit went through
            // there, the first of a purl as the wrong side works it.
            const bool toRight = f[links[1]].form.side == Side::right;
            const LoopId front = f[toRight ? links[1] : links[0]].host;
            const LoopId strand = f[toRight ? links[0] : links[1]].host;
            CHECK(front == stitches[4]);
            CHECK(f[strand].yarn == b);
            CHECK_FALSE(f[strand].firstLink);
            CHECK(layAcross(f, strand, front));
            // Two stitches of the span to each side still have the strand behind them.
            CHECK(f.loopBefore(strand));
            CHECK(floatsAcross(f, stitches[3]).size() == 1);
            CHECK(floatsAcross(f, stitches[4]).empty());
            CHECK(roundTrips(f));
            // No yarn came from that ball for it.
            CHECK(f.totalUm() - um == 5 * (kLoopUm + kStrandUm));
        }
    }
}

TEST_CASE("taken back, a caught float lies where it lay; let run, it is slack behind the run") {
    for (const bool mirrored : {false, true}) {
        CAPTURE(mirrored);
        Swatch s = plainSwatch(9, 2, {Begin::bare, false, Habit::western, mirrored});
        const YarnId b = s.fabric().addYarn('B', kLoopUm, kStrandUm);
        REQUIRE(colourRow(s, b, "ABAAAAABA"));
        s.next();
        REQUIRE(colourRow(s, b, "AAAA"));
        const Itinerary before = s.lines();
        REQUIRE(colourRow(s, b, "a"));
        REQUIRE(s.knitter().tink());
        CHECK(s.lines().knot == before.knot);
        CHECK(s.lines().measure == before.measure);
        REQUIRE(colourRow(s, b, "aAAAA"));
        s.next();
        const LoopId top = s.knitter().ahead()[4];
        const LoopId stitch = s.fabric()[s.fabric()[top].lastLink].host;
        REQUIRE(s.knitter().drop(top));
        CHECK(letRun(s.fabric(), 1) == 1);
        CHECK(roundTrips(s.fabric()));
        CHECK((s.fabric().isLive(stitch) || s.fabric().isNothing(stitch)));
    }
}

TEST_CASE("a float that lies past two stitches worked as one is caught with both, and comes back past both") {
    Swatch s = plainSwatch(9, 2);
    const YarnId b = s.fabric().addYarn('B', kLoopUm, kStrandUm);
    REQUIRE(colourRow(s, b, "ABA"));
    s.work("k2tog k");
    REQUIRE(colourRow(s, b, "ABA"));
    s.next();
    REQUIRE(colourRow(s, b, "AAAA"));
    const Itinerary before = s.lines();
    REQUIRE(colourRow(s, b, "a"));
    CHECK(roundTrips(s.fabric()));
    REQUIRE(s.knitter().tink());
    CHECK(s.lines().knot == before.knot);
    CHECK(s.lines().measure == before.measure);
}

TEST_CASE("any rows of two colors, floats caught or not, flat and in the round, come back stitch by stitch") {
    rc::prop("caught floats", [](std::uint32_t seed) {
        const auto dice = [&seed](std::uint32_t n) {
            seed = seed * 1664525U + 1013904223U;
            return static_cast<int>((seed >> 10U) % n);
        };
        Start start{Begin::bare, dice(2) == 0};
        start.mirrored = dice(2) == 0;
        Swatch s = plainSwatch(8, 1, start);
        Knitter& k = s.knitter();
        const YarnId b = s.fabric().addYarn('B', kLoopUm, kStrandUm);
        const int rows = 1 + dice(5);
        std::vector<std::string> knots;
        for (int r = 0; r < rows; ++r) {
            while (k.aheadCount() > 0) {
                knots.push_back(s.knot());
                k.takeYarn(dice(3) == 0 ? b : s.yarn(), Side::wrong);
                const bool purl = k.facing() == Side::wrong;
                if (dice(2) == 0 && k.workWithFloat(purl)) continue;
                RC_ASSERT(k.work(1, purl, Leg::leading).has_value());
            }
            s.next();
        }
        RC_ASSERT(roundTrips(s.fabric()));
        for (int r = 0; r < rows; ++r) {
            RC_ASSERT(k.backOneRow().has_value());
            while (k.rowBegun()) {
                RC_ASSERT(k.tink().has_value());
                RC_ASSERT(s.knot() == knots.back());
                knots.pop_back();
            }
        }
        RC_ASSERT(knots.empty());
    });
}

}  // namespace loopmend
