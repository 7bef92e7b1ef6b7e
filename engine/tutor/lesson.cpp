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
