// SPDX-License-Identifier: MIT
//
// Exercises drawn from a seed: a cloth, a mistake in it, and pages, thrown again until all of it fits.
#include <algorithm>
#include <cstddef>
#include <cstdlib>
#include <optional>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "diagnosis/explain.h"
#include "fabric/itinerary.h"
#include "fault/catalogue.h"
#include "fault/draw.h"
#include "fault/knit_with.h"
#include "reading/notice.h"
#include "reading/read.h"
#include "reading/symptoms.h"
#include "tutor/lesson_check_play.h"
#include "tutor/practice.h"
#include "tutor/practice_cloth.h"
#include "tutor/practice_level.h"
#include "tutor/practice_skills.h"
#include "tutor/skills.h"

namespace loopmend {

namespace {

/// Cloths thrown, and mistakes looked at closely, before a seed is given up.
constexpr int kMostThrows = 2500;
constexpr int kMostTried = 250;
constexpr int kMostCloths = 60;
constexpr int kClearOfEdges = 1;
constexpr int kQuestions = 3;
constexpr int kNearStitches = 12;

/// Different for each skill and level, so that seed 1 is not the same cloth everywhere.
std::uint64_t diceOf(const ExerciseWanted& wanted) {
    return hashOf(fmt::format("{} {} {}", wanted.skill, wanted.level, wanted.seed));
}

bool anyLoose(const Fabric& fabric) {
    return !readFrom(fabric, Side::right).loose.empty();
}

std::vector<int> countsOf(const Fabric& fabric) {
    std::vector<int> counts;
    for (const ReadRow& row : readFrom(fabric, Side::right).rows) counts.push_back(row.stitches);
    return counts;
}

/// Whether the mistake does what exercises of the skill need.
bool fits(MistakeMust must, const FaultyKnitting& knitting, const FaultPlace& place) {
    const Fabric& meant = *knitting.meant.fabric;
    const Fabric& actual = *knitting.actual.fabric;
    switch (must) {
        case MistakeMust::anything: return true;
        case MistakeMust::moveTheCount: return countsOf(meant) != countsOf(actual);
        case MistakeMust::keepTheCount: return !anyLoose(actual) && countsOf(meant) == countsOf(actual);
        case MistakeMust::beOneOut:
            return !anyLoose(actual) && std::abs(countsOf(meant).back() - countsOf(actual).back()) == 1;
        case MistakeMust::showLater: {
            const auto notice = firstNoticeable(meant, actual);
            return notice && notice->row > place.row && !anyLoose(actual);
        }
        case MistakeMust::showBehind: {
            const Side facing = knitting.actual.knitter.facing();
            const auto eyeCaught = [&](Side side) {
                const auto of = [&](const Fabric& f) { return symptoms(f, readFrom(f, side)).size(); };
                return of(meant) != of(actual);
            };
            return !eyeCaught(facing) && eyeCaught(facing == Side::right ? Side::wrong : Side::right);
        }
    }
    return false;
}

/// One explanation, or several that make the very same cloth, the mistake put in among them: the diagnosis
/// gives no others. It must not have happened at any of several stitches.
bool explained(const LessonSwatch& swatch, const Script& script, const FaultPlace& place,
               const Fabric& actual) {
    const Explanations story = explain(script, swatch.setup, actual);
    if (story.nothingWrong || !story.unknown.empty()) return false;
    for (const Explanation& e : story.explanations) {
        for (const FoundFault& f : e.faults) {
            if (f.id == place.id && f.row == place.row && f.stitch == place.stitch)
                return f.stitchTo == f.stitch;
        }
    }
    return false;
}

/// How much there is to be read, 1 to 5: how many kinds of stitches the side that faces her shows.
int busyness(const Fabric& fabric, Side facing) {
    std::set<std::string> codes;
    for (const ReadRow& row : readFrom(fabric, facing).rows) {
        if (row.row == 0) continue;
        for (const Cell& cell : row.cells) {
            Symbol s = cell.symbol;
            s.live = s.loose = s.slack = s.tight = false;
            codes.insert(code(s));
        }
    }
    const auto n = static_cast<int>(codes.size());
    return n <= 1 ? 1 : n == 2 ? 2 : n <= 4 ? 3 : n <= 6 ? 4 : 5;
}

class Draw {
  public:
    Draw(const ExerciseWanted& wanted, const SkillExercise& exercise)
        : wanted_(wanted), exercise_(exercise), dice_(diceOf(wanted)) {}

    std::optional<LessonSwatch> run() {
        faultless_ = dice_.below(3) == 0;
        for (int i = 0; i < kMostThrows && tried_ < kMostTried; ++i) {
            std::optional<LessonSwatch> swatch = exercise_.asks() ? throwQuestions() : throwMistake();
            if (swatch && canBeDone(*swatch)) return swatch;
        }
        return std::nullopt;
    }

  private:
    template <class T>
    const T& oneOf(const std::vector<T>& list) {
        return list[static_cast<std::size_t>(dice_.below(static_cast<int>(list.size())))];
    }

    const Fault* drawFault() {
        if (exercise_.faults.empty()) return oneOf(lessonFaults());
        return findFault(oneOf(exercise_.faults));
    }

    std::optional<FaultPlace> drawIn(const Fault& fault, const LessonSwatch& swatch, const Script& script) {
        Wanted place;
        place.clearOfEdges = exercise_.atEdge ? 0 : kClearOfEdges;
        place.atEdge = exercise_.atEdge;
        const int rows = static_cast<int>(script.rows.size());
        // Row 1 stands on the cast-on, where much cannot be seen.
        place.rowFrom = exercise_.inLastRows ? std::max(2, rows - 1) : 2;
        return drawPlace(dice_.next(), fault, script, swatch.setup, place);
    }

    std::optional<LessonSwatch> throwMistake() {
        const Fault* const fault = drawFault();
        LessonSwatch swatch;
        Script script;
        std::optional<FaultPlace> place;
        // Few cloths have room for some mistakes: they are looked for, so that every mistake comes up.
        for (int i = 0; i < kMostCloths && !place; ++i) {
            swatch = lentSwatch(dice_, oneOf(practiceCloths()));
            script = knittedRows(swatch);
            if (!script.rows.empty()) place = drawIn(*fault, swatch, script);
        }
        if (!place) return std::nullopt;
        const int way = dice_.below(6);
        swatch.after = exercise_.inLastRows ? After::rowEnd : way == 0 ? After::byCount : After::byReading;
        swatch.faults = {*place};
        for (const std::string_view repair : exercise_.repairs) swatch.repairs.emplace_back(repair);
        if (!suits(swatch, script)) return std::nullopt;
        pages(swatch);
        if (faultless_) {
            swatch.faults.clear();
            swatch.repairs.clear();
            swatch.after = After::byReading;
        }
        return swatch;
    }

    bool suits(const LessonSwatch& swatch, Script script) {
        const FaultPlace& place = swatch.faults.front();
        const auto knitting = knitWith(script, swatch.setup, swatch.faults, swatch.after);
        if (!knitting) return false;
        script.rows.resize(static_cast<std::size_t>(knitting->rows));
        if (!fits(exercise_.must, *knitting, place)) return false;
        ++tried_;
        // From the quickest question to the slowest.
        const LevelAsked asked{script, swatch.setup, place, swatch.after, swatch.repairs};
        const int hands = exercise_.mends() ? handsLevelOf(asked).hands : 1;
        if (hands == 0 || hands > wanted_.level ||
            !explained(swatch, script, place, *knitting->actual.fabric)) {
            return false;
        }
        const int looks = looksLevelOf(asked, wanted_.level);
        if (looks == 0) return false;
        return (exercise_.mends() ? std::max(looks, hands) : looks) == wanted_.level;
    }

    void pages(LessonSwatch& swatch) const {
        for (const StepKind kind : exercise_.steps) {
            StepPlan step;
            step.kind = kind;
            if (std::find(exercise_.scored.begin(), exercise_.scored.end(), kind) != exercise_.scored.end())
                step.skill = std::string(exercise_.skill);
            swatch.steps.push_back(std::move(step));
        }
        // The first moves are shown while it is new.
        if (wanted_.level == 1) swatch.guidance.lastAreHers = 4;
    }

    std::optional<LessonSwatch> throwQuestions() {
        LessonSwatch swatch = lentSwatch(dice_, oneOf(practiceCloths()));
        Script script = knittedRows(swatch);
        if (script.rows.empty()) return std::nullopt;
        if (!exercise_.faults.empty()) {
            const std::optional<FaultPlace> place = drawIn(*drawFault(), swatch, script);
            if (!place) return std::nullopt;
            swatch.faults = {*place};
        }
        const auto knitting = knitWith(script, swatch.setup, swatch.faults, swatch.after);
        if (!knitting ||
            busyness(*knitting->actual.fabric, knitting->actual.knitter.facing()) != wanted_.level) {
            return std::nullopt;
        }
        ++tried_;
        for (int i = 0; i < kQuestions; ++i) {
            StepPlan step;
            step.kind = StepKind::ask;
            step.question = throwQuestion(swatch.rows);
            step.skill = std::string(exercise_.skill);
            const bool asked = std::any_of(swatch.steps.begin(), swatch.steps.end(), [&](const StepPlan& s) {
                const QuestionWanted& q = s.question;
                return q.kind == step.question.kind && q.of == step.question.of &&
                       q.row == step.question.row && q.stitch == step.question.stitch;
            });
            if (asked || !canBeAsked(swatch, step)) continue;
            swatch.steps.push_back(std::move(step));
        }
        if (swatch.steps.empty()) return std::nullopt;
        return swatch;
    }

    QuestionWanted throwQuestion(int rows) {
        const PracticeQuestion& from = oneOf(exercise_.questions);
        QuestionWanted question;
        question.kind = from.kind;
        question.of = std::string(from.of);
        if (from.where == PracticeQuestion::Where::anyRow) question.row = 2 + dice_.below(rows - 2);
        if (from.where == PracticeQuestion::Where::onNeedle) {
            question.row = rows;
            question.stitch = 1 + dice_.below(kNearStitches);
        }
        return question;
    }

    /// Worked to its end by either hand, in US and in UK words.
    static bool canBeDone(const LessonSwatch& swatch) {
        Lesson lesson;
        lesson.swatches = {swatch};
        std::vector<PlacedProblem> problems;
        checkByPlaying(lesson, problems);
        return problems.empty();
    }

    /// For either hand: one right answer, wrong ones that tempt.
    static bool canBeAsked(const LessonSwatch& swatch, const StepPlan& step) {
        Lesson lesson;
        lesson.swatches = {swatch};
        lesson.swatches.front().steps = {step};
        std::vector<PlacedProblem> problems;
        checkQuestions(lesson, 0, problems);
        return problems.empty();
    }

    const ExerciseWanted& wanted_;
    const SkillExercise& exercise_;
    Seeded dice_;
    bool faultless_ = false;
    int tried_ = 0;
};

}  // namespace

tl::expected<Lesson, std::string> exerciseOf(const ExerciseWanted& wanted) {
    const auto refused = [](std::string why) { return tl::unexpected<std::string>(std::move(why)); };
    const Skill* const skill = findSkill(wanted.skill);
    if (skill == nullptr) return refused(fmt::format("there is no skill {}", wanted.skill));
    const SkillExercise* const exercise = exerciseFor(wanted.skill);
    if (exercise == nullptr) {
        return refused(fmt::format("\"{}\" is learned in lessons only; choose another skill", skill->name));
    }
    if (wanted.level < 1 || wanted.level > kMostLevel ||
        (levelsOf(wanted.skill) & (1U << static_cast<unsigned>(wanted.level))) == 0) {
        return refused(fmt::format("\"{}\" is not practiced at level {}; level {} is the nearest",
                                   skill->name, wanted.level, nearestLevel(wanted.skill, wanted.level)));
    }
    std::optional<LessonSwatch> swatch = Draw(wanted, *exercise).run();
    if (!swatch) {
        return refused(fmt::format("no exercise for \"{}\" at level {} came of seed {}; take another seed",
                                   skill->name, wanted.level, wanted.seed));
    }
    Lesson lesson;
    lesson.id = exerciseId(wanted);
    lesson.title = std::string(skill->name);
    lesson.about = fmt::format("{}'s {}.", swatch->member, swatch->thing);
    lesson.skills = {wanted.skill};
    for (const std::string_view need : skill->needs) lesson.needs.emplace_back(need);
    lesson.swatches = {std::move(*swatch)};
    return lesson;
}

int nearestLevel(std::string_view skill, int wanted) {
    const unsigned levels = levelsOf(skill);
    for (int off = 0; off < kMostLevel; ++off) {
        for (const int level : {wanted - off, wanted + off}) {
            if (level >= 1 && level <= kMostLevel && (levels & (1U << static_cast<unsigned>(level))) != 0)
                return level;
        }
    }
    return 0;
}

}  // namespace loopmend
