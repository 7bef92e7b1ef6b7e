// SPDX-License-Identifier: MIT
//
// `read`: what the eye sees of a fabric from one side.
#include <algorithm>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "cli/commands.h"
#include "reading/answer.h"
#include "reading/landmarks.h"
#include "reading/read.h"
#include "reading/symptoms.h"

namespace loopmend {

namespace {

struct Read {
    std::string fabric;
    std::string side = "rs";
    bool symbols = false;
    bool words = false;
    bool landmarks = false;
    bool symptoms = false;
    std::vector<std::string> looks;
    std::string meant;
};

/// The cells of a row from right to left as the side that was asked shows them.
std::vector<Cell> asShown(const ReadRow& row, Side side) {
    std::vector<Cell> cells = row.cells;
    if (side == Side::wrong) std::reverse(cells.begin(), cells.end());
    return cells;
}

Json rowsDocument(const Reading& reading) {
    Json rows = Json::array();
    for (const ReadRow& row : reading.rows) {
        if (row.row < 1) continue;  // the cast-on
        Json symbols = Json::array();
        for (const Cell& cell : row.cells) symbols.push_back(code(cell.symbol));
        rows.push_back({{"row", row.row},
                        {"facing", row.facing == Facing::right ? "rs" : "ws"},
                        {"symbols", std::move(symbols)},
                        {"stitches", row.stitches}});
    }
    return rows;
}

Json landmarksDocument(const std::vector<Landmark>& landmarks, Terms terms) {
    Json list = Json::array();
    for (const Landmark& landmark : landmarks) {
        if (landmark.rowFrom < 1) continue;  // the cast-on
        Json breaks = Json::array();
        for (const LineBreak& at : landmark.breaks)
            breaks.push_back({{"row", at.row}, {"stitch", at.stitch}, {"column", at.column}});
        list.push_back({{"kind", name(landmark.kind)},
                        {"row_from", landmark.rowFrom},
                        {"row_to", landmark.rowTo},
                        {"column", landmark.column},
                        {"breaks_at", landmark.breaksAt},
                        {"breaks", std::move(breaks)},
                        {"words", words(landmark, terms)}});
        if (!landmark.between.empty()) list.back()["rows_between"] = landmark.between;
    }
    return list;
}

Json symptomsDocument(const std::vector<Symptom>& symptoms) {
    Json list = Json::array();
    for (const Symptom& symptom : symptoms) {
        list.push_back({{"kind", name(symptom.kind)},
                        {"row", symptom.row},
                        {"stitch", symptom.stitch},
                        {"column", symptom.column},
                        {"seen_from", name(symptom.seenFrom)},
                        {"words", symptom.words}});
    }
    return list;
}

/// The cloth as it hangs from the needle, the newest row on top.
void showSymbols(const Reading& reading, Console& console) {
    std::size_t width = 1;
    for (const ReadRow& row : reading.rows) {
        for (const Cell& cell : row.cells) width = std::max(width, code(cell.symbol).size());
    }
    std::size_t most = 0;
    for (const ReadRow& row : reading.rows) most = std::max(most, row.cells.size());
    for (auto row = reading.rows.rbegin(); row != reading.rows.rend(); ++row) {
        std::string line;
        const std::vector<Cell> cells = asShown(*row, reading.side);
        line.append((most - cells.size()) * (width + 1), ' ');
        for (auto cell = cells.rbegin(); cell != cells.rend(); ++cell) {
            line += fmt::format("{:>{}} ", code(cell->symbol), width);
        }
        console.print(fmt::format("{:>4} {} {}\n", row->row, line, row->stitches));
    }
}

void showWords(const Reading& reading, Console& console) {
    for (const ReadRow& row : reading.rows) {
        if (row.row < 1) continue;
        console.print(fmt::format("Row {}, {} stitches, from right to left: ", row.row, row.stitches));
        const std::vector<Cell> cells = asShown(row, reading.side);
        for (std::size_t i = 0, run = 0; i < cells.size(); i += run) {
            const std::string seen = words(cells[i].symbol, console.terms());
            run = 1;
            while (i + run < cells.size() && words(cells[i + run].symbol, console.terms()) == seen) ++run;
            console.print(fmt::format("{}{}{}", i == 0 ? "" : "; ",
                                      run == 1 ? "" : fmt::format("{} times ", run), seen));
        }
        console.print(".\n");
    }
}

/// A sentence of its own: capital letter, full stop.
std::string asSentence(std::string words) {
    if (!words.empty() && words[0] >= 'a' && words[0] <= 'z') {
        words[0] = static_cast<char>(words[0] - 'a' + 'A');
    }
    return words + (words.empty() || words.back() != '.' ? "." : "");
}

void showLandmarks(const std::vector<Landmark>& landmarks, Console& console) {
    if (landmarks.empty()) console.print("There are no lines that the eye could follow.\n");
    for (const Landmark& landmark : landmarks) {
        console.print(asSentence(words(landmark, console.terms())) + "\n");
    }
}

void showSymptoms(const std::vector<Symptom>& symptoms, Console& console) {
    if (symptoms.empty()) console.print("Nothing stands out on this side.\n");
    for (const Symptom& symptom : symptoms) console.print(asSentence(symptom.words) + "\n");
}

std::string_view name(Sighting::What what) {
    switch (what) {
        case Sighting::What::nothing: return "nothing";
        case Sighting::What::number: return "number";
        case Sighting::What::beyond: return "beyond";
        case Sighting::What::ninth: return "ninth";
        case Sighting::What::place: return "place";
        case Sighting::What::sign: return "sign";
        case Sighting::What::repeat: return "repeat";
        case Sighting::What::unnamed: return "unnamed";
        case Sighting::What::unclear: return "unclear";
    }
    return "";
}

Json lookDocument(const Look& look, const LookedAt& piece, Terms terms) {
    const Sighting seen = answer(look, piece);
    Json document = {{"kind", name(look.way)},
                     {"look", text(look)},
                     {"row", look.rowFrom},
                     {"row_to", look.rowTo},
                     {"column_from", look.columnFrom},
                     {"column_to", look.columnTo},
                     {"side", look.side == Side::right ? "rs" : "ws"},
                     {"seconds", seconds(look)},
                     {"words", words(look, piece, terms)}};
    Json found = {{"what", name(seen.what)}, {"words", words(look, seen, terms)}};
    const bool counted = seen.what == Sighting::What::number || seen.what == Sighting::What::ninth ||
                         seen.what == Sighting::What::repeat;
    if (counted) found["by"] = seen.by;
    if (seen.what == Sighting::What::place) {
        found["row"] = seen.row;
        found["column"] = seen.column;
    }
    if (seen.oddity != OddSign::none) found["seen"] = name(seen.oddity);
    document["answer"] = std::move(found);
    return document;
}

/// Looks at the piece, against what was meant if that is there too.
Outcome lookAt(const Read& options, const Fabric& fabric, Knits hands, Console& console) {
    std::vector<Look> looks;
    for (const std::string& one : options.looks) {
        auto look = lookFrom(one);
        if (!look) return tl::unexpected<Failure>(Failure{look.error(), 2});
        if (options.side == "ws" && one.find("side=") == std::string::npos) look->side = Side::wrong;
        looks.push_back(*look);
    }
    std::optional<LookedAt> piece;
    if (options.meant.empty()) {
        piece.emplace(fabric, hands);
    } else {
        const auto meant = console.readFabric(options.meant);
        if (!meant) return tl::unexpected<Failure>(meant.error());
        piece.emplace(fabric, meant->fabric, nullptr, hands);
    }
    Json list = Json::array();
    for (const Look& look : looks) {
        if (console.json()) {
            list.push_back(lookDocument(look, *piece, console.terms()));
        } else {
            console.print(fmt::format("{}\n  {}\n", words(look, *piece, console.terms()),
                                      words(look, answer(look, *piece), console.terms())));
        }
    }
    if (console.json()) {
        Json document;
        document["side"] = options.side;
        document["looks"] = std::move(list);
        console.printJson(document);
    }
    return 0;
}

Outcome run(const Read& options, Console& console) {
    const auto file = console.readFabric(options.fabric);
    if (!file) return tl::unexpected<Failure>(file.error());
    const Knits hands = file->notes.mirrored ? Knits::leftHanded : Knits::asItShows;
    if (!options.looks.empty()) return lookAt(options, file->fabric, hands, console);
    const Reading reading = readFrom(file->fabric, options.side == "ws" ? Side::wrong : Side::right, hands);
    if (console.json()) {
        Json document;
        document["side"] = options.side;
        document["rows"] = rowsDocument(reading);
        document["landmarks"] = landmarksDocument(landmarks(file->fabric, reading), console.terms());
        document["symptoms"] = symptomsDocument(symptoms(file->fabric, reading, console.terms()));
        console.printJson(document);
        return 0;
    }
    if (options.words) showWords(reading, console);
    if (options.landmarks) showLandmarks(landmarks(file->fabric, reading), console);
    if (options.symptoms) showSymptoms(symptoms(file->fabric, reading, console.terms()), console);
    const bool other = options.words || options.landmarks || options.symptoms;
    if (options.symbols || !other) showSymbols(reading, console);
    return 0;
}

}  // namespace

void addRead(CLI::App& app, Console& console, Chosen& chosen) {
    CLI::App* const command = app.add_subcommand("read", "what the eye sees of a fabric");
    const auto options = std::make_shared<Read>();
    command->add_option("FABRIC", options->fabric, "the fabric to read")->required()->type_name("");
    command->add_option("--side", options->side, "the side that faces you: right (rs) or wrong (ws)")
        ->check(CLI::IsMember({"rs", "ws"}))
        ->type_name("rs|ws");
    command->add_flag("--symbols", options->symbols,
                      "a short code for every stitch, as the cloth hangs (the usual one)");
    command->add_flag("--words", options->words, "every row in words");
    command->add_flag("--landmarks", options->landmarks, "lines that the eye follows, and where they break");
    command->add_flag("--symptoms", options->symptoms, "what stands out, whatever was meant");
    command
        ->add_option("--look", options->looks,
                     "a look at the piece, and what a perfect eye finds: close:row=18,column=22, "
                     "count:row=24,column=1-20, follow:line=double-decrease,row=24-1,column=5, "
                     "search:row=1-10,column=1-20 ...")
        ->type_name("LOOK");
    command->add_option("--meant", options->meant, "for looks: the fabric as it should be")
        ->type_name("FABRIC");
    console.addManners(*command);
    command->footer(
        "Examples\n  loopmend-cli read sampler.fabric --side ws --words\n"
        "  loopmend-cli read sampler.fabric --meant right.fabric --look count:row=24,column=1-20 --look "
        "glance\n"
        "Looks: glance, count, row-fits, close, follow, compare, odd-repeat, search, stretch, slant, tug, "
        "turn-over, both-ends;\ntheir parts: row, column (from the right edge as the right side faces you), "
        "line, repeat, side.\n"
        "JSON lists the symbols of a row by column: from the right edge as the right side faces you.\n"
        "Exit status: 0 read, 2 could not be done.");
    command->callback(
        [options, &console, &chosen] { chosen = [options, &console] { return run(*options, console); }; });
}

}  // namespace loopmend
