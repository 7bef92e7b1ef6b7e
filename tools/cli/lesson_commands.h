// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "cli/commands.h"
#include "tutor/lesson_check.h"

namespace loopmend {

/// The commands of `lesson`, each in a file of its own, as those of commands.h.
void addLessonList(CLI::App& lesson, Console& console, Chosen& chosen);
void addLessonCheck(CLI::App& lesson, Console& console, Chosen& chosen);
void addLessonHandout(CLI::App& lesson, Console& console, Chosen& chosen);

/// `[{place, message}]`
Json documentOf(const std::vector<LessonProblem>& problems);
/// Each on a line of its own, a little to the right.
void showProblems(const std::vector<LessonProblem>& problems, Console& console);

}  // namespace loopmend
