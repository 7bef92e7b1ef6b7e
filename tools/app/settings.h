// SPDX-License-Identifier: MIT
#pragma once

namespace loopmend::app {

/// How a person likes the program; kept between runs.
struct Settings {
    float textSize = 1;  ///< 0.8 to 2
    bool dark = false;
    bool drawing = false;        ///< the yarn as a technique drawing
    bool reducedMotion = false;  ///< nothing moves by itself; changes are there at once
    bool mirrored = false;       ///< left-handed
    bool ukWords = false;
};

}  // namespace loopmend::app
