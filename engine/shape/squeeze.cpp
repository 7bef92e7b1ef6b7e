// SPDX-License-Identifier: MIT
#include "shape/squeeze.h"

#include <algorithm>

namespace loopmend {

void Squeeze::add(double from, double to, double share) {
    const double before = pieces_.empty() ? 0 : pieces_.back().taken;
    pieces_.push_back({from, to, share, before + (to - from) * (1 - share)});
}

double Squeeze::height(double y) const {
    const auto above = std::partition_point(pieces_.begin(), pieces_.end(),
                                            [&](const Piece& piece) { return piece.from < y; });
    if (above == pieces_.begin()) return y;
    const Piece& in = *(above - 1);
    return y - in.taken + std::max(0.0, in.to - y) * (1 - in.share);
}

}  // namespace loopmend
