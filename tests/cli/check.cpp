// SPDX-License-Identifier: MIT
#include <catch2/catch.hpp>
#include <string>

#include "cli/program.h"

namespace loopmend {

TEST_CASE("check counts a pattern that adds up") {
    const Bench bench;
    bench.put("a.txt", kEyelets);
    const Ran ran = bench.run({"check", "a.txt", "--stitches", "21", "--json"});
    CHECK(ran.exit == 0);
    CHECK(ran.err.empty());
    const auto document = ran.json();
    CHECK(document["ok"] == true);
    CHECK(document["cast_on"] == 21);
    CHECK(document["multiple"]["of"] == 4);
    CHECK(document["multiple"]["plus"] == 1);
    REQUIRE(document["rows"].size() == 6);
    int number = 0;
    for (const auto& row : document["rows"]) {
        CHECK(row["row"] == ++number);
        CHECK(row["uses"] == 21);
        CHECK(row["makes"] == 21);
        CHECK(row["stitches_after"] == 21);
        CHECK(row["text"].is_string());
    }
    CHECK(document["problems"].empty());

    const Ran words = bench.run({"check", "a.txt"});
    CHECK(words.exit == 0);
    CHECK(contains(words.out, "a multiple of 4 stitches plus 1"));
    CHECK(contains(words.out, "It adds up"));
}

TEST_CASE("check names every row that cannot be worked, with its place") {
    const Bench bench;
    bench.put("a.txt",
              "Cast on 21 sts.\n"
              "Row 1: k2, *yo, k2tog, k2; rep from * to last 3 sts, yo, k1.\n"
              "Row 2: purl.\n"
              "Row 3: k2, frobnicate, k to end.\n"
              "Row 4: k5, p5.\n");
    const Ran ran = bench.run({"check", "a.txt", "--json"});
    CHECK(ran.exit == 1);
    CHECK(ran.err.empty());
    const auto document = ran.json();
    CHECK(document["ok"] == false);
    bool unknown = false;
    bool misfit = false;
    int last = 0;
    for (const auto& problem : document["problems"]) {
        CHECK(problem["row"].is_number_integer());
        CHECK(problem["line"].get<int>() >= last);
        last = problem["line"];
        CHECK(problem["column"].get<int>() >= 1);
        CHECK_FALSE(problem["message"].get<std::string>().empty());
        CHECK(problem["suggestions"].is_array());
        unknown = unknown || problem["line"] == 4;
        misfit = misfit || problem["line"] == 2;
    }
    // Neither hides the other.
    CHECK(unknown);
    CHECK(misfit);
    CHECK(document["problems"].size() >= 2);

    const Ran words = bench.run({"check", "a.txt"});
    CHECK(words.exit == 1);
    CHECK(contains(words.out, "line 4, column"));
    CHECK(contains(words.out, "It does not add up"));
}

TEST_CASE("a pattern over one count only has no multiple") {
    const Bench bench;
    bench.put("a.txt", "Row 1: k3, k2tog.\nRow 2: p4.\n");
    const auto document = bench.run({"check", "a.txt", "--json"}).json();
    CHECK(document["ok"] == true);
    CHECK(document["multiple"]["of"] == 0);
    CHECK(document["multiple"]["plus"] == 5);
    bench.put("b.txt", "Row 1: k3.\nRow 2: p4.\n");
    const Ran none = bench.run({"check", "b.txt", "--json"});
    CHECK(none.exit == 1);
    CHECK(none.json()["multiple"].is_null());
}

TEST_CASE("what is no pattern is refused") {
    const Bench bench;
    bench.put("empty.txt", "");
    bench.put("blank.txt", " \n\n");
    bench.put("binary.txt", std::string("Row 1: k\0knit", 13));
    checkRefused(bench.run({"check", "none.txt"}), 2, {"cannot read none.txt", "no such file"});
    checkRefused(bench.run({"check", "empty.txt"}), 2, {"cannot read empty.txt", "empty"});
    checkRefused(bench.run({"check", "blank.txt"}), 2, {"cannot read blank.txt", "empty"});
    checkRefused(bench.run({"check", "binary.txt"}), 2, {"cannot read binary.txt", "not a text"});
    // Words, but no row among them: read, and wrong.
    const Ran prose = bench.run({"check", "-", "--json"}, "A shopping list\nmilk\n");
    CHECK(prose.exit == 1);
    CHECK_FALSE(prose.json()["problems"].empty());
    // Bytes that are no UTF-8 still give a JSON document.
    const Ran odd = bench.run({"check", "-", "--json"}, "Row 1: k2, \xff\xfe, k2.\n");
    CHECK(odd.exit == 1);
    CHECK(odd.json()["ok"] == false);
}

TEST_CASE("words follow the terms") {
    const Bench bench;
    bench.put("a.txt", "Cast on 9 sts.\nRow 1: k3, bind off 3, k to end.\n");
    bench.put("b.txt", "Cast on 9 sts.\nRow 1: k3, skp, k4.\n");
    CHECK(contains(bench.run({"check", "b.txt", "--terms", "uk"}).out, "skpo"));
    CHECK_FALSE(contains(bench.run({"check", "b.txt", "--terms", "us"}).out, "skpo"));
}

}  // namespace loopmend
