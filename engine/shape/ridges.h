// SPDX-License-Identifier: MIT
#pragma once

#include "fabric/fabric.h"
#include "shape/layout.h"
#include "shape/squeeze.h"

namespace loopmend {

/// Rows of garter closed up as they lie at rest: the heights of a layout in which they stand as far apart as
/// any rows, mapped to where they belong. Rows that are knit, or purled, all along (but for a slip of the
/// hands) between two of the other kind; one ridge alone lies in its ground as high as any row.
Squeeze closedRidges(const Fabric& fabric, const Layout& layout);

}  // namespace loopmend
