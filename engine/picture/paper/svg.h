// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "picture/canvas.h"

namespace loopmend {

/// A drawing as an SVG text, in mm, with its title for those who listen. Written here and not by a library:
/// words stay words, and the text is small and the same on every machine.
std::string svgOf(const Drawing& drawing);

}  // namespace loopmend
