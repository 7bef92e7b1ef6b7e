// SPDX-License-Identifier: MIT
//
// Lifted increases: one more loop out of an older stitch. Common practice.
#include <algorithm>
#include <catch2/catch.hpp>

#include "swatch.h"

namespace loopmend {

TEST_CASE(
    "a lifted loop stands beside the one it shares a stitch with, on the hand that names it, on both sides") {
    for (const bool wrongSide : {false, true}) {
        for (const bool mirrored : {false, true}) {
            for (const Hand hand : {Hand::right, Hand::left}) {
                for (const bool purl : {false, true}) {
                    CAPTURE(wrongSide, mirrored, hand == Hand::left, purl);
                    Swatch s =
                        plainSwatch(8, wrongSide ? 5 : 4, {Begin::bare, false, Habit::western, mirrored});
                    s.work(wrongSide ? "p3" : "k3");
                    const LoopId next = s.knitter().ahead()[0];
                    const LoopId last = s.knitter().behind().back();
                    const std::string before = text(s.fabric());
                    const Result<LoopId> lifted = s.knitter().liftedLoop(hand, purl);
                    REQUIRE(lifted);
                    const Fabric& f = s.fabric();
                    const LoopId sibling = hand == Hand::right ? next : hostOf(f, last);
                    const LoopId shared = hostOf(f, sibling);
                    CHECK(hostOf(f, *lifted) == shared);
                    CHECK(form(f, *lifted) == (purl == wrongSide ? "k" : "p"));
                    CHECK(s.knitter().ahead()[0] == next);  // still to be worked
                    // Right of its sibling as it faces her: before it in her direction.
                    const bool right = (hand == Hand::right) == (s.knitter().run() == Run::leftward);
                    CHECK((f[f[shared].firstKid].loop == *lifted) == right);
                    CHECK((f[f[shared].lastKid].loop == *lifted) == !right);
                    CHECK(roundTrips(f));
                    // Taken back it is gone and leaves nothing.
                    REQUIRE(s.knitter().tink());
                    CHECK(text(f) == before);
                }
            }
        }
    }
}

TEST_CASE("a column let down beside a lifted increase stops where the sibling holds") {
    Swatch s = plainSwatch(8, 4);
    s.work("k3");
    const LoopId lifted = *s.knitter().liftedLoop(Hand::right);
    const LoopId shared = hostOf(s.fabric(), lifted);
    s.work("* | * | * | *");
    REQUIRE(s.knitter().drop(topOf(s.knitter(), lifted)));
    // The lifted loop itself, and the rows above it.
    CHECK(letRun(s.fabric()) == 4);
    CHECK(s.fabric().kidCount(shared) == 1);
    CHECK(looseLoops(s.fabric()).empty());
    CHECK(roundTrips(s.fabric()));
}

TEST_CASE("no lifted increase where nothing stands below") {
    Swatch s(6);
    CHECK(s.knitter().liftedLoop(Hand::right).error().why == Why::noStitchBelow);
    CHECK(s.knitter().liftedLoop(Hand::left).error().why == Why::nothingBefore);
    Swatch yo = plainSwatch(6, 2);
    yo.work("k2 yo");
    const std::string before = text(yo.fabric());
    CHECK(yo.knitter().liftedLoop(Hand::left).error().why == Why::noStitchBelow);
    CHECK(text(yo.fabric()) == before);
    yo.work("*");
    CHECK(yo.knitter().liftedLoop(Hand::right, true).error().why == Why::notEnoughStitches);
}

TEST_CASE("a cross keeps its hand whichever side it is worked on, twisted or not") {
    // Common practice: what leans left from the one side leans left from the other.
    for (const bool front : {false, true}) {
        std::vector<std::int32_t> signs;
        for (const bool wrongSide : {false, true}) {
            Swatch s = plainSwatch(6, wrongSide ? 3 : 2);
            s.work(wrongSide ? "p2" : "k2");
            REQUIRE(s.knitter().cross(1, 1, front));
            const LoopId first = *s.knitter().work(1, wrongSide, Leg::back);
            const LoopId second = *s.knitter().work(1, wrongSide, Leg::back);
            CHECK(form(s.fabric(), first) == "k-1");
            CHECK(form(s.fabric(), second) == "k-1");
            REQUIRE(s.fabric().crossingCount() == 1);
            signs.push_back(s.fabric()[CrossingId{0}].sign);
            CHECK(roundTrips(s.fabric()));
            REQUIRE(s.knitter().tink());
            REQUIRE(s.knitter().tink());
            CHECK(s.knitter().uncross() == 1);
        }
        CHECK(signs[0] == signs[1]);
        CHECK(signs[0] == (front ? -1 : 1));
    }
}

}  // namespace loopmend
