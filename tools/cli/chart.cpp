// SPDX-License-Identifier: MIT
//
// `chart`: a written pattern as a chart, and a chart as words.
#include <algorithm>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "cli/commands.h"
#include "cli/pattern_input.h"
#include "pattern/chart.h"
#include "pattern/chart_text.h"
#include "pattern/counts.h"
#include "pattern/print.h"
#include "picture/paper/paper.h"
#include "picture/written_chart.h"

namespace loopmend {

namespace {

struct ChartWords {
    PatternInput pattern;
    std::string output;
    std::optional<int> stitches;
    std::string style = "symbols";
    std::string format;
    std::string title;
    double squareMm = 6;
    bool text = false;
    bool words = false;
    bool mirrored = false;
    bool dark = false;
};

ChartStyle styleOf(const ChartWords& options) {
    return options.style == "symbols" ? ChartStyle::symbols : ChartStyle::faceReverse;
}

/// What is wrong with the pattern, instead of a chart of it.
Outcome refuse(const std::vector<Problem>& problems, Console& console) {
    if (console.json()) {
        Json document;
        document["ok"] = false;
        document["problems"] = Json::array();
        for (const Problem& problem : problems) document["problems"].push_back(documentOf(problem));
        console.printJson(document);
        return 1;
    }
    for (const Problem& problem : problems) {
        console.print(placed(problem) + "\n");
        for (const std::string& suggestion : problem.suggestions)
            console.print(fmt::format("    try: {}\n", suggestion));
    }
    return 1;
}

tl::expected<WrittenChart, std::vector<Problem>> chartFrom(const ChartWords& options,
                                                           const std::string& text) {
    if (looksLikeChart(text)) {
        WrittenChart chart = parseChart(text);
        const CheckReport report = check(patternOf(chart), options.stitches);
        if (!report.ok) return tl::make_unexpected(report.problems);
        return chart;
    }
    const Pattern pattern = options.pattern.fromWords(text);
    const CheckReport report = check(pattern, options.stitches);
    if (!report.ok) return tl::make_unexpected(report.problems);
    auto chart = chartOf(pattern, options.stitches);
    if (!chart) return tl::make_unexpected(std::vector<Problem>{chart.error()});
    return std::move(*chart);
}

Json documentOf(const WrittenChart& chart, const ChartWords& options, const Console& console) {
    const Pattern words = patternOf(chart);
    Json document;
    document["ok"] = true;
    document["cast_on"] = nullptr;
    if (chart.castOn) document["cast_on"] = *chart.castOn;
    document["multiple"] = nullptr;
    if (chart.multiple) document["multiple"] = {{"of", chart.multiple->of}, {"plus", chart.multiple->plus}};
    document["round"] = chart.round;
    document["left_handed"] = chart.leftHanded;
    document["squares"] = chart.width();
    document["rows"] = Json::array();
    for (std::size_t r = 0; r < chart.rows.size(); ++r) {
        const WrittenRow& row = chart.rows[r];
        // From the right edge, as the chart shows them.
        std::vector<std::string> cells;
        for (const ChartCell& cell : row.cells)
            cells.push_back(cell.kind == ChartCell::Kind::none ? "#"
                            : cell.kind == ChartCell::Kind::waiting
                                ? ":"
                                : glyphOf(chart.leftHanded ? mirrored(cell.sign) : cell.sign));
        if (chart.leftHanded) std::reverse(cells.begin(), cells.end());
        const std::size_t n = cells.size();
        Json line = {{"row", row.number},
                     {"facing", row.facing == Facing::right ? "rs" : "ws"},
                     {"begins", (row.facing == Facing::right) != chart.leftHanded ? "right" : "left"},
                     {"signs", cells},
                     {"box", nullptr},
                     {"text", printBody(words.rows[r], console.terms())}};
        if (row.boxed()) {
            line["box"] = {{"from", chart.leftHanded ? n - row.boxEnd + 1 : row.boxFirst + 1},
                           {"to", chart.leftHanded ? n - row.boxFirst : row.boxEnd}};
        }
        document["rows"].push_back(std::move(line));
    }
    document["legend"] = Json::array();
    for (const LegendLine& known : legendOf(chart)) {
        Json line = {{"sign", glyphOf(chart.leftHanded ? mirrored(known.sign) : known.sign)},
                     {"rs", nullptr},
                     {"ws", nullptr}};
        if (known.right) line["rs"] = printStep(*known.right, console.terms());
        if (known.wrong) line["ws"] = printStep(*known.wrong, console.terms());
        document["legend"].push_back(std::move(line));
    }
    document["notes"] = chart.notes;
    document["style"] = options.style;
    document["problems"] = Json::array();
    return document;
}

bool endsIn(const std::string& name, const std::string& end) {
    return name.size() >= end.size() && name.compare(name.size() - end.size(), end.size(), end) == 0;
}

Outcome run(const ChartWords& options, Console& console) {
    if (!options.output.empty()) {
        if (const auto may = console.mayWrite(options.output); !may)
            return tl::unexpected<Failure>(may.error());
    }
    if (options.text && options.words) return fail("--text and --words: only one of them can be written");
    const auto text = options.pattern.readText(console);
    if (!text) return tl::unexpected<Failure>(text.error());

    // No picture is asked for: text.
    std::optional<PaperFormat> format;
    if (!options.text && !options.words) {
        if (!options.format.empty())
            format = paperFormatOf("." + options.format);
        else if (!options.output.empty() && options.output != "-" && !endsIn(options.output, ".txt")) {
            format = paperFormatOf(options.output);
            if (!format)
                return fail(fmt::format(
                    "cannot tell what kind of chart {} shall be; end its name in .svg, .pdf, .png or "
                    ".txt, or add --text",
                    options.output));
        }
    }

    auto chart = chartFrom(options, *text);
    if (!chart) return refuse(chart.error(), console);
    if (options.mirrored) chart->leftHanded = !chart->leftHanded;
    if (!options.title.empty()) chart->title = options.title;
    if (const auto problem = sayable(*chart, styleOf(options)); problem && !options.words)
        return fail(fmt::format("cannot draw {} with --style face-reverse: {} Leave the style out",
                                inputName(options.pattern.path()), problem->message),
                    1);

    Json document;
    if (console.json()) document = documentOf(*chart, options, console);
    std::string bytes;
    if (format) {
        WrittenChartOptions drawn;
        drawn.style = styleOf(options);
        drawn.squareMm = options.squareMm;
        drawn.dark = options.dark;
        drawn.terms = console.terms();
        const Drawing drawing = drawingOf(*chart, drawn);
        const auto paper = onPaper(drawing, *format);
        if (!paper) return fail(fmt::format("cannot draw {}: {}", options.output, paper.error()));
        bytes = *paper;
        if (console.json()) {
            document["width_mm"] = drawing.widthMm;
            document["height_mm"] = drawing.heightMm;
        }
    } else {
        bytes = options.words ? print(patternOf(*chart), console.terms())
                              : printChart(*chart, styleOf(options), console.terms());
    }
    if (!options.output.empty()) {
        const auto written = console.write(options.output, bytes);
        if (!written) return tl::unexpected<Failure>(written.error());
        console.tell(options.output, fmt::format("Wrote {}: {} rows of {} squares.", options.output,
                                                 chart->rows.size(), chart->width()));
    } else if (!console.json()) {
        console.print(bytes);
    }
    if (console.json()) console.printJson(document);
    return 0;
}

}  // namespace

void addChart(CLI::App& app, Console& console, Chosen& chosen) {
    CLI::App* const command =
        app.add_subcommand("chart", "a written pattern as a chart, or a chart as words");
    const auto options = std::make_shared<ChartWords>();
    options->pattern.addTo(*command);
    command
        ->add_option(
            "-o,--output", options->output,
            "the chart: its name ends in .svg, .pdf, .png or .txt; text to standard output if not given")
        ->type_name("FILE");
    command->add_option("--format", options->format, "a picture, for another name or for -")
        ->check(CLI::IsMember({"svg", "pdf", "png"}))
        ->type_name("svg|pdf|png");
    command
        ->add_option("--stitches", options->stitches,
                     "drawn for so many stitches where rows do not repeat in one place")
        ->check(CLI::Range(1, kMostStitches))
        ->type_name("N");
    command
        ->add_option("--style", options->style,
                     "symbols, or X for face stitches and O for reverse ones on square paper")
        ->check(CLI::IsMember({"symbols", "face-reverse"}))
        ->type_name("symbols|face-reverse");
    command->add_flag("--text", options->text, "a chart as text, which can be read again");
    command->add_flag("--words", options->words, "the rows in words");
    command->add_flag("--mirrored", options->mirrored, "for a left-handed knitter");
    command->add_option("--square-mm", options->squareMm, "side of a square on paper")
        ->check(CLI::Range(2.0, 40.0))
        ->type_name("MM");
    command->add_option("--title", options->title, "words above the chart")->type_name("WORDS");
    command->add_flag("--dark", options->dark, "on a dark ground");
    console.addManners(*command);
    command->footer(
        "Example\n  loopmend-cli chart eyelets.txt -o eyelets.svg\n"
        "  loopmend-cli chart eyelets.txt --text -o eyelets-chart.txt\n"
        "  loopmend-cli chart eyelets-chart.txt --words\n"
        "Exit status: 0 done, 1 the pattern does not add up or the style cannot say it, 2 could not be "
        "done.");
    command->callback(
        [options, &console, &chosen] { chosen = [options, &console] { return run(*options, console); }; });
}

}  // namespace loopmend
