// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "fabric/fabric.h"
#include "shape/bindings.h"
#include "shape/layout.h"
#include "shape/measure.h"

namespace loopmend {

/// The lower half of the loops of a knitted cast-on. Each is a band of two strands that climbs from the
/// opening of the loop before it to its own place. Both come from behind round that one's outer strand and
/// over it again; the one where the yarn comes in goes round the other, so that the two do not cross.
class KnittedCastOn {
  public:
    KnittedCastOn(const Fabric& fabric, const Layout& layout, const Bindings& bindings)
        : f_(fabric), layout_(layout), bindings_(bindings), m_(layout.gauge) {}

    /// Something was cast on through it.
    bool goesOnBeside(LoopId loop) const;

    /// The first of some cast on in mid-row, where the yarn turns for it.
    bool turnsBeside(LoopId loop) const {
        return bindings_.besideItsHost(loop) && f_.run(f_[f_[loop].firstLink].host) != f_.run(loop);
    }

    /// Foot and lower leg of a loop that stands beside its host, on one side (x: +1 right), from the strand
    /// upward.
    std::vector<Point3> throughBeside(LoopId loop, double x) const;
    /// The same of a first loop, which goes through nothing: it leans as the others do.
    std::vector<Point3> firstLoop(LoopId loop, double x) const;

  private:
    bool standsUpright(LoopId loop) const;
    double behind(LoopId loop) const { return f_.run(loop) == Run::leftward ? 1 : -1; }
    Point2 leg(LoopId loop, double x) const;

    const Fabric& f_;
    const Layout& layout_;
    const Bindings& bindings_;
    Measure m_;
};

}  // namespace loopmend
