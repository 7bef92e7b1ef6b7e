// SPDX-License-Identifier: MIT
//
// How fabric comes undone. A run looks at links, tools and knotted feet and at nothing else; each rule here
// is common practice unless a source stands beside it.
#include <rapidcheck/catch.h>
#include <catch2/catch.hpp>
#include <set>

#include "random_knitting.h"
#include "swatch.h"

namespace loopmend {

namespace {

/// A stitch's column dropped and let run.
int dropAndRun(Swatch& s, LoopId standing, int tug = 1 << 30) {
    REQUIRE(s.knitter().drop(topOf(s.knitter(), standing)));
    return letRun(s.fabric(), tug);
}

std::set<std::int32_t> ancestorsOf(const Fabric& f, LoopId loop) {
    std::set<std::int32_t> seen;
    std::vector<LoopId> open{loop};
    while (!open.empty()) {
        const LoopId at = open.back();
        open.pop_back();
        if (!seen.insert(at.value).second) continue;
        for (const LinkId l : f.linksOf(at)) open.push_back(f[l].host);
    }
    return seen;
}

std::vector<LoopId> somethings(const Fabric& f) {
    std::vector<LoopId> loops;
    for (const LoopId loop : loopsOf(f)) {
        if (!f.isNothing(loop)) loops.push_back(loop);
    }
    return loops;
}

/// Loose loops in any order, until none can run.
void runInAnyOrder(Fabric& f, Dice& dice) {
    for (;;) {
        std::vector<LoopId> ready;
        for (const LoopId loop : loopsOf(f)) {
            if (f.isLoose(loop) && (f[loop].firstLink || !f.passesOf(loop).empty())) ready.push_back(loop);
        }
        if (ready.empty()) return;
        REQUIRE(undo(f, dice.pick(ready)));
    }
}

}  // namespace

TEST_CASE("a run goes down only, toward the cast-on, and along its own column") {
    // Textbooks of weft knitting: the fabric unroves from the course knitted last.
    for (int seed = 0; seed < cases(300); ++seed) {
        CAPTURE(seed);
        Dice dice(static_cast<std::uint64_t>(seed));
        Swatch s = randomSwatch(dice, 5);
        Fabric& f = s.fabric();
        REQUIRE(looseLoops(f).empty());
        const std::vector<LoopId> before = somethings(f);
        const LoopId dropped = dice.pick(s.knitter().ahead());
        const std::set<std::int32_t> mayGo = ancestorsOf(f, dropped);
        REQUIRE(s.knitter().drop(dropped));
        letRun(f);
        for (const LoopId loop : before) {
            if (!f.has(loop) || f.isNothing(loop)) REQUIRE(mayGo.count(loop.value) == 1);
        }
    }
}

TEST_CASE("a run keeps all the yarn") {
    rc::prop("exactly, after any drops and tugs", [](const std::vector<std::uint16_t>& choices) {
        Dice dice(choices);
        Swatch s = randomSwatch(dice, 4);
        Fabric& f = s.fabric();
        const std::int64_t yarn = f.totalUm();
        for (int i = 0; i < 3 && s.knitter().aheadCount() > 0; ++i) {
            (void)s.knitter().drop(dice.pick(s.knitter().ahead()));
            letRun(f, 1 + dice.below(12));
            RC_ASSERT(f.totalUm() == yarn);
        }
        letRun(f);
        RC_ASSERT(f.totalUm() == yarn);
        RC_ASSERT(reloaded(f).totalUm() == yarn);
    });
}

TEST_CASE("the order in which loose loops come out does not change the knot") {
    for (int seed = 0; seed < cases(200); ++seed) {
        CAPTURE(seed);
        std::set<std::string> knots;
        for (std::uint64_t order = 0; order < 4; ++order) {
            Dice dice(static_cast<std::uint64_t>(seed));
            Swatch s = randomSwatch(dice, 5);
            for (int i = 0; i < 2 && s.knitter().aheadCount() > 0; ++i)
                (void)s.knitter().drop(dice.pick(s.knitter().ahead()));
            if (order == 0) {
                letRun(s.fabric());
            } else {
                Dice other(order * 1000 + static_cast<std::uint64_t>(seed));
                runInAnyOrder(s.fabric(), other);
            }
            knots.insert(s.knot());
            REQUIRE(roundTrips(s.fabric()));
        }
        REQUIRE(knots.size() == 1);
    }
}

TEST_CASE("nor does it where a lifeline catches what is left, unless several loops share a stitch below") {
    // The strands over a caught loop are fixed, and so part of the knot.
    for (int seed = 0; seed < cases(100); ++seed) {
        CAPTURE(seed);
        std::set<std::string> knots;
        for (std::uint64_t order = 0; order < 3; ++order) {
            Dice dice(static_cast<std::uint64_t>(seed));
            Swatch s(12);
            Fabric& f = s.fabric();
            for (int r = 0; r < 5; ++r) {
                randomPlainRow(s, dice, true);
                s.next();
                if (r != 1) continue;
                const ToolId lifeline = f.addTool(ToolKind::lifeline);
                for (HeldId h = f[f.needle()].first; h; h = f[h].next)
                    REQUIRE(f.hold(f[h].loop, lifeline, HeldId{}, Mount::western));
            }
            for (int i = 0; i < 3; ++i) {
                const std::vector<LoopId> ahead = s.knitter().ahead();
                if (!ahead.empty()) (void)s.knitter().drop(dice.pick(ahead));
            }
            Dice other(order * 1000 + static_cast<std::uint64_t>(seed));
            runInAnyOrder(f, other);
            knots.insert(s.knot());
        }
        REQUIRE(knots.size() == 1);
    }
}

TEST_CASE("a run of k rows leaves k rungs, each with a stitch's yarn") {
    Swatch s = plainSwatch(6, 5);
    Fabric& f = s.fabric();
    const std::int32_t loops = f.loopCount();
    const std::int64_t yarn = f.totalUm();
    REQUIRE(s.knitter().drop(s.knitter().ahead()[2]));
    CHECK(letRun(f) == 5);
    CHECK(loops - f.loopCount() == 5);
    const LoopId foot = hanging(f);
    CHECK(f[foot].flags.anchored == 1);  // down to the cast-on and no farther
    CHECK(rungs(f, foot).size() == 5);
    for (const PassId rung : rungs(f, foot)) {
        CHECK(rungUm(f, rung) == kLoopUm);
        CHECK(isLongRung(f, rung));
    }
    CHECK(f.totalUm() == yarn);
}

TEST_CASE("a run forks at a decrease into as many loops as it took") {
    for (const auto& [word, feet] : std::vector<std::pair<std::string, std::size_t>>{{"k2tog", 2},
                                                                                     {"ssk", 2},
                                                                                     {"skp", 2},
                                                                                     {"p2tog", 2},
                                                                                     {"ssp", 2},
                                                                                     {"spp", 2},
                                                                                     {"k2togtbl", 2},
                                                                                     {"k3tog", 3},
                                                                                     {"p3tog", 3},
                                                                                     {"sssk", 3},
                                                                                     {"sk2p", 3},
                                                                                     {"sp2p", 3},
                                                                                     {"s2kp", 3},
                                                                                     {"s2pp", 3}}) {
        CAPTURE(word);
        Swatch s = plainSwatch(8, 2);
        const std::vector<LoopId> below = s.knitter().ahead();
        s.work("k2");
        const LoopId decrease = s.work(word);
        s.work("* |");
        s.rows(2);
        dropAndRun(s, decrease, 3);  // two rows above it, and the decrease
        const std::vector<LoopId> loose = looseLoops(s.fabric());
        CHECK(loose.size() == feet);
        for (const LoopId loop : loose) CHECK(std::find(below.begin(), below.end(), loop) != below.end());
        // They hang side by side where the decrease hung.
        std::size_t places = 0;
        for (HeldId h = s.fabric()[ToolId{0}].first; h; h = s.fabric()[h].next)
            places += s.fabric()[h].state.hanging;
        CHECK(places == feet);
    }
}

TEST_CASE("a run ends at a yarn-over and leaves only slack") {
    Swatch s = plainSwatch(6, 2);
    s.work("k3");
    const LoopId yarnOver = s.work("yo");
    s.work("* |");
    s.rows(3);
    const std::int32_t before = s.fabric().loopCount();
    dropAndRun(s, yarnOver);
    CHECK(before - s.fabric().loopCount() == 4);
    CHECK(looseLoops(s.fabric()).empty());
    CHECK(passesIn(s.fabric()).empty());
}

TEST_CASE("a run ends at a made stitch: the bar it was lifted from relaxes") {
    for (const char* word : {"m1l", "m1r", "m1o"}) {
        CAPTURE(word);
        Swatch s = plainSwatch(6, 2);
        const std::string bar = s.knot();
        s.work("k3");
        const LoopId made = s.work(word);
        s.work("* |");
        s.rows(3);
        const std::int32_t before = s.fabric().loopCount();
        dropAndRun(s, made);
        CHECK(before - s.fabric().loopCount() == 5);  // four stitches and the lifted bar
        CHECK(looseLoops(s.fabric()).empty());
        Swatch never = plainSwatch(6, 6);
        CHECK(s.knot() == never.knot());
    }
}

TEST_CASE("a run ends where a sibling holds the stitch below") {
    for (const std::string word : {"kfb", "kpk", "kyok", "rli", "lli"}) {
        CAPTURE(word);
        Swatch s = plainSwatch(6, 4);
        s.work("k2");
        LoopId made = s.work(word);
        if (word == "rli") made = s.knitter().behind()[2];  // the lifted one; the stitch itself came after
        s.work("* |");
        s.rows(2);
        const std::int32_t before = s.fabric().loopCount();
        dropAndRun(s, made);
        CHECK(before - s.fabric().loopCount() == 3);
        CHECK(looseLoops(s.fabric()).empty());
    }
}

TEST_CASE("a run falls two rows at once at a slipped stitch, and its strand stays on its own side") {
    for (const bool inFront : {false, true}) {
        CAPTURE(inFront);
        Swatch s = plainSwatch(6, 2);
        const LoopId slipped = s.knitter().ahead()[2];
        s.work(inFront ? "k2 slf * |" : "k2 sl * |");
        s.rows(2);
        Fabric& f = s.fabric();
        const std::string before = text(f);
        CHECK(dropAndRun(s, slipped, 2) == 2);
        REQUIRE(f.isLoose(slipped));
        const std::vector<PassId> strands = rungs(f, slipped);
        REQUIRE(strands.size() == 3);
        CHECK_FALSE(isLongRung(f, strands[0]));  // looks like a short rung, and is none
        CHECK(isLongRung(f, strands[1]));
        CHECK(isLongRung(f, strands[2]));
        CHECK(f.passSide(strands[0]) == (inFront ? Side::right : Side::wrong));
        // Left alone, it is what it was.
        const LoopId first = hookUp(f, slipped, Side::right, 0, 1);
        seat(f, hookUp(f, first));
        CHECK(text(f) == before);
    }
}

TEST_CASE("a run follows each column of a cable through the cross") {
    for (int column = 0; column < 4; ++column) {
        CAPTURE(column);
        Swatch s = plainSwatch(8, 2);
        const std::vector<LoopId> feet = s.knitter().ahead();
        s.work("k2 2/2f * |");
        s.rows(1);
        // On the needle the two pairs have changed places.
        const LoopId top = s.knitter().ahead()[static_cast<std::size_t>(2 + column)];
        REQUIRE(s.knitter().drop(top));
        CHECK(letRun(s.fabric(), 2) == 2);
        const std::vector<LoopId> loose = looseLoops(s.fabric());
        REQUIRE(loose.size() == 1);
        CHECK(loose[0] == feet[static_cast<std::size_t>(2 + (column + 2) % 4)]);
    }
}

TEST_CASE("a run that meets a stitch knitted below frees the lower loop and the strand it held") {
    Swatch s = plainSwatch(6, 4);
    const LoopId lower = hostOf(s.fabric(), s.knitter().ahead()[2]);
    s.work("k2");
    const LoopId tuck = s.work("kbelow");
    s.work("* |");
    s.rows(2);
    dropAndRun(s, tuck, 3);
    Fabric& f = s.fabric();
    CHECK(f.isLoose(lower));
    CHECK(looseLoops(f).size() == 1);
    CHECK(rungs(f, lower).size() == 3);
    // The loop that lay over it goes through nothing now: its yarn is a slack strand behind the column.
    letRun(f);
    CHECK(looseLoops(f).empty());
}

TEST_CASE("the rungs of an edge column are big loops, one for every two rows") {
    // Worked right to left in odd rows, the right edge joins rows 2 and 3, 4 and 5; the left edge 1 and 2, 3
    // and 4.
    const auto bigLoops = [](bool rightEdge) {
        Swatch s = plainSwatch(5, 6);
        REQUIRE(s.knitter().drop(rightEdge ? s.knitter().ahead().front() : s.knitter().ahead().back()));
        REQUIRE(letRun(s.fabric(), 5) == 5);
        const Fabric& f = s.fabric();
        std::vector<int> heights;  // of the lower rung of each pair
        const std::vector<PassId> rungsUp = rungs(f, hanging(f));
        REQUIRE(rungsUp.size() == 5);
        for (std::size_t i = 0; i + 1 < rungsUp.size(); ++i) {
            if (f[rungsUp[i]].next == rungsUp[i + 1] && f.run(rungsUp[i]) != f.run(rungsUp[i + 1]))
                heights.push_back(static_cast<int>(i) + 2);  // row 1 still stands
        }
        return heights;
    };
    CHECK(bigLoops(true) == std::vector<int>{2, 4});
    CHECK(bigLoops(false) == std::vector<int>{3, 5});
}

TEST_CASE("a bind-off holds by its last loop, and opens from there only") {
    Swatch s = plainSwatch(5, 3);
    REQUIRE(s.knitter().bindOffAll());
    Fabric& f = s.fabric();
    CHECK(letRun(f) == 0);
    CHECK(looseLoops(f).empty());
    const LoopId last = f[s.yarn()].last;
    CHECK(f[last].flags.anchored == 1);
    f.setAnchored(last, false);  // the tail is pulled out of it
    CHECK(letRun(f, 1) == 1);
    CHECK(looseLoops(f).size() == 2);  // the loop before it in the chain, and the column's own
    letRun(f);
    // The whole piece runs; no rung of the chain has come to lie over a neighbour's column.
    std::size_t columns = 0;
    for (const LoopId loop : loopsOf(f)) {
        if (f[loop].flags.anchored == 0) continue;
        ++columns;
        CHECK(rungs(f, loop).size() == 4);
    }
    CHECK(columns == 5);
}

TEST_CASE("a bind-off does not run from its first end") {
    Swatch s = plainSwatch(5, 3);
    REQUIRE(s.knitter().bindOffAll());
    Fabric& f = s.fabric();
    // Its first stitch is held by the second, and so on: nothing there is live.
    int live = 0;
    for (const LoopId loop : loopsOf(f)) live += f.isLive(loop) ? 1 : 0;
    CHECK(live == 1);
}

TEST_CASE("a run ends at the cast-on and leaves one loop there") {
    for (const Begin begin : {Begin::bare, Begin::backward}) {
        Swatch s = plainSwatch(6, 3, {begin});
        REQUIRE(s.knitter().drop(s.knitter().ahead()[2]));
        CHECK(letRun(s.fabric()) == 3);
        CHECK(s.fabric()[hanging(s.fabric())].flags.anchored == 1);
    }
    // Long-tail: the loop pulls out of its hitch too, and the hitch is left.
    Swatch s = plainSwatch(6, 3, {Begin::longTail});
    REQUIRE(s.knitter().drop(s.knitter().ahead()[2]));
    CHECK(letRun(s.fabric()) == 4);
    const LoopId hitch = hanging(s.fabric());
    CHECK(s.fabric()[hitch].flags.anchored == 1);
    CHECK(s.fabric().linkCount(hitch) == 0);
}

TEST_CASE("friction only limits a tug: the run goes on to the same fabric") {
    Swatch s = plainSwatch(6, 6);
    Swatch t = plainSwatch(6, 6);
    REQUIRE(s.knitter().drop(s.knitter().ahead()[2]));
    REQUIRE(t.knitter().drop(t.knitter().ahead()[2]));
    CHECK(letRun(s.fabric(), 2) == 2);
    CHECK(letRun(s.fabric(), 0) == 0);
    CHECK(letRun(s.fabric(), 1) == 1);
    CHECK(letRun(s.fabric()) == 3);
    CHECK(letRun(t.fabric()) == 6);
    CHECK(text(s.fabric()) == text(t.fabric()));
    for (int seed = 0; seed < cases(100); ++seed) {
        CAPTURE(seed);
        std::vector<std::string> ends;
        for (const bool atOnce : {true, false}) {
            Dice dice(static_cast<std::uint64_t>(seed));
            Swatch r = randomSwatch(dice, 4);
            REQUIRE(r.knitter().drop(dice.pick(r.knitter().ahead())));
            while (letRun(r.fabric(), atOnce ? 1000 : 1 + dice.below(3)) > 0) continue;
            ends.push_back(r.knot());
        }
        REQUIRE(ends[0] == ends[1]);
    }
}

TEST_CASE("a pin, a holder, a lifeline or a needle stops a run") {
    for (const ToolKind kind :
         {ToolKind::pin, ToolKind::hook, ToolKind::holder, ToolKind::lifeline, ToolKind::spareNeedle}) {
        Swatch s = plainSwatch(6, 5);
        Fabric& f = s.fabric();
        const LoopId top = s.knitter().ahead()[2];
        const LoopId caught = below(f, top, 3);
        const ToolId tool = f.addTool(kind);
        REQUIRE(f.hold(caught, tool, HeldId{}, Mount::western));
        REQUIRE(s.knitter().drop(top));
        CHECK(letRun(f) == 3);
        CHECK(f.isLive(caught));
        CHECK(looseLoops(f).empty());
        CHECK(f.passesOf(caught).size() == 3);
        // A pin does not fix the strands over the loop it holds; a needle or a thread does.
        CHECK(f.isOpen(caught) == (kind == ToolKind::pin || kind == ToolKind::hook));
        REQUIRE(f.letGo(caught, tool, false));
        CHECK(letRun(f) == 2);
    }
}

TEST_CASE("a hanging loop is not held: only the place is remembered") {
    Swatch s = plainSwatch(6, 3);
    Fabric& f = s.fabric();
    const LoopId top = s.knitter().ahead()[2];
    REQUIRE(s.knitter().drop(top));
    CHECK_FALSE(f.isHeld(top));
    CHECK(f.isLoose(top));
    CHECK(f[f.heldOn(top, f.needle())].state.hanging == 1);
    CHECK(s.knitter().aheadCount() == 5);
}

TEST_CASE("one loose loop alone can be let run") {
    Swatch s = plainSwatch(8, 4);
    Fabric& f = s.fabric();
    const LoopId a = s.knitter().ahead()[2];
    const LoopId b = s.knitter().ahead()[5];
    REQUIRE(s.knitter().drop(a));
    REQUIRE(s.knitter().drop(b));
    CHECK(letRunFrom(f, a) == 4);
    CHECK(f.isLoose(b));
    CHECK(letRunFrom(f, b, 1) == 1);
    CHECK(letRunFrom(f, a) == 0);
}

TEST_CASE("a join stays at its place along the yarn when its loop goes; a crossing goes with either stitch") {
    Swatch round(6, {Begin::bare, true, Habit::western, false, Side::right, 2});
    round.work("* | *");
    CHECK(round.knot().find("join 6 +2") != std::string::npos);
    Swatch s(6);
    s.work("* |");
    REQUIRE(s.knitter().knit());
    s.fabric().addJoin(s.knitter().behind().back(), 0);
    CHECK(s.knot().find("join 13 +0") != std::string::npos);
    REQUIRE(undo(s.fabric(), s.knitter().behind().back()));
    CHECK(s.knot().find("join 12 +0") != std::string::npos);
    // The joined loop and the one before it go in either order: the place is the same.
    std::vector<std::string> knots;
    for (const bool joinedFirst : {true, false}) {
        Swatch tail(6, {Begin::longTail, true});
        const std::vector<LoopId> ahead = tail.knitter().ahead();
        REQUIRE(undo(tail.fabric(), joinedFirst ? ahead[5] : ahead[4]));
        REQUIRE(undo(tail.fabric(), joinedFirst ? ahead[4] : ahead[5]));
        knots.push_back(tail.knot());
    }
    CHECK(knots[0] == knots[1]);
    CHECK(knots[0].find("join 10 +0") != std::string::npos);

    Swatch c = plainSwatch(6, 2);
    c.work("k2 1/1fx");
    CHECK(c.knot().find("cross") != std::string::npos);
    REQUIRE(c.knitter().drop(c.knitter().ahead()[0]));
    letRun(c.fabric(), 1);
    CHECK(c.knot().find("cross") == std::string::npos);
}

TEST_CASE("twins of one stitch released together may leave their yarn in other marks, never another knot") {
    std::vector<std::string> knots;
    for (const bool firstTwin : {true, false}) {
        Swatch s = plainSwatch(6, 2);
        s.work("k2 kfb");
        const LoopId a = s.knitter().behind()[2];
        const LoopId b = s.knitter().behind()[3];
        s.work("* |");
        s.rows(2);
        REQUIRE(s.knitter().drop(topOf(s.knitter(), a)));
        REQUIRE(s.knitter().drop(topOf(s.knitter(), b)));
        const LoopId top = firstTwin ? a : b;
        for (const LoopId loop : looseLoops(s.fabric())) {
            if (standsOn(s.fabric(), loop, top)) letRunFrom(s.fabric(), loop);
        }
        letRun(s.fabric());
        knots.push_back(s.knot());
        CHECK(roundTrips(s.fabric()));
    }
    CHECK(knots[0] == knots[1]);
}

}  // namespace loopmend
