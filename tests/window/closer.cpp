// SPDX-License-Identifier: MIT
// Closer: the way of looking that shows a piece best, with one key, and back.
#include <catch2/catch.hpp>

#include <cmath>

#include <SDL.h>

#include "window/hands.h"

namespace loopmend::app {
namespace {

double apart(Hands& hands, LoopId a, LoopId b) {
    const auto p = hands.app().drawnAt(a);
    const auto q = hands.app().drawnAt(b);
    REQUIRE(p);
    REQUIRE(q);
    return std::hypot(p->x - q->x, p->y - q->y);
}

}  // namespace

TEST_CASE("closer and back with one key, about the stitch pointed at", "[window]") {
    Hands hands;
    hands.app().ask(Ask::motion);
    hands.settle();
    const LoopId open = openStitch(hands.fabric());
    const LoopId below = hands.fabric().hostsRightToLeft(open).front();
    const double before = apart(hands, open, below);
    const auto at = hands.app().drawnAt(open);
    hands.pointTo(*at);
    hands.key(SDLK_e);
    hands.settle();
    const double near = apart(hands, open, below);
    CHECK(near > 1.5 * before);
    // What was under the pointer is still there.
    const auto now = hands.app().drawnAt(open);
    CHECK(std::hypot(now->x - at->x, now->y - at->y) < 60);
    hands.key(SDLK_e);
    hands.settle();
    CHECK(apart(hands, open, below) == Approx(before).epsilon(0.02));
    CHECK_FALSE(hands.app().cloth().looking.slant);
}

}  // namespace loopmend::app
