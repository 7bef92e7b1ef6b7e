// SPDX-License-Identifier: MIT
// A wrong move is done as the hand did it, and the cloth shows it.
#include <catch2/catch.hpp>

#include "fabric/hands.h"
#include "fabric/itinerary.h"
#include "moves_hands.h"
#include "pattern/counts.h"
#include "pattern/parse.h"
#include "repair/plan.h"
#include "scenes.h"

using namespace loopmend;
using namespace loopmend::scenes;

namespace {

/// A column let down by some rows; the open loop.
LoopId letDown(Work& work, LoopId top, int rows) {
    LoopId foot = top;
    for (int i = 0; i < rows; ++i) foot = work.fabric().hostsRightToLeft(foot).front();
    doIt(work, "drop " + id(top));
    doIt(work, "let-run " + id(top) + " " + std::to_string(rows));
    return foot;
}

std::string towardRightSide(const Work& work) {
    return work.knitter().facing() == Side::right ? "hook-k" : "hook-p";
}

LoopId upTo(Work& work, LoopId loop) {
    while (!rungs(work.fabric(), loop).empty())
        loop = doIt(work, towardRightSide(work) + " rung 1 loop " + id(loop));
    doIt(work, "seat " + id(loop));
    return loop;
}

const Link& linkOf(const Fabric& f, LoopId loop) {
    return f[f[loop].firstLink];
}

}  // namespace

TEST_CASE("A hook put in from the wrong side gives the stitch a half turn", "[moves][wrong]") {
    for (const int twist : {-1, 1}) {
        Work work(worked(stockinette(7, 6)));
        const std::string meant = knotOf(work.fabric());
        const LoopId foot = letDown(work, onNeedle(work.fabric(), 4), 3);
        const LoopId turned = doIt(
            work, towardRightSide(work) + " rung 1 loop " + id(foot) + " twist " + std::to_string(twist));
        CHECK(linkOf(work.fabric(), turned).form.twist == twist);
        upTo(work, turned);
        CHECK(knotOf(work.fabric()) != meant);
        CHECK(linkOf(work.fabric(), turned).form.twist == twist);  // the stitches above do not hide it
        replays(work);
    }
}

TEST_CASE("A rung left out stays as a bar across the column", "[moves][wrong]") {
    Work work(worked(stockinette(7, 6)));
    const std::string meant = knotOf(work.fabric());
    const LoopId foot = letDown(work, onNeedle(work.fabric(), 4), 3);
    const PassId lowest = rungs(work.fabric(), foot)[0];
    const LoopId above = doIt(work, towardRightSide(work) + " rung 2 loop " + id(foot));
    upTo(work, above);
    CHECK(knotOf(work.fabric()) != meant);
    CHECK(work.fabric().has(lowest));
    CHECK_FALSE(work.fabric().isFree(lowest));
    CHECK(work.fabric().passed(lowest) == foot);
    replays(work);
}

TEST_CASE("Rungs hooked in the wrong order stand in the wrong order", "[moves][wrong]") {
    Work work(worked(stockinette(7, 6)));
    const std::string meant = knotOf(work.fabric());
    const LoopId foot = letDown(work, onNeedle(work.fabric(), 4), 3);
    const std::vector<PassId> all = rungs(work.fabric(), foot);
    const LoopId before1 = work.fabric().loopBefore(all[0]);
    const LoopId before2 = work.fabric().loopBefore(all[1]);
    const LoopId second = doIt(work, towardRightSide(work) + " rung 2 loop " + id(foot));
    const std::string late = towardRightSide(work) + " pass " + id(all[0]) + " loop " + id(second);
    const auto offers = offersAt(work, Notion::hook, {PointedAt::What::rung, all[0]});
    REQUIRE_FALSE(offers.empty());
    CHECK(textOf(offers.front().move) == late);
    CHECK(offers.front().words.find("the strand that was left out") != std::string::npos);
    const LoopId first = doIt(work, late);
    const Fabric& f = work.fabric();
    CHECK(f.loopBefore(second) == before2);
    CHECK(f.loopBefore(first) == before1);
    CHECK(linkOf(f, first).host == second);
    upTo(work, first);
    CHECK(knotOf(f) != meant);
    CHECK(rowsOf(f).last >= 5);
    replays(work);
}

TEST_CASE("The strand of the wrong color makes a stitch of that color", "[moves][wrong]") {
    const Pattern pattern = parse(
        "Yarns: A, B.\nRows 1, 3, 5, 7 (RS): *with A k2, with B k1, with A k1; rep from * to end.\n"
        "Rows 2, 4, 6, 8: *with A p1, with B p2, with A p1; rep from * to end.\n");
    REQUIRE(pattern.problems.empty());
    Work work(worked(*expand(pattern, 12, 6)));
    const std::string meant = knotOf(work.fabric());
    LoopId top;
    for (int column = 3; column <= 9 && !top; ++column) {
        const LoopId loop = onNeedle(work.fabric(), column);
        if (work.fabric()[work.fabric()[loop].yarn].flags.colour == 'A') top = loop;
    }
    const LoopId foot = letDown(work, top, 1);
    const std::vector<PassId> strands = rungs(work.fabric(), foot);
    REQUIRE(strands.size() >= 2);
    int other = 0;
    for (std::size_t i = 0; i < strands.size(); ++i) {
        const Fabric& f = work.fabric();
        if (f[f[strands[i]].yarn].flags.colour == 'B') other = static_cast<int>(i) + 1;
    }
    REQUIRE(other > 0);
    const LoopId made =
        doIt(work, towardRightSide(work) + " rung " + std::to_string(other) + " loop " + id(foot));
    CHECK(work.fabric()[work.fabric()[made].yarn].flags.colour == 'B');
    doIt(work, "seat " + id(made));
    CHECK(knotOf(work.fabric()) != meant);
    replays(work);
}

TEST_CASE("A hook through the plies pierces the stitch, and half a strand is half a stitch",
          "[moves][wrong]") {
    for (const auto& [word, plies] :
         {std::pair{"pierced", Plies::pierced}, std::pair{"split", Plies::some}}) {
        Work work(worked(stockinette(7, 6)));
        const std::string meant = knotOf(work.fabric());
        const LoopId foot = letDown(work, onNeedle(work.fabric(), 4), 2);
        const LoopId loop = doIt(work, towardRightSide(work) + " rung 1 loop " + id(foot) + " " + word);
        CHECK(linkOf(work.fabric(), loop).form.plies == plies);
        upTo(work, loop);
        CHECK(knotOf(work.fabric()) != meant);
        replays(work);
        // Let down again and taken whole, it is mended.
        const LoopId again = letDown(work, onNeedle(work.fabric(), 4), 2);
        CHECK(again == foot);
        upTo(work, foot);
        CHECK(knotOf(work.fabric()) == meant);
    }
}

TEST_CASE("A stitch that becomes open on the way and is left hanging runs when tugged", "[moves][wrong]") {
    // The column above a decrease let down past it: two stitches come free, one of them is forgotten.
    Work work(worked(ground(8, 6, {{Op::knit}, {Op::knit}, {Op::k2tog}, {Op::yarnOver}}, {{Op::purl}})));
    const std::string meant = knotOf(work.fabric());
    const Fabric& f = work.fabric();
    LoopId decrease;
    for (const LoopId l : row(work, 5)) {
        if (f.linkCount(l) == 2) decrease = l;
    }
    REQUIRE(decrease);
    LoopId top = decrease;
    int rows = 1;
    for (; f[top].firstKid; ++rows) top = f[f[top].firstKid].loop;
    const std::vector<LoopId> pair = f.hostsRightToLeft(decrease);
    doIt(work, "drop " + id(top));
    doIt(work, "let-run " + id(top) + " " + std::to_string(rows));
    doIt(work, "pin " + id(pair[0]));
    CHECK(f.isLoose(pair[1]));
    const LoopId below = f.hostsRightToLeft(pair[1]).front();
    doIt(work, "tug");
    CHECK_FALSE(f.has(pair[1]));
    CHECK(f.has(pair[0]));
    CHECK((f.isLoose(below) || !f.has(below)));
    CHECK(knotOf(f) != meant);
    replays(work);
}

TEST_CASE("Two stitches taken together in the wrong order lean the other way", "[moves][wrong]") {
    std::vector<std::string> knots;
    for (const bool swapped : {false, true}) {
        Work work(worked(ground(8, 6, {{Op::knit}, {Op::knit}, {Op::k2tog}, {Op::yarnOver}}, {{Op::purl}})));
        const Fabric& f = work.fabric();
        LoopId decrease;
        for (const LoopId l : row(work, 5)) {
            if (f.linkCount(l) == 2) decrease = l;
        }
        const std::vector<LoopId> pair = f.hostsRightToLeft(decrease);
        LoopId top = decrease;
        int rows = 1;
        for (; f[top].firstKid; ++rows) top = f[f[top].firstKid].loop;
        doIt(work, "drop " + id(top));
        doIt(work, "let-run " + id(top) + " " + std::to_string(rows));
        const std::vector<LoopId> order =
            swapped ? std::vector<LoopId>{pair[1], pair[0]} : std::vector<LoopId>{pair[0], pair[1]};
        upTo(work, doIt(work, towardRightSide(work) + " rung 1 loop " + ids(order)));
        knots.push_back(knotOf(f));
    }
    CHECK(knots[0] != knots[1]);
}
