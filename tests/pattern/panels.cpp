// SPDX-License-Identifier: MIT
// Rows under a name of their own, each on its own count (common practice).
#include "support.h"

#include <catch2/catch.hpp>

using namespace loopmend;
using loopmend::testing::printedBack;
using loopmend::testing::readings;
using loopmend::testing::told;

namespace {

const std::string kPanel =
    "Panel A (10 sts):\nRow 1: k2, yo, k2tog, k2, ssk, yo, k2.\nRow 2: purl.\nRow 3: k3, yo, k2tog, ssk, yo, "
    "k3.\n"
    "Row 4: purl.\n\n";

}  // namespace

TEST_CASE("a panel's row is asked for by its number") {
    CHECK(printedBack("Cast on 30 sts.\n" + kPanel +
                      "Row 1: k10, work row 3 of Panel A, k10.\nRow 2: p10, row 4 of the panel a, p10.") ==
          "Cast on 30 sts.\nRow 1: k10, k3, yo, k2tog, ssk, yo, k3, k10.\nRow 2: p10, p10, p10.");
    const Pattern none = parse("Cast on 30 sts.\n" + kPanel + "Row 1: k10, work row 5 of panel A, k10.");
    INFO(told(none.problems));
    REQUIRE(none.problems.size() == 1);
    CHECK(none.problems[0].line == 8);
    CHECK(none.problems[0].words == "work row 5 of panel A");
}

TEST_CASE("a panel goes on with its next row, whatever row begins again round it") {
    const std::string text = "Cast on 14 sts.\n" + kPanel +
                             "Row 1: k2, work panel A, k2.\nRow 2: p2, panel A over next 10 sts, p2.\n"
                             "Repeat rows 1-2 for pattern.";
    const std::string rows =
        "Cast on 14 sts.\nRow 1: k2, k2, yo, k2tog, k2, ssk, yo, k2, k2.\nRow 2: p2, p10, p2.\n"
        "Row 3: k2, k3, yo, k2tog, ssk, yo, k3, k2.\nRow 4: p2, p10, p2.";
    CHECK(printedBack(text).substr(0, rows.size()) == rows);
    CHECK(check(parse(text)).closes);
    const auto script = expand(parse(text), 14, 9);
    REQUIRE(script);
    CHECK(script->rows[8].steps == script->rows[0].steps);
    CHECK(script->rows[6].steps == script->rows[2].steps);
    CHECK(readings(text).find("counted by themselves") != std::string::npos);
}

TEST_CASE("two panels of other lengths are written out until both are through") {
    const std::string text =
        "Cast on 10 sts.\nLace panel (4 sts)\nRow 1: k1, yo, ssk, k1.\nRow 2: p.\nRow 3: k.\nRow 4: p.\n\n"
        "Cable panel over 4 sts\nRow 1: 2/2 RC.\nRow 2: p.\nRow 3: k.\nRow 4: p.\nRow 5: k.\nRow 6: p.\n\n"
        "Row 1: p1, lace panel, cable panel, p1.\nRow 2: k1, work cable panel, work lace panel, k1.\n"
        "Repeat rows 1-2 for pattern.";
    const Pattern pattern = parse(text);
    INFO(told(pattern.problems));
    CHECK(pattern.problems.empty());
    CHECK(pattern.rows.size() == 12);
    REQUIRE(pattern.repeats.size() == 1);
    CHECK(pattern.repeats[0].rows.first == 1);
    CHECK(pattern.repeats[0].rows.last == 12);
    const auto script = expand(pattern, 10, 14);
    REQUIRE(script);
    CHECK(script->rows[6].steps.at(5).op == Op::cable);  // row 7: the cable's row 1 again, the lace's row 3
    CHECK(script->rows[6].steps.at(2).op == Op::knit);
}

TEST_CASE(
    "a heading that nobody asks for is a remark, and what is wrong in a panel is said where it stands") {
    CHECK(parse("Lace panel\nCast on 4 sts.\nRow 1: k.\n").rows.size() == 1);
    const Pattern bad = parse("Cast on 6 sts.\nPanel B (4 sts)\nRow 1: k2, blip.\n\nRow 1: k1, panel B, k1.");
    INFO(told(bad.problems));
    REQUIRE(bad.problems.size() == 1);
    CHECK(bad.problems[0].line == 3);
    CHECK(bad.problems[0].column == 12);
    const Pattern wide =
        parse("Cast on 6 sts.\nPanel B\nRow 1: *k2, p2; rep from * to end.\n\nRow 1: panel B.");
    REQUIRE(wide.problems.size() == 1);
    CHECK(wide.problems[0].message.find("how many stitches") != std::string::npos);
}
