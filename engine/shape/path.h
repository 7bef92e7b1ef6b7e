// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "fabric/fabric.h"
#include "shape/layout.h"
#include "shape/spline.h"

/// The yarn as a curve through a layout: in front of and behind hosts and the loops drawn through, exactly
/// as the links say. One template serves every stitch; nothing here asks how a loop was worked.
///
/// What the crossings of the curve, seen on the right side, always show:
///   drawn toward the right side  the loop's feet lie behind its host's legs, its own legs in front of the
///                                host's head; toward the wrong side the reverse
///   several hosts                in the order of the bight: the last one lies on the side drawn toward
///   twist                        the host's legs cross once for each half turn; + reads `/`, - reads `\`
///   pass                         the strand lies on its side of the loop it goes by
///   crossing                     the loop in front lies in front
namespace loopmend {

/// A piece of yarn, or a tool as a straight strand.
struct PathStrand {
    YarnId yarn;                ///< none for a tool
    ToolId tool;                ///< none for a yarn
    double mm = 0;              ///< across
    bool pointedStart = false;  ///< a needle's tip
    bool pointedEnd = false;
    std::vector<PathPoint> points;
};

struct Path {
    Gauge gauge;
    std::vector<PathStrand> strands;  ///< yarns along their run, then tools
};

struct PathOptions {
    double step = 0.2;   ///< distance of points, in stitch widths
    double tail = 0.65;  ///< drawn length of yarn ends and of the yarn to the ball, in stitch widths
    bool tools = true;   ///< needles, holders, pins and lifelines are drawn
};

/// Any fabric and its layout. A yarn that goes round (from the last stitch of a round to the first) is cut
/// there, so one yarn may be several strands.
Path pathOf(const Fabric& fabric, const Layout& layout, const PathOptions& options = {});

/// The middle of what is drawn of these entries, mm; nothing of them: the origin.
Point3 middleOf(const Path& path, const std::vector<EntryId>& entries);

}  // namespace loopmend
