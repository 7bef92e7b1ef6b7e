// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace loopmend {

/// What may be asked of a cloth. The answers are asked of the engine (tutor/question.h).
enum class QuestionKind : std::uint8_t {
    pointAt,     ///< `of`: head, leg, foot, bar, v, bump, open-loop, rung, hole, decrease, yarn-needle ...
    twoSigns,    ///< point at two signs of different kinds that something is not as meant
    name,        ///< what the lit stitch is
    count,       ///< `of`: stitches, rows, ridges, rungs, rows-since
    whichSide,   ///< right side or wrong side, and what tells
    neck,        ///< knit or purl: the neck of a stitch on the needle
    mount,       ///< which leg of a stitch on the needle leads
    onTop,       ///< which stitch of a decrease, or arm of a crossing, lies on top
    willItRun,   ///< the lit loop: open, held or bound
    whenTurned,  ///< what the lit stitch looks like from the other side
    trace,       ///< `of`: column, row; pointed at loop by loop
    ifItDrops,   ///< what happens when the lit stitch falls off the needle
    root,        ///< which row and place it all began at
    rungKind,    ///< long or short
    whichPlan    ///< which way of mending, and why
};
/// `point-at`, `two-signs`, `name` ...: the word of files.
std::string_view name(QuestionKind kind);
std::optional<QuestionKind> questionKindFrom(std::string_view word);

/// What an author asks for: the engine chooses what she leaves open, from the lesson's seed.
struct QuestionWanted {
    QuestionKind kind = QuestionKind::name;
    std::string of;  ///< see the kinds; empty: the engine's choice
    int row = 0;  ///< which stitch it is about: row, and stitch in the order worked, from 1; 0: any that does
    int stitch = 0;
};

}  // namespace loopmend
