// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>

#include "fabric/fabric.h"

/// How much yarn lies in a loop, and in the strand after it, when nothing is drawn tight or left slack.
namespace loopmend {

/// A stitch as its yarn has it; what goes over the needle alone, one turn of that; what was let fall and is
/// nothing any more, none.
std::int32_t usualLoopUm(const Fabric& fabric, LoopId loop);
/// A strand's length for the gap to the next stitch, and one for each stitch that it goes by.
std::int32_t usualStrandUm(const Fabric& fabric, LoopId before);
/// A loop without links that was lifted out of a strand and took next to none of its yarn, as a float has
/// that is caught: neither has it yarn to give, nor does it want any.
bool isOnlyStrand(const Fabric& fabric, LoopId loop);

}  // namespace loopmend
