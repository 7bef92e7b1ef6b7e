// SPDX-License-Identifier: MIT
#include "fault/place.h"

#include <algorithm>
#include <vector>

#include <fmt/format.h>

#include "pattern/numbers.h"

namespace loopmend {

std::string_view name(After after) {
    switch (after) {
        case After::byCount: return "count";
        case After::byReading: return "reading";
        case After::rowEnd: return "row-end";
    }
    return "count";
}

std::optional<After> afterFrom(std::string_view words) {
    for (const After after : {After::byCount, After::byReading, After::rowEnd}) {
        if (name(after) == words) return after;
    }
    return std::nullopt;
}

tl::expected<FaultPlace, FaultProblem> parsePlace(std::string_view words) {
    const auto wrong = [&] {
        return tl::unexpected<FaultProblem>(FaultProblem{
            FaultProblem::What::badWords,
            fmt::format("\"{}\" names no place of a fault; write it as ID@ROW,STITCH, say missed_yo@5,7",
                        words)});
    };
    const std::size_t at = words.find('@');
    if (at == std::string_view::npos || at == 0) return wrong();
    constexpr std::size_t kMostDigits = 6;
    FaultPlace place;
    place.id = std::string(words.substr(0, at));
    std::vector<int> numbers;
    std::string_view rest = words.substr(at + 1);
    for (;;) {
        const std::size_t comma = rest.find(',');
        std::string_view word = rest.substr(0, comma);
        const bool fewer = numbers.size() == 2 && !word.empty() && word.front() == '-';
        if (fewer) word.remove_prefix(1);
        const std::optional<int> n = word.size() > kMostDigits ? std::nullopt : wholeNumber(word);
        if (!n) return wrong();
        numbers.push_back(fewer ? -*n : *n);
        if (comma == std::string_view::npos) break;
        rest = rest.substr(comma + 1);
    }
    if (numbers.size() < 2 || numbers.size() > 3) return wrong();
    place.row = numbers[0];
    place.stitch = numbers[1];
    if (numbers.size() == 3) place.rows = numbers[2];
    return place;
}

std::string text(const FaultPlace& place) {
    if (place.rows == 0) return fmt::format("{}@{},{}", place.id, place.row, place.stitch);
    return fmt::format("{}@{},{},{}", place.id, place.row, place.stitch, place.rows);
}

int stitchesOf(const Step& step) {
    if (step.op == Op::bindOff || step.op == Op::bindOffPurl) return step.count;
    if (step.op == Op::k2togOver) return 1;  // the stitch before it is passed over and counted already
    return std::max(0, makes(step));
}

int stitchesIn(const WorkedRow& row) {
    int n = 0;
    for (const Step& step : row.steps) n += stitchesOf(step);
    return n;
}

std::optional<int> stepOfStitch(const WorkedRow& row, int stitch) {
    int n = 0;
    for (std::size_t i = 0; i < row.steps.size(); ++i) {
        n += stitchesOf(row.steps[i]);
        if (stitch >= 1 && stitch <= n) return static_cast<int>(i);
    }
    return std::nullopt;
}

int stitchOfStep(const WorkedRow& row, int step) {
    int n = 1;
    for (int i = 0; i < step; ++i) n += stitchesOf(row.steps[static_cast<std::size_t>(i)]);
    return n;
}

}  // namespace loopmend
