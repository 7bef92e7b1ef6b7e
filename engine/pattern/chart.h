// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <vector>

#include <tl/expected.hpp>

#include "pattern/pattern.h"
#include "pattern/sign.h"

/// Charts as a second language of patterns: what can be said in rows of words can be said in rows of squares,
/// and back, and what is worked is the same.
namespace loopmend {

/// One thing that stands in a row of a chart.
struct ChartCell {
    enum class Kind : std::uint8_t {
        stitch,
        none,     ///< no stitch: it keeps columns above each other, is passed over and not counted
        waiting,  ///< a stitch that this row does not reach, because the work is turned before it
    };
    Kind kind = Kind::stitch;
    StitchSign sign;
    Place place;  ///< where it was read

    /// Squares that it takes up.
    int width() const { return kind == Kind::stitch ? widthOf(sign) : 1; }
    friend bool operator==(const ChartCell& a, const ChartCell& b) {
        return a.kind == b.kind && (a.kind != Kind::stitch || a.sign == b.sign);
    }
};

/// One row, as it is worked.
struct WrittenRow {
    int number = 1;  ///< a set-up row has number 0
    Facing facing = Facing::right;
    std::vector<ChartCell> cells;  ///< right to left, as the right side of a right-handed piece shows them
    /// The box: cells [boxFirst, boxEnd) are worked again and again, as often as the stitches allow. None if
    /// boxEnd == 0.
    std::size_t boxFirst = 0;
    std::size_t boxEnd = 0;
    bool sound = true;  ///< false: some of its signs were not understood, so its stitches cannot be counted
    Place place;

    bool boxed() const { return boxEnd > 0; }
    int width() const;
    friend bool operator==(const WrittenRow& a, const WrittenRow& b) {
        return a.number == b.number && a.facing == b.facing && a.cells == b.cells && a.boxEnd == b.boxEnd &&
               (!a.boxed() || a.boxFirst == b.boxFirst);
    }
};

/// A pattern as a chart. Right-side rows are worked from right to left, wrong-side rows from left to right,
/// rounds always from right to left; all the other way about if `leftHanded`, and then every sign is the
/// mirror image of what is kept here: only text and pictures show it.
struct WrittenChart {
    std::string title;
    std::optional<int> castOn;
    std::optional<PrintedMultiple> multiple;
    bool round = false;
    bool leftHanded = false;
    std::string yarns = "A";       ///< as Script::yarns
    std::vector<WrittenRow> rows;  ///< from the bottom up
    std::vector<RepeatRows> repeats;
    bool bindOffAtEnd = false;
    std::vector<std::string> notes;  ///< one sentence each: what was resolved, and how
    std::vector<Problem> problems;   ///< found while reading, in the order of the text
    std::string text;                ///< what was read

    /// Squares from edge to edge.
    int width() const;
};
/// Whether two charts say the same, wherever it is written.
bool sameChart(const WrittenChart& a, const WrittenChart& b);

/// A pattern as a chart. Nested groups are written out. The star (or `k to end`) of a row stands in the box;
/// if the rows repeat by different numbers of stitches the boxes hold several repeats. What only holds for
/// one number of stitches (rows that repeat in two places, `knit the knits` that do not come round) is
/// written out for `stitches`, else for the pattern's own or its least number, and a note says so. Rows that
/// come round on the other side are drawn twice, since there they look different. No-stitch cells keep
/// columns above each other where the count changes. Fails with the first row that cannot be worked.
tl::expected<WrittenChart, Problem> chartOf(const Pattern& pattern,
                                            std::optional<int> stitches = std::nullopt);

/// The words of a chart. Squares that no operation gives on their side are named in Pattern::problems.
Pattern patternOf(const WrittenChart& chart);

/// More squares in a row than a chart can have.
inline constexpr int kMostSquares = 4000;

}  // namespace loopmend
