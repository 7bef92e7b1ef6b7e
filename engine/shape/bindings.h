// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "fabric/fabric.h"
#include "shape/layout.h"

/// Where loops go through loops: place, direction, side and height of every binding.
namespace loopmend {

/// One loop through one host.
struct Binding {
    LinkId link;
    Frame frame;          ///< where the loop crosses the host's head; `up` is the way the loop goes
    double side = 1;      ///< +1: drawn toward the right side, -1: toward the wrong side
    double stack = 0;     ///< z of the host's head among the heads that lie together there, mm
    double shift = 0;     ///< the host's head lies so far to the right of the frame, mm
    double wide = 1;      ///< share of the ordinary width of the host's head: what lies behind peeks out
    int twist = 0;        ///< half turns of the host
    bool chain = false;   ///< the host is of the loop's own row (a bind-off)
    bool behind = false;  ///< the host is of a piece that is folded behind this one: all is as before that
};

/// Bindings of a fabric in a layout; computed when asked.
class Bindings {
  public:
    Bindings(const Fabric& fabric, const Layout& layout);

    Binding of(LinkId link) const;
    /// Bindings through a loop's opening, from right to left: what its head goes round.
    std::vector<Binding> through(LoopId host) const;
    /// +1, 0, -1, ...: how far in front of the columns it crosses a loop lies.
    double layer(LoopId loop) const { return layers_[static_cast<std::size_t>(loop.value)]; }
    /// Both feet of the loop, and its link there: where it goes through its hosts, or stands.
    Frame foot(LoopId loop) const;

    /// The last loop of a bind-off that the row goes on from: it stands upright in the loop before it.
    bool endsChain(LoopId loop) const;
    /// Of a knitted cast-on: it stands beside the one loop that it was drawn through.
    bool besideItsHost(LoopId loop) const;

    /// Of another yarn, it lies over a loop that goes the same way.
    bool isCopy(LoopId loop) const {
        return static_cast<bool>(layout_.columns.copies[static_cast<std::size_t>(loop.value)]);
    }

    /// Drawn up out of a stitch under another one that stands in it.
    bool isLifted(LoopId loop) const;
    /// Picked up under legs; along the side of a piece, not along the end of its columns.
    bool isUnderLegs(LoopId loop) const;
    bool growsAside(LoopId loop) const;
    /// Of a yarn-over between two loops that come through one host: the side to which the one before it was
    /// drawn, +1 or -1. Else 0.
    double betweenSiblings(LoopId loop) const;

  private:
    bool isChain(LinkId link) const;
    bool isLater(LinkId link) const;
    Frame frameOf(LinkId link) const;
    /// The foot of a loop picked up under legs at the side of a piece.
    Frame underEdge(LinkId link) const;

    const Fabric& f_;
    const Layout& layout_;
    std::vector<double> layers_;
};

}  // namespace loopmend
