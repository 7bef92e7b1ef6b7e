// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include <tl/expected.hpp>

#include "tutor/lesson.h"

/// Fresh exercises, drawn from a seed.
namespace loopmend {

struct ExerciseWanted {
    std::string skill;  ///< id of tutor/skills.h
    int level = 1;      ///< 1 to 5: what solving it needs (see levelOf)
    std::uint64_t seed = 1;
};

/// A short word that names the exercise: the same one makes the same exercise on any machine.
std::string exerciseId(const ExerciseWanted& wanted);
/// None: that is no exercise's word.
std::optional<ExerciseWanted> exerciseFrom(std::string_view id);

/// The exercise as a lesson of one swatch; its id is `exerciseId`. One in three has nothing wrong. The error
/// is a sentence: that skill is not exercised, or not at that level.
tl::expected<Lesson, std::string> exerciseOf(const ExerciseWanted& wanted);

/// Whether a skill can be exercised at all.
bool canBeExercised(std::string_view skill);

}  // namespace loopmend
