// SPDX-License-Identifier: MIT
//
// Rows found by walking along the yarns, from the knot; row marks settle ties only.
#include <catch2/catch.hpp>
#include <functional>
#include <map>

#include "swatch.h"

namespace loopmend {

namespace {

using Act = std::function<void(Swatch&)>;

/// A piece worked row by row, with the row in which each of its loops was made.
struct Worked {
    Swatch swatch;
    std::map<std::int32_t, int> rowOf;
    int row = 0;

    explicit Worked(int stitches, bool round = false, Begin begin = Begin::bare)
        : swatch(stitches, {begin, round}) {
        remember();
        row = 1;
    }
    void remember() {
        for (const LoopId loop : loopsOf(swatch.fabric())) rowOf.emplace(loop.value, row);
    }
    /// Words as in Swatch::work; every | ends a row.
    Worked& work(const std::string& words) {
        std::size_t from = 0;
        while (from <= words.size()) {
            const std::size_t end = std::min(words.find('|', from), words.size());
            swatch.work(words.substr(from, end - from));
            if (end < words.size()) next();
            from = end + 1;
        }
        return *this;
    }
    Worked& act(const Act& act) {
        act(swatch);
        return *this;
    }
    void next() {
        remember();
        swatch.next();
        ++row;
    }
    /// Turned by the knitter herself.
    Worked& turned() {
        remember();
        ++row;
        return *this;
    }
};

/// Every loop that goes through something is found in the row in which it was made.
void checkRows(const Fabric& f, const std::map<std::int32_t, int>& rowOf) {
    const Rows rows = rowsOf(f);
    int wrong = 0;
    for (const LoopId loop : loopsOf(f)) {
        if (!f[loop].firstLink && f[loop].flags.anchored == 0) continue;
        if (rows[loop] != rowOf.at(loop.value)) ++wrong;
    }
    CHECK(wrong == 0);
}

void withoutRowMarks(Fabric& f) {
    for (std::int32_t e = 0; e < f.entryCount(); ++e) {
        if (f.has(EntryId{e})) f.setRowEnds(EntryId{e}, false);
    }
}

/// With row marks, without them, and after reloading from the text.
void checkAllWays(Worked& w) {
    w.remember();
    Fabric& f = w.swatch.fabric();
    {
        INFO("with row marks");
        checkRows(f, w.rowOf);
    }
    {
        INFO("reloaded");
        const Fabric g = reloaded(f);
        std::map<std::int32_t, int> there;
        const Numbering here = numbering(f);
        const Numbering now = numbering(g);
        for (std::size_t i = 0; i < here.order.size(); ++i)
            there.emplace(now.order.at(i).value, w.rowOf.at(here.order[i].value));
        checkRows(g, there);
    }
    {
        INFO("from the knot alone");
        withoutRowMarks(f);
        checkRows(f, w.rowOf);
    }
}

}  // namespace

TEST_CASE("plain rows, flat and in the round") {
    Worked flat(8);
    checkAllWays(flat.work("* | * | * | * | *"));
    Worked round(8, true);
    checkAllWays(round.work("* | * | * | * | *"));
}

TEST_CASE("the first stitch slipped") {
    Worked flat(8);
    checkAllWays(flat.work("sl * | sl * | sl * | sl *"));
    Worked round(8, true);
    checkAllWays(round.work("* | sl * | * | sl * | *"));
    Worked last(8);
    checkAllWays(last.work("k7 sl | p7 sl | k7 sl | *"));
}

TEST_CASE("decreases, increases and yarn-overs in the row") {
    Worked w(10);
    checkAllWays(w.work("k3 ssk yo k2tog k3 | p2 p2tog yo yo p5 | k3 kfb k2 s2kp yo * | *"));
    Worked round(10, true);
    checkAllWays(round.work("k3 ssk yo k2tog k3 | * | k2 kfb * | k3 k3tog *"));
}

TEST_CASE("a yarn-over at the edge of a flat row") {
    Worked w(8);
    checkAllWays(w.work("yo k2tog * | yo p2tog * | yo k2tog * | *"));
}

TEST_CASE("short rows: a plain turn, a wrap, a stitch with two legs") {
    Worked plain(8);
    checkAllWays(plain.work("* | * | k4 | p4 | * | *"));
    Worked wrap(8);
    wrap.work("* | * | k4 wt").turned();
    checkAllWays(wrap.work("p4 | * | * | *"));
    Worked worked(8);
    worked.work("* | * | k4 wt").turned();
    checkAllWays(worked.work("p4 | k4 wwrap * | * | *"));
    Worked german(8);
    german.work("* | * | k4 gt").turned();
    checkAllWays(german.work("p3 | k3")
                     .act([](Swatch& s) { REQUIRE(s.knitter().work(2, false, Leg::front)); })
                     .work("* | *"));
}

TEST_CASE("a stitch knitted below, at the start of a row and inside") {
    Worked w(8);
    checkAllWays(w.work("* | * | kbelow * | * | k3 kbelow * | *"));
}

TEST_CASE("cast on and bound off in mid-row") {
    Worked w(10);
    checkAllWays(w.work("* | * | k3 bo3 co3 * | * | *"));
    Worked edge(8);
    checkAllWays(edge.work("* | * | k bo2 * | p bo2 * | *"));
}

TEST_CASE("a made stitch near the edge") {
    Worked w(8);
    checkAllWays(w.work("* | * | k m1l * | p m1lp * | *"));
}

TEST_CASE("a whole round of slipped stitches") {
    Worked w(8, true);
    checkAllWays(w.work("* | sl8 | * | * | sl8 | *"));
}

TEST_CASE("stripes, a colour joined at either edge") {
    Worked w(8);
    const YarnId a = w.swatch.yarn();
    const YarnId b = w.swatch.fabric().addYarn('B', kLoopUm, kStrandUm);
    const auto take = [](YarnId yarn) { return [yarn](Swatch& s) { s.knitter().takeYarn(yarn); }; };
    w.work("* | * | ")
        .act(take(b))
        .work("* | * | ")
        .act(take(a))
        .work("* | * | * | ")
        .act(take(b))
        .work("* | *");
    checkAllWays(w);
}

TEST_CASE("two colours in a row, flat and as a checker in the round") {
    for (const bool round : {false, true}) {
        CAPTURE(round);
        Worked w(8, round);
        const YarnId a = w.swatch.yarn();
        const YarnId b = w.swatch.fabric().addYarn('B', kLoopUm, kStrandUm);
        w.work("* | ");
        for (int r = 0; r < 4; ++r) {
            for (int i = 0; i < 8; ++i) {
                w.swatch.knitter().takeYarn((i + r) % 2 == 0 ? a : b);
                w.swatch.work(w.swatch.knitter().facing() == Side::right ? "k" : "p");
            }
            w.next();
        }
        w.swatch.knitter().takeYarn(a);
        checkAllWays(w.work("*"));
    }
}

TEST_CASE("stripes with slipped stitches") {
    Worked w(8);
    const YarnId a = w.swatch.yarn();
    const YarnId b = w.swatch.fabric().addYarn('B', kLoopUm, kStrandUm);
    w.work("* | * | ");
    for (int r = 0; r < 4; ++r) {
        w.swatch.knitter().takeYarn(r / 2 % 2 == 0 ? b : a);
        const bool front = w.swatch.knitter().facing() == Side::wrong;
        for (int i = 0; i < 8; ++i) {
            // Each colour's two rows slip the same columns.
            const bool slip = (r % 2 == 0 ? i : 7 - i) % 2 == (r / 2) % 2;
            w.swatch.work(slip ? (front ? "slf" : "sl") : front ? "p" : "k");
        }
        w.next();
    }
    checkAllWays(w);
}

TEST_CASE("a piece bound off, and its side picked up with the same yarn: a section of its own") {
    Worked w(6);
    w.work("* | * | * | * | * | k bo5");
    w.remember();
    const std::vector<LoopId> loops = loopsOf(w.swatch.fabric());
    const int boundOff = w.row;
    w.row = boundOff + 1;
    // Every other row's stitch along the left edge, from the last row down.
    const Rows before = rowsOf(w.swatch.fabric());
    std::vector<LoopId> edge;
    for (const LoopId loop : loops) {
        if (w.rowOf.at(loop.value) % 2 == 0 && w.rowOf.at(loop.value) > 0 &&
            standsOn(w.swatch.fabric(), loop, loops[0]))
            edge.push_back(loop);
    }
    REQUIRE(edge.size() >= 2);
    for (auto it = edge.rbegin(); it != edge.rend(); ++it)
        REQUIRE(w.swatch.knitter().pickUp(*it, Part::bothLegs, Side::right));
    w.remember();
    const Rows rows = rowsOf(w.swatch.fabric());
    for (const LoopId loop : loopsOf(w.swatch.fabric())) CHECK(rows[loop] == w.rowOf.at(loop.value));
    CHECK(rows.last == boundOff + 1);
    CHECK(before.last == boundOff);
}

TEST_CASE("bound off past a stitch that fell: still one row") {
    Worked w(8);
    w.work("* | * | * |");
    Knitter& k = w.swatch.knitter();
    REQUIRE(k.bindOff(3, false));
    REQUIRE(k.drop(k.ahead().front()));
    REQUIRE(k.bindOff(3, false));
    w.remember();
    const Rows rows = rowsOf(w.swatch.fabric());
    for (const LoopId loop : loopsOf(w.swatch.fabric())) CHECK(rows[loop] == w.rowOf.at(loop.value));
}

TEST_CASE("what the knot leaves open at the join of rounds is settled by row marks, also after reloading") {
    // A yarn-over last in a round and one first in the next are the same knot.
    const auto rounds = [](bool first) {
        Worked w(8, true);
        w.work("* | ");
        if (first) {
            w.work("* | yo k2tog * | * | *");
        } else {
            w.work("* yo | k2tog * | * | k7");  // the yarn-over, last on the needle, is worked a round sooner
        }
        w.remember();
        return w;
    };
    Worked last = rounds(false);
    Worked first = rounds(true);
    // But for where the round stands: the needle's order begins at its join.
    const auto standing = [](const Worked& w) {
        const std::string knot = w.swatch.knot();
        return knot.substr(0, knot.find(" | needle"));
    };
    CHECK(standing(last) == standing(first));
    for (Worked* w : {&last, &first}) {
        const Fabric& f = w->swatch.fabric();
        const Rows rows = rowsOf(f);
        for (const LoopId loop : loopsOf(f)) CHECK(rows[loop] == w->rowOf.at(loop.value));
        const Fabric g = reloaded(f);
        const Rows again = rowsOf(g);
        for (const LoopId loop : loopsOf(f)) CHECK(again[sameLoop(f, loop, g)] == rows[loop]);
    }
    // Likewise a stitch knitted below at the start of a round: it meets only what stands two rounds down.
    Worked below(8, true);
    below.work("* | * | kbelow * | * | *");
    below.remember();
    const Rows rows = rowsOf(below.swatch.fabric());
    for (const LoopId loop : loopsOf(below.swatch.fabric())) {
        if (below.swatch.fabric()[loop].firstLink) CHECK(rows[loop] == below.rowOf.at(loop.value));
    }
}

TEST_CASE("a stitch made out of the strand over the join, last in its round") {
    Worked w(8, true);
    w.work("* | * m1l | * | *");
    w.remember();
    const Fabric& f = w.swatch.fabric();
    checkRows(f, w.rowOf);
    const Fabric g = reloaded(f);
    const Rows here = rowsOf(f);
    const Rows there = rowsOf(g);
    for (const LoopId loop : loopsOf(f)) CHECK(there[sameLoop(f, loop, g)] == here[loop]);
}

TEST_CASE("a stitch made out of the strand at the edge, behind yarn-overs that begin the row") {
    for (const char* begin : {"yo", "yo yo"}) {
        CAPTURE(begin);
        Worked w(8);
        w.work("* | * | ").work(begin).work("m1l * | ");
        w.work("* | *");
        const Fabric& f = w.swatch.fabric();
        const Rows rows = rowsOf(f);
        CHECK(rows.last == w.row);
        // The strand lay in the row below.
        int bars = 0;
        for (const LoopId loop : loopsOf(f)) {
            if (f[loop].firstLink || rows[loop] != 2) continue;
            ++bars;
            CHECK(rows[f[f[loop].firstKid].loop] == 3);
        }
        CHECK(bars == 1);
        checkAllWays(w);
    }
}

TEST_CASE("a yarn that begins with a yarn-over begins in the row that goes on from it") {
    Worked w(8);
    w.work("* | * | k4");
    Fabric& f = w.swatch.fabric();
    w.swatch.knitter().takeYarn(f.addYarn('B', kLoopUm, kStrandUm));
    w.work("yo");
    const LoopId over = w.swatch.knitter().behind().back();
    w.work("k4 | * | *");
    w.remember();
    checkRows(f, w.rowOf);
    CHECK(rowsOf(f)[over] == w.rowOf.at(over.value));
}

TEST_CASE("a long-tail cast-on is one row already: its loops are row 0, its hitches lie before") {
    for (const bool round : {false, true}) {
        Worked w(6, round, Begin::longTail);
        w.work("* | * | *");
        w.remember();
        const Fabric& f = w.swatch.fabric();
        const Rows rows = rowsOf(f);
        for (const LoopId loop : loopsOf(f)) {
            const bool hitch = f[loop].flags.anchored != 0;
            CHECK(rows[loop] == (hitch ? -1 : w.rowOf.at(loop.value)));
        }
        CHECK(rows.last == 3);
    }
}

TEST_CASE("loops row by row, in the order in which they lie along their yarns") {
    Swatch s(5, {Begin::longTail});
    s.work("k2 k2tog k | * |");
    const Fabric& f = s.fabric();
    const auto byRow = loopsByRow(f, rowsOf(f));
    REQUIRE(byRow.size() == 3);
    CHECK(byRow[0].size() == 5);
    CHECK(byRow[1].size() == 4);
    CHECK(byRow[2].size() == 4);
    CHECK(f.run(byRow[1][0]) != f.run(byRow[2][0]));
    for (const auto& row : byRow) {
        for (std::size_t i = 1; i < row.size(); ++i) CHECK(f.loopBefore(row[i]) == row[i - 1]);
    }
}

TEST_CASE("a loose ladder keeps the rows of what stands") {
    Swatch s = plainSwatch(6, 6);
    const Rows before = rowsOf(s.fabric());
    REQUIRE(s.knitter().drop(s.knitter().ahead()[2]));
    letRun(s.fabric(), 4);
    const Rows after = rowsOf(s.fabric());
    for (const LoopId loop : loopsOf(s.fabric())) CHECK(after[loop] == before[loop]);
}

TEST_CASE("a round whose last column ran down through a decrease keeps its end, and gets it back") {
    Worked w(6, true);
    w.work("* | k4 k2tog | * | * |");
    Fabric& f = w.swatch.fabric();
    const Rows before = rowsOf(f);
    const LoopId fourth = w.swatch.knitter().ahead().back();
    const LoopId third = f[f[fourth].firstLink].host;
    const LoopId second = f[f[third].firstLink].host;
    const std::vector<LoopId> feet = f.hostsRightToLeft(second);
    REQUIRE(feet.size() == 2);
    REQUIRE(w.swatch.knitter().drop(fourth));
    REQUIRE(letRun(f, 3) == 3);
    const Rows after = rowsOf(f);
    CHECK(after.last == before.last);
    for (const LoopId loop : loopsOf(f)) CHECK(after[loop] == before[loop]);
    const auto up = [&](std::vector<HookThrough> through) {
        const PassId rung = rungs(f, through.front().host).front();
        return *hook(f, {rung, std::move(through), Side::right, {}});
    };
    const LoopId again2 = up({{feet[0], 0, 0}, {feet[1], 0, 1}});
    const LoopId again3 = up({{again2, 0, 0}});
    const LoopId again4 = up({{again3, 0, 0}});
    const Rows mended = rowsOf(f);
    CHECK(mended.last == before.last);
    CHECK(mended[again2] == before[second]);
    CHECK(mended[again3] == before[third]);
    CHECK(mended[again4] == before[fourth]);
}

}  // namespace loopmend
