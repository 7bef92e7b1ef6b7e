// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include <tl/expected.hpp>

#include "pattern/op.h"

namespace loopmend {

/// Where a fault is put. Row and stitch count in the knitting as it was meant, whatever went wrong before.
struct FaultPlace {
    std::string id;
    int row = 0;     ///< row in which the hands did it; 1 is the first row after the cast-on. What came out
                     ///< later: the lowest row whose stitch came out
    int stitch = 0;  ///< 1 is the first stitch worked in that row (see stitchesOf). Something put in before a
                     ///< stitch is named by that stitch
    int rows = 0;    ///< a run: how many rows came out, the topmost of them just worked when the stitch fell.
                     ///< 0: it fell when all was done, and the run goes from the needle down to `row`
                     ///< Words misread: by how much (rows, stitches or times more, below 0 fewer, as that
                     ///< mistake has it); 0: as is usual

    friend bool operator==(const FaultPlace& a, const FaultPlace& b) {
        return a.id == b.id && a.row == b.row && a.stitch == b.stitch && a.rows == b.rows;
    }
};

/// How the knitter went on after it.
enum class After : unsigned char {
    byCount,    ///< works the instructions blindly; at the end of a row she fudges (see SideBySide)
    byReading,  ///< keeps every later stitch above its own column
    rowEnd,     ///< works the row to its end as it is written, notices, and stops there
};
/// `count`, `reading`, `row-end`: the words of the command line.
std::string_view name(After after);
std::optional<After> afterFrom(std::string_view name);

/// Why a fault cannot be put in.
struct FaultProblem {
    enum class What : unsigned char {
        badWords,      ///< the place is not written as ID@ROW,STITCH
        unknownFault,  ///< no such id
        noSuchRow,
        noSuchStitch,
        cannotStand,   ///< the place is there, but that mistake cannot happen on it
        patternStops,  ///< the script itself cannot be worked
    };
    What what = What::cannotStand;
    std::string message;  ///< one sentence: what, where, what to do
};

/// Reads `ID@ROW,STITCH` or, for a run, `ID@ROW,STITCH,ROWS` (misread: how much, `-2` too). The id is not
/// looked up.
tl::expected<FaultPlace, FaultProblem> parsePlace(std::string_view words);
/// As parsePlace reads it.
std::string text(const FaultPlace& place);

/// Stitches a step counts in its row: what it puts on the right needle, and what it binds off.
int stitchesOf(const Step& step);
int stitchesIn(const WorkedRow& row);
/// Index of the step that works the given stitch (from 1); none if the row has no such stitch.
std::optional<int> stepOfStitch(const WorkedRow& row, int stitch);
/// The first stitch that a step works.
int stitchOfStep(const WorkedRow& row, int step);

}  // namespace loopmend
