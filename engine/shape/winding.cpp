// SPDX-License-Identifier: MIT
#include "shape/winding.h"

#include <algorithm>
#include <cmath>

#include "shape/layout.h"
#include "shape/measure.h"

namespace loopmend {

namespace {

constexpr double kPi = 3.14159265358979323846;
/// A band of no more than so many rows below the ones held turns about its needle.
constexpr double kLow = 2.4;
/// In a full turn the outer edge goes so much farther round than it goes along the line, at most.
constexpr double kSteep = 0.8;
/// A turn is never shorter than so, in stitch widths, and leaves so much of the band flat at either end.
constexpr double kShortest = 5;
constexpr double kFlatEnd = 1.2;
/// It begins and ends gently: so much of its way at either end.
constexpr double kGently = 0.2;
/// A turn that is so much longer or shorter than it would be drawn anew is still left as it lies.
constexpr double kStillServes = 0.35;

struct Extent {
    double left = 0;
    double right = 0;
    double low = 0;
    double high = 0;
    bool any = false;

    void add(Point2 p) {
        left = any ? std::min(left, p.x) : p.x;
        right = any ? std::max(right, p.x) : p.x;
        low = any ? std::min(low, p.y) : p.y;
        high = any ? std::max(high, p.y) : p.y;
        any = true;
    }
};

std::int32_t twistOf(const Fabric& fabric) {
    std::int32_t all = 0;
    for (std::int32_t j = 0; j < fabric.joinCount(); ++j) {
        const LoopId after = fabric[JoinId{j}].loop;
        if (after && fabric.has(after)) all += fabric[JoinId{j}].twist;
    }
    return all;
}

/// Where a foot is drawn.
Point2 footOf(const Layout& layout, LoopId loop) {
    const Point2 at = layout[loop].frame.at;
    return {at.x, layout.squeeze.height(at.y)};
}

Extent extentOf(const Fabric& fabric, const Layout& layout) {
    Extent all;
    for (std::int32_t i = 0; i < fabric.entryCount(); ++i) {
        const EntryId e{i};
        if (fabric.has(e) && fabric.isLoop(e) && !fabric.isNothing(e) && layout[e].placed)
            all.add(footOf(layout, e));
    }
    return all;
}

/// Of the last stitch worked: there the tips of the needle are.
double workedAt(const Fabric& fabric, const Layout& layout, double otherwise) {
    for (std::int32_t y = 0; y < fabric.yarnCount(); ++y) {
        if (fabric[YarnId{y}].flags.gone != 0) continue;
        for (EntryId e = fabric[YarnId{y}].last; e; e = fabric[e].prev) {
            if (fabric.isLoop(e) && fabric.isLive(e) && layout[e].placed) return layout[e].frame.at.x;
        }
    }
    return otherwise;
}

/// Mean height of the feet that stand on a needle between two places.
double heldHeight(const Fabric& fabric, const Layout& layout, double from, double to, double otherwise) {
    double sum = 0;
    int n = 0;
    for (std::int32_t t = 0; t < fabric.toolCount(); ++t) {
        const Tool& tool = fabric[ToolId{t}];
        if (tool.kind != ToolKind::needle) continue;
        for (HeldId h = tool.first; h; h = fabric[h].next) {
            const LoopId loop = fabric[h].loop;
            if (fabric[h].state.hanging != 0 || !layout[loop].placed) continue;
            const Point2 at = footOf(layout, loop);
            if (at.x < from || at.x > to) continue;
            sum += at.y;
            ++n;
        }
    }
    return n > 0 ? sum / n : otherwise;
}

}  // namespace

double Winding::angle(double x) const {
    const double t = std::clamp((x - from_) / std::max(to_ - from_, 1e-9), 0.0, 1.0);
    // Rises evenly but for its two ends, and meets what lies flat without a corner.
    const double slope = 1 / (1 - kGently);
    double share = slope * (t - 0.5 * kGently);
    if (t < kGently) share = 0.5 * slope * t * t / kGently;
    if (t > 1 - kGently) share = 1 - 0.5 * slope * (1 - t) * (1 - t) / kGently;
    return kPi * halfTurns_ * (share - 1);
}

Point3 Winding::wound(Point3 at) const {
    if (empty() || at.x >= to_) return at;
    const double turn = angle(at.x);
    const double y = at.y - line_;
    return {at.x, line_ + y * std::cos(turn) - at.z * std::sin(turn),
            y * std::sin(turn) + at.z * std::cos(turn)};
}

Point3 Winding::flat(Point3 at) const {
    if (empty() || at.x >= to_) return at;
    const double turn = -angle(at.x);
    const double y = at.y - line_;
    return {at.x, line_ + y * std::cos(turn) - at.z * std::sin(turn),
            y * std::sin(turn) + at.z * std::cos(turn)};
}

bool Winding::servesFor(const Winding& fresh) const {
    if (halfTurns_ != fresh.halfTurns_) return false;
    const double now = fresh.to_ - fresh.from_;
    return empty() || std::abs(to_ - from_ - now) <= kStillServes * now;
}

Winding Winding::of(const Fabric& fabric, const Layout& layout) {
    Winding winding;
    const std::int32_t halfTurns = twistOf(fabric);
    if (halfTurns == 0) return winding;
    const Extent all = extentOf(fabric, layout);
    const Measure m(layout.gauge);
    if (!all.any || all.right - all.left < 2 * m.w) return winding;
    winding.halfTurns_ = halfTurns;

    // Clear of the tips, on the longer side of them.
    const double tips = std::clamp(workedAt(fabric, layout, all.left), all.left, all.right);
    const bool leftOfTips = tips - all.left > all.right - tips;
    double from = (leftOfTips ? all.left : tips) + kFlatEnd * m.w;
    double to = (leftOfTips ? tips : all.right) - kFlatEnd * m.w;
    if (to - from < kShortest * m.w) {
        from = all.left;
        to = all.right;
    }

    const double held = heldHeight(fabric, layout, from, to, all.high);
    const bool low = held - all.low <= kLow * m.h && all.high - held <= kLow * m.h;
    const double needle = held + m.h + m.yc + m.ay - 0.5 * (m.needle + m.yarn);
    winding.line_ = low ? needle : 0.5 * (all.low + all.high + m.h);
    const double reach = std::max(winding.line_ - all.low + m.yc + m.ay, all.high - winding.line_ + m.h);
    const double wanted = std::max(kShortest * m.w, kPi * std::abs(halfTurns) * reach / kSteep);
    const double half = 0.5 * std::min(wanted, to - from);
    const double middle = 0.5 * (from + to);
    winding.from_ = middle - half;
    winding.to_ = middle + half;
    return winding;
}

}  // namespace loopmend
