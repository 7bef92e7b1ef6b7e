// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <vector>

#include "fabric/pairing.h"
#include "repair/plan.h"
#include "repair/work.h"
#include "tutor/swatch.h"

namespace loopmend {

/// How far the knitting has come, and what it is to be compared with.
struct Goal {
    int rows = 0;   ///< whole rows
    int steps = 0;  ///< steps of the next row
};

/// The cloth as it lies there now, against what it should be. Worked out afresh from any state.
struct Standing {
    Goal goal;                  ///< the nearest: as many rows as she has knitted, or those of the start
    bool asMeant = false;       ///< the very cloth of the goal, or where the lesson may end (tutor/ends.h)
    bool shows = false;         ///< asMeant, and yet otherwise than it was meant: it shows a little
    Pairing pairing;            ///< with the goal's cloth
    std::vector<Plan> plans;    ///< the ways there, cheapest first; none if it is as meant, or none is known
    std::vector<LoopId> open;   ///< loops that could run: nothing through them, nothing holds them
    LoopId onHook;              ///< open too, but the newest made: it sits on the hook
    std::vector<LoopId> wrong;  ///< loops that are worked otherwise than meant, or too many; lowest first
    std::vector<LoopId> lacking;  ///< after these the strand lies bare where a stitch should stand
    /// Where nothing but sizes is wrong: these are among `wrong`, and after these a strand is too long or
    /// short.
    std::vector<LoopId> larger;
    std::vector<LoopId> smaller;
    std::vector<LoopId> unevenStrands;
    std::vector<LoopId> unevenFloats;  ///< likewise, of strands that go by stitches
    std::vector<LoopId> wound;  ///< the edge of a cast-on that winds about the needle, joined with a twist

    const Plan* best() const { return plans.empty() ? nullptr : &plans.front(); }
};

/// onlyWhereSheIs: only as many rows as lie there now are asked for, not those of the start.
/// ways: ways home are looked for too.
Standing standingOf(const Swatch& swatch, Work& work, bool onlyWhereSheIs, bool ways = true);

/// The goal whose very cloth this is; none: something is not as meant. Quick.
std::optional<Goal> goalReached(const Swatch& swatch, const Work& work);

/// Loose loops of a cloth, in the order of their ids.
std::vector<LoopId> openLoops(const Fabric& fabric);
/// The goal that fits where she is: as many rows and stitches as lie there.
std::vector<Goal> goalsWhereSheIs(const Swatch& swatch, const Work& work);

/// What must come undone for a loop to be free: everything drawn through it, upward.
std::vector<LoopId> drawnThrough(const Fabric& fabric, const std::vector<LoopId>& loops);

}  // namespace loopmend
