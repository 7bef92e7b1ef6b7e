// SPDX-License-Identifier: MIT
//
// Taking back stitch by stitch: what comes back whole, and the few things that leave what they leave in a
// knitter's hand.
#include <catch2/catch.hpp>

#include "random_knitting.h"
#include "swatch.h"

namespace loopmend {

namespace {

/// Takes back n stitches, slips included.
void takeBack(Swatch& s, int n) {
    for (int i = 0; i < n; ++i) {
        const Result<void> done = s.knitter().tink();
        if (!done) FAIL(sentence(done.error()));
    }
}

/// Works one word in the middle of a row and takes it back: the lines before and after.
struct Undone {
    Itinerary before;
    Itinerary after;
};
Undone undone(const std::string& word, int times, int rows = 2, int at = 2) {
    Swatch s = plainSwatch(8, rows);
    for (int i = 0; i < at; ++i) s.work(rows % 2 == 0 ? "k" : "p");
    Undone u;
    u.before = s.lines();
    s.work(word);
    CHECK(s.lines().knot != u.before.knot);
    takeBack(s, times);
    u.after = s.lines();
    CHECK(roundTrips(s.fabric()));
    return u;
}

}  // namespace

TEST_CASE("k, p, twisted stitches and every decrease come back whole") {
    for (const char* word :
         {"k",        "p",     "ktbl",     "ptbl", "kfront",   "k2tog",    "ssk",   "skp",
          "k2togtbl", "p2tog", "p2togtbl", "ssp",  "spp",      "k3tog",    "p3tog", "sssk",
          "sk2p",     "sp2p",  "s2kp",     "s2pp", "k3togtbl", "p3togtbl", "yo",    "ryo"}) {
        for (const int rows : {2, 3}) {
            for (const int at : {0, 2, 5}) {
                CAPTURE(word, rows, at);
                const Undone u = undone(word, 1, rows, at);
                CHECK(u.after.knot == u.before.knot);
                CHECK(u.after.measure == u.before.measure);
            }
        }
    }
}

TEST_CASE("several into one come back one by one, and slips go back") {
    for (const auto& [word, times] : std::vector<std::pair<std::string, int>>{{"kfb", 2},
                                                                              {"kpk", 3},
                                                                              {"kyok", 3},
                                                                              {"kyokyok", 5},
                                                                              {"pfb", 2},
                                                                              {"pkp", 3},
                                                                              {"pyop", 3},
                                                                              {"sl", 1},
                                                                              {"slf", 1}}) {
        for (const int rows : {2, 3}) {
            CAPTURE(word, rows);
            const Undone u = undone(word, times, rows);
            CHECK(u.after.knot == u.before.knot);
            CHECK(u.after.measure == u.before.measure);
        }
    }
    // A slipped stitch goes back purlwise: it keeps the mount it was slipped to, which is the needle's alone.
    const Undone knitwise = undone("slk", 1);
    CHECK(knitwise.after.knot == knitwise.before.knot);
    CHECK(knitwise.after.measure != knitwise.before.measure);
    // An eastern loop slipped knitwise is wound a full turn; slipped back purlwise it stays wound.
    Swatch s = plainSwatch(6, 2, {Begin::bare, false, Habit::eastern});
    const std::string before = s.knot();
    s.work("slk");
    takeBack(s, 1);
    CHECK(s.knot() != before);
    CHECK(s.knot().find("+2") != std::string::npos);
}

TEST_CASE("loops come back sitting right leg in front, whatever they sat like") {
    for (const Habit habit : {Habit::western, Habit::eastern, Habit::combination}) {
        Swatch s = plainSwatch(6, 2, {Begin::bare, false, habit});
        s.work("k2");
        const Itinerary before = s.lines();
        s.work("k2tog");
        takeBack(s, 1);
        CHECK(s.knot() == before.knot);
        for (const LoopId loop : {s.knitter().ahead()[0], s.knitter().ahead()[1]})
            CHECK(s.fabric()[s.fabric().heldOn(loop, s.fabric().needle())].state.mount == Mount::western);
        if (habit == Habit::western) CHECK(s.lines().measure == before.measure);
    }
}

TEST_CASE("a whole row comes back, and then the row before it") {
    for (int seed = 0; seed < cases(200); ++seed) {
        CAPTURE(seed);
        Dice dice(static_cast<std::uint64_t>(seed));
        Start start;
        start.begin = seed % 3 == 0 ? Begin::longTail : Begin::bare;
        start.round = seed % 4 == 0;
        start.mirrored = seed % 5 == 0;
        Swatch s(10, start);
        std::vector<Itinerary> rows;
        for (int r = 0; r < 4; ++r) {
            rows.push_back(s.lines());
            while (s.knitter().aheadCount() > 0) {
                const auto width = static_cast<int>(s.knitter().ahead().size() + s.knitter().behind().size());
                static const std::vector<std::string> kWords = {
                    "k",    "p",    "ktbl", "ptbl", "k2tog", "ssk", "skp", "p2tog", "ssp", "spp",
                    "sk2p", "s2kp", "s2pp", "kfb",  "sl",    "slf", "kpk", "k",     "p",   "k3tog"};
                const std::string& word = dice.pick(kWords);
                if (width < 6 && word.size() > 2 && word[0] != 'k') continue;
                (void)workWord(s.knitter(), word);
            }
            s.next();
        }
        for (int r = 3; r >= 0; --r) {
            REQUIRE(s.knitter().backOneRow());
            while (s.knitter().rowBegun()) REQUIRE(s.knitter().tink());
            const Itinerary& before = rows[static_cast<std::size_t>(r)];
            REQUIRE(s.knot() == before.knot);
            REQUIRE(s.lines().measure == before.measure);
        }
    }
}

TEST_CASE("after a make-one the bar stays on the needle until it is let fall") {
    for (const char* word : {"m1l", "m1r", "m1o", "m1lp"}) {
        CAPTURE(word);
        Swatch s = plainSwatch(8, 2);
        s.work("k3");
        const std::string before = s.knot();
        s.work(word);
        takeBack(s, 1);
        const LoopId bar = s.knitter().ahead().front();
        CHECK(s.knot() != before);
        CHECK(s.fabric().linkCount(bar) == 0);
        CHECK(s.knitter().aheadCount() == 6);
        REQUIRE(s.knitter().drop(bar));
        CHECK(s.knot() == before);
        CHECK(s.knitter().aheadCount() == 5);
    }
}

TEST_CASE("after a knit below the upper loop stays without links") {
    Swatch s = plainSwatch(8, 3);
    s.work("p3");
    const std::string before = s.knot();
    const std::vector<LoopId> ahead = s.knitter().ahead();
    const LoopId upper = ahead.front();
    const LoopId lower = hostOf(s.fabric(), upper);
    s.work("pbelow");
    takeBack(s, 1);
    CHECK(s.knot() != before);
    CHECK(s.fabric().linkCount(upper) == 0);
    CHECK(s.fabric().isHeld(upper));
    CHECK(s.fabric().isHeld(lower));
    CHECK(s.fabric().isLive(lower));
    CHECK(s.knitter().aheadCount() == 6);
}

TEST_CASE("a lifted increase comes back, and leaves nothing on the needle") {
    for (const auto& [word, times] : std::vector<std::pair<std::string, int>>{{"rli", 2}, {"lli", 1}}) {
        CAPTURE(word);
        const Undone u = undone(word, times, 4);
        CHECK(u.after.knot == u.before.knot);
        CHECK(u.after.measure == u.before.measure);
    }
}

TEST_CASE("a dropped yarn-over and a dropped wrap are slack") {
    Swatch s = plainSwatch(8, 2);
    s.work("k3 yo k2 * |");
    Swatch t = plainSwatch(8, 2);
    t.work("* |");
    const LoopId yarnOver = s.knitter().ahead()[5];
    REQUIRE(s.fabric().linkCount(yarnOver) == 0);
    REQUIRE(s.knitter().drop(yarnOver));
    CHECK(s.knot() == t.knot());
    CHECK(s.fabric().totalUm() > t.fabric().totalUm());  // the yarn is there, slack

    Swatch w = plainSwatch(8, 2);
    w.work("k3 yo yo * |");
    REQUIRE(w.knitter().drop(w.knitter().ahead()[5]));  // one wrap of two let fall
    Swatch one = plainSwatch(8, 2);
    one.work("k3 yo * |");
    CHECK(w.knot() == one.knot());
}

TEST_CASE("a bind-off comes back from its last end, stitch by stitch") {
    for (const int n : {1, 2, 4}) {
        CAPTURE(n);
        Swatch s = plainSwatch(8, 2);
        s.work("k2");
        const std::string before = s.knot();
        s.work("k bo" + std::to_string(n));
        CHECK(s.knitter().behind().size() == 3);
        takeBack(s, n + 1);
        CHECK(s.knot() == before);
        CHECK(s.knitter().aheadCount() == 6);
        CHECK(s.knitter().behind().size() == 2);
    }
}

TEST_CASE("half-hitches cast on in mid-row pull flat again") {
    Swatch s = plainSwatch(6, 2);
    s.work("k2");
    const Itinerary before = s.lines();
    s.work("co3");
    takeBack(s, 3);
    CHECK(s.knot() == before.knot);
    CHECK(s.lines().measure == before.measure);
}

TEST_CASE("the half turn of a half-hitch is not put back by taking back the stitch in it") {
    // Turns belong to the needle; once a stitch was drawn through, the hitch is a loop like another.
    Swatch s(5, {Begin::backward});
    CHECK(s.knot().find("1-1") != std::string::npos);
    s.work("k2");
    takeBack(s, 2);
    CHECK(s.knot().find("1-1") != std::string::npos);
    CHECK(s.knot().find("5-1") == std::string::npos);
}

TEST_CASE("a stitch of a further colour comes back with the float that led to it") {
    for (const Side floats : {Side::wrong, Side::right}) {
        Swatch s = plainSwatch(8, 2);
        const YarnId b = s.fabric().addYarn('B', kLoopUm, kStrandUm);
        std::vector<Itinerary> lines;
        const std::vector<bool> second = {false, true, false, false, true, true, false, true};
        for (const bool other : second) {
            lines.push_back(s.lines());
            s.knitter().takeYarn(other ? b : s.yarn(), floats);
            s.work("k");
        }
        for (std::size_t i = second.size(); i-- > 0;) {
            CAPTURE(i);
            s.knitter().takeYarn(second[i] ? b : s.yarn(), floats);
            takeBack(s, 1);
            CHECK(s.knot() == lines[i].knot);
            CHECK(s.lines().measure == lines[i].measure);
        }
    }
}

TEST_CASE("a stitch of a colour not in the hand comes back all the same") {
    Swatch s = plainSwatch(8, 2);
    const YarnId b = s.fabric().addYarn('B', kLoopUm, kStrandUm);
    s.work("k2");
    const Itinerary before = s.lines();
    s.knitter().takeYarn(b);
    s.work("k");
    s.knitter().takeYarn(s.yarn());
    takeBack(s, 1);
    CHECK(s.knot() == before.knot);
}

TEST_CASE("stripes come back row by row, each from its own yarn") {
    Swatch s(6);
    const YarnId b = s.fabric().addYarn('B', kLoopUm, kStrandUm);
    std::vector<Itinerary> rows;
    for (const bool other : {false, false, true, true, false, false}) {
        rows.push_back(s.lines());
        s.knitter().takeYarn(other ? b : s.yarn());
        s.work("sl * |");
    }
    for (std::size_t r = rows.size(); r-- > 0;) {
        CAPTURE(r);
        REQUIRE(s.knitter().backOneRow());
        while (s.knitter().rowBegun()) REQUIRE(s.knitter().tink());
        CHECK(s.knot() == rows[r].knot);
        CHECK(s.lines().measure == rows[r].measure);
    }
}

TEST_CASE("a fallen loop passed on the way is come by again on the way back") {
    Swatch s = plainSwatch(8, 2);
    s.work("k2");
    const LoopId left = s.knitter().ahead()[1];
    REQUIRE(s.knitter().drop(left));
    const std::string before = text(s.fabric());
    s.work("k3");
    CHECK(rungs(s.fabric(), left).size() == 1);
    takeBack(s, 3);
    CHECK(rungs(s.fabric(), left).empty());
    CHECK(text(s.fabric()) == before);
}

TEST_CASE("there is nothing to take back where nothing was worked") {
    Swatch s = plainSwatch(6, 2);
    CHECK(s.knitter().tink().error().why == Why::nothingToUndo);
    CHECK(s.knitter().slipBack().error().why == Why::nothingBefore);
    s.work("k");
    CHECK(s.knitter().backOneRow().error().why == Why::rowNotWorked);
    takeBack(s, 1);
    CHECK(s.knitter().tink().error().why == Why::nothingToUndo);
    // A cast-on with something in its loops does not come back stitch by stitch.
    Swatch tail(4, {Begin::longTail});
    REQUIRE(tail.knitter().backOneRow());
    CHECK(tail.knitter().rowBegun());
}

TEST_CASE("the two undos are never mixed: hands' undo can itself be undone by the journal") {
    Swatch s = plainSwatch(8, 2);
    s.work("k3 m1l k");
    const std::string before = text(s.fabric());
    const Knitter::State mark = s.knitter().mark();
    takeBack(s, 3);
    REQUIRE(s.knitter().drop(s.knitter().ahead()[1]));
    letRun(s.fabric(), 2);
    s.knitter().rollBack(mark);
    CHECK(text(s.fabric()) == before);
}

}  // namespace loopmend
