// SPDX-License-Identifier: MIT
// Nothing of a lesson is typed in: any ground, any mistake, any place works, with every answer computed.
#include <algorithm>

#include <fmt/format.h>
#include <catch2/catch.hpp>

#include "course.h"
#include "fault/catalogue.h"
#include "fault/facts.h"
#include "pupil.h"
#include "sampled.h"
#include "tutor/swatch.h"

using namespace loopmend;

namespace {

Lesson lessonOf(StockGround ground, int stitches, int rows, std::vector<FaultPlace> faults) {
    Lesson lesson;
    lesson.id = "any";
    lesson.title = "Any";
    LessonSwatch swatch;
    swatch.member = "Maren";
    swatch.thing = "swatch";
    swatch.ground = ground;
    swatch.stitches = stitches;
    swatch.rows = rows;
    swatch.faults = std::move(faults);
    swatch.steps = usualSteps();
    lesson.swatches = {std::move(swatch)};
    return lesson;
}

const pupil::Watch kShort = [](const Session& session) {
    INFO(pupil::text(session.page()));
    CHECK(pupil::words(session.page()) <= 60);
};

}  // namespace

TEST_CASE("The same lesson at other places, depths and grounds, for either hand") {
    int n = 0;
    for (const StockGround ground :
         {StockGround::stockinette, StockGround::garter, StockGround::rib, StockGround::seed}) {
        const char* id = ground == StockGround::stockinette ? "ladder_stockinette"
                         : ground == StockGround::garter    ? "ladder_garter"
                                                            : "ladder_rib";
        for (const int stitch : {3, 8}) {
            for (const int depth : {1, 4}) {
                for (const bool mirrored : {false, true}) {
                    if (!isSampled(n++ * 3)) continue;
                    INFO(name(ground)
                         << " stitch " << stitch << " depth " << depth << " mirrored " << mirrored);
                    Lesson lesson = lessonOf(ground, 14, 9, {{id, 10 - depth, stitch, 0}});
                    REQUIRE(knits(lesson));
                    Session session(lesson, Terms::us, mirrored);
                    pupil::doAll(session, kShort);
                    CHECK(session.done());
                }
            }
        }
    }
}

TEST_CASE("Every mistake of the catalogue makes a lesson") {
    int n = 0;
    for (const Fault* fault : lessonFaults()) {
        if (!isSampled(n++)) continue;
        INFO(fault->id);
        const std::optional<FaultExample> example = exampleOf(*fault);
        REQUIRE(example);
        Lesson lesson =
            lessonOf(example->ground, 15, static_cast<int>(example->script.rows.size()), {example->place});
        lesson.swatches.front().round = example->script.round;
        REQUIRE(knits(lesson));
        const Swatch swatch(lesson.first(), Terms::us, false);
        const std::vector<std::string> right = swatch.rightFaults();
        CHECK(std::find(right.begin(), right.end(), fault->id) != right.end());
        Session session(lesson);
        pupil::doAll(session, kShort);
        CHECK(session.done());
    }
}

TEST_CASE("A faultless twin: nothing is wrong is the answer") {
    Session session(lessonOf(StockGround::stockinette, 12, 8, {}));
    const std::vector<StepKind> seen = pupil::doAll(session, kShort);
    CHECK(session.done());
    CHECK(std::find(seen.begin(), seen.end(), StepKind::makeSafe) == seen.end());
}

TEST_CASE("Where nothing can run, nothing is to be made safe") {
    Session session(lessonOf(StockGround::stockinette, 12, 8, {{"wrong_kp", 5, 6, 0}}));
    CHECK(session.step() == StepKind::look);
}

TEST_CASE("A pattern in words is a ground like any other") {
    Lesson lesson = lessonOf(StockGround::stockinette, 12, 8, {{"wrong_kp", 5, 6, 0}});
    lesson.swatches.front().pattern =
        "Row 1: *k2, p2; rep from * to end.\nRow 2: *k2, p2; rep from * to end.\n";
    REQUIRE(knits(lesson));
    Session session(lesson);
    pupil::doAll(session, kShort);
    CHECK(session.done());
    lesson.swatches.front().pattern = "Row 1: frobnicate to end.";
    CHECK_FALSE(knits(lesson));
}

TEST_CASE("A worked example fades from its last move backward") {
    Lesson lesson = firstLesson();
    lesson.swatches.front().guidance.lastAreHers = 3;
    Session session(lesson);
    while (session.step() != StepKind::putRight) {
        REQUIRE(pupil::doPage(session, [](const Session&) {}));
        session.next();
    }
    int shown = 0;
    while (session.shownMove()) {
        REQUIRE(session.perform(*session.shownMove()));
        ++shown;
    }
    CHECK(shown == 4);  // six rungs and the seat, less three
    CHECK_FALSE(session.canGoOn());
    CHECK(session.marks().empty());
    CHECK(pupil::mend(session, [](const Session&) {}) == 3);
}

TEST_CASE("Rows may be knitted on stitch by stitch, and are right after each") {
    int n = 0;
    for (const StockGround ground :
         {StockGround::stockinette, StockGround::rib, StockGround::eyelets, StockGround::cables,
          StockGround::shaped, StockGround::net, StockGround::spines}) {
        for (const bool mirrored : {false, true}) {
            if (!isSampled(n++ * 3)) continue;
            Lesson lesson = lessonOf(ground, 14, 6, {});
            StepPlan check;
            check.kind = StepKind::check;
            lesson.swatches.front().steps = {check};
            lesson.swatches.front().rowsOn = 5;
            Session session(lesson, Terms::us, mirrored);
            session.look(LookKind::tug);
            session.turnOver();
            for (int i = 0; i < static_cast<int>(session.page().choices.size()); ++i) session.choose(i);
            for (int row = 0; row < 5; ++row) {
                CHECK_FALSE(session.done());
                const std::vector<Step> steps =
                    session.script().rows[static_cast<std::size_t>(session.rowsAtStart() + row)].steps;
                for (const Step& step : steps) {
                    Move move;
                    move.kind = MoveKind::work;
                    move.steps = {step};
                    REQUIRE(session.perform(move));
                    INFO(name(ground)
                         << " row " << row << ": " << textOf(move) << ": " << session.page().said);
                    CHECK(session.page().task != "Put that right first.");
                    const std::vector<Move> rest = session.knitRow();
                    REQUIRE_FALSE(rest.empty());
                    CHECK(rest.back().kind == MoveKind::turn);
                }
                REQUIRE(pupil::moved(session, "turn"));
            }
            CHECK(session.done());
        }
    }
}

TEST_CASE("Two mistakes at once, and knitting that went on by count, are lessons too") {
    const std::vector<Lesson> lessons = [] {
        std::vector<Lesson> all;
        all.push_back(lessonOf(StockGround::stockinette, 14, 9,
                               {{"wrong_kp", 4, 4, 0}, {"ladder_stockinette", 6, 10, 0}}));
        all.push_back(
            lessonOf(StockGround::garter, 14, 8, {{"ladder_garter", 5, 4, 0}, {"ladder_garter", 6, 9, 0}}));
        all.push_back(lessonOf(StockGround::eyelets, 15, 8, {{"missed_yo", 5, 7, 0}}));
        all.back().swatches.front().after = After::byCount;
        all.push_back(lessonOf(StockGround::rib, 14, 8, {{"wrong_kp", 6, 5, 0}}));
        all.back().swatches.front().after = After::rowEnd;
        return all;
    }();
    for (const Lesson& lesson : lessons) {
        INFO(name(lesson.first().ground) << ' ' << text(lesson.first().faults.front()));
        REQUIRE(knits(lesson));
        Session session(lesson);
        pupil::doAll(session, kShort);
        CHECK(session.done());
    }
}

TEST_CASE("Mended before it is asked for, no page asks for what is no longer there") {
    Session session(firstLesson());
    LoopId loop = pupil::openLoop(session);
    for (int i = 0; i < 6; ++i) {
        REQUIRE(pupil::moved(session, fmt::format("hook-k rung 1 loop {}", loop.value)));
        loop = session.work().made().back();
    }
    REQUIRE(pupil::moved(session, fmt::format("seat {}", loop.value)));
    while (session.step() != StepKind::check) {
        if (session.step() != StepKind::look) CHECK(session.page().task.find("oint at") == std::string::npos);
        REQUIRE(pupil::doPage(session, kShort));
        session.next();
    }
}

TEST_CASE("A piece that ends asks for no more rows than it has") {
    Lesson lesson = lessonOf(StockGround::stockinette, 12, 5, {{"wrong_kp", 3, 6, 0}});
    lesson.swatches.front().pattern =
        "Row 1 (RS): k12.\nRow 2: p12.\nRow 3: k12.\nRow 4: p12.\nRow 5: k12.\nRow 6: p12.\n"
        "Row 7: k1, k2tog, k9.\n";
    const auto sound = knits(lesson);
    INFO((sound ? std::string() : sound.error()));
    REQUIRE(sound);
    Session session(lesson);
    CHECK(session.script().rows.size() >= 7);
    pupil::doAll(session, kShort);
    CHECK(session.done());
}

TEST_CASE("A pupil who tries everything gets through every lesson of the course") {
    // The lesson check goes the way of the hints, by either hand and in both kinds of English.
    bool mirrored = false;
    int n = 0;
    for (const Lesson& lesson : wholeCourse().lessons()) {
        if (!isSampled(n++)) continue;
        INFO(lesson.id);
        REQUIRE(knits(lesson));
        Session session(lesson, mirrored ? Terms::uk : Terms::us, mirrored);
        pupil::doAll(session, kShort);
        CHECK(session.done());
        mirrored = !mirrored;
    }
}
