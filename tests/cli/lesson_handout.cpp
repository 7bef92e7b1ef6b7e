// SPDX-License-Identifier: MIT
#include <catch2/catch.hpp>

#include <string>
#include <vector>

#include "cli/program.h"

namespace loopmend {
namespace {

bool isPdf(const std::string& bytes) {
    return bytes.rfind("%PDF", 0) == 0 && contains(bytes, "%%EOF");
}

}  // namespace

TEST_CASE("lesson handout writes a web page and sheets, small and whole") {
    const Bench bench;
    const Ran ran = bench.run({"lesson", "handout", "a-stitch-that-ran", "-o", "paper", "--json"});
    INFO(ran.err);
    REQUIRE(ran.exit == 0);
    const auto document = ran.json();
    REQUIRE(document["lessons"].size() == 1);
    CHECK(document["lessons"][0]["id"] == "a-stitch-that-ran");
    CHECK(document["lessons"][0]["sheets"].get<int>() >= 4);
    const std::string html = bench.bytes("paper/a-stitch-that-ran.html");
    CHECK(html.size() < 600'000);
    CHECK(contains(html, "</html>"));
    CHECK(contains(html, "Answers"));
    CHECK(contains(html, "Exercise: a-stitch-that-ran"));
    CHECK(contains(html, "stockinette"));
    // Nothing is fetched.
    for (const char* word : {"<script", "src=", "url(", "@import", "<link", "https:"})
        CHECK_FALSE(contains(html, word));
    CHECK(isPdf(bench.bytes("paper/a-stitch-that-ran.pdf")));

    // The same again gives the same; Letter, UK words and the other hand give others.
    REQUIRE(bench.run({"lesson", "handout", "a-stitch-that-ran", "-o", "again"}).exit == 0);
    CHECK(bench.bytes("again/a-stitch-that-ran.html") == html);
    const Ran letter = bench.run({"lesson", "handout", "a-stitch-that-ran", "-o", "again", "--paper",
                                  "letter", "--terms", "uk", "--mirrored"});
    REQUIRE(letter.exit == 0);
    CHECK(contains(letter.out, "sheets of Letter"));
    CHECK(contains(bench.bytes("again/a-stitch-that-ran.html"), "stocking stitch"));
    CHECK_FALSE(bench.bytes("again/a-stitch-that-ran.pdf") == bench.bytes("paper/a-stitch-that-ran.pdf"));
    CHECK(bench.names().size() == 2);
}

TEST_CASE("lesson handout refuses what is no lesson, and leaves nothing behind") {
    const Bench bench;
    bench.put("bad.json", "{");
    checkRefused(bench.run({"lesson", "handout", "bad.json", "-o", "out"}), 2, {"bad.json", "line 1"});
    checkRefused(bench.run({"lesson", "handout", "no-such-lesson", "-o", "out"}), 2, {"no-such-lesson"});
    CHECK(bench.run({"lesson", "handout", "vs-and-bumps", "-o", "out", "--paper", "a5"}).exit == 2);
    CHECK(bench.names() == std::vector<std::string>{"bad.json"});

    // A folder that cannot be one; a file that cannot be written: the other one is as it was.
    checkRefused(bench.run({"lesson", "handout", "vs-and-bumps", "-o", "bad.json"}), 2,
                 {"bad.json", "folder"});
    REQUIRE(bench.shell("mkdir -p out/vs-and-bumps.pdf && echo old > out/vs-and-bumps.html").exit == 0);
    CHECK(bench.run({"lesson", "handout", "vs-and-bumps", "-o", "out"}).exit == 2);
    CHECK(bench.bytes("out/vs-and-bumps.html") == "old\n");
}

}  // namespace loopmend
