// SPDX-License-Identifier: MIT
//
// Crossings: which arm lies in front, what one row of crossings can hold, and mending an arm. Common
// practice.
#include <fmt/format.h>
#include <algorithm>
#include <catch2/catch.hpp>

#include "random_knitting.h"
#include "swatch.h"

namespace loopmend {

namespace {

std::vector<LoopId> needleOrder(const Fabric& f) {
    std::vector<LoopId> loops;
    for (HeldId h = f[f.needle()].first; h; h = f[h].next) loops.push_back(f[h].loop);
    return loops;
}

std::vector<int> signsOf(const Fabric& f) {
    std::vector<int> signs;
    for (std::int32_t c = 0; c < f.crossingCount(); ++c) {
        if (f[CrossingId{c}].sign != 0) signs.push_back(f[CrossingId{c}].sign);
    }
    return signs;
}

}  // namespace

TEST_CASE(
    "held to the back, the left arm passes in front to the right; held in front, the right arm to the left") {
    for (const bool front : {false, true}) {
        Swatch s = plainSwatch(8, 2);
        const std::vector<LoopId> a = s.knitter().ahead();
        s.work(front ? "k2 2/2fx" : "k2 2/2bx");
        // 1 2 3 4 -> 3 4 1 2
        const std::vector<LoopId> now = s.knitter().ahead();
        CHECK(std::vector<LoopId>(now.begin(), now.begin() + 4) ==
              std::vector<LoopId>{a[4], a[5], a[2], a[3]});
        // + `/`: the left one in front; - `\`: the right one.
        CHECK(signsOf(s.fabric()) == std::vector<int>(4, front ? -1 : 1));
        s.work("k4");
        for (const LoopId loop : s.knitter().behind())
            CHECK(form(s.fabric(), loop) == "k");  // the links are plain
    }
}

TEST_CASE("the hand of a cable from the reloaded text, worked on either face") {
    // A crossing keeps its hand when the work is turned over.
    for (const bool wrongSide : {false, true}) {
        for (const bool front : {false, true}) {
            CAPTURE(wrongSide, front);
            Swatch s = plainSwatch(8, wrongSide ? 3 : 2);
            s.work(std::string(wrongSide ? "p2" : "k2") + (front ? " 2/2fx" : " 2/2bx") + " * |");
            CHECK(signsOf(reloaded(s.fabric())) == std::vector<int>(4, front ? -1 : 1));
        }
    }
}

TEST_CASE("single stitches, unlike arms, purls in the background") {
    for (const auto& [word, pairs] : std::vector<std::pair<std::string, std::size_t>>{
             {"1/1fx", 1}, {"1/2fx", 2}, {"2/1bx", 2}, {"3/3bx", 9}}) {
        Swatch s = plainSwatch(8, 2);
        s.work("k " + word);
        CHECK(signsOf(s.fabric()).size() == pairs);
    }
    // A knit pair over a purled background stitch: held in front, the pair is on top.
    Swatch s = plainSwatch(8, 2);
    const std::vector<LoopId> a = s.knitter().ahead();
    s.work("k2 2/1fx p k2 * |");
    const LoopId background = a[4];
    const Fabric& f = s.fabric();
    CHECK(form(f, f[f[background].firstKid].loop) == "p");
    CHECK(form(f, f[f[a[2]].firstKid].loop) == "k");
    CHECK(signsOf(f) == std::vector<int>(2, -1));
}

TEST_CASE("columns cannot cross twice in a row, nor in a ring: a row has to be worked first") {
    Swatch s = plainSwatch(8, 2);
    s.work("k 1/1fx");
    CHECK(s.knitter().cross(1, 1, true).error().why == Why::crossedTwice);
    REQUIRE(s.knitter().cross(1, 1, false));  // back the way they came
    REQUIRE(s.knitter().cross(1, 1, true));
    // Crossed and back, crossed the other way.
    REQUIRE(s.knitter().cross(1, 1, false));
    REQUIRE(s.knitter().cross(1, 1, false));

    // a over b, b over c, c over a.
    Swatch ring = plainSwatch(8, 2);
    Fabric& f = ring.fabric();
    const std::vector<LoopId> a = ring.knitter().ahead();
    REQUIRE(f.cross(a[0], a[1], a[0]));
    REQUIRE(f.cross(a[0], a[2], a[2]));
    const std::string before = text(f);
    CHECK(f.cross(a[1], a[2], a[1]).error().why == Why::crossedInARing);
    CHECK(text(f) == before);
    REQUIRE(f.cross(a[1], a[2], a[2]));  // in layers it may

    // Worked, they may cross again.
    Swatch next = plainSwatch(8, 2);
    next.work("k 1/1f * | * | k 1/1f");
    CHECK(signsOf(next.fabric()).size() == 2);
}

TEST_CASE("a plait over several rows crosses every column with every other, one hand a row") {
    Swatch s = plainSwatch(8, 2);
    s.work("k 2/2f k3 | * | k3 2/2b k | * |");
    CHECK(roundTrips(s.fabric()));
    CHECK(signsOf(s.fabric()) == std::vector<int>{-1, -1, -1, -1, 1, 1, 1, 1});
}

TEST_CASE("whatever neighbours cross in layers, the text is that of who crossed whom") {
    // Random swaps of neighbours, as far as they are allowed; then the same pairs brought about from the
    // other end.
    for (int seed = 0; seed < cases(200); ++seed) {
        CAPTURE(seed);
        Dice dice(static_cast<std::uint64_t>(seed));
        Swatch s = plainSwatch(6, 2);
        Fabric& f = s.fabric();
        const std::vector<LoopId> before = needleOrder(f);
        std::vector<std::pair<LoopId, LoopId>> layers;  // front, behind
        for (int i = 0; i < 12; ++i) {
            const std::vector<LoopId> now = needleOrder(f);
            const auto at = static_cast<std::size_t>(dice.below(5));
            (void)f.cross(now[at], now[at + 1], dice.chance(50) ? now[at] : now[at + 1]);
        }
        const std::vector<LoopId> wanted = needleOrder(f);
        // Bubble sort toward the wanted order, each pair in the layer the crossings say.
        Swatch t = plainSwatch(6, 2);
        Fabric& g = t.fabric();
        const auto inFront = [&](LoopId x, LoopId y) {
            for (std::int32_t c = 0; c < f.crossingCount(); ++c) {
                const Crossing& crossing = f[CrossingId{c}];
                if (crossing.sign == 0) continue;
                if ((crossing.a == x && crossing.b == y) || (crossing.a == y && crossing.b == x))
                    return crossing.sign > 0 ? crossing.b : crossing.a;
            }
            return LoopId{};
        };
        const auto rank = [&](LoopId loop) {
            return std::find(wanted.begin(), wanted.end(), loop) - wanted.begin();
        };
        for (bool moved = true; moved;) {
            moved = false;
            const std::vector<LoopId> now = needleOrder(g);
            for (std::size_t i = 5; i-- > 0;) {
                if (rank(now[i]) < rank(now[i + 1])) continue;
                const LoopId front = inFront(now[i], now[i + 1]);
                REQUIRE(front);  // only pairs that crossed stand in another order
                REQUIRE(g.cross(now[i], now[i + 1], front));
                moved = true;
                break;
            }
        }
        REQUIRE(needleOrder(g) == wanted);
        REQUIRE(t.knot() == s.knot());
        REQUIRE(roundTrips(f));
        REQUIRE(before.size() == wanted.size());
    }
}

TEST_CASE("stitches that hang between two that cross do not keep them from crossing") {
    Swatch s = plainSwatch(6, 2);
    const std::vector<LoopId> a = s.knitter().ahead();
    REQUIRE(s.knitter().drop(a[1]));
    REQUIRE(s.knitter().cross(1, 1, true));
    const std::vector<LoopId> now = s.knitter().ahead();
    CHECK(now[0] == a[2]);
    CHECK(now[1] == a[0]);
    CHECK(signsOf(s.fabric()) == std::vector<int>{-1});
    CHECK(roundTrips(s.fabric()));
}

TEST_CASE("crossed columns that are taken back lie crossed on the needle and can be uncrossed") {
    Swatch s = plainSwatch(8, 2);
    const std::string before = s.knot();
    s.work("k2 2/2f");
    for (int i = 0; i < 6; ++i) REQUIRE(s.knitter().tink());
    CHECK(s.knot() != before);
    CHECK(s.knitter().uncross() == 4);
    CHECK(s.knot() == before);
    CHECK(s.knitter().uncross() == 0);
}

TEST_CASE("a crossing goes with either of its stitches, and comes back by the journal") {
    Swatch s = plainSwatch(6, 2);
    s.work("k 1/1f * |");
    Fabric& f = s.fabric();
    const std::string before = text(f);
    const JournalMark mark = f.mark();
    const LoopId arm = f[CrossingId{0}].a;
    const LoopId top = topOf(s.knitter(), arm);
    REQUIRE(s.knitter().drop(top));
    letRunFrom(f, top, 1);
    CHECK(signsOf(f).size() == 1);  // the foot of the ladder still lies as it crossed
    letRunFrom(f, arm, 1);
    CHECK(signsOf(f).empty());
    f.rollBack(mark);
    CHECK(text(f) == before);
    CHECK(signsOf(f).size() == 1);
}

}  // namespace loopmend
