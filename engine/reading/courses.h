// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <vector>

#include "fabric/fabric.h"
#include "fabric/rows.h"

/// The fabric laid out row by row as it came off the needle: what reading, scripts and counts start from.
namespace loopmend {

/// One thing of a row.
struct CourseItem {
    enum class What : std::uint8_t {
        loop,  ///< a loop of this row
        slip,  ///< a loop of an older row that went across, its strand going by
        stay,  ///< a loop of an older row that was passed without a strand of its own and stays in its place
        away,  ///< likewise, but it left the needle here: on a holder, or it hangs free
        rung,  ///< a strand across the gap above a loose loop
    };
    What what = What::loop;
    EntryId entry;  ///< the loop, or the pass of a slip or rung
    LoopId loop;    ///< the loop meant: itself, the slipped one, the foot of a rung
};

struct Course {
    std::int32_t row = 0;
    Run run = Run::leftward;
    bool round = false;        ///< it goes on in the direction of the row below
    std::int32_t before = 0;   ///< loops on the needle before this row
    std::int32_t after = 0;    ///< loops on the needle after it; loose ones are not counted
    std::int32_t toRight = 0;  ///< loops right of the first item that this row did not reach
    std::int32_t toLeft = 0;   ///< likewise at the other end
    /// The yarn was led round the next stitch before the work was turned: the pass by that stitch, or the
    /// loop that was lifted from it later. None: it was not.
    EntryId wrapAtEnd;
    bool wrapAtStart = false;  ///< and comes back round it here
    bool ended = false;        ///< a row mark stands at its end
    /// One row with the course before it: that goes on along an edge where stitches are picked up, or over
    /// stitches that were cast on.
    bool goesOn = false;
    bool castsOn = false;           ///< nothing but stitches knitted on to the left needle
    std::vector<CourseItem> items;  ///< from right to left, as the right side shows it
};

struct Courses {
    Rows rows;
    std::vector<Course> list;  ///< row 0 (the cast-on) first

    /// The strand between two stitches, lifted: a loop without links that took no yarn of its own. It is no
    /// stitch of its row.
    bool isBar(LoopId loop) const { return has(loop, kBar); }
    /// A loop without links that was drawn out of its base and caught together with it by the loop above.
    bool isTuckTop(LoopId loop) const { return has(loop, kTuckTop); }

    /// The second pair of legs of a stitch pulled up at a turn: on the needle it counts with that stitch.
    bool isDoubled(LoopId loop) const { return has(loop, kDoubled); }
    /// The strand that was led round a stitch at a turn, lifted and worked together with that stitch.
    bool isLiftedWrap(LoopId loop) const { return has(loop, kLiftedWrap); }

    /// The strand of another yarn that lay across a stitch, lifted and worked together with that stitch.
    bool isCaughtFloat(LoopId loop) const { return has(loop, kCaughtFloat); }

    /// A loop of a knitted cast-on: drawn through the one before it, which stays on the needle.
    bool isKnittedOn(LoopId loop) const { return has(loop, kKnittedOn); }
    /// A loop that waited on a spare needle or holder and was bound off together with one of the piece in
    /// hand.
    bool isSpare(LoopId loop) const { return has(loop, kSpare); }

    /// A mark that holds a stitch's yarn, not a bar's alone.
    bool isLongRung(PassId mark) const { return has(mark, kLongRung); }
    /// A mark's share of the stitches that came out into its strand, in `kParts` of one.
    std::int32_t stitchIn(PassId mark) const {
        return stitchParts.empty() ? 0 : stitchParts[static_cast<std::size_t>(mark.value)];
    }

    static constexpr std::uint8_t kBar = 1;
    static constexpr std::uint8_t kTuckTop = 2;
    static constexpr std::uint8_t kLongRung = 4;
    static constexpr std::uint8_t kDoubled = 8;
    static constexpr std::uint8_t kLiftedWrap = 16;
    static constexpr std::uint8_t kKnittedOn = 32;
    static constexpr std::uint8_t kSpare = 64;
    static constexpr std::uint8_t kCaughtFloat = 128;
    static constexpr std::int32_t kParts = 27'720;
    std::vector<std::uint8_t> marks;        ///< by entry id
    std::vector<std::int32_t> stitchParts;  ///< by entry id; empty if nothing came out

    bool has(EntryId e, std::uint8_t mark) const {
        return (marks[static_cast<std::size_t>(e.value)] & mark) != 0;
    }
};

/// Lays the fabric out. Linear in its loops and passes, and in the loops that short rows leave waiting.
Courses coursesOf(const Fabric& fabric);

/// Rounds whose yarn runs rightward: the right side faces every knitter in the round, so the hands were
/// left-handed. Flat work never shows it.
bool showsLeftHanded(const Courses& courses);

/// A link to the loop's own neighbour along the yarn, running the same way: the chain of a bind-off, or a
/// stitch passed over the next one. (In a round, a crossing may bring the last loop of a round to the start
/// of the next: that is no chain.)
bool isChainLink(const Fabric& fabric, const Link& link);

/// A backward loop of a cast-on, which sits with half a turn; not the slip knot of a knitted one.
bool isHalfHitch(const Fabric& fabric, const Courses& courses, LoopId loop);

/// A further turn of the yarn round the needle in one stitch: it takes as much as a stitch, and lies close to
/// the loop before it. (Known by its yarn alone; as a knot it is a yarn-over.)
bool isFurtherTurn(const Fabric& fabric, LoopId loop);

/// How many further turns of a stitch fell off the needle and gave it their yarn: by its yarn alone, the knot
/// knows nothing of them.
int turnsFallen(const Fabric& fabric, LoopId loop);

}  // namespace loopmend
