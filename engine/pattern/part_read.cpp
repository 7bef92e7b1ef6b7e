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

Problem aboutPart(const Parts& parts, std::size_t chosen, std::string message,
                  std::vector<std::string> suggestions = {}) {
    Problem problem;
    problem.line = parts.line;
    problem.column = 1;
    problem.words = parts.names[chosen];
    problem.message = std::move(message);
    problem.suggestions = std::move(suggestions);
    return problem;
}

/// A piece that begins with stitches which waited: how many they are, and where the others of the piece
/// before lie.
void takeUp(const Parts& parts, std::string_view text, const ParseOptions& options, Pattern& pattern,
            Begun& begun) {
    ParseOptions before = options;
    before.part = *parts.heldSince;
    const std::size_t chosen = std::min(options.part, parts.names.size() - 1);
    const Pattern piece = parse(text, before);
    const long long held = parts.held > 0 ? parts.held : heldBy(piece).value_or(0);
    begun.facing = parts.heldFacing;
    // What was left at one edge of that piece has it at the other.
    if (const auto left = leftAtRight(piece)) begun.leftAtRight = !*left;
    if (held < 1 || held + parts.pickedUp > kLargestNumber) {
        pattern.problems.push_back(
            aboutPart(parts, chosen,
                      "How many stitches are taken up again is not said, and the rows before do not tell it.",
                      {"Return to the 12 held sts"}));
        return;
    }
    const std::string picked =
        parts.pickedUp > 0 ? fmt::format(" and {} picked up beside them", parts.pickedUp) : std::string();
    pattern.castOn = static_cast<int>(held + parts.pickedUp);
    pattern.understood.push_back(
        {0, parts.line, 1, parts.names[chosen],
         fmt::format(
             "it begins with the {} stitches that waited on a holder{}, counted here as if they were cast on",
             held, picked)});
}

/// Its rows may go on counting where the piece before stopped; they begin with 1.
void countFromOne(const Parts& parts, std::size_t chosen, Pattern& pattern) {
    const int first = pattern.rows.empty() || pattern.rows.front().spans.empty()
                          ? 1
                          : pattern.rows.front().spans.front().first;
    if (first <= 1) return;
    if (!pattern.rows.front().facing && first % 2 == 0) pattern.rows.front().facing = Facing::wrong;
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
        pattern.problems.push_back(aboutPart(parts, chosen,
                                             "It leans on rows of the piece before, which are not its own.",
                                             {"write these rows out"}));
    pattern.understood.push_back({0, parts.line, 1, parts.names[chosen],
                                  fmt::format("its rows are counted from 1: row {} is row 1", first)});
}

}  // namespace

std::optional<bool> leftAtRight(const Pattern& pattern) {
    const RowOrder order = rowOrder(pattern);
    for (std::size_t i = order.rows.size(); i-- > 0;) {
        const std::vector<Item>& items = pattern.rows[order.rows[i].row].items;
        if (!items.empty() && items.back().kind == ItemKind::run && items.back().step.op == Op::hold)
            return facingOf(pattern, order, i) == Facing::wrong;
    }
    return std::nullopt;
}

Begun beginPart(const Parts& parts, std::string_view text, const ParseOptions& options, Pattern& pattern) {
    Begun begun;
    const std::size_t chosen = std::min(options.part, parts.names.size() - 1);
    const auto say = [&](std::string message) {
        pattern.understood.push_back({0, parts.line, 1, parts.names[chosen], std::move(message)});
    };
    say(fmt::format("{} pieces are told ({}); this one is read", parts.names.size(),
                    fmt::join(parts.names, ", ")));
    if (parts.joined > 0 && parts.joined <= kLargestNumber) {
        pattern.castOn = static_cast<int>(parts.joined);
        say(fmt::format("it begins with {} stitches of other pieces, counted here as if they were cast on",
                        parts.joined));
    }
    if (parts.heldSince) takeUp(parts, text, options, pattern, begun);
    return begun;
}

void finishPart(const Parts& parts, const ParseOptions& options, Pattern& pattern) {
    pattern.parts = parts.names;
    const std::size_t chosen = std::min(options.part, parts.names.size() - 1);
    const auto say = [&](std::string message) {
        pattern.understood.push_back({0, parts.line, 1, parts.names[chosen], std::move(message)});
    };
    if (!parts.unknownAs.empty())
        pattern.problems.push_back(aboutPart(
            parts, chosen, fmt::format("It is worked as the {}, which is not told here.", parts.unknownAs)));
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
    if (parts.heldSince) countFromOne(parts, chosen, pattern);
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
