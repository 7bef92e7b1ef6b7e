// SPDX-License-Identifier: MIT
// Row heads, row lists, repeated rows, remarks.
#include "support.h"

#include <catch2/catch.hpp>

using namespace loopmend;
using loopmend::testing::told;

namespace {

std::vector<int> printedOrder(const Pattern& pattern) {
    std::vector<int> numbers;
    for (const OrderedRow& row : rowOrder(pattern).rows) numbers.push_back(row.printed);
    return numbers;
}

std::vector<int> numbers(int first, int last) {
    std::vector<int> list;
    for (int n = first; n <= last; ++n) list.push_back(n);
    return list;
}

/// The head of the only row, printed in normal form.
std::string head(const std::string& text) {
    const Pattern pattern = parse(text + " k to end.");
    if (pattern.rows.size() != 1) return told(pattern.problems) + "no row";
    const std::string row = printRow(pattern.rows[0]);
    return row.substr(0, row.find(':'));
}

}  // namespace

TEST_CASE("row heads in all their spellings") {
    CHECK(head("Row 1:") == "Row 1");
    CHECK(head("ROW 1 (RS):") == "Row 1 (RS)");
    CHECK(head("Row 1 (WS):") == "Row 1 (WS)");
    CHECK(head("Row 1 [right side]:") == "Row 1 (RS)");
    CHECK(head("Row 1 (right side facing):") == "Row 1 (RS)");
    CHECK(head("Row 1 (RS, increase row):") == "Row 1 (RS)");
    CHECK(head("Row 1, RS:") == "Row 1 (RS)");
    CHECK(head("Row 1.") == "Row 1");
    CHECK(head("Row 1 -") == "Row 1");
    CHECK(head("Row 1") == "Row 1");
    CHECK(head("R1:") == "Row 1");
    CHECK(head("1st row:") == "Row 1");
    CHECK(head("First row:") == "Row 1");
    CHECK(head("1st row (WS):") == "Row 1 (WS)");
    CHECK(head("Rnd 1:") == "Rnd 1");
    CHECK(head("Round 1:") == "Rnd 1");
    CHECK(head("Rows 1-3:") == "Rows 1-3");
    CHECK(head("Rows 1 to 3:") == "Rows 1-3");
    CHECK(head("Rows 1–3:") == "Rows 1-3");
    CHECK(head("Rows 2, 4 and 6:") == "Rows 2, 4 and 6");
    CHECK(head("Rows 2, 4, and 6:") == "Rows 2, 4 and 6");
    CHECK(head("2nd, 4th and 6th rows:") == "Rows 2, 4 and 6");
    CHECK(head("5th to 8th rows:") == "Rows 5-8");
    CHECK(head("Rows 1-3, 5 and 7-9:") == "Rows 1-3, 5 and 7-9");
    CHECK(head("Row 3 and every odd row:") == "Row 3 and every odd row");
    CHECK(head("Row 2 and every even row (WS):") == "Row 2 and every even row (WS)");
    CHECK(head("Row 2 and all even-numbered rows:") == "Row 2 and every even row");
    CHECK(head("Row 2 and every alternate row:") == "Row 2 and every even row");
    CHECK(head("2nd and every alt row:") == "Row 2 and every even row");
    CHECK(head("Row 2 and all WS rows:") == "Row 2 and all WS rows");
    CHECK(head("Row 1 (WS) and all WS rows:") == "Row 1 and all WS rows (WS)");
    CHECK(head("1st row (WS) and every alt row:") == "Row 1 and every odd row (WS)");
    CHECK(head("All wrong-side rows:") == "All WS rows");
    CHECK(head("All WS rows:") == "All WS rows");
    CHECK(head("Every even row:") == "Every even row");
    CHECK(head("Even rows:") == "Every even row");
    CHECK(head("Rnd 2 and every even rnd:") == "Rnd 2 and every even rnd");
    CHECK(head("Set-up row (WS):") == "Set-up row (WS)");
    CHECK(head("Every row:") == "Row 1");
    CHECK(head("Next row:") == "Row 1");
}

TEST_CASE("rows are cut apart wherever their heads stand") {
    const Pattern pattern =
        parse("Row 1: K2, p2.\nRow 2: k1,\n   p1,\n k1. Row 3: p. Row 4: k to last\n2 sts, p2.\n");
    INFO(told(pattern.problems));
    CHECK(pattern.problems.empty());
    REQUIRE(pattern.rows.size() == 4);
    CHECK(printRow(pattern.rows[1]) == "Row 2: k1, p1, k1.");
    CHECK(printRow(pattern.rows[3]) == "Row 4: k to last 2 sts, p2.");
}

TEST_CASE("titles, comments and notes are remarks, facts in them are kept") {
    const Pattern pattern = parse(
        "Harbour Lane sampler\n"
        "# from the box under the stairs\n"
        "\n"
        "Worked on 4 mm needles in the round over a multiple of 8 sts plus 3.\n"
        "With grey wool, cast on 27 stitches loosely.\n"
        "\n"
        "Row 1: *k3, p5; rep from * to last 3 sts, k3. // a comment\n"
        "# within a row\n"
        "\n"
        "The leaf is now begun.\n"
        "Row 2: knit.\n"
        "Rows 1-2 form the pattern.\n"
        "Cast off loosely.\n");
    INFO(told(pattern.problems));
    CHECK(pattern.problems.empty());
    CHECK(pattern.title == "Harbour Lane sampler");
    CHECK(pattern.castOn == 27);
    REQUIRE(pattern.multiple);
    CHECK(pattern.multiple->of == 8);
    CHECK(pattern.multiple->plus == 3);
    CHECK(pattern.round);
    CHECK(pattern.bindOffAtEnd);
    CHECK(pattern.rows.size() == 2);
    REQUIRE(pattern.repeats.size() == 1);
    CHECK(pattern.repeats[0].times == 0);
}

TEST_CASE("what a row is printed to add or take away is held against what it does") {
    const auto told = [](const std::string& end) {
        const Pattern pattern = parse("Row 1: K1, ssk, k to last 3 sts, k2tog, k1" + end + "\nRow 2: P.");
        return pattern.problems;
    };
    for (const char* end :
         {" (2 sts dec'd).", " - 2 sts dec'd.", "—2 sts dec’d.", " [2 sts decreased]", ": 2 sts dec’d"})
        CHECK(told(end).empty());
    for (const char* end : {" (2 sts inc'd).", " - 1 st dec'd.", " (2 sts more)"}) {
        REQUIRE(told(end).size() == 1);
        CHECK(told(end)[0].row == 1);
        CHECK(told(end)[0].message.find("two stitches fewer") != std::string::npos);
    }
}

TEST_CASE("counts printed at row ends") {
    for (const char* words :
         {"k to end. (64 sts)", "k to end (64 sts)", "k to end - 64 sts", "k to end — 64 sts.",
          "k to end. [64 sts]", "k to end. 64 stitches.", "k to end (64)", "k to end. (64 sts rem)",
          "k to end (0 sts decreased; 64 sts)", "k to end. 64 sts on needle"}) {
        const Pattern pattern = parse(std::string("Row 1: ") + words + "\nRow 2: p.");
        INFO(words << "\n" << told(pattern.problems));
        CHECK(pattern.problems.empty());
        REQUIRE(pattern.rows.size() == 2);
        CHECK(pattern.rows[0].printedCount == 64);
        CHECK(printBody(pattern.rows[0]) == "k to end");
    }
    CHECK_FALSE(parse("Row 1: k2tog, k to end. (1 st decreased)").rows[0].printedCount);
}

TEST_CASE("of several sizes one is read, the same everywhere") {
    const char* text =
        "Cast on 20 (24, 28) sts.\nRow 1: k5 (6, 7), (k2tog) 5 (6, 7) times, k5 (6, 7). (15 (18, 21) sts)";
    ParseOptions middle;
    middle.size = 1;
    const Pattern small = parse(text);
    const Pattern medium = parse(text, middle);
    INFO(told(small.problems));
    CHECK(small.problems.empty());
    CHECK(small.castOn == 20);
    CHECK(medium.castOn == 24);
    CHECK(printBody(medium.rows[0]) == "k6, (k2tog) 6 times, k6");
    CHECK(check(small).ok);
    CHECK(check(medium).ok);
    CHECK(check(medium).rows[0].stitchesAfter == 18);
}

TEST_CASE("every even row fills what no other row claims") {
    const Pattern pattern =
        parse("Row 2 and every even row: p.\nRow 1: k.\nRow 3: k.\nRow 6: k.\nRow 7: k.\nRow 5: k.");
    INFO(told(pattern.problems));
    CHECK(pattern.problems.empty());
    CHECK(printedOrder(pattern) == numbers(1, 8));  // the even rows close a last odd one
    const RowOrder order = rowOrder(pattern);
    CHECK(order.rows[5].row == 3);  // row 6 speaks for itself
    CHECK(order.rows[3].row == 0);
}

TEST_CASE("rows worked like others") {
    const Pattern pattern =
        parse("Row 1: k2, p2.\nRow 2: p.\nRows 3-6: as rows 1-2.\nRow 7: as row 1.\nRow 8: same as 2nd row.");
    INFO(told(pattern.problems));
    CHECK(pattern.problems.empty());
    const RowOrder order = rowOrder(pattern);
    std::vector<std::size_t> words;
    for (const OrderedRow& row : order.rows) words.push_back(row.row);
    CHECK(words == std::vector<std::size_t>{0, 1, 0, 1, 0, 1, 0, 1});
    CHECK(parse("Row 1: k.\nRow 2: as row 9.").problems.size() == 1);
    CHECK(parse("Row 1: as row 2.\nRow 2: as row 1.").problems.size() == 2);
}

TEST_CASE("repeated rows: n times in all if just worked, n more times, or for as long as one likes") {
    const std::string rows = "Row 1: k.\nRow 2: p.\nRow 3: k.\nRow 4: p.\n";
    CHECK(printedOrder(parse(rows + "Repeat rows 1-4 3 times.")).size() == 12);
    CHECK(printedOrder(parse(rows + "Repeat rows 1-4 3 more times.")).size() == 16);
    CHECK(printedOrder(parse(rows + "Rep rows 1 to 4 three times more.")).size() == 16);
    CHECK(printedOrder(parse(rows + "Repeat last 2 rows twice more.")).size() == 8);
    // rows 1-2 were not the last ones worked: three times from here
    CHECK(printedOrder(parse(rows + "Repeat rows 1-2 3 times.")).size() == 10);
    CHECK(printedOrder(parse(rows + "Repeat rows 1-2 3 times.\nRow 5: k.")) ==
          std::vector<int>{1, 2, 3, 4, 1, 2, 1, 2, 1, 2, 5});
    // the same, numbered on from the rows worked
    CHECK(printedOrder(parse(rows + "Repeat rows 1-2 3 times.\nRow 11: k.")) ==
          std::vector<int>{1, 2, 3, 4, 1, 2, 1, 2, 1, 2, 11});
    const RowOrder forever = rowOrder(parse(rows + "Repeat rows 3-4 until work measures 10 cm."));
    CHECK(forever.loopPrinted);
    CHECK(forever.loopFirst == 2);
    CHECK(forever.loopEnd == 4);
    CHECK(parse(rows + "Repeat rows 1-9.").problems.size() == 1);
    CHECK(rowOrder(parse(rows + "These 4 rows form the pattern.")).loopPrinted);
    CHECK(rowOrder(parse(rows + "Rep from row 3.")).loopFirst == 2);
}

TEST_CASE("numbers twice or missing are named, and none hides the next") {
    const Pattern twice = parse("Row 1: k.\nRow 2: p.\nRow 2: k.\nRow 3: k.\nRow 3: p.");
    REQUIRE(twice.problems.size() == 2);
    CHECK(twice.problems[0].row == 2);
    CHECK(twice.problems[0].line == 3);
    CHECK(twice.problems[0].message.find("line 2") != std::string::npos);
    CHECK(twice.problems[1].row == 3);
    const Pattern missing = parse("Row 1: k.\nRow 2: p.\nRow 5: k.\nRow 7: p.");
    REQUIRE(missing.problems.size() == 2);
    CHECK(missing.problems[0].message.find("Rows 3-4") != std::string::npos);
    CHECK(missing.problems[0].line == 3);
    CHECK(missing.problems[1].message.find("Row 6") != std::string::npos);
}

TEST_CASE("right and wrong sides alternate, in rounds not") {
    CHECK(parse("Row 1 (RS): k.\nRow 2 (WS): p.\nRow 3: k.").problems.empty());
    const Pattern slip = parse("Row 1 (RS): k.\nRow 2 (RS): p.\nRow 3 (RS): k.");
    REQUIRE(slip.problems.size() == 1);
    CHECK(slip.problems[0].row == 2);
    CHECK(parse("Rnd 1 (RS): k.\nRnd 2 (RS): p.").problems.empty());
    const auto first = [](const char* text) {
        const Pattern pattern = parse(text);
        const auto script = expand(pattern, 4, 2);
        REQUIRE(script);
        return std::pair(script->rows[0].facing, script->rows[1].facing);
    };
    CHECK(first("Row 1 (WS): p.\nRow 2: k.") == std::pair(Facing::wrong, Facing::right));
    CHECK(first("Row 1: p.\nRow 2 (WS): k.") == std::pair(Facing::right, Facing::wrong));
    CHECK(first("Row 1: k.\nRow 2 (RS): k.") == std::pair(Facing::wrong, Facing::right));
    CHECK(first("Rnd 1: k.\nRnd 2: k.") == std::pair(Facing::right, Facing::right));
}

TEST_CASE("lines that nearly are rows are not lost in silence") {
    const Pattern misspelt = parse("Row 1: k.\nRwo 2: p.\nRow 3: k.");
    REQUIRE(misspelt.problems.size() == 1);
    CHECK(misspelt.problems[0].line == 2);
    CHECK(misspelt.problems[0].suggestions[0] == "Row 2:");
    CHECK(misspelt.rows.size() == 3);
    const Pattern headless = parse("Row 1: k.\n\nK2, p2, k2.\n\nRow 2: p.");
    REQUIRE(headless.problems.size() == 1);
    CHECK(headless.problems[0].line == 3);
    CHECK(parse("Row: k2, p2.").problems.size() == 1);
    CHECK(parse("Rows 5-3: k.\nRow 1: k. Row 2: k.").problems.size() == 1);
    CHECK(parse("Row 0: k.").problems.size() == 1);
    CHECK(parse("Row 1:\nRow 2: p.").problems.size() == 1);
}

TEST_CASE("every problem of a bad text is told, each at its place") {
    const Pattern pattern = parse(
        "Row 1: k2, blip, p2.\n"
        "Row 2: *k2, p2.\n"
        "Row 3: k2.\n"
        "Row 4: (k2, p2 3 times.\n"
        "Row 3: p2.\n"
        "Row 5: k2) p2, c5f.\n");
    std::vector<std::pair<int, int>> places;
    for (const Problem& problem : pattern.problems) places.emplace_back(problem.line, problem.column);
    INFO(told(pattern.problems));
    CHECK(places == std::vector<std::pair<int, int>>{{1, 12}, {2, 8}, {4, 8}, {5, 1}, {6, 10}, {6, 16}});
    CHECK(pattern.rows.size() == 6);
}
