// SPDX-License-Identifier: MIT
//
// Blocks of colour: yarns linked at the change, or not; yarns joined on the way. Common practice.
#include <algorithm>
#include <catch2/catch.hpp>

#include "swatch.h"

namespace loopmend {

namespace {

/// Rows of two blocks, from A's on the right: each yarn works its own stitches.
void blockRow(Swatch& s, YarnId b, bool linked, int ofA, int ofB) {
    const bool aFirst = s.knitter().run() == Run::leftward;
    const char* stitch = s.knitter().facing() == Side::right ? "k" : "p";
    for (const bool first : {true, false}) {
        const bool a = aFirst == first;
        const YarnId yarn = a ? s.yarn() : b;
        if (first || !linked) {
            s.knitter().takeYarn(yarn);
        } else {
            REQUIRE(s.knitter().takeYarnLinked(yarn));
        }
        for (int i = 0; i < (a ? ofA : ofB); ++i) s.work(stitch);
    }
}

Swatch blocks(bool linked, int rows, bool mirrored, YarnId& b) {
    Swatch s(8, {Begin::bare, false, Habit::western, mirrored});
    b = s.fabric().addYarn('B', kLoopUm, kStrandUm);
    for (int r = 0; r < rows; ++r) {
        blockRow(s, b, linked, 4, 4);
        s.next();
    }
    return s;
}

}  // namespace

TEST_CASE("linked yarns go by the stitch beside the change in every row, unlinked ones do not") {
    for (const bool mirrored : {false, true}) {
        YarnId b;
        Swatch linked = blocks(true, 6, mirrored, b);
        CHECK(passesIn(linked.fabric()).size() == 6);
        Swatch slit = blocks(false, 6, mirrored, b);
        CHECK(passesIn(slit.fabric()).empty());
        CHECK(linked.knot() != slit.knot());
        for (const Swatch* s : {&linked, &slit}) {
            const Fabric& f = s->fabric();
            CHECK(roundTrips(f));
            const Rows rows = rowsOf(f);
            CHECK(rows.last == 6);
            const auto byRow = loopsByRow(f, rows);
            REQUIRE(byRow.size() == 7);
            for (const auto& row : byRow) CHECK(row.size() == 8);
            for (const PassId p : passesIn(f)) {
                CHECK(f.passSide(p) == Side::wrong);
                if (rows[p] > 1) CHECK(f[f.passed(p)].yarn != f[p].yarn);  // all was cast on in A
                // It stands at the change: the next loop along its yarn is neighbour to what it goes by.
                CHECK(rows[p] == rows[f[p].next]);
            }
        }
    }
}

TEST_CASE("cast on in two yarns, blocks that are not linked are two pieces; linked they are one") {
    // Whether one text can be told from two: the pieces of an unlinked pair part when the second line is cut.
    std::vector<std::string> knots;
    for (const bool linked : {false, true}) {
        auto fabric = std::make_unique<Fabric>();
        const YarnId a = fabric->addYarn('A', kLoopUm, kStrandUm);
        const YarnId b = fabric->addYarn('B', kLoopUm, kStrandUm);
        Knitter k(*fabric, a, Side::wrong);
        REQUIRE(k.castOnBackward(4));
        k.takeYarn(b);
        REQUIRE(k.castOnBackward(4));
        k.turn();
        for (int r = 0; r < 4; ++r) {
            for (int i = 0; i < 8; ++i) {
                const YarnId yarn = (i < 4) == (r % 2 == 0) ? b : a;
                if (i == 4 && linked) {
                    REQUIRE(k.takeYarnLinked(yarn));
                } else if (i % 4 == 0) {
                    k.takeYarn(yarn);
                }
                REQUIRE((r % 2 == 0 ? k.knit() : k.purl()).has_value());
            }
            k.turn();
        }
        CHECK(roundTrips(*fabric));
        // Nothing of the one yarn touches the other, or something does.
        bool touches = false;
        for (const PassId p : passesIn(*fabric))
            touches = touches || (*fabric)[fabric->passed(p)].yarn != (*fabric)[p].yarn;
        CHECK(touches == linked);
        knots.push_back(knotOf(*fabric));
    }
    CHECK(knots[0] != knots[1]);
}

TEST_CASE("taking back a linked row gives back both lines, stitch by stitch") {
    YarnId b;
    Swatch s = blocks(true, 4, false, b);
    const std::string before = text(s.fabric());
    blockRow(s, b, true, 4, 4);
    for (int i = 0; i < 8; ++i) REQUIRE(s.knitter().tink());
    CHECK(text(s.fabric()) == before);
    // And by the journal.
    const Knitter::State mark = s.knitter().mark();
    blockRow(s, b, true, 4, 4);
    s.knitter().rollBack(mark);
    CHECK(text(s.fabric()) == before);
}

TEST_CASE("a column let down beside the change: the link lies across it like a rung, on its side") {
    YarnId b;
    Swatch s = blocks(true, 6, false, b);
    Fabric& f = s.fabric();
    const LoopId beside = s.knitter().ahead()[4];  // A's or B's last stitch before the change
    REQUIRE(s.knitter().drop(beside));
    REQUIRE(letRun(f, 3) == 3);
    const LoopId foot = hanging(f);
    int longOnes = 0;
    for (const PassId p : rungs(f, foot)) longOnes += isLongRung(f, p) ? 1 : 0;
    CHECK(longOnes == 3);
    CHECK(roundTrips(f));
    const Fabric again = reloaded(f);
    CHECK(rungs(again, sameLoop(f, foot, again)).size() == rungs(f, foot).size());
}

TEST_CASE("a link is refused where nothing was worked in this row, and leaves everything as it was") {
    YarnId b;
    Swatch s = blocks(true, 2, false, b);
    const std::string before = text(s.fabric());
    const YarnId inHand = s.knitter().yarn();
    const YarnId other = inHand == b ? s.yarn() : b;
    CHECK(s.knitter().takeYarnLinked(other).error().why == Why::nothingBefore);
    CHECK(s.knitter().takeUp(1, false).error().why == Why::noBall);
    CHECK(s.knitter().yarn() == inHand);
    CHECK(text(s.fabric()) == before);
    // Beside a yarn-over there is nothing to be led past.
    s.work("p yo");
    const std::string worked = text(s.fabric());
    CHECK(s.knitter().takeYarnLinked(other).error().why == Why::noStitchBelow);
    CHECK(s.knitter().yarn() == inHand);
    CHECK(text(s.fabric()) == worked);
    // The yarn in hand needs no link with itself.
    CHECK(s.knitter().takeYarnLinked(inHand));
    CHECK(text(s.fabric()) == worked);
}

TEST_CASE("a second ball of the same colour joined in mid-row: two yarns, one piece") {
    Swatch s = plainSwatch(8, 3);
    const YarnId next = s.fabric().addYarn('A', kLoopUm, kStrandUm);
    const std::string before = text(s.fabric());
    s.work("p4");
    const std::string halfway = text(s.fabric());
    s.knitter().takeYarn(next);
    s.work("p4 | * | *");
    CHECK(roundTrips(s.fabric()));
    CHECK(passesIn(s.fabric()).empty());
    CHECK(s.knot().find("| yarn A ball") != std::string::npos);
    CHECK(rowsOf(s.fabric()).last == 6);
    const Swatch one = [] {
        Swatch w = plainSwatch(8, 3);
        w.work("* | * | *");
        return w;
    }();
    CHECK(s.knot() != one.knot());
    // Back to where it was joined, its yarn is nothing again.
    for (int row = 0; row < 2; ++row) {
        for (int i = 0; i < 8; ++i) REQUIRE(s.knitter().tink());
        REQUIRE(s.knitter().backOneRow());
    }
    for (int i = 0; i < 4; ++i) REQUIRE(s.knitter().tink());
    CHECK(s.knot() == [&] {
        Swatch w = plainSwatch(8, 3);
        w.work("p4");
        return w.knot();
    }());
}

TEST_CASE("in the round a float runs on over the join; taken back it comes in again") {
    for (const bool mirrored : {false, true}) {
        Swatch s(6, {Begin::bare, true, Habit::western, mirrored});
        const YarnId b = s.fabric().addYarn('B', kLoopUm, kStrandUm);
        const auto row = [&](const std::string& letters) {
            for (const char letter : letters) {
                s.knitter().takeYarn(letter == 'B' ? b : s.yarn());
                s.work("k");
            }
        };
        row("ABAABA");
        s.next();
        const std::string before = text(s.fabric());
        const Fabric& f = s.fabric();
        row("AB");
        // From the fifth stitch of the round past the sixth, and past the first of the next.
        std::vector<PassId> last;
        for (EntryId e = f[f[b].last].prev; !f.isLoop(e); e = f[e].prev) last.push_back(e);
        REQUIRE(last.size() == 2);
        for (const PassId p : last) CHECK(f.passSide(p) == Side::wrong);
        CHECK(f[last[1]].flags.rowEnds == 1);
        CHECK(roundTrips(f));
        REQUIRE(s.knitter().tink());
        REQUIRE(s.knitter().tink());
        CHECK(text(f) == before);
        row("ABABAA");
        CHECK(rowsOf(f).last == 2);
        for (const auto& loops : loopsByRow(f, rowsOf(f))) CHECK(loops.size() == 6);
        // A colour that waits from an older round crosses nothing.
        s.next();
        s.knitter().takeYarn(s.yarn());
        s.work("* |");
        const std::size_t passes = passesIn(f).size();
        s.work("k2");
        s.knitter().takeYarn(b);
        s.work("k");
        CHECK(passesIn(f).size() == passes);
        CHECK(roundTrips(f));
    }
}

}  // namespace loopmend
