// SPDX-License-Identifier: MIT
//
// `faults`: the catalogue of mistakes, or one of them in full.
#include <cstdlib>
#include <memory>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "cli/commands.h"
#include "cli/fault_sheet.h"
#include "fault/catalogue.h"

namespace loopmend {

namespace {

struct Faults {
    std::string id;
};

std::string countWords(int effect) {
    if (effect == 0) return "the count stays right";
    return fmt::format("{} stitch{} {}", std::abs(effect), std::abs(effect) == 1 ? "" : "es",
                       effect < 0 ? "fewer" : "more");
}

std::string familyWords(const std::string& family) {
    if (family == "column") return "hook up the column";
    if (family == "tink") return "take back stitch by stitch";
    return "take back whole rows";
}

Json documentOf(const Fault& fault, const FaultSheet& sheet, Terms terms) {
    Json one = {{"id", fault.id},
                {"name", name(fault, terms)},
                {"family", name(fault.family)},
                {"count_effect", sheet.countEffect},
                {"looks_rs", sheet.looksRight},
                {"looks_ws", sheet.looksWrong},
                {"confused_with", confusedWith(fault)},
                {"repairs", sheet.repairs},
                {"cause", fault.cause},
                {"prevention", fault.prevention},
                {"first_noticeable_row", nullptr},
                {"cue", nullptr},
                {"tried", {{"ground", sheet.ground}, {"place", text(sheet.place)}}}};
    if (sheet.notice) {
        one["first_noticeable_row"] = sheet.notice->row;
        one["cue"] = name(sheet.notice->cue);
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
    const FaultSheet sheet = sheetOf(fault, console.terms());
    console.print(console.bold(fmt::format("{} ({})", name(fault, console.terms()), fault.id)) + "\n");
    console.print(fmt::format("{}\n", fault.cause));
    console.print(fmt::format("On the needle: {}.\n", countWords(sheet.countEffect)));
    console.print(fmt::format("Right side: {}.\nWrong side: {}.\n", sheet.looksRight, sheet.looksWrong));
    if (sheet.notice) {
        const int later = sheet.notice->row - sheet.place.row;
        console.print(fmt::format("She could notice it {} ({}).\n",
                                  later <= 0   ? std::string("in the same row")
                                  : later == 1 ? std::string("in the next row")
                                               : fmt::format("{} rows later", later),
                                  sheet.notice->words));
    }
    std::string others;
    for (const std::string& other : confusedWith(fault)) {
        const Fault* const known = findFault(other);
        others += others.empty() ? "" : ", or ";
        others += known != nullptr ? name(*known, console.terms()) : other;
    }
    if (!others.empty()) console.print(fmt::format("Easily taken for: {}.\n", others));
    std::string ways;
    for (const std::string& family : sheet.repairs)
        ways += (ways.empty() ? "" : ", or ") + familyWords(family);
    if (!ways.empty()) console.print(fmt::format("Ways back: {}.\n", ways));
    console.print(fmt::format("Next time: {}\n", fault.prevention));
    console.print(fmt::format("(Tried on {}, {}, every later stitch kept above its own column.)\n",
                              sheet.ground, text(sheet.place)));
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
