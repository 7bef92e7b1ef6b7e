// SPDX-License-Identifier: MIT
#include "tutor/asking.h"

#include <array>

namespace loopmend {

namespace {

constexpr std::array<std::string_view, 16> kQuestionNames = {
    "point-at",    "two-signs",   "name",  "count",       "which-side", "neck",      "mount",      "on-top",
    "will-it-run", "when-turned", "trace", "if-it-drops", "root",       "rung-kind", "which-plan", "written"};
static_assert(kQuestionNames.size() == static_cast<std::size_t>(QuestionKind::written) + 1);

}  // namespace

std::string_view name(QuestionKind kind) {
    return kQuestionNames[static_cast<std::size_t>(kind)];
}

std::optional<QuestionKind> questionKindFrom(std::string_view word) {
    for (std::size_t i = 0; i < kQuestionNames.size(); ++i) {
        if (kQuestionNames[i] == word) return static_cast<QuestionKind>(i);
    }
    return std::nullopt;
}

}  // namespace loopmend
