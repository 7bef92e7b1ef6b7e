// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "fabric/knitter.h"
#include "fabric/pairing.h"
#include "pattern/op.h"
#include "repair/moves.h"

/// Ways back from what is there to what was meant: lists of hand moves, priced and proved before anybody sees
/// them.
namespace loopmend {

/// How a plan goes about it.
enum class PlanFamily : std::uint8_t {
    column,  ///< the columns that went wrong are let down and hooked up again
    tink,    ///< the last stitches are taken back one by one and worked again
    rip      ///< whole rows are taken back and worked again
};
std::string_view nameOf(PlanFamily family);

/// What is left to see afterwards.
enum class Leaves : std::uint8_t { exact, tight, visible };
std::string_view nameOf(Leaves leaves);

/// How fast her hands are, and what a move costs. Figures are the craft's rules of thumb, all adjustable.
struct Pace {
    double secondsPerStitch = 4.0;  ///< a learner; steady 2, quick 1.5
    double tinkFactor = 3.5;        ///< taking back a stitch, in stitches knitted
    double ripSecondsPerStitch = 0.2;
    double seatFactor = 1.5;       ///< putting a bare loop back on the needle, in stitches knitted
    double hookFactor = 2.5;       ///< one rung, in stitches knitted
    double alternateFactor = 1.6;  ///< a rung that goes the other way than the one before
    double shortRungFactor = 3.0;
    double hookSetUpSeconds = 40.0;
    double pinSeconds = 10.0;
    double otherMoveSeconds = 5.0;
};

/// Shares of the yarn that a loop should have, below which it is called tight, or shows.
struct Tightness {
    double tight = 0.75;
    double visible = 0.4;
};

struct PlannedMove {
    Move move;
    int row = 0;     ///< the row it mends or takes back; 0: none in particular
    int stitch = 0;  ///< first worked in that row = 1; 0: the whole row
    int column = 0;  ///< from the right edge, as the right side shows it; 0: the whole row
    std::string words;
};

struct Plan {
    PlanFamily family = PlanFamily::column;
    double seconds = 0;
    double risk = 0;  ///< chance, 0 to 1, that a loop is lost or spoiled on the way
    Leaves leaves = Leaves::exact;
    double shortageMm = 0;            ///< yarn that the mended loops lack together
    std::vector<LoopId> needsOnTool;  ///< right loops that must be held before anything is let go
    bool proved = false;              ///< carried out in the journal, it gives exactly the meant knot
    std::vector<PlannedMove> moves;
    std::string reason;  ///< not proved: what differs still
};

/// Plans that mend `knitter`'s fabric into the meant one, cheapest first; each was carried out and rolled
/// back. `script`: the rows that work the meant fabric. Nothing to mend: no plans. Plans that would not reach
/// the meant knot are left out, unless all is true.
std::vector<Plan> plansFor(const Fabric& meant, const Script& script, Knitter& knitter, const Pace& pace = {},
                           bool all = false);

/// What differs between two fabrics, in sentences, first differences first; empty: the same knot.
std::vector<std::string> differencesOf(const Fabric& meant, const Fabric& actual);

}  // namespace loopmend
