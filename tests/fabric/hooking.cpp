// SPDX-License-Identifier: MIT
//
// Hooking a ladder up again: what was there comes back, and what is hooked wrong is another knot.
#include <algorithm>
#include <catch2/catch.hpp>
#include <map>
#include <optional>

#include "random_knitting.h"
#include "swatch.h"

namespace loopmend {

namespace {

/// What a loop was before it came out.
struct Was {
    LoopId loop;
    Side side;
    struct Through {
        LoopId host;
        std::int8_t twist;
        std::int8_t place;
    };
    std::vector<Through> through;
};

Was remember(const Fabric& f, LoopId loop) {
    Was was{loop, Side::right, {}};
    for (const LinkId l : f.linksOf(loop)) {
        was.side = f[l].form.side;
        was.through.push_back({f[l].host, f[l].form.twist, f[l].form.place});
    }
    return was;
}

/// Undoes loose loops in any order, remembering each.
std::vector<Was> undoSome(Fabric& f, Dice& dice, int n) {
    std::vector<Was> done;
    for (; n > 0; --n) {
        std::vector<LoopId> loose;
        for (const LoopId loop : looseLoops(f)) {
            if (f[loop].firstLink) loose.push_back(loop);
        }
        if (loose.empty()) break;
        const LoopId loop = dice.pick(loose);
        done.push_back(remember(f, loop));
        REQUIRE(undo(f, loop));
    }
    return done;
}

/// Hooks everything up again in any order that hands could take, always by the lowest rung that holds
/// a loop's yarn.
void hookAllBack(Fabric& f, Dice& dice, std::vector<Was> todo) {
    std::map<std::int32_t, LoopId> now;
    while (!todo.empty()) {
        std::vector<std::size_t> ready;
        for (std::size_t i = 0; i < todo.size(); ++i) {
            const bool waits =
                std::any_of(todo[i].through.begin(), todo[i].through.end(), [&](const auto& t) {
                    return std::any_of(todo.begin(), todo.end(),
                                       [&](const Was& w) { return w.loop == t.host; });
                });
            if (!waits) ready.push_back(i);
        }
        const std::size_t at = dice.pick(ready);
        const Was was = todo[at];
        todo.erase(todo.begin() + static_cast<std::ptrdiff_t>(at));
        Hooking hooking;
        hooking.toward = was.side;
        for (const auto& t : was.through) {
            const auto it = now.find(t.host.value);
            hooking.through.push_back({it == now.end() ? t.host : it->second, t.twist, t.place});
        }
        for (const PassId p : rungs(f, hooking.through.front().host)) {
            if (rungUm(f, p) == 0) continue;  // a float: no loop ever lay there
            hooking.rung = p;
            break;
        }
        const Result<LoopId> loop = hook(f, hooking);
        if (!loop) FAIL(sentence(loop.error()));
        now[was.loop.value] = *loop;
    }
}

/// Every loop that hangs under the needle goes back on it.
void seatAll(Fabric& f) {
    std::vector<LoopId> hung;
    for (HeldId h = f[f.needle()].first; h; h = f[h].next) {
        if (f[h].state.hanging != 0) hung.push_back(f[h].loop);
    }
    for (const LoopId loop : hung) seat(f, loop);
}

Swatch ladder(int rows, int run) {
    Swatch s = plainSwatch(6, rows);
    REQUIRE(s.knitter().drop(s.knitter().ahead()[2]));
    REQUIRE(letRun(s.fabric(), run) == run);
    return s;
}

}  // namespace

TEST_CASE("run and hooked again: both lines come back, two columns of k, p and twisted stitches") {
    for (int seed = 0; seed < cases(200); ++seed) {
        CAPTURE(seed);
        Dice dice(static_cast<std::uint64_t>(seed));
        Swatch s(7);
        for (int r = 0; r < 6; ++r) {
            randomPlainRow(s, dice, false);
            s.next();
        }
        Fabric& f = s.fabric();
        const std::string before = text(f);
        const int column = dice.below(6);
        for (const int i : {column, column + 1}) {
            if (dice.chance(70)) REQUIRE(s.knitter().drop(s.knitter().ahead()[static_cast<std::size_t>(i)]));
            if (s.knitter().aheadCount() < 7) break;
        }
        std::vector<Was> done = undoSome(f, dice, 1 + dice.below(12));
        hookAllBack(f, dice, done);
        seatAll(f);
        REQUIRE(text(f) == before);
    }
}

TEST_CASE("run and hooked again: the knot and the yarn come back, with decreases and any order") {
    for (int seed = 0; seed < cases(200); ++seed) {
        CAPTURE(seed);
        Dice dice(static_cast<std::uint64_t>(seed));
        Swatch s(12);
        for (int r = 0; r < 5; ++r) {
            randomPlainRow(s, dice, true);
            s.next();
        }
        Fabric& f = s.fabric();
        const std::string before = s.knot();
        const std::int64_t yarn = f.totalUm();
        const int columns = 1 + dice.below(3);
        const std::vector<LoopId> ahead = s.knitter().ahead();
        const int from = dice.below(static_cast<int>(ahead.size()) - columns + 1);
        for (int i = 0; i < columns; ++i)
            REQUIRE(s.knitter().drop(ahead[static_cast<std::size_t>(from + i)]));
        std::vector<Was> done = undoSome(f, dice, 2 + dice.below(10));
        hookAllBack(f, dice, done);
        seatAll(f);
        REQUIRE(s.knot() == before);
        REQUIRE(f.totalUm() == yarn);
        REQUIRE(roundTrips(f));
    }
}

TEST_CASE("hooking works as well on a fabric that was read from its text") {
    for (int seed = 0; seed < cases(100); ++seed) {
        CAPTURE(seed);
        Dice dice(static_cast<std::uint64_t>(seed));
        Swatch s(8);
        for (int r = 0; r < 5; ++r) {
            randomPlainRow(s, dice, true);
            s.next();
        }
        const std::string before = s.knot();
        REQUIRE(s.knitter().drop(dice.pick(s.knitter().ahead())));
        const std::vector<Was> done = undoSome(s.fabric(), dice, 1 + dice.below(6));
        Fabric g = reloaded(s.fabric());
        // The same names in the reloaded fabric, for what still stands.
        std::vector<Was> there = done;
        std::int32_t unnamed = 1'000'000;
        std::map<std::int32_t, LoopId> gone;
        for (const Was& w : done) gone[w.loop.value] = LoopId{unnamed++};
        for (Was& w : there) {
            w.loop = gone[w.loop.value];
            for (auto& t : w.through)
                t.host = gone.count(t.host.value) != 0 ? gone[t.host.value] : sameLoop(s.fabric(), t.host, g);
        }
        hookAllBack(g, dice, there);
        seatAll(g);
        REQUIRE(knotOf(g) == before);
    }
}

TEST_CASE("every decrease comes back, in mid-row and at both edges") {
    for (const char* word : {"k2tog", "ssk", "skp", "k2togtbl", "p2tog", "ssp", "spp", "k3tog", "sssk",
                             "sk2p", "s2kp", "s2pp", "p3tog", "sp2p"}) {
        for (const int at : {0, 2, 99}) {
            CAPTURE(word, at);
            Swatch s = plainSwatch(7, 2);
            const std::string name(word);
            const int takes = name.find('3') != std::string::npos || name == "sssk" || name == "sk2p" ||
                                      name == "s2kp" || name == "s2pp" || name == "sp2p"
                                  ? 3
                                  : 2;
            const int before = std::min(at, 7 - takes);
            for (int i = 0; i < before; ++i) s.work("k");
            const LoopId decrease = s.work(word);
            s.work("* |");
            s.rows(3);
            Fabric& f = s.fabric();
            const std::string knot = s.knot();
            const std::int64_t yarn = f.totalUm();
            REQUIRE(s.knitter().drop(topOf(s.knitter(), decrease)));
            Dice dice(3);
            const std::vector<Was> done = undoSome(f, dice, 4);
            REQUIRE(done.size() == 4);
            CHECK(looseLoops(f).size() == static_cast<std::size_t>(takes));
            hookAllBack(f, dice, done);
            seatAll(f);
            CHECK(s.knot() == knot);
            CHECK(f.totalUm() == yarn);
        }
    }
}

TEST_CASE("in two colours each column comes back through the strands of both yarns") {
    for (std::size_t column = 0; column < 8; ++column) {
        for (int n = 1; n <= 4; ++n) {
            CAPTURE(column, n);
            Swatch s = plainSwatch(8, 2);
            const YarnId b = s.fabric().addYarn('B', kLoopUm, kStrandUm);
            for (int r = 0; r < 4; ++r) {
                for (int i = 0; i < 8; ++i) {
                    s.knitter().takeYarn((i + r) % 3 == 0 ? b : s.yarn());
                    s.work(s.knitter().facing() == Side::right ? "k" : "p");
                }
                s.next();
            }
            Fabric& f = s.fabric();
            CHECK(s.knot().find('~') != std::string::npos);
            const std::string before = text(f);
            REQUIRE(s.knitter().drop(s.knitter().ahead()[column]));
            Dice dice(column);
            std::vector<Was> done = undoSome(f, dice, n);
            hookAllBack(f, dice, done);
            seatAll(f);
            CHECK(text(f) == before);
        }
    }
}

TEST_CASE("rungs lie from bottom to top whatever yarn they are of") {
    Swatch s = plainSwatch(8, 2);
    const YarnId b = s.fabric().addYarn('B', kLoopUm, kStrandUm);
    std::vector<YarnId> column;
    for (int r = 0; r < 4; ++r) {
        for (int i = 0; i < 8; ++i) {
            s.knitter().takeYarn((i + r) % 3 == 0 ? b : s.yarn());
            const LoopId loop = s.work(s.knitter().facing() == Side::right ? "k" : "p");
            if (s.knitter().facing() == Side::right ? i == 3 : i == 4)
                column.push_back(s.fabric()[loop].yarn);
        }
        s.next();
    }
    REQUIRE(s.knitter().drop(s.knitter().ahead()[3]));
    REQUIRE(letRun(s.fabric(), 4) == 4);
    std::vector<YarnId> found;
    for (const PassId p : rungs(s.fabric(), hanging(s.fabric()))) {
        if (isLongRung(s.fabric(), p)) found.push_back(s.fabric()[p].yarn);
    }
    CHECK(found == column);
    CHECK(std::count(column.begin(), column.end(), b) > 0);
    CHECK(std::count(column.begin(), column.end(), s.yarn()) > 0);
}

TEST_CASE("a ladder can be hooked wrong in every way it can be hooked wrong") {
    const auto hooked = [](const std::vector<int>& order, std::optional<Side> skipped = {}, int twist = 0,
                           Side toward = Side::right) {
        Swatch s = ladder(4, 3);
        LoopId top = hanging(s.fabric());
        for (const int i : order) {
            Hooking hooking;
            hooking.rung = rungs(s.fabric(), top).at(static_cast<std::size_t>(i));
            hooking.through = {{top, static_cast<std::int8_t>(twist), 0}};
            hooking.toward = toward;
            hooking.skipped = skipped;
            top = *hook(s.fabric(), hooking);
        }
        seat(s.fabric(), top);
        s.work("*");
        REQUIRE(roundTrips(s.fabric()));
        return s.knot();
    };
    Swatch never = plainSwatch(6, 4);
    never.work("*");
    CHECK(hooked({0, 0, 0}) == never.knot());
    const std::vector<std::string> wrong = {
        hooked({0, 0, 0}, {}, 1),               // each with a half turn
        hooked({0, 0, 0}, {}, -1),              // the other way
        hooked({0, 0, 0}, {}, 0, Side::wrong),  // purled instead of knitted
        hooked({0, 1}, Side::wrong),            // the second rung left behind
        hooked({0, 1}, Side::right),            // ... left in front
        hooked({1, 0}, Side::wrong),            // the lowest left behind
        hooked({0, 0}),                         // the highest left out, over the loop on the needle
        hooked({2}, Side::wrong),               // two left behind
    };
    std::vector<std::string> all = wrong;
    all.push_back(never.knot());
    std::sort(all.begin(), all.end());
    CHECK(std::adjacent_find(all.begin(), all.end()) == all.end());
}

TEST_CASE("rungs hooked in the wrong order are another knot") {
    const auto hooked = [](int first) {
        Swatch s = ladder(4, 3);
        Fabric& f = s.fabric();
        const LoopId foot = hanging(f);
        const std::vector<PassId> all = rungs(f, foot);
        std::vector<PassId> order = all;
        std::swap(order[0], order[static_cast<std::size_t>(first)]);
        LoopId top = foot;
        for (const PassId rung : order) {
            Hooking hooking;
            hooking.rung = rung;
            hooking.through = {{top, 0, 0}};
            top = *hook(f, hooking);
        }
        seat(f, top);
        REQUIRE(roundTrips(f));
        return s.knot();
    };
    // A strand skipped at first can be lifted as long as the loop above it is open.
    const std::string right = hooked(0);
    const std::string second = hooked(1);
    const std::string third = hooked(2);
    CHECK(right == plainSwatch(6, 4).knot());
    CHECK(second != right);
    CHECK(third != right);
    CHECK(second != third);
}

TEST_CASE("a hooked loop takes its share of a strand that several columns left") {
    Swatch s = plainSwatch(8, 4);
    Fabric& f = s.fabric();
    const std::int64_t yarn = f.totalUm();
    for (const std::size_t i : {3U, 2U}) REQUIRE(s.knitter().drop(s.knitter().ahead()[i]));
    letRun(f, 4);
    std::vector<LoopId> feet;
    for (HeldId h = f[f.needle()].first; h; h = f[h].next) {
        if (f[h].state.hanging != 0) feet.push_back(f[h].loop);
    }
    REQUIRE(feet.size() == 2);
    const LoopId first = hookUp(f, feet[0]);
    CHECK(f[first].um == kLoopUm);
    const LoopId second = hookUp(f, feet[1]);
    CHECK(f[second].um == kLoopUm);
    CHECK(f.totalUm() == yarn);
    // Strand and share add up, however the strand is divided.
    for (int passes = 1; passes <= 6; ++passes) {
        for (int at = 0; at < passes; ++at) {
            for (const std::int32_t strand : {0, 7, 4999, 31'001}) {
                for (const bool ends : {false, true}) {
                    const Share share = shareOf(strand, 2000, passes, at, 1, ends);
                    CHECK(share.loop >= 0);
                    CHECK(share.after >= 0);
                    CHECK(share.loop + share.after <= strand);
                }
            }
        }
    }
}

TEST_CASE("a stitch left behind has short rungs, and each goes by it when it is put back on the needle") {
    for (std::size_t left = 1; left < 5; ++left) {
        for (const int rows : {1, 2, 3}) {
            CAPTURE(left, rows);
            Swatch s = plainSwatch(6, 2);
            Fabric& f = s.fabric();
            const LoopId loop = s.knitter().ahead()[left];
            REQUIRE(s.knitter().drop(loop));
            s.rows(rows);
            CHECK(roundTrips(f));
            const std::vector<PassId> strands = rungs(f, loop);
            REQUIRE(strands.size() == static_cast<std::size_t>(rows));
            for (const PassId p : strands) CHECK_FALSE(isLongRung(f, p));

            const JournalMark mark = f.mark();
            for (const PassId p : strands) f.setPassSide(p, Side::right);
            seat(f, loop);  // the strands are fixed now, in front
            const std::string seated = s.knot();
            CHECK(std::count(seated.begin(), seated.end(), '~') == rows);
            CHECK(seated.find('r', seated.find('~')) != std::string::npos);
            f.rollBack(mark);

            // Hooked up instead: a tight column, the same knot as if nothing had happened.
            const LoopId top = hookAll(f, loop);
            CHECK(s.knot() == plainSwatch(6, 2 + rows).knot());
            CHECK(f[top].um < kLoopUm / 2);
        }
    }
}

TEST_CASE("a fallen stitch next to the tip keeps its side of the gap") {
    // Dropped from the tip and run down a row: the stitch below still waits on the left needle.
    for (const int rows : {2, 3}) {
        CAPTURE(rows);
        for (const bool run : {false, true}) {
            CAPTURE(run);
            Swatch s = plainSwatch(6, rows);
            s.work("sl2");
            while (s.knitter().behind().size() > 0 && s.work("back")) continue;
            const Side facing = s.knitter().facing();
            s.work(facing == Side::right ? "k2" : "p2");
            Fabric& f = s.fabric();
            const LoopId next = s.knitter().ahead().front();
            REQUIRE(s.knitter().drop(next));
            if (run) REQUIRE(letRun(f, 1) == 1);
            s.work("*");
            const LoopId foot = hanging(f);
            // The yarn passes it on the way: that is a rung of this row, short or long with it.
            CHECK(rungs(f, foot).size() == (run ? 2U : 1U));
            const LoopId top = hookAll(f, foot);
            (void)top;
            CHECK(s.knot() == [&] {
                Swatch t = plainSwatch(6, rows);
                t.work("*");
                return t.knot();
            }());
        }
    }
}

TEST_CASE("a loop hooked and seated next to the tip is worked next") {
    for (const int rows : {2, 3}) {
        CAPTURE(rows);
        Swatch s = plainSwatch(6, rows);
        const std::string plain = s.knitter().facing() == Side::right ? "k" : "p";
        s.work(plain + "2");
        Fabric& f = s.fabric();
        REQUIRE(s.knitter().drop(s.knitter().ahead().front()));
        REQUIRE(letRun(f, 1) == 1);
        const LoopId top = hookAll(f, hanging(f));
        REQUIRE(s.knitter().aheadCount() == 4);
        CHECK(s.knitter().ahead().front() == top);
        s.work("*");
        Swatch t = plainSwatch(6, rows);
        t.work("*");
        CHECK(s.knot() == t.knot());

        // And from the right needle it stays on the right needle.
        Swatch u = plainSwatch(6, rows);
        u.work(plain + "3");
        REQUIRE(u.knitter().drop(u.knitter().behind().back()));
        REQUIRE(letRun(u.fabric(), 1) == 1);
        const LoopId back = hookAll(u.fabric(), hanging(u.fabric()));
        CHECK(u.knitter().behind().back() == back);
        CHECK(u.knitter().aheadCount() == 3);
    }
}

TEST_CASE("where no rung is left, half of the bare strand can be hooked") {
    Swatch s = plainSwatch(6, 4);
    Fabric& f = s.fabric();
    const std::int64_t yarn = f.totalUm();
    const LoopId a = s.knitter().ahead()[2];
    const LoopId b = s.knitter().ahead()[3];
    // Lifted and left loose it is nothing yet; drawn through, a stitch.
    const LoopId bar = *hookBar(f, s.yarn(), below(f, b, 2), {}, Side::right);
    CHECK(f.isNothing(bar));
    CHECK(f[bar].um == kStrandUm / 2);
    const LoopId first = *hookBar(f, s.yarn(), below(f, a, 1), {{bar, 1, 0}}, Side::right);
    CHECK(hostOf(f, first) == bar);
    CHECK(f[f.linksOf(first).front()].form.twist == 1);
    CHECK(f.totalUm() == yarn);
    CHECK(roundTrips(f));
    CHECK(hookBar(f, s.yarn(), a, {{hostOf(f, a), 0, 0}}, Side::right).error().why == Why::notOpen);
    Fabric empty;
    CHECK(hookBar(empty, empty.addYarn('A', kLoopUm, kStrandUm), {}, {}, Side::right).error().why ==
          Why::noBar);
}

TEST_CASE("after a fork one foot may take the rung while the other stays") {
    Swatch s = plainSwatch(7, 2);
    s.work("k2");
    const LoopId decrease = s.work("k2tog");
    s.work("* |");
    s.rows(2);
    REQUIRE(s.knitter().drop(topOf(s.knitter(), decrease)));
    letRun(s.fabric(), 3);
    Fabric& f = s.fabric();
    const std::vector<LoopId> feet = looseLoops(f);
    REQUIRE(feet.size() == 2);
    const LoopId top = hookUp(f, feet[0]);
    CHECK(rungs(f, feet[1]).size() == 3);
    CHECK(rungs(f, top).size() == 2);
    CHECK(roundTrips(f));
    // The other foot is put back beside it: the strands go by it.
    seat(f, feet[1]);
    CHECK(roundTrips(f));
    CHECK_FALSE(f.isOpen(feet[1]));
}

TEST_CASE("what cannot be hooked is refused and nothing moves") {
    Swatch s = ladder(4, 2);
    Fabric& f = s.fabric();
    const LoopId foot = hanging(f);
    const PassId rung = rungs(f, foot).front();
    const std::string before = text(f);
    const auto why = [&](const Hooking& h) { return hook(f, h).error().why; };
    Hooking hooking;
    hooking.rung = rung;
    CHECK(why(hooking) == Why::noSuchThing);  // through nothing
    hooking.through = {{hostOf(f, foot), 0, 0}};
    CHECK(why(hooking) == Why::notOpen);
    hooking.through = {{rung, 0, 0}};
    CHECK(why(hooking) == Why::notALoop);
    hooking.through = {{LoopId{99'999}, 0, 0}};
    CHECK(why(hooking) == Why::noSuchThing);
    hooking.through = {{foot, 0, 0}};
    hooking.rung = foot;
    CHECK(why(hooking) == Why::noRung);
    CHECK(rungs(f, hostOf(f, foot)).empty());  // a loop that is not open has none
    CHECK(text(f) == before);
}

}  // namespace loopmend
