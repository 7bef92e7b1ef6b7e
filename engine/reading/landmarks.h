// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "fabric/fabric.h"
#include "pattern/terms.h"
#include "reading/columns.h"
#include "reading/read.h"

namespace loopmend {

/// Lines that the eye follows up a piece, across it or along its edges.
enum class LandmarkKind : std::uint8_t {
    spine,         ///< centred double decreases, each taking the one below as its middle stitch
    eyelets,       ///< yarn-overs one above another, or stepping aside by one
    rib,           ///< a column of V's beside bumps
    cable,         ///< crossings of the same columns: the rope itself
    rightLeaning,  ///< single decreases one above another or stepping aside, the left stitch on top
    leftLeaning,   ///< likewise, the right stitch on top
    eyeletRow,     ///< holes side by side in one row
    cableEdge,     ///< the column at the right or the left edge of a rope
    ridge,         ///< a row of bumps with none next to it
    edge,          ///< the right or left edge, the cast-on, the bind-off
    colours,       ///< where two colours meet: up a block, or across where a row changes
    turn,          ///< a row that begins in the middle: the work was turned there
};
inline constexpr int kLandmarkKinds = static_cast<int>(LandmarkKind::turn) + 1;
/// As the command line says it: `double-decrease`, `yarn-overs`, `rib`, `cable`, `right-leaning` ...
std::string_view name(LandmarkKind kind);

/// What is done with the stitches at an edge.
enum class Selvedge : std::uint8_t {
    none,
    plain,    ///< V's all along (or bumps)
    garter,   ///< a bump in every second row
    slipped,  ///< a stitch slipped in every second row: a chain
    castOn,
    boundOff,
};

/// A place of a line.
struct LinePlace {
    int row = 0;
    int stitch = 0;  ///< in the order worked, from 1; 0: it cannot be told
    int column = 0;  ///< from the right edge as the right side shows it

    friend bool operator==(const LinePlace& a, const LinePlace& b) {
        return a.row == b.row && a.stitch == b.stitch && a.column == b.column;
    }
};
/// Where a line breaks.
using LineBreak = LinePlace;

struct Landmark {
    LandmarkKind kind = LandmarkKind::spine;
    int rowFrom = 0;
    int rowTo = 0;
    int column = 0;    ///< of its lowest place, from the right edge as the right side shows it
    int columnTo = 0;  ///< of a line across: its left end; else as `column`
    /// Rows in which it should have gone on and did not, though it goes on above, there or one step aside.
    std::vector<int> breaksAt;
    std::vector<LineBreak> breaks;  ///< the same rows, with the stitch
    /// Of a line of decreases or yarn-overs: where it stands, from below up.
    std::vector<LinePlace> places;
    /// cable: rows from each crossing to the next, from below up: the strands between the gaps.
    std::vector<int> between;
    Selvedge selvedge = Selvedge::none;  ///< edge
    bool left = false;                   ///< edge, cableEdge: the left one as the right side shows it

    friend bool operator==(const Landmark& a, const Landmark& b) {
        return a.kind == b.kind && a.rowFrom == b.rowFrom && a.rowTo == b.rowTo && a.column == b.column &&
               a.columnTo == b.columnTo && a.breaks == b.breaks && a.between == b.between &&
               a.selvedge == b.selvedge && a.left == b.left;
    }
};

/// All landmarks, by kind, then from right to left, then from below. A line needs two places (a rib four
/// rows, a row of holes three, a line of colours four rows). Nothing but the cloth is asked: a line that
/// simply ends is not broken. Linear.
std::vector<Landmark> landmarks(const Fabric& fabric, const Reading& reading);

/// `a line of double decreases from row 3 to row 23; it breaks in row 13`.
std::string words(const Landmark& landmark, Terms terms = Terms::us);

}  // namespace loopmend
