// SPDX-License-Identifier: MIT
//
// How often the yarn goes round the needle: wraps, loops let fall, and yarn-overs between knits and purls.
// Common practice.
#include <catch2/catch.hpp>

#include "swatch.h"

namespace loopmend {

namespace {

/// Yarn-overs take thirds of an ordinary loop for half turns.
int halfTurns(const Swatch& s, LoopId loop) {
    return static_cast<int>(s.fabric()[loop].um / (kLoopUm / 3));
}

LoopId turn(const Swatch& s, std::size_t behind) {
    return s.knitter().behind()[behind];
}

}  // namespace

TEST_CASE(
    "a yarn-over takes half a turn between purl and knit, one between two alike, one and a half before a "
    "purl") {
    // Craft: p yo k shortest, k yo p longest; the two mirrored holes come out unequal.
    for (const auto& [words, expected] : std::vector<std::pair<std::string, int>>{{"k2 yo k", 2},
                                                                                  {"k p yo k", 1},
                                                                                  {"k p yo p", 2},
                                                                                  {"k2 yo p", 3},
                                                                                  {"k2 yo k2tog", 2},
                                                                                  {"k2 yo p2tog", 3},
                                                                                  {"k p yo slf", 2},
                                                                                  {"k2 ryo k", 2},
                                                                                  {"k2 ryo p", 1},
                                                                                  {"k p ryo k", 3},
                                                                                  {"k p ryo p", 2}}) {
        for (const bool mirrored : {false, true}) {
            CAPTURE(words, mirrored);
            Swatch s = plainSwatch(8, 2, {Begin::bare, false, Habit::western, mirrored});
            s.work(words);
            CHECK(halfTurns(s, turn(s, 2)) == expected);
            CHECK(roundTrips(s.fabric()));
            // Taken back and worked the other way, it takes what that asks for.
            const std::string before = text(s.fabric());
            REQUIRE(s.knitter().tink());
            CHECK(halfTurns(s, turn(s, 2)) == 2);
            s.work(words.substr(words.rfind(' ') + 1));
            CHECK(text(s.fabric()) == before);
        }
    }
    // The second of two: from behind, a whole turn and what follows it.
    Swatch s = plainSwatch(8, 2);
    s.work("k2 yo yo p");
    CHECK(halfTurns(s, turn(s, 2)) == 2);
    CHECK(halfTurns(s, turn(s, 3)) == 3);
}

TEST_CASE("a yarn-over that ends or begins a row has one turn") {
    Swatch s = plainSwatch(6, 2);
    s.work("k5 p yo |");
    CHECK(halfTurns(s, s.knitter().ahead()[0]) == 2);
    s.work("k p");
    CHECK(halfTurns(s, hostOf(s.fabric(), turn(s, 0))) == 2);
    Swatch t = plainSwatch(6, 2);
    t.work("yo p");
    CHECK(halfTurns(t, turn(t, 0)) == 2);
}

TEST_CASE("wrapping twice: one loop through the stitch, one more turn close beside it") {
    for (const bool purl : {false, true}) {
        CAPTURE(purl);
        Swatch s = plainSwatch(6, 2);
        s.work("k2");
        const LoopId host = s.knitter().ahead()[0];
        REQUIRE(s.knitter().wrapped(2, purl));
        const LoopId stitch = turn(s, 2);
        const LoopId wrap = turn(s, 3);
        CHECK(form(s.fabric(), stitch) == (purl ? "p" : "k"));
        CHECK(hostOf(s.fabric(), stitch) == host);
        CHECK(form(s.fabric(), wrap) == "o");
        CHECK(s.fabric()[wrap].um == kLoopUm);
        CHECK(s.fabric()[stitch].strandUm < kStrandUm);
        CHECK(roundTrips(s.fabric()));
        // It comes undone as it was made: the wrap, then the stitch.
        REQUIRE(s.knitter().tink());
        REQUIRE(s.knitter().tink());
        CHECK(text(s.fabric()) == [&] {
            Swatch plain = plainSwatch(6, 2);
            plain.work("k2");
            return text(plain.fabric());
        }());
    }
}

TEST_CASE("a wrap let fall gives its yarn to its stitch: the same knot as a plain stitch, twice as tall") {
    for (const bool round : {false, true}) {
        CAPTURE(round);
        Swatch s = plainSwatch(6, 2, {Begin::bare, round});
        const std::int64_t before = s.fabric().totalUm();
        s.work("k2");
        REQUIRE(s.knitter().wrapped(3, false));
        const LoopId stitch = turn(s, 2);
        s.work("k3 |");
        s.work(round ? "k3" : "p3");
        REQUIRE(s.knitter().letFall());
        REQUIRE(s.knitter().letFall());
        s.work("*");
        CHECK(s.fabric()[stitch].um == 3 * kLoopUm);
        CHECK(roundTrips(s.fabric()));
        Swatch plain = plainSwatch(6, 2, {Begin::bare, round});
        plain.work("* | *");
        CHECK(s.knot() == plain.knot());
        CHECK(s.fabric().totalUm() - before > plain.fabric().totalUm() - before);
    }
    // Both wraps worked: a stitch more, and a hole below it.
    Swatch s = plainSwatch(6, 2);
    s.work("k2");
    REQUIRE(s.knitter().wrapped(2, false));
    s.work("k3 | p7");
    CHECK(s.knitter().behind().size() == 7);
    CHECK(roundTrips(s.fabric()));
}

TEST_CASE("let fall: a yarn-over is slack, a stitch hangs and may run, a half-hitch is knotted") {
    Swatch s = plainSwatch(6, 2);
    s.work("k3 yo k3 | p3");
    const std::int64_t yarn = s.fabric().totalUm();
    REQUIRE(s.knitter().letFall());
    s.work("*");
    CHECK(s.fabric().totalUm() == yarn + 3 * (kLoopUm + kStrandUm));
    Swatch plain = plainSwatch(6, 2);
    plain.work("* | *");
    CHECK(s.knot() == plain.knot());

    Swatch t = plainSwatch(6, 4);
    t.work("k2");
    const LoopId stitch = t.knitter().ahead()[0];
    REQUIRE(t.knitter().letFall());
    CHECK(t.fabric().isLoose(stitch));
    t.work("k3");
    CHECK(letRun(t.fabric(), 2) == 2);
    CHECK(roundTrips(t.fabric()));

    Swatch u(6, {Begin::backward});
    const std::string before = text(u.fabric());
    CHECK(u.knitter().letFall().error().why == Why::anchored);
    CHECK(text(u.fabric()) == before);
    u.work("*");
    const std::string worked = text(u.fabric());
    CHECK(u.knitter().letFall().error().why == Why::notEnoughStitches);
    CHECK(u.knitter().wrapped(2, false).error().why == Why::notEnoughStitches);
    CHECK(text(u.fabric()) == worked);
}

}  // namespace loopmend
