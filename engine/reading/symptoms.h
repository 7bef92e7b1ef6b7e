// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "fabric/fabric.h"
#include "pattern/terms.h"
#include "reading/read.h"

namespace loopmend {

/// What catches the eye without knowing what was meant. Nothing here says that it is a mistake.
enum class SymptomKind : std::uint8_t {
    ladder,         ///< a loose stitch under rungs
    freeLoop,       ///< a stitch that stands free, no rung above it
    edgeLoop,       ///< big loops hanging at an edge
    loneHole,       ///< a hole without a decrease near it, in a row without others
    loneBump,       ///< a bump among V's
    loneV,          ///< a V among bumps
    crossedFeet,    ///< crossed feet among open ones
    loneJoin,       ///< two columns grow together, in a row without others and without holes
    extraColumn,    ///< a column begins on another's base, in a row without others
    tallStitch,     ///< a stitch over several rows among ordinary ones, a strand behind or across it
    wrongHand,      ///< a decrease or crossing that leans unlike the others of its line
    lineBreaks,     ///< a landmark that goes on one step aside
    turned,         ///< the work was turned in mid-row
    split,          ///< plies apart
    pulled,         ///< a stitch much tighter or slacker than its neighbours
    openRow,        ///< several stitches side by side stand open at the needle
    ridge,          ///< a row of bumps across cloth of V's
    thickJoin,      ///< three grow together in a row where two do
    wrongStack,     ///< a double decrease without its middle on top, in a spine
    openMade,       ///< a small hole at the foot of a made stitch, the others of its row closed
    wrapLeft,       ///< a bar round the foot of a stitch where the work was turned
    floatInFront,   ///< a strand of another color lying before the stitches
    tightFloat,     ///< a strand of another color shorter than what it spans
    slit,           ///< two blocks of color with nothing between them
    loneColor,      ///< one stitch of another color
    tallEdge,       ///< one tall stitch at an edge that is not slipped
    band,           ///< from one row on all stitches are larger or smaller
    yarnEnds,       ///< a yarn begins or ends in the middle of a row
    twistedRound,   ///< the round was joined with the edge wound about the needle
    pickedUpRidge,  ///< picked up from the back: a ridge of edge strands
};
inline constexpr int kSymptomKinds = static_cast<int>(SymptomKind::pickedUpRidge) + 1;

/// From which side it shows.
enum class SeenFrom : std::uint8_t { right, wrong, both };
/// `rs`, `ws`, `both`.
std::string_view name(SeenFrom seen);
/// As the command line says it: `ladder`, `free-loop`, `lone-hole` ...
std::string_view name(SymptomKind kind);

struct Symptom {
    SymptomKind kind = SymptomKind::ladder;
    int row = 0;
    int stitch = 0;  ///< in the order worked, from 1; 0: the row itself
    int column = 0;  ///< from the right edge as the right side shows it
    LoopId loop;     ///< the stitch meant; none for a row
    std::string words;
    SeenFrom seenFrom = SeenFrom::both;
};

/// Everything that stands out on the side that was read, from below up and from right to left. Linear.
std::vector<Symptom> symptoms(const Fabric& fabric, const Reading& reading, Terms terms = Terms::us);

}  // namespace loopmend
