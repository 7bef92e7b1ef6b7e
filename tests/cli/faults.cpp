// SPDX-License-Identifier: MIT
#include <catch2/catch.hpp>
#include <set>
#include <string>

#include "cli/program.h"

namespace loopmend {
namespace {

nlohmann::ordered_json sheet(const Bench& bench, const std::string& id) {
    const Ran ran = bench.run({"faults", id, "--json"});
    INFO(ran.err);
    REQUIRE(ran.exit == 0);
    const auto document = ran.json();
    REQUIRE(document["faults"].size() == 1);
    CHECK(document["faults"][0]["id"] == id);
    return document["faults"][0];
}

}  // namespace

TEST_CASE("every fault is listed with what it does, how it looks and how it is mended") {
    const Bench bench;
    const Ran ran = bench.run({"faults", "--json"});
    CHECK(ran.exit == 0);
    CHECK(ran.err.empty());
    const auto faults = ran.json()["faults"];
    CHECK(faults.size() >= 30);
    std::set<std::string> ids;
    for (const auto& fault : faults) {
        INFO(fault.dump());
        CHECK(ids.insert(fault["id"]).second);
        CHECK_FALSE(fault["name"].get<std::string>().empty());
        CHECK_FALSE(fault["family"].get<std::string>().empty());
        CHECK(fault["count_effect"].is_number_integer());
        CHECK_FALSE(fault["looks_rs"].get<std::string>().empty());
        CHECK_FALSE(fault["looks_ws"].get<std::string>().empty());
        // Repairs of the craft, and more than to leave it. (To open a ring that was worked in has no name.)
        CHECK(fault["repairs"].size() >= (fault["id"] == "marker_knitted" ? 1U : 2U));
        CHECK(fault["ways_back"].size() >= 2);
        CHECK(fault["first_noticeable_row"].is_number_integer());
        CHECK_FALSE(fault["tried"]["ground"].get<std::string>().empty());
    }
    for (const auto& fault : faults) {
        for (const std::string other : fault["confused_with"]) {
            INFO(other);
            CHECK(ids.count(other) == 1);
        }
    }
    const Ran words = bench.run({"faults"});
    CHECK(words.exit == 0);
    for (const std::string& id : ids) {
        INFO(id);
        CHECK(contains(words.out, "  " + id + " "));
    }
}

TEST_CASE("what is listed is what the craft says") {
    // Common practice: what each of these does to the count, and how it is seen from either side.
    const Bench bench;
    const auto missed = sheet(bench, "missed_yo");
    CHECK(missed["count_effect"] == -1);
    CHECK(contains(missed["looks_rs"], "hole"));
    CHECK(sheet(bench, "accidental_yo")["count_effect"] == 1);
    CHECK(sheet(bench, "merged")["count_effect"] == -1);
    CHECK(sheet(bench, "ladder_stockinette")["count_effect"] == -1);
    CHECK(contains(sheet(bench, "ladder_stockinette")["looks_rs"], "ladder"));
    const auto wrong = sheet(bench, "wrong_kp");
    CHECK(wrong["count_effect"] == 0);
    CHECK(contains(wrong["looks_rs"], "bump"));
    CHECK(contains(wrong["looks_ws"], "V"));
    CHECK(sheet(bench, "twist_tbl")["count_effect"] == 0);
    CHECK(sheet(bench, "twist_tbl")["cue"] == "twist");
}

TEST_CASE("one fault in full, in words") {
    const Bench bench;
    const Ran ran = bench.run({"faults", "twist_tbl"});
    CHECK(ran.exit == 0);
    for (const char* part : {"(twist_tbl)", "On the needle: the count stays right.", "Right side: ",
                             "Wrong side: ", "Easily taken for: ", "Ways back: ", "Next time: "}) {
        INFO(part);
        CHECK(contains(ran.out, part));
    }
    checkRefused(bench.run({"faults", "twist_tlb"}), 2, {"twist_tlb", "twist_tbl", "loopmend-cli faults"});
}

}  // namespace loopmend
