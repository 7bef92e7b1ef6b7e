// SPDX-License-Identifier: MIT
// Lessons that cannot be given say why, and where.
#include "tutor/lesson_check.h"

#include <algorithm>
#include <functional>
#include <string>
#include <vector>

#include <catch2/catch.hpp>

#include "fault/catalogue.h"
#include "sampled.h"
#include "tutor/skills.h"

using namespace loopmend;

namespace {

StepPlan step(StepKind kind, std::string words = {}) {
    StepPlan plan;
    plan.kind = kind;
    plan.words = std::move(words);
    return plan;
}

StepPlan ask(QuestionKind kind, std::string of = {}, int row = 0, int stitch = 0) {
    StepPlan plan = step(StepKind::ask);
    plan.question = {kind, std::move(of), row, stitch};
    return plan;
}

/// One that can be given: a purl among knits, and a second piece with nothing wrong.
Lesson sound() {
    Lesson lesson;
    lesson.id = "one-wrong-bump";
    lesson.title = "One bump among the Vs";
    lesson.about = "Let one column down.";
    lesson.skills = {"drop-and-mend"};
    lesson.needs = {"hook-up", "the-neck"};
    LessonSwatch swatch;
    swatch.stitches = 14;
    swatch.rows = 10;
    swatch.faults = {{"wrong_kp", 7, 6, 0}};
    swatch.steps = {step(StepKind::look),   ask(QuestionKind::name, "", 5, 4),
                    step(StepKind::find),   step(StepKind::whatHappened),
                    step(StepKind::choose), step(StepKind::putRight),
                    step(StepKind::check)};
    lesson.swatches.push_back(swatch);
    swatch.faults.clear();
    swatch.steps = {step(StepKind::look), step(StepKind::find)};
    lesson.swatches.push_back(swatch);
    return lesson;
}

std::string manyWords(int n) {
    std::string words;
    for (int i = 0; i < n; ++i) words += i == 0 ? "Word" : " word";
    return words + ".";
}

struct Broken {
    const char* what;
    std::function<void(Lesson&)> breakIt;
    const char* place;
    const char* says;
};

LessonSwatch& first(Lesson& lesson) {
    return lesson.swatches.front();
}

const std::vector<Broken>& broken() {
    static const std::vector<Broken> kAll = {
        {"no id", [](Lesson& l) { l.id = ""; }, "id", "lower-case"},
        {"an id with capitals", [](Lesson& l) { l.id = "One-Bump"; }, "id", "lower-case"},
        {"no title", [](Lesson& l) { l.title = ""; }, "title", "empty"},
        {"a skill that is none", [](Lesson& l) { l.skills = {"drop-and-mended"}; }, "skills[0]",
         "perhaps drop-and-mend"},
        {"a skill twice",
         [](Lesson& l) {
             l.skills = {"hook-up", "hook-up"};
         },
         "skills[1]", "twice"},
        {"a need that is no skill", [](Lesson& l) { l.needs = {"xyzzy"}; }, "needs[0]", "no skill xyzzy"},
        {"needs what it teaches", [](Lesson& l) { l.needs = {"drop-and-mend"}; }, "needs[0]", "taught here"},
        {"no swatch", [](Lesson& l) { l.swatches.clear(); }, "swatches", "at least one"},
        {"words that mean nothing", [](Lesson& l) { first(l).pattern = "Row 1: frobnicate to end."; },
         "swatches[0].pattern", "line 1, column"},
        {"a pattern that does not fit the stitches",
         [](Lesson& l) {
             first(l).pattern = "Row 1: *k3, p3; rep from * to end.\nRow 2: *k3, p3; rep from * to end.";
         },
         "swatches[0].pattern", "line 1"},
        {"a pattern with fewer rows than are knitted",
         [](Lesson& l) {
             first(l).faults.clear();
             first(l).pattern = "Cast on 14 stitches.\nRow 1: k14.\nRow 2: k13.";
         },
         "swatches[0].pattern", "line 3"},
        {"a mistake that nobody knows", [](Lesson& l) { first(l).faults[0].id = "wrong_pk"; },
         "swatches[0].faults[0].id", "perhaps wrong_kp"},
        {"a mistake in a row that is not knitted", [](Lesson& l) { first(l).faults[0].row = 30; },
         "swatches[0].faults[0]", "row 30"},
        {"a mistake in a stitch that the row has not", [](Lesson& l) { first(l).faults[0].stitch = 40; },
         "swatches[0].faults[0]", "stitch 40"},
        {"a mistake that cannot happen there", [](Lesson& l) { first(l).faults[0].id = "missed_yo"; },
         "swatches[0].faults[0]", "cannot happen"},
        {"the second of two mistakes cannot happen",
         [](Lesson& l) {
             first(l).faults.push_back({"wrong_lean", 9, 2, 0});
         },
         "swatches[0].faults[1]", "cannot happen"},
        {"a mistake in the second piece",
         [](Lesson& l) {
             l.swatches[1].faults = {{"lost_yo", 3, 3, 0}};
         },
         "swatches[1].faults[0]", "cannot happen"},
        {"a way to mend it that is none",
         [](Lesson& l) {
             first(l).repairs = {"column", "sew"};
         },
         "swatches[0].repairs[1]", "no such way"},
        {"too many of the author's words", [](Lesson& l) { first(l).steps[0].words = manyWords(61); },
         "swatches[0].steps[0].words", "61 words"},
        {"the author's words and the task together are too long",
         [](Lesson& l) { first(l).steps[0].words = manyWords(58); }, "swatches[0].steps[0]", "at most 60"},
        {"an asterisk alone", [](Lesson& l) { first(l).steps[2].words = "A *rung is bare."; },
         "swatches[0].steps[2].words", "asterisk"},
        {"an id of ours among the words", [](Lesson& l) { first(l).steps[2].words = "This is wrong_kp."; },
         "swatches[0].steps[2].words", "knitter's word"},
        {"five hints",
         [](Lesson& l) {
             first(l).steps[2].hints = {"a", "b", "c", "d", "e"};
         },
         "swatches[0].steps[2].hints", "at most 4"},
        {"a long hint",
         [](Lesson& l) {
             first(l).steps[2].hints = {"a", manyWords(80)};
         },
         "swatches[0].steps[2].hints[1]", "80 words"},
        {"a step's skill that is none", [](Lesson& l) { first(l).steps[2].skill = "finding"; },
         "swatches[0].steps[2].skill", "no skill finding"},
        {"a question where none is asked", [](Lesson& l) { first(l).steps[2].question.of = "hole"; },
         "swatches[0].steps[2].question", "only an \"ask\" step"},
        {"a question about what is not there",
         [](Lesson& l) { first(l).steps[1] = ask(QuestionKind::pointAt, "hole"); },
         "swatches[0].steps[1].question", "no hole"},
        {"a question about nothing known",
         [](Lesson& l) { first(l).steps[1] = ask(QuestionKind::count, "buttons"); },
         "swatches[0].steps[1].question", ""},
        {"a question about a stitch that is not there",
         [](Lesson& l) { first(l).steps[1] = ask(QuestionKind::name, "", 99, 1); },
         "swatches[0].steps[1].question", ""},
        {"two rungs are asked for where nothing ran",
         [](Lesson& l) { l.swatches[1].steps.push_back(ask(QuestionKind::rungKind)); },
         "swatches[1].steps[2].question", "rung"},
        {"words of a later piece", [](Lesson& l) { l.swatches[1].steps[1].words = manyWords(75); },
         "swatches[1].steps[1].words", "75 words"},
    };
    return kAll;
}

std::string listOf(const std::vector<LessonProblem>& problems) {
    std::string all;
    for (const LessonProblem& p : problems) all += p.place + " | " + p.words + "\n";
    return all;
}

}  // namespace

TEST_CASE("A lesson that can be given has no problems") {
    const auto problems = problemsOf(sound());
    INFO(listOf(problems));
    CHECK(problems.empty());
}

TEST_CASE("A lesson that cannot be given says why, at the place of the file") {
    CHECK(broken().size() >= 30);
    int n = 0;
    for (const Broken& b : broken()) {
        if (!isSampled(n++ * 3)) continue;
        Lesson lesson = sound();
        b.breakIt(lesson);
        const std::vector<LessonProblem> problems = problemsOf(lesson);
        INFO(b.what << "\n" << listOf(problems));
        CHECK(std::any_of(problems.begin(), problems.end(), [&](const LessonProblem& p) {
            return p.place == b.place && p.words.find(b.says) != std::string::npos;
        }));
        for (const LessonProblem& p : problems) {
            CHECK_FALSE(p.words.empty());
            // Every problem has a place in the file.
            CHECK(p.place.find("[-1]") == std::string::npos);
            if (!p.words.empty()) CHECK(p.words.back() != '.');
        }
    }
}

TEST_CASE("All problems are told, in the order of the file") {
    Lesson lesson = sound();
    lesson.skills = {"nonsense-skill"};
    lesson.swatches[0].faults[0].id = "nonsense";
    lesson.swatches[0].steps[0].words = manyWords(70);
    lesson.swatches[0].steps[2].skill = "nonsense";
    lesson.swatches[1].faults = {{"missed_yo", 3, 3, 0}};
    const auto problems = problemsOf(lesson);
    std::vector<std::string> places;
    for (const LessonProblem& p : problems) places.push_back(p.place);
    INFO(listOf(problems));
    CHECK(places == std::vector<std::string>{"skills[0]", "swatches[0].faults[0].id",
                                             "swatches[0].steps[0].words", "swatches[0].steps[2].skill",
                                             "swatches[1].faults[0]"});
}

TEST_CASE("Of several bad questions about one piece each is told, and once") {
    Lesson lesson = sound();
    lesson.swatches[0].steps[1] = ask(QuestionKind::pointAt, "hole");
    lesson.swatches[0].steps.insert(lesson.swatches[0].steps.begin() + 2,
                                    {ask(QuestionKind::name, "", 5, 4), ask(QuestionKind::name, "", 99, 1)});
    const auto problems = problemsOf(lesson);
    INFO(listOf(problems));
    REQUIRE(problems.size() == 2);
    CHECK(problems[0].place == "swatches[0].steps[1].question");
    CHECK(problems[1].place == "swatches[0].steps[3].question");
}

TEST_CASE("Every mistake of the catalogue alone makes a lesson that can be given, on its own ground") {
    // Where each stands is the catalogue's affair; here one of each family, with every step.
    struct One {
        const char* id;
        StockGround ground;
        int row;
        int stitch;
    };
    int n = 0;
    for (const One& one :
         {One{"drop_left_behind", StockGround::stockinette, 7, 6},
          One{"accidental_yo", StockGround::rib, 7, 6}, One{"twist_tbl", StockGround::garter, 6, 7},
          One{"merged", StockGround::seed, 7, 6}, One{"miscrossed", StockGround::cables, 7, 9},
          One{"missed_yo", StockGround::eyelets, 5, 7}}) {
        if (!isSampled(n++ * 3)) continue;
        Lesson lesson = sound();
        LessonSwatch& swatch = lesson.swatches.front();
        swatch.ground = one.ground;
        swatch.stitches = 15;
        swatch.rows = 9;
        swatch.faults = {{one.id, one.row, one.stitch, 0}};
        swatch.steps.clear();  // the usual ones
        lesson.swatches.resize(1);
        const auto problems = problemsOf(lesson);
        INFO(one.id << "\n" << listOf(problems));
        CHECK(problems.empty());
    }
}

TEST_CASE("In a course every skill is taught before it is needed") {
    Lesson a = sound();
    a.id = "a";
    a.skills = {"knit-or-purl"};
    a.needs = {};
    Lesson b = a;
    b.id = "b";
    b.skills = {"the-neck"};
    b.needs = {"knit-or-purl"};
    CHECK(problemsOf(std::vector<Lesson>{a, b}).empty());
    const auto turned = problemsOf(std::vector<Lesson>{b, a});
    INFO(listOf(turned));
    REQUIRE(turned.size() == 2);
    CHECK(turned[0].place == "lessons[0].needs[0]");
    CHECK(turned[1].place == "lessons[0].skills[0]");
    CHECK(turned[1].words.find("knit-or-purl") != std::string::npos);
    const auto twice = problemsOf(std::vector<Lesson>{a, a});
    REQUIRE(twice.size() == 1);
    CHECK(twice[0].place == "lessons[1].id");
}
