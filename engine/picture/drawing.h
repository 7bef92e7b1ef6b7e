// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "fabric/fabric.h"
#include "picture/canvas.h"
#include "shape/layout.h"
#include "shape/path.h"

/// Technique drawings: the yarn of a piece as outlined strokes, over and under in the right order, seen from
/// one side.
namespace loopmend {

/// A loop that should be seen. Colour never says it alone: the outline is heavier, and a line along the yarn
/// or a letter goes with it.
struct Highlight {
    enum class Line { none, dashes, dots };
    EntryId entry;           ///< a loop or a strand that goes by one
    int colour = 1;          ///< safeColour
    Line line = Line::none;  ///< drawn along the middle of the yarn
    std::string letter;      ///< written beside the loop; may be empty
};

enum class YarnStyle {
    outlined,  ///< pale yarn with dark outlines
    wool       ///< shaded, with its plies
};

struct DrawingOptions {
    Side side = Side::right;  ///< the side that faces the viewer
    double stitchMm = 8.0;    ///< width of a stitch on paper
    /// Rows (0: the cast-on) and stitches counted from the right edge as the right side faces you; 0 and
    /// below 1: no bound.
    int firstRow = 0;
    int lastRow = -1;
    int firstStitch = 0;
    int lastStitch = -1;
    /// Instead of rows and stitches: these entries, and so much cloth around them.
    std::vector<EntryId> about;
    double stitchesAbout = 1.5;
    double rowsAbout = 2.5;
    double stretch = 1.0;  ///< pulled so much wider, 0.5 to 3; the height gives way
    bool dark = false;     ///< dark ground
    bool rowNumbers = true;
    bool caption = true;  ///< says which side it is
    bool tools = true;    ///< needles and pins are drawn
    YarnStyle style = YarnStyle::outlined;
    std::optional<Colour> firstYarn;  ///< else as usual in that style
    std::string title;                ///< written above; may be empty
    std::vector<Highlight> highlights;
};

/// The picture of a fabric, its yarn as the template has it (shape/path.h). One with no loops in the rows and
/// stitches asked for is an empty sheet that says so.
Drawing drawingOf(const Fabric& fabric, const DrawingOptions& options = {});
/// The same of yarn that lies otherwise, as of relaxed cloth (shape/cloth.h). Entries that the fabric does
/// not have are drawn without highlights.
Drawing drawingOf(const Fabric& fabric, const Path& path, const DrawingOptions& options);

}  // namespace loopmend
