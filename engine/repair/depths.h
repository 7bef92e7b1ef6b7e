// SPDX-License-Identifier: MIT
#pragma once

#include <optional>

#include "repair/builder.h"

namespace loopmend {

/// Where many rows hold something wrong: from which row on it is likely cheapest to take rows back, so that
/// what is wrong below is mended by its columns, or on spare needles. Reckoned, not carried out; none: all by
/// columns or all by taking back is cheaper.
std::optional<int> depthToRip(const Situation& situation);

}  // namespace loopmend
