// SPDX-License-Identifier: MIT
// 75 stitch patterns from public-domain books (patterns.tsv: source, place and ebook number in each line) as
// charts: rows of squares and rows of words say the same.
#include "patterns_tsv.h"

#include "pattern/chart.h"
#include "pattern/chart_text.h"
#include "pattern/counts.h"
#include "pattern/print.h"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace loopmend;
using namespace loopmend::outside;

namespace {

/// What is worked, row by row, without the numbers under which rows are printed.
bool sameWork(const Script& a, const Script& b) {
    return a.castOn == b.castOn && a.round == b.round &&
           std::equal(a.rows.begin(), a.rows.end(), b.rows.begin(), b.rows.end(),
                      [](const WorkedRow& x, const WorkedRow& y) {
                          return x.facing == y.facing && x.round == y.round && x.steps == y.steps;
                      });
}

void requireSameWork(const Pattern& a, const Pattern& b, int stitches, int rows) {
    const auto one = expand(a, stitches, rows);
    const auto other = expand(b, stitches, rows);
    INFO(stitches << " stitches, " << rows << " rows\n" << print(b));
    INFO((one ? "" : one.error().message) << (other ? "" : other.error().message));
    REQUIRE(one);
    REQUIRE(other);
    REQUIRE(sameWork(*one, *other));
}

/// Rows to work: once through, and twice more if it goes on from its loop.
int rowsOf(const BookPattern& book) {
    const int once = static_cast<int>(book.counts.size());
    return book.closes && !book.pattern.repeats.empty() ? once + 2 * (book.loopLast - book.loopFirst + 1)
                                                        : once;
}

}  // namespace

TEST_CASE("words, chart, words: the 75 patterns are worked as before, for one, two and three repeats",
          "[outside]") {
    int boxed = 0;
    for (const BookPattern& book : bookPatterns()) {
        INFO(book.id << " " << book.name << "\n" << print(book.pattern));
        const auto chart = chartOf(book.pattern);
        INFO((chart ? "" : chart.error().message));
        REQUIRE(chart);
        INFO(printChart(*chart));
        const Pattern words = patternOf(*chart);
        REQUIRE(words.problems.empty());
        // Some books' rows need two repeats at least, since a star is worked before it is repeated.
        const int fewest = book.mult == 0 || expand(book.pattern, book.castOn(1), rowsOf(book)) ? 1 : 2;
        for (int repeats = fewest; repeats < fewest + 3; ++repeats) {
            requireSameWork(book.pattern, words, book.castOn(repeats), rowsOf(book));
            if (book.mult == 0) break;
        }
        if (book.mult > 0) {
            CHECK(std::any_of(chart->rows.begin(), chart->rows.end(),
                              [](const WrittenRow& row) { return row.boxed(); }));
            ++boxed;
        }
    }
    CHECK(boxed == 56);
}

TEST_CASE("chart, words, chart: the same squares, and as text the same chart", "[outside]") {
    for (const BookPattern& book : bookPatterns()) {
        const auto chart = chartOf(book.pattern);
        REQUIRE(chart);
        INFO(book.id << " " << book.name << "\n" << printChart(*chart));
        const WrittenChart read = parseChart(printChart(*chart));
        for (const Problem& problem : read.problems) UNSCOPED_INFO(problem.line << ": " << problem.message);
        REQUIRE(read.problems.empty());
        REQUIRE(sameChart(read, *chart));
        const auto again = chartOf(patternOf(*chart));
        INFO((again ? printChart(*again) : again.error().message));
        REQUIRE(again);
        WrittenChart unsaid = *chart;  // how it was resolved is said once
        unsaid.notes = again->notes;
        CHECK(sameChart(*again, unsaid));
    }
}

TEST_CASE("every row of a chart is as wide as the others", "[outside]") {
    for (const BookPattern& book : bookPatterns()) {
        const auto chart = chartOf(book.pattern);
        REQUIRE(chart);
        INFO(book.id << "\n" << printChart(*chart));
        for (const WrittenRow& row : chart->rows) CHECK(row.width() == chart->width());
    }
}
