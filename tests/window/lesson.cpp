// SPDX-License-Identifier: MIT
// The first lesson through the real window, from its first page to its last: with the mouse, with the
// keyboard alone, and with hands that go wrong again and again.
#include <catch2/catch.hpp>

#include <string>
#include <vector>

#include <SDL.h>

#include "fabric/hands.h"
#include "fabric/itinerary.h"
#include "repair/columns_seen.h"
#include "store/scratch.h"
#include "window/ways.h"

namespace loopmend::app {
TEST_CASE("the lesson with the mouse", "[window]") {
    Hands hands;
    throughTheLesson(hands, mouse(hands));
    CHECK_FALSE(openStitch(hands.fabric()));
    CHECK(hands.session().hintsGiven() == 0);
}

TEST_CASE("the lesson with the mouse, ten wrong moves in it, all taken back", "[window]") {
    Hands hands;
    const Way way = mouse(hands);
    int wrong = 0;
    throughTheLesson(hands, way, [&] {
        const std::string knot = knotOf(hands.fabric());
        // Stitches let off the needle, and one of them let run.
        way.takeNotion(1);
        for (const int place : {3, 5, 12}) {
            HeldId h = hands.fabric()[hands.fabric().needle()].first;
            for (int i = 0; i < place; ++i) h = hands.fabric()[h].next;
            const LoopId loop = hands.fabric()[h].loop;
            way.doAt(loop);
            ++wrong;
            CHECK(hands.fabric().isLoose(loop));
            if (place != 5) continue;
            way.doAt(loop);
            ++wrong;
            CHECK_FALSE(hands.fabric().has(loop));
        }
        // A rung skipped, and one drawn through the other way.
        way.takeNotion(3);
        const LoopId foot = openStitch(hands.fabric());
        const std::vector<PassId> ladder = rungs(hands.fabric(), foot);
        REQUIRE(ladder.size() >= 3);
        way.doAt(ladder[2]);
        ++wrong;
        const LoopId next = openStitch(hands.fabric());
        const auto at = hands.app().drawnAt(next);
        REQUIRE(at);
        hands.click(*at, 3);  // the other way it could go
        const std::string other = knotOf(hands.fabric());
        hands.key(SDLK_SPACE);
        CHECK(knotOf(hands.fabric()) != other);
        ++wrong;
        // Things that hands cannot do say why and change nothing.
        const std::string now = knotOf(hands.fabric());
        way.takeNotion(3);
        HeldId h = hands.fabric()[hands.fabric().needle()].first;
        for (int i = 0; i < 4; ++i) {
            way.doAt(hands.fabric().hostsRightToLeft(hands.fabric()[h].loop).front());
            h = hands.fabric()[h].next;
            ++wrong;
        }
        CHECK(knotOf(hands.fabric()) == now);
        CHECK(wrong >= 10);
        CHECK_FALSE(hands.session().canGoOn());
        for (int i = 0; i < 20 && knotOf(hands.fabric()) != knot; ++i) REQUIRE(hands.press("tray.undo"));
        CHECK(knotOf(hands.fabric()) == knot);
    });
    CHECK_FALSE(openStitch(hands.fabric()));
}

TEST_CASE("the lesson by a left-handed knitter, with the mouse, and taken up again in its middle",
          "[window]") {
    const Scratch scratch;
    std::string cloth;
    {
        Hands hands(scratch.folder());
        hands.key(SDLK_F2);
        REQUIRE(hands.press("shelf.liking"));
        REQUIRE(hands.press("shelf.hand"));
        hands.key(SDLK_F2);
        hands.key(SDLK_F2);
        REQUIRE(hands.session().mirrored());
        CHECK(hands.page().step == 1);
        // Pinned, and half of the rungs hooked before everything else, as somebody in a hurry does.
        const Way way = mouse(hands);
        way.takeNotion(4);
        way.doAt(openStitch(hands.fabric()));
        way.takeNotion(3);
        for (int i = 0; i < 3; ++i) way.doAt(openStitch(hands.fabric()));
        cloth = knotOf(hands.fabric());
        way.takeNotion(0);
    }
    {
        Hands hands(scratch.folder());
        CHECK(hands.app().settings().mirrored);
        CHECK(hands.session().mirrored());
        CHECK(knotOf(hands.fabric()) == cloth);
        for (int i = 0; i < 10 && hands.session().work().canUndo(); ++i) REQUIRE(hands.press("tray.undo"));
        throughTheLesson(hands, mouse(hands));
        CHECK_FALSE(openStitch(hands.fabric()));
        CHECK(hands.session().mirrored());
    }
    Hands hands(scratch.folder());
    CHECK(hands.app().learning().progress().finished.count("a-stitch-that-ran") == 1);
}

TEST_CASE("a stitch that lies under the page cannot be hit", "[window]") {
    Hands hands;
    const LoopId open = openStitch(hands.fabric());
    const auto at = hands.app().drawnAt(open);
    REQUIRE(at);
    REQUIRE(hands.press("tool.4"));
    // The cloth is drawn aside with the middle button, till the ladder lies under the page.
    // The last stretch is drawn inside the cloth's own field: the ladder comes to lie under the page's edge.
    const double under = 150;
    hands.drag({at->x + 250, at->y}, {under + 250, at->y});
    CHECK_FALSE(hands.app().drawnAt(open));
    CHECK_FALSE(hands.click(open));
    const std::string before = knotOf(hands.fabric());
    hands.click({under, at->y});
    CHECK(knotOf(hands.fabric()) == before);
    CHECK(hands.session().step() == StepKind::makeSafe);
    CHECK_FALSE(hands.session().canGoOn());
    // Back as it is held, it is there again.
    hands.key(SDLK_0);
    REQUIRE(hands.app().drawnAt(open));
    REQUIRE(hands.click(open));
    CHECK(hands.session().canGoOn());
}

TEST_CASE("the lesson with the keyboard alone", "[window]") {
    Hands hands;
    throughTheLesson(hands, keyboard(hands));
    CHECK_FALSE(openStitch(hands.fabric()));
}

}  // namespace loopmend::app
