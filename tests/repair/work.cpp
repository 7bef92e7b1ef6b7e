// SPDX-License-Identifier: MIT
// Knitting in hand: moves done, taken back and done again, as often as one likes, with the same loops.
#include <catch2/catch.hpp>

#include <rapidcheck.h>
#include <rapidcheck/catch.h>

#include "fabric/hands.h"
#include "fabric/itinerary.h"
#include "pattern/samplers.h"
#include "repair/work.h"
#include "scenes.h"

using namespace loopmend;
using namespace loopmend::scenes;

namespace {

Move moveOf(const std::string& line) {
    const auto move = moveFrom(line);
    REQUIRE(move);
    return *move;
}

/// Everything that a fabric and the knitter over it could be told apart by.
std::string all(const Work& work) {
    const Itinerary lines = itinerary(work.fabric());
    std::string text = lines.knot + "\n" + lines.measure + "\n";
    text += work.knitter().facing() == Side::right ? "right" : "wrong";
    for (const LoopId l : work.stacked()) text += " " + std::to_string(l.value);
    return text;
}

/// With threads, needles and scissors, near where it could do something.
Move randomNewMove(const Work& work, Move move, int kind) {
    const Fabric& f = work.fabric();
    const auto below = [](int n) { return *rc::gen::inRange(0, n); };
    const LoopId loop = move.loops.front();
    const auto beside = [&](LoopId l) {
        EntryId e = f.has(l) ? f[l].next : EntryId{};
        while (e && !f.isLoop(e)) e = f[e].next;
        return e ? e : l;
    };
    switch (kind) {
        case 14:
            move.kind = MoveKind::thread;
            move.through = static_cast<ThreadThrough>(below(3));
            move.spare = below(3) == 0;
            if (move.through == ThreadThrough::needle) move.loops.clear();
            break;
        case 15:
            move.kind = MoveKind::unthread;
            for (int t = 0; t < f.toolCount(); ++t) {
                const HeldId first = f[ToolId{t}].first;
                if (first && threadOf(f, f[first].loop)) {
                    move.loops = {f[first].loop};
                    move.spare = f[ToolId{t}].kind == ToolKind::spareNeedle;
                }
            }
            break;
        case 16: {
            Move rip;
            rip.kind = MoveKind::rip;
            return rip;
        }
        case 17:
            move.kind = MoveKind::cross;
            move.others = {beside(loop)};
            move.inFront = below(2) == 0;
            break;
        case 18:
            move.kind = below(2) ? MoveKind::slipTo : MoveKind::passOver;
            if (move.kind == MoveKind::passOver) move.others = {beside(loop)};
            break;
        case 19:
            move.kind = MoveKind::drawSlack;
            if (below(2)) {
                move.um = 500;
                move.others = {beside(loop)};
            }
            break;
        case 20:
            move.kind = MoveKind::snip;
            move.loops = {LoopId{below(f.entryCount())}};
            break;
        case 21:
            move.kind = MoveKind::pickOut;
            move.count = below(3);
            for (int y = 0; y < f.yarnCount(); ++y) {
                const Yarn& yarn = f[YarnId{y}];
                if (yarn.first && yarn.flags.ball == 0) move.loops = {below(2) ? yarn.first : yarn.last};
            }
            break;
        case 22:
            move.kind = MoveKind::sewOver;
            move.loops = {LoopId{below(f.entryCount())}};
            move.color = 'B';
            break;
        default: move.kind = below(2) ? MoveKind::fasten : MoveKind::weave; break;
    }
    return move;
}

/// Some move that may or may not be possible.
Move randomMove(const Work& work) {
    const Fabric& f = work.fabric();
    Move move;
    const auto below = [](int n) { return *rc::gen::inRange(0, n); };
    const int kind = below(24);
    move.loops = {LoopId{below(f.entryCount())}};
    if (below(3) != 0) {  // mostly where something can happen
        std::vector<LoopId> live;
        for (int i = 0; i < f.entryCount(); ++i) {
            const LoopId l{i};
            if (f.has(l) && f.isLoop(l) && f.isLive(l) && (f.isLoose(l) || kind < 7)) live.push_back(l);
        }
        if (!live.empty())
            move.loops = {live[static_cast<std::size_t>(below(static_cast<int>(live.size())))]};
    }
    switch (kind) {
        case 0: move.kind = MoveKind::pin; break;
        case 1: move.kind = MoveKind::unpin; break;
        case 2:
        case 3: move.kind = MoveKind::drop; break;
        case 4:
            move.kind = MoveKind::remount;
            move.mount = below(2) ? Mount::western : Mount::eastern;
            break;
        case 5:
            move.kind = MoveKind::stack;
            move.loops.push_back(LoopId{below(f.entryCount())});
            break;
        case 6:
        case 7:
            move.kind = MoveKind::letRun;
            move.count = below(4);
            break;
        case 8: move.kind = MoveKind::seat; break;
        case 9:
        case 10:
            move.kind = MoveKind::hook;
            move.rung = 1 + below(2);
            move.knit = below(2) == 0;
            if (below(4) == 0) move.loops.clear();
            if (below(4) == 0) move.twists.assign(move.loops.size(), -1);
            break;
        case 11:
            move.kind = below(2) ? MoveKind::tink : MoveKind::rip;
            move.count = 1 + below(3);
            break;
        case 12:
            move.kind = MoveKind::work;
            move.steps = {{below(2) ? Op::knit : Op::purl}};
            break;
        case 13: move.kind = MoveKind::turn; break;
        default: return randomNewMove(work, move, kind);
    }
    const bool named = move.kind != MoveKind::tink && move.kind != MoveKind::rip &&
                       move.kind != MoveKind::work && move.kind != MoveKind::turn;
    if (!named) move.loops.clear();
    return move;
}

Knitting someWork(int which) {
    switch (which) {
        case 0: return worked(stockinette(8, 6));
        case 1: return worked(lace(12, 7));
        case 2: return worked(rib(9, 5));
        default: return worked(seed(7, 6));
    }
}

}  // namespace

TEST_CASE("A stitch dropped, run and hooked up again, and all of it taken back", "[work]") {
    Work work(worked(stockinette(7, 5)));
    const std::string start = all(work);
    const LoopId top = onNeedle(work.fabric(), 4);
    const std::uint64_t first = work.version();
    REQUIRE(work.perform(moveOn(MoveKind::drop, top)));
    CHECK(work.version() != first);
    const LoopId host = work.fabric().hostsRightToLeft(top).front();
    REQUIRE(work.perform(moveOf("let-run " + std::to_string(top.value) + " 1")));
    const std::string below = all(work);
    const auto made = work.perform(moveOf("hook-k rung 1 loop " + std::to_string(host.value)));
    REQUIRE(made);
    CHECK(work.made().back() == *made);
    REQUIRE(work.perform(moveOn(MoveKind::seat, *made)));
    CHECK(work.done().size() == 4);
    const std::string end = all(work);
    // The work lies with the right side away after an odd number of rows: a knit there is a purl.
    CHECK(knotOf(work.fabric()) != work.start().lines.knot);

    REQUIRE(work.undo());
    REQUIRE(work.undo());
    CHECK(all(work) == below);
    CHECK(work.undone().size() == 2);
    CHECK(work.undone().front().kind == MoveKind::hook);
    REQUIRE(work.redo());
    REQUIRE(work.redo());
    CHECK(all(work) == end);
    CHECK_FALSE(work.redo());

    work.undoAll();
    CHECK(all(work) == start);
    CHECK_FALSE(work.undo());

    SECTION("another move after going back: the old ones cannot be done again") {
        REQUIRE(work.redo());
        REQUIRE(work.perform(moveOn(MoveKind::pin, top)));
        CHECK_FALSE(work.canRedo());
        CHECK(work.done().size() == 2);
    }
    SECTION("trying out leaves nothing behind") {
        const std::uint64_t version = work.version();
        std::string seen;
        REQUIRE(work.tryOut(moveOn(MoveKind::drop, top), [&](const Fabric& f, LoopId) {
            CHECK(f.isLoose(top));
            seen = knotOf(f);
        }));
        CHECK(seen != work.start().lines.knot);
        CHECK(work.version() == version);
        CHECK(all(work) == start);
        CHECK(work.undone().size() == 4);
        CHECK_FALSE(work.tryOut(moveOn(MoveKind::unpin, top)));
    }
    SECTION("a refused move changes nothing, not even what could be done again") {
        const std::uint64_t version = work.version();
        CHECK_FALSE(work.perform(moveOn(MoveKind::unpin, top)));
        CHECK(work.version() == version);
        CHECK(work.undone().size() == 4);
    }
}

TEST_CASE("Loops on the hook are there again after undo and redo", "[work]") {
    Work work(worked(lace(8, 5)));
    const LoopId a = onNeedle(work.fabric(), 2);
    const LoopId b = onNeedle(work.fabric(), 3);
    Move stack;
    stack.kind = MoveKind::stack;
    stack.loops = {a, b};
    REQUIRE(work.perform(moveOn(MoveKind::drop, a)));
    REQUIRE(work.perform(moveOn(MoveKind::drop, b)));
    REQUIRE(work.perform(stack));
    CHECK(work.stacked() == std::vector<LoopId>{a, b});
    stack.loops = {b, a};
    REQUIRE(work.perform(stack));
    REQUIRE(work.undo());
    CHECK(work.stacked() == std::vector<LoopId>{a, b});
    REQUIRE(work.undo());
    CHECK(work.stacked().empty());
    REQUIRE(work.redo());
    CHECK(work.stacked() == std::vector<LoopId>{a, b});
}

TEST_CASE("A knitter keeps her ways over a start that is read again", "[work]") {
    Setup setup;
    setup.habit = Habit::combination;
    setup.mirrored = true;
    auto knitting = knit(stockinette(6, 3), setup);
    REQUIRE(knitting);
    const Side facing = knitting->knitter.facing();
    Work work(std::move(*knitting));
    CHECK(work.knitter().facing() == facing);
    CHECK(work.knitter().habit() == Habit::combination);
    CHECK(work.knitter().mirrored());
    const auto again = Work::from(work.start());
    REQUIRE(again);
    CHECK(all(*again) == all(work));

    WorkStart wrong = work.start();
    wrong.stance.yarn = 3;
    CHECK_FALSE(Work::from(wrong));
    wrong = work.start();
    wrong.lines.knot.resize(wrong.lines.knot.size() / 2);
    CHECK_FALSE(Work::from(wrong));
}

TEST_CASE("Taking everything back gives the start, doing it again gives the end, and so does its text",
          "[work][random]") {
    rc::prop("random moves", [] {
        Work work(someWork(*rc::gen::inRange(0, 4)));
        const std::string start = all(work);
        std::vector<std::string> states{start};
        for (int i = *rc::gen::inRange(1, 60); i > 0; --i) {
            const Move move = randomMove(work);
            const std::string was = all(work);
            if (work.perform(move)) {
                states.push_back(all(work));
                const Itinerary left = itinerary(work.fabric());
                const auto read = fabricFrom(left);
                if (!read) RC_LOG() << textOf(move) << ": " << read.error().message;
                RC_ASSERT(read.has_value());
                RC_ASSERT(knotOf(*read) == left.knot);
                RC_ASSERT(itinerary(*read).measure == left.measure);
            } else {
                RC_ASSERT(all(work) == was);
            }
        }
        RC_TAG(std::to_string(work.done().size() / 5 * 5) + " moves or more");
        RC_ASSERT(states.size() == work.done().size() + 1);
        const std::vector<Move> moves = work.done();
        const std::vector<LoopId> made = work.made();
        for (std::size_t i = states.size() - 1; i > 0; --i) {
            RC_ASSERT(work.undo());
            RC_ASSERT(all(work) == states[i - 1]);
        }
        RC_ASSERT(work.undone() == moves);
        work.redoAll();
        RC_ASSERT(all(work) == states.back());
        RC_ASSERT(work.made() == made);

        // The same from text, half of it taken back.
        auto again = Work::from(work.start());
        RC_ASSERT(again.has_value());
        const auto half = static_cast<std::ptrdiff_t>(moves.size() / 2);
        std::vector<Move> lines;
        for (const Move& m : moves) {
            const auto line = moveFrom(textOf(m));
            RC_ASSERT(line.has_value());
            lines.push_back(*line);
        }
        RC_ASSERT(again->resume({lines.begin(), lines.begin() + half}, {lines.begin() + half, lines.end()})
                      .has_value());
        RC_ASSERT(all(*again) == states[static_cast<std::size_t>(half)]);
        again->redoAll();
        RC_ASSERT(all(*again) == states.back());
        RC_ASSERT(again->done() == moves);
    });
}

TEST_CASE("work of several yarns is gone on with, each stitch with the yarn its words say") {
    int tried = 0;
    for (const Sampler& sampler : colourSamplers()) {
        if (sampler.sew || sampler.script.yarns.size() < 2) continue;
        INFO(sampler.id);
        const auto whole = knitSampler(sampler);
        REQUIRE(whole);
        const std::size_t rows = sampler.script.rows.size();
        for (const std::size_t begun : {std::size_t{0}, std::size_t{1}, rows / 2, rows - 1}) {
            INFO(begun << " of " << rows);
            Script some = sampler.script;
            some.rows.resize(begun);
            auto start = knit(some, sampler.setup);
            REQUIRE(start);
            Work work(std::move(*start));
            for (std::size_t row = begun; row < rows; ++row) {
                Move steps;
                steps.kind = MoveKind::work;
                steps.steps = sampler.script.rows[row].steps;
                const Move move = moveOf(textOf(steps));
                REQUIRE(move == steps);
                REQUIRE(work.perform(move));
                if (sampler.script.rows[row].round || row + 1 < rows) REQUIRE(work.perform(moveOf("turn")));
            }
            CHECK(knotOf(work.fabric()) == knotOf(*whole->fabric));
            auto again = Work::from(work.start());
            REQUIRE(again);
            REQUIRE(again->resume(work.done(), {}));
            CHECK(all(*again) == all(work));
            ++tried;
        }
    }
    CHECK(tried > 10);
}

TEST_CASE("A list of moves that does not fit is done as far as it goes", "[work]") {
    Work work(worked(stockinette(5, 3)));
    const std::string top = std::to_string(onNeedle(work.fabric(), 2).value);
    const auto done = work.resume({moveOf("drop " + top), moveOf("unpin " + top), moveOf("turn")}, {});
    REQUIRE_FALSE(done);
    CHECK(done.error().move == 1);
    CHECK(done.error().refusal.why == Why::notHeld);
    CHECK(work.done().size() == 1);
    work.undoAll();

    Work other(worked(stockinette(5, 3)));
    const auto later = other.resume({moveOf("turn")}, {moveOf("drop " + top), moveOf("unpin " + top)});
    REQUIRE_FALSE(later);
    CHECK(later.error().move == 2);
    CHECK(other.done().size() == 1);
    CHECK_FALSE(other.canRedo());
}
