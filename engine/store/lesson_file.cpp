// SPDX-License-Identifier: MIT
#include "store/lesson_file.h"

#include <algorithm>
#include <array>
#include <optional>
#include <utility>

#include <fmt/format.h>

#include "repair/plan.h"
#include "store/lesson_file_json.h"
#include "store/lines.h"

namespace loopmend {

namespace {

constexpr std::string_view kLessonFormat = "loopmend lesson";
constexpr std::string_view kCourseFormat = "loopmend course";

/// No lesson comes near these: they keep a slip of the keyboard from knitting for hours.
constexpr int kMostStitchesWide = 400;
constexpr int kMostRows = 400;
constexpr int kMostRowsOn = 12;
constexpr double kLeastTex = 10;
constexpr double kMostTex = 10000;
constexpr double kLeastNeedleMm = 1;
constexpr double kMostNeedleMm = 30;
constexpr int kLeastYarnUm = 100;
constexpr int kMostYarnUm = 1'000'000;
constexpr int kMostColors = 64;
/// A lesson is a few kilobytes.
constexpr std::size_t kMostLessonBytes = std::size_t{4} << 20;

/// Of plans; to leave it, or to wash it, is no mending by hand.
std::vector<std::string_view> wayWords() {
    std::vector<std::string_view> words;
    for (int i = 0; i < kPlanFamilies; ++i) {
        const auto family = static_cast<PlanFamily>(i);
        if (family != PlanFamily::leave && family != PlanFamily::wash) words.push_back(nameOf(family));
    }
    return words;
}

template <class Kind, int n>
std::vector<std::string_view> namesOf() {
    std::vector<std::string_view> names;
    names.reserve(n);
    for (int i = 0; i < n; ++i) names.push_back(name(static_cast<Kind>(i)));
    return names;
}

std::vector<std::string_view> stepWords() {
    return namesOf<StepKind, static_cast<int>(StepKind::inWool) + 1>();
}

std::vector<std::string_view> castOnWords() {
    std::vector<std::string_view> words;
    words.reserve(kCastOns.size());
    for (const CastOn castOn : kCastOns) words.push_back(wordOf(castOn));
    return words;
}

std::vector<std::string_view> habitWords() {
    return {wordOf(Habit::western), wordOf(Habit::eastern), wordOf(Habit::combination)};
}

bool isId(std::string_view id) {
    if (id.empty() || id.front() == '-' || id.back() == '-') return false;
    return std::all_of(id.begin(), id.end(),
                       [](char c) { return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '-'; });
}

/// What is wrong with the head of a file; none: it is one of ours, in a version that can be read.
std::optional<LessonProblem> headProblem(JsonReader& reader, std::string_view format,
                                         std::string_view called) {
    const std::optional<std::string> is = reader.textOf("format");
    if (!is || *is != format) {
        return LessonProblem{
            "format", fmt::format("this is not {} of Loopmend; one says \"format\": \"{}\"", called, format)};
    }
    const std::optional<std::int64_t> version = reader.numberOf("version");
    if (!version || *version < 1)
        return LessonProblem{
            "version", fmt::format("must be a whole number; this Loopmend writes {}", kLessonFileVersion)};
    if (*version > kLessonFileVersion) {
        return LessonProblem{"version",
                             fmt::format("a newer Loopmend wrote it (version {}, this one reads up to {}); "
                                         "use that one",
                                         *version, kLessonFileVersion)};
    }
    return std::nullopt;
}

/// Takes a lesson or a course out of its JSON, value by value.
class Taker {
  public:
    explicit Taker(JsonReader& reader) : r_(reader) {}

    Lesson lesson() {
        Lesson lesson;
        r_.document({head("format"),
                     head("version"),
                     {"id", [&] { id(lesson.id); }, true},
                     {"title", [&] { filled(lesson.title); }, true},
                     {"about", [&] { r_.text(lesson.about); }},
                     {"skills", [&] { texts(lesson.skills); }},
                     {"needs", [&] { texts(lesson.needs); }},
                     {"swatches", [&] { swatches(lesson.swatches); }, true}});
        return lesson;
    }

    /// The lessons of each unit by their ids.
    std::vector<std::vector<std::string>> course(Course& course) {
        std::vector<std::vector<std::string>> ids;
        const auto unit = [&] {
            Course::Unit u;
            std::vector<std::string> lessons;
            r_.object({{"title", [&] { filled(u.title); }, true},
                       {"about", [&] { r_.text(u.about); }},
                       {"lessons",
                        [&] {
                            r_.list([&](std::size_t) {
                                lessons.emplace_back();
                                id(lessons.back());
                            });
                        },
                        true}});
            course.units.push_back(std::move(u));
            ids.push_back(std::move(lessons));
        };
        r_.document({head("format"),
                     head("version"),
                     {"title", [&] { filled(course.title); }, true},
                     {"units", [&] { r_.list([&](std::size_t) { unit(); }); }, true}});
        return ids;
    }

  private:
    JsonReader::Member head(std::string_view name) {
        return {name, [this] {
                    std::string ignored;
                    std::uint64_t number = 0;
                    if (!r_.textHere(ignored)) r_.whole(number);
                }};
    }

    void id(std::string& id) {
        const std::size_t before = r_.problems().size();
        r_.text(id);
        if (r_.problems().size() == before && !isId(id))
            r_.problem("must be lower-case words, digits and hyphens, as a-stitch-that-ran");
    }

    void filled(std::string& text) {
        const std::size_t before = r_.problems().size();
        r_.text(text);
        if (r_.problems().size() == before && text.empty()) r_.problem("must not be empty");
    }

    void texts(std::vector<std::string>& all) {
        r_.list([&](std::size_t) {
            all.emplace_back();
            r_.text(all.back());
        });
    }

    void swatches(std::vector<LessonSwatch>& all) {
        const std::size_t before = r_.problems().size();
        r_.list([&](std::size_t) {
            all.emplace_back();
            swatch(all.back());
        });
        if (all.empty() && r_.problems().size() == before) r_.problem("a lesson has at least one swatch");
    }

    void swatch(LessonSwatch& s) {
        r_.object({{"member", [&] { r_.text(s.member); }},
                   {"thing", [&] { r_.text(s.thing); }},
                   {"pattern", [&] { pattern(s.pattern); }},
                   {"ground",
                    [&] {
                        const auto i = r_.oneOf(namesOf<StockGround, kStockGrounds>());
                        if (i) s.ground = static_cast<StockGround>(*i);
                    }},
                   {"round", [&] { r_.flag(s.round); }},
                   {"stitches", [&] { r_.whole(s.stitches, 1, kMostStitchesWide); }},
                   {"rows", [&] { r_.whole(s.rows, 0, kMostRows); }},
                   {"stitches_of_row", [&] { r_.whole(s.stitchesOfRow, 0, kMostStitchesWide); }},
                   {"setup", [&] { setup(s.setup); }},
                   {"yarn", [&] { yarn(s.yarn); }},
                   {"faults", [&] { r_.list([&](std::size_t) { fault(s.faults); }); }},
                   {"after",
                    [&] {
                        const auto i = r_.oneOf(namesOf<After, 3>());
                        if (i) s.after = static_cast<After>(*i);
                    }},
                   {"steps", [&] { r_.list([&](std::size_t) { step(s.steps); }); }},
                   {"repairs",
                    [&] {
                        r_.list([&](std::size_t) {
                            const std::vector<std::string_view> ways = wayWords();
                            if (const auto i = r_.oneOf(ways)) s.repairs.emplace_back(ways[*i]);
                        });
                    }},
                   {"last_are_hers", [&] { r_.whole(s.guidance.lastAreHers, 0, kMostRows); }},
                   {"rows_on", [&] { r_.whole(s.rowsOn, 0, kMostRowsOn); }}});
    }

    /// One text, or its lines.
    void pattern(std::string& pattern) {
        if (r_.textHere(pattern)) return;
        r_.list([&](std::size_t i) {
            std::string line;
            r_.text(line);
            pattern += (i == 0 ? "" : "\n") + line;
        });
    }

    void setup(Setup& s) {
        r_.object({{"cast_on",
                    [&] {
                        const auto i = r_.oneOf(castOnWords());
                        if (i) s.castOn = kCastOns[*i];
                    }},
                   {"habit",
                    [&] {
                        const auto i = r_.oneOf(habitWords());
                        if (i) s.habit = *habitFrom(habitWords()[*i]);
                    }},
                   {"loop_um", [&] { r_.whole(s.loopUm, kLeastYarnUm, kMostYarnUm); }},
                   {"strand_um", [&] { r_.whole(s.strandUm, kLeastYarnUm, kMostYarnUm); }}});
    }

    void yarn(LessonYarn& y) {
        int color = static_cast<int>(y.color);
        r_.object({{"tex", [&] { r_.number(y.tex, kLeastTex, kMostTex); }},
                   {"needle_mm", [&] { r_.number(y.needleMm, kLeastNeedleMm, kMostNeedleMm); }},
                   {"seed", [&] { r_.whole(y.seed); }},
                   {"color", [&] { r_.whole(color, 0, kMostColors - 1); }}});
        y.color = static_cast<std::uint32_t>(color);
    }

    void fault(std::vector<FaultPlace>& all) {
        all.emplace_back();
        FaultPlace& f = all.back();
        r_.object({{"id", [&] { filled(f.id); }, true},
                   {"row", [&] { r_.whole(f.row, 1, kMostRows); }, true},
                   {"stitch", [&] { r_.whole(f.stitch, 1, kMostStitchesWide); }, true},
                   {"rows", [&] { r_.whole(f.rows, 0, kMostRows); }}});
    }

    void step(std::vector<StepPlan>& all) {
        all.emplace_back();
        StepPlan& s = all.back();
        std::string word;
        if (r_.textHere(word)) {
            if (const auto i = r_.among(word, stepWords())) s.kind = static_cast<StepKind>(*i);
            return;
        }
        r_.object({{"step",
                    [&] {
                        if (const auto i = r_.oneOf(stepWords())) s.kind = static_cast<StepKind>(*i);
                    },
                    true},
                   {"words", [&] { r_.text(s.words); }},
                   {"hints", [&] { texts(s.hints); }},
                   {"question", [&] { question(s.question); }},
                   {"skill", [&] { r_.text(s.skill); }}});
    }

    void question(QuestionWanted& q) {
        r_.object({{"kind",
                    [&] {
                        const auto i =
                            r_.oneOf(namesOf<QuestionKind, static_cast<int>(QuestionKind::written) + 1>());
                        if (i) q.kind = static_cast<QuestionKind>(*i);
                    },
                    true},
                   {"of", [&] { r_.text(q.of); }},
                   {"row", [&] { r_.whole(q.row, 0, kMostRows); }},
                   {"stitch", [&] { r_.whole(q.stitch, 0, kMostStitchesWide); }}});
    }

    JsonReader& r_;
};

// ---- writing

void writeTexts(JsonWriter& w, const char* name, const std::vector<std::string>& texts) {
    if (texts.empty()) return;
    w.beginList(name);
    for (const std::string& text : texts) w.item(text);
    w.end();
}

void writeText(JsonWriter& w, const char* name, std::string_view text) {
    if (!text.empty()) w.text(name, std::string(text));
}

void writeWhole(JsonWriter& w, const char* name, int value, int usual) {
    if (value != usual) w.whole(name, std::int64_t{value});
}

void writePattern(JsonWriter& w, const std::string& pattern) {
    if (pattern.find('\n') == std::string::npos) {
        writeText(w, "pattern", pattern);
        return;
    }
    std::vector<std::string> lines(1);
    for (const char c : pattern) {
        if (c == '\n')
            lines.emplace_back();
        else
            lines.back() += c;
    }
    writeTexts(w, "pattern", lines);
}

void writeSetup(JsonWriter& w, const Setup& setup) {
    const Setup usual;
    const bool isUsual = setup.castOn == usual.castOn && setup.habit == usual.habit &&
                         setup.loopUm == usual.loopUm && setup.strandUm == usual.strandUm;
    if (isUsual) return;
    w.beginObject("setup");
    if (setup.castOn != usual.castOn) w.text("cast_on", std::string(wordOf(setup.castOn)));
    if (setup.habit != usual.habit) w.text("habit", std::string(wordOf(setup.habit)));
    writeWhole(w, "loop_um", setup.loopUm, usual.loopUm);
    writeWhole(w, "strand_um", setup.strandUm, usual.strandUm);
    w.end();
}

void writeYarn(JsonWriter& w, const LessonYarn& yarn) {
    const LessonYarn usual;
    if (yarn.tex == usual.tex && yarn.needleMm == usual.needleMm && yarn.seed == usual.seed &&
        yarn.color == usual.color)
        return;
    w.beginObject("yarn");
    if (yarn.tex != usual.tex) w.number("tex", yarn.tex);
    if (yarn.needleMm != usual.needleMm) w.number("needle_mm", yarn.needleMm);
    if (yarn.color != usual.color) w.whole("color", std::uint64_t{yarn.color});
    if (yarn.seed != usual.seed) w.whole("seed", yarn.seed);
    w.end();
}

void writeStep(JsonWriter& w, const StepPlan& step) {
    const QuestionWanted usual;
    const QuestionWanted& q = step.question;
    const bool asks =
        q.kind != usual.kind || !q.of.empty() || q.row != 0 || q.stitch != 0 || step.kind == StepKind::ask;
    if (step.words.empty() && step.hints.empty() && step.skill.empty() && !asks) {
        w.item(std::string(name(step.kind)));
        return;
    }
    w.beginObject();
    w.text("step", std::string(name(step.kind)));
    if (asks) {
        w.beginObject("question");
        w.text("kind", std::string(name(q.kind)));
        writeText(w, "of", q.of);
        writeWhole(w, "row", q.row, 0);
        writeWhole(w, "stitch", q.stitch, 0);
        w.end();
    }
    writeText(w, "words", step.words);
    writeTexts(w, "hints", step.hints);
    writeText(w, "skill", step.skill);
    w.end();
}

void writeSwatch(JsonWriter& w, const LessonSwatch& s) {
    const LessonSwatch usual;
    w.beginObject();
    writeText(w, "member", s.member);
    writeText(w, "thing", s.thing);
    writePattern(w, s.pattern);
    if (s.ground != usual.ground) w.text("ground", std::string(name(s.ground)));
    if (s.round) w.flag("round", true);
    w.whole("stitches", std::int64_t{s.stitches});
    w.whole("rows", std::int64_t{s.rows});
    writeWhole(w, "stitches_of_row", s.stitchesOfRow, usual.stitchesOfRow);
    writeSetup(w, s.setup);
    writeYarn(w, s.yarn);
    if (!s.faults.empty()) {
        w.beginList("faults");
        for (const FaultPlace& fault : s.faults) {
            w.beginObject();
            w.text("id", fault.id);
            w.whole("row", std::int64_t{fault.row});
            w.whole("stitch", std::int64_t{fault.stitch});
            writeWhole(w, "rows", fault.rows, 0);
            w.end();
        }
        w.end();
    }
    if (s.after != usual.after) w.text("after", std::string(name(s.after)));
    if (!s.steps.empty()) {
        w.beginList("steps");
        for (const StepPlan& step : s.steps) writeStep(w, step);
        w.end();
    }
    writeTexts(w, "repairs", s.repairs);
    writeWhole(w, "last_are_hers", s.guidance.lastAreHers, usual.guidance.lastAreHers);
    writeWhole(w, "rows_on", s.rowsOn, usual.rowsOn);
    w.end();
}

LessonFileError errorOf(const std::string& file, LessonProblem problem) {
    LessonFileError error;
    error.file = file;
    error.problems.push_back(std::move(problem));
    return error;
}

std::string besideIn(const std::string& folder, std::string_view name) {
    if (folder.empty()) return std::string(name);
    return fmt::format("{}{}{}", folder, folder.back() == '/' ? "" : "/", name);
}

}  // namespace

std::string LessonFileError::words() const {
    std::string all;
    for (const LessonProblem& p : problems) {
        if (!all.empty()) all += '\n';
        all += p.place.empty() ? fmt::format("{}: {}.", file, p.words)
                               : fmt::format("{}, {}: {}.", file, p.place, p.words);
    }
    return all;
}

tl::expected<Lesson, LessonFileError> lessonFromText(std::string_view text, const std::string& name) {
    auto reader = JsonReader::from(text);
    if (!reader) return tl::unexpected<LessonFileError>(errorOf(name, reader.error()));
    if (auto problem = headProblem(*reader, kLessonFormat, "a lesson"))
        return tl::unexpected<LessonFileError>(errorOf(name, std::move(*problem)));
    Lesson lesson = Taker(*reader).lesson();
    if (!reader->problems().empty())
        return tl::unexpected<LessonFileError>(LessonFileError{name, reader->problems()});
    return lesson;
}

std::string lessonText(const Lesson& lesson) {
    JsonWriter w;
    w.text("format", std::string(kLessonFormat));
    w.whole("version", std::int64_t{kLessonFileVersion});
    w.text("id", lesson.id);
    w.text("title", lesson.title);
    writeText(w, "about", lesson.about);
    writeTexts(w, "skills", lesson.skills);
    writeTexts(w, "needs", lesson.needs);
    w.beginList("swatches");
    for (const LessonSwatch& swatch : lesson.swatches) writeSwatch(w, swatch);
    w.end();
    return w.finish();
}

tl::expected<Lesson, LessonFileError> readLesson(Disk& disk, const std::string& path) {
    const auto text = readFile(disk, path, kMostLessonBytes);
    if (!text) return tl::unexpected<LessonFileError>(errorOf(path, {"", text.error().message}));
    return lessonFromText(*text, path);
}

tl::expected<void, FileError> writeLesson(Disk& disk, const std::string& path, const Lesson& lesson) {
    return writeFile(disk, path, lessonText(lesson));
}

std::vector<Lesson> Course::lessons() const {
    std::vector<Lesson> all;
    for (const Unit& unit : units) all.insert(all.end(), unit.lessons.begin(), unit.lessons.end());
    return all;
}

const Lesson* Course::find(std::string_view id) const {
    for (const Unit& unit : units) {
        for (const Lesson& lesson : unit.lessons) {
            if (lesson.id == id) return &lesson;
        }
    }
    return nullptr;
}

tl::expected<CourseRead, LessonFileError> readCourse(Disk& disk, const std::string& folder) {
    const std::string path = besideIn(folder, "course.json");
    const auto text = readFile(disk, path, kMostLessonBytes);
    if (!text) return tl::unexpected<LessonFileError>(errorOf(path, {"", text.error().message}));
    auto reader = JsonReader::from(*text);
    if (!reader) return tl::unexpected<LessonFileError>(errorOf(path, reader.error()));
    if (auto problem = headProblem(*reader, kCourseFormat, "a course"))
        return tl::unexpected<LessonFileError>(errorOf(path, std::move(*problem)));
    CourseRead read;
    const std::vector<std::vector<std::string>> ids = Taker(*reader).course(read.course);
    if (!reader->problems().empty())
        return tl::unexpected<LessonFileError>(LessonFileError{path, reader->problems()});

    std::vector<std::string_view> seen;
    for (std::size_t u = 0; u < ids.size(); ++u) {
        for (std::size_t i = 0; i < ids[u].size(); ++i) {
            const std::string& id = ids[u][i];
            const std::string place = fmt::format("units[{}].lessons[{}]", u, i);
            if (std::find(seen.begin(), seen.end(), id) != seen.end()) {
                read.problems.push_back(errorOf(path, {place, fmt::format("{} is in the course twice", id)}));
                continue;
            }
            seen.push_back(id);
            const std::string file = besideIn(folder, id + ".json");
            auto lesson = readLesson(disk, file);
            if (lesson && lesson->id != id) {
                lesson = tl::unexpected<LessonFileError>(errorOf(
                    file,
                    {"id", fmt::format("must be {}, as the file is called, and is {}", id, lesson->id)}));
            }
            if (lesson)
                read.course.units[u].lessons.push_back(std::move(*lesson));
            else
                read.problems.push_back(std::move(lesson.error()));
        }
    }
    return read;
}

}  // namespace loopmend
