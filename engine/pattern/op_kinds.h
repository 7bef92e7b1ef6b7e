// SPDX-License-Identifier: MIT
#pragma once

#include "pattern/op.h"

/// What several rooms ask of an operation beside its counts.
namespace loopmend {

/// It draws its loop away from her, as a purl: also decreases, increases and bindings-off that are purled.
/// (Of purled turns, purlWraps, only the first one is such a loop.)
bool purls(Op op);
/// It passes a stitch to the other needle unworked, whichever way and wherever the yarn is.
bool slips(Op op);
/// One operation over as many stitches as it says: `bind off 5`, `hold 5`.
bool takesMany(Op op);

}  // namespace loopmend
