// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "pattern/chart.h"
#include "pattern/chart_text.h"
#include "picture/canvas.h"

/// Charts that are written, on paper: one square a stitch, a heavy outline round what is repeated, grey and
/// crossed squares where there is no stitch, row numbers where rows begin, and always a legend.
namespace loopmend {

struct WrittenChartOptions {
    ChartStyle style = ChartStyle::symbols;
    double squareMm = 6;
    bool dark = false;
    Terms terms = Terms::us;
    std::string title;  ///< in place of the chart's own
};

/// Draws it; a left-handed chart as the mirror image. With faces and reverses only what `sayable` allows:
/// other stitches are then drawn as symbols.
Drawing drawingOf(const WrittenChart& chart, const WrittenChartOptions& options = {});

}  // namespace loopmend
