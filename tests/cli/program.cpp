// SPDX-License-Identifier: MIT
#include "cli/program.h"

#include <sys/wait.h>

#include <algorithm>
#include <catch2/catch.hpp>
#include <cstdlib>
#include <fstream>
#include <sstream>

namespace loopmend {
namespace {

std::string quoted(const std::string& word) {
    std::string text = "'";
    for (const char c : word) {
        if (c == '\'') {
            text += "'\\''";
        } else {
            text += c;
        }
    }
    return text + "'";
}

std::string slurp(const std::string& path) {
    std::ifstream file(path, std::ios::binary);
    std::ostringstream bytes;
    bytes << file.rdbuf();
    return bytes.str();
}

}  // namespace

const char* const kEyelets =
    "Eyelet sampler of the Harbour Lane evening knitting circle\n"
    "Row 1 (RS): k2, *yo, k2tog, k2; rep from * to last 3 sts, yo, k2tog, k1.\n"
    "Row 2: purl.\n"
    "Row 3: knit.\n"
    "Row 4: purl.\n"
    "Row 5: k1, *ssk, yo, k2; rep from * to last 4 sts, ssk, yo, k2.\n"
    "Row 6: purl.\n";

nlohmann::ordered_json Ran::json() const {
    INFO("exit " << exit << "\nstandard output:\n" << out << "\nstandard error:\n" << err);
    auto document = nlohmann::ordered_json::parse(out, nullptr, false);
    REQUIRE_FALSE(document.is_discarded());
    return document;
}

Ran Bench::shell(const std::string& line) const {
    const std::string script = "cd " + quoted(scratch_.folder()) + " && export CLI=" + quoted(LOOPMEND_CLI) +
                               " && { " + line + "\n} >" + quoted(aside_.path("out")) + " 2>" +
                               quoted(aside_.path("err"));
    const int status = std::system(("bash -c " + quoted("set -o pipefail; " + script)).c_str());
    REQUIRE(WIFEXITED(status));
    return {WEXITSTATUS(status), slurp(aside_.path("out")), slurp(aside_.path("err"))};
}

Ran Bench::run(const std::vector<std::string>& words, const std::string& input) const {
    std::ofstream(aside_.path("in"), std::ios::binary) << input;
    std::string line = "\"$CLI\"";
    for (const std::string& word : words) line += " " + quoted(word);
    return shell(line + " <" + quoted(aside_.path("in")));
}

void Bench::put(const std::string& name, const std::string& bytes) const {
    std::ofstream(path(name), std::ios::binary) << bytes;
}

std::string Bench::bytes(const std::string& name) const {
    return slurp(path(name));
}

void checkRefused(const Ran& ran, int exit, const std::vector<std::string>& parts) {
    INFO("exit " << ran.exit << "\nstandard output:\n" << ran.out << "\nstandard error:\n" << ran.err);
    CHECK(ran.exit == exit);
    CHECK(ran.out.empty());
    CHECK(std::count(ran.err.begin(), ran.err.end(), '\n') == 1);
    CHECK(ran.err.rfind("loopmend-cli", 0) == 0);
    for (const std::string& part : parts) {
        INFO(part);
        CHECK(contains(ran.err, part));
    }
}

bool contains(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

std::string knitBoth(const Bench& bench, const std::string& fault, const std::string& after, int rows) {
    bench.put("a.txt", kEyelets);
    const Ran spoiled = bench.run({"knit", "a.txt", "-o", "spoiled.fabric", "--rows", std::to_string(rows),
                                   "--fault", fault, "--after", after, "--json"});
    INFO(spoiled.err);
    REQUIRE(spoiled.exit == 0);
    const std::string worked = std::to_string(spoiled.json()["rows"].get<int>());
    REQUIRE(bench.run({"knit", "a.txt", "-o", "meant.fabric", "--rows", worked}).exit == 0);
    return spoiled.json()["itinerary_hash"];
}

}  // namespace loopmend
