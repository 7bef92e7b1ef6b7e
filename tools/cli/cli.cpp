// SPDX-License-Identifier: MIT
#include "cli/cli.h"

#include <exception>
#include <memory>
#include <sstream>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "cli/commands.h"
#include "cli/help.h"

namespace loopmend {

namespace {

constexpr const char* kProgram = "loopmend-cli";

/// The first word that is neither an option nor the value of one: the command.
std::string commandIn(int argc, char** argv) {
    for (int i = 1; i < argc; ++i) {
        std::string word = argv[i];
        if (word == "--terms") {
            ++i;
        } else if (word.empty() || word[0] != '-' || word == "-") {
            return word;
        }
    }
    return "";
}

std::string firstLine(const std::string& text) {
    return text.substr(0, text.find('\n'));
}

int complain(Console& console, const std::string& command, const std::string& message, int exit) {
    console.remark(fmt::format("{}{}{}: {}", kProgram, command.empty() ? "" : " ", command, message));
    return exit;
}

int run(int argc, char** argv, Console& console) {
    CLI::App app("Read knitting, find the mistake, mend it.", kProgram);
    app.formatter(std::make_shared<PlainHelp>());
    app.set_version_flag("--version", std::string(kProgram) + " " + LOOPMEND_VERSION,
                         "the version of this program");
    app.set_help_flag("-h,--help", "this text");
    app.option_defaults()->always_capture_default(false);
    app.footer(
        "Every command has a --help of its own, with an example. FILE - is standard input or output.\n"
        "Exit status: 0 done and nothing found wrong, 1 done and something is wrong with what was given,\n"
        "2 could not be done (one line says why).");
    Chosen chosen;
    addCommands(app, console, chosen);

    const std::string command = commandIn(argc, argv);
    const bool known =
        !app.get_subcommands([&](CLI::App* one) { return one->get_name() == command; }).empty();
    if (!command.empty() && !known) {
        return complain(console, "",
                        fmt::format("there is no command {}; {} --help lists them", command, kProgram), 2);
    }
    try {
        app.parse(argc, argv);
    } catch (const CLI::Success& asked) {  // --help, --version
        std::ostringstream out;
        app.exit(asked, out, out);
        console.print(out.str());
        const auto shown = console.finish();
        return shown ? 0 : complain(console, command, shown.error().message, 2);
    } catch (const CLI::ParseError& error) {
        return complain(console, command,
                        fmt::format("{}; {}{}{} --help shows how it is used", firstLine(error.what()),
                                    kProgram, command.empty() ? "" : " ", command),
                        2);
    }
    if (!chosen)
        return complain(console, "", fmt::format("no command was given; {} --help lists them", kProgram), 2);

    const Outcome outcome = chosen();
    if (!outcome) return complain(console, command, outcome.error().message, outcome.error().exit);
    if (const auto shown = console.finish(); !shown)
        return complain(console, command, shown.error().message, 2);
    return *outcome;
}

}  // namespace

int runCommandLine(int argc, char** argv) {
    Console console;
    try {
        return run(argc, argv, console);
    } catch (const std::exception& broken) {
        // Never expected: a promise inside was broken, or memory is out.
        return complain(
            console, "",
            fmt::format("stopped by an error in the program itself: {}; please report it with what was given",
                        broken.what()),
            2);
    }
}

}  // namespace loopmend
