// SPDX-License-Identifier: MIT
#include "tutor/lesson.h"

#include <array>
#include <initializer_list>
#include <stdexcept>
#include <utility>

#include "tutor/swatch.h"

namespace loopmend {

namespace {

constexpr std::array<std::string_view, 10> kStepNames = {"make-safe",     "look",   "ask",       "find",
                                                         "what-happened", "choose", "put-right", "check",
                                                         "next-time",     "in-wool"};

std::vector<StepPlan> stepsOf(std::initializer_list<StepKind> kinds) {
    std::vector<StepPlan> steps;
    for (const StepKind kind : kinds) {
        steps.emplace_back();
        steps.back().kind = kind;
    }
    return steps;
}

}  // namespace

std::string_view name(StepKind kind) {
    return kStepNames[static_cast<std::size_t>(kind)];
}

std::optional<StepKind> stepKindFrom(std::string_view word) {
    for (std::size_t i = 0; i < kStepNames.size(); ++i) {
        if (kStepNames[i] == word) return static_cast<StepKind>(i);
    }
    return std::nullopt;
}

std::vector<StepPlan> usualSteps() {
    return stepsOf({StepKind::makeSafe, StepKind::look, StepKind::find, StepKind::whatHappened,
                    StepKind::choose, StepKind::putRight, StepKind::check, StepKind::nextTime,
                    StepKind::inWool});
}

Lesson firstLesson() {
    Lesson lesson;
    lesson.id = "a-stitch-that-ran";
    lesson.title = "A stitch that ran";
    LessonSwatch swatch;
    swatch.ground = StockGround::stockinette;
    swatch.stitches = 16;
    swatch.rows = 14;
    swatch.yarn.seed = 7;
    swatch.member = "Oswin";
    swatch.thing = "scarf end";
    // Six rows: the lowest stitch that came out stood in row 9 of 14.
    swatch.faults = {{"ladder_stockinette", 9, 10, 0}};
    // Hands first: what happened is asked once the stitch is back.
    swatch.steps =
        stepsOf({StepKind::makeSafe, StepKind::look, StepKind::find, StepKind::choose, StepKind::putRight,
                 StepKind::check, StepKind::whatHappened, StepKind::nextTime, StepKind::inWool});
    swatch.guidance.lastAreHers = 0;
    lesson.swatches = {std::move(swatch)};
    return lesson;
}

namespace {

Lesson ladderLesson(std::string id, std::string title, std::string member, std::string thing) {
    Lesson lesson;
    lesson.id = std::move(id);
    lesson.title = std::move(title);
    LessonSwatch swatch;
    swatch.member = std::move(member);
    swatch.thing = std::move(thing);
    swatch.steps = usualSteps();
    swatch.stitches = 18;
    swatch.rows = 14;
    lesson.swatches = {std::move(swatch)};
    return lesson;
}

}  // namespace

std::vector<Lesson> lessons() {
    std::vector<Lesson> all{firstLesson()};
    {
        Lesson lesson = ladderLesson("hook-it-up", "Hook a column up, rung by rung", "Oswin", "scarf");
        LessonSwatch& swatch = lesson.swatches.front();
        swatch.faults = {{"ladder_stockinette", 7, 8, 0}};
        swatch.guidance.lastAreHers = 5;  // the last rungs and the seat
        swatch.yarn.seed = 15;
        all.push_back(std::move(lesson));
    }
    {
        Lesson lesson = ladderLesson("one-wrong-bump", "One bump among the Vs", "Tilda", "plain border");
        LessonSwatch& swatch = lesson.swatches.front();
        swatch.faults = {{"wrong_kp", 10, 7, 0}};
        swatch.yarn.seed = 17;
        all.push_back(std::move(lesson));
    }
    return all;
}

tl::expected<void, std::string> knits(const Lesson& lesson) {
    if (lesson.swatches.empty()) return tl::unexpected<std::string>("the lesson has no swatch");
    try {
        for (const LessonSwatch& swatch : lesson.swatches) const Swatch cloth(swatch, Terms::us, false);
    } catch (const std::invalid_argument& problem) {
        return tl::unexpected<std::string>(problem.what());
    }
    return {};
}

}  // namespace loopmend
