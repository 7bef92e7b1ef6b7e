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
    // Further ones, on which lessons and practice are not played yet.
    chained,   ///< stockinette, the first stitch of every row slipped
    bound,     ///< stockinette, bound off in the last row
    banded,    ///< stockinette, bound off but for a stitch, a garter band picked up along its side
    turned,    ///< stockinette with short rows: doubled on the wrong side, wrapped on the right
    joined,    ///< stockinette, a new ball of the same color begun in mid-row
    stranded,  ///< two colors in every row, two stitches each
    blocks,    ///< two blocks of color, linked at the change
    caught,    ///< one stitch in seven of a second color, each float caught in the middle by the next row
};
/// Those that lessons may ask for: one yarn, flat or in the round, every row from end to end.
inline constexpr int kStockGrounds = static_cast<int>(StockGround::shaped) + 1;
inline constexpr int kAllStockGrounds = static_cast<int>(StockGround::caught) + 1;

std::string_view name(StockGround ground);
/// It can be worked in the round as well.
bool goesRound(StockGround ground);

/// The cloth at least `stitches` wide (as many as its pattern needs), rows from the cast-on, flat with a
/// right-side row first or in the round. Asked for in the round, a ground that is worked flat alone comes
/// flat.
Script stockGround(StockGround ground, int stitches, int rows, bool round = false);

}  // namespace loopmend
