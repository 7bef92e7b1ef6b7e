// SPDX-License-Identifier: MIT
//
// `plan`: ways to mend a fabric, each carried out and taken back before it is shown.
#include <cmath>
#include <memory>

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "cli/commands.h"
#include "cli/mending.h"

namespace loopmend {

namespace {

/// only: the one plan to list; 0: all.
Json documentOf(const std::vector<Plan>& plans, int only) {
    Json document;
    document["plans"] = Json::array();
    int number = 0;
    for (const Plan& plan : plans) {
        if (++number != only && only != 0) continue;
        Json one;
        one["plan"] = number;
        one["family"] = nameOf(plan.family);
        one["seconds"] = plan.seconds;
        one["risk"] = plan.risk;
        one["leaves"] = nameOf(plan.leaves);
        one["shortage_mm"] = plan.shortageMm;
        one["needs_on_tool"] = Json::array();
        for (const LoopId loop : plan.needsOnTool) one["needs_on_tool"].push_back(loop.value);
        one["proved"] = plan.proved;
        if (!plan.proved) one["reason"] = plan.reason;
        one["moves"] = Json::array();
        for (const PlannedMove& move : plan.moves) {
            one["moves"].push_back({{"move", textOf(move.move)},
                                    {"row", move.row},
                                    {"stitch", move.stitch},
                                    {"column", move.column},
                                    {"words", move.words}});
        }
        document["plans"].push_back(std::move(one));
    }
    return document;
}

std::string timeWords(double seconds) {
    if (seconds < 90)
        return fmt::format("about {:.0f} seconds", std::max(10.0, std::round(seconds / 10) * 10));
    return fmt::format("about {:.0f} minutes", std::round(seconds / 60));
}

std::string leavesWords(const Plan& plan) {
    if (!plan.proved) return "it does not come out as meant: " + plan.reason;
    switch (plan.leaves) {
        case Leaves::exact: return "nothing shows afterwards";
        case Leaves::tight:
            return fmt::format("a little tight afterwards ({:.0f} mm short)", plan.shortageMm);
        case Leaves::visible: return fmt::format("it will show ({:.0f} mm of yarn short)", plan.shortageMm);
    }
    return "";
}

std::string familyWords(PlanFamily family) {
    switch (family) {
        case PlanFamily::column: return "let down the columns that went wrong and hook them up again";
        case PlanFamily::tink: return "take back the last stitches one by one";
        case PlanFamily::rip: return "take back whole rows and work them again";
    }
    return "";
}

/// only: the one plan to show; 0: all.
void show(const std::vector<Plan>& plans, int only, bool moves, Console& console) {
    int number = 0;
    for (const Plan& plan : plans) {
        if (++number != only && only != 0) continue;
        console.print(console.bold(fmt::format("Plan {}: {}", number, familyWords(plan.family))) + "\n");
        console.print(fmt::format("    {}; {} in a hundred risk of losing a stitch; {}\n",
                                  timeWords(plan.seconds), std::lround(plan.risk * 100), leavesWords(plan)));
        if (!moves) continue;
        int step = 0;
        for (const PlannedMove& move : plan.moves) {
            console.print(fmt::format("  {:3}. {}\n", ++step, move.words));
        }
    }
}

struct PlanOptions {
    Mending mending;
    bool brief = false;
    int only = 0;
};

Outcome run(PlanOptions& options, Console& console) {
    Mending& mending = options.mending;
    if (const auto ready = mending.prepare(console); !ready) return tl::unexpected<Failure>(ready.error());
    if (options.only > static_cast<int>(mending.plans().size())) {
        return fail(fmt::format("there is no plan {}: {} has {}; leave --plan out to see them", options.only,
                                inputName(mending.actualPath()), mending.plans().size()));
    }
    if (console.json()) {
        console.printJson(documentOf(mending.plans(), options.only));
    } else if (mending.same()) {
        console.print("There is nothing to mend: it is as it was meant.\n");
    } else if (mending.plans().empty()) {
        console.print("No way to mend it is known.\n");
    } else {
        show(mending.plans(), options.only, !options.brief, console);
    }
    return mending.plans().empty() && !mending.same() ? 1 : 0;
}

}  // namespace

void addPlan(CLI::App& app, Console& console, Chosen& chosen) {
    CLI::App* const command = app.add_subcommand("plan", "ways to mend a fabric, the cheapest first");
    const auto options = std::make_shared<PlanOptions>();
    options->mending.addTo(*command);
    command->add_option("--plan", options->only, "only this one")->check(CLI::Range(1, 999))->type_name("N");
    command->add_flag("--brief", options->brief, "without the moves");
    console.addManners(*command);
    command->footer(
        "Example\n  loopmend-cli plan spoiled.fabric --meant sampler.fabric\n"
        "Exit status: 0 there are plans or nothing is to mend, 1 no plan mends it, 2 could not be done.");
    command->callback(
        [options, &console, &chosen] { chosen = [options, &console] { return run(*options, console); }; });
}

}  // namespace loopmend
