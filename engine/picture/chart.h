// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "fabric/fabric.h"
#include "pattern/sign.h"
#include "pattern/terms.h"
#include "picture/canvas.h"
#include "reading/read.h"

/// Charts of what is there: what a piece looks like from one side, one square a stitch, with the signs of
/// pattern/sign.h. The legend is always drawn. Charts that are written stand in written_chart.h.
namespace loopmend {

/// One square.
struct ChartSquare {
    Sign sign = Sign::knit;
    bool bar = false;    ///< drawn with the bar of the purl form
    int count = 1;       ///< several, fromOne: how many
    int moved = 0;       ///< crossing: its column came so many squares from the left (+) or right (-)
    bool front = false;  ///< crossing: it lies in front
    char colour = 'A';
    LoopId loop;  ///< as in the cell read
};

struct ChartRow {
    std::int32_t row = 0;
    bool fromRight = true;  ///< worked, and read, from the right edge of the chart
    int start = 0;  ///< place of the first square from the right edge; rows of another length are shifted so
                    ///< that columns stay above each other
    std::vector<ChartSquare> squares;  ///< right to left as the chart shows them
};

struct Chart {
    Side side = Side::right;
    std::vector<ChartRow> rows;  ///< from the bottom up, without the cast-on
    int left = 0;                ///< one past the left-most place
    int right = 0;               ///< the right-most place (may be below 0)
};

struct ChartOptions {
    Side side = Side::right;
    /// Bounds as in DrawingOptions.
    int firstRow = 0;
    int lastRow = -1;
    int firstStitch = 0;
    int lastStitch = -1;
    double squareMm = 6;
    bool dark = false;
    Terms terms = Terms::us;
    std::string title;
};

/// The squares of a fabric, as one side shows it.
Chart chartOf(const Fabric& fabric, const ChartOptions& options = {});
/// The same from a reading already made (of the side asked for).
Chart chartOf(const Fabric& fabric, const Reading& reading, const ChartOptions& options);

/// The chart on paper, with row numbers where rows begin and a legend of the signs used.
Drawing drawingOf(const Chart& chart, const ChartOptions& options = {});

/// What a sign means, in a knitter's words.
std::string wordsOf(const ChartSquare& square, Terms terms);

}  // namespace loopmend
