// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <vector>

#include "fabric/fabric.h"
#include "shape/bindings.h"
#include "shape/layout.h"
#include "shape/measure.h"
#include "shape/spline.h"

namespace loopmend {

/// The end of what an entry adds to the yarn, as the strand to its neighbour must know it.
struct StrandEnd {
    EntryId entry;
    Frame frame;
    double z = 0;
    Run run = Run::leftward;
    bool pass = false;
};

/// What strands between entries must mind: what they go by, hang under and come up behind.
class StrandWays {
  public:
    StrandWays(const Fabric& fabric, const Layout& layout, const Bindings& bindings)
        : f_(fabric), layout_(layout), bindings_(bindings), m_(layout.gauge) {}

    /// Beside a loop drawn up out of a stitch under another one that stands in it, and drawn to the other
    /// face than its neighbour: points of the strand from one face to the other. Else none.
    std::vector<PathPoint> fromUnder(const StrandEnd& a, const StrandEnd& b) const;
    /// Between two that stand in one stitch side by side and are drawn to different faces: points of the
    /// strand over the head that both go through, as the yarn is brought to the other face between the
    /// needles. Else none.
    std::vector<PathPoint> overHead(const StrandEnd& a, const StrandEnd& b) const;
    /// To a stitch that stands above it, where a row of another yarn lies between: points of the strand,
    /// which is carried up behind the work. Else none.
    std::vector<PathPoint> upBehind(const StrandEnd& a, const StrandEnd& b) const;
    /// From a stitch bound off high up, on what was cast on, down to the next one of the chain.
    bool dropsDown(const StrandEnd& a, const StrandEnd& b) const;
    /// On which side of a lifted loop the one stands that is in its host already: +1 right, -1 left.
    double siblingSide(LoopId loop) const;
    /// The row that a strand belongs to: a rung is swept with the loop it names, though the yarn is of a row
    /// below or above.
    std::int32_t rowAlong(EntryId e, bool back) const;
    /// How high a loop stands over the one that it was drawn through, mm.
    double rowUnder(EntryId e) const;
    /// Between neighbours at other heights, or in other layers of a crossing, it passes the legs of each
    /// one's host before it changes over to the depth of the other.
    bool holdsDepth(const StrandEnd& a, const StrandEnd& b) const;
    /// Where a turn comes into the row of `to`: at the stitch itself, or, where those of other yarns stand
    /// between it and the edge at `reach`, where the outermost of them stands.
    Point2 endOfRow(const StrandEnd& to, Point2 out, double reach) const;
    /// Between neighbours at other heights of which one travels under the other the slanting legs of both
    /// hosts lie over the strand: the depth of the one that is farther back, 0 elsewhere.
    double underBoth(const StrandEnd& a, const StrandEnd& b) const;
    /// What it was drawn through ends its row, and that yarn is carried up past this one.
    bool besideClimb(EntryId e) const;
    /// What it was drawn through stands a stitch farther out on that side (way: +1 right), and leans.
    bool leansOut(EntryId e, double way) const;
    /// A rung that a stitch has left has more yarn than the gap needs.
    bool isLongRung(PassId p) const;

  private:
    bool sharesHost(LoopId one, LoopId other) const;
    bool crosses(LoopId loop) const;
    bool isAlone(LoopId loop) const;

    const Fabric& f_;
    const Layout& layout_;
    const Bindings& bindings_;
    Measure m_;
};

}  // namespace loopmend
