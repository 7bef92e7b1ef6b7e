// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>

#include "fabric/fabric.h"
#include "shape/geometry.h"

namespace loopmend {

struct Layout;

/// A round that was joined with a twist winds about its needle: the band, cut open and laid flat, turns over
/// once for each half turn on its way from its right end to its left one, so that the edge that was cast on
/// goes over the needle and comes back under it. A low band turns about the needle itself, which stays
/// straight as a cord pulled taut; a high one about its own middle, and takes the needle with it.
///
/// Everything is drawn flat, then each place is turned about one line by an angle that follows from where
/// along the line it lies. That is a turning of space, so no crossing of the band's own yarn changes; that
/// each round now winds about each other one and about the needle is the twist.
class Winding {
  public:
    bool empty() const { return halfTurns_ == 0; }
    std::int32_t halfTurns() const { return halfTurns_; }
    /// Where the band turns, mm from the left; and the height of the line about which it does.
    double from() const { return from_; }
    double to() const { return to_; }
    double line() const { return line_; }

    /// Radians by which the band is turned there; positive: as a right-handed screw, seen toward the right.
    double angle(double x) const;
    Point3 wound(Point3 at) const;
    /// Back again.
    Point3 flat(Point3 at) const;

    /// Drawn anew, the other would lie so nearly where this one does that it need not be.
    bool servesFor(const Winding& fresh) const;

    bool operator==(const Winding&) const = default;

    /// By the twists of the joins that the fabric has, all together.
    static Winding of(const Fabric& fabric, const Layout& layout);

  private:
    std::int32_t halfTurns_ = 0;
    double from_ = 0;
    double to_ = 0;
    double line_ = 0;
};

}  // namespace loopmend
