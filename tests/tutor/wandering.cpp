// SPDX-License-Identifier: MIT
// Whatever hands do, the page leads home.
#include <fmt/format.h>
#include <catch2/catch.hpp>

#include "fault/catalogue.h"
#include "fault/draw.h"
#include "pupil.h"
#include "sampled.h"
#include "tutor/solver.h"
#include "tutor/standing.h"

using namespace loopmend;

namespace {

std::string anyMove(const Session& session, Seeded& dice) {
    const Fabric& f = session.fabric();
    std::vector<int> live;
    std::vector<int> loops;
    for (std::int32_t i = 0; i < f.entryCount(); ++i) {
        const LoopId l{i};
        if (!f.has(l) || !f.isLoop(l) || f.isNothing(l)) continue;
        loops.push_back(i);
        if (f.isLive(l)) live.push_back(i);
    }
    const auto any = [&](const std::vector<int>& from) {
        return from.empty() ? 0 : from[static_cast<std::size_t>(dice.below(static_cast<int>(from.size())))];
    };
    std::vector<int> open;
    for (const int l : live) {
        if (!f.isHeld(LoopId{l}) || pinOf(f, LoopId{l})) open.push_back(l);
    }
    switch (dice.below(12)) {
        case 0: return fmt::format("pin {}", any(live));
        case 1: return fmt::format("drop {}", any(live));
        case 2: return fmt::format("let-run {} {}", any(open), 1 + dice.below(3));
        case 3:
        case 4: return fmt::format("hook-k rung {} loop {}", 1 + dice.below(2), any(open));
        case 5: return fmt::format("hook-p rung 1 loop {}", any(open));
        case 6: return fmt::format("seat {}", any(open));
        case 7: return fmt::format("work {}{}", dice.below(2) == 0 ? "k" : "p", 1 + dice.below(4));
        case 8: return fmt::format("tink {}", 1 + dice.below(4));
        case 9: return "turn";
        case 10:
            return fmt::format("remount {} {}", any(live), dice.below(2) == 0 ? "left-leg" : "right-leg");
        default: return fmt::format("rip {}", 1 + dice.below(2));
    }
}

}  // namespace

TEST_CASE("After any hand moves, the hints lead home") {
    constexpr int kWalks = kSanitized ? 10 : 50;  // each start at least once
    constexpr int kMoves = 8;
    struct Start {
        StockGround ground;
        FaultPlace fault;
        bool round = false;
    };
    const std::vector<Start> starts = {{StockGround::stockinette, {"ladder_stockinette", 5, 5, 0}},
                                       {StockGround::stockinette, {"ladder_stockinette", 5, 5, 0}},
                                       {StockGround::garter, {"ladder_garter", 6, 4, 0}},
                                       {StockGround::rib, {"wrong_kp", 6, 5, 0}},
                                       {StockGround::eyelets, {"missed_yo", 5, 7, 0}},
                                       {StockGround::stockinette, {"drop_left_behind", 6, 5, 0}},
                                       {StockGround::stockinette, {"twist_tbl", 6, 4, 0}, true},
                                       {StockGround::cables, {"miscrossed", 5, 5, 0}},
                                       {StockGround::stockinette, {"accidental_yo", 7, 5, 0}},
                                       {StockGround::shaped, {"missed_dec", 5, 9, 0}}};
    int takenBack = 0;
    int walked = 0;
    for (int walk = 0; walk < kWalks; ++walk) {
        const Start& start = starts[static_cast<std::size_t>(walk) % starts.size()];
        Lesson lesson;
        lesson.id = "wandering";
        // What she wanders over lies second: going home leads over the end of one swatch and to the next.
        LessonSwatch first;
        first.stitches = 8;
        first.rows = 4;
        first.steps.emplace_back();
        LessonSwatch swatch;
        swatch.ground = start.ground;
        swatch.stitches = start.ground == StockGround::eyelets ? 15 : 10;
        swatch.rows = 8;
        swatch.round = start.round;
        swatch.faults = {start.fault};
        lesson.swatches = {first, swatch, first};
        if (!knits(lesson)) {
            // The mistake stands elsewhere on this ground.
            const Script script = stockGround(start.ground, swatch.stitches, swatch.rows, start.round);
            Wanted wanted;
            wanted.rowFrom = 3;
            const auto place = drawPlace(7, *findFault(start.fault.id), script, swatch.setup, wanted);
            REQUIRE(place);
            lesson.swatches[1].faults = {*place};
            REQUIRE(knits(lesson));
        }
        ++walked;
        Session session(lesson, Terms::us, walk % 3 == 2);
        while (session.step() != StepKind::putRight) {
            REQUIRE(pupil::doPage(session, [](const Session&) {}));
            session.next();
        }
        CHECK(session.swatch() == 1);
        Seeded dice(static_cast<std::uint64_t>(walk) + 1);
        for (int done = 0, tried = 0; done < kMoves && tried < 100; ++tried) {
            if (pupil::moved(session, anyMove(session, dice))) ++done;
        }
        INFO(session.text());
        for (int i = 0; i < 300 && !session.canGoOn(); ++i) {
            pupil::askAll(session);
            REQUIRE_FALSE(session.page().hints.empty());
            CHECK(pupil::words(session.page()) <= 60);
            const std::optional<Move> move = session.shownMove();
            if (move) {
                REQUIRE(session.perform(*move));
            } else {
                ++takenBack;
                REQUIRE(session.undo());
            }
        }
        REQUIRE(session.canGoOn());
        const bool solved = solveLesson(session);
        INFO(pupil::text(session.page()));
        CHECK(solved);
        CHECK(session.swatch() == 2);
    }
    CHECK(walked == kWalks);
    INFO(takenBack << " moves had to be taken back for want of another way");
    CHECK(takenBack < kWalks * kMoves / 4);
}
