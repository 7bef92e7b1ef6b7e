// SPDX-License-Identifier: MIT
//
// `lesson list`: the course, as far as its lessons can be read.
#include <algorithm>
#include <memory>
#include <string>

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "cli/lesson_commands.h"
#include "lessons_folder.h"
#include "store/lesson_file.h"

namespace loopmend {

namespace {

struct List {
    std::string folder;
};

Json documentOf(const CourseRead& read) {
    Json document;
    document["title"] = read.course.title;
    document["lessons"] = Json::array();
    for (const Course::Unit& unit : read.course.units) {
        for (const Lesson& lesson : unit.lessons) {
            Json members = Json::array();
            for (const LessonSwatch& s : lesson.swatches) {
                if (!s.member.empty() && std::find(members.begin(), members.end(), s.member) == members.end())
                    members.push_back(s.member);
            }
            document["lessons"].push_back({{"id", lesson.id},
                                           {"ok", true},
                                           {"problems", Json::array()},
                                           {"title", lesson.title},
                                           {"unit", unit.title},
                                           {"about", lesson.about},
                                           {"skills", lesson.skills},
                                           {"needs", lesson.needs},
                                           {"swatches", lesson.swatches.size()},
                                           {"members", members}});
        }
    }
    document["unread"] = Json::array();
    for (const LessonFileError& error : read.problems)
        document["unread"].push_back({{"file", error.file}, {"problems", documentOf(error.problems)}});
    return document;
}

void show(const CourseRead& read, Console& console) {
    std::size_t widest = 0;
    for (const Course::Unit& unit : read.course.units) {
        for (const Lesson& lesson : unit.lessons) widest = std::max(widest, lesson.id.size());
    }
    int n = 0;
    for (const Course::Unit& unit : read.course.units) {
        console.print(console.bold(unit.title) + "\n");
        for (const Lesson& lesson : unit.lessons) {
            ++n;
            console.print(fmt::format("  {:<{}}  {}\n", lesson.id, widest, lesson.title));
        }
    }
    console.print(fmt::format("{} lesson{}.\n", n, n == 1 ? "" : "s"));
    for (const LessonFileError& error : read.problems) {
        console.print(fmt::format("Not read: {}\n", error.file));
        showProblems(error.problems, console);
    }
}

Outcome run(const List& options, Console& console) {
    MachineDisk disk;
    const auto read = readCourse(disk, options.folder.empty() ? lessonsFolder() : options.folder);
    if (!read) {
        const LessonProblem& p = read.error().problems.front();
        return fail(p.place.empty() ? p.words
                                    : fmt::format("{}, {}: {}", read.error().file, p.place, p.words));
    }
    if (console.json()) {
        console.printJson(documentOf(*read));
    } else {
        show(*read, console);
    }
    return read->problems.empty() ? 0 : 1;
}

}  // namespace

void addLessonList(CLI::App& lesson, Console& console, Chosen& chosen) {
    CLI::App* const command = lesson.add_subcommand("list", "the lessons of the course, in order");
    const auto options = std::make_shared<List>();
    command
        ->add_option("--course", options->folder, "a folder with course.json; usual: the one that came along")
        ->type_name("FOLDER");
    console.addManners(*command);
    command->footer(
        "Example\n  loopmend-cli lesson list\n"
        "Exit status: 0 listed, 1 some lessons could not be read, 2 the course could not be read.");
    command->callback(
        [options, &console, &chosen] { chosen = [options, &console] { return run(*options, console); }; });
}

}  // namespace loopmend
