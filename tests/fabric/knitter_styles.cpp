// SPDX-License-Identifier: MIT
//
// Mounts, legs, slips; left-handed work and its looking-glass. Common practice, unless a source stands beside
// it.
#include <catch2/catch.hpp>

#include "random_knitting.h"
#include "rebuild.h"
#include "swatch.h"

namespace loopmend {

namespace {

Mount mountOf(const Fabric& f, LoopId loop) {
    return f[f.heldOn(loop, f.needle())].state.mount;
}
int turnsOf(const Fabric& f, LoopId loop) {
    return f[f.heldOn(loop, f.needle())].state.turns;
}

/// What a left-handed knitter does, facing one side, for what a right-handed one does facing the other: the
/// yarn runs the same way then, front is back, and knit is purl.
const std::vector<std::pair<std::string, std::string>>& fromTheOtherSide() {
    static const std::vector<std::pair<std::string, std::string>> kWords = {
        {"k", "p"},         {"p", "k"},         {"k", "p"},        {"sl", "slf"},    {"slf", "sl"},
        {"yo", "yo"},       {"k2tog", "ssp"},   {"ssk", "p2tog"},  {"p2tog", "ssk"}, {"ssp", "k2tog"},
        {"sssk", "p3tog"},  {"p3tog", "sssk"},  {"skp", "p2tog"},  {"spp", "ssk"},   {"2/2fx", "2/2bx"},
        {"1/1bx", "1/1fx"}, {"1/2fx", "1/2bx"}, {"2/1bx", "2/1fx"}};
    return kWords;
}

}  // namespace

TEST_CASE("a wrap decides the mount: western, eastern, or eastern purls in combination") {
    for (const auto& [habit, knit, purl] :
         std::vector<std::tuple<Habit, Mount, Mount>>{{Habit::western, Mount::western, Mount::western},
                                                      {Habit::eastern, Mount::eastern, Mount::eastern},
                                                      {Habit::combination, Mount::western, Mount::eastern}}) {
        Swatch s = plainSwatch(6, 2, {Begin::bare, false, habit});
        CHECK(mountOf(s.fabric(), s.work("k")) == knit);
        CHECK(mountOf(s.fabric(), s.work("p")) == purl);
        CHECK(mountOf(s.fabric(), s.work("yo")) == Mount::western);
        CHECK(mountOf(s.fabric(), s.work("ryo")) == Mount::eastern);
        // Turning the work does not change how a loop sits.
        const LoopId loop = s.work("p");
        s.work("* |");
        CHECK(mountOf(s.fabric(), loop) == purl);
    }
}

TEST_CASE("worked through the leading leg a loop stays open; through the other it is twisted") {
    // Western through the back leg crosses to the left, eastern through the front leg to the right.
    for (const bool purl : {false, true}) {
        for (const Mount mount : {Mount::western, Mount::eastern}) {
            for (const Leg leg : {Leg::leading, Leg::front, Leg::back}) {
                for (const int rows : {2, 3}) {  // both faces: the hand of a crossing is the same on both
                    Swatch s = plainSwatch(4, rows);
                    s.work(rows == 2 ? "k" : "p");
                    REQUIRE(s.knitter().remount(s.knitter().ahead().front(), mount));
                    const LoopId loop = *(purl ? s.knitter().purl(leg) : s.knitter().knit(leg));
                    const LinkForm form = s.fabric()[s.fabric().linksOf(loop).front()].form;
                    const int expected =
                        leg == Leg::leading || (leg == Leg::front) == (mount == Mount::western) ? 0
                        : mount == Mount::western                                               ? -1
                                                                                                : 1;
                    CHECK(form.twist == expected);
                    CHECK((form.side == Side::right) == (purl == (rows == 3)));
                }
            }
        }
    }
}

TEST_CASE("a twisted stitch shows one row below the row in which it was worked") {
    // The twist is at the legs of the loop that was entered: the link says so, and the loop is of the row
    // below.
    Swatch s = plainSwatch(6, 2);
    const LoopId entered = s.knitter().ahead()[0];
    const LoopId worked = s.work("ktbl");
    s.work("* |");
    s.rows(1);
    const Fabric& f = s.fabric();
    const LinkId link = f.linksOf(worked).front();
    CHECK(f[link].form.twist == -1);
    CHECK(f[link].host == entered);
    const Rows rows = rowsOf(f);
    CHECK(rows[entered] == rows[worked] - 1);
}

TEST_CASE("slipping: purlwise keeps the mount, knitwise and from behind turn it or wind the legs") {
    struct Case {
        const char* word;
        Mount before;
        Mount after;
        int turns;
    };
    for (const Case& c :
         {Case{"sl", Mount::western, Mount::western, 0}, Case{"sl", Mount::eastern, Mount::eastern, 0},
          Case{"slk", Mount::western, Mount::eastern, 0}, Case{"slk", Mount::eastern, Mount::eastern, 2},
          Case{"slb", Mount::eastern, Mount::western, 0}, Case{"slb", Mount::western, Mount::western, -2}}) {
        CAPTURE(c.word, static_cast<int>(c.before));
        for (const int rows : {2, 3}) {
            Swatch s = plainSwatch(4, rows);
            REQUIRE(s.knitter().remount(s.knitter().ahead().front(), c.before));
            const LoopId loop = s.work(c.word);
            CHECK(mountOf(s.fabric(), loop) == c.after);
            CHECK(turnsOf(s.fabric(), loop) == c.turns);
        }
    }
}

TEST_CASE("turns are the knot's while the loop is held, mounts are only the needle's") {
    Swatch s = plainSwatch(4, 2);
    const Itinerary before = s.lines();
    REQUIRE(s.knitter().remount(s.knitter().ahead()[1], Mount::eastern));
    CHECK(s.knot() == before.knot);
    CHECK(s.lines().measure != before.measure);
    s.work("slk back slk back");
    CHECK(s.knot() != before.knot);  // wound a full turn
    CHECK(s.knot().find("+2") != std::string::npos);
    const LoopId loop = s.knitter().ahead().front();
    const LoopId twisted = s.work("k");
    CHECK(s.fabric()[s.fabric().linksOf(twisted).front()].form.twist == 2);
    CHECK(s.fabric()[s.fabric().linksOf(twisted).front()].host == loop);
}

TEST_CASE("a fabric can be made anew by primitives alone") {
    for (int seed = 0; seed < cases(200); ++seed) {
        CAPTURE(seed);
        Dice dice(static_cast<std::uint64_t>(seed));
        Swatch s = randomSwatch(dice, 4);
        for (int i = 0; i < 6; ++i) randomHandMove(s, dice);
        REQUIRE(text(rebuilt(s.fabric(), false)) == text(s.fabric()));
    }
}

TEST_CASE("the looking-glass of a looking-glass is the thing itself, and the two are different knots") {
    int different = 0;
    for (int seed = 0; seed < cases(200); ++seed) {
        CAPTURE(seed);
        Dice dice(static_cast<std::uint64_t>(seed));
        Swatch s = randomSwatch(dice, 4);
        for (int i = 0; i < 6; ++i) randomHandMove(s, dice);
        const Fabric glass = rebuilt(s.fabric(), true);
        REQUIRE(roundTrips(glass));
        REQUIRE(text(rebuilt(glass, true)) == text(s.fabric()));
        different += knotOf(glass) != s.knot() ? 1 : 0;
    }
    CHECK(different == cases(200));
}

TEST_CASE("a left-handed knitter who follows the same words makes the mirror image") {
    for (int seed = 0; seed < cases(200); ++seed) {
        CAPTURE(seed);
        std::vector<std::string> texts;
        for (const bool left : {false, true}) {
            Dice dice(static_cast<std::uint64_t>(seed));
            Swatch s(9, {static_cast<Begin>(seed % 3), seed % 5 == 0, static_cast<Habit>(seed % 3), left,
                         Side::right, seed % 5 == 0 ? (left ? -2 : 2) : 0});
            for (int r = 0; r < 4; ++r) {
                randomRow(s, dice);
                s.next();
            }
            for (int i = 0; i < 4; ++i) (void)s.knitter().tink();
            texts.push_back(text(left ? rebuilt(s.fabric(), true) : s.fabric()));
            if (s.knitter().aheadCount() > 2) {
                (void)s.knitter().drop(s.knitter().ahead()[1]);
                letRun(s.fabric());
            }
            // Of the marks only: which of two loops came out first, and so on which side a free strand lies.
            texts.push_back(knotOf(left ? rebuilt(s.fabric(), true) : s.fabric()));
        }
        REQUIRE(texts[0] == texts[2]);
        REQUIRE(texts[1] == texts[3]);
    }
}

TEST_CASE("mirrored, then mirrored again: left-handed work from the other side knits the same fabric") {
    // The mirror image of a piece, worked by a left-handed knitter, is the piece; here row by row: she faces
    // the right side where the right-handed one faces the wrong side, and does what mirrors his.
    for (int seed = 0; seed < cases(200); ++seed) {
        CAPTURE(seed);
        const Habit habit = static_cast<Habit>(seed % 3);
        Swatch right(12, {Begin::bare, false, habit, false, Side::right});
        Swatch left(12, {Begin::bare, false, habit, true, Side::wrong});
        REQUIRE(left.knot() == right.knot());
        Dice dice(static_cast<std::uint64_t>(seed));
        for (int r = 0; r < 4; ++r) {
            for (int tries = 0; tries < 40 && right.knitter().aheadCount() > 0; ++tries) {
                const auto& [word, other] = dice.pick(fromTheOtherSide());
                INFO(word);
                const Result<LoopId> done = workWord(right.knitter(), word);
                const Result<LoopId> same = workWord(left.knitter(), other);
                REQUIRE(done.has_value() == same.has_value());
            }
            while (right.knitter().aheadCount() > 0) {
                right.work("k");
                left.work("p");
            }
            REQUIRE(left.knot() == right.knot());
            right.next();
            left.next();
        }
    }
}

}  // namespace loopmend
