// SPDX-License-Identifier: MIT
#include "tutor/lesson.h"

#include <array>
#include <stdexcept>
#include <utility>

#include "tutor/swatch.h"

namespace loopmend {

std::string_view name(StepKind kind) {
    static constexpr std::array<std::string_view, 9> kNames = {
        "make-safe", "look", "find", "what-happened", "choose", "put-right", "check", "next-time", "in-wool"};
    return kNames[static_cast<std::size_t>(kind)];
}

std::vector<StepPlan> usualSteps() {
    std::vector<StepPlan> steps;
    for (const StepKind kind :
         {StepKind::makeSafe, StepKind::look, StepKind::find, StepKind::whatHappened, StepKind::choose,
          StepKind::putRight, StepKind::check, StepKind::nextTime, StepKind::inWool}) {
        steps.push_back({kind, {}});
    }
    return steps;
}

Lesson firstLesson() {
    Lesson lesson;
    lesson.id = "a-stitch-that-ran";
    lesson.title = "A stitch that ran";
    lesson.ground = StockGround::stockinette;
    lesson.stitches = 16;
    lesson.rows = 14;
    lesson.yarn.seed = 7;
    lesson.member = "Oswin";
    lesson.thing = "scarf end";
    // Six rows: the lowest stitch that came out stood in row 9 of 14.
    lesson.faults = {{"ladder_stockinette", 9, 10, 0}};
    // Hands first: what happened is asked once the stitch is back.
    for (const StepKind kind :
         {StepKind::makeSafe, StepKind::look, StepKind::find, StepKind::choose, StepKind::putRight,
          StepKind::check, StepKind::whatHappened, StepKind::nextTime, StepKind::inWool}) {
        lesson.steps.push_back({kind, {}});
    }
    lesson.guidance.lastAreHers = 0;
    return lesson;
}

namespace {

Lesson ladderLesson(std::string id, std::string title, std::string member, std::string thing) {
    Lesson lesson;
    lesson.id = std::move(id);
    lesson.title = std::move(title);
    lesson.member = std::move(member);
    lesson.thing = std::move(thing);
    lesson.steps = usualSteps();
    lesson.stitches = 18;
    lesson.rows = 14;
    return lesson;
}

}  // namespace

std::vector<Lesson> lessons() {
    std::vector<Lesson> all{firstLesson()};
    {
        Lesson lesson = ladderLesson("hook-it-up", "Hook a column up, rung by rung", "Oswin", "scarf");
        lesson.faults = {{"ladder_stockinette", 7, 8, 0}};
        lesson.guidance.lastAreHers = 5;  // the last rungs and the seat
        lesson.yarn.seed = 15;
        all.push_back(std::move(lesson));
    }
    {
        Lesson lesson = ladderLesson("one-wrong-bump", "One bump among the Vs", "Tilda", "plain border");
        lesson.faults = {{"wrong_kp", 10, 7, 0}};
        lesson.yarn.seed = 17;
        all.push_back(std::move(lesson));
    }
    return all;
}

tl::expected<void, std::string> knits(const Lesson& lesson) {
    try {
        const Swatch swatch(lesson, Terms::us, false);
    } catch (const std::invalid_argument& problem) {
        return tl::unexpected<std::string>(problem.what());
    }
    return {};
}

}  // namespace loopmend
