// SPDX-License-Identifier: MIT
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "pattern/samplers.h"
#include "shape/read_back.h"

namespace loopmend {

/// What was read back of several samplers.
struct ReadSamplers {
    ReadBack tally;
    int pieces = 0;
    std::string refused;  ///< samplers that could not be knitted

    std::string told() const;
};

/// Knits, relaxes and reads back those that are wanted (an eighth of them under the sanitizers).
ReadSamplers readSamplers(const std::vector<Sampler>& all,
                          const std::function<bool(const Sampler&)>& wanted = nullptr);

/// Columns change places.
bool crosses(const Sampler& sampler);
/// Some step of what it shows takes several loops: decreases and crosses.
bool takesMany(const Sampler& sampler);

}  // namespace loopmend
