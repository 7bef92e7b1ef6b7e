// SPDX-License-Identifier: MIT
#pragma once

#include <string_view>

#include "fault/place.h"
#include "pattern/op.h"

namespace loopmend {

/// How often a mistake is made, against the others (only ratios count). Common practice: what teachers see;
/// numbers are ours and adjustable. A fault that is not in the table weighs 1.
double priorOf(std::string_view faultId);
/// How much less it is believed at that very place than elsewhere: where another mistake that makes the same
/// cloth is the commoner one. 1: no less.
double priorAt(const Script& meant, const FaultPlace& place);
/// How a knitter goes on after it.
double priorOf(After after);
/// How much less a mistake is believed whose yarn would lie there in other lengths: a bar of the wrong
/// length is seen at a tug, but cloth is worked over and eased.
inline constexpr double kOtherYarn = 0.05;
/// How much less a row more or fewer is believed after which not all rows that were meant were worked.
inline constexpr double kNotAllRows = 0.5;

}  // namespace loopmend
