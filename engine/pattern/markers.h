// SPDX-License-Identifier: MIT
#pragma once

#include "pattern/pattern.h"

namespace loopmend {

/// Says in stitches what a text says by its markers: `k to 2 sts before marker` becomes `k8`, or `k to last 6
/// sts` where the stitches cast on are not known. Markers stand where `pm` put them, go along with their
/// stitches from row to row, and are met by `sm`, `to marker` and `remove marker` in the order of the needle.
/// Where rows that are repeated meet them after other numbers of stitches each time, the rows are written out
/// one by one. A marker that is not there, or that cannot be reached, is a problem of the row that asks for
/// it. Texts without `to marker` stay as they are.
void followMarkers(Pattern& pattern);

/// Whether an item, or one in it, goes on to a marker.
bool asksForMarker(const std::vector<Item>& items);

}  // namespace loopmend
