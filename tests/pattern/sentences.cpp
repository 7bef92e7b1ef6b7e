// SPDX-License-Identifier: MIT
// Sentences that stand for rows: work even, stitches by name, shaping by the clock (common practice).
#include "support.h"

#include <catch2/catch.hpp>

using namespace loopmend;
using loopmend::testing::after;
using loopmend::testing::normal;
using loopmend::testing::printedBack;
using loopmend::testing::readings;
using loopmend::testing::told;

namespace {

/// The rows without the line of the cast-on.
std::string rows(const std::string& text) {
    const std::string all = printedBack(text);
    const std::size_t at = all.find("\nR");
    return at == std::string::npos ? all : all.substr(at + 1);
}

const std::string kPlain = "Cast on 20 sts.\nRow 1 (RS): k.\nRow 2: p.\n";

}  // namespace

TEST_CASE("rows worked again, in other words, and the count behind them") {
    const std::string rows = "Cast on 12 sts.\nRow 1: k.\nRow 2: p.\n";
    CHECK(printedBack(rows + "Work these 2 rows 3 times in all, then work row 1 once more.") ==
          "Cast on 12 sts.\nRow 1: k to end.\nRow 2: p to end.\nRepeat rows 1-2 3 times.\nRepeat row 1 1 "
          "more time.");
    CHECK(printedBack(rows + "Rows 1 and 2 form patt. Work 4 more patt repeats.") ==
          "Cast on 12 sts.\nRow 1: k to end.\nRow 2: p to end.\nRepeat rows 1-2.\nRepeat rows 1-2 4 more "
          "times.");
    CHECK(printedBack(rows + "Repeat pattern 3 times more.") ==
          "Cast on 12 sts.\nRow 1: k to end.\nRow 2: p to end.\nRepeat rows 1-2 3 more times.");
    CHECK(parse("Cast on 12 sts.\nWork 4 more patt repeats.\nRow 1: k.").problems.size() == 1);
    // Whether the rows worked already are one of the times, the count says.
    const std::string less =
        "Cast on 12 sts.\nRow 1: k2tog, k to end.\nRow 2: p.\nRep rows 1-2 three times. ";
    CHECK(after(check(parse(less + "(9 sts)"))).size() == 6);
    CHECK(after(check(parse(less + "(8 sts)"))).size() == 8);
    const Pattern neither = parse(less + "(5 sts)");
    REQUIRE(neither.problems.size() == 1);
    CHECK(neither.problems[0].message == "These repeats leave 9 stitches, but 5 are printed.");
}

TEST_CASE("shaping spread evenly over a row") {
    const std::string text =
        "Cast on 40 sts.\nRows 1-4: k.\nNext row: inc 4 sts evenly across row. (44 sts)\nRow 6: P, dec 4 sts "
        "evenly "
        "across. 40 sts\nInc 3 sts evenly across next row.\nWork 1 row, dec 3 sts evenly across.\n";
    CHECK(printedBack(text) ==
          "Cast on 40 sts.\nRows 1-4: k to end.\nRow 5: k5, (m1l, k10) 3 times, m1l, k5. (44 sts)\n"
          "Row 6: p4, (p2tog, p9) 3 times, p2tog, p5. (40 sts)\nRow 7: k6, m1l, k14, m1l, k13, m1l, k7.\n"
          "Row 8: p6, (p2tog, p12) 2 times, p2tog, p7.");
    CHECK(readings(text).find("as evenly as can be") != std::string::npos);
    CHECK(printedBack(
              "Cast on 9 sts.\nRow 1: k.\nRow 2: p.\nRep these 2 rows 3 times more, inc 2 sts evenly across "
              "last row. 11 sts") ==
          "Cast on 9 sts.\nRow 1: k to end.\nRow 2: p to end.\nRepeat rows 1-2 2 more times.\nRepeat row 1 1 "
          "more "
          "time.\nRow 3: p2, m1lp, p4, m1lp, p3. (11 sts)");
    CHECK(parse("Cast on 9 sts.\nRow 1: k.\nRow 2: dec 5 sts evenly across.").problems.size() == 1);
    CHECK(parse("Row 1: k.\nRow 2: dec 2 sts evenly across.").problems.size() == 1);
    CHECK(after(check(parse("Cast on 9 sts.\nRow 1: k.\nNext row: k, inc 9 sts evenly."))).back() == 18);
}

TEST_CASE("a doll's jumper: two pieces, one neck edge at a time") {
    const std::string jumper =
        "FRONT AND BACK (both alike)\nCast on 16 sts.\nStarting with a k row work 4 rows st st.\n"
        "Next row: k5, cast off 6, k to end.\nWorking on last set of 5 sts only, p 1 row.\n"
        "Dec 1 st at neck edge on next 2 rows. 3 sts.\nCast off.\nWith RS facing rejoin yarn to rem 5 sts, "
        "k.\n"
        "SLEEVES\nCast on 18 sts.\nK 4 rows.\nCast off loosely.\n";
    CHECK(parse(jumper).parts == std::vector<std::string>{"front and back", "held stitches", "sleeves"});
    CHECK(printedBack(jumper) ==
          "Cast on 16 sts.\nRows 1 and 3: k to end.\nRows 2 and 4: p to end.\nRow 5: k5, bind off 6, k to "
          "end.\n"
          "Row 6: p to last 5 sts, hold to end.\nRow 7: ssk, k to end.\nRow 8: p to last 2 sts, ssp. (3 "
          "sts)\nBind off.");
    ParseOptions options;
    options.part = 1;
    CHECK(printedBack(jumper, options) == "Cast on 5 sts.\nRow 1 (RS): k to end.");
    // Two pieces under no headings are told.
    const Pattern two = parse("Cast on 8 sts.\nRow 1: k.\nCast off.\nCast on 9 sts.\nRow 2: k.\n");
    INFO(told(two.problems));
    REQUIRE(two.problems.size() == 1);
    CHECK(two.problems[0].line == 4);
}

TEST_CASE("a hat: rows by their names, a total, and every even round up to a sentence") {
    const std::string hat =
        "Cast on 40 sts. Join in the round.\nRib rnd: *k1 tbl, p1; rep from * around.\nWork rib rnd 3 times "
        "more.\n"
        "Rnds 1-2: Knit.\nWork Rnds 1-2 a total of 4 times.\nCrown decreases:\nRnd 1: [K8, k2tog] 4 times. "
        "36 sts.\n"
        "Rnd 2 and every even rnd: Knit.\nRnd 3: [K7, k2tog] around. 32 sts.\n"
        "Continue in this manner, working 1 less st between decs, until 24 sts remain.\nNext rnd: K2tog "
        "around.";
    CHECK(printedBack(hat) ==
          "Cast on 40 sts.\nWorked in the round.\nRnd 1: *k1 tbl, p1; rep from * to end.\nRepeat rnd 1 3 "
          "more times.\n"
          "Rnds 2-3: k to end.\nRepeat rnds 2-3 4 times.\nRnd 4: (k8, k2tog) 4 times. (36 sts)\n"
          "Rnd 5: k to end.\nRnd 6: *k7, k2tog; rep from * to end. (32 sts)\n"
          "Rnds 7 and 9: k to end.\nRnd 8: *k6, k2tog; rep from * to end.\n"
          "Rnd 10: *k5, k2tog; rep from * to end. (24 sts)\nRnd 11: k2tog to end.");
}

TEST_CASE("what ends a piece, one thing after another in a sentence, and other words of books") {
    CHECK(printedBack(
              "Cast on 3 sts.\nRow 1: k1, yo, k to end.\nRep row 1 until there are 6 sts.\nDecrease row: k1, "
              "k2tog, k to end.\nRep decrease row until 3 sts rem.\nLast row: K3tog. Fasten off.") ==
          "Cast on 3 sts.\nRow 1: k1, yo, k to end.\nRepeat row 1 2 more times.\nRow 2: k1, k2tog, k to "
          "end.\nRepeat "
          "row 2 2 more times.\nRow 3: k3tog.");
    CHECK(
        printedBack(
            "With A cast on 8 sts.\nRow 1: with B, k.\nCut B. With A, knit 1 row, purl 1 row. Cast off.") ==
        "Cast on 8 sts.\nYarns: A, B.\nRow 1: with B k to end.\nRow 2: with A k to end.\nRow 3: with A p to "
        "end.\nBind off.");
    const std::string alternate =
        "Cast on 12 sts.\nRow 1: k.\nRow 2 and foll alternate rows: p.\nRow 3: k.\nRow 4: as row 2.\n"
        "These 4 rows form the pattern. Repeat them twice more.";
    CHECK(after(check(parse(alternate))).size() == 12);
    const Pattern old = parse("Cast on any number of stitches divisible by 12, and 1 over.\nRow 1: k.");
    REQUIRE(old.multiple);
    CHECK(old.multiple->of == 12);
    CHECK(old.multiple->plus == 1);
}

TEST_CASE("a part of a row in pattern keeps its place: a thumb's opening beside a cable") {
    const std::string mitt =
        "Cast on 36 sts and work 2 rows k1,p1 rib.\nCommence pattern:\n"
        "Row 1 (right side): K14, P1, C6B, P1, K14.\nRow 2 and foll alternate rows: P14, K1, P6, K1, P14.\n"
        "Row 3: K14, P1, K6, P1, K14.\nRow 4: as row 2.\nThese 4 rows form the pattern. Repeat them twice "
        "more.\n"
        "Next row: Work in pattern to last 14 sts, cast off 4, k to end.\n"
        "Next row: P10, cast on 4, work in pattern to end.\nContinue in pattern for 2 rows.\n";
    const Pattern pattern = parse(mitt);
    INFO(told(pattern.problems));
    REQUIRE(pattern.rows.size() >= 9);
    CHECK(printBody(pattern.rows[6]) == "k14, p1, 3/3 RC, p1, bind off 4, k to end");
    CHECK(printBody(pattern.rows[7]) == "p10, cast on 4, k1, p6, k1, p14");
    CHECK(printBody(pattern.rows[8]) == "k14, p1, k6, p1, k14");
    CHECK(check(pattern).ok);
    // Decreases at its edges, and parts of so many stitches.
    const Pattern shaped = parse(
        "Cast on 19 sts.\nRow 1: k1, *yo, k2tog, k4; rep from * to end.\nRow 2: p.\nRow 3: k1, *k2, yo, "
        "k2tog, k2; rep "
        "from * to end.\nRow 4: p.\nRows 1-4 form the pattern.\nNext row: k2tog, work in pattern to last 2 "
        "sts, "
        "k2tog.\nNext row: p2, work in patt to last 2 sts, p2.\nNext row: k3, patt 6, k3, patt to end.");
    REQUIRE(shaped.rows.size() == 7);
    CHECK(printBody(shaped.rows[4]) == "k2tog, k5, yo, k2tog, k4, yo, k2tog, k2, k2tog");
    CHECK(printBody(shaped.rows[6]) == "k3, k6, k3, k2, yo, k2tog, k1");
}

TEST_CASE(
    "a bolero's front: cast on at an edge, so far as an edge, and the rows between decreases go on too") {
    const std::string front =
        "Cast on 8 sts.\nWork in st st, casting on 3 sts at end of every RS row 4 times. 20 sts.\n"
        "Work 1 row.\nDec 1 st at armhole edge on next 3 rows. 17 sts\nCont straight until armhole measures "
        "12 cm "
        "ending at armhole edge.\nShape shoulder: cast off 6 sts at beg of next row and foll alt row.\n";
    CHECK(printedBack(front) ==
          "Cast on 8 sts.\nRows 1, 3 and 5: k to end, cast on 3.\nRows 2, 4 and 6: p to end.\nRow 7: k to "
          "end, cast on "
          "3. (20 sts)\nRow 8: p to end.\nRow 9: ssk, k to end.\nRow 10: p to last 2 sts, ssp.\nRow 11: ssk, "
          "k to "
          "end. (17 sts)\nRows 12 and 14: p to end.\nRow 13: k to end.\nRepeat rows 13-14.\n"
          "Rows 15 and 17: bind off 6, k to end.\nRow 16: p to end.");
    const Pattern square = parse(
        "CO 11 sts.\nRow 1 (WS): k.\nRow 2: k4, cdd, k4. (9 sts)\nRow 3: k4, p1, k4.\nRow 4: k3, cdd, k3. (7 "
        "sts)\n"
        "Row 5: k3, p1, k3.\nContinue as established, working 1 fewer st before and after the decrease each "
        "RS row "
        "until 3 sts remain.\n");
    INFO(told(square.problems));
    REQUIRE(square.rows.size() == 8);
    CHECK(printBody(square.rows[6]) == "k2, p1, k2");
    CHECK(printBody(square.rows[7]) == "k1, s2kp, k1");
    CHECK(readings("Cast on 8 sts.\nRow 1: k.\nRow 2: p.\nRep rows 1-2 twice more. Work the band sideways.")
              .find("nothing is worked for it") != std::string::npos);
}

TEST_CASE("rows by long names, a border before a pattern that goes on, then one row again") {
    CHECK(printedBack("Cast on 9 sts.\nMoss st row: K1, *p1, k1; rep from * to end.\nThis row forms moss st. "
                      "Work 2 rows "
                      "in moss st.\nInc row: K1, m1l, moss to last st, m1r, k1.") ==
          "Cast on 9 sts.\nRow 1: k1, *p1, k1; rep from * to end.\nRow 2: *k1, p1; rep from * to last st, "
          "k1.\nRow 3: "
          "knit the purls and purl the knits to end.\nRow 4: k1, m1l, knit the purls and purl the knits to "
          "last st, "
          "m1r, k1.");
    CHECK(
        printedBack(
            "Cast on 12 sts.\nKnit 2 rows.\nMain pattern\nRow 1: *yo, k2tog, k4; rep from * to end.\nRow 2: "
            "p.\nContinue in pattern until work measures 20 cm, ending with Row 2.\nKnit 2 rows.") ==
        "Cast on 12 sts.\nRows 1-2: k to end.\nRow 3: *yo, k2tog, k4; rep from * to end.\nRow 4: p to "
        "end.\nRows "
        "5-6: as rows 3-4.\nRepeat rows 5-6.\nRows 7-8: k to end.");
    CHECK(printedBack(
              "Cast on 12 sts.\nRow 1: k.\nRow 2: p.\nRep the last 2 rows 4 times more, then row 1 again.") ==
          "Cast on 12 sts.\nRow 1: k to end.\nRow 2: p to end.\nRepeat rows 1-2 4 more times.\nRepeat row 1 "
          "1 more "
          "time.");
    CHECK(readings("Cast on 12 sts.\nRow 1: k.\nDivide for armholes: k4, go round, k4.")
              .find("nothing is worked") != std::string::npos);
}

TEST_CASE("shaping that uses all stitches up is told") {
    const Pattern pattern =
        parse("Cast on 4 sts.\nRow 1: sl4.\nDec 1 st at beg of every other row 9 times.\n");
    INFO(told(pattern.problems));
    REQUIRE(pattern.problems.size() == 1);
    CHECK(pattern.problems[0].line == 3);
    CHECK_FALSE(check(parse("Cast on 4 sts.\nRow 1: k.\nDec 1 st at beg of next 9 rows.\n")).ok);
}

TEST_CASE("shaping that goes on at another pace behind then") {
    CHECK(printedBack("Cast on 12 sts.\nRow 1 (RS): k.\nRow 2: p.\nDec 1 st at each end of every RS row "
                      "until 8 sts rem, "
                      "then at each end of every row until 4 sts rem.\nCast off.") ==
          "Cast on 12 sts.\nRow 1 (RS): k to end.\nRow 2: p to end.\nRow 3: ssk, k to last 2 sts, "
          "k2tog.\nRow 4: p to "
          "end.\nRow 5: ssk, k to last 2 sts, k2tog. (8 sts)\nRow 6: p2tog, p to last 2 sts, ssp.\nRow 7: "
          "ssk, k to "
          "last 2 sts, k2tog. (4 sts)\nBind off.");
}

TEST_CASE("next row and every alternate row: those between are not said again") {
    const Pattern pattern = parse(
        "Cast on 20 sts.\nRow 1: k.\nNext row and every alt row: Purl.\nNext row: (K2, k2tog) 5 times. (15 "
        "sts)\n"
        "Next row: (K1, k2tog) to end. (10 sts)\nNext row: (K2tog) to end. (5 sts)\nKnit 1 row.\n");
    INFO(told(pattern.problems));
    CHECK(pattern.problems.empty());
    CHECK(after(check(pattern)) == std::vector<std::int64_t>{20, 20, 15, 15, 10, 10, 5, 5, 5});
}

TEST_CASE("more words of books: old ordinals, ridges, set-up rows, labelled rows between others") {
    CHECK(printedBack("Cast on 3 sts.\n1st row: over, knit 3.\n2d row: over, k 4.\n3d row: knit.") ==
          "Cast on 3 sts.\nRow 1: yo, k3.\nRow 2: yo, k4.\nRow 3: k to end.");
    CHECK(printedBack("Cast on 11 sts.\nBorder: Knit 2 ridges (4 rows).\nSet up: K3, place marker, k5, place "
                      "marker, k3.\n"
                      "Row 1 (WS): K3, sm, p to marker, sm, k3.\nRow 2: work sts as set.") ==
          "Cast on 11 sts.\nRows 1-4: k to end.\nRow 5: k3, pm, k5, pm, k3.\nRow 6 (WS): k3, sm, p5, sm, "
          "k3.\nRow 7: knit "
          "the knits and purl the purls to end.");
    CHECK(printedBack("With 2 strands held together, CO 20 sts; join, being careful not to twist.\nDecrease "
                      "round 1: *k8, "
                      "k2tog; repeat from * around - 18 sts remain.\nKnit 1 round.\nDecrease round 2: *k7, "
                      "k2tog; repeat "
                      "from * around - 16 sts remain.") ==
          "Cast on 20 sts.\nWorked in the round.\nRnd 1: *k8, k2tog; rep from * to end. (18 sts)\nRnd 2: k "
          "to end.\nRnd "
          "3: *k7, k2tog; rep from * to end. (16 sts)");
    CHECK(normal("Inc in 1st st, k11, inc in last st") == "kfb, k11, kfb");
    CHECK(printedBack("Cast on 9 sts.\nWork 2 rows in k1, p1 rib, beg alt rows p1.\nRow 3: k.")
              .find("Row 3: k to end") != std::string::npos);
}

TEST_CASE("lines that no full stop ends, dotted words, stitches cast on behind a turn, a second mitten") {
    CHECK(printedBack(
              "C.O. 13\nKnit 2 rows\nRow 1: k2, yo, k2tog, k9\nRow 2 (WS): k2, p9, k2\nRepeat these two rows "
              "10x\nKnit 2 rows\nB.O.") ==
          "Cast on 13 sts.\nRows 1-2: k to end.\nRow 3: k2, yo, k2tog, k9.\nRow 4 (WS): k2, p9, k2.\nRepeat "
          "rows 3-4 10 "
          "times.\nRows 5-6: k to end.\nBind off.");
    const std::string mittens =
        "RIGHT MITTEN\nCast on 12 sts.\nRow 1: K9, turn, cast on 1 st.\nRow 2: P5, turn, cast on 1 st.\nRow "
        "3: k6.\n"
        "LEFT MITTEN\nAs right mitten, reversing all shaping.\n";
    CHECK(parse(mittens).parts == std::vector<std::string>{"right mitten", "left mitten"});
    CHECK(printedBack(mittens) ==
          "Cast on 12 sts.\nRow 1: k9, turn.\nRow 2: cast on 1 knitted, p5, turn.\nRow 3: cast on 1 knitted, "
          "k6.");
    CHECK(printedBack("Cast on 15 sts.\nRow 1 (RS): (K3, k2tog) to end. 12 sts.\nRow 2: P.\nRow 3: (K2, "
                      "k2tog) to end. 9 "
                      "sts.\nRow 4: P.\nCont dec thus on every RS row until 6 sts rem.") ==
          "Cast on 15 sts.\nRow 1 (RS): *k3, k2tog; rep from * to end. (12 sts)\nRow 2: p to end.\nRow 3: "
          "*k2, k2tog; rep "
          "from * to end. (9 sts)\nRow 4: p to end.\nRow 5: *k1, k2tog; rep from * to end. (6 sts)");
    CHECK(printedBack(
              "Cast on 8 sts.\nRow 1: k.\nRow 2: p.\nRepeat rows 1-2 3 times more, then rows 1-2 once.") ==
          "Cast on 8 sts.\nRow 1: k to end.\nRow 2: p to end.\nRepeat rows 1-2 3 more times.\nRepeat rows "
          "1-2 1 more time.");
}

TEST_CASE("rows without numbers before row 1, and the even row behind the last odd one") {
    CHECK(printedBack(
              "Cast on 8 sts.\nKnit 4 rows.\nRow 1: p.\nRow 2 and all even rows: k.\nRow 3: p.\nWork these 4 "
              "rows twice.\nKnit 2 rows. Bind off.") ==
          "Cast on 8 sts.\nRows 1-4: k to end.\nRow 5: p to end.\nRow 6 and every even row: k to end.\nRow "
          "7: p to "
          "end.\nRepeat rows 5-8 2 times.\nRows 9-10: k to end.\nBind off.");
}

TEST_CASE("colors by the words of books, and other stitches from here on") {
    const std::string hat =
        "MC = grey, CC = red\nWith MC, cast on 8 sts.\nRow 1: *k1 MC, k1 CC; rep from * to end.\nChange to "
        "st st and "
        "CC. Work 2 rows.\nContinue in MC only.\nRow 4: k.\nCont in garter st, beg with a k row, for 2 rows.";
    CHECK(
        printedBack(hat) ==
        "Cast on 8 sts.\nYarns: A, B.\nRow 1: *with A k1, with B k1; rep from * to end.\nRow 2: with B p to "
        "end.\nRow 3: with B k to end.\nRow 4: with A k to end.\nRows 5-6: with A k to end.");
    CHECK(parse("Row 1: k1 CC2, k1 CC.").yarns == "ACB");
    // What is not understood is not lost in silence.
    CHECK(readings("Cast on 8 sts.\nRow 1: k.\nWork the other one to match.")
              .find("nothing is worked for it") != std::string::npos);
    CHECK(normal("k to end, removing markers") == "k to end");
    CHECK(normal("Purl, slipping markers as you come to them") == "p to end");
}

TEST_CASE("stitches by their names") {
    CHECK(rows("Cast on 20 sts.\nWork in stockinette stitch for 4 rows.") ==
          "Rows 1 and 3: k to end.\nRows 2 and 4: p to end.");
    CHECK(rows("Cast on 20 sts and work 4 rows in stocking st.") ==
          "Rows 1 and 3: k to end.\nRows 2 and 4: p to end.");
    CHECK(rows("Cast on 20 sts.\nBeginning with a purl row, work 3 rows in st st.") ==
          "Row 1 (WS): p to end.\nRow 2: k to end.\nRow 3: p to end.");
    CHECK(rows("Cast on 20 sts.\nWork 4 rows in reverse st st.") ==
          "Rows 1 and 3: p to end.\nRows 2 and 4: k to end.");
    CHECK(rows("Cast on 20 sts. Cont in garter st for 6 rows.") == "Rows 1-6: k to end.");
    CHECK(rows("Cast on 20 sts, join in the round. Work 4 rounds in garter st.") ==
          "Rnds 1 and 3: k to end.\nRnds 2 and 4: p to end.");
    CHECK(rows("Cast on 20 sts.\nWork in k2, p2 rib for 3 rows.") ==
          "Row 1: *k2, p2; rep from * to end.\nRows 2-3: knit the knits and purl the purls to end.");
    CHECK(rows("Cast on 22 sts.\nWork 2 rows in 2x2 rib.") ==
          "Row 1: *k2, p2; rep from * to last 2 sts, k2.\nRow 2: knit the knits and purl the purls to end.");
    CHECK(rows("Cast on 21 sts.\nWork in seed st for 3 rows.") ==
          "Row 1: *k1, p1; rep from * to last st, k1.\nRows 2-3: knit the purls and purl the knits to end.");
    CHECK(rows("Cast on 20 sts.\nK2, p2 rib for 2 rows.\nGarter st for 2 rows.") ==
          "Row 1: *k2, p2; rep from * to end.\nRow 2: knit the knits and purl the purls to end.\nRows 3-4: k "
          "to end.");
    CHECK(rows("Cast on 20 sts.\nKnit 4 rows.\nPurl 1 row.") == "Rows 1-4: k to end.\nRow 5: p to end.");
    CHECK(rows("Cast on 20 sts.\nRows 1-4: work in garter st.\nRow 5: st st.") ==
          "Rows 1-4: k to end.\nRow 5: k to end.");
    CHECK(rows("Cast on 20 sts. With B, knit 2 rows. With A, work 2 rows in st st.") ==
          "Rows 1-2: with B k to end.\nRow 3: with A k to end.\nRow 4: with A p to end.");
}

TEST_CASE("moss stitch is said by the side of the sea that the text comes from") {
    const std::string text = "Cast on 20 sts.\nWork 3 rows in moss st.\n";
    CHECK(rows(text) ==
          "Row 1: *k1, p1; rep from * to end.\nRow 2: knit the knits and purl the purls to end.\n"
          "Row 3: knit the purls and purl the knits to end.");
    CHECK(
        rows(text + "Cast off.") ==
        "Row 1: *k1, p1; rep from * to end.\nRows 2-3: knit the purls and purl the knits to end.\nBind off.");
    CHECK(readings(text).find("moss st: in US words") != std::string::npos);
    CHECK(readings(text + "Cast off.").find("in UK words") != std::string::npos);
}

TEST_CASE("work even, straight, in pattern: the rows worked before go on") {
    CHECK(rows(kPlain + "Work even for 3 rows.") ==
          "Row 1 (RS): k to end.\nRow 2: p to end.\nRows 3 and 5: k to end.\nRow 4: p to end.");
    CHECK(rows("Cast on 20 sts.\nRows 1-2: k.\nWork 3 rows straight.") ==
          "Rows 1-2: k to end.\nRows 3-5: k to end.");
    const std::string lace =
        "Cast on 16 sts.\nRow 1: *k2tog, yo, k2; rep from * to end.\nRow 2: p.\n"
        "Row 3: *k2, k2tog, yo; rep from * to end.\nRow 4: p.\n";
    CHECK(rows(lace + "These 4 rows form the pattern.\nCont in patt for 6 rows.")
              .find("Rows 5-10: as rows 1-4.") != std::string::npos);
    CHECK(rows(lace + "Cont in patt as set for 3 rows.").find("Rows 5-7: as rows 1-4.") != std::string::npos);
    // a rib goes on as its stitches face
    CHECK(rows("Cast on 20 sts.\nRow 1: *k2, p2; rep from * to end.\nRow 2: *k2, p2; rep from * to end.\n"
               "Row 3: ssk, work in patt to last 2 sts, k2tog.\nWork 2 rows even.")
              .find("Row 3: ssk, knit the knits and purl the purls to last 2 sts, k2tog.\n"
                    "Rows 4-5: knit the knits and purl the purls to end.") != std::string::npos);
    CHECK(rows(kPlain + "Row 3: k1, ssk, work in patt to last 3 sts, k2tog, k1.")
              .find("Row 3: k1, ssk, k to last 3 sts, k2tog, k1.") != std::string::npos);
    CHECK(rows(kPlain + "Row 3: work to last 2 sts, k2tog.\nRow 4: work 5 sts, pm, work to end.")
              .find("Row 3: k to last 2 sts, k2tog.\nRow 4: p5, pm, p to end.") != std::string::npos);
    // as far as a length says: it goes on for as long as one likes
    const std::string text = kPlain +
                             "Work straight until piece measures 12.5 cm, ending with a WS row.\n"
                             "Next row: bind off 5, k to end.";
    CHECK(rows(text).find("Repeat rows 3-4.\nRow 5: bind off 5, k to end.") != std::string::npos);
    CHECK(readings(text).find("how tight she knits") != std::string::npos);
    // nothing to go on with
    CHECK_FALSE(parse("Cast on 20 sts.\nWork 4 rows even.").problems.empty());
    CHECK_FALSE(parse("Cast on 20 sts.\nRow 1: work in patt to end.").problems.empty());
}

TEST_CASE("rows that do not end on the side they are said to") {
    const Pattern pattern = parse(kPlain + "Work 3 rows in st st, ending with a WS row.");
    REQUIRE(pattern.problems.size() == 1);
    CHECK(pattern.problems[0].suggestions == std::vector<std::string>{"4 rows", "2 rows"});
    CHECK(parse(kPlain + "Work 4 rows in st st, ending with a WS row.").problems.empty());
}

TEST_CASE("every nth row: one with shaping and the rest without") {
    const std::string dec = kPlain + "Dec row (RS): k1, ssk, k to last 3 sts, k2tog, k1.\n";
    const std::string four =
        "Row 3 (RS): k1, ssk, k to last 3 sts, k2tog, k1.\n"
        "Rows 4, 6, 8 and 10: p to end.\nRows 5 and 9: k to end.\nRows 7 and 11: as row 3.";
    CHECK(rows(dec + "Rep dec row every 4th row twice.").find(four) != std::string::npos);
    CHECK(rows(dec + "Rep dec row every 4 rows 2 times more.").find(four) != std::string::npos);
    CHECK(rows(dec + "Repeat decrease row on every foll 4th row until 14 sts remain.")
              .find("Row 7: as row 3.") != std::string::npos);
    CHECK(after(check(parse(dec + "Rep dec row every other row until 10 sts rem."))).back() == 10);
    CHECK(readings(dec + "Rep dec row every 4th row twice.").find("one row with shaping and three without") !=
          std::string::npos);
    // nothing shaped before: the first one comes at once
    CHECK(rows(kPlain + "Dec 1 st at each end of every 4th row 3 times.")
              .find("Rows 3, 7 and 11: ssk, k to last 2 sts, k2tog.\nRows 4, 6, 8 and 10: p to end.\n"
                    "Rows 5 and 9: k to end.") != std::string::npos);
    CHECK_FALSE(parse(dec + "Rep dec row every 4th row until 13 sts remain.").problems.empty());
    CHECK_FALSE(parse(dec + "Rep dec row every 4th row.").problems.empty());
    CHECK_FALSE(parse(kPlain + "Rep inc row every 4th row twice.").problems.empty());
}

TEST_CASE("shaping at the edges") {
    CHECK(rows(kPlain + "Inc 1 st at each end of next row.").find("Row 3: k1, m1l, k to last st, m1r, k1.") !=
          std::string::npos);
    CHECK(rows(kPlain + "Dec 1 st at beg of next 2 rows.")
              .find("Row 3: ssk, k to end.\nRow 4: p2tog, p to end.") != std::string::npos);
    CHECK(rows(kPlain + "Shape armholes: Cast off 3 sts at beg of next 2 rows. (14 sts)")
              .find("Row 3: bind off 3, k to end.\nRow 4: bind off 3 purlwise, p to end. (14 sts)") !=
          std::string::npos);
    CHECK(rows(kPlain + "K2tog at each end of next and foll alt row.")
              .find("Rows 3 and 5: k2tog, k to last 2 sts, k2tog.\nRow 4: p to end.") != std::string::npos);
    CHECK(rows(kPlain + "Dec 1 st at each end of next 2 rows, then every other row twice. 12 sts.")
              .find("Row 3: ssk, k to last 2 sts, k2tog.\nRows 4 and 6: p2tog, p to last 2 sts, ssp.\n"
                    "Rows 5 and 7: k to end.\n"
                    "Row 8: p2tog, p to last 2 sts, ssp. (12 sts)") != std::string::npos);
    CHECK(readings(kPlain + "Dec 1 st at each end of next row.").find("which decrease") != std::string::npos);
}

TEST_CASE(
    "next and every following row so many times: the printed count says whether the first is one of them") {
    const std::string words = kPlain + "Dec 1 st at each end of next and every foll alt row 3 times.";
    CHECK(after(check(parse(words))).back() == 14);
    CHECK(after(check(parse(words + " (14 sts)"))).back() == 14);
    const CheckReport more = check(parse(words + " (12 sts)"));
    CHECK(after(more).back() == 12);
    CHECK(more.ok);
    CHECK_FALSE(check(parse(words + " (13 sts)")).ok);
}

TEST_CASE("the 5th and every following 6th row") {
    CHECK(rows(kPlain + "Inc 1 st at each end of 3rd and every foll 4th row until there are 24 sts.")
              .find("Row 9: k1, m1l, k to last st, m1r, k1. (24 sts)") != std::string::npos);
    CHECK(rows(kPlain + "Dec 1 st at each end of 5th row, then every foll 6th row twice.")
              .find("Rows 7, 13 and 19: ssk, k to last 2 sts, k2tog.") != std::string::npos);
    CHECK(rows("Cast on 20 sts.\nRow 1: k.\nRep last row twice more.\nCont in garter st, inc 1 st at each "
               "end of every "
               "alt row twice.") ==
          "Row 1: k to end.\nRepeat row 1 2 more times.\nRows 2 and 4: k1, m1l, k to last st, m1r, k1.\nRow "
          "3: k to end.");
    // what is not understood is not lost in silence
    CHECK(parse(kPlain + "\nDec 1 st wherever she likes in these rows.").problems.size() == 1);
}

TEST_CASE("at the same time: two clocks in the same rows") {
    const std::string text =
        kPlain +
        "Dec 1 st at armhole edge on next 3 rows. At the same time, dec 1 st at neck edge of "
        "next and foll alt row.";
    CHECK(rows(text) ==
          "Row 1 (RS): k to end.\nRow 2: p to end.\nRows 3 and 5: ssk, k to last 2 sts, k2tog.\n"
          "Row 4: p to last 2 sts, ssp.");
    CHECK(readings(text).find("on which side that edge lies is not said") != std::string::npos);
}

TEST_CASE("rows repeated until a count is reached") {
    const std::string text = "Cast on 20 sts.\nRow 1: k1, ssk, k to last 3 sts, k2tog, k1.\nRow 2: p.\n";
    CHECK(after(check(parse(text + "Rep rows 1 and 2 until 8 sts remain."))).back() == 8);
    CHECK(after(check(parse(text + "Rep last 2 rows until there are 12 sts."))).size() == 8);
    CHECK(parse(text + "Rep rows 1-2 until 9 sts remain.").problems.size() == 1);
    CHECK(parse("Row 1: k1, ssk, k to end.\nRep row 1 until 9 sts remain.").problems.size() == 1);
}
