// SPDX-License-Identifier: MIT
//
// `plan` and `mend`.
#include <catch2/catch.hpp>
#include <string>
#include <vector>

#include "cli/program.h"

namespace loopmend {
namespace {

using Strings = std::vector<std::string>;

}  // namespace

TEST_CASE("plans are listed, cheapest first, and every one mends") {
    for (const char* after : {"count", "reading", "row-end"}) {
        INFO(after);
        const Bench bench;
        knitBoth(bench, "missed_yo@5,7", after, 9);
        const Ran ran = bench.run({"plan", "spoiled.fabric", "--meant", "meant.fabric", "--json"});
        INFO(ran.err);
        CHECK(ran.exit == 0);
        const auto plans = ran.json()["plans"];
        REQUIRE_FALSE(plans.empty());
        double seconds = 0;
        int number = 0;
        for (const auto& plan : plans) {
            CHECK(plan["family"].is_string());
            CHECK(plan["seconds"].get<double>() >= seconds);
            seconds = plan["seconds"];
            CHECK(plan["risk"].get<double>() >= 0);
            CHECK(plan["risk"].get<double>() <= 1);
            CHECK(plan["leaves"].is_string());
            CHECK(plan["shortage_mm"].get<double>() >= 0);
            CHECK(plan["needs_on_tool"].is_array());
            CHECK(plan["proved"] == true);
            REQUIRE_FALSE(plan["moves"].empty());
            for (const auto& move : plan["moves"]) {
                CHECK_FALSE(move["move"].get<std::string>().empty());
                CHECK(move["row"].is_number_integer());
                CHECK(move["stitch"].is_number_integer());
                CHECK(move["column"].is_number_integer());
                CHECK_FALSE(move["words"].get<std::string>().empty());
            }
            const Ran mended = bench.run({"mend", "spoiled.fabric", "--meant", "meant.fabric", "--plan",
                                          std::to_string(++number), "-o", "mended.fabric", "--json"});
            INFO(mended.err);
            CHECK(mended.exit == 0);
            CHECK(mended.json()["equal_to_meant"] == true);
            CHECK(mended.json()["differences"].empty());
            const Ran again = bench.run({"plan", "mended.fabric", "--meant", "meant.fabric", "--json"});
            CHECK(again.exit == 0);
            // What came out tight is right by now, and may be eased; of what does not show nothing is said.
            const auto then = again.json()["plans"];
            CHECK(then.empty() == (plan["leaves"] == "exact"));
            for (const auto& easing : then) {
                const std::string family = easing["family"];
                CHECK((family == "ease" || family == "rip" || family == "wash"));
            }
        }
    }
}

TEST_CASE("what is as it was meant needs no mending") {
    const Bench bench;
    knitBoth(bench, "missed_yo@5,7", "reading", 9);
    const Ran plan = bench.run({"plan", "meant.fabric", "--meant", "meant.fabric"});
    CHECK(plan.exit == 0);
    CHECK(contains(plan.out, "nothing to mend"));
    const Ran mend = bench.run(
        {"mend", "meant.fabric", "--meant", "meant.fabric", "--plan", "1", "-o", "same.fabric", "--json"});
    CHECK(mend.exit == 0);
    CHECK(mend.json()["equal_to_meant"] == true);
    CHECK(bench.bytes("same.fabric") == bench.bytes("meant.fabric"));
}

TEST_CASE("where only lengths differ there are plans too") {
    const Bench bench;
    knitBoth(bench, "snag@4,9", "reading", 9);
    const Ran told = bench.run({"plan", "spoiled.fabric", "--meant", "meant.fabric"});
    CHECK(told.exit == 0);
    CHECK_FALSE(contains(told.out, "nothing to mend"));
    const Ran ran = bench.run({"plan", "spoiled.fabric", "--meant", "meant.fabric", "--json"});
    CHECK(ran.exit == 0);
    const auto plans = ran.json()["plans"];
    REQUIRE_FALSE(plans.empty());
    CHECK(plans[0]["family"] == "ease");
    CHECK(plans[0]["seconds"].get<double>() > 0);
    CHECK(plans[0]["leaves"].is_string());
    REQUIRE_FALSE(plans[0]["moves"].empty());
    const Ran mended = bench.run({"mend", "spoiled.fabric", "--meant", "meant.fabric", "--plan", "1", "-o",
                                  "mended.fabric", "--json"});
    INFO(mended.err);
    CHECK(mended.exit == 0);
    CHECK(bench.bytes("mended.fabric") != bench.bytes("spoiled.fabric"));
}

TEST_CASE("a mended fabric is knitted on like any other") {
    const Bench bench;
    knitBoth(bench, "missed_yo@5,7", "reading", 9);
    REQUIRE(bench.run({"mend", "spoiled.fabric", "--meant", "meant.fabric", "-o", "mended.fabric"}).exit ==
            0);
    // What is noted beside the knot is what it was in the meant one.
    const auto notes = [&](const std::string& file) {
        const std::string bytes = bench.bytes(file);
        return bytes.substr(0, bytes.find("\nmeasure "));
    };
    CHECK(notes("mended.fabric") == notes("meant.fabric"));
}

TEST_CASE("a plan is carried out half-way to look at it, and the rest can be planned again") {
    const Bench bench;
    const std::string spoiled = knitBoth(bench, "ladder_stockinette@7,9", "reading", 9);
    const Ran half = bench.run(
        {"mend", "spoiled.fabric", "--meant", "meant.fabric", "--moves", "2", "-o", "half.fabric", "--json"});
    INFO(half.err);
    CHECK(half.exit == 1);
    CHECK(half.json()["equal_to_meant"] == false);
    CHECK_FALSE(half.json()["differences"].empty());
    CHECK(bench.run({"mend", "half.fabric", "--meant", "meant.fabric", "-o", "whole.fabric"}).exit == 0);
    // Backward to before the first move: the cloth as it was.
    const Ran none = bench.run(
        {"mend", "spoiled.fabric", "--meant", "meant.fabric", "--moves", "0", "-o", "none.fabric", "--json"});
    CHECK(none.exit == 1);
    CHECK(none.json()["itinerary_hash"] == spoiled);
    CHECK(half.json()["itinerary_hash"] != spoiled);
}

TEST_CASE("a plan that is not there, or nowhere to write, is refused") {
    const Bench bench;
    knitBoth(bench, "missed_yo@5,7", "reading", 9);
    const Strings before = bench.names();
    const auto refused = [&](const std::string& plan, const std::string& output, const Strings& parts) {
        checkRefused(
            bench.run({"mend", "spoiled.fabric", "--meant", "meant.fabric", "--plan", plan, "-o", output}), 2,
            parts);
    };
    refused("99", "x.fabric", {"no plan 99", "spoiled.fabric", "loopmend-cli plan"});
    refused("0", "x.fabric", {"--plan"});
    refused("one", "x.fabric", {"--plan", "one"});
    refused("1", "none/x.fabric", {"cannot write none/x.fabric", "no folder none"});
    refused("1", bench.folder(), {"it is a folder"});
    refused("1", "/dev/full", {"no room left"});
    CHECK(bench.names() == before);
}

TEST_CASE("plans go through pipes") {
    const Bench bench;
    knitBoth(bench, "missed_yo@5,7", "reading", 9);
    const Ran ran = bench.shell(
        "$CLI mend - --meant meant.fabric --plan 2 -o - <spoiled.fabric | $CLI plan - --meant meant.fabric");
    INFO(ran.err);
    CHECK(ran.exit == 0);
    CHECK(contains(ran.out, "nothing to mend"));
    // The first plan leaves it tight.
    const Ran tight = bench.shell(
        "$CLI mend - --meant meant.fabric -o - <spoiled.fabric | $CLI plan - --meant meant.fabric");
    INFO(tight.err);
    CHECK(tight.exit == 0);
    CHECK(contains(tight.out, "Ease the slack along the row"));
}

}  // namespace loopmend
