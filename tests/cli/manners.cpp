// SPDX-License-Identifier: MIT
//
// What all commands have in common: help, words that are not understood, standard input and output.
#include <catch2/catch.hpp>
#include <string>
#include <vector>

#include "cli/program.h"

namespace loopmend {
namespace {

const std::vector<std::string> kCommands = {"check", "chart", "knit", "faults", "read",    "explain",
                                            "case",  "plan",  "mend", "draw",   "practice"};

}  // namespace

TEST_CASE("every command has help with an example and says what it ends with") {
    const Bench bench;
    const Ran all = bench.run({"--help"});
    CHECK(all.exit == 0);
    CHECK(all.err.empty());
    for (const std::string& command : kCommands) {
        INFO(command);
        CHECK(contains(all.out, "\n  " + command + " "));
        const Ran help = bench.run({command, "--help"});
        CHECK(help.exit == 0);
        CHECK(help.err.empty());
        CHECK(contains(help.out, "Usage: loopmend-cli " + command));
        CHECK(contains(help.out, "Example"));
        CHECK(contains(help.out, "\n  loopmend-cli " + command));
        CHECK(contains(help.out, "--json"));
        CHECK(contains(help.out, "--terms"));
        CHECK(contains(help.out, "Exit status"));
    }
    for (const char* command : {"list", "check", "handout"}) {
        INFO("lesson " << command);
        const Ran help = bench.run({"lesson", command, "--help"});
        CHECK(help.exit == 0);
        CHECK(contains(help.out, std::string("Usage: loopmend-cli lesson ") + command));
        CHECK(contains(help.out, std::string("\n  loopmend-cli lesson ") + command));
        CHECK(contains(help.out, "--json"));
        CHECK(contains(help.out, "Exit status"));
    }
    // Nothing is offered that is not there.
    for (const char* later : {"group"}) {
        INFO(later);
        CHECK_FALSE(contains(all.out, std::string("\n  ") + later + " "));
        checkRefused(bench.run({later}), 2, {std::string("no command ") + later, "--help"});
    }
}

TEST_CASE("the version is a name and a number") {
    const Ran version = Bench().run({"--version"});
    CHECK(version.exit == 0);
    CHECK(version.out.rfind("loopmend-cli 0.", 0) == 0);
}

TEST_CASE("words that are not understood are named, in one line") {
    const Bench bench;
    bench.put("a.txt", kEyelets);
    checkRefused(bench.run({}), 2, {"no command was given", "--help"});
    checkRefused(bench.run({"--json"}), 2, {"--help"});
    checkRefused(bench.run({"chek", "a.txt"}), 2, {"no command chek", "--help"});
    checkRefused(bench.run({"check"}), 2, {"loopmend-cli check: ", "PATTERN", "check --help"});
    checkRefused(bench.run({"check", "a.txt", "b.txt"}), 2, {"b.txt", "check --help"});
    checkRefused(bench.run({"check", "a.txt", "--stiches", "4"}), 2, {"--stiches", "check --help"});
    checkRefused(bench.run({"check", "a.txt", "--stitches", "many"}), 2, {"--stitches", "many"});
    checkRefused(bench.run({"check", "a.txt", "--stitches", "0"}), 2, {"--stitches"});
    checkRefused(bench.run({"check", "a.txt", "--terms", "fr"}), 2, {"--terms", "fr"});
    checkRefused(bench.run({"knit", "a.txt"}), 2, {"--output", "knit --help"});
    checkRefused(bench.run({"knit", "a.txt", "-o", "x", "--after", "lunch"}), 2, {"--after", "lunch"});
    checkRefused(bench.run({"plan", "a.fabric"}), 2, {"--meant"});
    checkRefused(bench.run({"draw", "a.fabric", "-o", "x.svg", "--side", "top"}), 2, {"--side", "top"});
    CHECK(bench.names() == std::vector<std::string>{"a.txt"});
}

TEST_CASE("commands work one behind the other through pipes") {
    const Bench bench;
    bench.put("a.txt", kEyelets);
    const Ran piped = bench.shell("cat a.txt | $CLI knit - -o - | $CLI draw - -o - --style diagram");
    INFO(piped.err);
    CHECK(piped.exit == 0);
    CHECK(piped.out.rfind("<svg", 0) == 0);
    CHECK(contains(piped.err, "Cast on 21 and worked 6 rows"));
    const Ran checked = bench.run({"check", "-", "--json"}, kEyelets);
    CHECK(checked.exit == 0);
    CHECK(checked.json()["ok"] == true);
    CHECK(bench.names() == std::vector<std::string>{"a.txt"});
}

TEST_CASE("standard input stands for one file, standard output for one result") {
    const Bench bench;
    bench.put("a.txt", kEyelets);
    const Ran fabric = bench.run({"knit", "a.txt", "-o", "-"});
    REQUIRE(fabric.exit == 0);
    checkRefused(bench.run({"plan", "-", "--meant", "-"}, fabric.out), 2,
                 {"standard input (-) can stand for one file only"});
    checkRefused(bench.run({"knit", "a.txt", "-o", "-", "--json"}), 2,
                 {"-o - and --json both want standard output"});
    checkRefused(bench.run({"check", "-"}, ""), 2, {"cannot read standard input: it is empty"});
    checkRefused(bench.shell("$CLI check - <&-"), 2, {"cannot read standard input"});
    checkRefused(bench.shell("$CLI check . "), 2, {"cannot read .: it is a folder"});
}

TEST_CASE("a full disk behind standard output is noticed") {
    const Bench bench;
    bench.put("a.txt", kEyelets);
    for (const char* command :
         {"$CLI --help", "$CLI check a.txt", "$CLI check a.txt --json", "$CLI knit a.txt -o -"}) {
        INFO(command);
        const Ran ran = bench.shell(std::string(command) + " >/dev/full");
        CHECK(ran.exit == 2);
        CHECK(contains(ran.err, "cannot write standard output: there is no room left on the disk"));
    }
}

TEST_CASE("colours are for terminals") {
    const Bench bench;
    bench.put("a.txt", kEyelets);
    const std::string plain = bench.run({"check", "a.txt"}).out;
    CHECK_FALSE(contains(plain, "\033"));
    // script gives a program a terminal.
    if (bench.shell("command -v script").exit != 0) return;
    const std::string coloured =
        bench.shell("TERM=xterm NO_COLOR= script -qec \"$CLI check a.txt\" /dev/null").out;
    CHECK(contains(coloured, "\033[1m"));
    CHECK_FALSE(contains(bench.shell("TERM=xterm NO_COLOR=1 script -qec \"$CLI check a.txt\" /dev/null").out,
                         "\033"));
    CHECK_FALSE(contains(bench.shell("TERM=dumb script -qec \"$CLI check a.txt\" /dev/null").out, "\033"));
}

}  // namespace loopmend
