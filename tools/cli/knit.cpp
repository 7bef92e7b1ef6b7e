// SPDX-License-Identifier: MIT
//
// `knit`: a written pattern becomes a fabric, with mistakes if that is asked for.
#include <algorithm>
#include <cstdint>
#include <cstdlib>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "cli/commands.h"
#include "cli/pattern_input.h"
#include "fabric/itinerary.h"
#include "fault/catalogue.h"
#include "fault/draw.h"
#include "fault/knit_with.h"
#include "pattern/counts.h"
#include "pattern/working.h"
#include "reading/notice.h"
#include "store/lines.h"

namespace loopmend {

namespace {

struct Knit {
    PatternInput pattern;
    std::string output;
    std::optional<int> stitches;
    std::optional<int> rows;
    std::string castOn = "long-tail";
    std::string habit = "western";
    bool leftHanded = false;
    std::vector<std::string> faults;
    std::string after = "count";
    std::uint64_t seed = 1;
    std::string where;
};

/// What came off the needles.
struct Knitted {
    Knitting knitting;
    std::vector<int> counts;  ///< stitches on the needle after each row
    std::vector<Misfit> misfits;
    struct Mistake {
        FaultPlace place;
        std::optional<Notice> notice;  ///< when she could see it, were it the only one
    };
    std::vector<Mistake> mistakes;
};

/// What to cast on: what was asked for, else what the pattern says, else the smallest count that works and
/// gives a piece one can look at.
int stitchesFor(const Knit& options, const Pattern& pattern) {
    constexpr std::int64_t kEnoughToSee = 20;
    if (options.stitches) return *options.stitches;
    if (pattern.castOn) return *pattern.castOn;
    const PatternCounts counts = countAll(pattern);
    if (!counts.multiple) return static_cast<int>(kEnoughToSee);
    const Multiple& multiple = *counts.multiple;
    std::int64_t n = std::max(multiple.plus, multiple.least);
    if (multiple.of > 0 && n < kEnoughToSee)
        n += (kEnoughToSee - n + multiple.of - 1) / multiple.of * multiple.of;
    return static_cast<int>(n);
}

Setup setupOf(const Knit& options) {
    Setup setup;
    setup.castOn = *castOnFrom(options.castOn);
    setup.habit = options.habit == "eastern"       ? Habit::eastern
                  : options.habit == "combination" ? Habit::combination
                                                   : Habit::western;
    setup.mirrored = options.leftHanded;
    return setup;
}

/// The mistakes that were asked for. One without a place is put somewhere, by the seed.
tl::expected<std::vector<FaultPlace>, Failure> placesOf(const Knit& options, const Script& script) {
    std::vector<FaultPlace> places;
    std::uint64_t seed = options.seed;
    const auto wanted = wantedFrom(options.where);
    if (!wanted) return fail("--where: " + wanted.error());
    for (const std::string& words : options.faults) {
        if (words.find('@') != std::string::npos) {
            const auto where = parsePlace(words);
            if (!where) return fail("--fault " + words + ": " + where.error().message);
            places.push_back(*where);
            continue;
        }
        const Fault* const fault = findFault(words);
        if (fault == nullptr) {
            return fail(
                fmt::format("--fault {}: there is no such mistake; did you mean {}? loopmend-cli faults "
                            "lists them",
                            words, nearestFault(words)));
        }
        const auto where = drawPlace(seed++, *fault, script, setupOf(options), *wanted);
        if (!where)
            return fail(fmt::format(
                "--fault {}: it cannot happen anywhere in these rows{}; choose another pattern, or more rows",
                words, options.where.empty() ? "" : " as --where wants it"));
        places.push_back(*where);
    }
    return places;
}

tl::expected<Knitted, Failure> work(const Knit& options, const Script& script, Terms terms) {
    const auto places = placesOf(options, script);
    if (!places) return tl::unexpected<Failure>(places.error());
    auto faulty = knitWith(script, setupOf(options), *places, *afterFrom(options.after));
    if (!faulty) {
        const FaultProblem& problem = faulty.error();
        return fail(problem.message, problem.what == FaultProblem::What::patternStops ? 1 : 2);
    }
    Knitted knitted{std::move(faulty->actual), {}, std::move(faulty->misfits), {}};
    for (const FaultPlace& place : *places) {
        Knitted::Mistake mistake{place, std::nullopt};
        if (places->size() == 1) {
            mistake.notice = firstNoticeable(*faulty->meant.fabric, *knitted.knitting.fabric, {}, terms);
        } else if (const auto alone =
                       knitWith(script, setupOf(options), {place}, *afterFrom(options.after))) {
            mistake.notice = firstNoticeable(*alone->meant.fabric, *alone->actual.fabric, {}, terms);
        }
        knitted.mistakes.push_back(std::move(mistake));
    }
    for (const SideBySide::Counts& counts : faulty->counts) knitted.counts.push_back(counts.actual);
    return knitted;
}

FabricNotes notesOf(const Knit& options, const Pattern& pattern, int stitches, const Knitted& knitted) {
    const Knitter& knitter = knitted.knitting.knitter;
    const Setup setup = setupOf(options);
    FabricNotes notes;
    notes.facing = knitter.facing();
    notes.round = knitter.inTheRound();
    notes.habit = setup.habit;
    notes.mirrored = setup.mirrored;
    notes.castOn = setup.castOn;
    notes.stitches = stitches;
    notes.rows = static_cast<int>(knitted.counts.size());
    notes.pattern = pattern.text;
    return notes;
}

/// Loops through which nothing goes and that are not knotted: those on the needle, and those that hang loose.
std::vector<LoopId> liveLoops(const Fabric& fabric) {
    std::vector<LoopId> live;
    for (const LoopId loop : numbering(fabric).order) {
        if (fabric.isLive(loop) && (fabric.isHeld(loop) || fabric.isLoose(loop))) live.push_back(loop);
    }
    return live;
}

Json documentOf(const Knitted& knitted, int live) {
    const Fabric& fabric = *knitted.knitting.fabric;
    Json document;
    document["loops"] = fabric.loopCount();
    document["rows"] = knitted.counts.size();
    document["live"] = live;
    document["counts"] = knitted.counts;
    document["faults"] = Json::array();
    for (const Knitted::Mistake& mistake : knitted.mistakes) {
        Json one = {{"id", mistake.place.id},
                    {"row", mistake.place.row},
                    {"stitch", mistake.place.stitch},
                    {"first_noticeable_row", nullptr},
                    {"cue", nullptr}};
        if (mistake.notice) {
            one["first_noticeable_row"] = mistake.notice->row;
            one["cue"] = name(mistake.notice->cue);
            one["cue_words"] = mistake.notice->words;
        }
        document["faults"].push_back(std::move(one));
    }
    document["misfits"] = Json::array();
    for (const Misfit& misfit : knitted.misfits) {
        document["misfits"].push_back({{"row", misfit.row}, {"over", misfit.over}});
    }
    document["itinerary_hash"] = fmt::format("{:016x}", hashOf(knotOf(fabric)));
    document["yarn_mm"] = static_cast<double>(fabric.totalUm()) / 1000.0;
    return document;
}

void tell(const Knit& options, int stitches, const Knitted& knitted, int live, Console& console) {
    const Fabric& fabric = *knitted.knitting.fabric;
    console.tell(options.output,
                 fmt::format("Cast on {} and worked {} rows: {} live stitches, {} loops, {:.1f} m of yarn.",
                             stitches, knitted.counts.size(), live, fabric.loopCount(),
                             static_cast<double>(fabric.totalUm()) / 1e6));
    for (const Knitted::Mistake& mistake : knitted.mistakes) {
        const Fault* const fault = findFault(mistake.place.id);
        console.tell(options.output,
                     fmt::format("Put in: {}, row {}, stitch {}.", name(*fault, console.terms()),
                                 mistake.place.row, mistake.place.stitch));
        if (mistake.notice) {
            console.tell(options.output, fmt::format("She could notice it in row {} ({}).",
                                                     mistake.notice->row, mistake.notice->words));
        }
    }
    // Once a row is out, those after it mostly are too: said once.
    const auto& misfits = knitted.misfits;
    for (std::size_t i = 0, run = 0; i < misfits.size(); i += run) {
        run = 1;
        while (i + run < misfits.size() && misfits[i + run].over == misfits[i].over &&
               misfits[i + run].row == misfits[i].row + static_cast<int>(run)) {
            ++run;
        }
        const int n = std::abs(misfits[i].over);
        const std::string rows =
            run == 1 ? fmt::format("Row {} does", misfits[i].row)
                     : fmt::format("Rows {} to {} do", misfits[i].row, misfits[i + run - 1].row);
        console.tell(options.output,
                     fmt::format("{} not come out as printed: {} stitch{} {}.", rows, n, n == 1 ? "" : "es",
                                 misfits[i].over > 0 ? "left over" : "too few"));
    }
}

Outcome run(const Knit& options, Console& console) {
    if (const auto may = console.mayWrite(options.output); !may) return tl::unexpected<Failure>(may.error());
    const auto pattern = options.pattern.read(console);
    if (!pattern) return tl::unexpected<Failure>(pattern.error());
    const int stitches = stitchesFor(options, *pattern);
    const std::size_t printed = rowOrder(*pattern).rows.size();
    if (printed == 0) {
        return fail(fmt::format("cannot knit {}: there is no row in it; write rows, as \"Row 1: k to end.\"",
                                inputName(options.pattern.path())),
                    1);
    }
    const int rows = options.rows ? *options.rows : static_cast<int>(printed);
    const auto impossible = [&](std::string why) {
        if (!why.empty() && why.back() == '.') why.pop_back();  // it goes on after it
        return fail(
            fmt::format("{} cannot be knitted over {} stitches: {}; loopmend-cli check shows every problem",
                        inputName(options.pattern.path()), stitches, why),
            1);
    };
    const auto script = expand(*pattern, stitches, rows);
    if (!script) return impossible(placed(script.error()));
    const auto knitted = work(options, *script, console.terms());
    if (!knitted) return tl::unexpected<Failure>(knitted.error());

    const Fabric& fabric = *knitted->knitting.fabric;
    const auto written =
        console.write(options.output, fabricText(fabric, notesOf(options, *pattern, stitches, *knitted)));
    if (!written) return tl::unexpected<Failure>(written.error());

    const int live = static_cast<int>(liveLoops(fabric).size());
    if (console.json()) {
        console.printJson(documentOf(*knitted, live));
    } else {
        tell(options, stitches, *knitted, live, console);
    }
    return 0;
}

}  // namespace

void addKnit(CLI::App& app, Console& console, Chosen& chosen) {
    CLI::App* const command = app.add_subcommand("knit", "work a written pattern into a fabric file");
    const auto options = std::make_shared<Knit>();
    options->pattern.addTo(*command);
    command->add_option("-o,--output", options->output, "the fabric file to write")
        ->required()
        ->type_name("FABRIC");
    command
        ->add_option("--stitches", options->stitches,
                     "cast on so many (else as the pattern says, or some 20 that fit)")
        ->check(CLI::Range(1, kMostStitches))
        ->type_name("N");
    command->add_option("--rows", options->rows, "work so many rows (else every printed row once)")
        ->check(CLI::Range(0, static_cast<int>(kMostRows)))
        ->type_name("N");
    command->add_option("--cast-on", options->castOn, "how to cast on; long-tail is the usual one")
        ->check(CLI::IsMember({"long-tail", "backward", "knitted"}))
        ->type_name("long-tail|backward|knitted");
    command->add_option("--habit", options->habit, "how the loops sit; western is the usual one")
        ->check(CLI::IsMember({"western", "eastern", "combination"}))
        ->type_name("HABIT");
    command->add_flag("--left-handed", options->leftHanded, "worked mirrored, as left-handed knitters do");
    command
        ->add_option(
            "--fault", options->faults,
            "a mistake: ID@ROW,STITCH; for a run ID@ROW,STITCH,ROWS; ID alone: somewhere (see --seed)")
        ->allow_extra_args(false)
        ->type_name("PLACE");
    command
        ->add_option(
            "--after", options->after,
            "how she goes on after it: by count (blindly, the usual one), by reading (every stitch above its "
            "own column), or to the row's end, where she stops")
        ->check(CLI::IsMember({"count", "reading", "row-end"}))
        ->type_name("count|reading|row-end");
    command->add_option("--seed", options->seed, "the dice for mistakes without a place (1 if not given)")
        ->type_name("N");
    command
        ->add_option("--where", options->where,
                     "what is asked of a place that the dice choose: rows=3-6, stitches=4-9, clear=2 (of the "
                     "edges), edge, near=8 (stitch), below=3 (rows below the needle), on=k2tog, seen=rs|ws; "
                     "with commas between")
        ->type_name("WANTED");
    console.addManners(*command);
    command->footer(
        "Example\n  loopmend-cli knit sampler.txt -o sampler.fabric --stitches 61 --rows 24\n"
        "  loopmend-cli knit sampler.txt -o spoiled.fabric --rows 8 --fault missed_yo@5,12 --after reading\n"
        "Exit status: 0 knitted, 1 the pattern cannot be worked (nothing is written), 2 could not be done.");
    command->callback(
        [options, &console, &chosen] { chosen = [options, &console] { return run(*options, console); }; });
}

}  // namespace loopmend
