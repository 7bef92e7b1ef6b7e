// SPDX-License-Identifier: MIT
//
// Starts, ends, edges, turns and joins, one test a line of the craft. Common practice.
#include <fmt/format.h>
#include <algorithm>
#include <catch2/catch.hpp>

#include "swatch.h"

namespace loopmend {

namespace {

std::vector<LoopId> held(const Swatch& s) {
    std::vector<LoopId> loops;
    const Fabric& f = s.fabric();
    for (HeldId h = f[f.needle()].first; h; h = f[h].next) loops.push_back(f[h].loop);
    return loops;
}

}  // namespace

TEST_CASE("a long-tail cast-on is a row of loops over a row of hitches made of the other end") {
    Swatch s(4, {Begin::longTail});
    const Fabric& f = s.fabric();
    const std::vector<LoopId> loops = loopsOf(f);
    REQUIRE(loops.size() == 8);
    for (std::size_t i = 0; i < 4; ++i) {
        // The yarn runs from its tail through the hitches, turns at the first stitch and comes back through
        // the loops.
        const LoopId hitch = loops[3 - i];
        const LoopId loop = loops[4 + i];
        CHECK(f[hitch].flags.anchored == 1);
        CHECK(f[loop].flags.anchored == 0);
        CHECK(hostOf(f, loop) == hitch);
        CHECK(f.run(hitch) != f.run(loop));
    }
}

TEST_CASE(
    "turned and begun with a right-side row, the long-tail's own row reads as purl from the right side") {
    Swatch turned(4, {Begin::longTail});
    CHECK(form(turned.fabric(), turned.knitter().ahead()[0]) == "p");
    // Begun with a wrong-side row, it is knit as the right side shows it; so it is in the round.
    Swatch wrongFirst(4, {Begin::longTail, false, Habit::western, false, Side::wrong});
    CHECK(form(wrongFirst.fabric(), wrongFirst.knitter().ahead()[0]) == "k");
    Swatch round(4, {Begin::longTail, true});
    CHECK(form(round.fabric(), round.knitter().ahead()[0]) == "k");
}

TEST_CASE("a knitted cast-on: each loop drawn through the last and put back on the needle") {
    Fabric f;
    const YarnId yarn = f.addYarn('A', kLoopUm, kStrandUm);
    LoopId last =
        *f.liftFromBall(yarn, Run::leftward, kLoopUm, 0);  // the slip knot, which counts as first stitch
    f.setAnchored(last, true);
    REQUIRE(f.hold(last, f.needle(), HeldId{}, Mount::western));
    for (int i = 0; i < 3; ++i) {
        const LoopId loop = *f.liftFromBall(yarn, Run::leftward, kLoopUm, kStrandUm);
        REQUIRE(f.pull(loop, last, LinkForm{}));
        REQUIRE(f.hold(loop, f.needle(), HeldId{}, Mount::western));
        last = loop;
    }
    CHECK(roundTrips(f));
    // A loop that is held and has another through it is not live; only the last one could fall.
    int live = 0;
    for (const LoopId loop : loopsOf(f)) live += f.isLive(loop) ? 1 : 0;
    CHECK(live == 1);
    CHECK(knotOf(f).find("yarn A ball < o! 1k 2k 3k") == 0);
}

TEST_CASE("half-hitches: knotted, with one half turn on the needle") {
    Swatch s(3, {Begin::backward});
    CHECK(s.knot() == "yarn A ball > o! o! o! | needle 3-1 2-1 1-1");
    s.work("k3");
    for (const LoopId loop : s.knitter().behind()) CHECK(form(s.fabric(), loop) == "k-1");
}

TEST_CASE("a chain bind-off: each loop ends drawn through the next") {
    Swatch s = plainSwatch(5, 2);
    const std::vector<LoopId> below = s.knitter().ahead();
    REQUIRE(s.knitter().bindOffAll());
    const Fabric& f = s.fabric();
    CHECK(held(s).empty());
    CHECK(f[s.yarn()].flags.ball == 0);
    LoopId loop = f[s.yarn()].last;
    CHECK(f[loop].flags.anchored == 1);
    for (std::size_t i = 5; i-- > 1;) {
        REQUIRE(f.linkCount(loop) == 2);
        CHECK(f[f.linksOf(loop)[0]].host == below[i]);
        const LinkId chain = f.linksOf(loop)[1];
        CHECK(f[chain].host == f[loop].prev);
        CHECK(f[chain].form.twist == 0);
        loop = f[loop].prev;
    }
    CHECK(f.linkCount(loop) == 1);
    CHECK(letRun(s.fabric()) == 0);
}

TEST_CASE("bound off purlwise, and one stitch alone") {
    Swatch s = plainSwatch(4, 2);
    REQUIRE(s.knitter().bindOffAll(true));
    for (const LoopId loop : loopsOf(s.fabric())) {
        if (s.fabric().linkCount(loop) == 2) CHECK(form(s.fabric(), loop).front() == 'p');
    }
    Swatch one(1);
    REQUIRE(one.knitter().bindOffAll());
    CHECK(held(one).empty());
    CHECK(letRun(one.fabric()) == 0);
    CHECK(one.knitter().bindOffAll().error().why == Why::notEnoughStitches);
}

TEST_CASE("a bind-off in mid-row begins with the last stitch worked; the loop left stays on the needle") {
    Swatch s = plainSwatch(8, 2);
    const std::vector<LoopId> below = s.knitter().ahead();
    s.work("k3 bo2");  // the third and fourth stitch
    CHECK(s.knitter().behind().size() == 3);
    CHECK(s.knitter().aheadCount() == 3);
    CHECK(hostOf(s.fabric(), s.knitter().behind()[1]) == below[1]);
    // Bound off again, the loop that was left is the first.
    s.work("bo1");
    CHECK(s.knitter().behind().size() == 3);
    CHECK(s.knitter().aheadCount() == 2);
    // All that is left: some stitches stay where they are.
    REQUIRE(s.knitter().bindOffAll());
    CHECK(s.knitter().aheadCount() == 0);
    CHECK(s.knitter().behind().size() == 2);
    CHECK(roundTrips(s.fabric()));
    letRun(s.fabric());
    CHECK(s.knitter().behind().size() == 2);
}

TEST_CASE("a slipped edge makes one chain for every two rows") {
    Swatch s = plainSwatch(6, 2);
    for (int i = 0; i < 3; ++i) s.work("sl k5 | slf p5 |");
    // Each edge loop stands through two rows.
    const Fabric& f = s.fabric();
    const Rows rows = rowsOf(f);
    LoopId edge = s.knitter().ahead().front();
    int chains = 0;
    for (LoopId host = hostOf(f, edge); host && f[host].flags.anchored == 0; host = hostOf(f, host)) {
        CHECK(rows[edge] - rows[host] == 2);
        edge = host;
        if (++chains == 3) break;
    }
    CHECK(chains == 3);
}

TEST_CASE("a garter edge: knitted first and last in every row, a bump every second row") {
    Swatch s = plainSwatch(6, 0);
    for (int i = 0; i < 2; ++i) s.work("k6 | k p4 k |");
    const Fabric& f = s.fabric();
    LoopId edge = s.knitter().ahead().front();
    std::string seen;
    for (; f[edge].firstLink; edge = hostOf(f, edge)) seen += form(f, edge);
    CHECK(seen == "pkpk");
}

TEST_CASE("picked up along an edge: drawn out from under a whole edge stitch, both its strands") {
    Swatch s = plainSwatch(5, 6);
    const std::vector<LoopId> loops = loopsOf(s.fabric());
    s.work("k bo4");
    const std::int32_t before = s.fabric().loopCount();
    const LoopId edge = loops[15];
    const LoopId picked = *s.knitter().pickUp(edge, Part::bothLegs, Side::right);
    const Fabric& f = s.fabric();
    CHECK(f.loopCount() == before + 1);
    CHECK(form(f, picked) == "k");
    const LinkId link = f.linksOf(picked).front();
    CHECK(f[link].form.part == Part::bothLegs);
    CHECK(f[link].host == edge);
    CHECK(f.kidCount(edge) == 2);  // the stitch above it, and the new one
    CHECK(s.knitter().behind().back() == picked);
    CHECK(roundTrips(f));
    // It pulls out again and leaves the edge as it was.
    REQUIRE(s.knitter().tink());
    CHECK(s.fabric().kidCount(edge) == 1);
    // Under one leg, on that leg's side of the stitch above.
    const LoopId right = *s.knitter().pickUp(edge, Part::rightLeg, Side::right);
    CHECK(s.fabric()[s.fabric()[edge].firstKid].loop == right);
    const LoopId left = *s.knitter().pickUp(edge, Part::leftLeg, Side::right);
    CHECK(s.fabric()[s.fabric()[edge].lastKid].loop == left);
}

TEST_CASE("an unplanned turn: the yarn goes back in mid-row, two rows more on one side") {
    Swatch s = plainSwatch(8, 2);
    s.work("k5 | p5 | *");
    const Fabric& f = s.fabric();
    const std::vector<LoopId> now = s.knitter().behind();
    const auto depth = [&](LoopId loop) {
        int n = 0;
        for (; f[loop].firstLink; loop = hostOf(f, loop)) ++n;
        return n;
    };
    for (std::size_t i = 0; i < 8; ++i) CHECK(depth(now[i]) == (i < 5 ? 5 : 3));
    CHECK(passesIn(f).empty());  // nothing but the gap tells of it
}

TEST_CASE("wrap and turn: a strand round the next stitch, which stays; later both are worked together") {
    Swatch s = plainSwatch(8, 2);
    const LoopId wrapped = s.knitter().ahead()[4];
    s.work("k4 wt");
    CHECK(s.knitter().facing() == Side::wrong);
    const std::vector<PassId> strands = s.fabric().passesOf(wrapped);
    REQUIRE(strands.size() == 2);
    CHECK(s.fabric().passSide(strands[0]) != s.fabric().passSide(strands[1]));
    CHECK(s.fabric().run(strands[0]) != s.fabric().run(strands[1]));
    CHECK(s.fabric().isHeld(wrapped));
    s.work("p4 | k4");
    const LoopId both = s.work("wwrap");
    const std::vector<LoopId> hosts = s.fabric().hostsRightToLeft(both);
    REQUIRE(hosts.size() == 2);
    CHECK(std::find(hosts.begin(), hosts.end(), wrapped) != hosts.end());
    // One strand of the wrap was lifted; the one that was behind stays.
    CHECK(s.fabric().passesOf(wrapped).size() == 1);
    s.work("* |");
    CHECK(s.knitter().aheadCount() == 8);
    CHECK(roundTrips(s.fabric()));
    CHECK(workWord(s.knitter(), "wwrap").error().why == Why::noWrap);
}

TEST_CASE("German turn: the stitch shows two legs and counts as one; both are worked together") {
    Swatch s = plainSwatch(8, 2);
    s.work("k4");
    const LoopId last = s.knitter().behind().back();
    const LoopId leg = s.work("gt");
    CHECK(s.knitter().facing() == Side::wrong);
    const Fabric& f = s.fabric();
    CHECK(s.knitter().behind().back() == last);  // one stitch, though it shows two legs
    CHECK(f.linkCount(leg) == 0);
    CHECK(f[leg].prev == last);        // beside the stitch it was pulled up over
    CHECK(f.run(leg) != f.run(last));  // going the other way
    CHECK(s.fabric().passesOf(last).empty());
    s.work("p3 | k3");
    const LoopId both = *s.knitter().work(2, false, Leg::front);
    CHECK(f.linkCount(both) == 2);
    s.work("* |");
    CHECK(s.knitter().aheadCount() == 8);
    CHECK(roundTrips(f));
}

TEST_CASE("a round is joined after its last cast-on stitch, flat or twisted") {
    for (const int twist : {0, 2, -2}) {
        Swatch s(6, {Begin::longTail, true, Habit::western, false, Side::right, twist});
        s.rows(2);
        CHECK(s.knot().find(fmt::format("join 12 {:+d}", twist)) != std::string::npos);
        CHECK(s.knitter().inTheRound());
        // One spiral: each round's first stitch follows the last of the round before along the yarn.
        const Fabric& f = s.fabric();
        for (EntryId e = f[s.yarn()].first; f[e].next; e = f[e].next) {
            if (f[e].flags.anchored == 0) CHECK(f.run(e) == Run::leftward);
        }
    }
    Swatch flat(4);
    CHECK(flat.knitter().endRound().error().why == Why::notInTheRound);
    Swatch round(4, {Begin::bare, true});
    CHECK(round.knitter().endRound().error().why == Why::rowNotWorked);
}

TEST_CASE("stitches left on a holder keep their order and how they sit, and come back") {
    for (const int rows : {2, 3}) {
        Swatch s = plainSwatch(8, rows);
        const std::string plain = rows == 2 ? "k" : "p";
        s.work(plain + "2");
        const std::vector<LoopId> ahead = s.knitter().ahead();
        const std::string before = s.knot();
        const ToolId holder = *s.knitter().leaveOnHolder(3);
        const Fabric& f = s.fabric();
        CHECK(f[holder].kind == ToolKind::holder);
        CHECK(s.knitter().ahead() == std::vector<LoopId>(ahead.begin() + 3, ahead.end()));
        std::vector<LoopId> on;
        for (HeldId h = f[holder].first; h; h = f[h].next) on.push_back(f[h].loop);
        std::vector<LoopId> rightToLeft(ahead.begin(), ahead.begin() + 3);
        if (s.knitter().run() == Run::rightward) std::reverse(rightToLeft.begin(), rightToLeft.end());
        CHECK(on == rightToLeft);
        letRun(s.fabric());
        CHECK(looseLoops(f).empty());
        s.work("* |");
        CHECK(roundTrips(f));
        CHECK(s.knitter().leaveOnHolder(9).error().why == Why::notEnoughStitches);
        CHECK(before != s.knot());
    }
}

TEST_CASE("a bobble: several into one, a few short rows, together again; the count is as before") {
    Swatch s = plainSwatch(7, 2);
    s.work("k3 kyokyok | p5 | k5 | p5 |");
    const LoopId closed = *s.knitter().work(5, false, Leg::front);
    CHECK(s.fabric().linkCount(closed) == 5);
    s.work("* |");
    CHECK(s.knitter().aheadCount() == 7);
    CHECK(roundTrips(s.fabric()));
    // Let down, it comes undone to the one stitch it stood on.
    REQUIRE(s.knitter().drop(closed));
    CHECK(letRunFrom(s.fabric(), closed, 1) == 1);
    CHECK(looseLoops(s.fabric()).size() == 5);
    letRun(s.fabric(), 20);
    CHECK(roundTrips(s.fabric()));
}

}  // namespace loopmend
