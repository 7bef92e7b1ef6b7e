// SPDX-License-Identifier: MIT
#pragma once

#include <functional>

#include "picture/canvas.h"
#include "shape/path.h"

namespace loopmend {

/// How a stretch of yarn is drawn as wool on paper.
struct WoolStroke {
    double from = 0;  ///< counted in points of the strand
    double to = 0;
    double widthMm = 1;  ///< on paper
    Colour colour;
    bool under = false;  ///< other yarn lies over it and takes light from it
    bool plies = true;   ///< false: a needle
    double hand = 1;     ///< -1: plies wind the other way (a mirrored picture)
};

/// Yarn as shaded strokes, one on the other: a dark rim, the body, the lit side (light comes from the upper
/// left), and lines where its plies meet. place: where a point of the cloth lies on paper.
void drawWool(Drawing& drawing, const PathStrand& strand, const WoolStroke& stroke,
              const std::function<Point2(Point2)>& place);

}  // namespace loopmend
