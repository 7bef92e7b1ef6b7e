// SPDX-License-Identifier: MIT
//
// What a knitter can tell apart has another first line.
#include <algorithm>
#include <catch2/catch.hpp>
#include <functional>

#include "rebuild.h"
#include "swatch.h"

namespace loopmend {

namespace {

std::string after(const std::function<void(Swatch&)>& way) {
    Swatch s = plainSwatch(8, 2);
    way(s);
    s.work("* |");
    s.rows(2);
    REQUIRE(roundTrips(s.fabric()));
    return s.knot();
}
std::string after(const std::string& words) {
    return after([&](Swatch& s) { s.work(words); });
}

/// All different from one another.
bool allDiffer(std::vector<std::string> knots) {
    std::sort(knots.begin(), knots.end());
    return std::adjacent_find(knots.begin(), knots.end()) == knots.end();
}
bool allDifferAfter(const std::vector<std::string>& ways) {
    std::vector<std::string> knots;
    for (const std::string& words : ways) knots.push_back(after(words));
    return allDiffer(knots);
}

}  // namespace

TEST_CASE("untwisted, twisted either way and wound a full turn") {
    CHECK(allDifferAfter(
        {"k2 k", "k2 ktbl", "k2 slk back kfront", "k2 slk back slk back ktbl", "k2 slb back k"}));
}

TEST_CASE("knit and purl, on either face") {
    CHECK(allDifferAfter({"k8", "k2 p k5", "k2 ktbl k5", "k2 ptbl k5"}));
}

TEST_CASE("every decrease that differs from another") {
    CHECK(allDifferAfter({"k2 k2tog", "k2 ssk", "k2 k2togtbl", "k2 p2tog", "k2 ssp", "k2 p2togtbl",
                          "k2 skppw", "k2 sppkw", "k4"}));
    CHECK(allDifferAfter({"k2 k3tog", "k2 sssk", "k2 sk2p", "k2 s2kp", "k2 p3tog", "k2 s2pp", "k2 k3togtbl",
                          "k2 p3togtbl", "k5"}));
}

TEST_CASE("every increase that differs from another") {
    CHECK(allDifferAfter({"k3 kfb", "k3 pfb", "k3 m1l", "k3 m1r", "k3 m1o", "k3 m1lp", "k3 m1rp", "k3 rli",
                          "k3 lli", "k3 yo * | p4 ptbl", "k3 kpk", "k3 kyok", "k3 co1", "k8"}));
    // Where an open make-one and a yarn-over differ is the yarn in them, not the knot.
    CHECK(after("k3 yo * | *") == after("* | p5 bar p *"));
}

TEST_CASE("a yarn-over worked open or closed, or dropped") {
    CHECK(allDifferAfter({"k3 yo * | *", "k3 yo * | p5 ptbl *", "k8 | *"}));
    CHECK(allDifferAfter({"k3 yo yo * | p5 p k *", "k3 yo * | *", "k3 yo yo * | p5 k p *"}));
    // Reversed, it sits the other way: the leg that leads opens it.
    CHECK(after("k3 ryo * | *") == after("k3 yo * | *"));
    CHECK(after("k3 ryo * | p5 pfront *") != after("k3 yo * | *"));
}

TEST_CASE("slipped with the yarn behind, in front, or knitted") {
    CHECK(allDifferAfter({"k2 sl", "k2 slf", "k2 k"}));
    // Slipped knitwise and worked through the front leg it is twisted; through the back leg it is not.
    CHECK(after("k2 slk * | p5 ptbl *") == after("k2 sl * | *"));
    CHECK(after("k2 slk * | p5 pfront *") != after("k2 sl * | *"));
}

TEST_CASE("an arm of a cable in front, behind, or not crossed") {
    CHECK(
        allDifferAfter({"k2 2/2f", "k2 2/2b", "k6", "k2 1/1f", "k2 1/1b", "k2 1/2f", "k2 2/1f", "k2 1/2b"}));
}

TEST_CASE("a wrap at a turn: front first, behind first, none; left or worked with its stitch") {
    CHECK(allDifferAfter(
        {"k4 wt p4 |", "k4 wtb p4 |", "k4 | p4 |", "k4 wt p4 | k4 wwrap", "k4 wtb p4 | k4 wwrap"}));
}

TEST_CASE("a stitch with two legs at a turn, and a plain turn") {
    CHECK(allDifferAfter({"k4 gt * | *", "k4 | p4 |", "k4 wt p4 |"}));
    CHECK(allDifferAfter({"k4 gt p3 | k3 k2tog", "k4 | p4 | *"}));
}

TEST_CASE("a stitch knitted below, or a slip with its strand") {
    CHECK(allDifferAfter({"k3 kbelow", "k3 sl", "k3 slf", "k4", "k3 pbelow"}));
}

TEST_CASE("cast on and bound off in mid-row, and how many") {
    CHECK(allDifferAfter({"k3 bo2 * |", "k3 bo1 * |", "k4 bo2 * |", "k3 co2", "k3 co3", "k8"}));
}

TEST_CASE("a flat join, a twisted band, twisted the other way, and no join") {
    const auto ring = [](int twist) {
        Swatch s(8, {Begin::bare, true, Habit::western, false, Side::right, twist});
        s.rows(3);
        REQUIRE(roundTrips(s.fabric()));
        return s.knot();
    };
    CHECK(allDiffer({ring(0), ring(2), ring(-2), plainSwatch(8, 3).knot()}));
}

TEST_CASE("a float behind or in front") {
    const auto floated = [](Side side) {
        Swatch s = plainSwatch(8, 2);
        const YarnId b = s.fabric().addYarn('B', kLoopUm, kStrandUm);
        for (const bool second : {false, true, false, false, true, false, false, true}) {
            s.knitter().takeYarn(second ? b : s.yarn(), side);
            s.work("k");
        }
        s.knitter().takeYarn(s.yarn());
        s.work("|");
        s.rows(2);
        REQUIRE(roundTrips(s.fabric()));
        return s.knot();
    };
    CHECK(floated(Side::wrong) != floated(Side::right));
}

TEST_CASE("a plain piece and its mirror image, on the needle and bound off") {
    for (const bool off : {false, true}) {
        const auto piece = [&](bool mirrored) {
            Swatch s(6, {Begin::bare, false, Habit::western, mirrored});
            s.rows(3);
            if (off) REQUIRE(s.knitter().bindOffAll());
            REQUIRE(roundTrips(s.fabric()));
            return s.knot();
        };
        // Bound off nothing but the way the yarn runs tells the two apart.
        CHECK(piece(false) != piece(true));
    }
}

TEST_CASE("picked up from the right side, from the wrong side, under one leg, or from other stitches") {
    const auto picked = [](Side toward, Part part, std::size_t first) {
        Swatch s = plainSwatch(6, 4);
        const std::vector<LoopId> loops = loopsOf(s.fabric());
        REQUIRE(s.knitter().bindOffAll());
        s.fabric().setBall(s.yarn(), true);
        for (std::size_t i = first; i < 20; i += 6) REQUIRE(s.knitter().pickUp(loops[i], part, toward));
        REQUIRE(roundTrips(s.fabric()));
        return s.knot();
    };
    CHECK(allDiffer({picked(Side::right, Part::bothLegs, 8), picked(Side::wrong, Part::bothLegs, 8),
                     picked(Side::right, Part::rightLeg, 8), picked(Side::right, Part::leftLeg, 8),
                     picked(Side::right, Part::bothLegs, 9)}));
}

TEST_CASE("cast-ons differ: half-hitches of either hand, loops over hitches") {
    const auto begun = [](const std::function<void(Knitter&)>& cast) {
        Fabric f;
        const YarnId yarn = f.addYarn('A', kLoopUm, kStrandUm);
        Knitter k(f, yarn, Side::wrong);
        cast(k);
        k.turn();
        while (k.aheadCount() > 0) REQUIRE(k.knit());
        REQUIRE(roundTrips(f));
        return knotOf(f);
    };
    CHECK(allDiffer({begun([](Knitter& k) { REQUIRE(k.castOnBackward(5)); }),
                     begun([](Knitter& k) { REQUIRE(k.castOnBackward(5, Hand::right)); }),
                     begun([](Knitter& k) { REQUIRE(k.castOnLongTail(5)); })}));
}

TEST_CASE("a pierced strand and a caught ply are not a stitch drawn clean") {
    const auto through = [](Plies plies) {
        Swatch s = plainSwatch(6, 2);
        s.work("k2");
        Fabric& f = s.fabric();
        const LoopId loop = s.knitter().behind().back();
        LinkForm form = f[f.linksOf(loop).front()].form;
        const LoopId host = *f.unpull(loop);
        form.plies = plies;
        REQUIRE(f.pull(loop, host, form));
        s.work("* |");
        REQUIRE(roundTrips(f));
        return s.knot();
    };
    CHECK(allDiffer({through(Plies::whole), through(Plies::pierced), through(Plies::some)}));
}

TEST_CASE("colours, cut ends and stitches on a holder") {
    const auto made = [](const std::function<void(Swatch&)>& way) {
        Swatch s = plainSwatch(6, 2);
        way(s);
        REQUIRE(roundTrips(s.fabric()));
        return s.knot();
    };
    CHECK(allDiffer({made([](Swatch&) {}), made([](Swatch& s) { s.fabric().setBall(s.yarn(), false); }),
                     made([](Swatch& s) { REQUIRE(s.knitter().leaveOnHolder(2)); }),
                     made([](Swatch& s) { REQUIRE(s.knitter().leaveOnHolder(3)); }),
                     made([](Swatch& s) { REQUIRE(s.knitter().drop(s.knitter().ahead()[0])); }),
                     made([](Swatch& s) {
                         const YarnId b = s.fabric().addYarn('B', kLoopUm, kStrandUm);
                         s.knitter().takeYarn(b);
                         s.work("* |");
                     }),
                     made([](Swatch& s) {
                         const YarnId b = s.fabric().addYarn('C', kLoopUm, kStrandUm);
                         s.knitter().takeYarn(b);
                         s.work("* |");
                     })}));
}

}  // namespace loopmend
