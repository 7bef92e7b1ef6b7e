// SPDX-License-Identifier: MIT
#include "store/lesson_file.h"

#include <rapidcheck/catch.h>
#include <catch2/catch.hpp>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <random>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "course.h"
#include "scratch.h"

namespace loopmend {
namespace {

const char* const kLesson = R"({
  "format": "loopmend lesson",
  "version": 1,
  "id": "one-wrong-bump",
  "title": "One bump among the Vs",
  "about": "Let one column down.",
  "skills": ["drop-and-mend"],
  "needs": ["hook-up", "the-neck"],
  "swatches": [
    {
      "member": "Tilda",
      "thing": "border",
      "ground": "stockinette",
      "stitches": 18,
      "rows": 14,
      "round": false,
      "setup": {"habit": "western"},
      "yarn": {"tex": 330.5, "needle_mm": 5, "color": 2, "seed": 17},
      "faults": [{"id": "wrong_kp", "row": 10, "stitch": 7}],
      "after": "reading",
      "steps": [
        "look",
        {"step": "ask", "question": {"kind": "count", "of": "rows"}, "hints": ["Look.", "Count."]},
        {"step": "find", "words": "Somewhere."},
        "put-right"
      ],
      "repairs": ["column"],
      "last_are_hers": 0,
      "rows_on": 2
    }
  ]
}
)";

std::string changed(std::string text, const std::string& from, const std::string& to) {
    const std::size_t at = text.find(from);
    REQUIRE(at != std::string::npos);
    return text.replace(at, from.size(), to);
}

bool same(const StepPlan& a, const StepPlan& b) {
    return a.kind == b.kind && a.words == b.words && a.hints == b.hints && a.skill == b.skill &&
           a.question.kind == b.question.kind && a.question.of == b.question.of &&
           a.question.row == b.question.row && a.question.stitch == b.question.stitch;
}

bool same(const LessonSwatch& a, const LessonSwatch& b) {
    return a.pattern == b.pattern && a.ground == b.ground && a.stitches == b.stitches && a.rows == b.rows &&
           a.stitchesOfRow == b.stitchesOfRow && a.round == b.round && a.setup.castOn == b.setup.castOn &&
           a.setup.habit == b.setup.habit && a.setup.mirrored == b.setup.mirrored &&
           a.setup.loopUm == b.setup.loopUm && a.setup.strandUm == b.setup.strandUm &&
           a.yarn.tex == b.yarn.tex && a.yarn.needleMm == b.yarn.needleMm && a.yarn.seed == b.yarn.seed &&
           a.yarn.color == b.yarn.color && a.member == b.member && a.thing == b.thing &&
           a.faults == b.faults && a.after == b.after && a.repairs == b.repairs &&
           a.guidance.lastAreHers == b.guidance.lastAreHers && a.rowsOn == b.rowsOn &&
           std::equal(a.steps.begin(), a.steps.end(), b.steps.begin(), b.steps.end(),
                      [](const StepPlan& x, const StepPlan& y) { return same(x, y); });
}

bool same(const Lesson& a, const Lesson& b) {
    return a.id == b.id && a.title == b.title && a.about == b.about && a.skills == b.skills &&
           a.needs == b.needs &&
           std::equal(a.swatches.begin(), a.swatches.end(), b.swatches.begin(), b.swatches.end(),
                      [](const LessonSwatch& x, const LessonSwatch& y) { return same(x, y); });
}

/// Anything that text can hold: line ends, quotes, backslashes, letters beyond ASCII.
std::string anyText() {
    static const std::vector<std::string> kPieces = {"k2, p2", "\n", "\"", "\\", "\t",     " ",
                                                     "é",      "V",  "*",  "</", "\u2028", "Row 1: "};
    std::string text;
    for (int n = *rc::gen::inRange(0, 6); n > 0; --n) text += *rc::gen::elementOf(kPieces);
    return text;
}

std::vector<std::string> anyTexts() {
    std::vector<std::string> all;
    for (int n = *rc::gen::inRange(0, 3); n > 0; --n) all.push_back(anyText());
    return all;
}

StepPlan anyStep() {
    StepPlan s;
    s.kind = static_cast<StepKind>(*rc::gen::inRange(0, static_cast<int>(StepKind::inWool) + 1));
    if (*rc::gen::arbitrary<bool>()) return s;
    s.words = anyText();
    s.hints = anyTexts();
    s.skill = anyText();
    if (*rc::gen::arbitrary<bool>()) return s;
    s.question.kind =
        static_cast<QuestionKind>(*rc::gen::inRange(0, static_cast<int>(QuestionKind::written) + 1));
    s.question.of = anyText();
    s.question.row = *rc::gen::inRange(0, 401);
    s.question.stitch = *rc::gen::inRange(0, 401);
    return s;
}

LessonSwatch anySwatch() {
    LessonSwatch s;
    s.pattern = anyText();
    s.ground = static_cast<StockGround>(*rc::gen::inRange(0, kStockGrounds));
    s.stitches = *rc::gen::inRange(1, 401);
    s.rows = *rc::gen::inRange(0, 401);
    s.stitchesOfRow = *rc::gen::inRange(0, 401);
    s.round = *rc::gen::arbitrary<bool>();
    s.setup.castOn = *rc::gen::arbitrary<bool>() ? CastOn::longTail : CastOn::backward;
    s.setup.habit = *rc::gen::element(Habit::western, Habit::eastern, Habit::combination);
    s.setup.loopUm = *rc::gen::inRange(100, 1'000'001);
    s.setup.strandUm = *rc::gen::inRange(100, 1'000'001);
    s.yarn.tex = *rc::gen::inRange(100, 100'000) / 10.0;
    s.yarn.needleMm = 1 + *rc::gen::inRange(0, 29'000) / 1000.0;
    s.yarn.seed = *rc::gen::arbitrary<std::uint64_t>();
    s.yarn.color = static_cast<std::uint32_t>(*rc::gen::inRange(0, 64));
    s.member = anyText();
    s.thing = anyText();
    for (int n = *rc::gen::inRange(0, 3); n > 0; --n)
        s.faults.push_back({"f" + anyText(), *rc::gen::inRange(1, 401), *rc::gen::inRange(1, 401),
                            *rc::gen::inRange(0, 401)});
    s.after = *rc::gen::element(After::byCount, After::byReading, After::rowEnd);
    for (int n = *rc::gen::inRange(0, 4); n > 0; --n) s.steps.push_back(anyStep());
    for (const char* way : {"column", "tink", "rip"}) {
        if (*rc::gen::arbitrary<bool>()) s.repairs.push_back(way);
    }
    s.guidance.lastAreHers = *rc::gen::inRange(-1, 30);
    s.rowsOn = *rc::gen::inRange(0, 13);
    return s;
}

Lesson anyLesson() {
    Lesson lesson;
    lesson.id = *rc::gen::element<std::string>("a", "a-stitch-that-ran", "9-to-5");
    lesson.title = "T" + anyText();
    lesson.about = anyText();
    lesson.skills = anyTexts();
    lesson.needs = anyTexts();
    for (int n = *rc::gen::inRange(1, 4); n > 0; --n) lesson.swatches.push_back(anySwatch());
    return lesson;
}

std::vector<LessonProblem> problemsIn(const std::string& text) {
    const auto read = lessonFromText(text, "mine.json");
    return read ? std::vector<LessonProblem>{} : read.error().problems;
}

/// One way of breaking the lesson above, and what is said of it.
struct Broken {
    const char* what;
    const char* from;
    const char* to;
    const char* place;
    const char* says;
};

const Broken kBroken[] = {
    {"a comma is missing", "\"version\": 1,", "\"version\": 1", "line 4, column 3", "comma"},
    {"a quote is missing", "\"Somewhere.\"", "\"Somewhere.}", "line 24, column 49", "double quote"},
    {"a name without quotes", "\"rows\": 14", "rows: 14", "line 15, column 7", "name in double quotes"},
    {"a bracket too many", "\"after\": \"reading\"", "\"after\": [\"reading\"]]", "line 20, column 27",
     "comma"},
    {"a colon is missing", "\"stitches\": 18", "\"stitches\" 18", "line 14, column 18", "colon"},
    {"something after the end", "  ]\n}\n", "  ]\n}\n{}", "line 33, column 1", "after the last"},
    {"a bare line break in a text", "Somewhere.", "Some\nwhere.", "line 24, column 40", "line break"},
    {"a backslash that means nothing", "Somewhere.", "Some\\where.", "line 24, column 40", "backslash"},
    {"a number that breaks off", "330.5", "330.", "line 18, column 27", "breaks off"},
    {"no value begins like this", "\"rows\": 14", "\"rows\": fourteen", "line 15, column 16", "value"},
    {"another format", "loopmend lesson", "other lesson", "format", "not a lesson of Loopmend"},
    {"no format", "\"format\": \"loopmend lesson\",", "", "format", "not a lesson"},
    {"a newer version", "\"version\": 1", "\"version\": 2", "version", "newer"},
    {"a version in words", "\"version\": 1", "\"version\": \"one\"", "version", "whole number"},
    {"an unknown name", "\"title\"", "\"titel\"", "titel", "perhaps \"title\""},
    {"a title is missing", "\"title\": \"One bump among the Vs\",", "", "", "\"title\" is missing"},
    {"an empty title", "One bump among the Vs", "", "title", "empty"},
    {"an id with a blank", "one-wrong-bump", "one wrong bump", "id", "lower-case"},
    {"a text for a list", "[\"drop-and-mend\"]", "\"drop-and-mend\"", "skills", "list"},
    {"a number in a list of texts", "[\"hook-up\",", "[7,", "needs[0]", "text"},
    {"no swatch", "\"swatches\": [", "\"swatches\": [], \"x\": [", "swatches", "at least one"},
    {"an unknown name inside", "\"member\"", "\"membre\"", "swatches[0].membre", "member"},
    {"an unknown ground", "\"stockinette\"", "\"stokinette\"", "swatches[0].ground",
     "perhaps \"stockinette\""},
    {"no stitches", "\"stitches\": 18", "\"stitches\": 0", "swatches[0].stitches", "1 to 400"},
    {"half a row", "\"rows\": 14", "\"rows\": 14.5", "swatches[0].rows", "whole number"},
    {"a number in quotes", "\"rows\": 14", "\"rows\": \"14\"", "swatches[0].rows", "a text"},
    {"yes for true", "\"round\": false", "\"round\": \"no\"", "swatches[0].round", "true or false"},
    {"an unknown habit", "\"western\"", "\"wetsern\"", "swatches[0].setup.habit", "western"},
    {"yarn below nothing", "330.5", "-330.5", "swatches[0].yarn.tex", "10 to"},
    {"a seed below nothing", "\"seed\": 17", "\"seed\": -17", "swatches[0].yarn.seed", "whole number"},
    {"a fault without a row", "\"row\": 10, ", "", "swatches[0].faults[0]", "\"row\" is missing"},
    {"a fault's row is a text", "\"row\": 10", "\"row\": \"ten\"", "swatches[0].faults[0].row", "whole"},
    {"a fault that is a word", "{\"id\": \"wrong_kp\", \"row\": 10, \"stitch\": 7}", "\"wrong_kp\"",
     "swatches[0].faults[0]", "object"},
    {"an unknown way of going on", "\"reading\"", "\"raeding\"", "swatches[0].after", "reading"},
    {"an unknown step", "\"put-right\"", "\"putright\"", "swatches[0].steps[3]", "perhaps \"put-right\""},
    {"a step that is a number", "\"put-right\"", "7", "swatches[0].steps[3]", "object"},
    {"a step without its kind", "\"step\": \"find\", ", "", "swatches[0].steps[2]", "\"step\" is missing"},
    {"an unknown question", "\"kind\": \"count\"", "\"kind\": \"cuont\"",
     "swatches[0].steps[1].question.kind", "count"},
    {"hints that are no list", "[\"Look.\", \"Count.\"]", "\"Look.\"", "swatches[0].steps[1].hints", "list"},
    {"an unknown repair", "[\"column\"]", "[\"colunm\"]", "swatches[0].repairs[0]", "perhaps \"column\""},
    {"more hers than moves there are", "\"last_are_hers\": 0", "\"last_are_hers\": -5",
     "swatches[0].last_are_hers", "0 to"},
    {"a name told twice", "\"rows_on\": 2", "\"rows_on\": 2, \"rows\": 3", "swatches[0].rows", "twice"},
    {"null is no text", "\"border\"", "null", "swatches[0].thing", "null"},
};

TEST_CASE("what is left out has its usual value") {
    const auto read = lessonFromText(
        R"({"format": "loopmend lesson", "version": 1, "id": "a", "title": "A", "swatches": [{}]})", "a");
    REQUIRE(read);
    Lesson usual;
    usual.id = "a";
    usual.title = "A";
    usual.swatches.emplace_back();
    CHECK(same(*read, usual));
}

TEST_CASE("a lesson is read as it was written by hand") {
    const auto read = lessonFromText(kLesson, "mine.json");
    REQUIRE(read);
    REQUIRE(read->swatches.size() == 1);
    const LessonSwatch& s = read->first();
    CHECK(read->needs == std::vector<std::string>{"hook-up", "the-neck"});
    CHECK(s.yarn.tex == 330.5);
    CHECK(s.yarn.seed == 17);
    REQUIRE(s.faults.size() == 1);
    CHECK(text(s.faults[0]) == "wrong_kp@10,7");
    REQUIRE(s.steps.size() == 4);
    CHECK(s.steps[0].kind == StepKind::look);
    CHECK(s.steps[1].question.kind == QuestionKind::count);
    CHECK(s.steps[1].question.of == "rows");
    CHECK(s.steps[1].hints.size() == 2);
    CHECK(s.steps[2].words == "Somewhere.");
    CHECK(s.guidance.lastAreHers == 0);
    // A pattern may be one text or a list of its lines.
    const std::string lines = changed(kLesson, "\"ground\": \"stockinette\"", R"("pattern": ["a", "b"])");
    CHECK(lessonFromText(lines, "x")->first().pattern == "a\nb");
    const std::string one = changed(kLesson, "\"ground\": \"stockinette\"", R"("pattern": "a\nb")");
    CHECK(lessonFromText(one, "x")->first().pattern == "a\nb");
    // Some editors put a mark before the first letter.
    CHECK(lessonFromText(std::string("\xEF\xBB\xBF") + kLesson, "x"));
}

TEST_CASE("any lesson is read back as it was written") {
    rc::prop("lesson, text, lesson", [] {
        const Lesson lesson = anyLesson();
        const std::string text = lessonText(lesson);
        const auto read = lessonFromText(text, "any");
        if (!read) RC_FAIL(read.error().words() + "\n" + text);
        RC_ASSERT(same(*read, lesson));
        RC_ASSERT(lessonText(*read) == text);
    });
}

TEST_CASE("a broken lesson says what is wrong and where") {
    REQUIRE(problemsIn(kLesson).empty());
    CHECK(std::size(kBroken) >= 30);
    for (const Broken& broken : kBroken) {
        INFO(broken.what);
        const auto problems = problemsIn(changed(kLesson, broken.from, broken.to));
        REQUIRE_FALSE(problems.empty());
        const bool told = std::any_of(problems.begin(), problems.end(), [&](const LessonProblem& p) {
            return p.place == broken.place && p.words.find(broken.says) != std::string::npos;
        });
        for (const LessonProblem& p : problems) UNSCOPED_INFO(p.place << " | " << p.words);
        CHECK(told);
        for (const LessonProblem& p : problems) {
            CHECK_FALSE(p.words.empty());
            CHECK(p.words.back() != '.');
        }
    }
}

TEST_CASE("all problems are told at once, in sentences that name the file") {
    std::string text = kLesson;
    for (const Broken& broken : kBroken) {
        const std::string where = broken.place;
        if (broken.what == std::string("half a row")) continue;  // the same place is broken otherwise
        if (where.compare(0, 11, "swatches[0]") == 0 && text.find(broken.from) != std::string::npos)
            text = changed(text, broken.from, broken.to);
    }
    const auto read = lessonFromText(text, "mine.json");
    REQUIRE_FALSE(read);
    INFO(read.error().words());
    CHECK(read.error().problems.size() > 10);
    const std::string words = read.error().words();
    CHECK(words.find("mine.json, swatches[0].faults[0]: ") != std::string::npos);
    CHECK(static_cast<std::size_t>(std::count(words.begin(), words.end(), '\n')) + 1 ==
          read.error().problems.size());
}

TEST_CASE("what is no lesson at all is refused") {
    const std::string deep(100'000, '[');
    for (const std::string& text :
         {std::string(), std::string(" \n"), std::string("[]"), std::string("7"), std::string("null"),
          std::string("\"loopmend lesson\""), deep, std::string("\xFF\xFE{}"), std::string("PNG\r\n\x1a"),
          std::string("{\"format\": \"loopmend lesson\", \"version\": 1, \"a\\u0000b\": 1}"),
          std::string("{\"format\": \"loopmend lesson\", \"version\": 1e400}"), std::string("{\0}", 3),
          std::string("{\"format\": [\"loopmend lesson\"], \"version\": 1}")}) {
        INFO(text.substr(0, 60));
        const auto read = lessonFromText(text, "it");
        REQUIRE_FALSE(read);
        CHECK(read.error().problems.size() == 1);
        CHECK_FALSE(read.error().words().empty());
    }
    // Nothing of a newer lesson is told but that it is newer.
    const std::string newer = changed(changed(kLesson, "\"version\": 1", "\"version\": 7"), "title", "titel");
    CHECK(problemsIn(newer).size() == 1);
}

TEST_CASE("files are read and written whole, and a refused one is kept") {
    const Scratch scratch;
    MachineDisk disk;
    const Lesson lesson = *lessonFromText(kLesson, "mine");
    const std::string path = scratch.path("mine.json");
    REQUIRE(writeLesson(disk, path, lesson));
    CHECK(scratch.names() == std::vector<std::string>{"mine.json"});
    const auto read = readLesson(disk, path);
    REQUIRE(read);
    CHECK(same(*read, lesson));

    const std::string newer = changed(kLesson, "\"version\": 1", "\"version\": 99");
    REQUIRE(writeFile(disk, path, newer));
    const auto refused = readLesson(disk, path);
    REQUIRE_FALSE(refused);
    CHECK(refused.error().words().find(path) != std::string::npos);
    CHECK(*readFile(disk, path) == newer);

    const auto missing = readLesson(disk, scratch.path("none.json"));
    REQUIRE_FALSE(missing);
    CHECK(missing.error().words().find("no such file") != std::string::npos);
    CHECK_FALSE(readLesson(disk, scratch.folder()));
}

TEST_CASE("a course names its lessons by units, and tells which cannot be read") {
    const Scratch scratch;
    MachineDisk disk;
    const auto put = [&](const std::string& name, const std::string& text) {
        REQUIRE(writeFile(disk, scratch.path(name), text));
    };
    const auto named = [](const std::string& id) { return changed(kLesson, "one-wrong-bump", id); };
    const auto courseOf = [](const std::string& units) {
        return R"({"format": "loopmend course", "version": 1, "title": "Circle", "units": )" + units + "}";
    };
    put("a.json", named("a"));
    put("b.json", named("b"));
    put("other.json", named("c"));
    put("broken.json", changed(named("broken"), "\"rows\": 14", "\"rows\": -1"));
    put("course.json", courseOf(R"([{"title": "One", "about": "First.", "lessons": ["a", "none", "broken"]},
                                    {"title": "Two", "lessons": ["b", "a", "other"]}])"));
    const auto read = readCourse(disk, scratch.folder());
    REQUIRE(read);
    CHECK(read->course.title == "Circle");
    REQUIRE(read->course.units.size() == 2);
    CHECK(read->course.units[0].about == "First.");
    std::vector<std::string> ids;
    for (const Lesson& lesson : read->course.lessons()) ids.push_back(lesson.id);
    CHECK(ids == std::vector<std::string>{"a", "b"});
    REQUIRE(read->course.find("b") != nullptr);
    CHECK(read->course.find("none") == nullptr);
    std::vector<std::string> told;
    for (const LessonFileError& error : read->problems) told.push_back(error.words());
    REQUIRE(told.size() == 4);
    CHECK(told[0].find("none.json") != std::string::npos);
    CHECK(told[1].find("broken.json, swatches[0].rows") != std::string::npos);
    CHECK(told[2].find("units[1].lessons[1]") != std::string::npos);
    CHECK(told[2].find("twice") != std::string::npos);
    CHECK(told[3].find("other.json, id: must be other") != std::string::npos);

    struct Wrong {
        std::string text;
        const char* place;
    };
    for (const Wrong& wrong :
         {Wrong{"{", "line 1, column 2"}, Wrong{kLesson, "format"}, Wrong{courseOf("3"), "units"},
          Wrong{courseOf("[{}]"), "units[0]"},
          Wrong{courseOf(R"([{"title": "x", "lessons": ["../secret"]}])"), "units[0].lessons[0]"},
          Wrong{courseOf(R"([{"title": "x", "lesons": []}])"), "units[0].lesons"}}) {
        put("course.json", wrong.text);
        const auto refused = readCourse(disk, scratch.folder());
        REQUIRE_FALSE(refused);
        INFO(refused.error().words());
        CHECK(refused.error().problems.front().place == wrong.place);
    }
    std::filesystem::remove(scratch.path("course.json"));
    CHECK_FALSE(readCourse(disk, scratch.folder()));
}

TEST_CASE("whatever befalls the bytes of a lesson, it is read or refused with a sentence") {
    const Course course = wholeCourse();
    std::vector<std::string> texts{kLesson};
    MachineDisk disk;
    for (const Lesson& lesson : course.lessons())
        texts.push_back(*readFile(disk, courseFolder() + "/" + lesson.id + ".json"));
    std::mt19937 dice(20);
    const auto below = [&](std::size_t n) { return static_cast<std::size_t>(dice() % n); };
    constexpr int kCases = 4000;
    int refused = 0;
    for (int i = 0; i < kCases; ++i) {
        std::string text = texts[below(texts.size())];
        for (std::size_t n = 1 + below(4); n > 0 && !text.empty(); --n) {
            const std::size_t at = below(text.size());
            static const std::string kLikely = "{}[]\",:\\0123456789-.eE nulltrue\n\xC3";
            switch (below(6)) {
                case 0: text[at] = static_cast<char>(dice() & 0xFFU); break;
                case 1: text[at] = kLikely[below(kLikely.size())]; break;
                case 2: text.erase(at, 1 + below(20)); break;
                case 3: text.insert(at, 1 + below(3), kLikely[below(kLikely.size())]); break;
                case 4: text.insert(at, text.substr(below(text.size()), below(60))); break;
                default: text.resize(at + 1); break;
            }
        }
        const auto read = lessonFromText(text, "it");
        if (read) {
            // What is read can be written, and comes back.
            const auto again = lessonFromText(lessonText(*read), "it");
            REQUIRE(again);
            REQUIRE(same(*again, *read));
            continue;
        }
        ++refused;
        REQUIRE_FALSE(read.error().problems.empty());
        for (const LessonProblem& p : read.error().problems) {
            REQUIRE_FALSE(p.words.empty());
            REQUIRE(p.words.size() < 800);
        }
    }
    CHECK(refused > kCases / 2);
    CHECK(refused < kCases);
}

}  // namespace
}  // namespace loopmend
