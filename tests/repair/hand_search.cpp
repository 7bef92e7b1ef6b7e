// SPDX-License-Identifier: MIT
// Every plan held against a search that knows no plans: single hand moves, each at the price of the one cost
// function with the tool in hand and the place, from every state that hands can reach. Both keep the one rule
// of safety: no stitch that is right is left hanging open on nothing.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cstdio>
#include <cstdlib>
#include <map>
#include <set>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "fabric/hands.h"
#include "fabric/itinerary.h"
#include "fabric/pairing.h"
#include "fault/catalogue.h"
#include "fault/draw.h"
#include "fault/grounds.h"
#include "fault/knit_with.h"
#include "repair/cost.h"
#include "repair/least_left.h"
#include "repair/plan.h"
#include "repair/search.h"
#include "repair/workplace.h"
#include "sampled.h"

namespace loopmend {

namespace {

/// Single moves that hands could try on a fabric as it lies. Not chosen with a view to what was meant, except
/// that the stitches worked are of the kinds that occur in the piece.
class HandMoves {
  public:
    HandMoves(const Fabric& meant, const Script& script) {
        for (const WorkedRow& row : script.rows) {
            for (const Step& step : row.steps) {
                if (std::find(steps_.begin(), steps_.end(), step) == steps_.end()) steps_.push_back(step);
            }
        }
        for (const LoopId l : numbering(meant).order) {
            const std::vector<LinkId> links = meant.linksOf(l);
            if (links.size() > 1) pairs_ = true;
            for (const LinkId k : links) twists_.insert(meant[k].form.twist);
            bare_ = bare_ || (links.empty() && meant[l].firstKid && meant[l].flags.anchored == 0);
        }
        twists_.insert(0);
    }

    std::vector<Move> all(const Workplace& place) const {
        const Fabric& f = place.fabric();
        std::vector<Move> moves;
        std::vector<LoopId> open;
        for (std::int32_t i = 0; i < f.entryCount(); ++i) {
            const LoopId l{i};
            if (!f.has(l) || !f.isLoop(l)) continue;
            if (f.isLive(l) && !f.isNothing(l)) {
                const HeldId own = f.heldOn(l, f.needle());
                const bool onNeedle = own && f[own].state.hanging == 0;
                if (onNeedle) moves.push_back(moveOn(MoveKind::drop, l));
                if (pinOf(f, l)) moves.push_back(moveOn(MoveKind::unpin, l));
                if (!onNeedle) pins(f, l, moves);
                if (f.isLoose(l) && f[l].flags.anchored == 0) {
                    for (const int n : {0, 1, 2}) {
                        moves.push_back(moveOn(MoveKind::letRun, l));
                        moves.back().count = n;
                    }
                }
                if (own && !onNeedle) moves.push_back(moveOn(MoveKind::seat, l));
                if (!onNeedle) open.push_back(l);
            }
            // A lifted strand goes through nothing: where no such loop was meant it would have to go again.
            if (bare_ && f[l].next && f.isLoop(f[l].next) && f.run(f[l].next) == f.run(l)) {
                Move lift;
                lift.kind = MoveKind::liftBar;
                lift.strand = l;
                lift.liftTo = LiftTo::hanging;
                moves.push_back(lift);
            }
        }
        for (const LoopId l : open) hooks(f, {l}, moves);
        if (pairs_) {
            for (const LoopId x : open) {
                for (const LoopId y : open) {
                    if (x != y) hooks(f, {x, y}, moves);
                }
            }
        }
        Move move;
        move.kind = MoveKind::tink;
        move.count = 1;
        moves.push_back(move);
        move.kind = MoveKind::rip;
        for (int n = 1; n <= 5; ++n) {
            move.count = n;
            moves.push_back(move);
        }
        move = Move{};
        if (place.knitter().aheadCount() == 0) moves.push_back(move);
        move.kind = MoveKind::work;
        for (const Step& step : steps_) {
            move.steps = {step};
            moves.push_back(move);
        }
        return moves;
    }

  private:
    /// Through what hangs open, or a stitch below it, before it runs. (To pin before it is dropped costs the
    /// same.)
    static void pins(const Fabric& f, LoopId open, std::vector<Move>& moves) {
        std::vector<LoopId> below{open};
        std::set<std::int32_t> met;
        while (!below.empty()) {
            const LoopId l = below.back();
            below.pop_back();
            if (!met.insert(l.value).second) continue;
            if (!pinOf(f, l) && f[l].flags.anchored == 0) moves.push_back(moveOn(MoveKind::pin, l));
            for (const LoopId host : f.hostsRightToLeft(l)) below.push_back(host);
        }
    }
    void hooks(const Fabric& f, const std::vector<LoopId>& loops, std::vector<Move>& moves) const {
        Move hook;
        hook.kind = MoveKind::hook;
        hook.loops = loops;
        const auto rungs = static_cast<int>(f.passesOf(loops.front()).size());
        for (int rung = 1; rung <= rungs; ++rung) {
            hook.rung = rung;
            for (const bool knit : {true, false}) {
                hook.knit = knit;
                for (const std::int8_t twist : twists_) {
                    hook.twists.assign(twist == 0 ? 0 : loops.size(), twist);
                    moves.push_back(hook);
                }
            }
        }
    }

    std::vector<Step> steps_;
    std::set<std::int8_t> twists_;
    bool pairs_ = false;
    bool bare_ = false;
};

/// The stitches that may be left hanging open: what is wrong, and all that stands on it; and what hung so
/// from the first. Those that a move makes are nobody's.
class MayHang {
  public:
    MayHang(const Fabric& meant, const Fabric& f) : entries_(f.entryCount()) {
        may_.assign(static_cast<std::size_t>(entries_), false);
        const Pairing pairs = pairUp(meant, f);
        std::vector<LoopId> wrong = pairs.extra;
        wrong.insert(wrong.end(), pairs.changed.begin(), pairs.changed.end());
        const auto above = [&](LoopId l) {
            for (LinkId k = f[l].firstKid; k; k = f[k].nextInHost) wrong.push_back(f[k].loop);
        };
        for (const PassId p : pairs.extraPasses) above(f.passed(p));
        for (const CrossingId c : pairs.extraCrossings) {
            above(f[c].a);
            above(f[c].b);
        }
        for (const PassId p : pairs.missingPasses) {
            if (const LoopId a = pairs.actual(meant.passed(p))) above(a);
        }
        while (!wrong.empty()) {
            const LoopId l = wrong.back();
            wrong.pop_back();
            if (may_[static_cast<std::size_t>(l.value)]) continue;
            may_[static_cast<std::size_t>(l.value)] = true;
            above(l);
        }
        for (std::int32_t i = 0; i < entries_; ++i) {
            const LoopId l{i};
            if (f.has(l) && f.isLoop(l) && f.isLoose(l)) may_[static_cast<std::size_t>(i)] = true;
        }
    }
    bool holds(const Fabric& f) const {
        for (std::int32_t i = 0; i < entries_; ++i) {
            const LoopId l{i};
            if (!may_[static_cast<std::size_t>(i)] && f.has(l) && f.isLoop(l) && f.isLoose(l) &&
                !f.isNothing(l) && f[l].flags.anchored == 0)
                return false;
        }
        return true;
    }

    /// By entry id.
    const std::vector<bool>& which() const { return may_; }

  private:
    std::int32_t entries_;
    std::vector<bool> may_;
};

/// Loops that are something, by what each goes through and how, whichever it is; and how many the needle
/// holds.
struct Standing {
    std::map<std::vector<int>, int> loops;
    int held = 0;
};
Standing standingIn(const Fabric& f) {
    Standing standing;
    for (std::int32_t i = 0; i < f.entryCount(); ++i) {
        const LoopId l{i};
        if (!f.has(l) || !f.isLoop(l) || f.isNothing(l)) continue;
        std::vector<int> form;
        for (const LinkId k : f.linksOf(l)) {
            form.push_back(f[k].form.side == Side::right ? 1 : 0);
            form.push_back(f[k].form.twist);
        }
        ++standing.loops[form];
    }
    for (HeldId h = f[f.needle()].first; h; h = f[h].next) standing.held += f[h].state.hanging == 0 ? 1 : 0;
    return standing;
}

/// What it takes at least from one to the other: no loop is made, and none comes onto the needle, in less
/// than a stitch takes to knit (of a step that makes several, its share); and what is there too much goes by
/// a move of its own, of which none takes less than letting a stitch run.
double atLeast(const Standing& now, const Standing& meant, const Pace& pace, int mostOfAStep) {
    int lacking = 0;
    int extra = 0;
    for (const auto& [form, n] : meant.loops) {
        const auto there = now.loops.find(form);
        lacking += std::max(0, n - (there == now.loops.end() ? 0 : there->second));
    }
    for (const auto& [form, n] : now.loops) {
        const auto wanted = meant.loops.find(form);
        extra += std::max(0, n - (wanted == meant.loops.end() ? 0 : wanted->second));
    }
    const int made = std::max(lacking, meant.held - now.held);
    return std::max(0, made) * pace.secondsPerStitch / mostOfAStep +
           (extra > 0 ? pace.otherMoveSeconds : 0.0);
}

struct Held {
    bool found = false;
    bool complete = false;
    double cost = 0;
    double atLeast = 0;  ///< from the first state on
    std::string moves;
    std::size_t states = 0;
};

/// The cheapest list of moves to the meant knot that costs less than `under`. `ready`: the meant cloth, held
/// to work its next row.
Held cheapestByHand(const Knitter& ready, const Script& script, Knitter& knitter, double under,
                    std::size_t states) {
    const Fabric& meant = ready.fabric();
    const std::string meantKnot = knotOf(meant);
    const HandMoves hands(meant, script);
    const MayHang mayHang(meant, knitter.fabric());
    const Pace pace;
    const Standing wanted = standingIn(meant);
    const LeastLeft leastLeft(meant, script, pace, ready.run());
    int mostOfAStep = 1;
    for (const WorkedRow& row : script.rows) {
        for (const Step& step : row.steps) mostOfAStep = std::max(mostOfAStep, makes(step));
    }
    const Knitter::State start = knitter.mark();
    // The knot, what is measured, the tool in hand (where another one costs anything) and where it was last.
    const auto keyOf = [&pace](const Workplace& place, const MoveCost& cost) {
        const Itinerary lines = itinerary(place.fabric());
        const int tool = pace.changeToolSeconds > 0 ? static_cast<int>(cost.inHand()) : 0;
        return lines.knot + '\n' + lines.measure + '\n' + std::to_string(tool) + ' ' +
               std::to_string(cost.lastKnit()) + ' ' +
               (cost.at() && place.fabric().has(cost.at())
                    ? std::to_string(numbering(place.fabric())[cost.at()].loop)
                    : "-") +
               (place.knitter().facing() == Side::right ? "r" : "w");
    };
    const Workplace at(knitter);
    const char facing = ready.facing() == Side::right ? 'r' : 'w';
    const auto way = cheapestWay<Move, std::string>(
        keyOf(at, MoveCost(pace)),
        [&](const std::vector<Move>& path, auto emit) {
            Workplace place(knitter);
            MoveCost cost(pace);
            double spent = 0;
            for (const Move& move : path) {
                const MovePrice price = cost.of(place, move);
                spent += price.seconds;
                const Result<LoopId> made = place.perform(move);
                cost.done(move, made ? *made : LoopId{}, price);
            }
            for (const Move& move : hands.all(place)) {
                const MovePrice price = cost.of(place, move);
                if (spent + price.seconds > under) continue;
                const Knitter::State before = knitter.mark();
                const Result<LoopId> made = place.perform(move);
                if (made && mayHang.holds(knitter.fabric())) {
                    MoveCost then = cost;
                    then.done(move, *made, price);
                    const double left =
                        std::max(atLeast(standingIn(knitter.fabric()), wanted, pace, mostOfAStep),
                                 leastLeft.seconds(knitter.fabric(), then.at(), mayHang.which()));
                    if (spent + price.seconds + left <= under) emit(move, keyOf(place, then), price.seconds);
                }
                knitter.rollBack(before);
            }
            knitter.rollBack(start);
        },
        // And she holds it as the row wants it that comes next.
        [&](const std::string& key) {
            return key.back() == facing && key.compare(0, key.find('\n'), meantKnot) == 0;
        },
        {states, under});
    Held held;
    held.found = way.found;
    held.complete = way.complete;
    held.cost = way.cost;
    held.states = way.states;
    held.atLeast = std::max(atLeast(standingIn(knitter.fabric()), wanted, pace, mostOfAStep),
                            leastLeft.seconds(knitter.fabric(), {}, mayHang.which()));
    for (const Move& move : way.steps) held.moves += textOf(move) + "; ";
    return held;
}

/// What a plan spends on pins through stitches that hang open from the first. Nobody who mends leaves that
/// out (craft: secure the open stitch first); hands that only count seconds would, and were right each time.
double securing(const Plan& plan, const Fabric& f) {
    double seconds = 0;
    for (const PlannedMove& planned : plan.moves) {
        const Move& move = planned.move;
        const bool open =
            move.kind == MoveKind::pin && f.has(move.loops.front()) && f.isLoose(move.loops.front());
        seconds += open ? Pace{}.pinSeconds : 0.0;
    }
    return seconds;
}

/// What is left is never reckoned at more than a plan of such moves then takes.
bool neverTooMuch(const Knitter& ready, const Script& script, Knitter& knitter, const Plan& plan) {
    const Fabric& meant = ready.fabric();
    const Pace pace;
    const LeastLeft least(meant, script, pace, ready.run());
    const Knitter::State start = knitter.mark();
    Workplace place(knitter);
    MoveCost cost(pace);
    std::vector<double> spent{0};
    const MayHang mayHang(meant, knitter.fabric());
    std::vector<double> left{least.seconds(knitter.fabric(), {}, mayHang.which())};
    bool single = true;
    for (const PlannedMove& planned : plan.moves) {
        const Move& move = planned.move;
        switch (move.kind) {
            case MoveKind::pin:
            case MoveKind::unpin:
            case MoveKind::drop:
            case MoveKind::letRun:
            case MoveKind::seat:
            case MoveKind::hook:
            case MoveKind::liftBar:
            case MoveKind::tink:
            case MoveKind::rip:
            case MoveKind::work:
            case MoveKind::turn: break;
            default: single = false;
        }
        const MovePrice price = cost.of(place, move);
        const Result<LoopId> made = single ? place.perform(move) : Result<LoopId>(refuse(Why::noSuchThing));
        if (!made) break;
        cost.done(move, *made, price);
        spent.push_back(spent.back() + price.seconds);
        left.push_back(least.seconds(knitter.fabric(), cost.at(), mayHang.which()));
    }
    const bool ends = single && knotOf(knitter.fabric()) == knotOf(meant);
    knitter.rollBack(start);
    for (std::size_t i = 0; i < left.size() && ends; ++i) {
        if (spent[i] + left[i] > spent.back() + 1e-6) return false;
    }
    return true;
}

/// The plan leaves the work as the row wants it that comes next.
bool endsReady(const Knitter& ready, Knitter& knitter, const Plan& plan) {
    const Knitter::State start = knitter.mark();
    Workplace place(knitter);
    const bool done = std::all_of(plan.moves.begin(), plan.moves.end(), [&](const PlannedMove& planned) {
        return place.perform(planned.move).has_value();
    });
    const bool holds = done && knitter.facing() == ready.facing();
    knitter.rollBack(start);
    return holds;
}

struct Tally {
    int tried = 0;
    int otherSide = 0;  ///< plans after which the other side faces her
    int tooMuch = 0;    ///< plans cheaper than what was said to be left
    int complete = 0;
    int unplanned = 0;
    std::vector<std::string> cheaper;
    std::vector<std::string> givenUp;  ///< searches that were not ended, and what the bound says of them
};

void holdAgainst(const std::string& id, StockGround ground, int stitches, int rows, After after,
                 std::size_t states, Tally& tally, bool (*wanted)(std::uint64_t) = nullptr) {
    const Fault* fault = nullptr;
    for (const Fault* f : catalogue()) {
        if (f->id == id) fault = f;
    }
    REQUIRE(fault != nullptr);
    const Script script = stockGround(ground, stitches, rows);
    std::uint64_t n = 0;
    for (const FaultPlace& where : placesFor(*fault, script, {}, {})) {
        if (wanted != nullptr && !wanted(n++)) continue;
        auto k = knitWith(script, {}, {where}, after);
        if (!k) continue;
        if (knotOf(*k->actual.fabric) == knotOf(*k->meant.fabric)) continue;
        Script done = script;
        done.rows.resize(std::min(done.rows.size(), static_cast<std::size_t>(k->rows)));
        const std::vector<Plan> plans = plansFor(*k->meant.fabric, done, k->actual.knitter);
        if (plans.empty()) {
            ++tally.unplanned;
            continue;
        }
        ++tally.tried;
        const double planned = plans.front().seconds;
        double under = planned;
        for (const Plan& plan : plans) {
            tally.otherSide += endsReady(k->meant.knitter, k->actual.knitter, plan) ? 0 : 1;
            tally.tooMuch += neverTooMuch(k->meant.knitter, done, k->actual.knitter, plan) ? 0 : 1;
            under = std::min(under, (plan.seconds - securing(plan, k->actual.knitter.fabric())) * 0.99);
        }
        const Held held = cheapestByHand(k->meant.knitter, done, k->actual.knitter, under, states);
        tally.complete += held.found || held.complete ? 1 : 0;
        if (!held.found && !held.complete) {
            tally.givenUp.push_back(fmt::format("{} on {} ({}): {:.0f} s by {}, at least {:.0f} s",
                                                text(where), name(ground), rows, planned,
                                                nameOf(plans.front().family), held.atLeast));
        }
        if (held.found) {
            tally.cheaper.push_back(fmt::format("{} {} on {} ({}): {:.0f} s by {}, {:.0f} s by hand: {}",
                                                text(where), name(after), name(ground), rows, planned,
                                                nameOf(plans.front().family), held.cost, held.moves));
        }
    }
}

}  // namespace

TEST_CASE("Single hand moves find nothing cheaper than the plans", "[plan][search]") {
    Tally tally;
    for (const char* id : {"wrong_kp", "twist_tbl", "drop_live", "ladder_stockinette"}) {
        holdAgainst(id, StockGround::stockinette, 3, 3, After::byReading, 400, tally,
                    [](std::uint64_t n) { return n % 4 == 1; });
    }
    for (const std::string& line : tally.cheaper) UNSCOPED_INFO(line);
    CHECK(tally.cheaper.empty());
    CHECK(tally.tooMuch == 0);
    CHECK(tally.otherSide == 0);
    CHECK(tally.tried > 0);
}

TEST_CASE("Single hand moves find nothing cheaper than the plans, every mistake", "[.all]") {
    // LOOPMEND_STATES: how many states each search may look at before it is given up.
    const char* given = std::getenv("LOOPMEND_STATES");
    const std::size_t states = given != nullptr ? static_cast<std::size_t>(std::atoi(given)) : 1500;
    // LOOPMEND_FAULT: only this one. LOOPMEND_SIZE: only pieces of so many stitches and rows.
    const char* only = std::getenv("LOOPMEND_FAULT");
    const char* ofSize = std::getenv("LOOPMEND_SIZE");
    Tally all;
    for (const int size : {3, 4, 5}) {
        if (ofSize != nullptr && size != std::atoi(ofSize)) continue;
        for (const Fault* fault : catalogue()) {
            if (only != nullptr && fault->id != only) continue;
            for (const StockGround ground :
                 {StockGround::stockinette, StockGround::garter, StockGround::eyelets, StockGround::cables}) {
                Tally tally;
                holdAgainst(std::string(fault->id), ground, size, size, After::byReading, states, tally,
                            [](std::uint64_t n) { return n % 5 == 2; });
                if (tally.tried + tally.unplanned == 0) continue;
                std::printf("%s %s %d: %d tried, %d searched to the end, %d without a plan, %zu cheaper\n",
                            std::string(fault->id).c_str(), std::string(name(ground)).c_str(), size,
                            tally.tried, tally.complete, tally.unplanned, tally.cheaper.size());
                for (const std::string& line : tally.cheaper) std::printf("    %s\n", line.c_str());
                for (const std::string& line : tally.givenUp) std::printf("  - %s\n", line.c_str());
                std::fflush(stdout);
                all.tried += tally.tried;
                all.complete += tally.complete;
                all.tooMuch += tally.tooMuch;
                all.otherSide += tally.otherSide;
                if (tally.otherSide > 0)
                    std::printf("    %d plans end with the other side facing her\n", tally.otherSide);
                if (tally.tooMuch > 0)
                    std::printf("    %d plans are cheaper than what was left\n", tally.tooMuch);
                all.cheaper.insert(all.cheaper.end(), tally.cheaper.begin(), tally.cheaper.end());
            }
        }
    }
    std::printf("all: %d tried, %d searched to the end, %zu cheaper\n", all.tried, all.complete,
                all.cheaper.size());
    CHECK(all.tooMuch == 0);
    CHECK(all.otherSide == 0);
    CHECK(all.tried > 0);
}

}  // namespace loopmend
