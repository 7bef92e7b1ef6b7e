// SPDX-License-Identifier: MIT
// A lesson on paper: the questions, the mending, the piece in wool, and the answers by themselves.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <string>

#include <fmt/format.h>

#include "course.h"
#include "fault/catalogue.h"
#include "fault/facts.h"
#include "pattern/counts.h"
#include "pattern/parse.h"
#include "sampled.h"
#include "tutor/lesson_handout.h"
#include "tutor/lesson_handout_moves.h"
#include "tutor/lesson_handout_pictures.h"
#include "tutor/lesson_handout_quiz.h"
#include "tutor/lesson_handout_sampler.h"
#include "tutor/lesson_handout_words.h"
#include "tutor/words.h"

using namespace loopmend;

namespace {

std::string textOf(const HandoutStep& step) {
    std::string all = step.heading + "\n" + step.caution + "\n";
    for (const auto* list : {&step.sentences, &step.lines, &step.choices}) {
        for (const std::string& s : *list) all += s + "\n";
    }
    for (const HandoutPicture& p : step.pictures) all += p.caption + "\n";
    return all;
}

std::string textOf(const Handout& handout) {
    std::string all = handout.title + "\n";
    for (const HandoutStep& step : handout.steps) all += textOf(step);
    return all;
}

const HandoutStep* stepCalled(const Handout& handout, const std::string& heading) {
    const auto at = std::find_if(handout.steps.begin(), handout.steps.end(), [&](const HandoutStep& step) {
        return step.heading.rfind(heading, 0) == 0;
    });
    return at == handout.steps.end() ? nullptr : &*at;
}

Lesson lessonOf(StockGround ground, int stitches, int rows, std::vector<FaultPlace> faults) {
    Lesson lesson;
    lesson.id = "on-paper";
    lesson.title = "On paper";
    LessonSwatch swatch;
    swatch.ground = ground;
    swatch.stitches = stitches;
    swatch.rows = rows;
    swatch.faults = std::move(faults);
    lesson.swatches = {std::move(swatch)};
    return lesson;
}

Lesson ranDown() {
    Lesson lesson = lessonOf(StockGround::stockinette, 14, 12, {{"ladder_stockinette", 6, 5, 0}});
    lesson.swatches.front().member = "Oswin";
    lesson.swatches.front().thing = "scarf end";
    return lesson;
}

int countQuestions(const Handout& handout) {
    int n = 0;
    while (stepCalled(handout, fmt::format("{}. ", n + 1)) != nullptr) ++n;
    return n;
}

}  // namespace

TEST_CASE("A lesson on paper has its pictures, questions, moves and wool, and the answers last",
          "[handout]") {
    for (const Lesson& lesson : {ranDown(), lessonOf(StockGround::rib, 14, 8, {{"wrong_kp", 5, 6, 0}}),
                                 lessonOf(StockGround::eyelets, 15, 8, {{"missed_yo", 5, 7, 0}})}) {
        const Handout handout = handoutOf(lesson);
        INFO(textOf(handout));
        CHECK(handout.title == lesson.title);
        CHECK(handout.foot.find(lesson.id) != std::string::npos);

        const HandoutStep* look = stepCalled(handout, "Look at both sides");
        REQUIRE(look != nullptr);
        REQUIRE(look->pictures.size() == 2);
        CHECK(look->pictures[0].caption.find("right side") != std::string::npos);
        CHECK(look->pictures[1].caption.find("wrong side") != std::string::npos);
        CHECK(look->pictures[0].drawing.items.size() > 500);

        const int questions = countQuestions(handout);
        CHECK(questions >= 4);
        for (int i = 1; i <= questions; ++i) {
            const HandoutStep* question = stepCalled(handout, fmt::format("{}. ", i));
            CHECK(question < stepCalled(handout, "Put it right"));
            const bool pencil = question->heading.find("Mark ") != std::string::npos;
            CHECK((pencil || question->choices.size() >= 3));
            CHECK(question->heading.find("Point at") == std::string::npos);
        }

        const HandoutStep& answers = handout.steps.back();
        CHECK(answers.heading == "Answers");
        CHECK(answers.newSheet);
        // The answers are told nowhere else, each under its number.
        for (int i = 1; i <= questions; ++i) {
            CHECK(std::count_if(
                      answers.sentences.begin(), answers.sentences.end(),
                      [&](const std::string& s) { return s.rfind(fmt::format("{}. ", i), 0) == 0; }) == 1);
        }
        CHECK(answers.pictures.size() == 1);

        const HandoutStep* moves = stepCalled(handout, "Put it right");
        REQUIRE(moves != nullptr);
        CHECK(moves->across >= 3);
        CHECK(moves->pictures.size() >= 3);
        CHECK(moves->pictures.back().caption.find("It is right") == 0);
        CHECK(stepCalled(handout, "What to look for") != nullptr);
        CHECK(stepCalled(handout, "Next time") != nullptr);

        const HandoutStep* wool = stepCalled(handout, "Knit it in wool");
        REQUIRE(wool != nullptr);
        CHECK(textOf(*wool).find("Cast on ") != std::string::npos);
        CHECK(stepCalled(handout, "Its mistake") != nullptr);
        CHECK(stepCalled(handout, "And a twin without") != nullptr);
        for (const HandoutStep& step : handout.steps) {
            CHECK_FALSE(step.heading.empty());
            for (const HandoutPicture& p : step.pictures) {
                CHECK(p.drawing.widthMm > 10);
                CHECK_FALSE(p.drawing.title.empty());
            }
        }
        for (const char* bad : {"host", "itinerary", "loop graph", "_", "  ", " ,", ".."})
            CHECK(textOf(handout).find(bad) == std::string::npos);
    }
}

TEST_CASE("Several pieces, one of them without a mistake: numbered through, lettered, answered",
          "[handout]") {
    Lesson lesson = ranDown();
    Lesson twin = lessonOf(StockGround::garter, 12, 6, {});
    lesson.swatches.push_back(twin.swatches.front());
    const Handout handout = handoutOf(lesson, Terms::uk, true);
    INFO(textOf(handout));
    CHECK(stepCalled(handout, "Look at both sides: A") != nullptr);
    CHECK(stepCalled(handout, "Look at both sides: B") != nullptr);
    CHECK(stepCalled(handout, "Put it right, move by move: A") != nullptr);
    CHECK(stepCalled(handout, "Put it right, move by move: B") == nullptr);
    CHECK(textOf(handout).find("Nothing is wrong with this one") != std::string::npos);
    CHECK(textOf(handout).find("stocking stitch") != std::string::npos);
    CHECK(textOf(handout).find("Left-handed") != std::string::npos);
    const auto sheets = std::count_if(
        handout.steps.begin(), handout.steps.end(),
        [](const HandoutStep& step) { return step.heading.rfind("Answers", 0) == 0 && step.newSheet; });
    CHECK(sheets == 1);
}

TEST_CASE("Each trade word is told where it first stands", "[handout]") {
    const Handout handout = handoutOf(ranDown());
    const std::string all = textOf(handout);
    INFO(all);
    for (const char* word : {"rung", "column", "run"}) {
        const std::string told = fmt::format("*{}*: ", capital(word));
        const std::size_t at = all.find(told);
        REQUIRE(at != std::string::npos);
        CHECK(all.find(told, at + 1) == std::string::npos);
    }
    Handout own;
    own.steps.resize(2);
    own.steps[0].sentences = {"Each bare strand is a *rung*."};
    own.steps[1].sentences = {"Count the rungs. Grunge is no rung."};
    explainTerms(own, Terms::us);
    CHECK(textOf(own).find("*Rung*:") == std::string::npos);
}

TEST_CASE("Like moves are gathered: the first, one in the middle, the last", "[handout]") {
    const auto indexes = [](const std::vector<std::string>& captions) {
        std::string all;
        for (const ToldMove& told : gathered(captions)) all += fmt::format("{}:{} ", told.index, told.again);
        return all;
    };
    CHECK(indexes({}).empty());
    CHECK(indexes({"a", "b", "b", "c"}) == "0:0 1:0 2:0 3:0 ");
    CHECK(indexes({"p", "h", "h", "h", "h", "h", "h", "s"}) == "0:0 1:0 4:3 6:2 7:0 ");
    CHECK(indexes({"a", "b", "a", "b", "a", "b", "a", "b"}) == "0:0 1:0 4:3 7:3 ");
    // Each move is told once: for itself, or in a run.
    for (int n = 1; n < 30; ++n) {
        int told = 0;
        for (const ToldMove& move : gathered(std::vector<std::string>(static_cast<std::size_t>(n), "x")))
            told += std::max(1, move.again);
        CHECK(told == n);
    }
}

TEST_CASE("Pattern words of a piece parse to the very rows", "[handout]") {
    for (int g = 0; g < kStockGrounds; ++g) {
        for (const bool round : {false, true}) {
            for (const Terms terms : {Terms::us, Terms::uk}) {
                const Script script = stockGround(static_cast<StockGround>(g), 17, 13, round);
                const std::vector<std::string> words = patternWords(script, terms);
                std::string text;
                std::size_t rows = 0;
                for (const std::string& line : words) {
                    if (line.rfind("Repeat ", 0) == 0) continue;
                    text += line + "\n";
                    ++rows;
                }
                INFO(name(static_cast<StockGround>(g)) << (round ? " round" : "") << "\n" << text);
                const Pattern pattern = parse(text);
                REQUIRE(pattern.problems.empty());
                const auto again = expand(pattern, script.castOn, static_cast<int>(rows));
                REQUIRE(again);
                REQUIRE(again->rows.size() == rows);
                for (std::size_t i = 0; i < rows; ++i) {
                    CHECK(again->rows[i].steps == script.rows[i].steps);
                    CHECK(again->rows[i].facing == script.rows[i].facing);
                }
                // What is not told row by row repeats.
                if (rows == script.rows.size()) continue;
                CHECK(words.back().rfind("Repeat ", 0) == 0);
                CHECK(words.back().find(round ? "until round 13 is done" : "until row 13 is done") !=
                      std::string::npos);
            }
        }
    }
}

TEST_CASE("Every mistake can be made on purpose by its words", "[handout]") {
    for (const Fault* fault : catalogue()) {
        INFO(fault->id);
        if (!fault->suffered() || fault->inCloth) CHECK_FALSE(onPurpose(fault->id, Step{}).empty());
    }
    for (const char* id :
         {"snags", "the-moth", "loose-lines", "turns-that-gape", "an-open-stitch-in-a-worn-hat"}) {
        INFO(id);
        const LessonSwatch swatch = lessonOfCourse(id).first();
        const std::vector<std::string> words = samplerOf(swatch, Terms::us, false).mistake;
        REQUIRE_FALSE(words.empty());
        CHECK(words.front().find(ordinalWord(swatch.faults.front().stitch)) != std::string::npos);
        const std::string row = fmt::format("{} {}", swatch.round ? "ound" : "ow", swatch.faults.front().row);
        CHECK(words.front().find(row) != std::string::npos);
    }
    int n = 0;
    for (const Fault* fault : lessonFaults()) {
        if (!isSampled(n++)) continue;
        INFO(fault->id);
        const std::optional<FaultExample> example = exampleOf(*fault);
        REQUIRE(example);
        LessonSwatch swatch;
        swatch.ground = example->ground;
        swatch.stitches = 15;
        swatch.rows = static_cast<int>(example->script.rows.size());
        swatch.round = example->script.round;
        swatch.faults = {example->place};
        const Sampler sampler = samplerOf(swatch, Terms::us, false);
        REQUIRE_FALSE(sampler.mistake.empty());
        std::string all;
        for (const std::string& line : sampler.mistake) {
            all += line + "\n";
            CHECK(wordCount(line) <= 45);
        }
        INFO(all);
        CHECK(all.find(fmt::format("ow {}", example->place.row)) != std::string::npos);
        if (!fault->wholeRow) CHECK(all.find(ordinalWord(example->place.stitch)) != std::string::npos);
        CHECK(all.find("  ") == std::string::npos);
        CHECK_FALSE(sampler.abbreviations.empty());
    }
    CHECK(onPurpose("no_such_fault", Step{}).empty());
    Step purl;
    purl.op = Op::purl;
    CHECK(onPurpose("wrong_kp", Step{}) != onPurpose("wrong_kp", purl));
}

TEST_CASE("Yarn and needles in words", "[handout]") {
    LessonYarn yarn;
    yarn.tex = 500;  // 200 m to 100 g
    CHECK(yarnWords(yarn, Terms::us).find("worsted") != std::string::npos);
    CHECK(yarnWords(yarn, Terms::uk).find("aran") != std::string::npos);
    CHECK(yarnWords(yarn, Terms::us).find("200 m to 100 g") != std::string::npos);
    yarn.tex = 1;
    CHECK_FALSE(yarnWords(yarn, Terms::us).empty());
    // Common practice: 4.5 mm is a US 7.
    CHECK(needleWords(4.5, false, Terms::us) == "4.5 mm needles (US 7)");
    CHECK(needleWords(4.5, false, Terms::uk) == "4.5 mm needles");
}

TEST_CASE("What is lit stays lit in black and white", "[handout]") {
    // Weights of a copying machine's eye (ITU-R Recommendation BT.601).
    const auto grey = [](const Colour& c) { return 0.299 * c.r + 0.587 * c.g + 0.114 * c.b; };
    const double yarn = grey({0.97, 0.93, 0.86});
    std::vector<std::string> looks;
    for (const PageMarkKind kind : {PageMarkKind::next, PageMarkKind::through, PageMarkKind::mustGo,
                                    PageMarkKind::keep, PageMarkKind::look, PageMarkKind::evidence}) {
        PageMark mark;
        mark.kind = kind;
        mark.loops = {LoopId{3}};
        const std::vector<Highlight> lit = highlightsOf({mark});
        REQUIRE(lit.size() == 1);
        const Colour fill = blend(safeColour(lit[0].colour), {1, 1, 1}, 0.3);
        CHECK(std::abs(grey(fill) - yarn) > 0.15);
        CHECK_FALSE(keyOf({mark}).empty());
        looks.push_back(fmt::format("{} {}", static_cast<int>(lit[0].line), lit[0].letter));
    }
    // Those that may stand in one picture differ by their lines and letters alone.
    for (std::size_t i = 0; i < 4; ++i) {
        for (std::size_t k = 0; k < i; ++k) CHECK(looks[i] != looks[k]);
    }
    CHECK(keyOf({}).empty());
}

TEST_CASE("A page to take home goes on from where she stopped", "[demonstration]") {
    Demonstration d(ranDown());
    const std::size_t whole = d.pageToTakeHome().steps.back().pictures.size();
    d.goTo(3);
    const std::uint64_t version = d.version();
    const Handout page = d.pageToTakeHome();
    CHECK(d.at() == 3);
    CHECK(d.version() == version);
    CHECK(page.steps.front().heading == "Where we stopped");
    CHECK(page.steps.front().pictures.size() == 2);
    CHECK(page.steps.back().pictures.size() < whole);
    CHECK(page.steps.back().pictures.front().caption.find("1. ") == 0);
    d.turnOver();
    CHECK(textOf(d.pageToTakeHome()) != textOf(page));
    d.goTo(d.moves());
    CHECK(textOf(d.pageToTakeHome()).find("as it was meant") != std::string::npos);
}

TEST_CASE("Every question of the course is answered on paper, and no wrong piece is called right",
          "[handout]") {
    const std::vector<Lesson> all = wholeCourse().lessons();
    REQUIRE(all.size() >= 16);
    for (std::size_t i = 0; i < all.size(); ++i) {
        if (!isSampled(static_cast<int>(i))) continue;
        const std::vector<PlayedSwatch> swatches = played(all[i], Terms::us, i % 2 == 1);
        INFO(all[i].id);
        CHECK(swatches.size() == all[i].swatches.size());
        for (const PlayedSwatch& swatch : swatches) {
            for (const QuizQuestion& question : swatch.questions) {
                INFO(question.words);
                REQUIRE_FALSE(question.answer.empty());
                CHECK((question.choices.size() >= 2 || !question.places.empty()));
                CHECK(question.words.find("oint at") == std::string::npos);
                if (!swatch.wanted.faults.empty())
                    CHECK(question.answer.front().find("Nothing is wrong here") == std::string::npos);
            }
        }
    }
}
