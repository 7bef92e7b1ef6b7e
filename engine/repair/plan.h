// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "fabric/knitter.h"
#include "fabric/pairing.h"
#include "pattern/op.h"
#include "repair/moves.h"
#include "repair/pace.h"

/// Ways back from what is there to what was meant: lists of hand moves, priced and proved before anybody sees
/// them. What is chosen out of them, and why, is in ways_back.h.
namespace loopmend {

/// How a plan goes about it.
enum class PlanFamily : std::uint8_t {
    column,         ///< the columns that went wrong are let down and hooked up again, one by one
    tink,           ///< the last stitches are taken back one by one and worked again
    rip,            ///< whole rows are taken back and worked again; or some, and the rest by columns
    block,          ///< the columns that went wrong lie on a spare needle and are worked up row by row
    lifelineFirst,  ///< a thread through a row that is right, then rows are taken back down to it
    fudge,          ///< the stitches stay as they are; the count is put right in the row in hand
    duplicateOver,  ///< the stitch that was meant is sewn over the one that is there
    snipAndGraft,   ///< one row is cut, drawn out and sewn anew
    fasten,         ///< what hangs loose is sewn down
    ease,           ///< slack is drawn along the row; no stitch changes
    wash,           ///< washed, laid flat and judged again: small differences of size even out
    untwist,        ///< the band of a round is turned at its join, as far as it has to be taken back for it
    sewIn,          ///< a stitch that slipped out where the yarn broke is sewn in, and the ends joined
    startAgain,     ///< all is drawn out, and the piece begun anew
    leave           ///< nothing is done, but that nothing can run
};
inline constexpr int kPlanFamilies = 15;
std::string_view nameOf(PlanFamily family);

/// What is left to see afterwards, the better first.
enum class Leaves : std::uint8_t {
    exact,
    tight,
    visible,
    countOnly,   ///< the count is right, the stitches are not
    nothingDone  ///< all is as it was
};
std::string_view nameOf(Leaves leaves);

struct PlannedMove {
    Move move;
    int row = 0;     ///< the row it mends or takes back; 0: none in particular
    int stitch = 0;  ///< first worked in that row = 1; 0: the whole row
    int column = 0;  ///< from the right edge, as the right side shows it; 0: the whole row
    std::string words;
};

/// Said before hands or work can come to harm.
struct Caution {
    std::size_t beforeMove = 0;  ///< of the plan, from 0
    std::string words;
};

struct Plan {
    PlanFamily family = PlanFamily::column;
    double seconds = 0;
    double risk = 0;  ///< chance, 0 to 1, that a loop is lost or spoiled on the way
    Leaves leaves = Leaves::exact;
    double shortageMm = 0;            ///< yarn that the mended loops lack together, after easing
    std::vector<LoopId> needsOnTool;  ///< right loops that must be held before anything is let go
    /// What must come undone: loops of the fabric as it is, in the order of its yarn. Right ones among them.
    std::vector<LoopId> comesUndone;
    bool proved = false;  ///< carried out in the journal, it gives exactly the meant knot
    std::vector<PlannedMove> moves;
    /// False: the moves break off where one could not be done; `reason` says why.
    bool carriedOut = true;
    std::string reason;  ///< not proved: what differs still
    std::vector<Caution> cautions;
    int ripsTo = 0;  ///< the first row that is taken back and worked again; 0: none
};

/// What a set of plans is asked for.
struct PlanAsk {
    Pace pace;
    bool all = false;  ///< also plans that do not reach the meant knot; their `reason` says why
    /// Right loops that would be left hanging are held first. Off only to show what happens then.
    bool holdRims = true;
    bool panels = true;   ///< with spare needles (block)
    bool threads = true;  ///< a thread first (lifelineFirst)
    bool anew = true;     ///< broken ends joined, and beginning again where nothing else mends it
};

/// Plans that mend `knitter`'s fabric into the meant one, cheapest first; each was carried out and rolled
/// back. `script`: the rows that work the meant fabric. Nothing to mend: no plans. Plans that would not reach
/// the meant knot are left out, unless all is true. Only families that can reach it; without an `ask`, only
/// those that need no spare needles, threads and new yarn: column, tink and rip.
std::vector<Plan> plansFor(const Fabric& meant, const Script& script, Knitter& knitter, const PlanAsk& ask);
std::vector<Plan> plansFor(const Fabric& meant, const Script& script, Knitter& knitter, const Pace& pace = {},
                           bool all = false);

/// What differs between two fabrics, in sentences, first differences first; empty: the same knot.
std::vector<std::string> differencesOf(const Fabric& meant, const Fabric& actual);

}  // namespace loopmend
