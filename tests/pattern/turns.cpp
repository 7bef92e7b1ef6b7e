// SPDX-License-Identifier: MIT
// Rows that are turned early and edges, in words and in numbers. Common practice.
#include "support.h"

#include <catch2/catch.hpp>

#include "pattern/working.h"

using namespace loopmend;
using loopmend::testing::after;
using loopmend::testing::printedBack;
using loopmend::testing::told;

namespace {

/// The one step of a row of words; fails where there are more.
Step stepOf(const std::string& words) {
    const Pattern pattern = parse("Row 1: " + words + ".");
    INFO(words << told(pattern.problems));
    REQUIRE(pattern.problems.empty());
    REQUIRE(pattern.rows.size() == 1);
    REQUIRE(pattern.rows[0].items.size() == 1);
    return pattern.rows[0].items[0].step;
}

std::vector<std::int64_t> countsAfter(const std::string& text, int stitches) {
    const Pattern pattern = parse(text);
    const CheckReport report = check(pattern, stitches);
    INFO(told(report.problems));
    CHECK(report.ok);
    std::vector<std::int64_t> counts;
    for (const CheckedRow& row : report.rows) counts.push_back(row.stitchesAfter);
    return counts;
}

}  // namespace

TEST_CASE("short rows under a label of their own, wraps picked up on the way, doubled stitches met again") {
    const std::string wedge =
        "Cast on 30 sts.\nKnit 4 rows.\nShort row 1 (RS): K20, wrap and turn.\nShort row 2 (WS): P10, wrap "
        "and turn.\n"
        "Short row 3: K to wrapped st, knit wrap together with st, k2, wrap and turn.\n"
        "Short row 4: P to wrapped st, purl wrap together with st, p2, wrap and turn.\n"
        "Next row (RS): K to end, picking up wraps.\nNext row: P to end, picking up remaining wraps.\n";
    CHECK(printedBack(wedge) ==
          "Cast on 30 sts.\nRows 1-4: k to end.\nRow 5 (RS): k20, w&t.\nRow 6 (WS): p10, w&t.\n"
          "Row 7: k to last 10 sts, k1 with its wrap, k2, w&t.\nRow 8: p to last 10 sts, p1 with its wrap, "
          "p2, w&t.\n"
          "Row 9 (RS): k to last 7 sts, k1 with its wrap, k to end.\n"
          "Row 10: p to last 7 sts, p1 with its wrap, p to end.");
    CHECK(
        printedBack(
            "Cast on 30 sts.\nRow 1 (RS): K20, turn.\nRow 2: MDS, p9, turn.\nRow 3: MDS, k to DS, k DS, k2, "
            "turn.\nRow 4: make double stitch, p to double stitch, p ds, p2, turn.\n"
            "Row 5: mds, k to end, working ds as you come to them.") ==
        "Cast on 30 sts.\nRow 1 (RS): k20, turn.\nRow 2: ds, p9, turn.\nRow 3: ds, k to last 11 sts, k ds, "
        "k2, "
        "turn.\nRow 4: ds, p to last 11 sts, p ds, p2, turn.\nRow 5: ds, k to end.");
    CHECK(printedBack(
              "Cast on 8 sts.\nRib row 1: *k2, p2; rep from * to end.\nRep this row 3 times.\nRow 1: k.") ==
          "Cast on 8 sts.\nRow 1: *k2, p2; rep from * to end.\nRepeat row 1 3 times.\nRow 2: k to end.");
}

TEST_CASE("a sock to its turned heel: rows to and fro among rounds") {
    const std::string sock =
        "Using smaller needles, cast on 44 sts. Join to work in the round.\nRnd 1: *K2, P2; rep from * "
        "around.\n"
        "Change to larger needles and knit 3 rounds.\n\nHeel flap\n"
        "Row 1 (RS): *Sl 1, k1; rep from * 11 times, turn. Leave remaining 22 sts on a holder for instep.\n"
        "Row 2: Sl 1, p to end.\nRepeat these 2 rows 3 more times.\n\nTurn heel\nRow 1: K13, ssk, k1, turn.\n"
        "Row 2: Sl 1, p5, p2tog, p1, turn.\nRow 3: Sl 1, k to 1 st before gap, ssk, k1, turn.\n"
        "Row 4: Sl 1, p to 1 st before gap, p2tog, p1, turn.\n"
        "Repeat Rows 3 and 4 until all heel sts have been worked.\nRow 5: Knit across.\nRnd 1: k.\n";
    const Pattern pattern = parse(sock);
    INFO(told(pattern.problems));
    REQUIRE(pattern.problems.empty());
    const CheckReport report = check(pattern);
    INFO(told(report.problems));
    CHECK(report.ok);
    CHECK(printBody(pattern.rows[4]) == "(sl1, k1) 11 times, hold to end, turn");
    CHECK(printBody(pattern.rows[5]) == "sl1, p to end");
    CHECK(printBody(pattern.rows[14]) == "sl1, k to last 7 sts, ssk, k1, turn");
    CHECK(printBody(pattern.rows[pattern.rows.size() - 2]) == "k to end");  // rounds go on behind it
    CHECK(after(report).back() == 14);
    const auto script = expand(pattern, 44, static_cast<int>(pattern.rows.size()));
    REQUIRE(script);
    CHECK(script->rows[5].facing == Facing::wrong);
    CHECK(script->rows.back().facing == Facing::right);
    CHECK(knit(*script));
    // Rows that say nothing of sides or turns are rounds.
    CHECK(after(check(parse("Cast on 8 sts.\nRnd 1: k.\nRow 2: k.\nRow 3: p.\n"))).size() == 3);
    CHECK(printBody(parse("Cast on 8 sts.\nRnd 1: k.\nRow 2: k.\nRow 3: p.\n").rows[1]) == "k to end");
}

TEST_CASE("words of turns and edges") {
    for (const char* words : {"turn", "turn the work"}) CHECK(stepOf(words).op == Op::turn);
    for (const char* words : {"w&t", "w & t", "wt", "wrap and turn", "wrap next st and turn", "Wrap & turn"})
        CHECK(stepOf(words).op == Op::wrapTurn);
    for (const char* words : {"ds", "make ds", "double the next st", "make a ds"})
        CHECK(stepOf(words).op == Op::doubled);
    CHECK(stepOf("k ds").op == Op::knitDoubled);
    CHECK(stepOf("purl the ds").op == Op::purlDoubled);
    for (const char* words : {"k1 with its wrap", "k 1 with wrap", "knit next st tog with its wrap"})
        CHECK(stepOf(words).op == Op::knitWithWrap);
    CHECK(stepOf("p1 with its wrap").op == Op::purlWithWrap);
    for (const char* words : {"k1 with its float", "k next st tog with the strand behind", "k1 with float"})
        CHECK(stepOf(words).op == Op::knitWithFloat);
    CHECK(stepOf("p1 with its float").op == Op::purlWithFloat);
    Step picked = stepOf("pick up and knit 17 sts along the edge");
    CHECK(picked.op == Op::pickUp);
    CHECK(picked.count == 17);
    CHECK(picked.edge == Edge::side);
    CHECK(stepOf("pick up and k 9 along the cast-on edge").edge == Edge::castOn);
    CHECK(stepOf("pick up and k 9 along the bound-off edge").edge == Edge::boundOff);
    CHECK(stepOf("pick up and k 9 along the cast-off edge").edge == Edge::boundOff);
    CHECK(stepOf("cast on 3 sts knitted").op == Op::castOnKnitted);
    CHECK(stepOf("cast on 3 turned right").op == Op::castOnRight);
    CHECK(stepOf("cast on 3").op == Op::castOn);
    CHECK(stepOf("bind off 6 together").op == Op::bindOffTogether);
    CHECK(stepOf("cast off 6 sts together with the spare needle").count == 6);
    CHECK(stepOf("bind off 6").op == Op::bindOff);
}

TEST_CASE("what is printed of turns and edges reads the same again") {
    for (const char* body :
         {"k8, turn", "k8, w&t", "ds, p5, turn", "k5, k ds, k to end", "p5, p ds, k1 with its wrap, p to end",
          "(k1 with its wrap) 2 times, k to end", "pick up and knit 12 along the cast-on edge",
          "bind off 11, k1, pick up and knit 9 along the edge", "pick up and knit 5 along the bound-off edge",
          "*cast on 2 knitted, bind off 4; rep from * to end", "bind off together to end",
          "bind off 3 together, k to end", "cast on 2 turned right, k to end", "k to last 5 sts, turn",
          "*k2, p2; rep from * to last 3 sts, w&t"}) {
        const Pattern pattern = parse(std::string("Row 1: ") + body + ".");
        INFO(body << told(pattern.problems));
        CHECK(pattern.problems.empty());
        CHECK(printBody(pattern.rows[0]) == body);
        for (const Terms terms : {Terms::us, Terms::uk}) {
            const Pattern again = parse(print(pattern, terms));
            INFO(print(pattern, terms) << told(again.problems));
            CHECK(again.problems.empty());
            CHECK(sameRows(pattern, again));
        }
    }
}

TEST_CASE("a row turned early leaves stitches; the next begins with those worked, and the last counts all") {
    CHECK(countsAfter("Row 1: k8, turn.\nRow 2: p to end.\nRow 3: k to last 5 sts, turn.\nRow 4: p to end.\n"
                      "Row 5: k to last 2 sts, k2tog.",
                      12) == std::vector<std::int64_t>{12, 12, 12, 12, 11});
    CHECK(countsAfter("Row 1: k6, k2tog, turn.\nRow 2: p to last 2 sts, turn.\nRow 3: k to end.\nRow 4: p.",
                      12) == std::vector<std::int64_t>{11, 11, 11, 11});
    // "To the last three" are three of those ahead, not of all.
    const auto script = expand(
        parse("Row 1: k8, turn.\nRow 2: p to last 3 sts, turn.\nRow 3: k to end.\nRow 4: p to end."), 12, 4);
    REQUIRE(script);
    CHECK(script->rows[1].steps.size() == 5 + 1);
    CHECK(script->rows[2].steps.size() == 5 + 4);
    CHECK(script->rows[3].steps.size() == 12);
    // The sides follow the turns, in the round too.
    const auto round =
        expand(parse("Rnd 1: k8, turn.\nRnd 2: p5, turn.\nRnd 3: k to end.\nRnd 4: k to end."), 12, 4);
    REQUIRE(round);
    CHECK(round->rows[1].facing == Facing::wrong);
    CHECK(round->rows[2].facing == Facing::right);
    CHECK(round->rows[2].steps.size() == 5 + 4);
    CHECK(round->rows[3].steps.size() == 12);
    CHECK(knit(*script));
    CHECK(knit(*round));
}

TEST_CASE("which stitch counts a pattern with turns can be worked on") {
    // Eight or more; and of those, what row 5 leaves a multiple of four.
    const std::string rows =
        "Row 1: k8, turn.\nRow 2: p to end.\nRow 3: k to last 2 sts, turn.\nRow 4: p.\nRow 5: *k2, p2; rep "
        "from * to end.";
    const PatternCounts counts = countAll(parse(rows));
    REQUIRE(counts.multiple);
    CHECK(counts.multiple->of == 4);
    CHECK(counts.multiple->plus == 0);
    CHECK(counts.multiple->least == 8);
    for (int n = 1; n <= 24; ++n) {
        CAPTURE(n);
        const bool works = n >= 8 && n % 4 == 0;
        const auto script = expand(parse(rows), n, 5);
        CHECK(script.has_value() == works);
        CHECK(check(parse(rows), n).ok == works);
        if (script) CHECK(knit(*script));
    }
}

TEST_CASE("both legs of a doubled stitch are worked as one when a plain row comes to it") {
    const auto script = expand(
        parse("Row 1: k8, turn.\nRow 2: ds, p3, turn.\nRow 3: ds, k to end.\nRow 4: p to end."), 12, 4);
    REQUIRE(script);
    const auto ops = [&](std::size_t row) {
        std::string text;
        for (const Step& step : script->rows[row].steps)
            text += step.op == Op::knitDoubled ? 'K' : step.op == Op::purlDoubled ? 'P' : name(step.op)[0];
        return text;
    };
    CHECK(ops(2) == "dkkKkkkk");
    CHECK(ops(3) == "pppppppPpppp");
    CHECK(knit(*script));
}

TEST_CASE("a turn in its wrong place, and a short row that does not fit, are told") {
    const auto first = [](const std::string& text) {
        const CheckReport report = check(parse(text));
        REQUIRE_FALSE(report.problems.empty());
        return report.problems.front();
    };
    CHECK(first("Row 1: k3, turn, p3.").message.find("Nothing can follow a turn") == 0);
    CHECK(first("Row 1: *k3, turn; rep from * to end.").message.find("A turn cannot stand inside a repeat") ==
          0);
    CHECK(first("Row 1: k3, ds, k3.").message.find("A stitch is doubled first in a row") == 0);
    const Problem tooFew = first("Cast on 12 sts.\nRow 1: k8, turn.\nRow 2: p9, turn.");
    CHECK(tooFew.row == 2);
    CHECK(tooFew.misses == -1);
    CHECK(tooFew.message ==
          "Row 2 cannot be worked: there are 8 stitches ahead and it uses 9 stitches; 1 stitch short.");
    const auto script = expand(parse("Row 1: k8, turn.\nRow 2: p9."), 12, 2);
    REQUIRE_FALSE(script);
    CHECK(script.error().message ==
          "Row 2 cannot be worked: there are 8 stitches ahead, 4 wait behind and it uses 9.");
}

TEST_CASE(
    "of some stitches alone short rows are worked first: the others wait from the row that reaches them") {
    CHECK(
        printedBack("Cast on 20 sts.\nWork on 12 sts only.\nRow 1 (RS): k10, w&t.\nRow 2 (WS): p to end.\n"
                    "Row 3 (RS): k to end.\nRow 4: p to end.") ==
        "Cast on 20 sts.\nRow 1 (RS): k10, w&t.\nRow 2 (WS): p to end.\nRow 3 (RS): k to last 8 sts, hold to "
        "end.\nRow 4: p to end.");
    CHECK(countsAfter("Cast on 20 sts.\nWork on 12 sts only.\nRow 1 (RS): k10, w&t.\nRow 2 (WS): p to end.\n"
                      "Row 3 (RS): k to end.\nRow 4: p to end.",
                      20) == std::vector<std::int64_t>{20, 20, 12, 12});
}
