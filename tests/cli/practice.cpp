// SPDX-License-Identifier: MIT
//
// `practice`: a fresh exercise as a lesson file, the same one for the same word.
#include <catch2/catch.hpp>
#include <string>

#include "cli/program.h"

namespace loopmend {

TEST_CASE("an exercise is written as a lesson file, and its word makes it again") {
    const Bench bench;
    const Ran made = bench.run(
        {"practice", "--skill", "hook-up", "--level", "2", "--seed", "3", "-o", "a.json", "--json"});
    INFO(made.err);
    REQUIRE(made.exit == 0);
    const auto document = made.json();
    CHECK(document["skill"] == "hook-up");
    CHECK(document["seed"] == 3);
    CHECK(document["level"] == 2);
    CHECK(document["unique"] == true);
    CHECK(document["faults"].size() <= 1);
    const std::string word = document["id"];
    CHECK(word.rfind("hook-up-2-", 0) == 0);

    const Ran again = bench.run({"practice", "--exercise", word, "-o", "b.json", "--json"});
    REQUIRE(again.exit == 0);
    CHECK(again.json() == document);
    CHECK(bench.bytes("a.json") == bench.bytes("b.json"));
    CHECK(contains(bench.bytes("a.json"), "\"id\": \"" + word + "\""));
    CHECK(bench.run({"lesson", "check", "a.json"}).exit == 0);
    CHECK(bench.names() == std::vector<std::string>{"a.json", "b.json"});
}

TEST_CASE("an exercise is told in words; without a skill the seed chooses") {
    const Bench bench;
    const Ran told = bench.run({"practice", "--seed", "4"});
    INFO(told.err);
    REQUIRE(told.exit == 0);
    CHECK(told.err.empty());
    CHECK(contains(told.out, "The same exercise anywhere: loopmend-cli practice --exercise "));
    CHECK(bench.run({"practice", "--seed", "4"}).out == told.out);
    CHECK(bench.names().empty());
    const Ran none = bench.run({"practice", "--skill", "knit-or-purl", "--level", "1", "--json"});
    REQUIRE(none.exit == 0);
    CHECK(none.json()["faults"].empty());
    CHECK(none.json()["unique"] == true);
}

TEST_CASE("what cannot be exercised is refused with what can") {
    const Bench bench;
    checkRefused(bench.run({"practice", "--skill", "hook-upp", "-o", "x.json"}), 2,
                 {"--skill hook-upp", "there is no such skill", "hook-up"});
    checkRefused(bench.run({"practice", "--skill", "snip-and-graft", "-o", "x.json"}), 2,
                 {"learned in lessons only"});
    checkRefused(bench.run({"practice", "--skill", "seat-a-stitch", "--level", "5", "-o", "x.json"}), 2,
                 {"not practiced at level 5", "level 1 is the nearest"});
    checkRefused(bench.run({"practice", "--exercise", "hook-up-2-zz", "-o", "x.json"}), 2,
                 {"hook-up-2-zz", "mistyped"});
    CHECK(bench.run({"practice", "--skill", "hook-up", "--level", "6"}).exit == 2);
    CHECK(bench.run({"practice", "--skill", "hook-up", "--exercise", "hook-up-2-zz"}).exit == 2);
    CHECK(bench.names().empty());
}

}  // namespace loopmend
