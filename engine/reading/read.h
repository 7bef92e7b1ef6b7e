// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "fabric/fabric.h"
#include "fabric/rows.h"
#include "pattern/op.h"
#include "reading/symbol.h"

/// The fabric as the eye reads it, from one side. Computed from loops, passes, tools and row marks alone: a
/// fabric loaded from its text reads the same.
namespace loopmend {

/// One place of one row.
struct Cell {
    LoopId loop;  ///< slipped: the older loop that passes this row; rung: the loose loop below
    std::int32_t row = 0;
    std::int32_t column = 0;  ///< from the right edge as the right side shows it, from 1; a rung has none (0)
    std::int32_t stitch = 0;  ///< in the order worked, from 1: everything on the right needle counts, and
                              ///< what was bound off; a rung has none (0)
    Symbol symbol;
};

/// How a live loop sits at the needle: what crosses its neck on the side that was asked.
enum class Neck : std::uint8_t { smooth, bar, none };

struct LiveLoop {
    LoopId loop;
    std::int32_t row = 0;    ///< the row it was made in
    Neck neck = Neck::none;  ///< none: a yarn-over, a bar, a cast-on loop
};

struct ReadRow {
    std::int32_t row = 0;  ///< 0: the cast-on
    /// Which side looked at the knitter (right-handed: the yarn runs leftward with the right side facing).
    Facing facing = Facing::right;
    bool round = false;         ///< worked in the round
    std::int32_t stitches = 0;  ///< stitches on the needle after this row, those not reached in it included
    /// Stitches of this row that came out later: what the yarn in the long rungs comes to.
    std::int32_t cameOut = 0;
    /// Stitches on the needle that this row did not reach, beyond its right and left end (a turn in mid-row).
    std::int32_t waitingRight = 0;
    std::int32_t waitingLeft = 0;
    std::vector<Cell> cells;  ///< from right to left as the right side shows it, whichever side is asked
};

struct Reading {
    Side side = Side::right;
    bool mirrored = false;         ///< read as a left-handed knitter's work
    std::vector<ReadRow> rows;     ///< from the cast-on up
    std::vector<LiveLoop> needle;  ///< loops on the needle, from right to left as the right side shows it
    std::vector<LoopId> loose;     ///< live loops that nothing holds
};

/// Whose hands to read for. Nothing in a flat piece tells: a left-handed knitter's right-side row is a
/// right-handed knitter's wrong-side row, loop for loop. In the round it shows: the right side faces all
/// knitters, and the yarn runs the other way.
enum class Knits : std::uint8_t { rightHanded, leftHanded, asItShows };

/// Reads a fabric from one side. Linear in its loops and passes.
Reading readFrom(const Fabric& fabric, Side side, Knits hands = Knits::asItShows);

/// The cell of a loop in the row in which it was made; none if it has none.
const Cell* cellOf(const Reading& reading, LoopId loop);
/// The cell worked as the given stitch (1 = first) of a row; none if there is none.
const Cell* cellAt(const Reading& reading, int row, int stitch);

/// A row in words, from right to left as the side that was read shows it: `three V's, a hole, a strand over
/// it, two stitches meet, the left one on top: leans right`.
std::string rowWords(const Reading& reading, int row, Terms terms = Terms::us);

}  // namespace loopmend
