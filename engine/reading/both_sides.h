// SPDX-License-Identifier: MIT
#pragma once

#include "reading/read.h"

namespace loopmend {

/// A fabric as its two sides show it. Rows are found once for both, which is most of the price of a reading.
struct BothSides {
    Reading right;
    Reading wrong;
};
BothSides readBothSides(const Fabric& fabric, Knits hands = Knits::asItShows);

}  // namespace loopmend
