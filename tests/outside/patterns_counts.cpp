// SPDX-License-Identifier: MIT
// 75 stitch patterns from public-domain books (patterns.tsv: source, place and ebook number in each line),
// against the stitch counts recorded with them.
#include "patterns_tsv.h"

#include "pattern/counts.h"
#include "pattern/parse.h"
#include "pattern/print.h"

#include <catch2/catch.hpp>

#include <map>
#include <numeric>
#include <sstream>
#include <string>

using namespace loopmend;
using namespace loopmend::outside;

namespace {

std::string told(const std::vector<Problem>& problems) {
    std::ostringstream out;
    for (const Problem& problem : problems) {
        out << "row " << problem.row << ", " << problem.line << ":" << problem.column << " [" << problem.words
            << "] " << problem.message;
        for (const std::string& suggestion : problem.suggestions) out << " | " << suggestion;
        out << "\n";
    }
    return out.str();
}

/// Stitches that a row leaves on a holder. The file counts them as still there, the algebra does not.
std::int64_t held(const std::vector<Item>& items) {
    std::int64_t sum = 0;
    for (const Item& item : items)
        if (item.kind == ItemKind::stitch && item.step.op == Op::hold) sum += item.step.count;
    return sum;
}

const Row& wordsOf(const Pattern& pattern, std::size_t position) {
    return pattern.rows[rowOrder(pattern).rows[position].row];
}

void requireCounts(const BookPattern& book, const Pattern& pattern) {
    for (const int repeats : {2, 3, 4}) {
        const CheckReport report = check(pattern, book.castOn(repeats));
        INFO(book.id << " " << book.name << ", " << repeats << " repeats\n" << told(report.problems));
        REQUIRE(report.ok);
        REQUIRE(report.rows.size() == book.counts.size());
        for (std::size_t i = 0; i < report.rows.size(); ++i) {
            INFO("row " << i + 1 << ": " << report.rows[i].text);
            CHECK(report.rows[i].stitchesAfter + held(wordsOf(pattern, i).items) == book.after(i, repeats));
        }
    }
}

}  // namespace

TEST_CASE("75 book patterns leave the recorded stitches after each row", "[outside]") {
    const std::vector<BookPattern> books = bookPatterns();
    REQUIRE(books.size() == 75);
    for (const BookPattern& book : books) requireCounts(book, book.pattern);
}

TEST_CASE("the 75 patterns printed in our language and read again leave the same stitches", "[outside]") {
    for (const BookPattern& book : bookPatterns()) {
        for (const Terms terms : {Terms::us, Terms::uk}) {
            const std::string text = print(book.pattern, terms);
            const Pattern read = parse(text);
            INFO(book.id << "\n" << text << told(read.problems));
            REQUIRE(read.problems.empty());
            REQUIRE(sameRows(read, book.pattern));
            if (terms == Terms::us) requireCounts(book, read);
        }
    }
}

TEST_CASE("the multiple and plus of each pattern follow from its rows", "[outside]") {
    // The book casts this one on in pairs, but its two rows, (yo, k1) and (skp), come out over any number.
    const std::map<std::string, int> finer = {{"L44", 1}};
    int compared = 0;
    for (const BookPattern& book : bookPatterns()) {
        if (book.mult == 0) continue;
        const PatternCounts counts = countAll(book.pattern);
        INFO(book.id << " " << book.name);
        REQUIRE(counts.multiple);
        const auto known = finer.find(book.id);
        const int mult = known == finer.end() ? book.mult : known->second;
        CHECK(counts.multiple->of == mult);
        CHECK(counts.multiple->plus == book.edge % mult);
        ++compared;
    }
    CHECK(compared == 56);
}

TEST_CASE("patterns that come back to their first count close, those that grow do not", "[outside]") {
    for (const BookPattern& book : bookPatterns()) {
        bool holds = false;
        for (const Row& row : book.pattern.rows) holds = holds || held(row.items) > 0;
        if (holds) continue;  // the file counts held stitches as still there
        INFO(book.id << " " << book.name);
        CHECK(countAll(book.pattern).closes == book.closes);
    }
}

TEST_CASE("expanding a book pattern gives single operations that use and make what the rows say",
          "[outside]") {
    for (const BookPattern& book : bookPatterns()) {
        const int rows = static_cast<int>(book.counts.size());
        const auto script = expand(book.pattern, book.castOn(3), rows);
        INFO(book.id << " " << book.name << " " << (script ? "" : script.error().message));
        REQUIRE(script);
        REQUIRE(script->rows.size() == book.counts.size());
        CHECK(script->round == book.round);
        std::int64_t n = book.castOn(3);
        for (std::size_t i = 0; i < script->rows.size(); ++i) {
            std::int64_t used = 0;
            std::int64_t made = 0;
            for (const Step& step : script->rows[i].steps) {
                used += uses(step);
                made += makes(step);
            }
            REQUIRE(used == n);
            n = made;
            CHECK(script->rows[i].facing == (book.round || i % 2 == 0 ? Facing::right : Facing::wrong));
            CHECK(n + held(wordsOf(book.pattern, i).items) == book.after(i, 3));
        }
    }
}

TEST_CASE("a pattern that closes goes on from its loop", "[outside]") {
    int worked = 0;
    for (const BookPattern& book : bookPatterns()) {
        if (!book.closes || book.pattern.repeats.empty()) continue;
        const int rows = book.loopLast + 2 * (book.loopLast - book.loopFirst + 1);
        const auto script = expand(book.pattern, book.castOn(2), static_cast<int>(book.counts.size()) + rows);
        INFO(book.id << " " << (script ? "" : script.error().message));
        REQUIRE(script);
        CHECK(script->rows[book.counts.size()].printed == book.loopFirst);
        ++worked;
    }
    CHECK(worked > 50);
}
