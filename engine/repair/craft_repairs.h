// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <string_view>
#include <vector>

#include "fabric/pairing.h"
#include "repair/plan.h"

/// The repairs of the craft, by names of our own, and which of them a plan is made of. A plan is found by
/// looking at loops; that it *is* "moving a decrease over by one" is seen from what it does to them.
namespace loopmend {

enum class CraftRepair : std::uint8_t {
    secure,               ///< a pin or marker through a free loop
    takeBackPlain,        ///< stitch by stitch
    takeBackShaped,       ///< likewise, with decreases, increases, yarn-overs among them
    ripRows,              ///< down to a row
    threadThenRip,        ///< a thread through a good row first
    lifeline,             ///< a thread laid in before anything risky
    reseat,               ///< a loop put on the needle the right way round
    oneRowUp,             ///< one rung up again
    ladderUp,             ///< a run in stockinette hooked up
    ladderUpPurl,         ///< ... in a column of purls
    ladderUpAlternating,  ///< ... in garter or seed
    ladderUpRib,          ///< ... of one column of ribbing
    ladderUpShort,        ///< rungs that are bars only, eased
    dropToChange,         ///< a column let down to change knit and purl
    edgeRun,              ///< edge loops hooked up, two stitches out of each
    untwistBelow,         ///< a stitch opened (or crossed) some rows down
    liftYarnOver,         ///< a missed yarn-over lifted out of the bar, one row later
    hookYarnOver,         ///< ... and hooked up, two rows later or more
    removeYarnOver,       ///< a made loop too many let go, its slack eased
    closeYarnOver,        ///< worked shut in the next row
    edgeDoubled,          ///< the spare loop of an edge stitch let go
    freeSplitYarn,
    freeSlipped,    ///< a stitch slipped by accident, worked after all
    freeKnitBelow,  ///< a stitch knitted into the row below, freed
    lateDecrease,
    lateIncrease,
    partCaught,      ///< three caught for two, two caught together
    leanDecrease,    ///< two dropped below a decrease, stacked the other way
    moveDecrease,    ///< by one column
    restackCentred,  ///< the middle one on top again
    moveIncrease,    ///< or a yarn-over
    twistMade,       ///< a lifted bar twisted shut
    crossBoth,       ///< a cable crossed again, all its columns let down
    crossOneArm,     ///< ... one arm of it
    reknitPanel,
    sewOver,    ///< duplicate stitch
    swapColor,  ///< the other color's strand hooked
    easeSnag,   ///< slack drawn along
    closeTurn,  ///< an unplanned turn taken back
    snipAndGraft,
    fasten,       ///< a free loop sewn down
    untwistJoin,  ///< a round turned at the join
    openBindOff,
    fudgeCount,
    leaveIt,
    evenTension,
    mendPickUp,
    sewGapShut,
    startAgain,
    weaveEnd,
    bindOffAgain,  ///< an edge worked anew at another tension
    sewIn,         ///< a stitch that slipped out where the yarn broke
    catchFloat,
    wash  ///< and judge again
};
inline constexpr int kCraftRepairs = 54;

/// `ladder_up`, `late_decrease`: the words of the command line.
std::string_view idOf(CraftRepair repair);
/// In a knitter's words.
std::string_view wordsFor(CraftRepair repair);
/// Whether the planner makes it, or it is done at a place (craft_plans.h). Only the round turned at its join
/// is not: a piece joined with a twist is begun again.
bool isMade(CraftRepair repair);

/// Which of them a plan between these fabrics is made of, in the order above. actual: as it is before.
std::vector<CraftRepair> repairsIn(const Plan& plan, const Fabric& meant, const Fabric& actual,
                                   const Pairing& pairing);

}  // namespace loopmend
