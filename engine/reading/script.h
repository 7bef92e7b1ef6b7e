// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include <tl/expected.hpp>

#include "fabric/fabric.h"
#include "pattern/op.h"
#include "pattern/working.h"
#include "reading/read.h"

/// The fabric read back into rows of operations: what a knitter with western loops would work to get this
/// very knot. Linear.
///
/// One knot may be worked in several ways; it is read in one:
///   skp, spp, sp2p        as ssk, p2tog, p3tog (the same knots)
///   slipped knitwise      as slipped purlwise, a reverse yarn-over as a yarn-over, unless the way the loop
///                         then sat shows in a twist above it
///   yarn-overs, cast-on   several side by side as one step with a count; k1 p1 k1 and k1 yo k1 into one
///   loops                 stitch with count 1
///   bind-off              the stitch after it is the loop left, so it is a knit (purled off: a purl);
///   stitches
///                         passed over one after another are one
///   a holder              told after the yarn-overs and loops cast on beside it
///   under a knit below    the stitch that was dropped into it reads as a knit
///   lifted increases      between two stitches out of one: to the right
///   let fall              a yarn-over let fall is not there
///   wrap and turn         the same as slipping the next stitch, the yarn on the side of the Vs, before and
///                         after a turn; round the last stitch of the needle, and left there, it reads so
///   yarns                 numbered as they are first used; what needs no yarn is done with the one in hand
/// Told by its yarn, nothing else: a lifted bar from a yarn-over; the further turns of a stitch for which the
/// yarn went several times round the needle from yarn-overs, and, when they fell, that they were there; at
/// the end of the needle a doubled stitch from a stitch with the next one knitted into it below.
namespace loopmend {

/// A place that no operation explains. The script has the nearest one there, if any.
struct Unnamed {
    LoopId loop;  ///< none: the row itself
    int row = 0;
    int stitch = 0;  ///< in the order worked, from 1; 0: the row itself
    std::string words;
};

struct ScriptReading {
    Script script;
    CastOn castOn = CastOn::longTail;
    bool mirrored = false;
    int left = 0;  ///< stitches that the last row has not come to yet
    std::vector<Unnamed> unnamed;
    /// Duplicate stitches sewn over others, which the script leaves out.
    std::vector<LoopId> sewn;
    /// Rows that were sewn with a thread of their own and so join two edges. The script has them as rows of
    /// the yarn of the row below, as if nothing had ever been cut.
    std::vector<int> grafted;
    /// By row of the script, by step: the first loop it made or moved; none for a bind-off, a holder.
    std::vector<std::vector<LoopId>> madeBy;
};

/// Reads whatever can be named.
ScriptReading readScript(const Fabric& fabric, Knits hands = Knits::asItShows);

/// The script alone; if something cannot be named, all that was read, so that one can say which.
tl::expected<Script, ScriptReading> scriptOf(const Fabric& fabric, Knits hands = Knits::asItShows);

/// A script in the words in which reading tells it (see above), as far as they can be told without working
/// it: not what a loop that sat left leg in front shows later.
Script asRead(const Script& script);

/// One sentence: how many places, and the first of them.
std::string sentence(const std::vector<Unnamed>& unnamed);

}  // namespace loopmend
