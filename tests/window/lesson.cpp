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
#include "window/hands.h"

namespace loopmend::app {
namespace {

/// Answers the question on the page with `choose`, one answer after another until the page goes on.
template <class Choose>
void answer(Hands& hands, Choose choose) {
    const auto count = static_cast<int>(hands.page().choices.size());
    for (int i = 0; i < count; ++i) {
        bool right = false;
        for (const Choice& c : hands.page().choices) right = right || c.state == ChoiceState::right;
        if (right) return;
        choose(i);
    }
}

/// One way to use the window.
struct Way {
    std::function<void(int)> takeNotion;  ///< 0 point, 1 fingers, 2 needle, 3 hook, 4 pin
    std::function<void(EntryId)> doAt;    ///< what the notion in hand does there
    std::function<void()> turnOver, tug, knitRow, goOn;
    std::function<void(int)> choose;
};

Way mouse(Hands& hands) {
    Way way;
    const auto press = [&hands](const std::string& id) {
        INFO("button " << id << " on page " << hands.page().heading);
        REQUIRE(hands.press(id));
    };
    way.takeNotion = [=](int n) { press("tool." + std::to_string(n)); };
    way.doAt = [&hands](EntryId entry) {
        INFO("stitch " << entry.value << " on page " << hands.page().heading);
        REQUIRE(hands.click(entry));
    };
    way.turnOver = [=] { press("look.turn"); };
    way.tug = [=] { press("look.tug"); };
    way.knitRow = [=] { press("tray.row"); };
    way.goOn = [=] { press("page.on"); };
    way.choose = [=](int i) { press("page.choice." + std::to_string(i)); };
    return way;
}

/// With the arrow keys till it is lit: up and down the column first, then from side to side.
void walk(Hands& hands, const std::function<bool()>& done) {
    const auto go = [&](int code, int most) {
        for (int i = 0; i < most && !done(); ++i) {
            const auto before = hands.app().pointedAt();
            hands.key(code);
            if (hands.app().pointedAt() == before) return;  // the edge
        }
    };
    go(SDLK_UP, 3);
    go(SDLK_DOWN, 8);
    go(SDLK_UP, 8);
    for (const int side : {SDLK_RIGHT, SDLK_LEFT}) {
        for (int i = 0; i < 20 && !done(); ++i) {
            go(side, 1);
            if (!done() && i % 2 == 1) {
                go(SDLK_DOWN, 2);
                go(SDLK_UP, 2);
            }
        }
    }
}

/// The ladder through its pages.
void throughTheLesson(Hands& hands, const Way& way, const std::function<void()>& beforeMending = {}) {
    for (int guard = 0; guard < 20; ++guard) {
        const StepKind step = hands.session().step();
        INFO("page " << name(step) << ": " << hands.page().task << " / " << hands.page().said);
        switch (step) {
            case StepKind::makeSafe:
                way.takeNotion(4);
                way.doAt(openStitch(hands.fabric()));
                break;
            case StepKind::look:
                way.turnOver();
                way.tug();
                way.turnOver();
                break;
            case StepKind::ask:
            case StepKind::find:
                way.takeNotion(0);
                way.doAt(openStitch(hands.fabric()));
                answer(hands, way.choose);
                break;
            case StepKind::whatHappened:
            case StepKind::choose: answer(hands, way.choose); break;
            case StepKind::putRight:
                if (beforeMending) beforeMending();
                way.takeNotion(3);
                for (int i = 0; i < 12 && !hands.session().canGoOn(); ++i)
                    way.doAt(openStitch(hands.fabric()));
                break;
            case StepKind::check:
                way.tug();
                way.turnOver();
                way.turnOver();
                answer(hands, way.choose);
                for (int i = 0; i < 4 && !hands.session().canGoOn(); ++i) way.knitRow();
                break;
            case StepKind::nextTime:
            case StepKind::inWool: break;
        }
        const bool last = hands.page().step == hands.page().steps;
        if (!last) {
            REQUIRE(hands.session().canGoOn());
            const int before = hands.page().step;
            way.goOn();
            REQUIRE(hands.page().step == before + 1);
        } else {
            CHECK(hands.session().done());
            return;
        }
    }
    FAIL("the last page was not reached");
}

}  // namespace

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
    Way way;
    way.takeNotion = [&](int n) { hands.key(SDLK_1 + n); };
    way.turnOver = [&] { hands.key(SDLK_t); };
    way.tug = [&] { hands.key(SDLK_g); };
    way.knitRow = [&] { hands.key(SDLK_k); };
    way.goOn = [&] { hands.key(SDLK_RETURN); };
    way.choose = [&](int i) {
        // To the page with Tab, down to the answer, press, and back to the cloth.
        const auto tried = [&] {
            return hands.page().choices[static_cast<std::size_t>(i)].state != ChoiceState::open;
        };
        for (int areas = 0; areas < 6 && hands.app().keyboardArea() != Area::page; ++areas)
            hands.key(SDLK_TAB);
        REQUIRE(hands.app().keyboardArea() == Area::page);
        for (int n = 0; n < 12 && hands.app().keyboardOn() != "page.choice." + std::to_string(i); ++n) {
            hands.key(SDLK_DOWN);
        }
        hands.key(SDLK_SPACE);
        CHECK(tried());
        for (int areas = 0; areas < 6 && hands.app().keyboardArea() != Area::cloth; ++areas)
            hands.key(SDLK_TAB);
    };
    way.doAt = [&](EntryId entry) {
        const auto pointed = [&] {
            const auto at = hands.app().pointedAt();
            return at && at->entry == entry && at->what != PointedAt::What::strand;
        };
        walk(hands, pointed);
        INFO("stitch " << entry.value);
        REQUIRE(pointed());
        hands.key(SDLK_SPACE);
    };
    throughTheLesson(hands, way);
    CHECK_FALSE(openStitch(hands.fabric()));
}

}  // namespace loopmend::app
