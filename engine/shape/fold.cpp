// SPDX-License-Identifier: MIT
#include "shape/fold.h"

#include <cmath>

#include "shape/layout.h"

namespace loopmend {

namespace {

constexpr double kPi = 3.14159265358979323846;
/// The two sheets lie so far apart, middle to middle, in yarns: each is two yarns thick.
constexpr double kApart = 3.2;
/// Nothing but the strands between two columns is bent, in stitch widths from the line.
constexpr double kBend = 0.12;
/// The pairs of one fold lie so evenly about its line, in stitch widths.
constexpr double kUneven = 2.0;

}  // namespace

Frame Fold::mirrored(const Frame& frame) const {
    return {{2 * axis_ - frame.at.x, frame.at.y}, {frame.right.x, -frame.right.y}, {-frame.up.x, frame.up.y}};
}

Point3 Fold::lain(Point3 at) const {
    return {at.x, at.y, at.z - over_ * radius_};
}

Point3 Fold::folded(Point3 at) const {
    const double along = side_ * (at.x - axis_);  // over the line, along the cloth
    if (along <= -bend_) return lain(at);
    if (along >= bend_) return {axis_ - side_ * along, at.y, over_ * radius_ - at.z};
    const double angle = 0.5 * kPi * along / bend_;
    const double out = radius_ - over_ * at.z;
    return {axis_ + side_ * (out * std::cos(angle) - bend_), at.y, over_ * out * std::sin(angle)};
}

Fold Fold::of(const Fabric& fabric, const Layout& layout) {
    Fold fold;
    double sum = 0;
    double least = 0;
    double most = 0;
    int n = 0;
    for (std::int32_t i = 0; i < fabric.entryCount(); ++i) {
        const EntryId loop{i};
        const LoopId behind = layout.columns.behind[static_cast<std::size_t>(i)];
        if (!behind || !layout[loop].placed || !layout[behind].placed) continue;
        const double there = layout[behind].frame.at.x;
        const double here = layout[loop].frame.at.x;
        const double middle = 0.5 * (there + here);
        const double side = there > here ? 1 : -1;
        if (n > 0 && side != fold.side_) return {};
        fold.side_ = side;
        // Drawn out of the other piece toward its right side, that faces the piece in hand.
        for (LinkId l = fabric[loop].firstLink; l; l = fabric[l].nextInLoop) {
            if (fabric[l].host == behind) fold.over_ = fabric[l].form.side == Side::right ? 1 : -1;
        }
        least = n > 0 ? std::min(least, middle) : middle;
        most = n > 0 ? std::max(most, middle) : middle;
        sum += middle;
        ++n;
    }
    if (n == 0 || most - least > kUneven * layout.gauge.stitchMm) return {};
    fold.axis_ = sum / n;
    fold.bend_ = kBend * layout.gauge.stitchMm;
    fold.radius_ = 0.5 * kApart * layout.gauge.yarnMm;
    return fold;
}

}  // namespace loopmend
