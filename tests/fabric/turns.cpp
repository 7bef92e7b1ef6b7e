// SPDX-License-Identifier: MIT
//
// Short rows, picked-up stitches and knitted edges as single operations of the needles. Common practice.
#include <rapidcheck.h>
#include <rapidcheck/catch.h>
#include <algorithm>
#include <catch2/catch.hpp>

#include "swatch.h"

namespace loopmend {

namespace {

/// Refused for that reason, and both lines as they were.
template <class Operation>
void refused(Swatch& s, Why why, Operation operation) {
    const std::string before = text(s.fabric());
    const Side facing = s.knitter().facing();
    const auto result = operation(s.knitter());
    REQUIRE_FALSE(result);
    CHECK(result.error().why == why);
    CHECK(text(s.fabric()) == before);
    CHECK(s.knitter().facing() == facing);
}

int held(const Knitter& k) {
    return k.aheadCount() + static_cast<int>(k.behind().size());
}

}  // namespace

TEST_CASE("what cannot be done at a turn or an edge is refused and changes nothing") {
    for (const bool mirrored : {false, true}) {
        Swatch s = plainSwatch(8, 4, {Begin::longTail, false, Habit::western, mirrored});
        refused(s, Why::notDoubled, [](Knitter& k) { return k.workDoubled(false); });
        refused(s, Why::noWrap, [](Knitter& k) { return k.workWithWrap(); });
        refused(s, Why::noSpareStitches, [](Knitter& k) { return k.bindOffTogether(3); });
        refused(s, Why::noEdge, [](Knitter& k) { return k.pickUpAlong({}, 3); });
        s.work("k4");
        refused(s, Why::notAtATurn, [](Knitter& k) { return k.doubleStitch(); });
        refused(s, Why::noEdge, [](Knitter& k) { return k.pickUpAlong(k.boundOffEdge(), 3); });
        s.work("*");
        refused(s, Why::notEnoughStitches, [](Knitter& k) { return k.wrapAndTurn(); });
        refused(s, Why::notEnoughStitches, [](Knitter& k) { return k.castOnKnitted(2); });
        REQUIRE(s.knitter().bindOffAll().error().why == Why::notEnoughStitches);
        s.next();
        // Two stitches on the holder for three to be bound off: nothing of it is done.
        REQUIRE(s.knitter().leaveOnHolder(2));
        refused(s, Why::noSpareStitches, [](Knitter& k) { return k.bindOffTogether(3); });
    }
}

TEST_CASE("a doubled stitch is one stitch, ahead, behind and from the text, until its first leg is gone") {
    for (const bool wrong : {false, true}) {
        for (const bool mirrored : {false, true}) {
            CAPTURE(wrong, mirrored);
            Swatch s = plainSwatch(8, wrong ? 3 : 2, {Begin::bare, false, Habit::western, mirrored});
            const std::string plain = wrong ? "p" : "k";
            const std::string back = wrong ? "k" : "p";
            s.work(plain + "5 gt");
            CHECK(s.knitter().aheadCount() == 4);
            CHECK(held(s.knitter()) == 8);
            s.work(back + "4 |");
            CHECK(s.knitter().aheadCount() == 8);
            Fabric g = reloaded(s.fabric());
            const Knitter again(g, sameYarn(s.fabric(), s.yarn(), g), s.knitter().facing(), false,
                                Habit::western, mirrored);
            CHECK(again.aheadCount() == 8);
            s.work(plain + "4");
            CHECK(s.knitter().aheadCount() == 4);
            // Knitted as if it were two: one stitch too many.
            const Knitter::State state = s.knitter().mark();
            s.work(plain);
            CHECK(s.knitter().aheadCount() == 4);
            s.knitter().rollBack(state);
            REQUIRE(s.knitter().workDoubled(wrong));
            CHECK(s.knitter().aheadCount() == 3);
            s.work("*");
            CHECK(s.knitter().behind().size() == 8);
            CHECK(roundTrips(s.fabric()));
        }
    }
}

TEST_CASE("taken back over turns of every kind, row by row to where it began") {
    for (const bool mirrored : {false, true}) {
        for (const std::string turn : {"|", "wt", "wtb", "gt"}) {
            CAPTURE(turn, mirrored);
            Swatch s = plainSwatch(8, 2, {Begin::bare, false, Habit::western, mirrored});
            const std::string before = text(s.fabric());
            s.work("k5 " + turn + " p2 " + turn);
            for (int rows = 0; rows < 2; ++rows) {
                while (s.knitter().rowBegun()) REQUIRE(s.knitter().tink());
                REQUIRE(s.knitter().backOneRow());
            }
            while (s.knitter().rowBegun()) REQUIRE(s.knitter().tink());
            CHECK(text(s.fabric()) == before);
            CHECK(s.knitter().aheadCount() == 8);
        }
    }
}

TEST_CASE(
    "the stitch covers its wrap on the side of its V, knitted and purled; taken back, the wrap lies as "
    "before") {
    for (const bool wrong : {false, true}) {
        Swatch s = plainSwatch(8, wrong ? 3 : 2);
        s.work(wrong ? "p5" : "k5");
        REQUIRE(s.knitter().wrapAndTurn());
        const LoopId wrapped = s.knitter().behind().back();
        const std::vector<PassId> strands = s.fabric().passesOf(wrapped);
        REQUIRE(strands.size() == 2);
        CHECK(s.fabric().passSide(strands.front()) == Side::right);  // on the side of the Vs first
        s.work("* |");
        s.work(wrong ? "p5" : "k5");
        const std::string before = text(s.fabric());
        const LoopId both = *s.knitter().workWithWrap(wrong);
        const std::string stack = form(s.fabric(), both);
        // Seen from the right side the stitch lies in front of the lifted strand, which has no links.
        const std::vector<LinkId> links = s.fabric().linksOf(both);
        CHECK(s.fabric()[links.back()].host == wrapped);
        CHECK(stack.front() == 'k');
        CHECK(s.fabric().linkCount(s.fabric()[links.front()].host) == 0);
        REQUIRE(s.knitter().tink());
        CHECK(text(s.fabric()) == before);
    }
}

TEST_CASE("a stitch wrapped twice is worked with both its wraps") {
    Swatch s = plainSwatch(8, 2);
    s.work("k5 wt p3 | k3 wt * | k5");
    const LoopId next = s.knitter().ahead().front();
    CHECK(s.fabric().passesOf(next).size() == 4);
    const LoopId all = *s.knitter().workWithWrap();
    CHECK(s.fabric().linkCount(all) == 3);
    s.work("* |");
    CHECK(s.knitter().aheadCount() == 8);
    CHECK(roundTrips(s.fabric()));
}

TEST_CASE("rows' ends: one loop a row, from the top down on the left, one a chain where they are slipped") {
    Swatch s = plainSwatch(6, 8);
    s.work("*");
    const std::vector<LoopId> edge = s.knitter().sideEdge();
    CHECK(edge.size() == 8);
    const Rows rows = rowsOf(s.fabric());
    for (std::size_t i = 1; i < edge.size(); ++i) CHECK(rows[edge[i - 1]] == rows[edge[i]] + 1);
    REQUIRE(s.knitter().pickUpAlong(edge, 6));
    CHECK(s.knitter().behind().size() == 12);
    for (int i = 0; i < 6; ++i) REQUIRE(s.knitter().tink());
    CHECK(s.knitter().behind().size() == 6);

    Swatch chain = plainSwatch(6, 2);
    for (int i = 0; i < 4; ++i) chain.work("sl k5 | slf p5 |");
    chain.work("sl k5");
    CHECK(chain.knitter().sideEdge().size() == 4 + 2);  // four chains over two plain rows
}

TEST_CASE(
    "more stitches picked up than the edge has: the second one in a stitch is under its outer leg alone") {
    for (const bool left : {true, false}) {
        CAPTURE(left);
        Swatch s = plainSwatch(5, 4);
        if (left) s.work("*");
        Knitter& k = s.knitter();
        const std::vector<LoopId> edge = k.sideEdge();
        const auto size = static_cast<int>(edge.size());
        REQUIRE(size >= 3);
        const auto before = static_cast<int>(k.behind().size());
        REQUIRE(k.pickUpAlong(edge, 2 * size));
        const std::vector<LoopId> all = k.behind();
        REQUIRE(static_cast<int>(all.size()) == before + 2 * size);
        int twice = 0;
        for (const LoopId loop : all) {
            const LinkId link = s.fabric()[loop].firstLink;
            if (link && s.fabric()[link].form.part != Part::opening) {
                twice += s.fabric()[link].form.part == (left ? Part::leftLeg : Part::rightLeg) ? 1 : 0;
            }
        }
        CHECK(twice == size);
        CHECK(roundTrips(s.fabric()));
    }
}

TEST_CASE("the edges of cast-on and bind-off, from end to end, whichever hand") {
    for (const Begin begin : {Begin::longTail, Begin::backward}) {
        for (const bool mirrored : {false, true}) {
            CAPTURE(mirrored);
            Swatch s = plainSwatch(7, 3, {begin, false, Habit::western, mirrored});
            const std::vector<LoopId> bottom = s.knitter().castOnEdge();
            REQUIRE(bottom.size() == 7);
            // It starts below the end at which the row in hand will end.
            CHECK(standsOn(s.fabric(), s.knitter().ahead().back(), bottom.front()));
            REQUIRE(s.knitter().bindOffAll(true));
            CHECK(s.knitter().boundOffEdge().size() == 7);
            const YarnId b = s.fabric().addYarn('B', kLoopUm, kStrandUm);
            s.next();
            s.knitter().takeYarn(b);
            REQUIRE(s.knitter().pickUpAlong(s.knitter().boundOffEdge(), 7));
            CHECK(s.knitter().behind().size() == 7);
            CHECK(roundTrips(s.fabric()));
        }
    }
}

TEST_CASE("a knitted cast-on: the slip knot is its first stitch; more is knitted on before the next stitch") {
    Fabric f;
    Knitter k(f, f.addYarn('A', kLoopUm, kStrandUm), Side::wrong);
    REQUIRE(k.castOnKnitted(4));
    CHECK(knotOf(f) == "yarn A ball > o! 1k 2k 3k | needle 4 3 2 1");
    k.turn();
    REQUIRE(k.castOnKnitted(2));
    CHECK(k.aheadCount() == 6);
    CHECK(k.behind().empty());
    CHECK(k.rowBegun());
    REQUIRE(k.tink());
    REQUIRE(k.tink());
    CHECK_FALSE(k.rowBegun());
    CHECK(knotOf(f) == "yarn A ball > o! 1k 2k 3k | needle 4 3 2 1");
    while (k.aheadCount() > 0) REQUIRE(k.knit());
    CHECK(letRun(f) == 0);
    CHECK(roundTrips(f));
}

TEST_CASE(
    "bound off together with a holder: each loop stands in one stitch of either piece, which lie face to "
    "face") {
    for (const bool wrong : {false, true}) {
        CAPTURE(wrong);
        Swatch s = plainSwatch(6, 2);
        const std::vector<LoopId> all = s.knitter().ahead();
        REQUIRE(s.knitter().leaveOnHolder(3));
        if (wrong) s.work("* |");
        const std::vector<LoopId> here = s.knitter().ahead();
        const std::vector<LoopId> spare = s.knitter().spareStitches();
        REQUIRE(spare.size() == 3);
        // Folded between them, the two that lay side by side meet.
        CHECK(spare.front() == (wrong ? all[0] : all[2]));
        REQUIRE(s.knitter().bindOffTogether(2));
        const Fabric& f = s.fabric();
        const LoopId last = s.knitter().behind().back();
        REQUIRE(f.linkCount(last) == 3);  // both stitches and the chain
        CHECK(f[f.linksOf(last)[0]].host == spare[2]);
        CHECK(f[f.linksOf(last)[1]].host == here[2]);
        CHECK(f[f.linksOf(last)[0]].form.side == opposite(s.knitter().facing()));
        CHECK(f[f.linksOf(last)[1]].form.side == s.knitter().facing());
        CHECK(s.knitter().spareStitches().empty());
        CHECK(roundTrips(f));
        REQUIRE(s.knitter().fasten());
        CHECK(letRun(s.fabric()) == 0);
    }
}

TEST_CASE("a wrap and a doubled stitch in the round: back past nothing, on to the round's end") {
    for (const bool mirrored : {false, true}) {
        Swatch s = plainSwatch(8, 2, {Begin::bare, true, Habit::western, mirrored});
        s.work("k6");
        REQUIRE(s.knitter().wrapAndTurn());
        CHECK(s.knitter().facing() == Side::wrong);
        CHECK(s.knitter().aheadCount() == 6);
        s.work("p3");
        s.knitter().turn();
        REQUIRE(s.knitter().doubleStitch());
        s.work("k2");
        REQUIRE(s.knitter().workWithWrap());
        s.work("k");
        CHECK(s.knitter().aheadCount() == 0);
        s.next();
        CHECK(s.knitter().aheadCount() == 8);
        s.work("k3");
        REQUIRE(s.knitter().workDoubled(false));
        s.work("* |");
        CHECK(s.knitter().aheadCount() == 8);
        CHECK(roundTrips(s.fabric()));
    }
}

TEST_CASE(
    "any short rows, flat and in the round: the count stays, the text reads the same, and all comes back") {
    rc::prop("short rows", [](std::uint32_t seed) {
        const auto dice = [&seed](std::uint32_t n) {
            seed = seed * 1664525U + 1013904223U;
            return static_cast<int>((seed >> 10U) % n);
        };
        Start start{Begin::bare, dice(2) == 0};
        start.mirrored = dice(2) == 0;
        Swatch s = plainSwatch(9, 2, start);
        Knitter& k = s.knitter();
        const std::string before = s.knot();
        const int rows = 2 + dice(7);
        bool turned = false;
        for (int r = 0; r < rows; ++r) {
            if (turned && dice(2) == 0 && k.aheadCount() > 1) (void)k.doubleStitch();
            const int stop = dice(3) == 0 ? 0 : dice(static_cast<std::uint32_t>(k.aheadCount()));
            while (k.aheadCount() > stop) {
                const bool purl = k.facing() == Side::wrong;
                if (k.workDoubled(purl)) continue;
                if (dice(2) == 0 && k.workWithWrap(purl)) continue;
                RC_ASSERT(k.work(1, purl, Leg::leading).has_value());
            }
            RC_ASSERT(held(k) == 9);
            turned = true;
            if (k.aheadCount() > 0 && dice(2) == 0) {
                RC_ASSERT(k.wrapAndTurn().has_value());
            } else if (k.aheadCount() == 0 && k.inTheRound() && k.facing() == Side::right) {
                RC_ASSERT(k.endRound().has_value());
                turned = false;
            } else {
                k.turn();
            }
        }
        RC_ASSERT(roundTrips(s.fabric()));
        RC_ASSERT(held(k) == 9);
        for (int r = 0; r < rows; ++r) {
            while (k.rowBegun()) RC_ASSERT(k.tink().has_value());
            RC_ASSERT(k.backOneRow().has_value());
        }
        while (k.rowBegun()) RC_ASSERT(k.tink().has_value());
        RC_ASSERT(s.knot() == before);
        RC_ASSERT(k.aheadCount() == 9);
    });
}

}  // namespace loopmend
