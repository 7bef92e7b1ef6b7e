// SPDX-License-Identifier: MIT
//
// `faults`: the catalogue of mistakes, or one of them in full.
#include <algorithm>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "cli/commands.h"
#include "fault/catalogue.h"
#include "fault/confusions.h"
#include "fault/facts.h"
#include "fault/severity.h"
#include "repair/ways_back.h"

namespace loopmend {

namespace {

struct Faults {
    std::string id;
};

/// A mistake as it was tried on a small piece, and how that piece could be mended.
struct Sheet {
    std::optional<FaultExample> example;
    FaultFacts facts;
    std::vector<Likeness> likenesses;
    std::vector<std::string> takenFor;
    std::vector<CraftRepair> repairs;   ///< of the craft, those of the cheapest way first
    std::vector<std::string> families;  ///< of its ways back, in the same order
};

Sheet sheetOf(const Fault& fault, Terms terms) {
    Sheet sheet;
    sheet.example = exampleOf(fault);
    if (!sheet.example) return sheet;
    sheet.facts = factsOf(*sheet.example, terms);
    sheet.likenesses = likenesses(*sheet.example);
    sheet.takenFor = easilyTakenFor(sheet.likenesses);
    FaultyKnitting& knitting = sheet.example->reading;
    const auto addOnce = [](auto& list, auto one) {
        if (std::find(list.begin(), list.end(), one) == list.end()) list.push_back(std::move(one));
    };
    for (const WayBack& way :
         waysBack(*knitting.meant.fabric, sheet.example->script, knitting.actual.knitter).all) {
        if (!way.plan.carriedOut || (!way.plan.proved && way.plan.leaves < Leaves::visible)) continue;
        addOnce(sheet.families, std::string(nameOf(way.plan.family)));
        for (const CraftRepair repair : way.repairs) addOnce(sheet.repairs, repair);
    }
    return sheet;
}

Json likenessesOf(const std::vector<Likeness>& likenesses) {
    const auto names = [](const std::vector<LookWay>& ways) {
        Json list = Json::array();
        for (const LookWay way : ways) list.push_back(name(way));
        return list;
    };
    Json all = Json::array();
    for (const Likeness& one : likenesses) {
        all.push_back({{"id", one.id}, {"same_at", names(one.same)}, {"told_apart_by", names(one.apart)}});
    }
    return all;
}

Json documentOf(const Fault& fault, const Sheet& sheet, Terms terms) {
    const FaultFacts& facts = sheet.facts;
    Json repairs = Json::array();
    for (const CraftRepair repair : sheet.repairs) repairs.push_back(idOf(repair));
    Json one = {{"id", fault.id},
                {"name", name(fault, terms)},
                {"family", name(fault.family)},
                {"count_effect", facts.countAtRow},
                {"count_later", facts.countLater},
                {"looks_rs", facts.looksRs},
                {"looks_ws", facts.looksWs},
                {"can_run", facts.canRun},
                {"severity", sheet.example ? Json(name(severityOf(*sheet.example, facts))) : Json()},
                {"confused_with", sheet.takenFor},
                {"likenesses", likenessesOf(sheet.likenesses)},
                {"repairs", std::move(repairs)},
                {"ways_back", sheet.families},
                {"cause", fault.cause},
                {"prevention", fault.prevention},
                {"first_noticeable_row", nullptr},
                {"cue", nullptr},
                {"tried", nullptr}};
    if (facts.noticedAfter >= 0) {
        one["first_noticeable_row"] = facts.noticedRow;
        one["cue"] = facts.cue;
    }
    if (sheet.example) {
        one["tried"] = {{"ground", name(sheet.example->ground)}, {"place", text(sheet.example->place)}};
    }
    return one;
}

void showAll(const std::vector<const Fault*>& faults, Console& console) {
    Family family = Family::drops;
    for (std::size_t i = 0; i < faults.size(); ++i) {
        const Fault& fault = *faults[i];
        if (i == 0 || fault.family != family) {
            family = fault.family;
            console.print(console.bold(std::string(name(family))) + "\n");
        }
        console.print(fmt::format("  {:<22} {}\n", fault.id, name(fault, console.terms())));
    }
}

void showOne(const Fault& fault, Console& console) {
    const Sheet sheet = sheetOf(fault, console.terms());
    const FaultFacts& facts = sheet.facts;
    console.print(console.bold(fmt::format("{} ({})", name(fault, console.terms()), fault.id)) + "\n");
    console.print(fmt::format("{}\n", fault.cause));
    console.print(fmt::format("On the needle: {}.\n", facts.countEffect));
    console.print(fmt::format("Right side: {}.\nWrong side: {}.\n", facts.looksRs, facts.looksWs));
    if (sheet.example) console.print(fmt::format("{}\n", severityWords(severityOf(*sheet.example, facts))));
    if (facts.noticedAfter >= 0) {
        const int later = facts.noticedAfter;
        console.print(fmt::format("She could notice it {} ({}).\n",
                                  later == 0   ? std::string("in the same row")
                                  : later == 1 ? std::string("in the next row")
                                               : fmt::format("{} rows later", later),
                                  facts.noticedBy));
    }
    std::string others;
    for (const std::string& other : sheet.takenFor) {
        const Fault* const known = findFault(other);
        others += others.empty() ? "" : ", or ";
        others += known != nullptr ? name(*known, console.terms()) : other;
    }
    if (!others.empty()) console.print(fmt::format("Easily taken for: {}.\n", others));
    std::string ways;
    for (const CraftRepair repair : sheet.repairs)
        ways += (ways.empty() ? "" : "; ") + std::string(wordsFor(repair));
    if (!ways.empty()) console.print(fmt::format("Ways back: {}.\n", ways));
    console.print(fmt::format("Next time: {}\n", fault.prevention));
    if (!sheet.example) return;
    console.print(fmt::format("(Tried on {}, {}, every later stitch kept above its own column.)\n",
                              name(sheet.example->ground), text(sheet.example->place)));
}

Outcome run(const Faults& options, Console& console) {
    std::vector<const Fault*> faults = catalogue();
    if (!options.id.empty()) {
        const Fault* const fault = findFault(options.id);
        if (fault == nullptr) {
            return fail(fmt::format("there is no mistake {}; did you mean {}? loopmend-cli faults lists them",
                                    options.id, nearestFault(options.id)));
        }
        faults = {fault};
    }
    if (console.json()) {
        Json document;
        document["faults"] = Json::array();
        for (const Fault* fault : faults) {
            document["faults"].push_back(
                documentOf(*fault, sheetOf(*fault, console.terms()), console.terms()));
        }
        console.printJson(document);
    } else if (options.id.empty()) {
        showAll(faults, console);
    } else {
        showOne(*faults.front(), console);
    }
    return 0;
}

}  // namespace

void addFaults(CLI::App& app, Console& console, Chosen& chosen) {
    CLI::App* const command = app.add_subcommand("faults", "the mistakes this program knows, or one in full");
    const auto options = std::make_shared<Faults>();
    command->add_option("ID", options->id, "a mistake, as the list names it")->type_name("");
    console.addManners(*command);
    command->footer(
        "Example\n  loopmend-cli faults missed_yo\n"
        "How a mistake looks and counts is found by working it on a small piece.\n"
        "Exit status: 0 listed, 2 there is no such mistake.");
    command->callback(
        [options, &console, &chosen] { chosen = [options, &console] { return run(*options, console); }; });
}

}  // namespace loopmend
