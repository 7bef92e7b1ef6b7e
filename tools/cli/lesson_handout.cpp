// SPDX-License-Identifier: MIT
//
// `lesson handout`: a lesson or an exercise on paper.
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <system_error>
#include <utility>

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "cli/lesson_commands.h"
#include "lessons_folder.h"
#include "picture/paper/handout_paper.h"
#include "store/lesson_file.h"
#include "tutor/lesson_handout.h"
#include "tutor/practice.h"

namespace loopmend {

namespace {

struct HandoutWanted {
    std::string lesson;
    std::string folder;
    std::string paper = "a4";
    bool mirrored = false;
};

tl::unexpected<Failure> refuse(const LessonFileError& error) {
    const LessonProblem& p = error.problems.front();
    return fail(p.place.empty() ? p.words
                                : fmt::format("cannot read {}: {}: {}", error.file, p.place, p.words));
}

/// `vs-and-bumps`: letters, figures and hyphens, so it may be a lesson's id.
bool isWord(const std::string& text) {
    return !text.empty() &&
           text.find_first_not_of("abcdefghijklmnopqrstuvwxyz0123456789-") == std::string::npos &&
           text != "-";
}

/// A file, an exercise's word, or the id of a lesson that came along.
tl::expected<Lesson, Failure> lessonFor(const std::string& named, Console& console) {
    if (const std::optional<ExerciseWanted> wanted = exerciseFrom(named)) {
        auto lesson = exerciseOf(*wanted);
        if (!lesson) return fail(fmt::format("the exercise {} cannot be made: {}", named, lesson.error()));
        return std::move(*lesson);
    }
    std::string path = named;
    MachineDisk disk;
    Disk::Kind kind = Disk::Kind::nothing;
    std::string target;
    if (isWord(named) && (disk.look(named, kind, target) != 0 || kind == Disk::Kind::nothing)) {
        const std::string ours = fmt::format("{}/{}.json", lessonsFolder(), named);
        if (disk.look(ours, kind, target) == 0 && kind == Disk::Kind::file) path = ours;
    }
    const auto text = console.read(path);
    if (!text) return tl::unexpected<Failure>(text.error());
    auto lesson = lessonFromText(*text, inputName(path));
    if (!lesson) return refuse(lesson.error());
    if (const auto sound = knits(*lesson); !sound)
        return fail(fmt::format("the lesson {} cannot be knitted: {}; loopmend-cli lesson check tells more",
                                lesson->id, sound.error()),
                    1);
    return std::move(*lesson);
}

/// Both files or neither: what was there before comes back if the second cannot be written.
tl::expected<void, Failure> writeBoth(const std::string& first, const std::string& firstBytes,
                                      const std::string& second, const std::string& secondBytes) {
    MachineDisk disk;
    Disk::Kind kind = Disk::Kind::nothing;
    std::string target;
    std::optional<std::string> before;
    if (disk.look(first, kind, target) == 0 && kind == Disk::Kind::file) {
        auto old = readFile(disk, first);
        if (!old) return fail(old.error().message);
        before = std::move(*old);
    }
    if (const auto written = writeFile(disk, first, firstBytes); !written)
        return fail(written.error().message);
    const auto written = writeFile(disk, second, secondBytes);
    if (written) return {};
    if (before) {
        (void)writeFile(disk, first, *before);
    } else {
        (void)disk.remove(first);
    }
    return fail(written.error().message);
}

Outcome run(const HandoutWanted& options, Console& console) {
    const auto lesson = lessonFor(options.lesson, console);
    if (!lesson) return tl::unexpected<Failure>(lesson.error());
    if (!isWord(lesson->id)) {
        return fail(
            fmt::format("the lesson's id, {}, cannot name a file: use lower-case letters, figures and "
                        "hyphens",
                        lesson->id));
    }
    const SheetSize size = *sheetSizeFrom(options.paper);
    const Handout handout = handoutOf(*lesson, console.terms(), options.mirrored);
    const std::string html = htmlOf(handout);
    const auto pdf = pdfOf(handout, size);
    if (!pdf) return fail(fmt::format("cannot draw the handout: {}", pdf.error()));

    std::error_code error;
    std::filesystem::create_directories(options.folder, error);
    if (!std::filesystem::is_directory(options.folder, error)) {
        return fail(fmt::format("{} is no folder and none could be made there; name another one after -o",
                                options.folder));
    }
    const std::string stem = fmt::format("{}/{}", options.folder, lesson->id);
    if (const auto written = writeBoth(stem + ".html", html, stem + ".pdf", *pdf); !written)
        return tl::unexpected<Failure>(written.error());

    const std::size_t sheets = sheetsOf(handout, size).size();
    if (console.json()) {
        Json document;
        document["lessons"] = Json::array({{{"id", lesson->id},
                                            {"html", stem + ".html"},
                                            {"pdf", stem + ".pdf"},
                                            {"sheets", sheets},
                                            {"html_bytes", html.size()},
                                            {"pdf_bytes", pdf->size()}}});
        document["paper"] = options.paper;
        document["mirrored"] = options.mirrored;
        console.printJson(document);
    }
    console.tell(stem, fmt::format("Wrote {0}.html and {0}.pdf: {1} sheets of {2}.", stem, sheets,
                                   options.paper == "a4" ? "A4" : "Letter"));
    return 0;
}

}  // namespace

void addLessonHandout(CLI::App& lesson, Console& console, Chosen& chosen) {
    CLI::App* const command = lesson.add_subcommand(
        "handout",
        "a lesson on paper, as a web page and as sheets to print, the answers on one of their own");
    const auto options = std::make_shared<HandoutWanted>();
    command
        ->add_option("FILE", options->lesson,
                     "a lesson file, the id of a lesson that came along, or the word of an exercise")
        ->required()
        ->type_name("");
    command->add_option("-o,--output", options->folder, "the folder to write to; made if it is not there")
        ->required()
        ->type_name("DIR");
    command->add_option("--paper", options->paper, "the sheets' size (a4 if not given)")
        ->check(CLI::IsMember({"a4", "letter"}))
        ->type_name("a4|letter");
    command->add_flag("--mirrored", options->mirrored, "for left-handed knitters");
    console.addManners(*command);
    command->footer(
        "Example\n  loopmend-cli lesson handout vs-and-bumps -o paper --paper letter\n"
        "Exit status: 0 written, 1 the lesson cannot be knitted, 2 could not be done.");
    command->callback(
        [options, &console, &chosen] { chosen = [options, &console] { return run(*options, console); }; });
}

}  // namespace loopmend
