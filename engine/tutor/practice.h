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
    int level = 1;      ///< 1 to 5: what solving it needs (see practice_level.h)
    std::uint64_t seed = 1;
};

inline constexpr int kMostLevel = 5;

/// A short word that names the exercise, `hook-up-2-4kc`: the same one makes the same exercise on any
/// machine. The skill, the level, the seed in digits that are not easily taken for each other (base 31), and
/// a letter that checks the rest: one letter mistyped, or two neighbors swapped, is never another exercise's
/// word.
std::string exerciseId(const ExerciseWanted& wanted);
/// None: that is no exercise's word. Capitals and blanks around it do no harm.
std::optional<ExerciseWanted> exerciseFrom(std::string_view id);

/// The exercise as a lesson of one swatch; its id is `exerciseId`. One in three has nothing wrong. The error
/// is a sentence: that skill is not exercised, or not at that level.
///
/// What has something wrong has one explanation (or several proved to make the very same cloth), its level is
/// the one wanted, and a proved way of mending fits that level where the skill is mending. Every page of it
/// was worked to its end by either hand.
tl::expected<Lesson, std::string> exerciseOf(const ExerciseWanted& wanted);

/// Whether a skill can be exercised at all.
bool canBeExercised(std::string_view skill);
/// At what level, as a set of bits: bit 1 for level 1 ... bit 5 for level 5. None: it cannot be exercised.
unsigned levelsOf(std::string_view skill);
/// The level nearest to the one wanted at which the skill is exercised, the lower one of two. 0: none.
int nearestLevel(std::string_view skill, int wanted);

}  // namespace loopmend
