// SPDX-License-Identifier: MIT
//
// `plan`: ways to mend a fabric, each carried out and taken back before it is shown.
#include <algorithm>
#include <cmath>
#include <memory>

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "cli/commands.h"
#include "cli/mending.h"

namespace loopmend {

namespace {

Json oneOf(const WayBack& way, int number) {
    const Plan& plan = way.plan;
    Json one;
    one["plan"] = number;
    one["family"] = nameOf(plan.family);
    one["seconds"] = plan.seconds;
    one["time"] = way.time;
    one["risk"] = plan.risk;
    one["leaves"] = nameOf(plan.leaves);
    one["after"] = way.after;
    one["shortage_mm"] = plan.shortageMm;
    one["needs_on_tool"] = Json::array();
    for (const LoopId loop : plan.needsOnTool) one["needs_on_tool"].push_back(loop.value);
    one["comes_undone"] = Json::array();
    for (const LoopId loop : plan.comesUndone) one["comes_undone"].push_back(loop.value);
    one["proved"] = plan.proved;
    if (!plan.proved) one["reason"] = plan.reason;
    one["why"] = way.why;
    if (!way.whyNot.empty()) one["why_not"] = way.whyNot;
    one["repairs"] = Json::array();
    for (const CraftRepair repair : way.repairs) one["repairs"].push_back(idOf(repair));
    one["cautions"] = Json::array();
    for (const Caution& caution : plan.cautions)
        one["cautions"].push_back({{"before_move", caution.beforeMove + 1}, {"words", caution.words}});
    one["moves"] = Json::array();
    for (const PlannedMove& move : plan.moves) {
        one["moves"].push_back({{"move", textOf(move.move)},
                                {"row", move.row},
                                {"stitch", move.stitch},
                                {"column", move.column},
                                {"words", move.words}});
    }
    return one;
}

/// only: the one plan to list; 0: all.
Json documentOf(const WaysBack& ways, const std::vector<std::size_t>& listed, int only) {
    Json document;
    document["plans"] = Json::array();
    int number = 0;
    for (const std::size_t i : listed) {
        if (++number != only && only != 0) continue;
        document["plans"].push_back(oneOf(ways.all[i], number));
    }
    const auto place = [&](const std::optional<std::size_t>& chosen) -> Json {
        if (!chosen) return nullptr;
        const auto at = std::find(listed.begin(), listed.end(), *chosen);
        if (at == listed.end()) return nullptr;
        return at - listed.begin() + 1;
    };
    document["chosen"] = {{"gentlest", place(ways.gentlest)},
                          {"fastest", place(ways.fastest)},
                          {"best_result", place(ways.best)}};
    document["not_possible"] = Json::array();
    for (const WaysBack::Refused& r : ways.refused)
        document["not_possible"].push_back({{"family", nameOf(r.family)}, {"why", r.why}});
    return document;
}

/// only: the one plan to show; 0: all.
void show(const WaysBack& ways, const std::vector<std::size_t>& listed, int only, bool moves,
          Console& console) {
    int number = 0;
    for (const std::size_t i : listed) {
        if (++number != only && only != 0) continue;
        const WayBack& way = ways.all[i];
        std::string marks;
        const auto mark = [&](const std::optional<std::size_t>& chosen, const char* word) {
            if (chosen && *chosen == i) marks += (marks.empty() ? " (" : ", ") + std::string(word);
        };
        mark(ways.gentlest, "gentlest");
        mark(ways.fastest, "fastest");
        mark(ways.best, "best result");
        if (!marks.empty()) marks += ")";
        console.print(console.bold(fmt::format("Plan {}: {}{}", number, way.name, marks)) + "\n");
        console.print(fmt::format("    {}; {} in a hundred risk of losing a stitch. {}\n", way.time,
                                  std::lround(way.plan.risk * 100), way.after));
        console.print(fmt::format("    {}{}{}\n", way.why, way.whyNot.empty() ? "" : " But: ", way.whyNot));
        if (!moves) continue;
        std::size_t step = 0;
        const auto say = [&] {
            for (const Caution& caution : way.plan.cautions) {
                if (caution.beforeMove == step) console.print(fmt::format("    !  {}\n", caution.words));
            }
        };
        for (const PlannedMove& move : way.plan.moves) {
            say();
            console.print(fmt::format("  {:3}. {}\n", ++step, move.words));
        }
        say();
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
    const std::vector<std::size_t>& listed = mending.listed();
    if (options.only > static_cast<int>(listed.size())) {
        return fail(fmt::format("there is no plan {}: {} has {}; leave --plan out to see them", options.only,
                                inputName(mending.actualPath()), listed.size()));
    }
    if (console.json()) {
        console.printJson(documentOf(mending.ways(), listed, options.only));
    } else if (mending.same()) {
        console.print("There is nothing to mend: it is as it was meant.\n");
    } else if (listed.empty()) {
        console.print("No way to mend it is known.\n");
    } else {
        show(mending.ways(), listed, options.only, !options.brief, console);
    }
    return listed.empty() && !mending.same() ? 1 : 0;
}

}  // namespace

void addPlan(CLI::App& app, Console& console, Chosen& chosen) {
    CLI::App* const command = app.add_subcommand("plan", "ways to mend a fabric, the cheapest first");
    const auto options = std::make_shared<PlanOptions>();
    options->mending.addTo(*command);
    command->add_option("--plan", options->only, "only this one")->check(CLI::Range(1, 999))->type_name("N");
    command
        ->add_option("--pace", options->mending.pacePath(),
                     "her pace: a file of lines like `seconds-per-stitch 2.5`")
        ->type_name("FILE");
    command->add_flag("--brief", options->brief, "without the moves");
    console.addManners(*command);
    command->footer(
        "Example\n  loopmend-cli plan spoiled.fabric --meant sampler.fabric\n"
        "Exit status: 0 there are plans or nothing is to mend, 1 no plan mends it, 2 could not be done.");
    command->callback(
        [options, &console, &chosen] { chosen = [options, &console] { return run(*options, console); }; });
}

}  // namespace loopmend
