// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "pattern/terms.h"
#include "picture/canvas.h"
#include "reading/read.h"

/// Charts: one square a stitch, as the right side shows it, bottom row first. The shapes are those of JIS L
/// 0201:1995 (letter symbols for knitting), and the legend is always drawn: no chart notation is known
/// everywhere.
namespace loopmend {

/// What a square can show. One shape each; the purl form of a shape is the same with a bar under it.
enum class ChartSign : std::uint8_t {
    none,        ///< no stitch here: the grid only holds its shape
    knit,        ///< upright stroke
    purl,        ///< level stroke
    hole,        ///< circle: yarn-over
    rightOver,   ///< right stitch on top, leans left: long stroke from top left, short leg at lower left
    leftOver,    ///< left stitch on top, leans right: its mirror image
    rightOver3,  ///< the same of three: one more short leg
    leftOver3,
    centreOver,   ///< centred double: upright stroke, a leg on each side
    twistedLeft,  ///< small loop with crossed feet
    twistedRight,
    made,          ///< the bar lifted: crossed feet over a short level stroke
    several,       ///< strokes from one foot
    slippedBack,   ///< V
    slippedFront,  ///< V with a bar
    tuck,          ///< arch over the stitch below
    castOn,        ///< ring with a tail
    boundOff,      ///< filled dot
    crossed,       ///< lines over the squares, the unbroken one in front
    rung,          ///< a stitch that came out: level dashes
    loose          ///< a live loop that nothing holds: an open loop
};

struct ChartCell {
    ChartSign sign = ChartSign::none;
    bool purlForm = false;
    int from = 0;          ///< crossed: how many squares to the right (-) or left (+) it stood below
    bool inFront = false;  ///< crossed
    LoopId loop;
};

struct ChartRow {
    int row = 0;
    Facing facing = Facing::right;  ///< of a round: right
    std::vector<ChartCell> cells;   ///< from right to left
};

struct Chart {
    std::vector<ChartRow> rows;  ///< bottom first
    int columns = 0;
};

/// The chart of a fabric read from its right side; rows first to last (last -1: to the top), row 0 left out.
Chart chartOf(const Reading& rightSide, int firstRow = 1, int lastRow = -1);

struct ChartOptions {
    double squareMm = 6.0;
    Terms terms = Terms::us;
    bool dark = false;
    std::string title;
};

/// The grid, row numbers at the side where each row begins, and the legend of the signs that are used.
Drawing drawingOf(const Chart& chart, const ChartOptions& options = {});

/// What a sign means, for a legend: `knit two together`.
std::string meaningOf(ChartSign sign, Terms terms);

}  // namespace loopmend
