// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "tutor/standing.h"

namespace loopmend {

/// What counts when ways are compared: time, and what a tight place is worth avoiding.
double costOf(const Plan& plan);

/// Ways home that no single family of plans has: first something else, then a plan. The newest stitches or
/// rows taken back; the row in hand worked to its end; what is wrong mended before the rows above are knitted
/// again. Each is carried out and rolled back, and added where it is cheaper than the best so far.
void addDetours(const Swatch& swatch, Work& work, const Goal& goal, const Pairing& pairing,
                std::vector<Plan>& plans);

}  // namespace loopmend
