// SPDX-License-Identifier: MIT
//
// `case`: what happened to a knitter's own knitting, from what she noticed; and what to look at next.
#include <algorithm>
#include <cstdio>
#include <iostream>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "cli/commands.h"
#include "diagnosis/case.h"
#include "diagnosis/tables.h"
#include "store/case_file.h"

namespace loopmend {

namespace {

struct CaseOptions {
    std::string file;
    std::string ask;
    int rows = 0;
    int stitches = 0;
    std::string output;
    std::string priors;
    bool beginner = false;
};

Json documentOf(const CaseExplanation& e) {
    Json fault = {{"id", e.id},         {"row", e.row},           {"stitch", e.stitch},
                  {"column", e.column}, {"after", name(e.after)}, {"seen_row", e.seenRow}};
    return {{"faults", Json::array({std::move(fault)})},
            {"probability", e.probability},
            {"place_probability", e.placeProbability},
            {"words", e.words},
            {"signs", e.signs},
            {"not_this", e.notThis},
            {"same_fabric_as", e.sameAs}};
}

Json documentOf(const CaseQuestion& q) {
    Json document = {{"kind", q.kind == CaseNote::Kind::look      ? std::string(name(q.look.way))
                              : q.kind == CaseNote::Kind::picture ? "picture"
                              : q.kind == CaseNote::Kind::cameOut ? "came-out"
                                                                  : "safe"}};
    document["row"] = q.rowFrom;
    document["row_to"] = q.rowTo;
    document["stitch_from"] = q.columnFrom;
    document["stitch_to"] = q.columnTo;
    if (q.kind == CaseNote::Kind::look) document["look"] = text(q.look);
    document["words"] = q.words;
    document["touch"] = q.touch;
    document["why"] = q.why;
    document["expected_bits"] = q.bits;
    document["seconds"] = q.seconds;
    document["choices"] = Json::array();
    for (const CaseChoice& c : q.choices)
        document["choices"].push_back({{"words", c.words}, {"place", c.place}});
    return document;
}

Json documentOf(const Case& c, Terms terms) {
    const CaseSettled s = c.settled(terms);
    const CasePlace place = c.place(terms);
    Json document;
    document["explanations"] = Json::array();
    for (const CaseExplanation& e : c.explanations(8, terms))
        document["explanations"].push_back(documentOf(e));
    if (s.explanation && !document["explanations"].empty())
        document["explanations"][0]["same_fabric_as"] = s.explanation->sameAs;
    document["next_look"] = c.question() ? documentOf(*c.question()) : Json(nullptr);
    document["settled"] = s.settled;
    document["words"] = s.words;
    document["second"] = s.second ? documentOf(*s.second) : Json(nullptr);
    document["contradiction"] =
        s.leastCredible < 0 ? Json(nullptr)
                            : Json{{"noticed", s.leastCredible},
                                   {"line", c.notes()[static_cast<std::size_t>(s.leastCredible)].line},
                                   {"words", s.contradiction}};
    document["place"] = {
        {"row_from", place.rowFrom},   {"row_to", place.rowTo},      {"column_from", place.columnFrom},
        {"column_to", place.columnTo}, {"loops", place.loops},       {"loops_in_all", place.loopsInAll},
        {"words", place.words},        {"ruled_out", place.ruledOut}};
    document["looks"] = c.looks();
    return document;
}

void show(const Case& c, Console& console) {
    const CaseSettled s = c.settled(console.terms());
    console.print(console.bold(s.settled ? "Settled. " : "") + s.words + "\n");
    if (s.settled) {
        console.print(s.explanation->signs + "\n");
        if (!s.explanation->notThis.empty()) console.print(s.explanation->notThis + "\n");
    } else {
        for (const CaseExplanation& e : c.explanations(8, console.terms())) {
            if (e.probability < 0.005) break;
            console.print(fmt::format("  {:3.0f} in a hundred: {}\n", 100 * e.probability, e.words));
        }
    }
    for (const std::string& out : c.place(console.terms()).ruledOut) console.print(out + "\n");
    if (!s.contradiction.empty()) console.print(s.contradiction + "\n");
    if (c.question()) {
        console.print(fmt::format("{}{} ({:.0f} seconds)\n", console.bold("Next: "), c.question()->words,
                                  c.question()->seconds));
    } else if (!s.settled) {
        console.print("No further look promises anything.\n");
    }
}

tl::expected<void, Failure> usePriors(const CaseOptions& options, Console& console, CaseStart& start) {
    if (options.beginner) start.beginner = 2;
    if (options.priors.empty()) return {};
    const auto text = console.read(options.priors);
    if (!text) return tl::unexpected<Failure>(text.error());
    auto priors = priorsFromText(*text, inputName(options.priors));
    if (!priors) return fail(priors.error().message);
    start.priors = std::move(*priors);
    return {};
}

/// The words of a pattern, or the path of a file that holds them.
FindPattern patternsOf(Console& console, const std::string& beside) {
    return patternBeside(beside, [&](const std::string& path) -> tl::expected<std::string, FileError> {
        auto text = console.read(path);
        if (!text) return tl::unexpected<FileError>(FileError{text.error().message});
        return std::move(*text);
    });
}

tl::expected<Case, Failure> caseIn(const std::string& text, const std::string& path,
                                   const CaseOptions& options, Console& console) {
    const std::string called = inputName(path);
    // A pattern named by its path is read first: all else is held against it.
    auto file = caseFromText(text, called, patternsOf(console, path));
    if (!file) return fail(file.error().message);
    if (const auto ok = usePriors(options, console, file->start); !ok)
        return tl::unexpected<Failure>(ok.error());
    auto c = caseFrom(*file, called);
    if (!c) return fail(c.error().message);
    return std::move(*c);
}

Outcome runFile(const CaseOptions& options, Console& console) {
    const auto text = console.read(options.file);
    if (!text) return tl::unexpected<Failure>(text.error());
    const auto c = caseIn(*text, options.file, options, console);
    if (!c) return tl::unexpected<Failure>(c.error());
    if (console.json()) {
        console.printJson(documentOf(*c, console.terms()));
    } else {
        show(*c, console);
    }
    return 0;
}

// ---- question by question --------------------------------------------------------------------------------

void say(const std::string& words) {
    std::cout << words << std::flush;
}

/// `3`, or with a place `3 18,12` (row, stitch from the right edge); `?` she can't tell; `b` back; `q` stop.
struct Reply {
    enum class What { choice, cantTell, back, stop, unclear } what = What::unclear;
    std::size_t choice = 0;
    int row = 0;
    int column = 0;
    double sure = 1;
};

Reply replyFrom(const std::string& line) {
    Reply reply;
    if (line == "?" || line == "can't tell" || line == "0") {
        reply.what = Reply::What::cantTell;
        return reply;
    }
    if (line == "b" || line == "back") {
        reply.what = Reply::What::back;
        return reply;
    }
    if (line == "q" || line == "stop") {
        reply.what = Reply::What::stop;
        return reply;
    }
    std::vector<int> numbers;
    std::string digits;
    for (const char ch : line + " ") {
        if (ch >= '0' && ch <= '9' && digits.size() < 6) {
            digits += ch;
            continue;
        }
        if (!digits.empty()) numbers.push_back(std::stoi(digits));
        digits.clear();
    }
    if (numbers.empty() || numbers.front() < 1) return reply;
    reply.what = Reply::What::choice;
    reply.choice = static_cast<std::size_t>(numbers.front());
    if (numbers.size() > 1) reply.row = numbers[1];
    if (numbers.size() > 2) reply.column = numbers[2];
    if (line.find("guess") != std::string::npos) reply.sure = 0.5;
    if (line.find("fairly") != std::string::npos) reply.sure = 0.8;
    return reply;
}

struct Asked {
    Case about;
    bool takenUp = false;  ///< a case file was, where it was left
};

/// What is to be asked about: a case file, or a pattern or a ground from its beginning.
tl::expected<Asked, Failure> caseToAsk(const CaseOptions& options, Console& console) {
    const auto cannotBegin = [](const std::string& why) { return fail("cannot begin: " + why); };
    CaseStart start;
    start.rowsDone = options.rows;
    start.stitches = options.stitches;
    if (const auto ground = caseGroundFrom(options.ask)) {
        start.ground = *ground;
    } else {
        auto words = patternsOf(console, "")(options.ask);
        if (!words) return fail(words.error().message);
        if (*words != options.ask && isObject(*words)) {
            if (options.rows > 0 || options.stitches > 0)
                return cannotBegin(options.ask +
                                   " is a case file and says how many rows and stitches there are; "
                                   "leave out --rows and --stitches");
            auto kept = caseIn(*words, options.ask, options, console);
            if (!kept) return tl::unexpected<Failure>(kept.error());
            return Asked{std::move(*kept), true};
        }
        start.pattern = std::move(*words);
    }
    if (options.rows < 1) return cannotBegin("say how many rows are done, as in --rows 24");
    if (const auto ok = usePriors(options, console, start); !ok) return tl::unexpected<Failure>(ok.error());
    auto made = Case::begin(start);
    if (!made) return cannotBegin(made.error());
    return Asked{std::move(*made)};
}

Outcome runAsk(const CaseOptions& options, Console& console) {
    auto asked = caseToAsk(options, console);
    if (!asked) return tl::unexpected<Failure>(asked.error());
    Case& c = asked->about;
    MachineDisk disk;
    const std::string output = options.output.empty() && asked->takenUp ? options.ask : options.output;
    const auto keep = [&]() -> tl::expected<void, Failure> {
        if (output.empty()) return {};
        const auto kept = writeCase(disk, output, c.start(), c.notes());
        if (!kept) return fail(kept.error().message);
        return {};
    };
    // Whether it can be kept there is seen before she answers; what she wrote by hand stays until she does.
    if (!asked->takenUp || !options.output.empty()) {
        if (const auto kept = keep(); !kept) return tl::unexpected<Failure>(kept.error());
    }
    std::string line;
    bool stopped = false;
    while (c.question()) {
        const CaseQuestion q = *c.question();
        if (console.json()) {
            say(Json{{"question", documentOf(q)}}.dump() + "\n");
        } else {
            say("\n" + q.words + "\n");
            for (std::size_t i = 0; i < q.choices.size(); ++i)
                say(fmt::format("  {:2}  {}{}\n", i + 1, q.choices[i].words,
                                q.choices[i].place ? "  (then row,stitch)" : ""));
            say("   ?  I can't tell    b  back    q  stop\n> ");
        }
        for (bool answered = false; !answered;) {
            if (!std::getline(std::cin, line)) {
                stopped = true;
                break;
            }
            const Reply reply = replyFrom(line);
            std::string wrong;
            switch (reply.what) {
                case Reply::What::stop: stopped = answered = true; break;
                case Reply::What::back:
                    c.back();
                    answered = true;
                    break;
                case Reply::What::cantTell:
                    c.cantTell();
                    answered = true;
                    break;
                case Reply::What::unclear: wrong = "Type the number of an answer, ?, b or q."; break;
                case Reply::What::choice: {
                    if (reply.choice > q.choices.size()) {
                        wrong = fmt::format("There is no answer {}.", reply.choice);
                        break;
                    }
                    const CaseChoice& chosen = q.choices[reply.choice - 1];
                    CaseNote note = chosen.note;
                    note.sure = reply.sure;
                    if (chosen.place &&
                        (reply.row < 1 || (reply.column < 1 && q.look.way != LookWay::follow))) {
                        wrong = fmt::format("Say where: {} row,stitch, say {} {},7.", reply.choice,
                                            reply.choice, std::max(1, q.rowTo));
                        break;
                    }
                    if (chosen.place && note.kind == CaseNote::Kind::picture) {
                        note.row = reply.row;
                        note.column = reply.column;
                    } else if (chosen.place) {
                        note.seen.row = reply.row;
                        note.seen.column = q.look.way == LookWay::follow ? 0 : reply.column;
                    }
                    const auto told = c.tell(note);
                    if (!told) wrong = told.error() + ".";
                    answered = wrong.empty();
                    break;
                }
            }
            if (!wrong.empty()) say(console.json() ? Json{{"problem", wrong}}.dump() + "\n" : wrong + "\n> ");
        }
        if (stopped) break;
        if (const auto kept = keep(); !kept) return tl::unexpected<Failure>(kept.error());
    }
    if (console.json()) {
        console.printJson(documentOf(c, console.terms()));
    } else {
        console.print("\n");
        show(c, console);
        if (!output.empty()) console.print(fmt::format("Kept in {}.\n", output));
    }
    return 0;
}

}  // namespace

void addCase(CLI::App& app, Console& console, Chosen& chosen) {
    CLI::App* const command =
        app.add_subcommand("case", "what happened to a knitter's own knitting, from what she noticed");
    const auto options = std::make_shared<CaseOptions>();
    auto* const file =
        command->add_option("CASE", options->file, "a case file: what was meant, what was noticed")
            ->type_name("");
    auto* const ask =
        command
            ->add_option("--ask", options->ask,
                         "ask question by question: a pattern file, or plain, garter, rib, seed, unknown; a "
                         "case file is taken up where it was left")
            ->type_name("PATTERN");
    file->excludes(ask);
    command->add_option("--rows", options->rows, "with --ask: rows that are done")->type_name("N");
    command->add_option("--stitches", options->stitches, "with --ask: stitches cast on")->type_name("N");
    command
        ->add_option("-o", options->output,
                     "with --ask: keep the answers in this case file (one that is taken up: in itself)")
        ->type_name("FILE");
    command
        ->add_option("--priors", options->priors, "how often mistakes are made: lines of an id and a number")
        ->type_name("FILE");
    command->add_flag("--beginner", options->beginner, "counting takes her twice as long");
    console.addManners(*command);
    command->footer(
        "Examples\n  loopmend-cli case scarf.case\n  loopmend-cli case --ask rib --rows 24 --stitches 32 -o "
        "scarf.case\n  loopmend-cli case --ask scarf.case\nExit status: 0 done; 2 could not be done.");
    command->callback([options, &console, &chosen] {
        chosen = [options, &console]() -> Outcome {
            if (!options->ask.empty()) return runAsk(*options, console);
            if (options->file.empty())
                return fail("case wants a case file, or --ask with a pattern or a ground; see case --help");
            return runFile(*options, console);
        };
    });
}

}  // namespace loopmend
