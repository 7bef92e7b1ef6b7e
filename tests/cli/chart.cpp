// SPDX-License-Identifier: MIT
#include <catch2/catch.hpp>
#include <string>

#include "cli/program.h"

namespace loopmend {

TEST_CASE("chart writes text, SVG, PDF and PNG, and reads its own text") {
    const Bench bench;
    bench.put("a.txt", kEyelets);
    const Ran text = bench.run({"chart", "a.txt"});
    INFO(text.err);
    REQUIRE(text.exit == 0);
    CHECK(text.out.rfind("loopmend chart 1\n", 0) == 0);
    CHECK(contains(text.out, "Legend:"));
    REQUIRE(bench.run({"chart", "a.txt", "--text", "-o", "c.chart"}).exit == 0);
    CHECK(bench.bytes("c.chart") == text.out);
    CHECK(bench.run({"chart", "c.chart"}).out == text.out);
    CHECK(bench.run({"chart", "-"}, text.out).out == text.out);
    for (const char* name : {"a.svg", "a.pdf", "a.png"}) {
        const Ran ran = bench.run({"chart", "c.chart", "-o", name, "--json"});
        INFO(name << ran.err);
        REQUIRE(ran.exit == 0);
        CHECK(ran.json()["width_mm"].get<double>() > 20);
    }
    CHECK(bench.bytes("a.svg").rfind("<svg", 0) == 0);
    CHECK(bench.bytes("a.pdf").rfind("%PDF-", 0) == 0);
    CHECK(bench.bytes("a.png").rfind("\x89PNG\r\n", 0) == 0);
    // A chart of the words and a chart of the chart are one picture.
    REQUIRE(bench.run({"chart", "a.txt", "-o", "b.svg"}).exit == 0);
    CHECK(bench.bytes("a.svg") == bench.bytes("b.svg"));
}

TEST_CASE("the words of a chart are worked as the words it came from") {
    const Bench bench;
    bench.put("a.txt", kEyelets);
    REQUIRE(bench.run({"chart", "a.txt", "--text", "-o", "c.txt"}).exit == 0);
    const Ran words = bench.run({"chart", "c.txt", "--words"});
    REQUIRE(words.exit == 0);
    CHECK(contains(words.out, "Row 1 (RS):"));
    bench.put("w.txt", words.out);
    const auto knit = [&](const char* pattern) {
        const Ran ran = bench.run({"knit", pattern, "-o", "x.fabric", "--stitches", "21", "--json"});
        INFO(ran.err);
        REQUIRE(ran.exit == 0);
        return ran.json()["itinerary_hash"];
    };
    CHECK(knit("a.txt") == knit("w.txt"));
    CHECK(knit("a.txt") == knit("c.txt"));
}

TEST_CASE("check counts a chart as it counts words") {
    const Bench bench;
    bench.put("a.txt", kEyelets);
    REQUIRE(bench.run({"chart", "a.txt", "-o", "c.txt"}).exit == 0);
    const auto document = bench.run({"check", "c.txt", "--stitches", "21", "--json"}).json();
    const auto words = bench.run({"check", "a.txt", "--stitches", "21", "--json"}).json();
    CHECK(document["ok"] == true);
    CHECK(document["multiple"] == words["multiple"]);
    REQUIRE(document["rows"].size() == words["rows"].size());
    for (std::size_t i = 0; i < document["rows"].size(); ++i)
        CHECK(document["rows"][i]["stitches_after"] == words["rows"][i]["stitches_after"]);

    bench.put("bad.txt", "loopmend chart 1\nCast on: 4\nChart:\n2 |  |  |  |\n  |  k  |  |  1\n");
    const Ran bad = bench.run({"check", "bad.txt", "--json"});
    CHECK(bad.exit == 1);
    const auto problems = bad.json()["problems"];
    REQUIRE_FALSE(problems.empty());
    CHECK(problems[0]["line"] == 5);
    CHECK(problems[0]["column"] == 6);
    CHECK(problems[0]["words"] == "k");
    CHECK(problems[0]["suggestions"][0] == "|");
}

TEST_CASE("chart tells programs its rows, signs and legend") {
    const Bench bench;
    bench.put("a.txt", "Row 1 (RS): k1, *ssk, yo; rep from * to last 2 sts, k2.\nRow 2: p.\n");
    const auto document = bench.run({"chart", "a.txt", "--json"}).json();
    CHECK(document["ok"] == true);
    CHECK(document["multiple"]["of"] == 2);
    REQUIRE(document["rows"].size() == 2);
    CHECK(document["rows"][0]["begins"] == "right");
    CHECK(document["rows"][1]["begins"] == "left");
    CHECK(document["rows"][0]["signs"] == nlohmann::ordered_json({"|", "\\", "o", "|", "|"}));
    CHECK(document["rows"][0]["box"]["from"] == 2);
    CHECK(document["rows"][0]["box"]["to"] == 3);
    CHECK(document["legend"][0]["sign"] == "|");
    CHECK(document["legend"][0]["ws"] == "p1");
}

TEST_CASE("the other notation, the other hand, and what cannot be said") {
    const Bench bench;
    bench.put("rib.txt", "Row 1 (RS): *k2, p2; rep from * to end.\nRow 2: *k2, p2; rep from * to end.\n");
    bench.put("lace.txt", "Row 1 (RS): k1, k2tog, yo, k1.\nRow 2: p.\n");
    const Ran faces = bench.run({"chart", "rib.txt", "--style", "face-reverse"});
    CHECK(faces.exit == 0);
    CHECK(contains(faces.out, "[O  O  X  X ]"));
    checkRefused(bench.run({"chart", "lace.txt", "--style", "face-reverse"}), 1, {"row 1 has", "k2tog"});
    const Ran left = bench.run({"chart", "lace.txt", "--mirrored"});
    CHECK(left.exit == 0);
    CHECK(contains(left.out, "Hand: left"));
    CHECK(contains(left.out, "1  |  \\  o  |"));
    REQUIRE(bench.run({"chart", "lace.txt", "-o", "r.svg"}).exit == 0);
    REQUIRE(bench.run({"chart", "lace.txt", "--mirrored", "-o", "l.svg"}).exit == 0);
    CHECK(bench.bytes("r.svg") != bench.bytes("l.svg"));
}

TEST_CASE("chart refuses what it cannot do, and says what is wrong with a pattern") {
    const Bench bench;
    bench.put("a.txt", kEyelets);
    bench.put("bad.txt", "Cast on 10 sts.\nRow 1: k3, k2tog, frob.\n");
    checkRefused(bench.run({"chart", "a.txt", "-o", "a.bmp"}), 2, {"a.bmp", ".svg"});
    checkRefused(bench.run({"chart", "no.txt"}), 2, {"no.txt"});
    const Ran bad = bench.run({"chart", "bad.txt"});
    CHECK(bad.exit == 1);
    CHECK(contains(bad.out, "line 2, column"));
    const Ran json = bench.run({"chart", "bad.txt", "--json"});
    CHECK(json.exit == 1);
    CHECK(json.json()["ok"] == false);
    CHECK_FALSE(json.json()["problems"].empty());
}

}  // namespace loopmend
