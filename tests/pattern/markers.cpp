// SPDX-License-Identifier: MIT
// Rows that go to markers: said in stitches, wherever the markers come to stand (common practice).
#include "support.h"

#include <catch2/catch.hpp>

using namespace loopmend;
using loopmend::testing::after;
using loopmend::testing::printedBack;
using loopmend::testing::told;

namespace {

const std::string kThree = "Cast on 20 sts.\nRow 1 (RS): k4, pm, k10, pm, k6.\n";

std::string lastRow(const std::string& text) {
    const std::string all = printedBack(text);
    const std::size_t at = all.rfind("\nR");
    return at == std::string::npos ? all : all.substr(at + 1);
}

std::string message(const std::string& text) {
    return told(parse(text).problems);
}

}  // namespace

TEST_CASE("rows that are written out for their markers still say what is wrong with their numbers") {
    const Pattern pattern = parse(
        "Cast on 7 sts.\nRow 1: k3, pm, k to end.\nRow 2: p.\nRow 3: k to marker, m1l, sm, k to end.\nRow 4: "
        "p.\n"
        "Repeat rows 3-4 3 more times.\nRow 3: k.\n");
    INFO(told(pattern.problems));
    REQUIRE(pattern.problems.size() == 1);
    CHECK(pattern.problems[0].message.find("stands twice") != std::string::npos);
}

TEST_CASE("to a marker, and to so many stitches before it") {
    // from the wrong side the first marker comes after six
    CHECK(lastRow(kThree + "Row 2: p to marker, sm, k to m, sm, p to end.") ==
          "Row 2: p6, sm, k10, sm, p to end.");
    CHECK(lastRow(kThree + "Row 2: p to 2 sts before next marker, ssp, sm, p to end.") ==
          "Row 2: p4, ssp, sm, p to end.");
    CHECK(lastRow(kThree + "Row 2: *p2, k1; rep from * to m, sm, p to end.") ==
          "Row 2: (p2, k1) 2 times, sm, p to end.");
    CHECK(lastRow(kThree + "Row 2: k2tog to marker, sm, p to end.") ==
          "Row 2: (k2tog) 3 times, sm, p to end.");
    CHECK(lastRow("Cast on 12 sts, join in the round.\nRnd 1: k4, place marker, k8.\nRnd 2: k to marker, "
                  "slip marker, "
                  "p to end.") == "Rnd 2: k4, sm, p to end.");
}

TEST_CASE("markers go along with their stitches") {
    const std::string raglan =
        kThree +
        "Row 2: p.\n"
        "Row 3: k to 1 st before m, m1r, k1, sm, k1, m1l, k to 1 st before m, m1r, k1, sm, k1, "
        "m1l, k to end.\n"
        "Row 4: p.\nRep rows 3-4 twice more.\n";
    const Pattern pattern = parse(raglan);
    INFO(told(pattern.problems));
    CHECK(pattern.problems.empty());
    CHECK(after(check(pattern)) == std::vector<std::int64_t>{20, 20, 24, 24, 28, 28, 32, 32});
    CHECK(lastRow(raglan + "Row 9: k to m, remove marker, p to m, remove marker, k to end.") ==
          "Row 9: k7, remove marker, p16, remove marker, k to end.");
    // each time the marker stands elsewhere: the rows are written out, and that is said
    REQUIRE_FALSE(pattern.understood.empty());
    CHECK(pattern.rows.size() == 8);
    // decreases before and behind
    CHECK(
        lastRow(
            kThree +
            "Row 2: p.\nRow 3: k to 2 sts before m, ssk, sm, k to end.\nRow 4: p to m, sm, p to m, sm, p to "
            "end.") == "Row 4: p6, sm, p10, sm, p to end.");
    // a marker at every repeat
    const std::string crown =
        "Cast on 32 sts, join in the round.\nRnd 1: *k8, pm; rep from * around.\n"
        "Rnd 2: *k to 2 sts before m, k2tog, sm; rep from * around.\nRnd 3: k.\nRep rnds 2-3 until 16 sts "
        "remain.";
    CHECK(after(check(parse(crown))) == std::vector<std::int64_t>{32, 28, 28, 24, 24, 20, 20, 16, 16});
}

TEST_CASE("over a multiple, markers are counted from the edge that is known") {
    CHECK(lastRow("Multiple of 4 plus 10.\nRow 1: k5, pm, k to last 5 sts, pm, k5.\nRow 2: k to m, sm, p to "
                  "m, sm, k to "
                  "end.") == "Row 2: k5, sm, p to last 5 sts, sm, k to end.");
    CHECK(message("Row 1: k5, pm, k to end.\nRow 2: p to m, sm, p to end.").find("cannot be told") !=
          std::string::npos);
}

TEST_CASE("markers that are not there, or not where they are met") {
    CHECK(message(kThree + "Row 2: p to m, sm, p to m, sm, p to m, sm, p to end.")
              .find("No marker stands ahead") != std::string::npos);
    CHECK(
        message(kThree + "Row 2: p5, sm, p to m, sm, p to end.").find("the next one stands 1 stitches on") !=
        std::string::npos);
    CHECK(message(kThree + "Row 2: *k4, p1; rep from * to m, sm, p to end.").find("take 5 at a time") !=
          std::string::npos);
    // markers that nobody asks for are not looked at
    CHECK(parse("Cast on 20 sts.\nRow 1: k7, sm, k13.").problems.empty());
}
