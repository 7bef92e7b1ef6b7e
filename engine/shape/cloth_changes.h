// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <vector>

#include "fabric/fabric.h"

/// Which entries a hand move touched.
namespace loopmend {

/// By entry id: a number for all that an entry's drawing depends on: its neighbours along the yarn, links,
/// what goes through it and by it, tools, crossings. 0: it is not there.
std::vector<std::uint64_t> footprintsOf(const Fabric& fabric);

/// A number for what is on which tool, in which order, where the gap between the tips is, and how rounds are
/// joined.
std::uint64_t toolsPrintOf(const Fabric& fabric);

/// Entries whose footprints differ, or that only one fabric has.
std::vector<EntryId> changedBetween(const std::vector<std::uint64_t>& before,
                                    const std::vector<std::uint64_t>& now);

}  // namespace loopmend
