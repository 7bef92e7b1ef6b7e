// SPDX-License-Identifier: MIT
// Texts of several pieces or several groups of rows; reversed shaping (common practice).
#include "support.h"

#include <catch2/catch.hpp>

using namespace loopmend;
using loopmend::testing::after;
using loopmend::testing::printedBack;
using loopmend::testing::readings;
using loopmend::testing::told;

namespace {

const std::string kJacket =
    "Harbour Lane jacket for a doll\n\n"
    "Back\nCast on 40 sts.\nRow 1: k.\nRow 2: p.\n\n"
    "LEFT FRONT\nCast on 20 sts.\nRow 1 (RS): k to last 3 sts, k2tog, k1.\nRow 2: p.\n"
    "Row 3: bind off 3, k2, m1l, k to end.\n\n"
    "Right front: work as for left front, reversing shaping.\n\n"
    "Second sleeve: as for sleeve.\n\n"
    "Sleeve\nCast on 10 sts.\nRow 1: p.\n\n"
    "Yoke\nJoin: work across 30 sts of sleeve, 60 sts of back and 30 sts of second sleeve.\nRow 1: k.\n";

ParseOptions part(std::size_t n) {
    ParseOptions options;
    options.part = n;
    return options;
}

}  // namespace

TEST_CASE("a text of several pieces: one of them is read") {
    CHECK(parse(kJacket).parts ==
          std::vector<std::string>{"back", "left front", "right front", "second sleeve", "sleeve", "yoke"});
    CHECK(parse(kJacket).title == "Harbour Lane jacket for a doll");
    CHECK(parse(kJacket).castOn == 40);
    CHECK(parse(kJacket, part(1)).castOn == 20);
    CHECK(after(check(parse(kJacket, part(1)))) == std::vector<std::int64_t>{19, 19, 17});
    CHECK(parse(kJacket, part(3)).castOn == 10);
    CHECK(parse(kJacket, part(99)).castOn == 120);  // the last one
    CHECK(readings(kJacket).find("6 pieces are told") != std::string::npos);
    CHECK(readings(kJacket, part(5)).find("120 stitches of other pieces") != std::string::npos);
    // places are those of the whole text
    const Pattern bad =
        parse("Back\nCast on 4 sts.\nRow 1: k.\n\nSleeve\nCast on 4 sts.\nRow 1: k2, blip.\n", part(1));
    REQUIRE(bad.problems.size() == 1);
    CHECK(bad.problems[0].line == 7);
    CHECK(bad.problems[0].column == 12);
    // a heading over rows of the same piece is none of its own
    CHECK(parse("Hat\nCast on 8 sts.\nRow 1: k.\n\nCrown\nRow 2: k2tog to end.\n").parts.empty());
    CHECK_FALSE(parse("Back: as for front.\n\nSleeve\nCast on 4 sts.\nRow 1: k.\n").problems.empty());
}

TEST_CASE("reverse shaping: the mirror image, worked with the other side facing") {
    CHECK(printedBack(kJacket, part(2)) ==
          "# Harbour Lane jacket for a doll\nCast on 20 sts.\nRow 1 (WS): p to last 3 sts, ssp, p1.\nRow 2: "
          "k to end.\n"
          "Row 3: bind off 3 purlwise, p2, m1rp, p to end.");
    CHECK(after(check(parse(kJacket, part(2)))) == std::vector<std::int64_t>{19, 19, 17});
    CHECK(readings(kJacket, part(2)).find("mirror image of the left front") != std::string::npos);
    const std::string cable =
        "Left front\nCast on 7 sts.\nRow 1 (RS): 2/2 LC, kpk, kyok, kfb.\n\nRight front: as for left front, "
        "reversing all shaping.\n";
    const Pattern pattern = parse(cable, part(1));
    INFO(told(pattern.problems));
    REQUIRE(pattern.problems.size() == 1);
    CHECK(pattern.problems[0].words == "kfb");  // its loops cross their feet the one way only
}

TEST_CASE("as for another piece, only so far") {
    const std::string text =
        "Back\nCast on 40 sts.\nRow 1: *k2, p2; rep from * to end.\nRows 2-6: as row 1.\n"
        "Work in st st for 20 rows.\nShape armholes\nBind off 4 sts at beg of next 2 rows.\nWork 4 rows "
        "even.\n\n"
        "Front\nWork as for back until armhole shaping. Next row: k2tog, k to end.\n\n"
        "Flap: as for back until the thumb.\nRow 1: p.\n";
    const Pattern front = parse(text, part(1));
    INFO(told(front.problems));
    CHECK(front.problems.empty());
    std::vector<std::int64_t> counts(26, 40);
    counts.push_back(39);
    CHECK(after(check(front)) == counts);
    CHECK(readings(text, part(1)).find("until armhole shaping, and then its own") != std::string::npos);
    const Pattern flap = parse(text, part(2));
    REQUIRE(flap.problems.size() == 1);
    CHECK(flap.problems[0].message.find("the thumb") != std::string::npos);
}

TEST_CASE("as for another piece up to a row of it") {
    const std::string text =
        "Back\nCast on 12 sts.\nRow 1: k.\nRow 2: p.\nRow 3: k1, p to end.\nRow 4: k.\nRow 5: p.\n\n"
        "Front\nWork as for back to row 4. Row 4: p.\n\n"
        "Sleeve\nWork as for back until row 4 has been worked. Row 5: k.\n";
    CHECK(printedBack(text, part(1)) ==
          "Cast on 12 sts.\nRow 1: k to end.\nRow 2: p to end.\nRow 3: k1, p to end.\nRow 4: p to end.");
    CHECK(printedBack(text, part(2)) ==
          "Cast on 12 sts.\nRow 1: k to end.\nRow 2: p to end.\nRow 3: k1, p to end.\nRow 4: k to end.\n"
          "Row 5: k to end.");
}

TEST_CASE("groups of rows that begin again from 1 are counted on") {
    const std::string text =
        "Lace\nCast on 8 sts.\nRow 1: *k2tog, yo, k2; rep from * to end.\nRow 2 and every even row: p.\nRow "
        "3: k.\n\n"
        "Rib\nRow 1: *k2, p2; rep from * to end.\nRow 2: as row 1.\nRows 3-4: rep rows 1-2.\n"
        "Repeat rows 1-4 twice more.\n\n"
        "Edge:\nRow 2 and every even row: k.\nRow 1: p.\nRow 3: p.\n";
    CHECK(printedBack(text) ==
          "# Lace\nCast on 8 sts.\nRow 1: *k2tog, yo, k2; rep from * to end.\nRows 2 and 4: p to end.\nRow "
          "3: k to end.\n"
          "Row 5: *k2, p2; rep from * to end.\nRow 6: as row 5.\nRows 7-8: as rows 5-6.\n"
          "Repeat rows 5-8 2 more times.\nRow 10 and every even row: k to end.\nRow 9: p to end.\nRow 11: p "
          "to end.");
    CHECK(readings(text).find("row 1 is row 5") != std::string::npos);
    // without a heading it is a slip
    CHECK(parse("Row 1: k.\nRow 2: p.\nRow 1: k.").problems.size() == 1);
}
