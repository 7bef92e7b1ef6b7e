// SPDX-License-Identifier: MIT
//
// `check`: does a written pattern, in words or as a chart, add up?
#include <memory>
#include <optional>

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "cli/commands.h"
#include "cli/pattern_input.h"
#include "pattern/counts.h"
#include "pattern/print.h"

namespace loopmend {

namespace {

struct Check {
    PatternInput pattern;
    std::optional<int> stitches;
};

/// The rows of the report in the words that were asked for.
void useWords(CheckReport& report, const Pattern& pattern, Terms terms) {
    const RowOrder order = rowOrder(pattern);
    for (CheckedRow& row : report.rows) {
        const auto i = static_cast<std::size_t>(row.row) - 1;
        if (i < order.rows.size()) row.text = printBody(pattern.rows[order.rows[i].row], terms);
    }
}

Json documentOf(const CheckReport& report, const Pattern& pattern) {
    Json document;
    document["ok"] = report.ok;
    document["cast_on"] = report.castOn;
    document["multiple"] = nullptr;
    if (report.multiple)
        document["multiple"] = {{"of", report.multiple->of}, {"plus", report.multiple->plus}};
    document["closes"] = report.closes;
    document["rows"] = Json::array();
    for (const CheckedRow& row : report.rows) {
        document["rows"].push_back({{"row", row.row},
                                    {"printed", row.printed},
                                    {"uses", row.uses},
                                    {"makes", row.makes},
                                    {"stitches_after", row.stitchesAfter},
                                    {"fits", row.fits},
                                    {"text", row.text}});
    }
    document["readings"] = Json::array();
    for (const Understood& one : pattern.understood) {
        document["readings"].push_back({{"row", one.row},
                                        {"line", one.line},
                                        {"column", one.column},
                                        {"words", one.words},
                                        {"message", one.message}});
    }
    document["problems"] = Json::array();
    for (const Problem& problem : report.problems) {
        document["problems"].push_back(documentOf(problem));
    }
    return document;
}

std::string multipleWords(const Multiple& multiple) {
    if (multiple.of == 0) return fmt::format("It works over {} stitches only.", multiple.plus);
    if (multiple.plus == 0) {
        return multiple.of == 1 ? "It works over any number of stitches."
                                : fmt::format("It works over any multiple of {} stitches.", multiple.of);
    }
    return fmt::format("It works over a multiple of {} stitches plus {}.", multiple.of, multiple.plus);
}

void show(const CheckReport& report, const Pattern& pattern, Console& console) {
    if (report.castOn > 0) console.print(fmt::format("Cast on {}.\n", report.castOn));
    if (!report.rows.empty()) console.print(console.bold(" row   uses  makes  after\n"));
    for (const CheckedRow& row : report.rows) {
        console.print(fmt::format("{:4} {:6} {:6} {:6}{} {}\n", row.row, row.uses, row.makes,
                                  row.stitchesAfter, row.fits ? " " : "!", row.text));
    }
    for (const Understood& one : pattern.understood) {
        const std::string words = one.words.empty() ? std::string() : fmt::format("“{}”: ", one.words);
        console.print(fmt::format("line {}, column {}: {}{}.\n", one.line, one.column, words, one.message));
    }
    if (report.multiple) console.print(multipleWords(*report.multiple) + "\n");
    if (report.ok) {
        console.print(report.closes ? "It adds up, and its rows can be repeated.\n" : "It adds up.\n");
        return;
    }
    for (const Problem& problem : report.problems) {
        console.print(placed(problem) + "\n");
        for (const std::string& suggestion : problem.suggestions) {
            console.print(fmt::format("    try: {}\n", suggestion));
        }
    }
    const std::size_t n = report.problems.size();
    console.print(console.bold(fmt::format("It does not add up: {} problem{}.", n, n == 1 ? "" : "s")) +
                  "\n");
}

Outcome run(const Check& options, Console& console) {
    const auto pattern = options.pattern.read(console);
    if (!pattern) return tl::unexpected<Failure>(pattern.error());
    CheckReport report = check(*pattern, options.stitches);
    if (console.terms() != Terms::us) useWords(report, *pattern, console.terms());
    if (console.json()) {
        console.printJson(documentOf(report, *pattern));
    } else {
        show(report, *pattern, console);
    }
    return report.ok ? 0 : 1;
}

}  // namespace

void addCheck(CLI::App& app, Console& console, Chosen& chosen) {
    CLI::App* const command =
        app.add_subcommand("check", "read a written pattern or a chart and count its stitches");
    const auto options = std::make_shared<Check>();
    options->pattern.addTo(*command);
    command->add_option("--stitches", options->stitches, "count with so many stitches on the needle")
        ->check(CLI::Range(1, kMostStitches))
        ->type_name("N");
    console.addManners(*command);
    command->footer(
        "Example\n  loopmend-cli check sampler.txt --stitches 61\n"
        "Exit status: 0 it adds up, 1 it does not, 2 it could not be read.");
    command->callback(
        [options, &console, &chosen] { chosen = [options, &console] { return run(*options, console); }; });
}

}  // namespace loopmend
