// SPDX-License-Identifier: MIT
#include <catch2/catch.hpp>
#include <string>
#include <vector>

#include "cli/program.h"

namespace loopmend {
namespace {

using Strings = std::vector<std::string>;

Strings symbolsOf(const nlohmann::ordered_json& document, int row) {
    for (const auto& one : document["rows"]) {
        if (one["row"] == row) return one["symbols"].get<Strings>();
    }
    return {};
}

}  // namespace

TEST_CASE("read gives back what was knitted, from either side") {
    const Bench bench;
    REQUIRE(
        bench.run({"knit", "-", "-o", "a.fabric"}, "Cast on 5 sts.\nRow 1: k2, p3.\nRow 2: purl.\n").exit ==
        0);
    const Ran right = bench.run({"read", "a.fabric", "--json"});
    INFO(right.err);
    CHECK(right.exit == 0);
    const auto rs = right.json();
    REQUIRE(rs["rows"].size() == 2);
    CHECK(rs["rows"][0]["row"] == 1);
    CHECK(rs["rows"][0]["stitches"] == 5);
    CHECK(rs["rows"][1]["stitches"] == 5);
    CHECK(rs["landmarks"].is_array());
    CHECK(rs["symptoms"].is_array());
    // From the right edge as the right side faces you: worked k2, p3; row 2 was purled on the other side.
    CHECK(symbolsOf(rs, 1) == Strings{"k", "k", "p", "p", "p"});
    CHECK(symbolsOf(rs, 2) == Strings{"k", "k", "k", "k", "k"});
    const auto ws = bench.run({"read", "a.fabric", "--side", "ws", "--json"}).json();
    CHECK(symbolsOf(ws, 1) == Strings{"p", "p", "k", "k", "k"});
    CHECK(symbolsOf(ws, 2) == Strings{"p", "p", "p", "p", "p"});
}

TEST_CASE("read says the same in symbols and in words") {
    const Bench bench;
    REQUIRE(
        bench.run({"knit", "-", "-o", "a.fabric"}, "Cast on 5 sts.\nRow 1: k2, p3.\nRow 2: purl.\n").exit ==
        0);
    const Ran symbols = bench.run({"read", "a.fabric"});
    CHECK(symbols.exit == 0);
    // As the cloth hangs: row 1 from left to right.
    CHECK(contains(symbols.out, "p  p  p  k  k"));
    const Ran words = bench.run({"read", "a.fabric", "--words"});
    CHECK(words.exit == 0);
    CHECK(contains(words.out, "Row 1, 5 stitches, from right to left: 2 times a V; 3 times a bump."));
    const Ran turned = bench.run({"read", "a.fabric", "--side", "ws", "--words"});
    CHECK(contains(turned.out, "Row 1, 5 stitches, from right to left: 3 times a V; 2 times a bump."));
}

TEST_CASE("read names lines that the eye follows, and where they break") {
    const Bench bench;
    bench.put("lace.txt", "Row 1: k2, *yo, k2tog, k2; rep from * to last st, k1.\nRow 2: purl.\n");
    REQUIRE(bench.run({"knit", "lace.txt", "-o", "a.fabric", "--stitches", "15", "--rows", "12"}).exit == 0);
    REQUIRE(bench
                .run({"knit", "lace.txt", "-o", "b.fabric", "--stitches", "15", "--rows", "12", "--fault",
                      "missed_yo@7,7", "--after", "reading"})
                .exit == 0);
    const auto breaks = [&](const char* file) {
        const auto document = bench.run({"read", file, "--json"}).json();
        int count = 0;
        for (const auto& landmark : document["landmarks"]) {
            CHECK(landmark["kind"].is_string());
            CHECK(landmark["row_from"].get<int>() >= 1);
            CHECK(landmark["row_to"].get<int>() >= landmark["row_from"].get<int>());
            for (const int row : landmark["breaks_at"].get<std::vector<int>>()) {
                CHECK(row == 7);
                ++count;
            }
        }
        CHECK(document["landmarks"].size() >= 3);
        return count;
    };
    CHECK(breaks("a.fabric") == 0);
    CHECK(breaks("b.fabric") == 1);
    const Ran words = bench.run({"read", "b.fabric", "--landmarks"});
    CHECK(words.exit == 0);
    CHECK(contains(words.out, "row 7"));
}

TEST_CASE("read says what stands out") {
    const Bench bench;
    bench.put("plain.txt", "Row 1: knit.\nRow 2: purl.\n");
    REQUIRE(bench.run({"knit", "plain.txt", "-o", "a.fabric", "--stitches", "15", "--rows", "10"}).exit == 0);
    REQUIRE(bench
                .run({"knit", "plain.txt", "-o", "b.fabric", "--stitches", "15", "--rows", "10", "--fault",
                      "ladder_stockinette@7,5"})
                .exit == 0);
    CHECK(bench.run({"read", "a.fabric", "--json"}).json()["symptoms"].empty());
    const auto symptoms = bench.run({"read", "b.fabric", "--json"}).json()["symptoms"];
    REQUIRE(symptoms.size() == 1);
    CHECK(symptoms[0]["kind"] == "ladder");
    CHECK(symptoms[0]["row"] == 6);
    CHECK(symptoms[0]["column"] == 5);
    CHECK(contains(symptoms[0]["words"], "ladder"));
    CHECK(contains(bench.run({"read", "b.fabric", "--symptoms"}).out, "ladder"));
    CHECK(contains(bench.run({"read", "a.fabric", "--symptoms"}).out, "Nothing stands out"));
}

TEST_CASE("read takes looks at a piece, against what was meant") {
    const Bench bench;
    bench.put("lace.txt", "Row 1: k2, *yo, k2tog, k2; rep from * to last st, k1.\nRow 2: purl.\n");
    REQUIRE(bench.run({"knit", "lace.txt", "-o", "a.fabric", "--stitches", "15", "--rows", "12"}).exit == 0);
    REQUIRE(bench
                .run({"knit", "lace.txt", "-o", "b.fabric", "--stitches", "15", "--rows", "12", "--fault",
                      "missed_yo@7,7", "--after", "reading"})
                .exit == 0);
    const Ran ran = bench.run({"read", "b.fabric", "--meant", "a.fabric", "--json", "--look",
                               "count:row=7,column=1-15", "--look", "close:row=7,column=7", "--look",
                               "glance", "--look", "tug:row=3,column=2,side=ws"});
    INFO(ran.err);
    REQUIRE(ran.exit == 0);
    const auto looks = ran.json()["looks"];
    REQUIRE(looks.size() == 4);
    CHECK(looks[0]["kind"] == "count");
    CHECK(looks[0]["look"] == "count:row=7,column=1-15");
    CHECK(looks[0]["seconds"] == 10.0);
    CHECK(looks[0]["answer"]["what"] == "number");
    CHECK(looks[0]["answer"]["by"] == -1);
    CHECK(looks[1]["answer"]["seen"] == "no-hole");
    CHECK(looks[2]["answer"]["what"] == "ninth");
    CHECK(looks[3]["side"] == "ws");
    CHECK(looks[3]["answer"]["what"] == "nothing");
    const Ran words = bench.run({"read", "b.fabric", "--meant", "a.fabric", "--look", "row-fits:row=13"});
    CHECK(words.exit == 0);
    CHECK(contains(words.out, "Does it come out?"));
    const Ran refused = bench.run({"read", "b.fabric", "--look", "stare:row=3"});
    CHECK(refused.exit == 2);
    CHECK(contains(refused.err, "there is no look stare"));
}

}  // namespace loopmend
