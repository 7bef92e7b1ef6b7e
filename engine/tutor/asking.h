// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace loopmend {

/// What may be asked of a cloth. The answers are asked of the engine (tutor/question.h). `of` says what
/// about; empty: the first of each list, or the engine's choice.
enum class QuestionKind : std::uint8_t {
    /// Point at it. Parts of the lit stitch: `head`, `leg`, `foot`; `bar` between two lit stitches; `neck` of
    /// a
    /// lit stitch on the needle. Any one of its kind: `v`, `bump` (as the face she sees shows it), `hole`,
    /// `decrease`, `double-decrease`, `increase`, `crossed`, `slipped`, `cable`, `on-needle`, `first-row`,
    /// `open-loop`, `rung`, `long-rung`, `short-rung`; `yarn-needle`: the stitch that the yarn to the ball
    /// comes from.
    pointAt,
    twoSigns,  ///< point at two signs of different kinds that something is not as meant
    name,      ///< what the lit stitch is: `plain`, or a kind of stitch as above
    /// `stitches` on the needle, `rows` of the lit column, `ridges`, `rungs`, `rows-since` the last decrease,
    /// crossing, hole or new stitch; of a lit row `holes`, `decreases`, `row-change` (what it does to the
    /// count); `row-that-moved`: the first row whose count is out
    count,
    whichSide,   ///< right side or wrong side, and what tells
    neck,        ///< knit or purl: the neck of a stitch on the needle
    mount,       ///< which leg of a stitch on the needle is in front, and what comes of working it
    onTop,       ///< `decrease`, `double-decrease`: which stitch lies on top; `cable`: which arm
    willItRun,   ///< the lit loop: `open`, `held` or `bound`; empty: any
    whenTurned,  ///< what the lit stitch looks like from the other side: `plain`, or a kind of stitch as
                 ///< above
    trace,       ///< `column`, `row`; pointed at loop by loop
    ifItDrops,   ///< what happens when the lit stitch falls off the needle
    root,        ///< which row and place it all began at
    rungKind,    ///< whether the lit rung is `long` or `short`; empty: any
    whichPlan,   ///< which way of mending, and why
    /// The lit row as a pattern says it: its `words`; its line of a chart, `squares` (a right-side row) or
    /// `squares-behind` (a wrong-side row); how many stitches a line with `no-stitch` squares leaves; how
    /// often
    /// the `box` of its line is worked. `due`: the row of the pattern that comes next.
    written
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
