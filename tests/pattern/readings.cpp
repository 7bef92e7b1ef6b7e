// SPDX-License-Identifier: MIT
// Wordings that books use in two ways: which reading is taken, and that it is said (common practice; the
// traps of old books: Th. de Dillmont, Encyclopedia of Needlework, ch. Knitting; Cornelia Mee, Exercises in
// Knitting, London 1846).
#include "support.h"

#include <catch2/catch.hpp>

using namespace loopmend;
using loopmend::testing::normal;
using loopmend::testing::printedBack;
using loopmend::testing::readings;

namespace {

bool says(const std::string& text, std::string_view words) {
    return readings(text).find(words) != std::string::npos;
}

}  // namespace

TEST_CASE("k2, p2 to end: all of it, or what stands last, as the rows want it") {
    CHECK(normal("k2, p2 to end") == "*k2, p2; rep from * to end");
    CHECK(normal("k1, p1 to last 2 sts, k2") == "*k1, p1; rep from * to last 2 sts, k2");
    CHECK(normal("k3, p to end") == "k3, p to end");
    CHECK(normal("k2, k2tog to end") == "k2, k2tog to end");
    CHECK(printedBack("Cast on 11 sts.\nRow 1: k3, p2 to end.") ==
          "Cast on 11 sts.\nRow 1: k3, *p2; rep from * to end.");
    CHECK(readings("Cast on 11 sts.\nRow 1: k3, p2 to end.").find("only what stands right before it") !=
          std::string::npos);
    CHECK(readings("Cast on 12 sts.\nRow 1: k2, p2 to end.").find("all of it is repeated") !=
          std::string::npos);
}

TEST_CASE("rep from * 4 times: four in all, unless only four more come out") {
    const std::string words = "Row 1: *k1, p1; rep from * 4 times.";
    CHECK(printedBack("Cast on 8 sts.\n" + words) == "Cast on 8 sts.\nRow 1: (k1, p1) 4 times.");
    CHECK(printedBack("Cast on 10 sts.\n" + words) == "Cast on 10 sts.\nRow 1: (k1, p1) 5 times.");
    CHECK(says("Cast on 8 sts.\n" + words, "in all"));
    CHECK(says("Cast on 10 sts.\n" + words, "more"));
    // Without a stitch count the count behind the row, then the next row tells.
    CHECK(printedBack(words + " (10 sts)\nRow 2: p.") ==
          "Row 1: (k1, p1) 5 times. (10 sts)\nRow 2: p to end.");
    CHECK(printedBack(words + "\nRow 2: p10.") == "Row 1: (k1, p1) 5 times.\nRow 2: p10.");
    CHECK(printedBack(words + "\nRow 2: p8.") == "Row 1: (k1, p1) 4 times.\nRow 2: p8.");
    // Where neither comes out, the usual reading stays and the row is named.
    const CheckReport neither = check(parse("Cast on 15 sts.\n" + words));
    CHECK_FALSE(neither.ok);
    CHECK(neither.rows[0].text == "(k1, p1) 4 times");
}

TEST_CASE("yo, k2tog twice: the next row's count tells which reading is meant") {
    const std::string words = "Cast on 10 sts.\nRow 1: k3, yo, k2tog twice, k3.\n";
    CHECK(printedBack(words + "Row 2: p9.").find("yo, (k2tog) 2 times") != std::string::npos);
    CHECK(printedBack(words + "Row 2: p10.").find("(yo, k2tog) 2 times") != std::string::npos);
    CHECK(says(words + "Row 2: p9.", "once"));
    CHECK(says(words + "Row 2: p10.", "each time"));
    CHECK(check(parse(words + "Row 2: p10.")).ok);
    // Dillmont: "throw over, knit 2 together" several times in one row: all are meant alike.
    const std::string two = "Cast on 12 sts.\nRow 1: k2, yo, k2tog twice, yo, k2tog twice, k2.\n";
    CHECK(printedBack(two + "Row 2: p12.").find("k2, (yo, k2tog) 2 times, (yo, k2tog) 2 times, k2") !=
          std::string::npos);
}

TEST_CASE("the wool brought forward before a slip or a purl is moved, unless the count wants a yarn-over") {
    // Mee 1846: "bring the wool forward" before a slip
    const std::string words =
        "Cast on 10 sts.\nRow 1: *bring the wool forward, slip 1, k1; rep from * to end.\n";
    CHECK(printedBack(words + "Row 2: p10.").find("*sl1 wyif, k1") != std::string::npos);
    CHECK(printedBack(words + "Row 2: p15.").find("*yo, sl1 wyib, k1") != std::string::npos);
    CHECK(says(words + "Row 2: p10.", "moved"));
    CHECK(says(words + "Row 2: p15.", "yarn-over"));
}

TEST_CASE("each kind of wording is said once, where it stands first") {
    const Pattern pattern =
        parse("Cast on 8 sts.\nRow 1: *k1, p1; rep from * 4 times.\nRow 2: *p1, k1; rep from * 4 times.\n");
    REQUIRE(pattern.understood.size() == 1);
    CHECK(pattern.understood[0].row == 1);
    CHECK(pattern.understood[0].line == 2);
    CHECK(pattern.understood[0].column == 8);
    CHECK(pattern.understood[0].words == "*k1, p1; rep from * 4 times");
}
