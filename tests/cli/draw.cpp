// SPDX-License-Identifier: MIT
#include <catch2/catch.hpp>
#include <string>
#include <vector>

#include "cli/program.h"

namespace loopmend {
namespace {

using Strings = std::vector<std::string>;

}  // namespace

TEST_CASE("draw makes SVG, PDF and PNG of either side") {
    const Bench bench;
    bench.put("a.txt", kEyelets);
    REQUIRE(bench.run({"knit", "a.txt", "-o", "a.fabric"}).exit == 0);
    for (const char* style : {"diagram", "yarn", "chart"}) {
        for (const char* side : {"rs", "ws"}) {
            CAPTURE(style, side);
            const auto draw = [&](const std::string& output) {
                const Ran ran =
                    bench.run({"draw", "a.fabric", "-o", output, "--side", side, "--style", style, "--json"});
                INFO(ran.err);
                REQUIRE(ran.exit == 0);
                const auto document = ran.json();
                CHECK(document["width_mm"].get<double>() > 10);
                CHECK(document["height_mm"].get<double>() > 10);
                return bench.bytes(output);
            };
            const std::string svg = draw("a.svg");
            CHECK(svg.rfind("<svg", 0) == 0);
            CHECK(contains(svg, "</svg>"));
            CHECK(contains(svg, "<title>"));
            CHECK(draw("a.pdf").rfind("%PDF-", 0) == 0);
            CHECK(draw("a.PNG").rfind("\x89PNG\r\n", 0) == 0);
            CHECK(draw("b.svg") == svg);
        }
    }
    bench.run({"draw", "a.fabric", "-o", "rs.svg", "--side", "rs"});
    bench.run({"draw", "a.fabric", "-o", "ws.svg", "--side", "ws"});
    CHECK(bench.bytes("rs.svg") != bench.bytes("ws.svg"));
}

TEST_CASE("draw shows the rows and stitches that are asked for") {
    const Bench bench;
    bench.put("a.txt", kEyelets);
    REQUIRE(bench.run({"knit", "a.txt", "-o", "a.fabric", "--rows", "12"}).exit == 0);
    const auto size = [&](const Strings& more) {
        Strings words = {"draw", "a.fabric", "-o", "a.svg", "--json"};
        words.insert(words.end(), more.begin(), more.end());
        const Ran ran = bench.run(words);
        INFO(ran.err);
        REQUIRE(ran.exit == 0);
        const auto document = ran.json();
        return std::pair<double, double>(document["width_mm"], document["height_mm"]);
    };
    const auto whole = size({});
    CHECK(size({"--rows", "3-6"}).second < whole.second);
    CHECK(size({"--stitches", "2-6"}).first < whole.first);
    CHECK(size({"--stretch", "1.5"}).first > whole.first);
    const std::string unmarked = bench.run({"draw", "a.fabric", "-o", "-"}).out;
    CHECK(bench.run({"draw", "a.fabric", "-o", "-", "--mark", "1,3,a"}).out != unmarked);
    const auto chart = size({"--style", "chart"});
    CHECK(size({"--style", "chart", "--stitches", "2-6"}).first < chart.first);
    CHECK(size({"--style", "chart", "--rows", "2-6"}).second < chart.second);

    const Strings before = bench.names();
    const auto refused = [&](const Strings& more, const Strings& parts) {
        Strings words = {"draw", "a.fabric", "-o", "b.svg"};
        words.insert(words.end(), more.begin(), more.end());
        checkRefused(bench.run(words), 2, parts);
    };
    refused({"--rows", "6-3"}, {"--rows 6-3", "3-8"});
    refused({"--rows", "a-b"}, {"--rows a-b"});
    refused({"--rows", "40-50"}, {"--rows 40-50", "rows 1 to 12"});
    refused({"--stitches", "40-50"}, {"--stitches 40-50", "columns 1 to 21"});
    refused({"--stitches", "0-5"}, {"--stitches 0-5"});
    refused({"--stretch", "9"}, {"--stretch"});
    refused({"--style", "chart", "--mark", "1,1"}, {"--mark", "diagram"});
    refused({"--mark", "1"}, {"--mark 1", "5,7"});
    refused({"--mark", "1,99"}, {"--mark 1,99", "no such stitch"});
    refused({"--style", "photo"}, {"--style", "photo"});
    CHECK(bench.names() == before);
}

TEST_CASE("a picture needs a kind and a place") {
    const Bench bench;
    bench.put("a.txt", kEyelets);
    REQUIRE(bench.run({"knit", "a.txt", "-o", "a.fabric"}).exit == 0);
    checkRefused(bench.run({"draw", "a.fabric", "-o", "a.jpeg"}), 2, {"a.jpeg", ".svg, .pdf or .png"});
    checkRefused(bench.run({"draw", "a.fabric", "-o", "a"}), 2, {"a ", ".svg, .pdf or .png"});
    checkRefused(bench.run({"draw", "a.fabric", "-o", "none/a.svg"}), 2, {"no folder none"});
    CHECK(bench.run({"draw", "a.fabric", "-o", "picture", "--format", "png"}).exit == 0);
    CHECK(bench.bytes("picture").rfind("\x89PNG", 0) == 0);
    CHECK(bench.run({"draw", "a.fabric", "-o", "-", "--format", "pdf"}).out.rfind("%PDF", 0) == 0);
}

}  // namespace loopmend
