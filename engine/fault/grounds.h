// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <string_view>
#include <vector>

#include "pattern/op.h"

namespace loopmend {

/// Plain and patterned cloth on which mistakes are shown, tried and measured.
enum class StockGround : std::uint8_t {
    stockinette,
    garter,
    rib,      ///< k2, p2
    seed,     ///< k1, p1, one over in every row
    eyelets,  ///< yarn-overs and single decreases of both hands, plain rows between
    net,      ///< yarn-overs and decreases in every row
    spines,   ///< centred double decreases one above another, plain rows between
    cables,   ///< four-stitch ropes on a purl ground, every fourth row crossed
    shaped,   ///< increases and decreases beside the edges, plain rows between
};
inline constexpr int kStockGrounds = static_cast<int>(StockGround::shaped) + 1;

std::string_view name(StockGround ground);

/// The cloth at least `stitches` wide (as many as its pattern needs), rows from the cast-on, flat with a
/// right-side row first or in the round.
Script stockGround(StockGround ground, int stitches, int rows, bool round = false);

}  // namespace loopmend
