// SPDX-License-Identifier: MIT
// From printed rows to single operations in working order.
#include "support.h"

#include <catch2/catch.hpp>

using namespace loopmend;
using loopmend::testing::told;

namespace {

/// `k k yo2 k2tog`: the operations of one row.
std::string steps(const WorkedRow& row) {
    std::string text;
    for (const Step& step : row.steps) {
        if (!text.empty()) text += ' ';
        text += step.op == Op::knit ? "k" : step.op == Op::purl ? "p" : printStep(step);
    }
    return text;
}

Script work(const std::string& text, int stitches, int rows) {
    const Pattern pattern = parse(text);
    INFO(text << told(pattern.problems));
    const auto script = expand(pattern, stitches, rows);
    if (!script) FAIL(script.error().message);
    return *script;
}

}  // namespace

TEST_CASE("one operation a step, groups and stars unrolled") {
    const Script script = work("Row 1: k1, (yo, k2tog) 2 times, *p1, kfb; rep from * to last st, k1.", 10, 1);
    CHECK(script.castOn == 10);
    CHECK(steps(script.rows[0]) == "k yo k2tog yo k2tog p kfb p kfb k");
}

TEST_CASE("two yarn-overs side by side are one of two wraps") {
    CHECK(steps(work("Row 1: k1, yo, yo, k1.", 2, 1).rows[0]) == "k yo twice k");
    CHECK(steps(work("Row 1: *yo, k2tog, yo; rep from * to end.", 4, 1).rows[0]) ==
          "yo k2tog yo twice k2tog yo");
}

TEST_CASE("binding off to the end is one operation") {
    CHECK(steps(work("Row 1: k2, bind off to end.", 9, 1).rows[0]) == "k k bind off 7");
    CHECK(steps(work("Row 1: bind off 3, k6.", 9, 1).rows[0]) == "bind off 3 k k k k k k");
}

TEST_CASE("a bare slip lays its strand on the wrong side of the fabric") {
    const Script flat = work("Row 1 (RS): sl1, k1, sl1 wyif.\nRow 2: sl1, p1, sl1 wyib.", 3, 2);
    CHECK(steps(flat.rows[0]) == "sl1 wyib k sl1 wyif");
    CHECK(steps(flat.rows[1]) == "sl1 wyif p sl1 wyib");
    CHECK(steps(work("Rnd 1: sl1.\nRnd 2: sl1.", 1, 2).rows[1]) == "sl1 wyib");
}

TEST_CASE("rows go on from row 1, or as the words say") {
    const auto printed = [](const Script& script) {
        std::vector<int> numbers;
        for (const WorkedRow& row : script.rows) numbers.push_back(row.printed);
        return numbers;
    };
    const std::string rows = "Row 1: k.\nRow 2: p.\nRow 3: k.\n";
    CHECK(printed(work(rows, 5, 7)) == std::vector<int>{1, 2, 3, 1, 2, 3, 1});
    CHECK(printed(work(rows + "Repeat rows 2-3.", 5, 8)) == std::vector<int>{1, 2, 3, 2, 3, 2, 3, 2});
    CHECK(printed(work("Set-up row: p.\n" + rows, 5, 6)) == std::vector<int>{0, 1, 2, 3, 1, 2});
    const Script flat = work(rows, 5, 5);
    for (std::size_t i = 0; i < flat.rows.size(); ++i) {
        CHECK(flat.rows[i].number == static_cast<int>(i) + 1);
        // the work is turned after every row, also where an odd number of rows is repeated
        CHECK(flat.rows[i].facing == (i % 2 == 0 ? Facing::right : Facing::wrong));
        CHECK_FALSE(flat.rows[i].round);
    }
    const Script round = work("Rnd 1: k.\nRnd 2: p.\n", 5, 4);
    CHECK(round.round);
    for (const WorkedRow& row : round.rows) CHECK((row.round && row.facing == Facing::right));
}

TEST_CASE("stitches are followed as they face the knitter") {
    // Flat rib: from the wrong side the knits are purled, met from the other end.
    const Script flat =
        work("Row 1: k2, p1, k1.\nRow 2: knit the knits and purl the purls.\nRow 3: k1, p1, k2.\n", 4, 2);
    CHECK(steps(flat.rows[1]) == "p k p p");
    const Script seed = work("Row 1: k1, p1, k2.\nRow 2: knit the purls and purl the knits.", 4, 2);
    CHECK(steps(seed.rows[1]) == "k k p k");
    const Script round = work("Rnd 1: k2, p1, k1.\nRnd 2: knit the knits and purl the purls.", 4, 3);
    CHECK(steps(round.rows[1]) == "k k p k");
    // a slipped stitch keeps its look, a decrease has that of its own row
    const Script slipped = work("Row 1: p4.\nRow 2: sl1, k1, p2tog.\nRow 3: work sts as they appear.", 4, 3);
    CHECK(steps(slipped.rows[2]) == "k p p");
}

TEST_CASE("what cannot be worked comes back as a problem with its place") {
    const auto wrong = expand(parse("Row 1: k.\nRow 2: *k2, p2; rep from * to last st, k1."), 12, 4);
    REQUIRE_FALSE(wrong);
    CHECK(wrong.error().row == 2);
    CHECK(wrong.error().line == 2);
    CHECK(wrong.error().misses == 3);
    CHECK(wrong.error().message.find("there are 12 stitches") != std::string::npos);
    CHECK_FALSE(expand(parse("Row 1: blip."), 12, 1));
    CHECK_FALSE(expand(parse("Row 1: k."), 0, 1));
    CHECK_FALSE(expand(parse("Row 1: k."), 5, -1));
    CHECK_FALSE(expand(parse(""), 5, 1));
    CHECK(expand(parse("Row 1: k."), 5, 0));
    CHECK_FALSE(expand(parse("Row 1: *kfb; rep from * to end."), 2, 100));  // doubles a hundred times
}
