// SPDX-License-Identifier: MIT
//
// `draw`: a picture of a fabric without a window.
#include <algorithm>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "cli/commands.h"
#include "picture/chart.h"
#include "picture/drawing.h"
#include "picture/paper/paper.h"
#include "reading/read.h"
#include "shape/cloth.h"

namespace loopmend {

namespace {

constexpr int kRelaxSteps = 700;
constexpr int kMostRelaxed = 9000;  ///< loops and strands

struct Draw {
    std::string fabric;
    std::string output;
    std::string side = "rs";
    std::string rows;
    std::string stitches;
    std::string style = "diagram";
    std::string format;
    std::string title;
    std::vector<std::string> marks;
    double stretch = 1.0;
    double stitchMm = 0;
    bool dark = false;
};

Side sideOf(const Draw& options) {
    return options.side == "ws" ? Side::wrong : Side::right;
}

struct Range {
    int first = 0;
    int last = 0;
};

/// `3-8` or `5`.
std::optional<Range> rangeOf(const std::string& words) {
    const auto number = [](const std::string& text) -> std::optional<int> {
        if (text.empty() || text.size() > 7 || text.find_first_not_of("0123456789") != std::string::npos) {
            return std::nullopt;
        }
        return std::stoi(text);
    };
    const std::size_t dash = words.find('-');
    const std::optional<int> first = number(words.substr(0, dash));
    const std::optional<int> last = dash == std::string::npos ? first : number(words.substr(dash + 1));
    if (!first || !last || *last < *first) return std::nullopt;
    return Range{*first, *last};
}

tl::expected<std::optional<Range>, Failure> asked(const std::string& option, const std::string& words) {
    if (words.empty()) return std::optional<Range>{};
    const std::optional<Range> range = rangeOf(words);
    if (!range) {
        return fail(
            fmt::format("{} {}: give two numbers with a dash, the smaller first, as 3-8", option, words));
    }
    return range;
}

int columnsOf(const Reading& reading) {
    int columns = 0;
    for (const ReadRow& row : reading.rows) {
        for (const Cell& cell : row.cells) columns = std::max(columns, static_cast<int>(cell.column));
    }
    return columns;
}

tl::expected<PaperFormat, Failure> formatFor(const Draw& options) {
    const std::string name = options.format.empty() ? options.output : "." + options.format;
    if (options.format.empty() && options.output == "-") return PaperFormat::svg;
    const std::optional<PaperFormat> format = paperFormatOf(name);
    if (!format) {
        return fail(fmt::format(
            "cannot tell what kind of picture {} shall be; end its name in .svg, .pdf or .png, or "
            "add --format",
            options.output));
    }
    return *format;
}

/// `5,7` or `5,7,a`: the stitch, and the letter written beside it.
tl::expected<Highlight, Failure> markFrom(const std::string& words, const Reading& reading) {
    const std::size_t comma = words.find(',');
    const std::size_t second = comma == std::string::npos ? comma : words.find(',', comma + 1);
    const auto row = rangeOf(words.substr(0, comma));
    const auto stitch =
        comma == std::string::npos ? std::nullopt : rangeOf(words.substr(comma + 1, second - comma - 1));
    if (!row || !stitch || row->first != row->last || stitch->first != stitch->last) {
        return fail(fmt::format("--mark {}: give a row and a stitch with a comma, as 5,7 or 5,7,a", words));
    }
    const Cell* const cell = cellAt(reading, row->first, stitch->first);
    if (cell == nullptr) {
        return fail(
            fmt::format("--mark {}: there is no such stitch; loopmend-cli read shows what there is", words));
    }
    Highlight mark;
    mark.entry = cell->loop;
    mark.line = Highlight::Line::dashes;
    if (second != std::string::npos) mark.letter = words.substr(second + 1);
    return mark;
}

/// What diagrams and charts are asked alike.
template <class Options>
Options asBoth(const Draw& options, const std::optional<Range>& rows, const std::optional<Range>& stitches) {
    Options drawing;
    drawing.side = sideOf(options);
    drawing.dark = options.dark;
    drawing.title = options.title;
    if (rows) {
        drawing.firstRow = rows->first;
        drawing.lastRow = rows->last;
    }
    if (stitches) {
        drawing.firstStitch = stitches->first;
        drawing.lastStitch = stitches->last;
    }
    return drawing;
}

tl::expected<Drawing, Failure> diagramFor(const Draw& options, const Fabric& fabric, const Reading& reading,
                                          const std::optional<Range>& rows,
                                          const std::optional<Range>& stitches) {
    auto drawing = asBoth<DrawingOptions>(options, rows, stitches);
    drawing.stretch = options.stretch;
    if (options.stitchMm > 0) drawing.stitchMm = options.stitchMm;
    for (const std::string& words : options.marks) {
        auto mark = markFrom(words, reading);
        if (!mark) return tl::unexpected<Failure>(mark.error());
        drawing.highlights.push_back(std::move(*mark));
    }
    drawing.style = options.style == "yarn" ? YarnStyle::wool : YarnStyle::outlined;
    ClothOptions cloth;
    cloth.mostSteps = kRelaxSteps;
    // A very large piece would take minutes; from afar nobody sees the difference.
    cloth.relaxed = fabric.entryCount() <= kMostRelaxed;
    Cloth lying = Cloth::drawn(fabric, cloth);
    if (cloth.relaxed) lying.settle();
    return drawingOf(fabric, lying.path(), drawing);
}

tl::expected<Drawing, Failure> chartFor(const Draw& options, const Fabric& fabric, const Reading& reading,
                                        const std::optional<Range>& rows,
                                        const std::optional<Range>& stitches, Terms terms) {
    if (!options.marks.empty())
        return fail("--mark: only a diagram or yarn can mark a stitch; leave --style chart out");
    auto drawing = asBoth<ChartOptions>(options, rows, stitches);
    drawing.terms = terms;
    if (options.stitchMm > 0) drawing.squareMm = options.stitchMm;
    return drawingOf(chartOf(fabric, reading, drawing), drawing);
}

Outcome run(const Draw& options, Console& console) {
    if (const auto may = console.mayWrite(options.output); !may) return tl::unexpected<Failure>(may.error());
    const auto format = formatFor(options);
    if (!format) return tl::unexpected<Failure>(format.error());
    const auto rows = asked("--rows", options.rows);
    if (!rows) return tl::unexpected<Failure>(rows.error());
    const auto stitches = asked("--stitches", options.stitches);
    if (!stitches) return tl::unexpected<Failure>(stitches.error());
    const auto file = console.readFabric(options.fabric);
    if (!file) return tl::unexpected<Failure>(file.error());
    const Reading reading =
        readFrom(file->fabric, sideOf(options), file->notes.mirrored ? Knits::leftHanded : Knits::asItShows);
    const int lastRow = reading.rows.empty() ? 0 : reading.rows.back().row;
    if (*rows && (*rows)->first > lastRow) {
        return fail(fmt::format("--rows {}: {} has rows 1 to {} (0 is the cast-on); name some of them",
                                options.rows, inputName(options.fabric), lastRow));
    }
    const int columns = columnsOf(reading);
    if (*stitches && ((*stitches)->first < 1 || (*stitches)->first > columns)) {
        return fail(fmt::format("--stitches {}: {} has columns 1 to {}; name some of them", options.stitches,
                                inputName(options.fabric), columns));
    }

    const auto picture = options.style == "chart"
                             ? chartFor(options, file->fabric, reading, *rows, *stitches, console.terms())
                             : diagramFor(options, file->fabric, reading, *rows, *stitches);
    if (!picture) return tl::unexpected<Failure>(picture.error());
    const auto bytes = onPaper(*picture, *format);
    if (!bytes) return fail(fmt::format("cannot draw {}: {}", options.output, bytes.error()));
    const auto written = console.write(options.output, *bytes);
    if (!written) return tl::unexpected<Failure>(written.error());

    if (console.json()) {
        Json document;
        document["width_mm"] = picture->widthMm;
        document["height_mm"] = picture->heightMm;
        console.printJson(document);
    }
    console.tell(options.output, fmt::format("Drew {}: {:.0f} by {:.0f} mm.", options.output,
                                             picture->widthMm, picture->heightMm));
    return 0;
}

}  // namespace

void addDraw(CLI::App& app, Console& console, Chosen& chosen) {
    CLI::App* const command = app.add_subcommand("draw", "draw a fabric as SVG, PDF or PNG");
    const auto options = std::make_shared<Draw>();
    command->add_option("FABRIC", options->fabric, "the fabric to draw")->required()->type_name("");
    command->add_option("-o,--output", options->output, "the picture: its name ends in .svg, .pdf or .png")
        ->required()
        ->type_name("FILE");
    command->add_option("--format", options->format, "for another name, or for - (svg if not given)")
        ->check(CLI::IsMember({"svg", "pdf", "png"}))
        ->type_name("svg|pdf|png");
    command->add_option("--side", options->side, "the side that faces you: right (rs) or wrong (ws)")
        ->check(CLI::IsMember({"rs", "ws"}))
        ->type_name("rs|ws");
    command->add_option("--rows", options->rows, "only these rows; 0 is the cast-on")->type_name("A-B");
    command
        ->add_option("--stitches", options->stitches,
                     "only these columns, counted from the right edge as the right side faces you")
        ->type_name("A-B");
    command
        ->add_option("--style", options->style,
                     "the yarn as an outlined drawing or as wool, or a chart of symbols")
        ->check(CLI::IsMember({"diagram", "yarn", "chart"}))
        ->type_name("diagram|yarn|chart");
    command->add_option("--stretch", options->stretch, "pulled so much wider, 0.5 to 3")
        ->check(CLI::Range(0.5, 3.0))
        ->type_name("X");
    command->add_option("--stitch-mm", options->stitchMm, "width of a stitch on paper")
        ->check(CLI::Range(2.0, 40.0))
        ->type_name("MM");
    command->add_option("--title", options->title, "words above the picture")->type_name("WORDS");
    command->add_option("--mark", options->marks, "a stitch to be seen: ROW,STITCH or ROW,STITCH,LETTER")
        ->allow_extra_args(false)
        ->type_name("PLACE");
    command->add_flag("--dark", options->dark, "on a dark ground");
    console.addManners(*command);
    command->footer(
        "Example\n  loopmend-cli draw sampler.fabric -o sampler.png --side ws --rows 1-12\n"
        "Exit status: 0 drawn, 2 could not be done.");
    command->callback(
        [options, &console, &chosen] { chosen = [options, &console] { return run(*options, console); }; });
}

}  // namespace loopmend
