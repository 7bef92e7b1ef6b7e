// SPDX-License-Identifier: MIT
#pragma once

#include "fabric/fabric.h"
#include "shape/columns.h"
#include "shape/geometry.h"

namespace loopmend {

struct Layout;

/// Two pieces bound off together lie face to face. Everything is laid out side by side, and drawn so; then
/// what lies on one side of a line is turned over on to the other, like a page, and every stitch of the chain
/// finds the two loops that it goes through one behind the other.
class Fold {
  public:
    bool empty() const { return side_ == 0; }
    /// It is turned over with this side of the piece.
    bool turns(Point2 at) const { return side_ * (at.x - axis_) > 0; }
    /// Where the place lies before it is turned over that will come to lie on this one.
    Frame mirrored(const Frame& frame) const;
    /// z of the middle of what was turned over, from the middle of what was not, mm.
    double apart() const { return over_ * 2 * radius_; }
    Point3 folded(Point3 at) const;
    /// What stays on its side wherever it reaches: the chain and the yarn's end.
    Point3 lain(Point3 at) const;

    /// By the loops that are bound off together with others; none, or they do not agree: nothing is folded.
    static Fold of(const Fabric& fabric, const Layout& layout);

  private:
    double axis_ = 0;    ///< x of the line, mm
    double side_ = 0;    ///< +1: what lies right of it is turned over, -1: left
    double over_ = 1;    ///< +1: toward the viewer of the right side
    double bend_ = 0;    ///< so far from the line the cloth is bent, mm
    double radius_ = 0;  ///< of the bend, mm
};

}  // namespace loopmend
