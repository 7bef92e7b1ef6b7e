// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <cstdlib>
#include <optional>
#include <vector>

#include "pattern/working.h"

/// What was meant, as rows of steps and the columns that they stand on: enough to follow a column up and
/// down, and to cut a small window out of it that can be knitted by itself.
namespace loopmend {

/// Rows and columns of a script, by arithmetic alone: nothing is knitted. Linear in its steps.
///
/// Rows are counted from 1; after row 0 there is the cast-on. Columns from 1, from the right edge as the
/// right side shows it. Rows that do not take every stitch from one end of the needle to the other (turned
/// early, held, picked up, bound off) are *irregular*: windows stop before them.
class CaseCloth {
  public:
    /// Rows of the script up to `rows` are done.
    CaseCloth(const Script& script, const Setup& setup, int rows);

    int rows() const { return static_cast<int>(rows_.size()) - 1; }
    /// Stitches after a row.
    int width(int row) const { return at(row).after; }
    bool isRegular(int row) const { return at(row).regular; }
    /// Its first stitch is the right-most one.
    bool runsLeft(int row) const { return at(row).leftward; }
    int steps(int row) const { return static_cast<int>(at(row).in.size()) - 1; }
    /// Column after the row of the first stitch that a step makes (of one that makes none: the next one's).
    int columnOfStep(int row, int step) const;
    /// Column of a stitch as worked, and back.
    int columnOf(int row, int stitch) const;
    int stitchOf(int row, int column) const { return columnOf(row, column); }  // the same turning round
    /// The step that makes a column.
    int stepOf(int row, int column) const;
    /// The column that stands on, or under, a column of `from`: followed row by row through decreases to what
    /// they make, and down to what comes first in a stitch. O(rows between).
    int follow(int from, int column, int to) const;
    /// No column of `row` is further aside, followed to any of the rows from there to `other` (a bound).
    int driftBetween(int row, int other) const;
    /// The row above `row` at which a column goes into a decrease; 0: never.
    int takenIn(int row, int column) const { return up(row, column).takenIn; }
    /// Rows after which the words of the rows come again, as far as they do; 0: they do not.
    int period() const { return period_; }
    /// Each stitch of the row is worked from one, and stands on it.
    bool isStraight(int row) const { return at(row).straight; }
    /// Stitches cross in it.
    bool crosses() const { return crosses_; }
    /// Stitches after which a row's words come again; 0: they do not.
    int repeat(int row) const { return at(row).repeat; }
    /// Words come to the same number of rows.
    std::uint64_t wordsOf(int row) const { return at(row).words; }

    /// Stitches that the steps of a row before one have made, ...
    int madeBefore(int row, int step) const { return at(row).out[static_cast<std::size_t>(step)]; }
    /// ... and by how many these are more than they took.
    int moreBefore(int row, int step) const {
        const auto i = static_cast<std::size_t>(step);
        return at(row).out[i] - at(row).in[i];
    }

    /// Stitches that the steps of a row before one take.
    int takenBefore(int row, int step) const { return at(row).in[static_cast<std::size_t>(step)]; }
    /// The step of a row that takes a stitch of the row below, from 0 in the order worked; of a row with as
    /// many as were meant.
    int takerOf(int row, int host) const { return at(row).taker[static_cast<std::size_t>(host)]; }
    /// Of a row worked by count: the stitch, from 0 in the order worked, that stands on the one so many on
    /// from its beginning. None: that one lies hidden in a decrease.
    std::optional<int> above(int row, int host) const;

    /// Stitches lacking (below 0) or too many after a row, if there were so many before it and the row is
    /// worked by count: what is lacking at its end is not worked, what is left over is worked plainly.
    int byCount(int row, int off) const;

    /// A part that can be knitted by itself: rows `rowFrom` to `rowTo`, about a step of row `row`.
    struct Window {
        Script script;
        int rowFrom = 0;
        int row = 0;            ///< of the window, from 1: that of the step
        int step = 0;           ///< in that row of the window
        bool whole = false;     ///< reaches up to the needle
        bool toRight = true;    ///< to the right edge of the cloth in all its rows, ...
        bool toLeft = true;     ///< ... or to the left one
        std::uint64_t key = 0;  ///< windows with the same key are the same
        struct Row {
            int first = 1;  ///< window columns first to first + count - 1 ...
            int count = 0;
            int column = 1;  ///< ... are columns from here on of the cloth
        };
        std::vector<Row> rows;  ///< by row of the window, 0: its cast-on
    };
    struct Size {
        int below = 2;
        int above = 8;
        int aside = 5;  ///< stitches to the right and left
    };
    /// count 0 rows: none can be cut (an irregular row).
    Window window(int row, int step, const Size& size, bool build = true) const;

  private:
    struct Up {
        std::int16_t above = 0;  ///< column one row up
        std::int16_t below = 0;  ///< column one row down
        std::int16_t step = 0;   ///< that made it
        std::int16_t takenIn = 0;
    };
    struct RowWords {
        bool leftward = true;
        bool regular = true;
        bool straight = false;
        int before = 0;
        int after = 0;
        int repeat = 0;
        std::uint64_t words = 0;
        std::vector<std::int32_t> in;     ///< hosts taken before each step, and in all
        std::vector<std::int32_t> out;    ///< loops made before each step
        std::vector<std::int32_t> taker;  ///< by host in the order worked: the step
        std::vector<std::uint64_t> sum;   ///< hash of the steps before
        std::vector<Up> columns;          ///< by column, from 1
        std::vector<std::int8_t> byCount;
        int drift = 0;       ///< sum, over the rows up to it, of how far a column goes aside at most
        int sameSince = 0;   ///< columns are the same from that row up to this one
        int bend = 0;        ///< rows up to it in which a column goes aside
        int straightTo = 0;  ///< columns are the same from this row up to that one
        std::vector<std::int16_t> aside;  ///< of such a topmost row: how far they have gone, so many bends up
        std::vector<std::int16_t> far;    ///< by column: the one kFar rows up
    };
    static constexpr int kFar = 16;
    static constexpr int kMostBends = 400;  ///< that columns are followed through to know how far they go
    void measureDrift();
    const RowWords& at(int row) const { return rows_[static_cast<std::size_t>(row)]; }
    const Up& up(int row, int column) const;

    const Script* script_;
    Setup setup_;
    int period_ = 0;
    bool crosses_ = false;
    std::vector<RowWords> rows_;
};

}  // namespace loopmend
