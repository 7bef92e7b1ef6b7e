// SPDX-License-Identifier: MIT
//
// `lesson`: what can be done with lesson files.
#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "cli/commands.h"
#include "cli/lesson_commands.h"

namespace loopmend {

Json documentOf(const std::vector<LessonProblem>& problems) {
    Json all = Json::array();
    for (const LessonProblem& p : problems) all.push_back({{"place", p.place}, {"message", p.words}});
    return all;
}

void showProblems(const std::vector<LessonProblem>& problems, Console& console) {
    for (const LessonProblem& p : problems)
        console.print(fmt::format("    {}{}{}.\n", p.place, p.place.empty() ? "" : ": ", p.words));
}

void addLesson(CLI::App& app, Console& console, Chosen& chosen) {
    CLI::App* const lesson = app.add_subcommand("lesson", "list, check and print lessons");
    lesson->require_subcommand(1);
    addLessonList(*lesson, console, chosen);
    addLessonCheck(*lesson, console, chosen);
    addLessonHandout(*lesson, console, chosen);
    lesson->footer("Example\n  loopmend-cli lesson check my-lesson.json");
}

}  // namespace loopmend
