// SPDX-License-Identifier: MIT
#include "cli/pattern_input.h"

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "pattern/chart_text.h"

namespace loopmend {

void PatternInput::addTo(CLI::App& command) {
    command.add_option("PATTERN", path_, "a written pattern or a chart (text)")->required()->type_name("");
    command.add_flag("--m1-is-yo", m1IsYarnOver_, "old books: \"make 1\" is a yarn-over");
    command.add_option("--k1b", k1b_, "what \"k1b\" means: below (into the stitch below) or back (leg)")
        ->check(CLI::IsMember({"below", "back"}))
        ->type_name("below|back");
    command.add_option("--size", size_, "which of 40 (44, 48): 1 is the first")
        ->check(CLI::Range(1, 99))
        ->type_name("N");
    command.add_option("--part", part_, "which of several pieces (Back, Sleeve ...): 1 is the first")
        ->check(CLI::Range(1, 99))
        ->type_name("N");
}

tl::expected<std::string, Failure> PatternInput::readText(Console& console) const {
    constexpr std::size_t kMostPatternBytes = std::size_t{4} << 20;
    auto text = console.read(path_);
    if (!text) return tl::unexpected<Failure>(text.error());
    if (text->size() > kMostPatternBytes) {
        return fail(
            fmt::format("cannot read {}: it is larger than {} MB, so it is no written pattern; name another",
                        inputName(path_), kMostPatternBytes >> 20));
    }
    if (text->find('\0') != std::string::npos) {
        return fail(fmt::format("cannot read {}: it is not a text; name a file with a written pattern",
                                inputName(path_)));
    }
    if (text->find_first_not_of(" \t\r\n") == std::string::npos) {
        return fail(fmt::format("cannot read {}: it is empty; write the rows of a pattern into it",
                                inputName(path_)));
    }
    return std::move(*text);
}

tl::expected<Pattern, Failure> PatternInput::read(Console& console) const {
    const auto text = readText(console);
    if (!text) return tl::unexpected<Failure>(text.error());
    if (looksLikeChart(*text)) return patternOf(parseChart(*text));
    return fromWords(*text);
}

Pattern PatternInput::fromWords(const std::string& text) const {
    ParseOptions options;
    options.m1IsYarnOver = m1IsYarnOver_;
    if (!k1b_.empty()) options.k1bIsBelow = k1b_ == "below";
    options.size = size_ - 1;
    options.part = static_cast<std::size_t>(part_ - 1);
    return parse(text, options);
}

std::string placed(const Problem& problem) {
    std::string place;
    if (problem.line > 0) place = fmt::format("line {}, column {}", problem.line, problem.column);
    if (problem.row > 0) place += fmt::format("{}row {}", place.empty() ? "" : ", ", problem.row);
    return place.empty() ? problem.message : place + ": " + problem.message;
}

Json documentOf(const Problem& problem) {
    return {{"row", problem.row},
            {"line", problem.line},
            {"column", problem.column},
            {"words", problem.words},
            {"message", problem.message},
            {"misses", problem.misses},
            {"suggestions", problem.suggestions}};
}

}  // namespace loopmend
