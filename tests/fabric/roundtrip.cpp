// SPDX-License-Identifier: MIT
//
// The two lines of text and the fabric are one thing: the lines give back the fabric, the fabric the lines.
#include <rapidcheck/catch.h>
#include <catch2/catch.hpp>

#include "random_knitting.h"
#include "swatch.h"

namespace loopmend {

namespace {

/// Both lines come back, and the fabric that was read has the same loops, yarn and rows.
void requireRoundTrip(const Fabric& f) {
    const Itinerary lines = itinerary(f);
    const tl::expected<Fabric, TextFault> read = fabricFrom(lines);
    if (!read) FAIL(read.error().message << "\n" << lines.knot << "\n" << lines.measure);
    const Itinerary again = itinerary(*read);
    REQUIRE(again.knot == lines.knot);
    REQUIRE(again.measure == lines.measure);
    REQUIRE(read->loopCount() == f.loopCount());
}

}  // namespace

TEST_CASE("both lines come back after random knitting") {
    for (int seed = 0; seed < cases(300); ++seed) {
        CAPTURE(seed);
        Dice dice(static_cast<std::uint64_t>(seed));
        Swatch s = randomSwatch(dice, 5);
        requireRoundTrip(s.fabric());
        REQUIRE(reloaded(s.fabric()).totalUm() == s.fabric().totalUm());
    }
}

TEST_CASE("both lines come back with open ladders, pins and half-hooked columns") {
    for (int seed = 0; seed < cases(300); ++seed) {
        CAPTURE(seed);
        Dice dice(static_cast<std::uint64_t>(seed));
        Swatch s = randomSwatch(dice, 4);
        for (int i = 0; i < 12; ++i) {
            randomHandMove(s, dice);
            requireRoundTrip(s.fabric());
        }
    }
}

TEST_CASE("both lines come back after each of many random primitives") {
    int applied = 0;
    for (int seed = 0; seed < cases(200); ++seed) {
        CAPTURE(seed);
        Dice dice(static_cast<std::uint64_t>(seed));
        Swatch s = randomSwatch(dice, 2, 6);
        for (int i = 0; i < 40; ++i) {
            CAPTURE(i);
            const bool done = randomPrimitive(s.fabric(), dice);
            applied += done ? 1 : 0;
            if (done) requireRoundTrip(s.fabric());
        }
    }
    CHECK(applied > cases(200) * 15);
}

TEST_CASE("both lines come back, whatever is thrown") {
    rc::prop("knitting, hands and primitives in turn", [](const std::vector<std::uint16_t>& choices) {
        Dice dice(choices);
        Swatch s = randomSwatch(dice, 2, 6);
        for (int i = 0; i < 10; ++i) randomHandMove(s, dice);
        for (int i = 0; i < 10; ++i) randomPrimitive(s.fabric(), dice);
        RC_ASSERT(roundTrips(s.fabric()));
    });
}

TEST_CASE("knitting on from the reloaded text is knitting on from memory") {
    for (int seed = 0; seed < cases(200); ++seed) {
        CAPTURE(seed);
        Dice dice(static_cast<std::uint64_t>(seed));
        Swatch s = randomSwatch(dice, 3);
        const Knitter& k = s.knitter();
        // In the middle of a row too.
        const int worked = dice.below(4);
        for (int i = 0; i < worked; ++i) (void)workWord(s.knitter(), dice.chance(50) ? "k" : "sl");
        Fabric g = reloaded(s.fabric());
        const YarnId yarn = sameYarn(s.fabric(), k.yarn(), g);
        if (!yarn) continue;
        Knitter other(g, yarn, k.facing(), k.inTheRound(), Habit::western, k.mirrored());
        Knitter same(s.fabric(), k.yarn(), k.facing(), k.inTheRound(), Habit::western, k.mirrored());
        REQUIRE(other.aheadCount() == same.aheadCount());
        for (int i = 0; i < 40 && same.aheadCount() > 0; ++i) {
            const int which = dice.below(10);
            static const std::vector<std::string> kWords = {"k",   "p",  "k2tog", "ssk", "yo",
                                                            "m1l", "sl", "skp",   "bo2", "kfb"};
            const std::string& word = kWords[static_cast<std::size_t>(which)];
            CAPTURE(i, word);
            const bool here = workWord(same, word).has_value();
            REQUIRE(workWord(other, word).has_value() == here);
            REQUIRE(knotOf(g) == knotOf(s.fabric()));
            if (dice.chance(20)) REQUIRE(other.tink().has_value() == same.tink().has_value());
            REQUIRE(text(g) == text(s.fabric()));
        }
    }
}

TEST_CASE("two colours: knitting on from the reloaded text is knitting on from memory") {
    for (int seed = 0; seed < cases(100); ++seed) {
        CAPTURE(seed);
        Dice dice(static_cast<std::uint64_t>(seed));
        Swatch s(8);
        const YarnId b = s.fabric().addYarn('B', kLoopUm, kStrandUm);
        if (dice.chance(50)) s.rows(1);
        for (int r = 0; r < 3; ++r) {
            randomTwoColourRow(s, b, dice);
            s.next();
        }
        Fabric g = reloaded(s.fabric());
        const YarnId a2 = sameYarn(s.fabric(), s.yarn(), g);
        const YarnId b2 = sameYarn(s.fabric(), b, g);
        REQUIRE(a2);
        REQUIRE(b2);
        Knitter other(g, a2, s.knitter().facing());
        for (int i = 0; i < 8; ++i) {
            const bool first = dice.chance(50);
            s.knitter().takeYarn(first ? s.yarn() : b);
            other.takeYarn(first ? a2 : b2);
            REQUIRE(s.knitter().knit());
            REQUIRE(other.knit());
            REQUIRE(text(g) == text(s.fabric()));
        }
    }
}

TEST_CASE("the smallest fabrics have lines too") {
    Fabric empty;
    CHECK(itinerary(empty).knot.empty());
    requireRoundTrip(empty);

    Fabric one;
    const YarnId yarn = one.addYarn('A', kLoopUm, kStrandUm);
    CHECK(itinerary(one).knot.empty());
    const LoopId loop = *one.liftFromBall(yarn, Run::leftward, kLoopUm, kStrandUm);
    CHECK(itinerary(one).knot.empty());  // a bight that nothing holds is no more than yarn
    REQUIRE(one.hold(loop, one.needle(), HeldId{}, Mount::western));
    CHECK(itinerary(one).knot == "yarn A ball < o | needle 1");
    CHECK(itinerary(one).measure == "yarn 2000 9000/2000 9000/0 | needle 1 w");
    requireRoundTrip(one);
    one.setAnchored(loop, true);
    REQUIRE(one.letGo(loop, one.needle(), false));
    CHECK(itinerary(one).knot == "yarn A ball < o!");  // knotted, it is not loose
}

TEST_CASE("the lines of a small swatch are as the notation says") {
    Swatch s(4);
    s.work("k ktbl p k | p p2tog p | ");
    CHECK(s.knot() == "yarn A ball > o! o! o! o! < 4k 3k-1 2p 1k > 8k 6k^0&7k^1 5k | needle 11 10 9");
    s.work("sl k2tog");
    CHECK(s.knot() ==
          "yarn A ball > o! o! o! o! < 4k 3k-1 2p 1k > 8k 6k^0&7k^1 5k < ~11w 10k^0&9k^1 | needle 11 12");
}

TEST_CASE("the same text has the same hash on every machine") {
    // FNV-1a, 64 bits, from the published test vectors (Fowler, Noll, Vo; IETF draft-eastlake-fnv).
    CHECK(hashOf("") == 0xcbf29ce484222325ULL);
    CHECK(hashOf("a") == 0xaf63dc4c8601ec8cULL);
    CHECK(hashOf("foobar") == 0x85944171f73967e8ULL);
}

}  // namespace loopmend
