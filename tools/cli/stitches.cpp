// SPDX-License-Identifier: MIT
//
// `stitches`: the operations this program knows, one of them in full, or a sheet of them.
#include <memory>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "cli/commands.h"
#include "picture/paper/handout_paper.h"
#include "picture/stitch_sheet.h"

namespace loopmend {

namespace {

struct Stitches {
    std::vector<std::string> ids;
    std::string output;
};

bool endsIn(const std::string& text, const std::string& end) {
    return text.size() >= end.size() && text.compare(text.size() - end.size(), end.size(), end) == 0;
}

Json documentOf(const ShownStitch& one) {
    Json json = {{"id", one.sampler.id},
                 {"name", one.sampler.name},
                 {"count_effect", one.facts.change},
                 {"looks_rs", one.facts.looksRight},
                 {"looks_ws", one.facts.looksWrong},
                 {"chart", one.chartWords},
                 {"taken_back", one.facts.takenBackWords},
                 {"comes_back_whole", one.facts.comesBack},
                 {"runs", one.facts.runs},
                 {"run", one.facts.runsWords},
                 {"most_like", nullptr},
                 {"look", nullptr}};
    if (!one.takenFor.empty()) {
        json["most_like"] = one.takenFor;
        json["look"] = {{"words", words(one.bestWay)},  {"other_side", one.bestWay.otherSide},
                        {"nearer", one.bestWay.nearer}, {"pull", one.bestWay.pull},
                        {"slant", one.bestWay.slant},   {"plain", one.bestWay.plain()}};
    }
    return json;
}

void showOne(const ShownStitch& one, Console& console) {
    console.print(console.bold(fmt::format("{} ({})", one.sampler.name, one.sampler.id)) + "\n");
    const Handout sheet = stitchSheet({one}, console.terms());
    for (const std::string& sentence : sheet.steps.front().sentences) console.print(sentence + "\n");
}

Outcome run(const Stitches& options, Console& console) {
    const std::vector<Sampler> all = samplers();
    for (const std::string& id : options.ids) {
        if (samplerOf(all, id) == nullptr) {
            return fail(
                fmt::format("there is no stitch {}; loopmend-cli stitches lists those there are", id));
        }
    }
    if (!options.output.empty()) {
        if (const auto may = console.mayWrite(options.output); !may)
            return tl::unexpected<Failure>(may.error());
        if (!endsIn(options.output, ".html") && !endsIn(options.output, ".pdf")) {
            return fail(fmt::format("{}: end its name in .html or .pdf", options.output));
        }
        const Handout sheet = stitchSheet(shownStitches(all, options.ids, console.terms()), console.terms());
        std::string bytes;
        if (endsIn(options.output, ".html")) {
            bytes = htmlOf(sheet);
        } else {
            auto pdf = pdfOf(sheet);
            if (!pdf) return fail(fmt::format("cannot draw {}: {}", options.output, pdf.error()));
            bytes = std::move(*pdf);
        }
        if (const auto written = console.write(options.output, bytes); !written)
            return tl::unexpected<Failure>(written.error());
        console.tell(options.output,
                     fmt::format("Wrote {} stitches to {}.", sheet.steps.size(), options.output));
        return 0;
    }
    if (options.ids.empty() && !console.json()) {
        for (const Sampler& sampler : all)
            console.print(fmt::format("  {:<28} {}\n", sampler.id, sampler.name));
        return 0;
    }
    Json document;
    document["stitches"] = Json::array();
    for (const ShownStitch& one : shownStitches(all, options.ids, console.terms())) {
        if (console.json()) {
            document["stitches"].push_back(documentOf(one));
        } else {
            showOne(one, console);
        }
    }
    if (console.json()) console.printJson(document);
    return 0;
}

}  // namespace

void addStitches(CLI::App& app, Console& console, Chosen& chosen) {
    CLI::App* const command =
        app.add_subcommand("stitches", "the stitches this program knows, some in full, or a sheet of them");
    const auto options = std::make_shared<Stitches>();
    command->add_option("ID", options->ids, "stitches, as the list names them")->type_name("");
    command
        ->add_option("-o,--output", options->output, "a sheet with pictures: its name ends in .html or .pdf")
        ->type_name("FILE");
    console.addManners(*command);
    command->footer(
        "Example\n  loopmend-cli stitches k2tog ssk -o decreases.pdf\n"
        "How a stitch looks, comes undone and runs is found by knitting it on a small piece.\n"
        "Exit status: 0 listed or written, 2 there is no such stitch, or it cannot be written.");
    command->callback(
        [options, &console, &chosen] { chosen = [options, &console] { return run(*options, console); }; });
}

}  // namespace loopmend
