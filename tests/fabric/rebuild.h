// SPDX-License-Identifier: MIT
#pragma once

#include "fabric/fabric.h"

namespace loopmend {

/// The fabric made anew by primitives alone, loop by loop; mirrored: as a looking-glass beside it shows it,
/// left for right, the right side still the right side.
Fabric rebuilt(const Fabric& fabric, bool mirrored);

}  // namespace loopmend
