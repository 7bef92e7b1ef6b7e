// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <cstdlib>

namespace loopmend {

/// Whether a loop is seen to be larger or smaller than it was meant: by more than a sixth (craft figure).
inline bool isOtherSize(std::int32_t um, std::int32_t meantUm) {
    return std::abs(um - meantUm) * 6 > meantUm;
}

}  // namespace loopmend
