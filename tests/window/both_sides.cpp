// SPDX-License-Identifier: MIT
// Both sides at once: what is pointed at in one picture is lit in the other, and tools work in both.
#include <catch2/catch.hpp>

#include <SDL.h>

#include "fabric/hands.h"
#include "fabric/itinerary.h"
#include "window/hands.h"

namespace loopmend::app {
namespace {

/// A stitch on the needle, so many from its end.
LoopId onNeedle(const Fabric& fabric, int n) {
    HeldId h = fabric[fabric.needle()].first;
    for (int i = 0; i < n; ++i) h = fabric[h].next;
    return fabric[h].loop;
}

}  // namespace

TEST_CASE("a stitch pointed at in the picture of the other side", "[window]") {
    Hands hands;
    CHECK(hands.app().cloth().pictures() == 1);
    REQUIRE(hands.press("look.both"));
    REQUIRE(hands.app().cloth().pictures() == 2);
    const LoopId loop = hands.fabric().hostsRightToLeft(onNeedle(hands.fabric(), 3)).front();
    const auto here = hands.app().drawnAt(loop, 0);
    const auto there = hands.app().drawnAt(loop, 1);
    REQUIRE(here);
    REQUIRE(there);
    CHECK(std::abs(here->x - there->x) > 100);
    hands.pointTo(*there);
    REQUIRE(hands.app().pointedAt());
    CHECK(hands.app().pointedAt()->entry == loop);
    hands.pointTo(*here);
    REQUIRE(hands.app().pointedAt());
    CHECK(hands.app().pointedAt()->entry == loop);
}

TEST_CASE("a tool works in the picture of the other side as it shows there", "[window]") {
    // Hooked with the wrong side before her, a rung in front is pushed away: the same V on the right side.
    std::string hooked[2];
    for (const bool behind : {false, true}) {
        Hands hands;
        REQUIRE(hands.press("tool.4"));
        REQUIRE(hands.click(openStitch(hands.fabric())));
        REQUIRE(hands.press("look.both"));
        REQUIRE(hands.press("tool.3"));
        const LoopId open = openStitch(hands.fabric());
        const auto at = hands.app().drawnAt(open, behind ? 1 : 0);
        REQUIRE(at);
        hands.pointTo(*at);
        const std::size_t before = rungs(hands.fabric(), open).size();
        hands.click(*at);
        CHECK(rungs(hands.fabric(), openStitch(hands.fabric())).size() + 1 == before);
        hooked[behind ? 1 : 0] = knotOf(hands.fabric());
        const Move done = hands.app().table().work().done().back();
        CHECK(done.kind == MoveKind::hook);
    }
    CHECK(hooked[0] == hooked[1]);
}

}  // namespace loopmend::app
