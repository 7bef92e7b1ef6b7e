// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "reading/answer.h"

namespace loopmend {

/// What a close look reaches to either side of its stitch.
inline constexpr int kCloseRows = 1;
inline constexpr int kCloseStitches = 2;

/// A close look at one stitch; the column from the right edge as the right side shows it.
Look closeLookAt(int row, int column, Side side = Side::right);

/// A sign that she would name if she looked closely at one stitch.
struct CloseBy {
    OddSign sign = OddSign::none;
    int row = 0;
    int column = 0;  ///< from the right edge as the right side shows it
    int away = 0;    ///< rows and stitches from where it was looked for
};

/// The signs at a stitch and all that a close look reaches, with that side facing:
/// those at the place itself before anything that lies around it.
std::vector<CloseBy> closeBy(const LookedAt& piece, int row, int column, Side side);

}  // namespace loopmend
