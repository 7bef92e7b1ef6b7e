// SPDX-License-Identifier: MIT
//
// `read`: what the eye sees of a fabric from one side.
#include <algorithm>
#include <memory>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "cli/commands.h"
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
        list.push_back({{"kind", name(landmark.kind)},
                        {"row_from", landmark.rowFrom},
                        {"row_to", landmark.rowTo},
                        {"column", landmark.column},
                        {"breaks_at", landmark.breaksAt},
                        {"words", words(landmark, terms)}});
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

Outcome run(const Read& options, Console& console) {
    const auto file = console.readFabric(options.fabric);
    if (!file) return tl::unexpected<Failure>(file.error());
    const Reading reading = readFrom(file->fabric, options.side == "ws" ? Side::wrong : Side::right,
                                     file->notes.mirrored ? Knits::leftHanded : Knits::asItShows);
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
    console.addManners(*command);
    command->footer(
        "Example\n  loopmend-cli read sampler.fabric --side ws --words\n"
        "JSON lists the symbols of a row by column: from the right edge as the right side faces you.\n"
        "Exit status: 0 read, 2 could not be done.");
    command->callback(
        [options, &console, &chosen] { chosen = [options, &console] { return run(*options, console); }; });
}

}  // namespace loopmend
