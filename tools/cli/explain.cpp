// SPDX-License-Identifier: MIT
//
// `explain`: which mistake turns one fabric into the other?
#include <cmath>
#include <memory>
#include <string>

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "cli/commands.h"
#include "cli/worked_from.h"
#include "diagnosis/account.h"
#include "diagnosis/explain.h"
#include "fault/catalogue.h"

namespace loopmend {

namespace {

struct Explain {
    std::string meant;
    std::string actual;
};

/// What settles each mistake of an explanation, and what it is not.
std::vector<Account> accountsOf(const Explanation& explanation, Terms terms) {
    std::vector<Account> accounts;
    std::vector<std::string> open = explanation.sameFabricAs;
    for (const FoundFault& fault : explanation.faults) open.push_back(fault.id);
    for (const FoundFault& fault : explanation.faults) accounts.push_back(accountOf(fault.id, open, terms));
    return accounts;
}

Json documentOf(const Explanations& found, Terms terms) {
    Json document;
    document["nothing_wrong"] = found.nothingWrong;
    document["words"] = found.words;
    document["rows"] = found.rows;
    document["explanations"] = Json::array();
    for (const Explanation& explanation : found.explanations) {
        // The likeliest alone is told at length: each takes making it on small pieces and looking.
        const bool first = document["explanations"].empty();
        const std::vector<Account> accounts =
            first ? accountsOf(explanation, terms) : std::vector<Account>(explanation.faults.size());
        Json faults = Json::array();
        for (std::size_t i = 0; i < explanation.faults.size(); ++i) {
            const FoundFault& fault = explanation.faults[i];
            faults.push_back({{"id", fault.id},
                              {"row", fault.row},
                              {"row_to", std::max(fault.row, fault.rowTo)},
                              {"rows", fault.rows},
                              {"stitch", fault.stitch},
                              {"stitch_to", std::max(fault.stitch, fault.stitchTo)},
                              {"after", name(fault.after)},
                              {"after_open", fault.afterOpen},
                              {"seen_row", fault.seenRow}});
            if (!first) continue;
            faults.back()["signs"] = accounts[i].signs;
            faults.back()["not"] = {{"id", accounts[i].notId}, {"words", accounts[i].notWords}};
        }
        document["explanations"].push_back({{"faults", std::move(faults)},
                                            {"probability", explanation.probability},
                                            {"words", explanation.words},
                                            {"same_fabric_as", explanation.sameFabricAs},
                                            {"yarn_agrees", explanation.yarnAgrees}});
    }
    document["unknown"] = Json::array();
    for (const UnknownPlace& place : found.unknown) {
        document["unknown"].push_back({{"row", place.row}, {"stitch", place.stitch}});
    }
    return document;
}

void show(const Explanations& found, Console& console) {
    constexpr double kWorthSaying = 0.015;
    if (found.explanations.empty()) console.print(found.words + "\n");
    std::size_t unsaid = 0;
    for (std::size_t i = 0; i < found.explanations.size(); ++i) {
        const Explanation& explanation = found.explanations[i];
        if (i > 0 && explanation.probability < kWorthSaying) {
            ++unsaid;
            continue;
        }
        const std::string likely =
            found.explanations.size() == 1
                ? ""
                : fmt::format("{} ({:.0f} in a hundred): ", i == 0 ? "Most likely" : "Perhaps",
                              std::round(100 * explanation.probability));
        console.print(console.bold(likely) + explanation.words + "\n");
        if (i == 0) {
            for (const Account& account : accountsOf(explanation, console.terms())) {
                // The first sign is told already.
                for (std::size_t n = 1; n < account.signs.size(); ++n)
                    console.print("  And: " + account.signs[n] + "\n");
                if (!account.notWords.empty()) console.print("  " + account.notWords + "\n");
            }
        }
        if (!explanation.sameFabricAs.empty() && i == 0) {
            std::string same;
            for (const std::string& id : explanation.sameFabricAs) {
                const Fault* const fault = findFault(id);
                same += (same.empty() ? "" : "; ") +
                        std::string(fault == nullptr ? id : name(*fault, console.terms()));
            }
            console.print("  The stitches lie just the same after: " + same + ".\n");
        }
    }
    if (unsaid > 0) {
        console.print(fmt::format("{} more, each less likely; --json lists {}.\n", unsaid,
                                  unsaid == 1 ? "it" : "them"));
    }
    for (const UnknownPlace& place : found.unknown) {
        console.print(place.stitch > 0 ? fmt::format("Row {}, stitch {}: no known mistake explains this.\n",
                                                     place.row, place.stitch)
                                       : fmt::format("Row {}: no known mistake explains this.\n", place.row));
    }
}

Outcome run(const Explain& options, Console& console) {
    const auto meant = console.readFabric(options.meant);
    if (!meant) return tl::unexpected<Failure>(meant.error());
    const auto actual = console.readFabric(options.actual);
    if (!actual) return tl::unexpected<Failure>(actual.error());
    const auto script = scriptFor(*meant, inputName(options.meant));
    if (!script) return tl::unexpected<Failure>(script.error());
    const Explanations found = explain(*script, setupFor(meant->notes), actual->fabric, console.terms());
    if (console.json()) {
        console.printJson(documentOf(found, console.terms()));
    } else {
        show(found, console);
    }
    return found.unknown.empty() && (found.nothingWrong || !found.explanations.empty()) ? 0 : 1;
}

}  // namespace

void addExplain(CLI::App& app, Console& console, Chosen& chosen) {
    CLI::App* const command = app.add_subcommand("explain", "which mistake turns one fabric into the other");
    const auto options = std::make_shared<Explain>();
    command->add_option("MEANT", options->meant, "the fabric as it was meant to be")
        ->required()
        ->type_name("");
    command->add_option("ACTUAL", options->actual, "the fabric as it is")->required()->type_name("");
    console.addManners(*command);
    command->footer(
        "Example\n  loopmend-cli explain sampler.fabric spoiled.fabric\n"
        "Exit status: 0 explained, or nothing is wrong; 1 something is there that no known mistake "
        "explains;\n"
        "2 could not be done.");
    command->callback(
        [options, &console, &chosen] { chosen = [options, &console] { return run(*options, console); }; });
}

}  // namespace loopmend
