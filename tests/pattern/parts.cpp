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

TEST_CASE("stitches taken up again from a holder are a piece of their own") {
    const std::string text =
        "A vest for a bear\nCast on 40 sts.\nRow 1: k.\nRow 2: p.\nRow 3 (RS): k12, turn, leaving rem 28 sts "
        "on "
        "a holder.\nRow 4: p.\nRow 5: bind off 12.\n"
        "Return to held sts. With right side facing, slip first 16 sts onto a holder, rejoin yarn, k to "
        "end.\nRow 4: p.\n"
        "Bind off.\n";
    CHECK(parse(text).parts == std::vector<std::string>{"main piece", "held stitches"});
    CHECK(after(check(parse(text))) == std::vector<std::int64_t>{40, 40, 12, 12, 0});
    CHECK(
        printedBack(text, part(1)) ==
        "# A vest for a bear\nCast on 28 sts.\nRow 1 (RS): hold 16, k to end.\nRow 2: p to end.\nBind off.");
    CHECK(after(check(parse(text, part(1)))) == std::vector<std::int64_t>{12, 12});
    CHECK(readings(text, part(1)).find("28 stitches that waited") != std::string::npos);
    CHECK(readings(text, part(1)).find("row 3 is row 1") != std::string::npos);

    // after a heading, with a number of their own, the wrong side first, within a piece that has a name
    const std::string back =
        "Back\nCast on 20 sts.\nRow 1: k.\nRow 2: p8, place rem sts on a stitch holder.\nRow 3: bind off 8.\n"
        "Second side: Rejoin yarn to remaining sts with WS facing and p2tog, p to end.\n\nSleeve\nCast on 4 "
        "sts.\nRow 1: k.\n\n"
        "Thumb\nPlace 7 held sts onto needles, rejoin yarn.\nRow 1: k2tog, k to end.\n";
    CHECK(parse(back).parts == std::vector<std::string>{"back", "second side", "sleeve", "thumb"});
    CHECK(printedBack(back, part(1)) == "Cast on 12 sts.\nRow 1 (WS): p2tog, p to end.");
    CHECK(printedBack(back, part(3)) == "Cast on 7 sts.\nRow 1: k2tog, k to end.");
    CHECK(parse(back, part(2)).castOn == 4);
}

TEST_CASE("so many rows that they are not written out are told, not cut short") {
    CHECK(parse("Cast on 8 sts.\nWork 900 rows in st st.\n").problems.empty());
    for (const std::string words : {"Work 1001 rows in st st.", "Rows 1-1001: work in st st.",
                                    "Row 1: k.\nDec 1 st at beg of every 600th row 3 times."}) {
        const Pattern pattern = parse("Cast on 8 sts.\n" + words + "\n");
        INFO(words << told(pattern.problems));
        REQUIRE(pattern.problems.size() == 1);
        CHECK(pattern.problems[0].message.find("more than 1000 rows") != std::string::npos);
    }
}

TEST_CASE("shaping of a size that has none, and behind a cast-on no stitch is doubled") {
    const std::string none =
        "Cast on 20 sts.\nRow 1: k.\nRow 2: p.\nBind off 0 (2, 4) sts at beg of next 2 rows.\nDec 0 (1, 1) "
        "sts at "
        "each end of next row.\n";
    CHECK(printedBack(none) ==
          "Cast on 20 sts.\nRow 1: k to end.\nRow 2: p to end.\nRow 3: k to end.\nRow 4: p "
          "to end.\nRow 5: k to end.");
    CHECK(printedBack("Cast on 5 sts.\nRow 1: ds, k4.\nRow 2: p.\nCast on 2 sts at beg of next 2 rows.\n") ==
          "Cast on 5 sts.\nRow 1: ds, k4.\nRow 2: p to end.\nRow 3: cast on 2 knitted, k2, k1, k4.\n"
          "Row 4: cast on 2 knitted, p9.");
}

TEST_CASE("stitches taken up again: what cannot be known is asked") {
    // two lots of them, and no number
    const std::string two =
        "Cast on 20 sts.\nRow 1: k5, hold 10, k5.\nRow 2: p5, hold 5.\nReturn to held sts, rejoin yarn, k.\n";
    const Pattern asked = parse(two, part(1));
    INFO(told(asked.problems));
    REQUIRE(asked.problems.size() == 1);
    CHECK(asked.problems[0].line == 4);
    CHECK(asked.problems[0].message.find("How many stitches") != std::string::npos);
    CHECK(parse("Cast on 20 sts.\nRow 1: k5, hold 10, k5.\nRow 2: p5, hold 5.\nReturn to 10 held sts, rejoin "
                "yarn, k.\n",
                part(1))
              .castOn == 10);
    // rows of the piece before
    const Pattern leans = parse(
        "Cast on 8 sts.\nRow 1: k.\nRow 2: p4, hold 4.\nReturn to held sts.\nRow 3: k.\nRow 4: as row 2.\n",
        part(1));
    INFO(told(leans.problems));
    REQUIRE_FALSE(leans.problems.empty());
    CHECK(leans.problems[0].message.find("rows of the piece before") != std::string::npos);
    // joined in the round, or a yarn joined, is none of this
    CHECK(parse("Cast on 8 sts. Join in the round.\nRnd 1: k.\n").parts.empty());
    CHECK(parse("Cast on 8 sts.\nRow 1: k.\nJoin B.\nRow 2: p.\n").parts.empty());
}
