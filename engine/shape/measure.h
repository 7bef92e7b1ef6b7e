// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>

#include "shape/geometry.h"

namespace loopmend {

/// The shares of a stitch from which the template is built (shape of a relaxed plain stitch).
struct Measure {
    explicit Measure(const Gauge& gauge)
        : w(gauge.stitchMm),
          h(gauge.rowMm),
          a(0.365 * w),
          b(0.5 * w - a),
          yc(0.07 * std::min(w, 1.3 * h)),
          ay(0.265 * std::min(w, 1.3 * h)),
          q(0.7 * ay),
          d(0.51 * gauge.yarnMm),
          yarn(gauge.yarnMm),
          needle(1.15 * gauge.yarnMm) {}

    double w, h;
    double a;   ///< half width of a head
    double b;   ///< half width between the legs where they come out of the host
    double yc;  ///< half height of the middle part of a binding
    double ay;  ///< height of the arc above it
    double q;   ///< height of the arc's shoulder
    double d;   ///< what lies in front or behind lies so far from the middle
    double yarn;
    double needle;  ///< a needle as drawn
};

}  // namespace loopmend
