// SPDX-License-Identifier: MIT
#include <catch2/catch.hpp>
#include <string>
#include <vector>

#include "cli/program.h"

namespace loopmend {
namespace {

using Strings = std::vector<std::string>;

}  // namespace

TEST_CASE("knit writes a fabric and says what it has") {
    const Bench bench;
    bench.put("a.txt", kEyelets);
    const Ran ran =
        bench.run({"knit", "a.txt", "-o", "a.fabric", "--stitches", "13", "--rows", "9", "--json"});
    CHECK(ran.exit == 0);
    CHECK(ran.err.empty());
    const auto document = ran.json();
    CHECK(document["rows"] == 9);
    CHECK(document["live"] == 13);
    CHECK(document["counts"] == std::vector<int>(9, 13));
    // A long-tail cast-on is loops over hitches: two rows of 13, then nine more.
    CHECK(document["loops"] == 11 * 13);
    CHECK(document["faults"].empty());
    CHECK(document["yarn_mm"].get<double>() > 9 * 13 * 10);
    const std::string hash = document["itinerary_hash"];
    CHECK(hash.size() == 16);
    CHECK(hash.find_first_not_of("0123456789abcdef") == std::string::npos);
    CHECK(bench.bytes("a.fabric").rfind("loopmend fabric 1\n", 0) == 0);
    CHECK(bench.names() == Strings{"a.fabric", "a.txt"});

    // The same again gives the same bytes; another pattern another knot.
    const std::string before = bench.bytes("a.fabric");
    bench.run({"knit", "a.txt", "-o", "a.fabric", "--stitches", "13", "--rows", "9"});
    CHECK(bench.bytes("a.fabric") == before);
    bench.put("b.txt", "Row 1: knit.\nRow 2: purl.\n");
    CHECK(bench.run({"knit", "b.txt", "-o", "b.fabric", "--stitches", "13", "--rows", "9", "--json"})
              .json()["itinerary_hash"] != hash);
}

TEST_CASE("without a number of stitches the pattern says how many, or what fits") {
    const Bench bench;
    const auto castOn = [&](const std::string& pattern) {
        return bench.run({"knit", "-", "-o", "x.fabric", "--json"}, pattern)
            .json()["counts"]
            .at(0)
            .get<int>();
    };
    CHECK(castOn(kEyelets) == 21);
    CHECK(castOn("Cast on 9 sts.\nRow 1: knit.\n") == 9);
    CHECK(castOn("Row 1: *k7, p7; rep from * to end.\n") == 28);
    CHECK(castOn("Row 1: k12.\n") == 12);
}

TEST_CASE("a habit changes no knot, a cast-on does") {
    const Bench bench;
    bench.put("a.txt", kEyelets);
    const auto hash = [&](Strings more) {
        Strings words = {"knit", "a.txt", "-o", "x.fabric", "--json"};
        words.insert(words.end(), more.begin(), more.end());
        return bench.run(words).json()["itinerary_hash"].get<std::string>();
    };
    const std::string plain = hash({});
    CHECK(hash({"--habit", "combination"}) == plain);
    CHECK(hash({"--habit", "eastern"}) == plain);
    CHECK(hash({"--cast-on", "backward"}) != plain);
}

TEST_CASE("rounds are knitted as rounds") {
    const Bench bench;
    const Ran ran = bench.run({"knit", "-", "-o", "x.fabric", "--json"},
                              "Cast on 8 sts, join in the round.\nRnd 1: *k1, p1; rep from * to end.\n"
                              "Rnd 2: knit.\n");
    INFO(ran.err);
    CHECK(ran.exit == 0);
    CHECK(ran.json()["rows"] == 2);
    CHECK(contains(bench.bytes("x.fabric"), "\nround yes\n"));
}

TEST_CASE("a mistake is knitted in, and how she goes on makes the fabric") {
    const Bench bench;
    bench.put("a.txt", kEyelets);
    const auto knitted = [&](const Strings& more) {
        Strings words = {"knit", "a.txt", "-o", "x.fabric", "--rows", "6", "--json"};
        words.insert(words.end(), more.begin(), more.end());
        const Ran ran = bench.run(words);
        INFO(ran.err);
        REQUIRE(ran.exit == 0);
        return ran.json();
    };
    const auto meant = knitted({});
    const auto count = knitted({"--fault", "missed_yo@1,7", "--after", "count"});
    const auto reading = knitted({"--fault", "missed_yo@1,7", "--after", "reading"});
    const auto rowEnd = knitted({"--fault", "missed_yo@1,7", "--after", "row-end"});
    REQUIRE(reading["faults"].size() == 1);
    CHECK(reading["faults"][0]["id"] == "missed_yo");
    CHECK(reading["faults"][0]["row"] == 1);
    CHECK(reading["faults"][0]["stitch"] == 7);
    // The plain rows above hide it; the next row of holes has to be set upon it.
    CHECK(reading["faults"][0]["first_noticeable_row"] == 5);
    CHECK_FALSE(reading["faults"][0]["cue"].get<std::string>().empty());
    CHECK(meant["counts"] == std::vector<int>(6, 21));
    // By reading, the missing column is left out until a decrease takes the stitch beside it alone.
    CHECK(reading["counts"] == std::vector<int>{20, 20, 20, 20, 21, 21});
    CHECK(rowEnd["rows"] == 1);
    CHECK(reading["rows"] == 6);
    CHECK(reading["itinerary_hash"] != meant["itinerary_hash"]);
    CHECK(reading["itinerary_hash"] != count["itinerary_hash"]);
}

TEST_CASE("several mistakes, and mistakes put somewhere by a seed") {
    const Bench bench;
    bench.put("a.txt", kEyelets);
    const Ran two = bench.run({"knit", "a.txt", "-o", "x.fabric", "--rows", "12", "--fault", "missed_yo@1,7",
                               "--fault", "missed_yo@7,3", "--after", "reading", "--json"});
    INFO(two.err);
    CHECK(two.exit == 0);
    CHECK(two.json()["faults"].size() == 2);

    const auto drawn = [&](const char* seed) {
        const Ran ran = bench.run({"knit", "a.txt", "-o", "x.fabric", "--rows", "12", "--fault", "missed_yo",
                                   "--after", "reading", "--seed", seed, "--json"});
        INFO(ran.err);
        REQUIRE(ran.exit == 0);
        return ran.json()["faults"][0].dump();
    };
    CHECK(drawn("7") == drawn("7"));
    Strings places;
    for (const char* seed : {"1", "2", "3", "4", "5"}) places.push_back(drawn(seed));
    CHECK(std::count(places.begin(), places.end(), places[0]) < 5);
}

TEST_CASE("a fault or place that is not there is refused, and nothing is written") {
    const Bench bench;
    bench.put("a.txt", kEyelets);
    const auto refused = [&](const std::string& fault, const Strings& parts) {
        INFO(fault);
        checkRefused(bench.run({"knit", "a.txt", "-o", "x.fabric", "--fault", fault}), 2, parts);
    };
    refused("missed_yoo@1,7", {"missed_yoo", "missed_yo"});
    refused("missed_yoo", {"missed_yoo", "missed_yo"});
    refused("missed_yo@99,1", {"99"});
    refused("missed_yo@1,99", {"99"});
    refused("missed_yo@2,1", {"row 2"});
    refused("missed_yo@one,two", {"one,two"});
    refused("missed_yo@1", {"missed_yo@1"});
    refused("", {""});
    CHECK(bench.names() == Strings{"a.txt"});
}

TEST_CASE("a pattern that cannot be worked is refused, and nothing is written") {
    const Bench bench;
    bench.put("short.txt", "Cast on 10 sts.\nRow 1: k4, k2tog, k2.\nRow 2: purl.\n");
    checkRefused(bench.run({"knit", "short.txt", "-o", "x.fabric"}), 1, {"short.txt", "line 2", "row 1"});
    bench.put("odd.txt", "Row 1: k2, frobnicate, k2.\n");
    checkRefused(bench.run({"knit", "odd.txt", "-o", "x.fabric"}), 1, {"odd.txt", "line 1"});
    bench.put("a.txt", kEyelets);
    checkRefused(bench.run({"knit", "a.txt", "-o", "x.fabric", "--stitches", "20"}), 1,
                 {"20 stitches", "row 1"});
    checkRefused(bench.run({"knit", "-", "-o", "x.fabric"}, "milk\n"), 1, {"standard input"});
    CHECK(bench.names() == Strings{"a.txt", "odd.txt", "short.txt"});
}

TEST_CASE("an output that cannot be written leaves everything as it was") {
    const Bench bench;
    bench.put("a.txt", kEyelets);
    const auto refused = [&](const std::string& output, const Strings& parts) {
        INFO(output);
        checkRefused(bench.run({"knit", "a.txt", "-o", output}), 2, parts);
    };
    refused(bench.folder(), {"it is a folder"});
    refused("none/x.fabric", {"cannot write none/x.fabric", "no folder none"});
    refused("/proc/x.fabric", {"cannot write /proc/x.fabric", "nothing may be written in the folder /proc"});
    refused("/dev/full", {"cannot write /dev/full", "no room left"});
    CHECK(bench.names() == Strings{"a.txt"});
    // A name with a line feed cannot make two lines of one.
    checkRefused(bench.run({"knit", "no\nsuch", "-o", "x"}), 2, {"no?such"});
}

}  // namespace loopmend
