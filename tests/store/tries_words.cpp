// SPDX-License-Identifier: MIT
#include "tries_words.h"

#include <algorithm>
#include <functional>
#include <stdexcept>
#include <string>
#include <vector>

#include "pattern/chart.h"
#include "pattern/chart_text.h"
#include "pattern/counts.h"
#include "pattern/parse.h"
#include "pattern/print.h"

namespace loopmend::testing {

namespace {

constexpr int kStitches = 24;
constexpr int kRows = 6;

void promise(bool kept, const char* what) {
    if (!kept) throw std::logic_error(what);
}

void placed(const std::vector<Problem>& problems, std::string_view bytes) {
    const auto lines = 1 + std::count(bytes.begin(), bytes.end(), '\n');
    for (const Problem& problem : problems) {
        promise(!problem.message.empty(), "a problem without words");
        promise(problem.line >= 1 && problem.line <= lines && problem.column >= 1,
                "a problem without its place");
    }
}

void countedAndWorked(const Pattern& pattern, std::string_view bytes) {
    // Advice takes a thousand times as long as all the rest: some texts are given it.
    constexpr std::size_t kAdvised = 1024;
    const Advice advice = std::hash<std::string_view>{}(bytes) % kAdvised == 0 ? Advice::given : Advice::none;
    const CheckReport report = check(pattern, kStitches, advice);
    promise(report.ok == report.problems.empty(), "problems, and yet it adds up");
    placed(report.problems, bytes);
    check(pattern, std::nullopt, advice);
    const auto script = expand(pattern, kStitches, kRows);
    promise(script || !script.error().message.empty(), "refused without a word");
}

}  // namespace

void tryWords(std::string_view bytes) {
    const Pattern pattern = parse(bytes);
    placed(pattern.problems, bytes);
    countedAndWorked(pattern, bytes);
    if (!pattern.problems.empty() || pattern.rows.empty()) return;
    for (const Terms terms : {Terms::us, Terms::uk}) {
        const Pattern again = parse(print(pattern, terms));
        promise(again.problems.empty(), "its own words are not read");
        promise(sameRows(pattern, again), "its own words are read otherwise");
    }
}

void tryChart(std::string_view bytes) {
    const WrittenChart chart = parseChart(bytes);
    placed(chart.problems, bytes);
    const Pattern pattern = patternOf(chart);
    if (!chart.problems.empty()) return;
    const WrittenChart again = parseChart(printChart(chart));
    promise(again.problems.empty(), "its own chart is not read");
    promise(sameChart(chart, again), "its own chart is read otherwise");
    (void)expand(pattern, kStitches, kRows);
}

}  // namespace loopmend::testing
