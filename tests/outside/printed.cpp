// SPDX-License-Identifier: MIT
// Book patterns typed in as a book or a leaflet prints them (printed/*.txt: the facts of the book cited in
// each, in our own words and in many manners of printing), against patterns.tsv: the same counts, the same
// operations.
#include "patterns_tsv.h"

#include "pattern/counts.h"
#include "pattern/parse.h"
#include "pattern/print.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>

using namespace loopmend;
using namespace loopmend::outside;

namespace {

std::string told(const std::vector<Problem>& problems) {
    std::ostringstream out;
    for (const Problem& problem : problems)
        out << problem.line << ":" << problem.column << " [" << problem.words << "] " << problem.message
            << "\n";
    return out.str();
}

Pattern printedPattern(const std::filesystem::path& path) {
    std::ifstream in(path);
    std::stringstream text;
    text << in.rdbuf();
    ParseOptions options;
    options.m1IsYarnOver = text.str().find("make one = yarn over") != std::string::npos;
    return parse(text.str(), options);
}

/// The side of a bare slip depends on which row begins on the right side, which the file of counts does not
/// say.
std::string operations(const WorkedRow& row) {
    std::string text;
    for (Step step : row.steps) {
        if (step.op == Op::slipPurlwiseFront) step.op = Op::slipPurlwiseBack;
        text += printStep(step) + " ";
    }
    return text;
}

}  // namespace

TEST_CASE("book patterns as printed come to the recorded counts and operations", "[outside]") {
    const std::vector<BookPattern> books = bookPatterns();
    int compared = 0;
    for (const auto& entry :
         std::filesystem::directory_iterator(LOOPMEND_SOURCE_DIR "/tests/outside/printed")) {
        const std::string id = entry.path().stem().string();
        const auto book =
            std::find_if(books.begin(), books.end(), [&](const BookPattern& b) { return b.id == id; });
        INFO(id);
        REQUIRE(book != books.end());
        const Pattern pattern = printedPattern(entry.path());
        INFO(told(pattern.problems));
        REQUIRE(pattern.problems.empty());
        CHECK(check(pattern).ok);
        for (const int repeats : {2, 3, 4}) {
            const CheckReport report = check(pattern, book->castOn(repeats));
            INFO(repeats << " repeats\n" << print(pattern) << told(report.problems));
            CHECK(report.ok);
            REQUIRE(report.rows.size() == book->counts.size());
            for (std::size_t i = 0; i < report.rows.size(); ++i)
                CHECK(report.rows[i].stitchesAfter == book->after(i, repeats));
            const int rows = static_cast<int>(book->counts.size());
            const auto mine = expand(pattern, book->castOn(repeats), rows);
            const auto theirs = expand(book->pattern, book->castOn(repeats), rows);
            REQUIRE(mine);
            REQUIRE(theirs);
            CHECK(mine->round == book->round);
            for (std::size_t i = 0; i < mine->rows.size(); ++i) {
                INFO("row " << i + 1);
                CHECK(operations(mine->rows[i]) == operations(theirs->rows[i]));
            }
        }
        if (book->mult > 0) {
            const auto multiple = countAll(pattern).multiple;
            REQUIRE(multiple);
            CHECK(multiple->of == book->mult);
            CHECK(multiple->plus == book->edge % book->mult);
        }
        CHECK(countAll(pattern).closes == book->closes);
        ++compared;
    }
    CHECK(compared >= 15);
}
