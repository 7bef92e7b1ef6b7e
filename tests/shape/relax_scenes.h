// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "pattern/working.h"
#include "shape/relax_path.h"

/// Small swatches for tests of the relaxation.
namespace loopmend {

/// Rows as the right side shows them, from the bottom, repeated: k, p, t (twisted), s (slipped, strand
/// behind), o (yarn-over), / (k2tog). A row of one letter stands for a whole row.
struct Swatch {
    int stitches = 8;
    int rows = 8;
    std::vector<std::string> chart = {"k"};
    std::string at(int row) const;
};
Knitting knitted(const Swatch& swatch);

struct Drawn {
    Path path;
    PathRods rods;
};
Drawn drawn(const Fabric& fabric, int pointsPerStitch = 14);

/// Every coordinate equal, to the last bit.
bool sameBytes(const Rods& a, const Rods& b);
/// The longest way of a point between two shapes, in yarn radii.
double mostMoved(const Rods& a, const Rods& b);

}  // namespace loopmend
