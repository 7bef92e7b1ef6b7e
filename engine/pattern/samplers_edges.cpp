// SPDX-License-Identifier: MIT
#include "pattern/samplers.h"

namespace loopmend {

std::vector<Sampler> edgeSamplers() {
    return {};
}

}  // namespace loopmend
