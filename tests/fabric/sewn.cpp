// SPDX-License-Identifier: MIT
//
// Duplicate stitch and grafting as calls. Common practice.
#include <algorithm>
#include <catch2/catch.hpp>

#include "fabric/sewing.h"
#include "swatch.h"

namespace loopmend {

namespace {

YarnId threadOf(Fabric& f, char colour = 'B') {
    const YarnId thread = f.addYarn(colour, kLoopUm, kStrandUm);
    f.setBall(thread, false);
    return thread;
}

/// Right to left.
std::vector<LoopId> rowOf(const Fabric& f, int row) {
    std::vector<LoopId> loops = loopsByRow(f, rowsOf(f)).at(static_cast<std::size_t>(row));
    if (f.run(loops.front()) == Run::rightward) std::reverse(loops.begin(), loops.end());
    return loops;
}

std::vector<Side> sidesOf(const Fabric& f, const std::vector<LoopId>& loops) {
    std::vector<Side> sides;
    for (const LoopId loop : loops) sides.push_back(f[f[loop].firstLink].form.side);
    return sides;
}

}  // namespace

TEST_CASE("a duplicate stitch lies on top of the stitch it covers, knit or purl, and comes out again") {
    for (const char* words : {"* | * | * | * | *", "k p k p k p | * | k p k p k p | p k p k p k | *"}) {
        for (const Side covers : {Side::right, Side::wrong}) {
            for (const Run run : {Run::leftward, Run::rightward}) {
                CAPTURE(words);
                Swatch s(6);
                s.work(words);
                s.work("|");
                Fabric& f = s.fabric();
                const std::string before = text(f);
                std::vector<LoopId> over = rowOf(f, 3);
                if (run == Run::rightward) std::reverse(over.begin(), over.end());
                const auto sewn = duplicateStitches(f, threadOf(f), over, run, covers);
                REQUIRE(sewn);
                REQUIRE(sewn->size() == 6);
                for (std::size_t i = 0; i < 6; ++i) {
                    const LoopId copy = (*sewn)[i];
                    CHECK(hostOf(f, copy) == hostOf(f, over[i]));
                    const LoopId above = f[f[copy].firstKid].loop;
                    // Read from the side on which it was sewn it comes first in the stack.
                    std::vector<LinkId> stack = f.linksOf(above);
                    REQUIRE(stack.size() == 2);
                    if (f[stack.back()].form.side == covers) std::reverse(stack.begin(), stack.end());
                    CHECK(f[stack.front()].host == copy);
                }
                CHECK(roundTrips(f));
                CHECK(letRun(f) == 0);
                REQUIRE(unsew(f, f[sewn->front()].yarn));
                CHECK(text(f) == before);
            }
        }
    }
}

TEST_CASE("a row picked out and grafted is the row that was there, in stockinette, garter and rib") {
    for (const char* words : {"* | * | * | * | * | *", "k6 | k6 | k6 | k6 | k6 | k6",
                              "k2 p2 k2 | p2 k2 p2 | k2 p2 k2 | p2 k2 p2 | k2 p2 k2 | *",
                              "k p k p k p | k p k p k p | k p k p k p | k p k p k p | *"}) {
        for (const Run run : {Run::leftward, Run::rightward}) {
            CAPTURE(words);
            Swatch s(6);
            s.work(words);
            s.work("|");
            Fabric& f = s.fabric();
            const std::string whole = s.knot();
            std::vector<LoopId> out = rowOf(f, 3);
            std::vector<LoopId> below = rowOf(f, 2);
            std::vector<LoopId> above = rowOf(f, 4);
            GraftSides sides{sidesOf(f, out), sidesOf(f, above)};
            if (f.run(out.front()) == Run::rightward) std::reverse(out.begin(), out.end());
            (void)*f.cut(f[out.front()].prev);
            const YarnId rest = *f.cut(out.back());
            for (const LoopId loop : out) REQUIRE(f.unthread(loop));
            const std::string apart = text(f);
            if (run == Run::rightward) {
                for (auto* list : {&below, &above}) std::reverse(list->begin(), list->end());
                for (auto* list : {&sides.sewn, &sides.above}) std::reverse(list->begin(), list->end());
            }
            const YarnId thread = threadOf(f, 'A');
            const auto sewn = graft(f, thread, below, above, run, sides);
            REQUIRE(sewn);
            CHECK(roundTrips(f));
            CHECK(letRun(f) == 0);
            CHECK(looseLoops(f).empty());
            // Out again: two pieces, as they were.
            REQUIRE(unsew(f, thread));
            CHECK(knotOf(f) + "\n" == apart.substr(0, apart.find('\n') + 1));
            REQUIRE(graft(f, thread, below, above, run, sides));
            const bool asWorked = run == Run::leftward;  // row 3 is worked with the right side facing
            REQUIRE(f.join(s.yarn(), thread, asWorked ? End::first : End::last));
            REQUIRE(f.join(s.yarn(), rest, End::first));
            CHECK(s.knot() == whole);
        }
    }
}

TEST_CASE("a toe: the two halves of a round grafted head to head hold, and come apart again when unsewn") {
    Swatch s = plainSwatch(12, 6, {Begin::bare, true});
    Fabric& f = s.fabric();
    const std::string before = s.knot();
    std::vector<LoopId> all = s.knitter().ahead();
    const std::vector<LoopId> front(all.begin(), all.begin() + 6);
    const std::vector<LoopId> back(all.rbegin(), all.rbegin() + 6);
    const YarnId thread = threadOf(f, 'A');
    const auto sewn = graft(f, thread, front, back);
    REQUIRE(sewn);
    CHECK(s.knitter().aheadCount() == 0);
    CHECK(letRun(f) == 0);
    CHECK(looseLoops(f).empty());
    CHECK(roundTrips(f));
    CHECK(s.knot() != before);
    REQUIRE(unsew(f, thread));
    CHECK(looseLoops(f).size() == 12);
    for (const LoopId loop : all) seat(f, loop);
    CHECK(f.isLive(all.front()));
}

TEST_CASE("sewing is refused whole: a thread with a ball, a stitch without a path, edges that do not match") {
    Swatch s = plainSwatch(6, 4);
    Fabric& f = s.fabric();
    const YarnId thread = threadOf(f);
    const YarnId ball = f.addYarn('C', kLoopUm, kStrandUm);
    const std::string before = text(f);
    const std::vector<LoopId> row = rowOf(f, 2);
    const std::vector<LoopId> live = s.knitter().ahead();
    CHECK(duplicateStitches(f, ball, row).error().why == Why::hasBall);
    CHECK(duplicateStitches(f, thread, {row[0], live[0]}).error().why == Why::nothingAbove);
    CHECK(duplicateStitches(f, thread, {row[0], rowOf(f, 0)[1]}).error().why == Why::noLinks);
    CHECK(text(f) == before);
    CHECK(graft(f, thread, {live[0], live[1]}, {live[2]}).error().why == Why::edgesDiffer);
    CHECK(graft(f, thread, {live[0], row[1]}, {live[2], live[3]}).error().why == Why::notLive);
    CHECK(graft(f, thread, {live[0]}, {row[1]}).error().why == Why::notLive);
    CHECK(graft(f, ball, {live[0]}, {live[1]}).error().why == Why::hasBall);
    GraftSides sides;
    sides.sewn = {Side::right, Side::wrong};
    CHECK(graft(f, thread, {live[0]}, {live[1]}, Run::leftward, sides).error().why == Why::edgesDiffer);
    CHECK(text(f) == before);
    CHECK_FALSE(sentence({Why::edgesDiffer, 2, 1}).empty());
}

}  // namespace loopmend
