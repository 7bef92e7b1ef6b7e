// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <string>
#include <tl/expected.hpp>

namespace loopmend {

/// Why hands cannot do what was asked. The fabric is then as it was.
enum class Why : std::uint8_t {
    noSuchThing,        ///< the id names nothing in this fabric
    notALoop,           ///< a pass was named where a loop is needed
    notLive,            ///< another loop goes through it
    ownHost,            ///< a loop cannot go through itself
    anchored,           ///< its foot is knotted
    inUse,              ///< it still goes through something, or is held
    noLinks,            ///< it goes through nothing that could be undone
    notHeld,            ///< no such tool holds it
    alreadyHeld,        ///< that tool holds it already
    noBall,             ///< this end of the yarn has no ball
    hasBall,            ///< this end of the yarn runs to the ball
    sameYarn,           ///< two ends of different yarns are needed
    tooLittleYarn,      ///< that much yarn is not there
    notNeighbours,      ///< they do not lie side by side
    crossedTwice,       ///< these columns have crossed in this row already: knit a row first
    crossedInARing,     ///< a over b over c over a in one row: knit a row first
    notEnoughStitches,  ///< wanted `a`, the needle has `b`
    nothingBefore,      ///< the operation needs a stitch on the right needle
    noBar,              ///< no running thread lies at this place
    noStitchBelow,      ///< nothing stands below this stitch that could be entered
    noRung,             ///< the loop has no such rung
    notOpen,            ///< the loop is held by the one above it
    nothingToUndo,      ///< nothing has been worked yet
    rowNotWorked,       ///< stitches are still waiting on the left needle
    notInTheRound,      ///< only a round can be joined and ended so
    yarnElsewhere,      ///< the yarn that should be worked does not end here
    nothingAbove,       ///< nothing stands in the stitch, so its path is not closed
    edgesDiffer,        ///< edges of `a` and of `b` stitches do not match
    notAtATurn,         ///< only the stitch worked last before a turn can be doubled
    notDoubled,         ///< the next stitch has no second leg
    noWrap,             ///< no strand was led round the next stitch
    noFloat,            ///< no strand of another yarn lies across the next stitch
    noEdge,             ///< there is no such edge beside the stitch in hand
    noSpareStitches,    ///< wanted `a`, a holder or spare needle has `b`
    noThread,           ///< no thread or spare needle lies in a row below
    noEnd,              ///< no end of yarn hangs here
};

/// An expected failure. `a` and `b` are the numbers its sentence needs.
struct Refusal {
    Why why;
    std::int32_t a = 0;
    std::int32_t b = 0;
};

/// One sentence for a person: what cannot be done and why.
std::string sentence(const Refusal& refusal);

template <class T>
using Result = tl::expected<T, Refusal>;

inline tl::unexpected<Refusal> refuse(Why why, std::int32_t a = 0, std::int32_t b = 0) {
    return tl::unexpected<Refusal>(Refusal{why, a, b});
}

}  // namespace loopmend
