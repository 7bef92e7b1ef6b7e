// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "tutor/lesson.h"

/// Whether a lesson can be given: everything that an author would have to try by hand.
namespace loopmend {

struct LessonProblem {
    std::string place;  ///< as in the file: `swatches[1].steps[3].question`
    std::string words;  ///< what is wrong and what to do; one sentence without its full stop
};

/// Every problem, in the order of the file; none: the pattern works, each mistake shows and its explanation
/// is the only one, each question has one right answer, each mending can be reached, words are short enough.
std::vector<LessonProblem> problemsOf(const Lesson& lesson);

/// The lessons of a course in the order in which they are given: ids differ, and each skill that a lesson
/// needs is taught before it.
std::vector<LessonProblem> problemsOf(const std::vector<Lesson>& course);

}  // namespace loopmend
