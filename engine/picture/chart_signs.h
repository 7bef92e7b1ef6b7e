// SPDX-License-Identifier: MIT
#pragma once

#include "pattern/sign.h"
#include "picture/canvas.h"

/// The shapes of signs in the square of a chart (JIS L 0201:1995 where it has one).
namespace loopmend {

struct SignLook {
    Sign sign = Sign::knit;
    bool bar = false;  ///< drawn with the bar of the purl form
    int count = 1;     ///< the number written beside those that have one
    int way = 0;       ///< so many small marks in the corner: another way of working that looks the same
};

struct SignPen {
    double square = 6;  ///< side of a square, mm
    Colour ink;
    Colour ground;
};

/// Draws a sign in a square whose left bottom corner is `at`. With a bar it moves up a little to make room.
void drawSign(Drawing& drawing, const SignLook& look, Point2 at, const SignPen& pen);

/// A crossing over whole squares, left + right of them from `at` on: two bundles of lines, the front one
/// whole.
void drawCrossing(Drawing& drawing, const StitchSign& sign, Point2 at, const SignPen& pen);

/// No stitch: a grey square with two fine strokes across, so that it is not told by its colour alone.
void drawNoStitch(Drawing& drawing, Point2 at, const SignPen& pen);
/// A stitch that waits: a small dot in its middle on plain ground.
void drawWaiting(Drawing& drawing, Point2 at, const SignPen& pen);

}  // namespace loopmend
