// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstdint>

#include "repair/moves.h"

namespace loopmend {

/// What hands hold.
enum class Notion : std::uint8_t {
    fingers,      ///< let off the needle, let run, take pins out, take rows out, turn
    needle,       ///< the tips: put stitches on, turn them on the needle, work on, take back, lift a strand
    hook,         ///< rungs and strands drawn through open stitches
    pin,          ///< holds a stitch, or marks it
    spareNeedle,  ///< a thin one: holds a row, or stitches that were let down
    cableNeedle,  ///< stitches led across others, in front or behind
    thread,       ///< smooth thread, to fall back on: a lifeline
    scissors,     ///< ends of yarn; cloth only between two threaded rows
    bluntNeedle   ///< slack, ends, sewing
};
constexpr std::size_t kNotions = 9;

/// The notion with which a move is done.
Notion notionFor(const Move& move);

}  // namespace loopmend
