// SPDX-License-Identifier: MIT
#include "support.h"

#include <catch2/catch.hpp>

#include <fmt/format.h>

namespace loopmend::testing {

std::string told(const std::vector<Problem>& problems) {
    std::string text;
    for (const Problem& problem : problems) {
        text += fmt::format("row {}, {}:{} [{}] {}", problem.row, problem.line, problem.column, problem.words,
                            problem.message);
        for (const std::string& suggestion : problem.suggestions) text += " | " + suggestion;
        text += "\n";
    }
    return text;
}

std::string normal(std::string_view words, const ParseOptions& options) {
    const Pattern pattern = parse(fmt::format("Row 1: {}", words), options);
    if (!pattern.problems.empty()) return told(pattern.problems);
    return pattern.rows.size() == 1 ? printBody(pattern.rows[0])
                                    : fmt::format("{} rows", pattern.rows.size());
}

std::string printedBack(std::string_view text, const ParseOptions& options) {
    const Pattern pattern = parse(text, options);
    if (!pattern.problems.empty()) return told(pattern.problems);
    std::string printed = print(pattern);
    const Pattern again = parse(printed);
    if (!again.problems.empty() || !sameRows(pattern, again))
        return "read otherwise: " + printed + told(again.problems);
    if (!printed.empty()) printed.pop_back();
    return printed;
}

std::string readings(std::string_view text, const ParseOptions& options) {
    std::string all;
    for (const Understood& one : parse(text, options).understood)
        all += fmt::format("{}: {}\n", one.words, one.message);
    return all;
}

std::vector<Problem> problemsOf(std::string_view words, const ParseOptions& options) {
    return parse(fmt::format("Row 1: {}", words), options).problems;
}

std::vector<std::int64_t> after(const CheckReport& report) {
    std::vector<std::int64_t> counts;
    for (const CheckedRow& row : report.rows) counts.push_back(row.stitchesAfter);
    return counts;
}

void readsAll(std::initializer_list<InNormalForm> readings) {
    for (const InNormalForm& reading : readings) {
        INFO(reading.words);
        CHECK(normal(reading.words) == reading.normal);
    }
}

}  // namespace loopmend::testing
