// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "tutor/lesson_check.h"

namespace loopmend {

inline constexpr int kMostWordsOnPage = 60;

/// A problem that stands in a swatch, and in one of its steps; -1: in none.
struct PlacedProblem {
    int swatch = -1;
    int step = -1;
    LessonProblem problem;
};

/// `swatches[1].steps[3]`, and what follows in it.
std::string placeOfSwatch(int swatch, std::string_view within = {});
std::string placeOfStep(int swatch, int step, std::string_view within = {});

/// Each question of a swatch has one right answer, and wrong ones that tempt. The swatch must knit.
void checkQuestions(const Lesson& lesson, int swatch, std::vector<PlacedProblem>& problems);

/// Works the lesson to its end in every kind of words and for either hand: every page can be done and is
/// short. The lesson must knit.
void checkByPlaying(const Lesson& lesson, std::vector<PlacedProblem>& problems);

}  // namespace loopmend
