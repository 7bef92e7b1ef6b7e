// SPDX-License-Identifier: MIT
// Threads and spare needles, slipping, crossing, passing over, slack: what hands do, and that it is taken
// back.
#include <catch2/catch.hpp>

#include "fabric/hands.h"
#include "fabric/itinerary.h"
#include "fabric/rows.h"
#include "moves_hands.h"
#include "pattern/counts.h"
#include "pattern/parse.h"
#include "repair/move_words.h"
#include "repair/plan.h"
#include "repair/work.h"
#include "scenes.h"

using namespace loopmend;
using namespace loopmend::scenes;

namespace {

std::string knot(const Work& work) {
    return knotOf(work.fabric());
}

Script cabled(int rows) {
    const Pattern pattern = parse(
        "Row 1 (RS): p2, k4, p2.\nRow 2: k2, p4, k2.\nRow 3: p2, 2/2 RC, p2.\n"
        "Row 4: k2, p4, k2.\nRow 5: p2, k4, p2.\nRow 6: k2, p4, k2.\n");
    REQUIRE(pattern.problems.empty());
    auto script = expand(pattern, 8, rows);
    REQUIRE(script);
    return *script;
}

}  // namespace

TEST_CASE("A thread through a row stops what comes out above it", "[moves][thread]") {
    for (const bool spare : {false, true}) {
        Work work(worked(lace(12, 7)));
        const std::string meant = knot(work);
        const LoopId below = row(work, 4)[5];
        doIt(work, "thread row " + id(below) + (spare ? " spare" : ""));
        const ToolId thread = threadOf(work.fabric(), below);
        REQUIRE(thread);
        CHECK(work.fabric()[thread].kind == (spare ? ToolKind::spareNeedle : ToolKind::lifeline));
        CHECK(rowWith(work.fabric(), below).size() == 12);
        CHECK(knot(work) != meant);  // the thread is there to be seen
        CHECK(refusedFor(work, "thread row " + id(row(work, 4)[0]) + (spare ? " spare" : "")) ==
              Why::alreadyHeld);
        doIt(work, "rip to-thread");
        // Row 4 is back on the needle, all of it, and still on the thread.
        CHECK(work.knitter().ahead().size() == 12);
        for (const LoopId l : row(work, 4)) {
            CHECK(work.fabric().isLive(l));
            CHECK(threadOf(work.fabric(), l) == thread);
            CHECK(work.fabric().heldOn(l, work.fabric().needle()));
        }
        CHECK(rowsOf(work.fabric()).last == 4);
        CHECK(work.knitter().facing() == Side::right);
        doIt(work, "unthread " + id(below) + (spare ? " spare" : ""));
        CHECK(knot(work) == knotOf(*worked(lace(12, 4)).fabric));
        replays(work);
    }
}

TEST_CASE("In rounds the yarn is drawn out down to the thread too, by either hand", "[moves][thread]") {
    for (const bool round : {true, false}) {
        for (const bool mirrored : {false, true}) {
            Script script = stockinette(8, 5);
            script.round = round;
            if (round) {
                for (WorkedRow& r : script.rows) {
                    r.round = true;
                    r.facing = Facing::right;
                }
            }
            Script fewer = script;
            fewer.rows.resize(3);
            Setup ways;
            ways.mirrored = mirrored;
            Work work(std::move(*knit(script, ways)));
            const LoopId below = row(work, 3)[4];
            doIt(work, "thread row " + id(below));
            doIt(work, "rip to-thread");
            doIt(work, "unthread " + id(below));
            CHECK(knot(work) == knotOf(*knit(fewer, ways)->fabric));
            CHECK(work.knitter().aheadCount() == 8);
            replays(work);
        }
    }
}

TEST_CASE("A thread goes through crossed stitches as they stand", "[moves][thread]") {
    Work work(worked(stockinette(6, 3)));
    if (work.knitter().ahead().empty()) doIt(work, "turn");
    const std::vector<LoopId> ahead = work.knitter().ahead();
    doIt(work, "cross " + id(ahead[1]) + " in-front " + id(ahead[2]));
    doIt(work, "thread row " + id(ahead[0]));
    const Fabric& f = work.fabric();
    HeldId onThread = f[threadOf(f, ahead[0])].first;
    for (HeldId h = f[f.needle()].first; h; h = f[h].next, onThread = f[onThread].next) {
        REQUIRE(onThread);
        CHECK(f[onThread].loop == f[h].loop);
    }
}

TEST_CASE("A stitch that the thread missed falls when the rows are drawn out, and runs when tugged",
          "[moves][thread]") {
    Work work(worked(stockinette(8, 6)));
    const std::vector<LoopId> loops = row(work, 3);
    std::string line = "thread";
    for (const LoopId l : loops) {
        if (l != loops[3]) line += " " + id(l);
    }
    doIt(work, line);
    doIt(work, "rip to-thread");
    CHECK(work.knitter().aheadCount() == 7);
    CHECK(work.fabric().isLoose(loops[3]));
    const LoopId host = work.fabric().hostsRightToLeft(loops[3]).front();
    doIt(work, "tug");
    CHECK_FALSE(work.fabric().has(loops[3]));
    CHECK_FALSE(work.fabric().has(host));
    replays(work);
}

TEST_CASE("A thread that wanders a row upward stops the yarn there", "[moves][thread]") {
    Work work(worked(stockinette(8, 6)));
    const std::vector<LoopId> lower = row(work, 3);
    const std::vector<LoopId> upper = row(work, 4);
    // Row 3 runs leftward, row 4 rightward: its last stitches stand over the right half of row 3.
    std::string line = "thread";
    for (std::size_t i = 4; i < 8; ++i) line += " " + id(upper[i]);
    for (std::size_t i = 4; i < 8; ++i) line += " " + id(lower[i]);
    doIt(work, line);
    doIt(work, "rip to-thread");
    CHECK(work.fabric().has(upper[7]));
    CHECK(work.fabric().has(upper[0]));
    CHECK(rowsOf(work.fabric()).last == 4);
    replays(work);
}

TEST_CASE("A lifeline just below the needle goes through what the needle holds", "[moves][thread]") {
    Work work(worked(seed(7, 4)));
    doIt(work, "thread needle");
    const LoopId first = onNeedle(work.fabric(), 1);
    const ToolId thread = threadOf(work.fabric(), first);
    REQUIRE(thread);
    doIt(work, "work k1, p1, k1");
    doIt(work, "rip to-thread");
    CHECK(work.knitter().aheadCount() == 7);
    CHECK(refusedFor(work, "rip to-thread") == Why::nothingToUndo);
    doIt(work, "unthread " + id(first));
    CHECK(knot(work) == knotOf(*worked(seed(7, 4)).fabric));
    CHECK(refusedFor(work, "unthread " + id(first)) == Why::notHeld);
    CHECK(refusedFor(work, "rip to-thread") == Why::noThread);
    replays(work);
}

TEST_CASE("Open stitches wait on the spare needle without running, and are hooked up from there",
          "[moves][thread]") {
    Work work(worked(stockinette(8, 6)));
    const std::string meant = knot(work);
    const LoopId top = onNeedle(work.fabric(), 4);
    const LoopId right = onNeedle(work.fabric(), 3);
    doIt(work, "drop " + id(top));
    doIt(work, "let-run " + id(top) + " 3");
    LoopId foot;
    for (int i = 0; i < work.fabric().entryCount(); ++i) {
        const LoopId l{i};
        if (work.fabric().has(l) && work.fabric().isLoop(l) && work.fabric().isLoose(l) &&
            work.fabric()[l].firstLink)
            foot = l;
    }
    REQUIRE(foot);
    doIt(work, "sort " + id(foot));
    doIt(work, "thread " + id(foot) + " spare");
    CHECK_FALSE(work.fabric().isOpen(foot));
    doIt(work, "tug");
    CHECK(work.fabric().has(foot));
    replays(work);
    for (int i = 0; i < 3; ++i) {
        const bool knit = work.knitter().facing() == Side::right;
        foot = doIt(work, std::string(knit ? "hook-k" : "hook-p") + " rung 1 loop " + id(foot));
    }
    doIt(work, "seat " + id(foot) + " beside " + id(right));
    CHECK(knot(work) == meant);
    CHECK(refusedFor(work, "sort " + id(foot)) == Why::noRung);
    replays(work);
}

TEST_CASE("Slipping to a place and back changes nothing", "[moves]") {
    Work work(worked(rib(9, 5)));
    const std::string before = itinerary(work.fabric()).knot;
    const std::vector<LoopId> ahead = work.knitter().ahead();
    if (ahead.empty()) doIt(work, "turn");
    const std::vector<LoopId> now = work.knitter().ahead();
    REQUIRE(now.size() == 9);
    doIt(work, "slip-to " + id(now[5]));
    CHECK(work.knitter().ahead().front() == now[5]);
    CHECK(work.knitter().behind().size() == 5);
    doIt(work, "slip-to " + id(now[0]));
    CHECK(work.knitter().ahead() == now);
    CHECK(knot(work) == before);
    replays(work);
}

TEST_CASE("Slipped there, a column is let down, hooked up, and slipped back", "[moves]") {
    Work work(worked(stockinette(9, 6)));
    const std::string before = knot(work);
    if (work.knitter().ahead().empty()) doIt(work, "turn");
    const std::vector<LoopId> now = work.knitter().ahead();
    doIt(work, "slip-to " + id(now[4]));
    const LoopId host = work.fabric().hostsRightToLeft(now[4]).front();
    doIt(work, "drop " + id(now[4]));
    doIt(work, "let-run " + id(now[4]) + " 1");
    const LoopId again =
        doIt(work, std::string(work.knitter().facing() == Side::right ? "hook-k" : "hook-p") +
                       " rung 1 loop " + id(host));
    doIt(work, "seat " + id(again));
    doIt(work, "slip-to " + id(now[0]));
    CHECK(knot(work) == before);
}

TEST_CASE("Counting says how many stitches lie between two", "[moves]") {
    Work work(worked(stockinette(9, 3)));
    const LoopId a = onNeedle(work.fabric(), 3);
    const LoopId b = onNeedle(work.fabric(), 8);
    CHECK(countBetween(work.fabric(), a, b) == 6);
    CHECK(countBetween(work.fabric(), b, a) == 6);
    CHECK(countBetween(work.fabric(), a, a) == 1);
    const Move move = *moveFrom("count " + id(a) + " " + id(b));
    CHECK(wordsOf(work, move) == "Count from one to the other: six stitches.");
    doIt(work, textOf(move));
    const LoopId below = work.fabric().hostsRightToLeft(a).front();
    CHECK(refusedFor(work, "count " + id(a) + " " + id(below)) == Why::notHeld);
    doIt(work, "mark " + id(below));
    CHECK(pinOf(work.fabric(), below));
    CHECK(refusedFor(work, "mark " + id(below)) == Why::alreadyHeld);
    replays(work);
}

TEST_CASE("Looking at a side changes nothing", "[moves]") {
    Work work(worked(stockinette(5, 3)));
    const std::string before = itinerary(work.fabric()).measure;
    doIt(work, "inspect wrong");
    doIt(work, "inspect right");
    CHECK(itinerary(work.fabric()).measure == before);
}

TEST_CASE("Stitches held are crossed as a pattern crosses them", "[moves][cross]") {
    // Both ways, from both sides: the row is then worked as it comes.
    for (const bool front : {true, false}) {
        for (const int rows : {2, 3}) {
            Work crossedByHand(worked(stockinette(6, rows)));
            Work byPattern(worked(stockinette(6, rows)));
            for (Work* work : {&crossedByHand, &byPattern}) {
                if (work->knitter().ahead().empty()) doIt(*work, "turn");
            }
            const std::vector<LoopId> ahead = crossedByHand.knitter().ahead();
            doIt(crossedByHand, "cross " + id(ahead[0]) + " " + id(ahead[1]) +
                                    (front ? " in-front " : " behind ") + id(ahead[2]) + " " + id(ahead[3]));
            REQUIRE(byPattern.knitter().cross(2, 2, front));
            CHECK(knot(crossedByHand) == knotOf(byPattern.fabric()));
            CHECK(crossedByHand.knitter().ahead()[0] == ahead[2]);
            // Led back the same way they lie as before.
            const std::vector<LoopId> now = crossedByHand.knitter().ahead();
            doIt(crossedByHand, "cross " + id(ahead[0]) + " " + id(ahead[1]) +
                                    (front ? " in-front " : " behind ") + id(ahead[2]) + " " + id(ahead[3]));
            CHECK(crossedByHand.knitter().ahead() == ahead);
            CHECK(knot(crossedByHand) == crossedByHand.start().lines.knot);
            replays(crossedByHand);
        }
    }
    Work work(worked(stockinette(6, 4)));
    const std::vector<LoopId> deep = row(work, 2);
    CHECK(refusedFor(work, "cross " + id(deep[1]) + " in-front " + id(deep[2])) == Why::notLive);
    const std::vector<LoopId> live =
        work.knitter().ahead().empty() ? work.knitter().behind() : work.knitter().ahead();
    CHECK(refusedFor(work, "cross " + id(live[0]) + " in-front " + id(live[3])) == Why::notNeighbours);
}

TEST_CASE("An arm let down is led to the other face of the arm that stands", "[moves][cross]") {
    // What is knitted on leans the wrong way; one arm is let down, led over, and hooked up again.
    const Script right = cabled(6);
    Script wrong = right;
    for (WorkedRow& r : wrong.rows) {
        for (Step& step : r.steps) {
            if (step.op == Op::cable) step.front = !step.front;
        }
    }
    const Knitting meant = worked(right);
    for (const bool other : {false, true}) {
        Work work(worked(wrong));
        REQUIRE(knot(work) != knotOf(*meant.fabric));
        // The loops that crossed, and which arm each belongs to.
        const Fabric& f = work.fabric();
        std::vector<LoopId> one;
        std::vector<LoopId> two;
        for (int c = 0; c < f.crossingCount(); ++c) {
            const Crossing& x = f[CrossingId{c}];
            for (auto [list, loop] : {std::pair{&one, x.a}, std::pair{&two, x.b}}) {
                if (std::find(list->begin(), list->end(), loop) == list->end()) list->push_back(loop);
            }
        }
        REQUIRE(one.size() == 2);
        REQUIRE(two.size() == 2);
        const std::vector<LoopId>& arm = other ? two : one;
        const std::vector<LoopId>& stands = other ? one : two;
        for (const LoopId foot : arm) {
            LoopId top = foot;
            int rows = 0;
            while (f[top].firstKid) {
                top = f[f[top].firstKid].loop;
                ++rows;
            }
            doIt(work, "pin " + id(foot));
            doIt(work, "drop " + id(top));
            doIt(work, "let-run " + id(top) + " " + std::to_string(rows));
        }
        const auto names = [&](const std::vector<LoopId>& loops) {
            std::string text;
            for (const LoopId l : loops) text += " " + id(l);
            return text;
        };
        // Where the arm lies now it has to come back from, and go across the other face.
        const bool lies =
            work.tryOut(*moveFrom("cross" + names(arm) + " in-front" + names(stands))).has_value();
        CHECK(lies != work.tryOut(*moveFrom("cross" + names(arm) + " behind" + names(stands))).has_value());
        doIt(work, "cross" + names(arm) + (lies ? " in-front" : " behind") + names(stands));
        doIt(work, "cross" + names(arm) + (lies ? " behind" : " in-front") + names(stands));
        for (const LoopId foot : arm) {
            LoopId loop = foot;
            while (!rungs(f, loop).empty() || (pinOf(f, loop) && !f.passesOf(loop).empty())) {
                const bool knit = work.knitter().facing() == Side::right;
                loop = doIt(work, std::string(knit ? "hook-k" : "hook-p") + " rung 1 loop " + id(loop));
            }
            doIt(work, "seat " + id(loop));
            if (pinOf(f, foot)) doIt(work, "unpin " + id(foot));
        }
        CHECK(knot(work) == knotOf(*meant.fabric));
        replays(work);
    }
}

TEST_CASE("An arm led over the wrong face gives the other cable", "[moves][cross][wrong]") {
    Work work(worked(stockinette(6, 2)));
    Work other(worked(stockinette(6, 2)));
    for (Work* w : {&work, &other}) {
        if (w->knitter().ahead().empty()) doIt(*w, "turn");
    }
    const std::vector<LoopId> ahead = work.knitter().ahead();
    const std::string line = id(ahead[1]) + " PLACE " + id(ahead[2]);
    const auto with = [&](const char* word) {
        std::string text = "cross " + line;
        return text.replace(text.find("PLACE"), 5, word);
    };
    doIt(work, with("in-front"));
    doIt(other, with("behind"));
    CHECK(knot(work) != knot(other));
    CHECK_FALSE(differencesOf(work.fabric(), other.fabric()).empty());
}

TEST_CASE("A stitch is passed over its neighbor on either needle", "[moves]") {
    {
        Work work(worked(stockinette(6, 2)));
        if (work.knitter().ahead().empty()) doIt(work, "turn");
        const LoopId slipped = work.knitter().ahead().front();
        doIt(work, "work sl1 wyib");
        doIt(work, "remount " + id(slipped) + " left-leg");
        doIt(work, "work k1");
        const LoopId worked_ = work.knitter().behind().back();
        doIt(work, "pass-over " + id(slipped) + " " + id(worked_));
        Work skp(worked(stockinette(6, 2)));
        if (skp.knitter().ahead().empty()) doIt(skp, "turn");
        REQUIRE(skp.knitter().skp());
        CHECK(knot(work) == knotOf(skp.fabric()));
        replays(work);
    }
    {
        // On the left needle: the second over the first, which then stands in both.
        Work work(worked(stockinette(6, 2)));
        if (work.knitter().ahead().empty()) doIt(work, "turn");
        const std::vector<LoopId> ahead = work.knitter().ahead();
        doIt(work, "pass-over " + id(ahead[1]) + " " + id(ahead[0]));
        CHECK(work.knitter().aheadCount() == 5);
        CHECK(work.fabric()[work.fabric()[ahead[1]].firstKid].loop == ahead[0]);
        CHECK(work.fabric()[work.fabric()[ahead[1]].firstKid].form.twist == 0);
        CHECK(refusedFor(work, "pass-over " + id(ahead[3]) + " " + id(ahead[5])) == Why::notNeighbours);
        replays(work);
    }
}

TEST_CASE("Slack is drawn along the row: lengths change, links do not", "[moves][slack]") {
    Work work(worked(stockinette(15, 6)));
    const std::string before = knot(work);
    const std::int64_t yarn = work.fabric().totalUm();
    const std::vector<LoopId> loops = row(work, 3);
    const std::int32_t usual = work.fabric()[loops[7]].um;
    // A snag: a loop pulled out of its row, five neighbors on each side tightened.
    for (std::size_t i = 2; i <= 12; ++i) {
        if (i != 7) doIt(work, "draw-slack " + id(loops[i]) + " " + id(loops[7]) + " 1500");
    }
    CHECK(work.fabric()[loops[7]].um == usual + 15000);
    CHECK(wordsOf(work, *moveFrom("draw-slack " + id(loops[7]))).find("into those beside") !=
          std::string::npos);
    doIt(work, "draw-slack " + id(loops[7]));
    for (const LoopId l : loops) CHECK(work.fabric()[l].um == usual);
    CHECK(refusedFor(work, "draw-slack " + id(loops[7])) == Why::tooLittleYarn);
    // A tight stitch takes a little from each side.
    for (const std::size_t i : {std::size_t{6}, std::size_t{8}}) {
        doIt(work, "draw-slack " + id(loops[7]) + " " + id(loops[i]) + " 2000");
    }
    doIt(work, "draw-slack " + id(loops[7]));
    CHECK(work.fabric()[loops[7]].um == usual);
    for (const LoopId l : loops) CHECK(work.fabric()[l].um * 6 >= usual * 5);
    CHECK(knot(work) == before);
    CHECK(work.fabric().totalUm() == yarn);
    CHECK(refusedFor(work, "draw-slack " + id(loops[7]) + " " + id(loops[6]) + " 900000") ==
          Why::tooLittleYarn);
    replays(work);
}

TEST_CASE("The slack of a yarn-over that was let fall goes into the stitches beside it", "[moves][slack]") {
    Work work(worked(stockinette(12, 2)));
    if (work.knitter().ahead().empty()) doIt(work, "turn");
    doIt(work, "work k6, yo, k6");
    const std::vector<LoopId> behind = work.knitter().behind();
    const LoopId yo = behind[6];
    doIt(work, "drop " + id(yo));
    const std::string before = knot(work);
    const std::int64_t yarn = work.fabric().totalUm();
    REQUIRE(work.fabric().isNothing(yo));
    const std::int32_t spare = work.fabric()[yo].um;
    doIt(work, "draw-slack " + id(yo));
    CHECK(work.fabric()[behind[5]].um > 0);
    CHECK(work.fabric().totalUm() == yarn);
    CHECK(work.fabric()[yo].um * 2 < spare);
    CHECK(work.fabric()[behind[5]].um > work.fabric()[row(work, 1)[2]].um);
    CHECK(knot(work) == before);
    // A strand that is too long: what is too much goes into its neighbors.
    const LoopId at = row(work, 1)[5];
    doIt(work, "draw-slack " + id(row(work, 1)[2]) + " " + id(at) + " 1000");
    replays(work);
}
