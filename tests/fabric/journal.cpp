// SPDX-License-Identifier: MIT
//
// Journal undo: a mark, anything at all, and back to exactly the fabric that was marked.
#include <rapidcheck/catch.h>
#include <catch2/catch.hpp>

#include "random_knitting.h"
#include "swatch.h"

namespace loopmend {

TEST_CASE("going back to a mark after a row and hands' moves gives back both lines") {
    for (int seed = 0; seed < cases(300); ++seed) {
        CAPTURE(seed);
        Dice dice(static_cast<std::uint64_t>(seed));
        Swatch s = randomSwatch(dice, 3);
        const Itinerary before = s.lines();
        const Side facing = s.knitter().facing();
        const Knitter::State mark = s.knitter().mark();
        randomRow(s, dice);
        s.next();
        for (int i = 0; i < 8; ++i) randomHandMove(s, dice);
        s.knitter().rollBack(mark);
        const Itinerary after = s.lines();
        REQUIRE(after.knot == before.knot);
        REQUIRE(after.measure == before.measure);
        REQUIRE(s.knitter().facing() == facing);
    }
}

TEST_CASE("going back to a mark after any primitives gives back both lines") {
    rc::prop("marks nest: the newer one and the older one each give back what they marked",
             [](const std::vector<std::uint16_t>& choices) {
                 Dice dice(choices);
                 Swatch s = randomSwatch(dice, 2, 6);
                 Fabric& f = s.fabric();
                 const Itinerary before = s.lines();
                 const JournalMark outer = f.mark();
                 for (int i = 0; i < 20; ++i) randomPrimitive(f, dice);
                 const Itinerary between = s.lines();
                 const JournalMark inner = f.mark();
                 for (int i = 0; i < 20; ++i) randomPrimitive(f, dice);
                 f.rollBack(inner);
                 RC_ASSERT(text(f) == between.knot + "\n" + between.measure);
                 for (int i = 0; i < 5; ++i) randomPrimitive(f, dice);
                 f.rollBack(outer);
                 RC_ASSERT(text(f) == before.knot + "\n" + before.measure);
             });
    for (int seed = 0; seed < cases(200); ++seed) {
        CAPTURE(seed);
        Dice dice(static_cast<std::uint64_t>(seed));
        Swatch s = randomSwatch(dice, 2, 6);
        const std::string before = text(s.fabric());
        const JournalMark mark = s.fabric().mark();
        int done = 0;
        for (int i = 0; i < 60; ++i) done += randomPrimitive(s.fabric(), dice) ? 1 : 0;
        REQUIRE(done > 5);
        s.fabric().rollBack(mark);
        REQUIRE(text(s.fabric()) == before);
    }
}

TEST_CASE("what a rolled-back journal gives back can be worked on as if nothing had been") {
    for (int seed = 0; seed < cases(100); ++seed) {
        CAPTURE(seed);
        Dice dice(static_cast<std::uint64_t>(seed));
        Swatch s = randomSwatch(dice, 2);
        Dice again(static_cast<std::uint64_t>(seed));
        Swatch t = randomSwatch(again, 2);
        const Knitter::State mark = s.knitter().mark();
        randomRow(s, dice);
        for (int i = 0; i < 5; ++i) randomHandMove(s, dice);
        s.knitter().rollBack(mark);
        Dice same(77);
        Dice too(77);
        randomRow(s, same);
        s.next();
        randomRow(t, too);
        t.next();
        REQUIRE(text(s.fabric()) == text(t.fabric()));
    }
}

TEST_CASE("one stitch costs the journal at most 200 bytes") {
    Swatch s = plainSwatch(400, 20);
    Fabric& f = s.fabric();
    std::size_t most = 0;
    for (const std::string word : {"k", "k", "ktbl", "p", "yo", "k2tog", "ssk", "sl", "kfb", "k", "m1l"}) {
        f.forgetJournal();
        (void)f.mark();
        const std::size_t before = f.journalBytes();
        s.work(word);
        const std::size_t spent = f.journalBytes() - before;
        INFO(word << " " << spent << " bytes");
        CHECK(spent <=
              (word == "k" || word == "p" || word == "ktbl" || word == "yo" || word == "sl" ? 200U : 400U));
        most = std::max(most, spent);
    }
    CHECK(most > 0);
    f.forgetJournal();
    CHECK(f.journalBytes() == 0);
}

TEST_CASE("a column that runs costs the journal its rungs, not their square") {
    const auto spent = [](int rows) {
        Swatch s = plainSwatch(6, rows);
        REQUIRE(s.knitter().drop(s.knitter().ahead()[2]));
        s.fabric().forgetJournal();
        (void)s.fabric().mark();
        REQUIRE(letRun(s.fabric()) == rows);
        return s.fabric().journalBytes();
    };
    const std::size_t small = spent(50);
    const std::size_t large = spent(200);
    CHECK(large < 6 * small);
}

TEST_CASE("a copy of a fabric is a fabric of its own") {
    Swatch s = plainSwatch(6, 3);
    s.work("k2 k2tog yo");
    const std::string before = text(s.fabric());
    Fabric copy = s.fabric();
    CHECK(text(copy) == before);
    s.work("k2 |");
    letRun(s.fabric());
    CHECK(text(copy) == before);
    const std::string other = text(s.fabric());
    const LoopId held = copy[copy[copy.needle()].first].loop;
    REQUIRE(copy.letGo(held, copy.needle(), false));
    letRun(copy);
    CHECK(text(copy) != before);
    CHECK(text(s.fabric()) == other);
    copy = s.fabric();
    CHECK(text(copy) == other);
}

TEST_CASE("a copy keeps the journal, so that both can go back") {
    Swatch s = plainSwatch(5, 2);
    const std::string before = text(s.fabric());
    const JournalMark mark = s.fabric().mark();
    s.work("k2 k2tog");
    Fabric copy = s.fabric();
    copy.rollBack(mark);
    CHECK(text(copy) == before);
    CHECK(text(s.fabric()) != before);
    s.fabric().rollBack(mark);
    CHECK(text(s.fabric()) == before);
}

}  // namespace loopmend
