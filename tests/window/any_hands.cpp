// SPDX-License-Identifier: MIT
// Hands that do anything at all at the window: whatever is pressed and pointed at, nothing breaks, and all
// that was done to the cloth is taken back by undoing.
#include <catch2/catch.hpp>

#include <cstddef>
#include <iterator>
#include <random>

#include <SDL.h>

#include "fabric/itinerary.h"
#include "store/files.h"
#include "store/scratch.h"
#include "window/hands.h"

namespace loopmend::app {
namespace {

/// Notions, ways of doing, looking, knitting on, undoing. Nothing that lays another piece on the table.
constexpr int kKeys[] = {SDLK_1, SDLK_2,      SDLK_3,     SDLK_4,    SDLK_5,     SDLK_6,   SDLK_7,
                         SDLK_8, SDLK_9,      SDLK_s,     SDLK_a,    SDLK_n,     SDLK_k,   SDLK_z,
                         SDLK_y, SDLK_RETURN, SDLK_t,     SDLK_b,    SDLK_e,     SDLK_w,   SDLK_g,
                         SDLK_l, SDLK_r,      SDLK_c,     SDLK_u,    SDLK_SPACE, SDLK_UP,  SDLK_x,
                         SDLK_0, SDLK_DOWN,   SDLK_RIGHT, SDLK_LEFT, SDLK_MINUS, SDLK_PLUS};

/// How many moves stood when all was taken back.
std::size_t anything(unsigned seed, int times) {
    const Scratch scratch;
    const std::string pattern = scratch.path("lace.txt");
    REQUIRE(writeFile(
        pattern,
        "Cast on 11 sts.\nRow 1 (RS): k1, *yo, k2tog, k1; rep from * to last st, k1.\nRow 2: p.\nRepeat "
        "rows 1-2 twice more.\n"));
    Hands hands("", pattern);
    const std::string meant = knotOf(hands.fabric());
    std::minstd_rand random(seed);
    const auto below = [&](int n) { return static_cast<int>(random() % static_cast<unsigned>(n)); };
    for (int i = 0; i < times; ++i) {
        // On the cloth, for the page has buttons that open other papers.
        if (below(3) == 0) {
            hands.key(kKeys[static_cast<std::size_t>(below(static_cast<int>(std::size(kKeys))))]);
        } else if (below(12) == 0) {
            hands.drag({400.0 + below(800), 120.0 + below(480)}, {400.0 + below(800), 120.0 + below(480)});
        } else {
            hands.click({400.0 + below(800), 120.0 + below(480)}, below(4) == 0 ? 3 : 1);
        }
        REQUIRE(hands.app().table().piece() != nullptr);
    }
    const std::size_t done = hands.app().table().work().done().size();
    INFO("seed " << seed << ", " << done << " moves");
    for (std::size_t i = 0; i < done && hands.app().table().work().canUndo(); ++i) hands.key(SDLK_z);
    CHECK(hands.app().table().work().done().empty());
    CHECK(knotOf(hands.fabric()) == meant);
    return done;
}

}  // namespace

TEST_CASE("whatever hands do at the window is taken back", "[window]") {
    CHECK(anything(3, 40) > 0);
}

TEST_CASE("for long whatever hands do at the window is taken back", "[.sweep]") {
    std::size_t moves = 0;
    for (unsigned seed = 1; seed <= 12; ++seed) moves += anything(seed, 400);
    CHECK(moves > 200);
}

}  // namespace loopmend::app
