// SPDX-License-Identifier: MIT
//
// `lesson check`: can a lesson be given?
#include <memory>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "cli/lesson_commands.h"
#include "lessons_folder.h"
#include "store/lesson_file.h"

namespace loopmend {

namespace {

struct LessonCheck {
    std::vector<std::string> files;
    std::string folder;
};

struct Checked {
    std::string file;
    std::string id;  ///< empty: it could not be read
    std::vector<LessonProblem> problems;
};

/// Nothing can be said of what is no lesson at all, or of a newer one.
bool isRefused(const LessonFileError& error) {
    const std::string& place = error.problems.front().place;
    return place.empty() || place == "format" || place == "version";
}

tl::unexpected<Failure> refuse(const LessonFileError& error) {
    const LessonProblem& p = error.problems.front();
    return fail(p.place.empty() ? p.words
                                : fmt::format("cannot read {}: {}: {}", error.file, p.place, p.words));
}

tl::expected<std::vector<Checked>, Failure> checkFiles(const std::vector<std::string>& files,
                                                       Console& console) {
    std::vector<Checked> all;
    std::vector<tl::expected<Lesson, LessonFileError>> lessons;
    for (const std::string& file : files) {
        const auto text = console.read(file);
        if (!text) return tl::unexpected<Failure>(text.error());
        lessons.push_back(lessonFromText(*text, inputName(file)));
        if (!lessons.back() && isRefused(lessons.back().error())) return refuse(lessons.back().error());
    }
    for (std::size_t i = 0; i < files.size(); ++i) {
        Checked one{inputName(files[i]), "", {}};
        if (lessons[i]) {
            one.id = lessons[i]->id;
            one.problems = problemsOf(*lessons[i]);
        } else {
            one.problems = lessons[i].error().problems;
        }
        all.push_back(std::move(one));
    }
    return all;
}

/// Every lesson of a course, and the course itself.
tl::expected<std::vector<Checked>, Failure> checkCourse(const std::string& folder,
                                                        std::vector<LessonProblem>& order) {
    MachineDisk disk;
    const auto read = readCourse(disk, folder);
    if (!read) return refuse(read.error());
    std::vector<Checked> all;
    const std::vector<Lesson> lessons = read->course.lessons();
    all.reserve(lessons.size() + read->problems.size());
    for (const Lesson& lesson : lessons)
        all.push_back({fmt::format("{}/{}.json", folder, lesson.id), lesson.id, problemsOf(lesson)});
    for (const LessonFileError& error : read->problems) all.push_back({error.file, "", error.problems});
    order = problemsOf(lessons);
    return all;
}

Outcome run(const LessonCheck& options, Console& console) {
    const bool whole = options.files.empty();
    std::vector<LessonProblem> order;
    const auto all = whole ? checkCourse(options.folder.empty() ? lessonsFolder() : options.folder, order)
                           : checkFiles(options.files, console);
    if (!all) return tl::unexpected<Failure>(all.error());
    std::size_t wrong = order.size();
    Json document;
    document["lessons"] = Json::array();
    for (const Checked& one : *all) {
        wrong += one.problems.size();
        document["lessons"].push_back({{"id", one.id},
                                       {"ok", one.problems.empty()},
                                       {"problems", documentOf(one.problems)},
                                       {"file", one.file}});
        if (console.json()) continue;
        console.print(fmt::format("{}: {}.\n", one.file,
                                  one.problems.empty() ? "it can be given"
                                  : one.problems.size() == 1
                                      ? "one problem"
                                      : fmt::format("{} problems", one.problems.size())));
        showProblems(one.problems, console);
    }
    if (whole) document["course"] = documentOf(order);
    if (console.json()) {
        console.printJson(document);
    } else if (!order.empty()) {
        console.print("The order of the course:\n");
        showProblems(order, console);
    }
    return wrong == 0 ? 0 : 1;
}

}  // namespace

void addLessonCheck(CLI::App& lesson, Console& console, Chosen& chosen) {
    CLI::App* const command = lesson.add_subcommand(
        "check", "can these lessons be given? Each is worked through to its end, by either hand");
    const auto options = std::make_shared<LessonCheck>();
    command->add_option("FILE", options->files, "lesson files; none: the whole course and its order")
        ->type_name("");
    command
        ->add_option("--course", options->folder, "a folder with course.json; usual: the one that came along")
        ->type_name("FOLDER");
    console.addManners(*command);
    command->footer(
        "Example\n  loopmend-cli lesson check my-lesson.json\n"
        "Exit status: 0 nothing wrong, 1 problems were found, 2 a file could not be read.");
    command->callback(
        [options, &console, &chosen] { chosen = [options, &console] { return run(*options, console); }; });
}

}  // namespace loopmend
