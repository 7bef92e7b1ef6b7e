// SPDX-License-Identifier: MIT
//
// Further yarns: floats, stripes, and what running does to them. Common practice.
#include <catch2/catch.hpp>

#include "random_knitting.h"
#include "swatch.h"

namespace loopmend {

namespace {

/// One row of two colours, `A` and `B` letter by letter as the knitter works it.
void colourRow(Swatch& s, YarnId b, const std::string& letters, Side floats = Side::wrong) {
    for (const char letter : letters) {
        s.knitter().takeYarn(letter == 'B' ? b : s.yarn(), floats);
        s.work(s.knitter().facing() == Side::right ? "k" : "p");
    }
}

}  // namespace

TEST_CASE("a float goes by what the stitches of the other colour stand on, on the side it was led") {
    for (const Side side : {Side::wrong, Side::right}) {
        Swatch s = plainSwatch(8, 2);
        const YarnId b = s.fabric().addYarn('B', kLoopUm, kStrandUm);
        const std::vector<LoopId> below = s.knitter().ahead();
        colourRow(s, b, "AABBABBA", side);
        const Fabric& f = s.fabric();
        const std::vector<PassId> floats = passesIn(f);
        REQUIRE(floats.size() == 5);  // A over 2 and 2, B over 1
        for (const PassId p : floats) CHECK(f.passSide(p) == side);
        CHECK(f.passed(floats[0]) == below[2]);
        CHECK(f.passed(floats[1]) == below[3]);
        CHECK(f[floats[4]].yarn == b);
        CHECK(f.passed(floats[4]) == below[4]);
        CHECK(roundTrips(f));
    }
}

TEST_CASE("floats are right on both faces and in either direction") {
    for (const bool mirrored : {false, true}) {
        Swatch s(6, {Begin::bare, false, Habit::western, mirrored});
        const YarnId b = s.fabric().addYarn('B', kLoopUm, kStrandUm);
        colourRow(s, b, "ABBABA");
        s.next();
        colourRow(s, b, "ABABBA");
        const Fabric& f = s.fabric();
        for (const PassId p : passesIn(f)) {
            CHECK(f.passSide(p) == Side::wrong);
            // The strand runs on from the loop before it, and the loops it names were worked over in the
            // other yarn.
            CHECK(f.run(p) == f.run(f.loopBefore(p)));
            const LoopId over = f[f[f.passed(p)].firstKid].loop;
            CHECK(f[over].yarn != f[p].yarn);
        }
        CHECK(passesIn(f).size() == 4 + 4);
        CHECK(roundTrips(f));
    }
}

TEST_CASE("no strand beside a yarn-over or a loop cast on: there is nothing below to go by") {
    Swatch s = plainSwatch(6, 2);
    const YarnId b = s.fabric().addYarn('B', kLoopUm, kStrandUm);
    s.work("k2");
    s.knitter().takeYarn(b);
    s.work("yo");
    s.knitter().takeYarn(s.yarn());
    s.work("* |");
    CHECK(passesIn(s.fabric()).empty());
    CHECK(roundTrips(s.fabric()));
}

TEST_CASE("stripes have no floats: a colour carried up the edge goes by nothing") {
    Swatch s(6);
    const YarnId b = s.fabric().addYarn('B', kLoopUm, kStrandUm);
    for (int r = 0; r < 8; ++r) {
        s.knitter().takeYarn(r / 2 % 2 == 0 ? s.yarn() : b);
        s.work("* |");
    }
    CHECK(passesIn(s.fabric()).empty());
    CHECK(roundTrips(s.fabric()));
}

TEST_CASE("a slip between stitches of another colour: the strand goes by all of them in order") {
    Swatch s = plainSwatch(6, 2);
    const YarnId b = s.fabric().addYarn('B', kLoopUm, kStrandUm);
    const std::vector<LoopId> below = s.knitter().ahead();
    colourRow(s, b, "AB");
    s.knitter().takeYarn(s.yarn());
    s.work("sl k");
    std::vector<LoopId> passed;
    for (const PassId p : passesIn(s.fabric())) {
        if (s.fabric()[p].yarn == s.yarn()) passed.push_back(s.fabric().passed(p));
    }
    CHECK(passed == std::vector<LoopId>{below[1], below[2]});
}

TEST_CASE("a stranded column let down leaves the floats on their side, at their height") {
    Swatch s = plainSwatch(8, 2);
    const YarnId b = s.fabric().addYarn('B', kLoopUm, kStrandUm);
    for (const char* row : {"AABAABAA", "ABAABAAB", "BAABAABA", "AABABBAA"}) {
        colourRow(s, b, row);
        s.next();
    }
    for (std::size_t column = 0; column < 8; ++column) {
        CAPTURE(column);
        const Knitter::State mark = s.knitter().mark();
        const std::int64_t yarn = s.fabric().totalUm();
        const auto floats = passesIn(s.fabric()).size();
        REQUIRE(s.knitter().drop(s.knitter().ahead()[column]));
        REQUIRE(letRun(s.fabric(), 4) == 4);
        const LoopId foot = hanging(s.fabric());
        int longOnes = 0;
        for (const PassId p : rungs(s.fabric(), foot)) longOnes += isLongRung(s.fabric(), p) ? 1 : 0;
        CHECK(longOnes == 4);
        CHECK(passesIn(s.fabric()).size() == floats + 4);
        CHECK(s.fabric().totalUm() == yarn);
        CHECK(roundTrips(s.fabric()));
        s.knitter().rollBack(mark);
    }
}

TEST_CASE("a yarn that left nothing but strands over a ladder is no part of the knot, and is not lost") {
    std::vector<std::string> knots;
    for (const bool other : {false, true}) {
        Swatch s = plainSwatch(6, 2);
        const YarnId b = s.fabric().addYarn('B', kLoopUm, kStrandUm);
        s.work("k2");
        const LoopId foot = s.knitter().ahead().front();
        if (other) s.knitter().takeYarn(b);
        const LoopId inlaid = s.work("k");
        s.knitter().takeYarn(s.yarn());
        s.work("* |");
        REQUIRE(s.knitter().drop(inlaid));
        REQUIRE(letRun(s.fabric(), 1) == 1);
        const Fabric g = reloaded(s.fabric());
        const LoopId there = sameLoop(s.fabric(), foot, g);
        // A's strand runs past where the other yarn's loop was: it is a float, and now a rung like the other.
        CHECK(rungs(g, there).size() == (other ? 2U : 1U));
        CHECK(roundTrips(s.fabric()));
        knots.push_back(s.knot());
        if (other) {
            CHECK(s.knot().find("yarn B") == std::string::npos);
            CHECK(s.lines().measure.find("yarn B ball") != std::string::npos);
            // From the reloaded text the loop can still be hooked up in its own yarn.
            Fabric h = reloaded(s.fabric());
            const LoopId at = sameLoop(s.fabric(), foot, h);
            for (const PassId p : rungs(h, at)) {
                if (h[h[p].yarn].flags.colour != 'B') continue;
                Hooking hooking;
                hooking.rung = p;
                hooking.through = {{at, 0, 0}};
                REQUIRE(hook(h, hooking));
                break;
            }
            CHECK(knotOf(h).find("yarn B") != std::string::npos);
        }
    }
    CHECK(knots[0] == knots[1]);
}

TEST_CASE("two-coloured random fabric: any column run and hooked again is as it was") {
    for (int seed = 0; seed < cases(100); ++seed) {
        CAPTURE(seed);
        Dice dice(static_cast<std::uint64_t>(seed));
        Swatch s = plainSwatch(8, 1);
        const YarnId b = s.fabric().addYarn('B', kLoopUm, kStrandUm);
        for (int r = 0; r < 4; ++r) {
            randomTwoColourRow(s, b, dice);
            s.next();
        }
        Fabric& f = s.fabric();
        const std::string before = text(f);
        const LoopId top = dice.pick(s.knitter().ahead());
        std::vector<LinkForm> forms;
        LoopId at = top;
        for (int i = 0; i < 4; ++i) {
            forms.push_back(f[f.linksOf(at).front()].form);
            at = hostOf(f, at);
        }
        REQUIRE(s.knitter().drop(top));
        REQUIRE(letRun(f, 4) == 4);
        LoopId now = hanging(f);
        for (int i = 4; i-- > 0;) {
            int rung = 0;
            for (const PassId p : rungs(f, now)) {
                if (isLongRung(f, p)) break;
                ++rung;
            }
            now = hookUp(f, now, forms[static_cast<std::size_t>(i)].side,
                         forms[static_cast<std::size_t>(i)].twist, rung);
        }
        seat(f, now);
        REQUIRE(text(f) == before);
    }
}

}  // namespace loopmend
