// SPDX-License-Identifier: MIT
#include "window/ways.h"

#include <catch2/catch.hpp>

#include <SDL.h>

namespace loopmend::app {

void answer(Hands& hands, const std::function<void(int)>& choose) {
    const auto count = static_cast<int>(hands.page().choices.size());
    for (int i = 0; i < count; ++i) {
        bool right = false;
        for (const Choice& c : hands.page().choices) right = right || c.state == ChoiceState::right;
        if (right) return;
        choose(i);
    }
}

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

namespace {

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

}  // namespace

Way keyboard(Hands& hands) {
    Way way;
    way.takeNotion = [&hands](int n) { hands.key(SDLK_1 + n); };
    way.turnOver = [&hands] { hands.key(SDLK_t); };
    way.tug = [&hands] { hands.key(SDLK_g); };
    way.knitRow = [&hands] { hands.key(SDLK_k); };
    way.goOn = [&hands] { hands.key(SDLK_RETURN); };
    way.choose = [&hands](int i) {
        // To the page with Tab, down to the answer, press, and back to the cloth.
        const auto tried = [&hands, i] {
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
    way.doAt = [&hands](EntryId entry) {
        const auto pointed = [&hands, entry] {
            const auto at = hands.app().pointedAt();
            return at && at->entry == entry && at->what != PointedAt::What::strand;
        };
        walk(hands, pointed);
        INFO("stitch " << entry.value);
        REQUIRE(pointed());
        hands.key(SDLK_SPACE);
    };
    return way;
}

void throughTheLesson(Hands& hands, const Way& way, const std::function<void()>& beforeMending) {
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

}  // namespace loopmend::app
