// SPDX-License-Identifier: MIT
// Lessons of several swatches, pages that ask, faultless and mid-row swatches, attempts.
#include <algorithm>
#include <cmath>

#include <fmt/format.h>
#include <catch2/catch.hpp>

#include "fabric/itinerary.h"
#include "fault/catalogue.h"
#include "pupil.h"
#include "tutor/solver.h"
#include "tutor/steps.h"
#include "tutor/swatch.h"

using namespace loopmend;

namespace {

StepPlan stepOf(StepKind kind) {
    StepPlan step;
    step.kind = kind;
    return step;
}

StepPlan askOf(QuestionKind kind, std::string of = {}) {
    StepPlan step = stepOf(StepKind::ask);
    step.question.kind = kind;
    step.question.of = std::move(of);
    return step;
}

LessonSwatch plain(std::string member = "Oswin") {
    LessonSwatch swatch;
    swatch.member = std::move(member);
    swatch.thing = "scarf";
    swatch.stitches = 13;
    swatch.rows = 9;
    return swatch;
}

Lesson lessonOf(std::vector<LessonSwatch> swatches) {
    Lesson lesson;
    lesson.id = "some";
    lesson.title = "Some";
    lesson.skills = {"knit-or-purl"};
    lesson.swatches = std::move(swatches);
    return lesson;
}

/// A reading lesson, then a ladder, then the same without one.
Lesson threeSwatches() {
    LessonSwatch first = plain();
    first.steps = {askOf(QuestionKind::pointAt, "v"), askOf(QuestionKind::name),
                   askOf(QuestionKind::trace, "column"), askOf(QuestionKind::count, "rows")};
    LessonSwatch second = plain("Maren");
    second.faults = {{"ladder_stockinette", 6, 6, 0}};
    LessonSwatch third = plain("Bo");
    third.yarn.seed = 9;
    return lessonOf({first, second, third});
}

const pupil::Watch kShort = [](const Session& session) {
    INFO(pupil::text(session.page()));
    CHECK(pupil::words(session.page()) <= 60);
};

int choiceOf(const Session& session, const std::string& words) {
    const std::vector<Choice>& choices = session.page().choices;
    for (std::size_t i = 0; i < choices.size(); ++i) {
        if (choices[i].text.find(words) != std::string::npos) return static_cast<int>(i);
    }
    return -1;
}

}  // namespace

TEST_CASE("One swatch after another, each with its own cloth; pages turn back over them", "[swatches]") {
    Session session(threeSwatches());
    CHECK(session.swatch() == 0);
    CHECK(session.page().step == 1);
    // The ladder's nine steps; the faultless one lacks *make it safe* and *put it right*.
    CHECK(session.page().steps == 4 + 9 + 7);
    int pages = 1;
    std::vector<std::uint64_t> versions{session.version()};
    std::vector<std::string> knots{knotOf(session.fabric())};
    while (!session.done()) {
        const int swatch = session.swatch();
        REQUIRE(pupil::doPage(session, kShort));
        session.next();
        ++pages;
        CHECK(session.page().step == pages);
        CHECK(session.page().steps == 20);
        if (session.swatch() == swatch) continue;
        CHECK(session.swatch() == swatch + 1);
        versions.push_back(session.version());
        knots.push_back(knotOf(session.fabric()));
        CHECK_FALSE(session.work().canUndo());
        CHECK(session.piece().member ==
              session.lesson().swatches[static_cast<std::size_t>(swatch) + 1].member);
    }
    CHECK(pages == 20);
    REQUIRE(versions.size() == 3);
    CHECK(versions[0] != versions[1]);
    CHECK(versions[1] != versions[2]);
    CHECK(knots[0] == knots[2]);
    CHECK(knots[0] != knots[1]);
    while (session.page().canGoBack) session.back();
    CHECK(session.swatch() == 0);
    CHECK(session.page().step == 1);
    // What was done stays done.
    for (int i = 1; i < 20; ++i) {
        REQUIRE(session.canGoOn());
        session.next();
    }
    CHECK(session.done());
}

TEST_CASE("The text of several swatches gives the same session again, at every page", "[swatches]") {
    const Lesson lesson = threeSwatches();
    Session session(lesson, Terms::us, true);
    while (!session.done()) {
        REQUIRE(pupil::doPage(session, kShort));
        auto again = Session::from(lesson, session.text());
        REQUIRE(again);
        CHECK(pupil::text(again->page()) == pupil::text(session.page()));
        CHECK(knotOf(again->fabric()) == knotOf(session.fabric()));
        CHECK(again->swatch() == session.swatch());
        CHECK(again->version() == session.version());
        CHECK(again->takeAttempts().empty());
        session.next();
    }
    std::string older = session.text();
    older.replace(0, older.find('\n'), "loopmend session 1");
    const auto refused = Session::from(lesson, older);
    REQUIRE_FALSE(refused);
    CHECK(refused.error().find("another version") != std::string::npos);
    // Words of the other kind of English, the same place.
    const int step = session.page().step;
    session.setTerms(Terms::uk);
    CHECK(session.page().step == step);
    CHECK(session.terms() == Terms::uk);
}

TEST_CASE("A question answered by choosing: kindly, with hints, and once it is right one goes on",
          "[swatches]") {
    LessonSwatch swatch = plain();
    swatch.rows = 8;  // the right side faces her
    swatch.steps = {askOf(QuestionKind::name), askOf(QuestionKind::mount)};
    Session session(lessonOf({swatch}));
    CHECK(session.page().task.find("What is the lit stitch") == 0);
    CHECK(session.page().choices.size() >= 4);
    CHECK(session.page().choices.back().text == "I can't tell yet");
    CHECK_FALSE(session.marks().empty());
    const int right = choiceOf(session, "A knit stitch: a V");
    REQUIRE(right >= 0);
    session.choose(right == 0 ? 1 : 0);
    CHECK_FALSE(session.canGoOn());
    CHECK_FALSE(session.page().said.empty());
    session.choose(static_cast<int>(session.page().choices.size()) - 1);
    CHECK(session.page().said.find("honest") != std::string::npos);
    for (int rung = 1; rung <= 4; ++rung) CHECK(session.hint().rung == rung);
    CHECK_FALSE(session.page().hasHint);
    // Turned over it is the same question, said for that face.
    session.turnOver();
    CHECK(choiceOf(session, "A purl stitch: a bump") == right);
    session.choose(right);
    CHECK(session.canGoOn());
    session.turnOver();
    CHECK(session.page().choices[static_cast<std::size_t>(right)].state == ChoiceState::right);
}

TEST_CASE("A question answered by pointing: in order, and what tempts is explained", "[swatches]") {
    LessonSwatch swatch = plain();
    swatch.steps = {askOf(QuestionKind::trace, "row"), askOf(QuestionKind::pointAt, "bar")};
    Session session(lessonOf({swatch}));
    pupil::askAll(session);
    std::vector<LoopId> row;
    // Each hint of the last rung lights the next one.
    for (int i = 0; i < 4; ++i) {
        LoopId next;
        for (const PageMark& mark : session.marks()) {
            if (mark.kind == PageMarkKind::next && !mark.loops.empty()) next = mark.loops.front();
        }
        REQUIRE(next);
        row.push_back(next);
        session.pointAt({PointTarget::Thing::loop, next, PointTarget::Spot::whole});
        CHECK(session.page().evidence.size() == static_cast<std::size_t>(i) + 1);
    }
    CHECK(session.canGoOn());
    Session again(lessonOf({swatch}));
    again.pointAt({PointTarget::Thing::loop, row[2], PointTarget::Spot::whole});
    CHECK(again.page().evidence.empty());
    CHECK(again.page().said.find("before it") != std::string::npos);
    again.pointAt({PointTarget::Thing::nothing, {}, PointTarget::Spot::whole});
    CHECK(again.page().said.find("table") != std::string::npos);
    for (const LoopId l : row) again.pointAt({PointTarget::Thing::loop, l, PointTarget::Spot::whole});
    REQUIRE(again.canGoOn());
    again.next();
    CHECK_FALSE(again.canGoOn());
    const std::vector<PageMark> marks = again.marks();
    REQUIRE_FALSE(marks.empty());
    again.pointAt({PointTarget::Thing::loop, marks.front().loops.front(), PointTarget::Spot::head});
    CHECK(again.page().said.find("foot to foot") != std::string::npos);
    CHECK(solvePage(again));
}

TEST_CASE("The author's own words and hints stand in place of the computed ones", "[swatches]") {
    LessonSwatch swatch = plain();
    StepPlan own = askOf(QuestionKind::name);
    own.words = "Tilda's favorite question.";
    own.hints = {"", "Look at its feet."};
    swatch.steps = {own, stepOf(StepKind::look)};
    Session session(lessonOf({swatch}), Terms::uk);
    REQUIRE(session.page().paragraphs.size() == 1);
    CHECK(session.page().paragraphs.front() == "Tilda's favorite question.");
    const std::string computed = session.hint().text;
    CHECK(computed.find("Look at the lit stitch") == 0);
    CHECK(session.hint().text == "Look at its feet.");
    CHECK(session.hint().rung == 3);
    CHECK(session.page().hints.size() == 3);
}

TEST_CASE("Nothing is wrong is right when both faces were looked at, and only on a sound cloth",
          "[swatches]") {
    LessonSwatch swatch = plain();
    swatch.steps = {stepOf(StepKind::find), stepOf(StepKind::choose), stepOf(StepKind::putRight),
                    stepOf(StepKind::check)};
    Session sound(lessonOf({swatch}));
    CHECK(sound.page().steps == 3);  // nothing to put right
    LessonSwatch wrong = swatch;
    wrong.faults = {{"wrong_kp", 4, 6, 0}};
    Session faulty(lessonOf({wrong}));
    CHECK(faulty.page().steps == 4);
    // The page does not tell which is which.
    CHECK(pupil::text(sound.page()).substr(25) == pupil::text(faulty.page()).substr(25));
    for (Session* session : {&sound, &faulty}) {
        const int nothing = choiceOf(*session, "Nothing is wrong");
        REQUIRE(nothing >= 0);
        session->choose(nothing);
        CHECK_FALSE(session->canGoOn());
        session->turnOver();
        session->choose(nothing);
        CHECK(session->canGoOn() == (session == &sound));
    }
    sound.next();
    CHECK(sound.step() == StepKind::choose);
    const int mend = choiceOf(sound, "column run down");
    REQUIRE(mend >= 0);
    sound.choose(mend);
    CHECK_FALSE(sound.canGoOn());
    sound.choose(choiceOf(sound, "Nothing is wrong"));
    CHECK(sound.canGoOn());
    sound.next();
    CHECK(sound.step() == StepKind::check);
    CHECK(solvePage(sound));
    CHECK(sound.done());
}

TEST_CASE("Two mistakes: both places are pointed at, and both are named", "[swatches]") {
    LessonSwatch swatch = plain();
    swatch.stitches = 16;
    swatch.faults = {{"wrong_kp", 4, 4, 0}, {"twist_tbl", 6, 12, 0}};
    swatch.steps = {stepOf(StepKind::find), stepOf(StepKind::whatHappened), stepOf(StepKind::putRight)};
    Session session(lessonOf({swatch}));
    CHECK(session.page().task.find("two places") != std::string::npos);
    pupil::askAll(session);
    REQUIRE_FALSE(session.canGoOn());
    CHECK(solvePage(session));
    CHECK(session.page().evidence.size() == 2);
    session.next();
    const int first = choiceOf(session, std::string(findFault("wrong_kp")->cause));
    const int second = choiceOf(session, std::string(findFault("twist_tbl")->cause));
    REQUIRE(first >= 0);
    REQUIRE(second >= 0);
    session.choose(first);
    CHECK(session.page().said.find("not all") != std::string::npos);
    CHECK(solvePage(session));
    CHECK(session.page().choices[static_cast<std::size_t>(second)].state == ChoiceState::right);
    session.next();
    CHECK(solvePage(session));
    CHECK(session.done());
}

TEST_CASE("Ways that the author calls well chosen are right, others can be done", "[swatches]") {
    LessonSwatch swatch = plain();
    swatch.faults = {{"wrong_kp", 7, 6, 0}};
    swatch.steps = {stepOf(StepKind::choose), stepOf(StepKind::putRight)};
    for (const char* good : {"column", "rip"}) {
        swatch.repairs = {good};
        Session session(lessonOf({swatch}));
        const int column = choiceOf(session, "column run down");
        const int rip = choiceOf(session, "whole row");
        REQUIRE(column >= 0);
        REQUIRE(rip >= 0);
        session.choose(column);
        session.choose(rip);
        const auto state = [&](int i) { return session.page().choices[static_cast<std::size_t>(i)].state; };
        const bool isColumn = good[0] == 'c';
        CHECK(state(column) == (isColumn ? ChoiceState::right : ChoiceState::possible));
        CHECK(state(rip) == (isColumn ? ChoiceState::possible : ChoiceState::right));
        CHECK(solvePage(session));
        session.next();
        CHECK(solvePage(session));
        CHECK(session.done());
    }
}

TEST_CASE("Put down in mid-row: that cloth is the goal, and rows are knitted on from there", "[swatches]") {
    for (const bool mirrored : {false, true}) {
        LessonSwatch swatch = plain();
        swatch.stitchesOfRow = 5;
        swatch.steps = {askOf(QuestionKind::pointAt, "yarn-needle"), stepOf(StepKind::look),
                        stepOf(StepKind::find), stepOf(StepKind::check)};
        Session session(lessonOf({swatch}), Terms::us, mirrored);
        CHECK(session.work().knitter().behind().size() == 5);
        CHECK(session.work().knitter().aheadCount() == 8);
        CHECK(session.rowsAtStart() == 9);
        CHECK(solveLesson(session));
        CHECK(session.done());
    }
    LessonSwatch ladder = plain();
    ladder.stitchesOfRow = 9;
    ladder.faults = {{"wrong_kp", 5, 6, 0}};
    Session session(lessonOf({ladder}));
    CHECK(solveLesson(session));
    LessonSwatch over = plain();
    over.stitchesOfRow = 13;
    const auto sound = knits(lessonOf({over}));
    REQUIRE_FALSE(sound);
    CHECK(sound.error().find("row in hand") != std::string::npos);
}

TEST_CASE("What she made of each page is told once, when it is done with", "[swatches]") {
    LessonSwatch swatch = plain();
    swatch.faults = {{"wrong_kp", 6, 6, 0}};
    swatch.steps = {askOf(QuestionKind::count, "stitches"), stepOf(StepKind::look), stepOf(StepKind::find),
                    stepOf(StepKind::putRight), stepOf(StepKind::inWool)};
    const Lesson lesson = lessonOf({swatch});
    Session session(lesson);
    CHECK(session.takeAttempts().empty());
    // The first at once, without a hint.
    const int right = choiceOf(session, "13");
    REQUIRE(right >= 0);
    session.choose(right);
    CHECK(session.takeAttempts().empty());  // not done with yet
    session.next();
    std::vector<Attempt> told = session.takeAttempts();
    REQUIRE(told.size() == 1);
    CHECK(told[0].lesson == "some");
    CHECK(told[0].what == "ask count stitches");
    CHECK(told[0].skill == "count-stitches");
    CHECK(told[0].right);
    CHECK(told[0].tries == 1);
    CHECK(told[0].truth == "13");
    CHECK(told[0].chosen == "13");
    session.back();
    session.next();
    CHECK(session.takeAttempts().empty());  // once
    REQUIRE(solvePage(session));
    session.next();
    CHECK(session.takeAttempts().empty());  // looking is no skill
    // A wrong place, a hint, then the place and its depth.
    session.pointAt({PointTarget::Thing::loop, EntryId{3}, PointTarget::Spot::whole});
    session.hint();
    REQUIRE(solvePage(session));
    session.next();
    told = session.takeAttempts();
    REQUIRE(told.size() == 1);
    CHECK(told[0].what == "find");
    CHECK(told[0].step == 2);
    CHECK_FALSE(told[0].right);
    CHECK(told[0].tries >= 2);
    CHECK(told[0].hints >= 1);
    CHECK(told[0].truth == "wrong_kp");
    // A move that leads away, and home again.
    REQUIRE(pupil::moved(session, "work k3"));
    REQUIRE(session.undo());
    REQUIRE(solvePage(session));
    const std::string text = session.text();
    session.next();
    told = session.takeAttempts();
    REQUIRE(told.size() == 1);
    CHECK(told[0].what == "put-right");
    CHECK(told[0].skill == "drop-and-mend");
    CHECK(told[0].strayMoves == 1);
    CHECK_FALSE(told[0].right);
    CHECK(session.done());
    // What all her moves take at the usual pace, those that led away too: three stitches, then the cheapest
    // way.
    Swatch whole(swatch, Terms::us, false);
    Work work(whole.takeActual());
    const std::vector<Plan> ways =
        plansFor(whole.meantAt(whole.rows()), whole.scriptTo(whole.rows(), 0), work.knitter());
    REQUIRE_FALSE(ways.empty());
    const int reckoned = told[0].reckonedSeconds;
    CHECK(reckoned == std::lround(3 * Pace{}.secondsPerStitch + ways.front().seconds));
    // After a restart nothing is told again.
    auto again = Session::from(lesson, text);
    REQUIRE(again);
    again->next();
    told = again->takeAttempts();
    REQUIRE(told.size() == 1);
    CHECK(told[0].what == "put-right");
    CHECK(told[0].reckonedSeconds == reckoned);
    // Of a mending that was shown in part nothing is reckoned.
    Lesson shown = lesson;
    shown.swatches.front().steps = {stepOf(StepKind::putRight), stepOf(StepKind::inWool)};
    shown.swatches.front().guidance.lastAreHers = 1;
    Session watched(shown);
    REQUIRE(solvePage(watched));
    watched.next();
    told = watched.takeAttempts();
    REQUIRE(told.size() == 1);
    CHECK(told[0].what == "put-right");
    CHECK(told[0].reckonedSeconds == 0);
    // A taster counts for nothing.
    Lesson taster = lesson;
    taster.skills.clear();
    Session idle(taster);
    REQUIRE(solveLesson(idle));
    CHECK(idle.takeAttempts().empty());
}
