// SPDX-License-Identifier: MIT
//
// `mend`: a plan is carried out.
#include <memory>
#include <optional>

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "cli/commands.h"
#include "cli/mending.h"
#include "fabric/itinerary.h"
#include "fabric/rows.h"
#include "repair/uneven.h"
#include "repair/workplace.h"

namespace loopmend {

namespace {

struct Mend {
    Mending mending;
    int plan = 1;
    std::optional<int> moves;  ///< only so many of them
    std::string output;
};

tl::expected<void, Failure> carryOut(const Plan& plan, std::optional<int> moves, Knitter& knitter) {
    Workplace workplace(knitter);
    int done = 0;
    for (const PlannedMove& move : plan.moves) {
        if (moves && done++ == *moves) break;
        const auto result = workplace.perform(move.move);
        if (!result) {
            return fail(fmt::format("the move \"{}\" cannot be done: {}; choose another plan",
                                    textOf(move.move), sentence(result.error())));
        }
    }
    return {};
}

Outcome run(Mend& options, Console& console) {
    Mending& mending = options.mending;
    if (const auto may = console.mayWrite(options.output); !may) return tl::unexpected<Failure>(may.error());
    if (const auto ready = mending.prepare(console); !ready) return tl::unexpected<Failure>(ready.error());
    const auto count = static_cast<int>(mending.listed().size());
    if (!mending.same()) {
        if (count == 0) {
            return fail(
                fmt::format("{} cannot be mended: no way is known; loopmend-cli plan --all shows what "
                            "each would leave",
                            inputName(mending.actualPath())),
                1);
        }
        if (options.plan > count) {
            return fail(fmt::format("there is no plan {}: {} has {}; loopmend-cli plan lists them",
                                    options.plan, inputName(mending.actualPath()),
                                    count == 1 ? "one" : fmt::to_string(count)));
        }
        const Plan& plan = mending.plan(options.plan);
        if (const auto done = carryOut(plan, options.moves, mending.knitter()); !done) {
            return tl::unexpected<Failure>(done.error());
        }
        mending.actual().notes.facing = mending.knitter().facing();
    }
    FabricFile& mended = mending.actual();
    const std::vector<std::string> differences = differencesOf(mending.meant().fabric, mended.fabric);
    const bool equal = knotOf(mended.fabric) == knotOf(mending.meant().fabric);
    mended.notes.rows = equal ? mending.meant().notes.rows : rowsOf(mended.fabric).last;
    const auto written = console.write(options.output, fabricText(mended.fabric, mended.notes));
    if (!written) return tl::unexpected<Failure>(written.error());

    if (console.json()) {
        Json document;
        document["equal_to_meant"] = equal;
        document["differences"] = differences;
        document["itinerary_hash"] = fmt::format("{:016x}", hashOf(knotOf(mended.fabric)));
        console.printJson(document);
    }
    if (!equal) {
        console.tell(options.output, fmt::format("Not as it was meant yet: {}.",
                                                 differences.empty() ? "it differs" : differences.front()));
    } else if (!nothingToMend(mending.meant().fabric, mended.fabric)) {
        console.tell(options.output,
                     "Every stitch is as it was meant, but some lie tighter or looser still.");
    } else {
        console.tell(options.output, "Mended: it is as it was meant, loop by loop.");
    }
    return equal ? 0 : 1;
}

}  // namespace

void addMend(CLI::App& app, Console& console, Chosen& chosen) {
    CLI::App* const command = app.add_subcommand("mend", "carry out a plan");
    const auto options = std::make_shared<Mend>();
    options->mending.addTo(*command);
    command->add_option("--plan", options->plan, "which of the plans that plan lists (1 if not given)")
        ->check(CLI::Range(1, 999))
        ->type_name("N");
    command
        ->add_option("--moves", options->moves, "only the first so many moves of it, to look at it half-way")
        ->check(CLI::Range(0, 99999))
        ->type_name("N");
    command->add_option("-o,--output", options->output, "the fabric file to write")
        ->required()
        ->type_name("FABRIC");
    console.addManners(*command);
    command->footer(
        "Example\n  loopmend-cli mend spoiled.fabric --meant sampler.fabric --plan 1 -o mended.fabric\n"
        "Exit status: 0 it is as it was meant, 1 a difference is left, 2 could not be done.");
    command->callback(
        [options, &console, &chosen] { chosen = [options, &console] { return run(*options, console); }; });
}

}  // namespace loopmend
