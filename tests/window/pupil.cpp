// SPDX-License-Identifier: MIT
#include "window/pupil.h"

#include <algorithm>
#include <cmath>

#include <SDL.h>

#include "fabric/hands.h"
#include "fabric/itinerary.h"

namespace loopmend::app {

void Pupil::press(const std::string& id, int key, int mod) {
    if (by_ == By::mouse) {
        if (!hands_.press(id) && stuck_.empty()) stuck_ = "no button " + id;
    } else {
        hands_.key(key, mod);
    }
}

void Pupil::takeNotion(int n) {
    press("tool." + std::to_string(n), n < 9 ? SDLK_1 + n : SDLK_s);
}

void Pupil::goOn() {
    press("page.on", SDLK_RETURN);
}

void Pupil::choose(int index) {
    const std::string id = "page.choice." + std::to_string(index);
    if (by_ == By::mouse) {
        (void)hands_.press(id);
        return;
    }
    const auto tabTo = [&](Area area) {
        for (int i = 0; i < 6 && hands_.app().keyboardArea() != area; ++i) hands_.key(SDLK_TAB);
    };
    tabTo(Area::page);
    for (int i = 0; i < 20 && hands_.app().keyboardOn() != id; ++i) hands_.key(SDLK_DOWN);
    if (hands_.app().keyboardOn() == id) hands_.key(SDLK_SPACE);
    tabTo(Area::cloth);
}

void Pupil::askHints() {
    for (int i = 0; i < 6 && hands_.page().hasHint; ++i) press("page.hint", SDLK_h);
}

void Pupil::chooseUntilRight() {
    const auto holds = [&] {
        return std::any_of(hands_.page().choices.begin(), hands_.page().choices.end(),
                           [](const Choice& c) { return c.state == ChoiceState::right; });
    };
    for (int i = 0; i < static_cast<int>(hands_.page().choices.size()) && !holds(); ++i) choose(i);
}

void Pupil::doIt() {
    hands_.key(SDLK_SPACE);
}

bool Pupil::walkTo(const PointedAt& at) {
    const auto there = [&] { return hands_.app().pointedAt() && *hands_.app().pointedAt() == at; };
    if (there()) return true;
    if (!hands_.app().pointedAt()) hands_.key(SDLK_RIGHT);
    if (at.what == PointedAt::What::tips) {  // somewhere along the needle
        constexpr int kMostStitches = 40;
        for (const int along : {SDLK_RIGHT, SDLK_LEFT, SDLK_UP}) {
            for (int i = 0; i < kMostStitches && !there(); ++i) hands_.key(along);
        }
        return there();
    }
    const auto where = [&](const PointedAt& p) -> std::optional<PixelPoint> {
        const auto drawn = hands_.app().cloth().whereIs(p.entry);
        return drawn ? std::optional<PixelPoint>(drawn->at) : std::nullopt;
    };
    const auto goal = where(at);
    if (!goal) return false;
    // Toward it, along whichever way is the longer; where that leads no nearer, along the other.
    const auto far = [&] {
        const auto now = hands_.app().pointedAt();
        const auto here = now ? where(*now) : std::nullopt;
        return here ? PixelPoint{goal->x - here->x, goal->y - here->y} : PixelPoint{1e4, 1e4};
    };
    double best = 1e9;
    bool upright = false;
    for (int stuck = 0; stuck < 8 && !there();) {
        const PixelPoint left = far();
        if (stuck == 0) upright = std::abs(left.y) > std::abs(left.x);
        hands_.key(upright ? (left.y > 0 ? SDLK_DOWN : SDLK_UP) : (left.x > 0 ? SDLK_RIGHT : SDLK_LEFT));
        const PixelPoint now = far();
        const bool nearer = std::hypot(now.x, now.y) + 1 < best;
        stuck = nearer ? 0 : stuck + 1;
        if (nearer) best = std::hypot(now.x, now.y);
        if (!nearer) upright = !upright;
    }
    return there();
}

bool Pupil::pointByKeys(const PointedAt& at) {
    for (int i = 0; i < 6 && hands_.app().keyboardArea() != Area::cloth; ++i) hands_.key(SDLK_TAB);
    if (at.what != PointedAt::What::strand) return walkTo(at);
    // The bar is a part of the stitch before it, unless a tool stops there by itself.
    if (walkTo(at)) return true;
    if (!walkTo({PointedAt::What::loop, at.entry})) return false;
    for (int i = 0; i < 6 && !(*hands_.app().pointedAt() == at); ++i) hands_.key(SDLK_n);
    return hands_.app().pointedAt() && *hands_.app().pointedAt() == at;
}

bool Pupil::pointAt(const PointedAt& at) {
    if (by_ == By::keyboard || at.what == PointedAt::What::tips) return pointByKeys(at);
    const auto there = [&] { return hands_.app().pointedAt() && *hands_.app().pointedAt() == at; };
    const auto place =
        at.what == PointedAt::What::strand ? hands_.app().barAt(at.entry) : hands_.app().drawnAt(at.entry);
    if (place) hands_.pointTo(*place);
    if (place && there()) return true;
    // What other yarn covers is walked to.
    return pointByKeys(at);
}

bool Pupil::pointAtTarget(const PointTarget& target) {
    using Thing = PointTarget::Thing;
    takeNotion(0);
    if (target.thing == Thing::rung || target.thing == Thing::strand) {
        const auto what = target.thing == Thing::rung ? PointedAt::What::rung : PointedAt::What::strand;
        if (!pointAt({what, target.entry})) return false;
        doIt();
        return true;
    }
    if (by_ == By::mouse) {
        const auto at = target.spot == PointTarget::Spot::whole
                            ? hands_.app().drawnAt(target.entry)
                            : hands_.app().drawnAt(target.entry, target.spot);
        if (!at) return false;
        hands_.click(*at);
        return true;
    }
    if (!pointAt({PointedAt::What::loop, target.entry})) return false;
    const int steps = static_cast<int>(target.spot);  // whole, head, right leg, left leg, feet: as N goes
    for (int i = 0; i < steps; ++i) hands_.key(SDLK_n);
    doIt();
    return true;
}

bool Pupil::pointWhereLit() {
    const std::vector<PageMark> marks = hands_.session().marks();
    for (const PageMark& mark : marks) {
        if (mark.kind != PageMarkKind::next) continue;
        std::vector<PointTarget> targets;
        for (const EntryId e : mark.loops) {
            for (int spot = 0; spot < 5; ++spot)
                targets.push_back({PointTarget::Thing::loop, e, static_cast<PointTarget::Spot>(spot)});
        }
        for (const EntryId e : mark.rungs) targets.push_back({PointTarget::Thing::rung, e, {}});
        for (const EntryId e : mark.strands) targets.push_back({PointTarget::Thing::strand, e, {}});
        for (const PointTarget& target : targets) {
            const std::size_t counted = hands_.page().evidence.size();
            (void)pointAtTarget(target);
            if (hands_.session().canGoOn() || hands_.page().evidence.size() > counted) return true;
        }
    }
    return false;
}

namespace {

std::string clothAfter(Work& work, const Move& move) {
    std::string knot;
    (void)work.tryOut(move, [&](const Fabric& after, LoopId) { knot = knotOf(after); });
    return knot;
}

}  // namespace

/// Finds out, as somebody who knows the tools does, which of them does this and where; then does it.
bool Pupil::move(const Move& move) {
    if (move.kind == MoveKind::work || move.kind == MoveKind::turn) {
        press("tray.row", SDLK_k);
        return true;
    }
    Work& work = hands_.app().table().work();
    const Fabric& fabric = hands_.fabric();
    std::vector<PointedAt> places;
    for (const LoopId loop : move.loops) places.push_back({PointedAt::What::loop, loop});
    for (const LoopId loop : move.others) places.push_back({PointedAt::What::loop, loop});
    if (move.strand) places.push_back({PointedAt::What::strand, move.strand});
    for (std::int32_t t = 0; move.kind == MoveKind::rip && t < fabric.toolCount(); ++t) {
        const HeldId first = fabric[ToolId{t}].first;
        if (first && threadOf(fabric, fabric[first].loop))
            places.push_back({PointedAt::What::loop, fabric[first].loop});
    }
    if (move.pass) places.push_back({PointedAt::What::rung, move.pass});
    for (const LoopId loop : move.loops) {
        if (!fabric.has(loop) || !fabric.isLive(loop)) continue;
        for (const PassId rung : rungs(fabric, loop)) places.push_back({PointedAt::What::rung, rung});
    }
    const Side seen = hands_.app().table().seen();
    const std::string wanted = clothAfter(work, move);
    // At what the move itself names; then wherever a tool has something to do. The very move, or one that
    // comes to the same, or the same hands' work left to find its own place.
    for (int turn = 0; turn < 3; ++turn) {
        for (const int notion : {static_cast<int>(notionFor(move)), 0, 1, 2, 3}) {
            std::vector<PointedAt> all = places;
            if (turn == 2) {
                all.clear();
                for (const PointedAt& stop : stops(work, static_cast<Notion>(notion), seen))
                    all.push_back(stop);
            }
            for (const PointedAt& place : all) {
                if (place.what == PointedAt::What::tips && move.kind != MoveKind::turnJoin) continue;
                const auto offers = offersAt(work, static_cast<Notion>(notion), place, Terms::us, seen);
                const auto fits = std::find_if(offers.begin(), offers.end(), [&](const Offer& o) {
                    if (!o.possible || o.move.kind != move.kind) return false;
                    if (o.move == move || clothAfter(work, o.move) == wanted) return true;
                    return turn == 1 && o.move.loops == move.loops && o.move.mount == move.mount;
                });
                if (fits == offers.end()) continue;
                takeNotion(notion + 1);
                if (!pointAt(place)) {
                    // The bare finger goes to any stitch; what it points at, the tool taken up then points
                    // at.
                    takeNotion(0);
                    if (!pointByKeys(place)) continue;
                    takeNotion(notion + 1);
                    if (!hands_.app().pointedAt() || !(*hands_.app().pointedAt() == place)) continue;
                }
                const std::size_t done = work.done().size();
                // What is offered first is the first that can be done; the others come with another press.
                const auto first =
                    std::find_if(offers.begin(), offers.end(), [](const Offer& o) { return o.possible; });
                const auto count = static_cast<std::ptrdiff_t>(offers.size());
                const std::ptrdiff_t presses = ((fits - first) % count + count) % count;
                for (std::ptrdiff_t i = 0; i < presses; ++i) hands_.key(SDLK_a);
                doIt();
                if (work.done().size() == done + 1) return true;
            }
        }
    }
    return false;
}

bool Pupil::followMoves() {
    for (int n = 0; n < 60 && !hands_.session().canGoOn(); ++n) {
        if (!hands_.session().shownMove()) askHints();
        const auto shown = hands_.session().shownMove();
        if (!shown) return false;
        const std::uint64_t before = hands_.session().version();
        if (!move(*shown) || hands_.session().version() == before) {
            stuck_ = "the move " + textOf(*shown);
            return false;
        }
    }
    return hands_.session().canGoOn();
}

bool Pupil::page() {
    const StepKind step = hands_.session().step();
    met_.push_back(step);
    const auto turnOver = [&] { press("look.turn", SDLK_t); };
    const auto tug = [&] { press("look.tug", SDLK_g); };
    if (hands_.session().canGoOn()) return true;
    switch (step) {
        case StepKind::makeSafe:
        case StepKind::putRight: (void)followMoves(); break;
        case StepKind::look:
            turnOver();
            tug();
            turnOver();
            break;
        case StepKind::ask:
        case StepKind::find:
        case StepKind::whatHappened:
        case StepKind::choose:
            for (int i = 0; i < 30 && !hands_.session().canGoOn(); ++i) {
                chooseUntilRight();
                if (hands_.session().canGoOn()) break;
                askHints();
                if (!pointWhereLit()) turnOver();
            }
            break;
        case StepKind::check:
            turnOver();
            tug();
            chooseUntilRight();
            turnOver();
            chooseUntilRight();
            for (int i = 0; i < 6 && !hands_.session().canGoOn(); ++i) press("tray.row", SDLK_k);
            chooseUntilRight();
            break;
        case StepKind::nextTime:
        case StepKind::inWool: break;
    }
    return hands_.session().canGoOn() || hands_.page().step == hands_.page().steps;
}

bool Pupil::lesson() {
    for (int guard = 0; guard < 60; ++guard) {
        if (!page()) {
            stuck_ = "swatch " + std::to_string(hands_.session().swatch() + 1) + ", page \"" +
                     hands_.page().heading + "\": " + hands_.page().task + " / " + hands_.page().said + " " +
                     stuck_;
            return false;
        }
        stuck_.clear();
        if (hands_.session().done()) return true;
        const int swatch = hands_.session().swatch();
        const int step = hands_.page().step;
        goOn();
        if (hands_.session().swatch() == swatch && hands_.page().step == step) {
            stuck_ = "page \"" + hands_.page().heading + "\" does not turn";
            return false;
        }
    }
    stuck_ = "there is no end to it";
    return false;
}

}  // namespace loopmend::app
