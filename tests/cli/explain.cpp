// SPDX-License-Identifier: MIT
#include <catch2/catch.hpp>
#include <string>
#include <vector>

#include "cli/program.h"

namespace loopmend {
namespace {

using Strings = std::vector<std::string>;

}  // namespace

TEST_CASE("explain finds the mistake that was put in") {
    struct Case {
        std::string fault;
        std::string id;
        int row;
        int stitch;
    };
    const std::vector<Case> cases = {{"missed_yo@5,7", "missed_yo", 5, 7},
                                     {"wrong_kp@3,6", "wrong_kp", 3, 6},
                                     {"ladder_stockinette@8,9", "ladder_stockinette", 8, 9}};
    for (const Case& one : cases) {
        for (const char* after : {"count", "reading"}) {
            INFO(one.fault << " " << after);
            const Bench bench;
            knitBoth(bench, one.fault, after, 10);
            const Ran ran = bench.run({"explain", "meant.fabric", "spoiled.fabric", "--json"});
            INFO(ran.err << ran.out);
            CHECK(ran.exit == 0);
            const auto document = ran.json();
            const auto& explanations = document["explanations"];
            REQUIRE_FALSE(explanations.empty());
            CHECK(document["unknown"].empty());
            double sum = 0;
            double last = 1;
            for (const auto& explanation : explanations) {
                const double probability = explanation["probability"];
                CHECK(probability <= last);
                last = probability;
                sum += probability;
                CHECK_FALSE(explanation["words"].get<std::string>().empty());
                CHECK(explanation["same_fabric_as"].is_array());
                REQUIRE(explanation["faults"].size() == 1);
                for (const char* key : {"id", "row", "stitch", "after", "seen_row"}) {
                    CHECK(explanation["faults"][0].contains(key));
                }
            }
            CHECK(sum == Approx(1));
            const auto& best = explanations[0]["faults"][0];
            CHECK(best["id"] == one.id);
            CHECK(best["row"] == one.row);
            CHECK(best["stitch"] == one.stitch);
        }
    }
}

TEST_CASE("explain says in words what happened, and when nothing is wrong") {
    const Bench bench;
    knitBoth(bench, "missed_yo@5,7", "reading", 10);
    const Ran words = bench.run({"explain", "meant.fabric", "spoiled.fabric"});
    CHECK(words.exit == 0);
    CHECK(contains(words.out, "issed yarn over"));
    CHECK(contains(words.out, "row 5"));
    const Ran same = bench.run({"explain", "meant.fabric", "meant.fabric", "--json"});
    CHECK(same.exit == 0);
    CHECK(same.json()["explanations"].empty());
    CHECK(same.json()["unknown"].empty());
}

TEST_CASE("what no known mistake explains is said to be unknown") {
    const Bench bench;
    bench.put("plain.txt", "Row 1: knit.\nRow 2: purl.\n");
    bench.put("rib.txt", "Row 1: *k1, p1; rep from * to end.\nRow 2: *k1, p1; rep from * to end.\n");
    REQUIRE(bench.run({"knit", "plain.txt", "-o", "a.fabric", "--stitches", "12", "--rows", "8"}).exit == 0);
    REQUIRE(bench.run({"knit", "rib.txt", "-o", "b.fabric", "--stitches", "12", "--rows", "8"}).exit == 0);
    const Ran ran = bench.run({"explain", "a.fabric", "b.fabric", "--json"});
    INFO(ran.err << ran.out);
    CHECK(ran.exit == 1);
    CHECK_FALSE(ran.json()["unknown"].empty());
    for (const auto& place : ran.json()["unknown"]) {
        CHECK(place["row"].is_number_integer());
        CHECK(place["stitch"].is_number_integer());
    }
}

}  // namespace loopmend
