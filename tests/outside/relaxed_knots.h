// SPDX-License-Identifier: MIT
#pragma once

#include <functional>
#include <vector>

#include "pattern/samplers.h"

namespace loopmend::outside {

/// Every operation's piece at twelve by twelve, relaxed: the knot is the one that was drawn (alexander.h; the
/// drawn one is as its links say: shape/planned_samplers.cpp), no loop slips out of another, and no two
/// strands come nearer than nine tenths of the hard core's diameter.
void requireSameKnots(const std::vector<Sampler>& all,
                      const std::function<bool(const Sampler&)>& wanted = nullptr);

}  // namespace loopmend::outside
