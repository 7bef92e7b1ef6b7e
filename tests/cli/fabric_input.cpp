// SPDX-License-Identifier: MIT
//
// Every command that reads a fabric refuses what is none, in one line, and writes nothing.
#include <catch2/catch.hpp>
#include <string>
#include <vector>

#include "cli/program.h"

namespace loopmend {
namespace {

using Strings = std::vector<std::string>;

std::string replaced(std::string text, const std::string& what, const std::string& by) {
    const std::size_t at = text.find(what);
    REQUIRE(at != std::string::npos);
    return text.replace(at, what.size(), by);
}

}  // namespace

TEST_CASE("damaged, truncated, newer and foreign fabric files are refused") {
    const Bench bench;
    bench.put("a.txt", kEyelets);
    REQUIRE(bench.run({"knit", "a.txt", "-o", "good.fabric"}).exit == 0);
    const std::string good = bench.bytes("good.fabric");
    bench.put("damaged.fabric", replaced(good, " 21p ", " 22p "));
    bench.put("truncated.fabric", good.substr(0, good.size() / 3));
    bench.put("newer.fabric", replaced(good, "fabric 1", "fabric 7"));
    bench.put("foreign.fabric", kEyelets);
    bench.put("empty.fabric", "");
    const Strings before = bench.names();

    const std::vector<std::pair<std::string, std::string>> bad = {
        {"damaged.fabric", "it is damaged"},
        {"truncated.fabric", "it is cut short"},
        {"newer.fabric", "a newer Loopmend wrote it"},
        {"foreign.fabric", "it is not a fabric file"},
        {"empty.fabric", "it is empty"},
        {"none.fabric", "there is no such file"},
        {".", "it is a folder"}};
    for (const auto& [file, why] : bad) {
        const std::vector<Strings> uses = {{"read", file},
                                           {"explain", "good.fabric", file},
                                           {"explain", file, "good.fabric"},
                                           {"plan", file, "--meant", "good.fabric"},
                                           {"plan", "good.fabric", "--meant", file},
                                           {"mend", file, "--meant", "good.fabric", "-o", "out.fabric"},
                                           {"mend", "good.fabric", "--meant", file, "-o", "out.fabric"},
                                           {"draw", file, "-o", "out.svg"}};
        for (const Strings& words : uses) {
            INFO(words[0] << " " << file);
            checkRefused(bench.run(words), 2, {words[0] + ": cannot read " + file + ": ", why, ";"});
        }
    }
    CHECK(bench.names() == before);
}

TEST_CASE("a fabric goes through standard input and output unchanged") {
    const Bench bench;
    bench.put("a.txt", kEyelets);
    REQUIRE(bench.run({"knit", "a.txt", "-o", "a.fabric"}).exit == 0);
    const Ran out = bench.run({"knit", "a.txt", "-o", "-"});
    CHECK(out.exit == 0);
    CHECK(out.out == bench.bytes("a.fabric"));
    const Ran drawn = bench.run({"draw", "-", "-o", "-"}, out.out);
    CHECK(drawn.exit == 0);
    REQUIRE(bench.run({"draw", "a.fabric", "-o", "a.svg"}).exit == 0);
    CHECK(drawn.out == bench.bytes("a.svg"));
}

}  // namespace loopmend
