// SPDX-License-Identifier: MIT
// Ways that a lesson asks for besides columns, tinking and ripping, and where they end.
#include <algorithm>

#include <catch2/catch.hpp>

#include "course.h"
#include "fabric/itinerary.h"
#include "repair/uneven.h"
#include "tutor/lesson_check.h"
#include "tutor/session.h"
#include "tutor/solver.h"
#include "tutor/standing.h"

using namespace loopmend;

namespace {

const Lesson& lessonCalled(const Course& course, const std::string& id) {
    const Lesson* lesson = course.find(id);
    REQUIRE(lesson != nullptr);
    return *lesson;
}

struct Piece {
    Piece(const LessonSwatch& wanted, bool mirrored)
        : swatch(wanted, Terms::us, mirrored), work(swatch.takeActual()) {}
    Swatch swatch;
    Work work;

    Standing standing() { return standingOf(swatch, work, false); }
    void follow(const Plan& plan) {
        for (const PlannedMove& move : plan.moves) {
            INFO(textOf(move.move));
            REQUIRE(work.perform(move.move));
        }
    }
};

const Plan& planOf(const Standing& standing, PlanFamily family) {
    const auto plan = std::find_if(standing.plans.begin(), standing.plans.end(),
                                   [&](const Plan& p) { return p.family == family; });
    REQUIRE(plan != standing.plans.end());
    return *plan;
}

}  // namespace

TEST_CASE("Further ways are looked for only where a lesson asks for them") {
    CHECK(furtherWays({"column", "tink", "rip"}).empty());
    CHECK(furtherWays({"rip", "snip-and-graft"}) == std::vector<PlanFamily>{PlanFamily::snipAndGraft});
    LessonSwatch scarf;
    scarf.faults = {{"wrong_row", 9, 1, 0}};
    scarf.repairs = {"rip"};
    Piece usual(scarf, false);
    for (const Plan& plan : usual.standing().plans) CHECK(plan.family != PlanFamily::lifelineFirst);
    scarf.repairs = {"lifeline-first"};
    Piece threaded(scarf, false);
    const Standing standing = threaded.standing();
    threaded.follow(planOf(standing, PlanFamily::lifelineFirst));
    CHECK(threaded.standing().asMeant);
    CHECK_FALSE(threaded.standing().shows);
}

TEST_CASE("What is sewn down is mended, though it is not what was meant") {
    const Course course = wholeCourse();
    for (const bool mirrored : {false, true}) {
        for (const char* id : {"an-open-stitch-in-a-worn-hat", "snip-and-graft"}) {
            CAPTURE(id, mirrored);
            const LessonSwatch& wanted = lessonCalled(course, id).first();
            Piece piece(wanted, mirrored);
            Standing standing = piece.standing();
            CHECK_FALSE(standing.asMeant);
            const Plan plan = planOf(standing, furtherWays(wanted.repairs).front());
            CHECK_FALSE(plan.proved);
            // Not before its last move that matters: threads may still lie in it.
            REQUIRE(piece.work.perform(plan.moves.front().move));
            if (plan.moves.size() > 1) CHECK_FALSE(piece.standing().asMeant);
            piece.work.undo();
            piece.follow(plan);
            standing = piece.standing();
            CHECK(standing.asMeant);
            CHECK(standing.shows);
            CHECK(standing.open.empty());
            CHECK(knotOf(piece.work.fabric()) != piece.swatch.knotAt(piece.swatch.rows()));
        }
    }
}

TEST_CASE("Stitches of another size are a mistake, and even again when their slack has been drawn along") {
    const Course course = wholeCourse();
    const LessonSwatch& wanted = lessonCalled(course, "snags").first();
    Piece piece(wanted, false);
    const Standing standing = piece.standing();
    CHECK_FALSE(standing.asMeant);
    CHECK(standing.larger.size() == 1);
    CHECK_FALSE(standing.smaller.empty());
    CHECK(piece.swatch.rightFaults() == std::vector<std::string>{"snag"});
    piece.follow(planOf(standing, PlanFamily::ease));
    CHECK(piece.standing().asMeant);
    CHECK(unevenIn(piece.swatch.meantAt(piece.swatch.rows()), piece.work.fabric(),
                   pairUp(piece.swatch.meantAt(piece.swatch.rows()), piece.work.fabric()))
              .none());
    // Nothing of it is there where nothing is uneven.
    LessonSwatch sound = wanted;
    sound.faults.clear();
    Piece even(sound, false);
    CHECK(even.standing().asMeant);
}

TEST_CASE("A row taken back and worked again at the usual size is even again") {
    const Course course = wholeCourse();
    Piece piece(lessonCalled(course, "strands-too-tight").first(), false);
    const Standing standing = piece.standing();
    CHECK_FALSE(standing.unevenFloats.empty());
    piece.follow(planOf(standing, PlanFamily::rip));
    CHECK(piece.standing().asMeant);
}

TEST_CASE("An author who asks for a way that is none is told those that she could ask for") {
    Lesson lesson = lessonOfCourse("snip-and-graft");
    lesson.swatches.front().repairs = {"fasten"};
    const std::vector<LessonProblem> problems = problemsOf(lesson);
    REQUIRE(problems.size() == 1);
    CHECK(problems[0].words ==
          "there is no such way to mend it as fasten; there is rip, lifeline-first, snip-and-graft");
}

TEST_CASE("A mending with scissors warns right before them, and is kept and taken up again in the middle") {
    const Course course = wholeCourse();
    const Lesson& lesson = lessonCalled(course, "snip-and-graft");
    Session session(lesson, Terms::us, false);
    while (session.step() != StepKind::putRight) {
        REQUIRE(solvePage(session));
        session.next();
    }
    const auto shown = [&] {
        while (!session.shownMove() && session.page().hasHint) session.hint();
        return session.shownMove();
    };
    while (shown() && shown()->kind != MoveKind::snip) REQUIRE(session.perform(*shown()));
    REQUIRE(shown());
    CHECK(session.page().caution.find("Scissors only now that both rows are threaded") != std::string::npos);
    REQUIRE(session.perform(*shown()));
    const auto again = Session::from(lesson, session.text());
    REQUIRE(again);
    CHECK(again->page().task == session.page().task);
    CHECK(solvePage(session));
    CHECK(session.page().paragraphs.front().find("as well as it can be") ==
          std::string::npos);  // her own words
}
