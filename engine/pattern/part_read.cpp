// SPDX-License-Identifier: MIT
#include "pattern/part_read.h"

#include <algorithm>

#include <fmt/format.h>

#include "pattern/counts.h"
#include "pattern/order.h"
#include "pattern/reverse_shaping.h"

namespace loopmend {

namespace {

/// The stitches that a piece leaves on holders; none: more than one lot of them, or not known.
std::optional<int> heldBy(const Pattern& piece) {
    if (!piece.castOn || *piece.castOn > kLargestNumber) return std::nullopt;
    const auto script = expand(piece, *piece.castOn, static_cast<int>(rowOrder(piece).rows.size()));
    if (!script) return std::nullopt;
    std::optional<int> held;
    for (const WorkedRow& row : script->rows) {
        int here = 0;
        for (const Step& step : row.steps) here += step.op == Op::hold ? uses(step) : 0;
        if (here > 0 && held) return std::nullopt;
        if (here > 0) held = here;
    }
    return held;
}

/// A piece that begins with stitches which waited: so many are on its needle, and its rows, which may go on
/// counting where the piece before stopped, begin with 1.
void takeUp(const Parts& parts, std::string_view text, const ParseOptions& options, Pattern& pattern) {
    ParseOptions before = options;
    before.part = *parts.heldSince;
    const std::size_t chosen = std::min(options.part, parts.names.size() - 1);
    const auto tell = [&](std::string message, std::vector<std::string> suggestions) {
        Problem problem;
        problem.line = parts.line;
        problem.column = 1;
        problem.words = parts.names[chosen];
        problem.message = std::move(message);
        problem.suggestions = std::move(suggestions);
        pattern.problems.push_back(std::move(problem));
    };
    std::optional<int> held;
    if (parts.held > 0 && parts.held <= kLargestNumber) held = static_cast<int>(parts.held);
    if (!held) held = heldBy(parse(text, before));
    const std::string picked =
        parts.pickedUp > 0 ? fmt::format(" and {} picked up beside them", parts.pickedUp) : std::string();
    if (held && *held + parts.pickedUp > kLargestNumber) held.reset();
    if (held && !pattern.castOn) {
        pattern.castOn = *held + static_cast<int>(parts.pickedUp);
        pattern.understood.push_back(
            {0, parts.line, 1, parts.names[chosen],
             fmt::format("it begins with the {} stitches that waited on a holder{}, counted here as if they "
                         "were cast on",
                         *held, picked)});
    } else if (!pattern.castOn) {
        tell("How many stitches are taken up again is not said, and the rows before do not tell it.",
             {"Return to the 12 held sts"});
    }
    const int first = pattern.rows.empty() || pattern.rows.front().spans.empty()
                          ? 1
                          : pattern.rows.front().spans.front().first;
    if (!pattern.rows.empty() && !pattern.rows.front().facing) {
        pattern.rows.front().facing = parts.heldFacing;
        if (!parts.heldFacing && first % 2 == 0) pattern.rows.front().facing = Facing::wrong;
    }
    if (first <= 1) return;
    bool earlier = false;
    const auto move = [&](RowSpan& span) {
        span.first -= first - 1;
        span.last -= first - 1;
        earlier = earlier || span.first < 1;
    };
    for (Row& row : pattern.rows) {
        for (RowSpan& span : row.spans) move(span);
        if (row.sameAs) move(*row.sameAs);
    }
    for (RepeatRows& repeat : pattern.repeats) move(repeat.rows);
    if (earlier)
        tell("It leans on rows of the piece before, which are not its own.", {"write these rows out"});
    pattern.understood.push_back({0, parts.line, 1, parts.names[chosen],
                                  fmt::format("its rows are counted from 1: row {} is row 1", first)});
}

}  // namespace

void finishPart(const Parts& parts, std::string_view text, const ParseOptions& options, Pattern& pattern) {
    pattern.parts = parts.names;
    const std::size_t chosen = std::min(options.part, parts.names.size() - 1);
    const auto say = [&](std::string message) {
        pattern.understood.push_back({0, parts.line, 1, parts.names[chosen], std::move(message)});
    };
    say(fmt::format("{} pieces are told; this one is read", parts.names.size()));
    if (!parts.unknownAs.empty()) {
        Problem problem;
        problem.line = parts.line;
        problem.column = 1;
        problem.words = parts.names[chosen];
        problem.message = fmt::format("It is worked as the {}, which is not told here.", parts.unknownAs);
        pattern.problems.push_back(std::move(problem));
    }
    if (!parts.unknownUntil.empty()) {
        Problem problem;
        problem.line = parts.line;
        problem.column = 1;
        problem.words = parts.unknownUntil;
        problem.message = fmt::format(
            "It is worked as the {} until “{}”, and that place is not found there, or stands behind this "
            "piece.",
            parts.as, parts.unknownUntil);
        problem.suggestions = {"until row 12", "until armhole shaping"};
        pattern.problems.push_back(std::move(problem));
    }
    if (parts.joined > 0 && !pattern.castOn && parts.joined <= kLargestNumber) {
        pattern.castOn = static_cast<int>(parts.joined);
        say(fmt::format("it begins with {} stitches of other pieces, counted here as if they were cast on",
                        parts.joined));
    }
    if (parts.heldSince) takeUp(parts, text, options, pattern);
    if (parts.reversed && !parts.as.empty()) {
        reverseShaping(pattern);
        say(fmt::format("the mirror image of the {}: its rows are worked with the other side facing",
                        parts.as));
    } else if (!parts.as.empty()) {
        say(parts.until.empty() ? fmt::format("its rows are those of the {}", parts.as)
                                : fmt::format("its rows are those of the {} until {}, and then its own",
                                              parts.as, parts.until));
    }
}

}  // namespace loopmend
