// SPDX-License-Identifier: MIT
// Misprint advice: what is tried, what it costs, and that a repair works when it is put in place.
#include "support.h"

#include "pattern/edits.h"
#include "pattern/likeness.h"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace loopmend;
using loopmend::testing::told;

namespace {

const Problem& onlyProblem(const CheckReport& report) {
    INFO(told(report.problems));
    REQUIRE(report.problems.size() == 1);
    REQUIRE_FALSE(report.problems[0].suggestions.empty());
    return report.problems[0];
}

}  // namespace

TEST_CASE("a word set twice is left out before anything else is changed") {
    const CheckReport report =
        check(parse("Cast on 11 sts.\nRow 1: k2, p3, p3, k4, k2.\nRow 2: p11.\nRow 3: k2, p3, k6.\n"));
    CHECK(onlyProblem(report).suggestions[0] == "Row 1: “p3” instead of “p3, p3”");
}

TEST_CASE("which of many words lost a stitch is told by the rows that are alike") {
    // Counts allow any of the five numbers to be one more; the rows around say which.
    const CheckReport report =
        check(parse("Multiple of 13. Cast on 26 sts.\n"
                    "Row 1: *k4, k2tog, yo, k1, yo, ssk, k4; rep from * to end.\n"
                    "Row 2 and every even row: p.\n"
                    "Row 3: *k3, k2tog, yo, k3, yo, ssk, k3; rep from * to end.\n"
                    "Row 5: *k2, k2tog, yo, k4, yo, ssk, k2; rep from * to end.\n"
                    "Row 7: *k1, k2tog, yo, k7, yo, ssk, k1; rep from * to end.\n"));
    const Problem& problem = onlyProblem(report);
    CHECK(problem.row == 5);
    CHECK(problem.suggestions[0] == "Row 5: “k5” instead of “k4”");
}

TEST_CASE("a lost yarn-over is put back where the other rows have theirs, in an earlier row") {
    const std::string rows =
        "Multiple of 8. Cast on 16 sts.\n"
        "Row 1: *yo, k1, yo, k2, sk2p, k2; rep from * to end.\n"
        "Row 2 and every even row: p.\n"
        "Row 3: *yo, k3, {}k1, sk2p, k1; rep from * to end.\n"
        "Row 5: *yo, k5, yo, sk2p; rep from * to end.\n";
    const auto with = [&](const char* words) {
        std::string text = rows;
        return text.replace(text.find("{}"), 2, words);
    };
    CHECK(check(parse(with("yo, "))).ok);
    const Pattern spoilt = parse(with(""));
    const CheckReport report = check(spoilt);
    const Problem& problem = onlyProblem(report);
    CHECK(problem.row == 5);
    const auto repair = std::find_if(report.repairs.begin(), report.repairs.end(), [](const Repair& one) {
        return one.words == "Row 3: “yo, k1, sk2p” instead of “k1, sk2p”";
    });
    REQUIRE(repair != report.repairs.end());
    CHECK(std::find(problem.suggestions.begin(), problem.suggestions.begin() + 3, repair->words) !=
          problem.suggestions.begin() + 3);
    Pattern mended = spoilt;
    mended.rows[repair->row] = repair->repaired;
    CHECK(check(mended).ok);
    CHECK(sameItems(mended.rows[repair->row].items, parse(with("yo, ")).rows[repair->row].items));
}

TEST_CASE("rows that come out by chance are mended by the multiple that is printed") {
    // At three repeats of eight, four of six come out as well.
    const CheckReport report =
        check(parse("Multiple of 8.\nRow 1: p.\nRow 2: *k3, yo, k3; rep from * to end.\n"), 24);
    const Problem& problem = onlyProblem(report);
    CHECK(problem.message == "A multiple of 8 is printed, but the rows come out over a multiple of 6.");
    CHECK(problem.suggestions.size() > 1);
    CHECK(problem.suggestions.back() == "Multiple of 6");
    for (const Repair& repair : report.repairs) CHECK(repair.repaired.items[0].kind == ItemKind::star);
}

TEST_CASE("a row that is not understood is read again with one word more or fewer") {
    const auto first = [](const char* row) {
        const CheckReport report = check(
            parse(std::string("Multiple of 4 plus 2. Cast on 10 sts.\nRow 1: ") + row + "\nRow 2: p.\n"));
        INFO(told(report.problems));
        REQUIRE_FALSE(report.problems.empty());
        REQUIRE_FALSE(report.repairs.empty());
        CHECK(report.problems[0].suggestions[0] == report.repairs[0].words);
        CHECK(printBody(report.repairs[0].repaired) == "k1, *k2, p2; rep from * to last st, k1");
        return report.repairs[0].words;
    };
    CHECK(first("k1, *k2, p2; rep from from * to last st, k1.") ==
          "Row 1: “rep from *” instead of “rep from from *”");
    CHECK(first("k1, *k2, p2; from * to last st, k1.") ==
          "Row 1: “p2; rep from * to” instead of “p2; from * to”");
    first("k1, * *k2, p2; rep from * to last st, k1.");
    CHECK(first("k1, *k2, p2; rep from * to last st, twinkle, k1.") == "Row 1: leave out “twinkle”");
    first("k1, *k2, p2; rep from * to last st st, k1.");
}

TEST_CASE("every edit puts the row back as it was, and none is free") {
    const Pattern pattern = parse(
        "Row 1: sl1, *k2, (yo, k2tog) 3 times, yo twice, ssk; rep from * to last 3 sts, p1, k2.\nRow 2: "
        "p.\n");
    REQUIRE(pattern.problems.empty());
    Row row = pattern.rows[0];
    int edits = 0;
    int unlike = 0;
    eachEdit(row, 20, MisprintWords(pattern), [&](int price) {
        ++edits;
        CHECK(price > 0);
        unlike += sameItems(row.items, pattern.rows[0].items) ? 0 : 1;
        return Tried::fits;
    });
    CHECK(edits > 500);
    CHECK(unlike == edits);
    CHECK(sameItems(row.items, pattern.rows[0].items));
    int few = 0;
    eachEdit(row, 20, MisprintWords(pattern), [&](int) { return ++few == 7 ? Tried::enough : Tried::no; });
    CHECK(few == 7);
}

TEST_CASE("a row departs less from its pattern as it was meant than with a number changed") {
    const Pattern pattern = parse(
        "Row 1: *k4, yo, k1, yo, k4, sk2p; rep from * to end.\nRow 2: p.\n"
        "Row 3: *k3, yo, k3, yo, k3, sk2p; rep from * to end.\nRow 4: p.\n"
        "Row 5: *k2, yo, k5, yo, k2, sk2p; rep from * to end.\nRow 6: p.\n");
    const RowOrder order = rowOrder(pattern);
    const Likeness likeness(pattern, order);
    const int meant = likeness.departs(2, pattern.rows[2]);
    for (const std::size_t word : {0U, 2U, 4U}) {
        Row other = pattern.rows[2];
        other.items[0].items[word].times += 1;
        CHECK(likeness.departs(2, other) > meant);
    }
}
