// SPDX-License-Identifier: MIT
// Words of old and new books (the old ones: Miss Lambert, My Knitting Book, London 1843; Cornelia Mee,
// Exercises in Knitting, London 1846; Mrs. Beeton, Book of Needlework, London 1870; Th. de Dillmont,
// Encyclopedia of Needlework; the rest: common practice).
#include "support.h"

#include <catch2/catch.hpp>

using namespace loopmend;
using loopmend::testing::after;
using loopmend::testing::normal;
using loopmend::testing::printedBack;
using loopmend::testing::problemsOf;
using loopmend::testing::readings;
using loopmend::testing::told;

TEST_CASE("what stays on a holder, sides after the colon, rows that lean on a last even one") {
    CHECK(normal("k12, turn and leave rem sts on a spare needle") == "k12, hold to end");
    CHECK(normal("k12, turn, leaving rem sts on a holder") == "k12, hold to end");
    CHECK(normal("purl back") == "p to end");
    CHECK(normal("ds, k to end, working double stitch as one") == "ds, k to end");
    CHECK(normal("ds, k to end, working both strands of the double stitch as one") == "ds, k to end");
    CHECK(normal("slip first stitch wyib, purl to last stitch, knit last stitch") ==
          "sl1 wyib, p to last st, k1");
    CHECK(normal("k1, slip slip knit, k to last 2 sts, knit the last 2 sts") ==
          "k1, ssk, k to last 2 sts, k2");
    CHECK(normal("k1 (through back loop), p1 (tbl)") == "k1 tbl, p1 tbl");
    CHECK(normal("purl all sts to last 2 sts, k2") == "p to last 2 sts, k2");
    CHECK(normal("k1-tbl, p1-tbl") == "k1 tbl, p1 tbl");
    CHECK(normal("kfb in each st across") == "kfb to end");
    // Rows told by their ordinals and names, a row behind a heading on its own line.
    const auto rows = [](const std::string& text) {
        const Pattern pattern = parse("Cast on 24 sts.\n" + text);
        INFO(text);
        CHECK(pattern.problems.empty());
        return check(pattern, 24).rows;
    };
    CHECK(rows("1st row: K.\n2nd row: P.\nRep 1st and 2nd rows 3 times more.\n").size() == 8);
    CHECK(rows("Rows 1-3: K.\nRow 4 (eyelet row): *Yo, k2tog; rep from * to end.\nRows 5-7: K.\nRow 8: Rep "
               "eyelet row.")
              .back()
              .text == "as row 4");
    CHECK(rows("Work in garter st for 10 rows.\nShape top: Next row: K2tog, k to last 2 sts, k2tog.\nNext "
               "row: K.\n"
               "Rep last 2 rows until 6 sts rem.")
              .back()
              .stitchesAfter == 6);
    // Short rows that go on to what was wrapped: 20 stitches, the 13th wrapped, then one on the other side.
    const Pattern heel = parse(
        "Cast on 20 sts.\nRow 1 (RS): K12, w&t.\nRow 2: P4, w&t.\n"
        "Row 3: K to wrapped st, knit st tog with its wrap, w&t.\n"
        "Row 4: P to wrapped st, p wrapped st together with its wrap, w&t.\n"
        "Row 5: K to 1 st before wrapped st, k2tog, k to end.\n");
    CHECK(heel.problems.empty());
    REQUIRE(heel.rows.size() == 5);
    CHECK(printBody(heel.rows[2]) == "k to last 8 sts, k1 with its wrap, w&t");
    CHECK(printBody(heel.rows[3]) == "p to last 8 sts, p1 with its wrap, w&t");
    CHECK(printBody(heel.rows[4]) == "k to last 8 sts, k2tog, k to end");
    CHECK(problemsOf("k to wrapped st, k2").size() == 1);
    // A turned heel: the gap is where the work was turned, and the rows go on till both are closed.
    const std::string flap =
        " sts.\nRow 1 (RS): k13, ssk, k1, turn.\nRow 2: sl1, p5, p2tog, p1, turn.\n"
        "Row 3: sl1, k to 1 st before gap, ssk, k1, turn.\nRow 4: sl1, p to 1 st before gap, p2tog, p1, "
        "turn.\n"
        "Repeat rows 3 and 4 until all heel sts have been worked.\nRow 5: k.\n";
    const Pattern turned = parse("Cast on 22" + flap);
    INFO(told(turned.problems));
    CHECK(turned.problems.empty());
    REQUIRE(turned.rows.size() == 9);
    CHECK(printBody(turned.rows[2]) == "sl1, k to last 7 sts, ssk, k1, turn");
    CHECK(printBody(turned.rows[6]) == "sl1, k to last 3 sts, ssk, k1, turn");
    CHECK(after(check(turned)).back() == 14);  // one decrease in each of eight rows
    // With one stitch more at each side the last turn never closes.
    const Pattern open = parse("Cast on 24" + flap);
    INFO(told(open.problems));
    CHECK_FALSE(open.problems.empty());
    CHECK(problemsOf("k to gap, k2").size() == 1);
    // Shaping told as a row of its own.
    const Pattern shaped = parse(
        "Cast on 18 sts.\nRow 1: K.\nRow 2: P.\nRow 3: Inc 1 st at each end of row (20 sts).\nRow 4: P.\nRow "
        "5: Dec 1 st at both ends.");
    CHECK(shaped.problems.empty());
    REQUIRE(shaped.rows.size() == 5);
    CHECK(printBody(shaped.rows[2]) == "k1, m1l, k to last st, m1r, k1");
    CHECK(printBody(shaped.rows[4]) == "ssk, k to last 2 sts, k2tog");
    // What is knitted on them again is a piece of its own: not lost in silence.
    const Pattern again = parse(
        "Cast on 20 sts.\nRow 1 (RS): K8, turn, leaving rem sts on a holder.\nRow 2: P8.\nRow 3: Bind off "
        "8.\n"
        "Return held sts to needle, rejoin yarn with RS facing.\nRow 4: P12.\n");
    CHECK(again.problems.empty());
    CHECK(again.rows.size() == 3);
    CHECK(again.parts.size() == 2);
    // Nor is what takes them up in words that are not understood.
    CHECK(problemsOf("k8, turn, leaving rem sts on a holder.\nNow join the held sts to them").size() == 1);
    CHECK(normal("k4, hold to last 2 sts, p2") == "k4, hold to last 2 sts, p2");
    CHECK(normal("k2tog around to last st, k1") == "k2tog to last st, k1");
    CHECK(printedBack("Cast on 20 sts.\n1st row: (right side) Knit.\n2nd row: K1, purl to last st, K1.") ==
          "Cast on 20 sts.\nRow 1 (RS): k to end.\nRow 2: k1, p to last st, k1.");
    const Pattern lace = parse(
        "Cast on 24 sts.\nRow 1: k2, *yo, k2tog; repeat from * across.\nRow 2 and all WS rows: purl across.\n"
        "Row 3: knit.\nRow 5: as Row 1.\nRepeat these 6 rows until piece measures 20 cm, ending with a WS "
        "row.");
    INFO(told(lace.problems));
    CHECK(lace.problems.empty());
    REQUIRE(lace.repeats.size() == 1);
    CHECK(lace.repeats[0].rows.last == 6);
    const Pattern hat = parse(
        "Cast on 15 sts.\nRnd 1: k2tog around to last st, k1. (8 sts)\nBreak yarn and draw "
        "through rem sts.");
    INFO(told(hat.problems));
    CHECK(hat.problems.empty());
    CHECK(hat.rows.size() == 1);
}

TEST_CASE("old words") {
    CHECK(normal("Knit 2 plain, take in, pearl 1, turn over, plain 1, raise 1") ==
          "k2, k2tog, p1, yo, k1, rli");
    CHECK(normal("intake, widen, narrow, seam 2, take two together") == "k2tog, yo, k2tog, p2, k2tog");
    CHECK(normal("slip and bind, slip 1, narrow and bind, throw the thread over") == "skp, sk2p, yo");
    // heads and ends of rows as they were printed
    CHECK(printedBack("1st row. - k1, p1. 2nd row. - p1, k1.") == "Row 1: k1, p1.\nRow 2: p1, k1.");
    CHECK(printedBack("1st Row--K2, P2; repeat.\n2nd Row--P2, K2; repeat.") ==
          "Row 1: *k2, p2; rep from * to end.\nRow 2: *p2, k2; rep from * to end.");
    CHECK(readings("Row 1: k2, p2; repeat.").find("to the end of the row") != std::string::npos);
}

TEST_CASE("a decrease or an increase that is not named is the plainest, and that is said") {
    CHECK(normal("dec 1, k to last 2 sts, dec 1") == "k2tog, k to last 2 sts, k2tog");
    CHECK(normal("work 2 tog, k1") == "k2tog, k1");
    CHECK(normal("inc 1, k to last st, inc in last st") == "kfb, k to last st, kfb");
    CHECK(readings("Row 1: dec 1, k2.").find("which decrease is not said") != std::string::npos);
    CHECK(readings("Row 1: inc 1, k2.").find("which increase is not said") != std::string::npos);
    CHECK(readings("Row 1: k1, m1, k1.").find("leans left") != std::string::npos);
    CHECK(readings("Row 1: k1, m1r, k1.").empty());
    CHECK(problemsOf("dec 4, k2").size() == 1);
}

TEST_CASE("where the yarn goes at a slipped stitch") {
    CHECK(normal("wyif sl 1, k1, wyib, sl 1, with yarn in front sl 2") == "sl1 wyif, k1, sl1 wyib, sl2 wyif");
    CHECK(readings("Row 1: sl 1, k1.").find("wrong side") != std::string::npos);
    CHECK(readings("Row 1: sl 1 wyif, k1.").empty());
    CHECK(readings("Row 1: sl 1, k1, psso.").empty());
}

TEST_CASE("a last repeat that is cut short") {
    CHECK(normal("*k2, p1, ** k3; rep from *, ending last rep at **") ==
          "*k2, p1, k3; rep from * to last 3 sts, k2, p1");
    CHECK(normal("k1, *k2, p1, ** k3; rep from *, ending last rep at **, k1") ==
          "k1, *k2, p1, k3; rep from * to last 4 sts, k2, p1, k1");
    CHECK(normal("*yo, k2tog, k3; rep from *, ending last rep with k1 instead of k3") ==
          "*yo, k2tog, k3; rep from * to last 3 sts, yo, k2tog, k1");
    CHECK(normal("*k5, p1; rep from *, ending last rep k3") == "*k5, p1; rep from * to last 3 sts, k3");
    CHECK(readings("Row 1: *k5, p1; rep from *, ending last rep k3.").find("in place of those") !=
          std::string::npos);
    CHECK(problemsOf("*k5, p1; rep from *, ending last rep at **").size() == 1);
}

TEST_CASE("sizes in brackets of every shape, and none in a size") {
    ParseOptions last;
    last.size = 2;
    for (const char* words : {"Cast on 36 (40, 44) sts.\nRow 1: k to last 6 (8, 10) sts, p6 (8, 10).",
                              "Cast on 36 [40: 44] sts.\nRow 1: k to last 6 [8: 10] sts, p6 [8: 10].",
                              "Cast on 36/40/44 sts.\nRow 1: k to last 6/8/10 sts, p6/8/10."}) {
        INFO(words);
        CHECK(printedBack(words) == "Cast on 36 sts.\nRow 1: k to last 6 sts, p6.");
        CHECK(printedBack(words, last) == "Cast on 44 sts.\nRow 1: k to last 10 sts, p10.");
        CHECK(readings(words).find("3 sizes; the first number") != std::string::npos);
        CHECK(readings(words, last).find("3 sizes; the third number") != std::string::npos);
    }
    const char* none = "Row 1: k2 (3, 4), k2tog 0 (1, 2) times, (yo, k2tog) - (1, 2) times, k0 (1, 2), p1.";
    CHECK(printedBack(none) == "Row 1: k2, p1.");
    CHECK(printedBack(none, last) == "Row 1: k4, (k2tog) 2 times, (yo, k2tog) 2 times, k2, p1.");
    // a list that is too short
    const Pattern shorter = parse("Cast on 40 (44, 48) sts.\nRow 1: k20 (22), k20.");
    REQUIRE(shorter.problems.size() == 1);
    CHECK(shorter.problems[0].message == "Here are 2 sizes, but 3 before.");
    // crosses and counts are none
    CHECK(normal("2/2 RC, k2. (6)") == "2/2 RC, k2");
}

TEST_CASE("rows that are rows repeated so often") {
    CHECK(printedBack("Row 1: k.\nRow 2: p.\nRows 3-8: rep rows 1-2 3 times.") ==
          "Row 1: k to end.\nRow 2: p to end.\nRows 3-8: as rows 1-2.");
    const Pattern wrong = parse("Row 1: k.\nRow 2: p.\nRows 3-8: rep rows 1-2 four times.");
    REQUIRE(wrong.problems.size() == 1);
    CHECK(wrong.problems[0].message == "2 rows, 4 times, are 8 rows, but 6 are numbered here.");
    CHECK(printedBack("Row 2 (and all foll WS rows): p.\nRow 1: k.\nRow 3: k.") ==
          "Row 2 and all WS rows: p to end.\nRow 1: k to end.\nRow 3: k to end.");
}

TEST_CASE("edge stitches beside a multiple") {
    CHECK(printedBack(
              "Multiple of 6 sts + 1, plus 2 edge sts.\nRow 1: k1, *k3, p3; rep from * to last 2 sts, k2.")
              .find("Multiple of 6 plus 3.") != std::string::npos);
    CHECK(check(parse("Mult of 6 sts + 1 (+ 2 edge sts).\nRow 1: k1, *k3, p3; rep from * to last 2 sts, k2."))
              .ok);
}
