// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "shape/relax.h"

/// Plain fabrics without edges, for measuring.
namespace loopmend {

struct Patch {
    std::vector<std::string> rows = {"k"};  ///< as the right side shows them, lowest first; all equally long
    double l = 17;                          ///< yarn of a stitch, in the unit of d
    double d = 1;                           ///< of the core
    int pointsPerStitch = 24;
    double kw = 4.1;   ///< the start: l over its stitch width ...
    double kc = 5.3;   ///< ... and over its row height
    double pleat = 0;  ///< how far the start is folded forward and back across a repeat
};

/// One cell of the repeat, in a start that is drawn right.
Rods rodsOfPatch(const Patch& patch);

/// The same energy and nothing else: no set, no friction, no table.
RelaxOptions frictionless(int most);

struct Density {
    double kc = 0;  ///< courses x l
    double kw = 0;  ///< wales x l
    double ks = 0;  ///< their product
    double r = 0;   ///< their ratio
};
Density densityOf(const Rods& rods, const Patch& patch);

}  // namespace loopmend
