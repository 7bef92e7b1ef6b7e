// SPDX-License-Identifier: MIT
#pragma once

#include "picture/canvas.h"

struct ImDrawList;

namespace loopmend::app {

/// Puts a drawing list on the screen, its top left corner at (x, y), so many window units to a mm. Strokes
/// without caps of their own; words in the current lettering.
void paint(const Drawing& drawing, ImDrawList& draw, float x, float y, float unitsPerMm);

}  // namespace loopmend::app
