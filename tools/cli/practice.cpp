// SPDX-License-Identifier: MIT
//
// `practice`: a fresh exercise, drawn from a seed, as a lesson file.
#include <algorithm>
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "cli/commands.h"
#include "fault/catalogue.h"
#include "fault/draw.h"
#include "store/lesson_file.h"
#include "tutor/practice.h"
#include "tutor/skills.h"
#include "tutor/swatch.h"

namespace loopmend {

namespace {

constexpr int kUsualLevel = 2;

struct Practice {
    std::string skill;
    std::optional<int> level;
    std::uint64_t seed = 1;
    std::string exercise;
    std::string output;
};

std::vector<std::string_view> exercisable() {
    std::vector<std::string_view> ids;
    for (const Skill& skill : skills()) {
        if (canBeExercised(skill.id)) ids.push_back(skill.id);
    }
    return ids;
}

std::string listOf(const std::vector<std::string_view>& ids) {
    std::string list;
    for (const std::string_view id : ids) {
        list += list.empty() ? "" : ", ";
        list += id;
    }
    return list;
}

tl::expected<ExerciseWanted, Failure> wantedOf(const Practice& options) {
    if (!options.exercise.empty()) {
        const std::optional<ExerciseWanted> named = exerciseFrom(options.exercise);
        if (named) return *named;
        return fail(
            fmt::format("{} names no exercise; look for a letter that is mistyped", options.exercise));
    }
    ExerciseWanted wanted;
    wanted.seed = options.seed;
    const std::vector<std::string_view> ids = exercisable();
    if (options.skill.empty()) {
        Seeded dice(options.seed);
        wanted.skill = std::string(ids[static_cast<std::size_t>(dice.below(static_cast<int>(ids.size())))]);
    } else if (std::find(ids.begin(), ids.end(), options.skill) == ids.end()) {
        return fail(fmt::format(
            "--skill {}: {}; there are {}", options.skill,
            findSkill(options.skill) == nullptr ? "there is no such skill" : "it is learned in lessons only",
            listOf(ids)));
    } else {
        wanted.skill = options.skill;
    }
    wanted.level = options.level ? *options.level : nearestLevel(wanted.skill, kUsualLevel);
    return wanted;
}

/// Whether the cloth tells what happened and nothing else.
bool isUnique(const LessonSwatch& piece, const Swatch& swatch) {
    if (piece.faults.empty()) return swatch.story().nothingWrong;
    const std::vector<std::string> right = swatch.rightFaults();
    return !swatch.story().explanations.empty() && swatch.story().unknown.empty() &&
           std::find(right.begin(), right.end(), piece.faults.front().id) != right.end();
}

Json documentOf(const ExerciseWanted& wanted, const Lesson& lesson, const Swatch& swatch) {
    const LessonSwatch& piece = lesson.first();
    Json document = {{"id", lesson.id},
                     {"seed", wanted.seed},
                     {"skill", wanted.skill},
                     {"level", wanted.level},
                     {"member", piece.member},
                     {"thing", piece.thing},
                     {"stitches", piece.stitches},
                     {"rows", piece.rows},
                     {"faults", Json::array()},
                     {"unique", isUnique(piece, swatch)},
                     {"same_fabric_as", Json::array()}};
    for (const FaultPlace& place : piece.faults)
        document["faults"].push_back({{"id", place.id}, {"row", place.row}, {"stitch", place.stitch}});
    for (const std::string& id : swatch.rightFaults()) {
        const bool put = !piece.faults.empty() && piece.faults.front().id == id;
        Json& same = document["same_fabric_as"];
        if (!put && std::find(same.begin(), same.end(), id) == same.end()) same.push_back(id);
    }
    return document;
}

void tell(const Practice& options, const ExerciseWanted& wanted, const Lesson& lesson, Console& console) {
    const LessonSwatch& piece = lesson.first();
    const auto say = [&](const std::string& line) { console.tell(options.output, line); };
    say(fmt::format("{}: {} ({}), level {}.", lesson.id, lesson.title, wanted.skill, wanted.level));
    say(fmt::format("{}'s {}, {} stitches, {} rows.", piece.member, piece.thing, piece.stitches, piece.rows));
    if (piece.faults.empty()) say("Nothing is wrong with it.");
    for (const FaultPlace& place : piece.faults) {
        const Fault* const fault = findFault(place.id);
        say(fmt::format("Put in: {}, row {}, stitch {}.", name(*fault, console.terms()), place.row,
                        place.stitch));
    }
    say(fmt::format("The same exercise anywhere: loopmend-cli practice --exercise {}", lesson.id));
}

Outcome run(const Practice& options, Console& console) {
    if (const auto may = console.mayWrite(options.output); !may) return tl::unexpected<Failure>(may.error());
    const auto wanted = wantedOf(options);
    if (!wanted) return tl::unexpected<Failure>(wanted.error());
    const auto lesson = exerciseOf(*wanted);
    if (!lesson) return fail(lesson.error());
    if (!options.output.empty()) {
        const auto written = console.write(options.output, lessonText(*lesson));
        if (!written) return tl::unexpected<Failure>(written.error());
    }
    const Swatch swatch(lesson->first(), console.terms(), false);
    if (console.json()) {
        console.printJson(documentOf(*wanted, *lesson, swatch));
    } else {
        tell(options, *wanted, *lesson, console);
    }
    return 0;
}

}  // namespace

void addPractice(CLI::App& app, Console& console, Chosen& chosen) {
    CLI::App* const command = app.add_subcommand("practice", "make a fresh exercise, as a lesson file");
    const auto options = std::make_shared<Practice>();
    command->add_option("--skill", options->skill, "what it exercises (else one drawn from the seed)")
        ->type_name("ID");
    command
        ->add_option("--level", options->level, "what solving it needs, from a glance (1) to all looks (5)")
        ->check(CLI::Range(1, kMostLevel))
        ->type_name("N");
    command->add_option("--seed", options->seed, "the dice (1 if not given)")->type_name("N");
    command
        ->add_option("--exercise", options->exercise,
                     "an exercise by the word that names it: the same anywhere")
        ->type_name("WORD")
        ->excludes("--skill")
        ->excludes("--level")
        ->excludes("--seed");
    command->add_option("-o,--output", options->output, "the lesson file to write")->type_name("LESSON");
    console.addManners(*command);
    command->footer(
        "Example\n  loopmend-cli practice --skill hook-up --level 2 --seed 7 -o exercise.json\n"
        "  loopmend-cli practice --exercise hook-up-2-9a -o exercise.json\n"
        "One exercise in three has nothing wrong.\n"
        "Exit status: 0 made, 2 could not be done.");
    command->callback(
        [options, &console, &chosen] { chosen = [options, &console] { return run(*options, console); }; });
}

}  // namespace loopmend
