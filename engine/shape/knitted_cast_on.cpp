// SPDX-License-Identifier: MIT
#include "shape/knitted_cast_on.h"

#include <algorithm>

namespace loopmend {

namespace {

/// A point of the template: in stitch widths, and in yarn thicknesses toward the side drawn to.
struct Mark {
    double x = 0;
    double y = 0;
    double z = 0;
};

/// Where the strands of a loop lie that stands so far beside the one before it.
class Band {
  public:
    /// behind: +1 where the loop before it stands to the right; far: how far, in stitch widths.
    Band(const Frame& frame, double behind, double far, double w)
        : frame_(frame),
          behind_(behind),
          w_(w),
          start_(Point2{-far, 0.15} - kUp * 0.12),
          middle_(far * kUp.y) {}

    /// From where it goes through the other one, with the strands and across them, away from the piece.
    Point2 point(double along, double across) const {
        const Point2 at = start_ + kUp * along + Point2{kUp.y, -kUp.x} * across;
        return frame_.point(-behind_ * at.x * w_, at.y * w_);
    }
    /// The middle of its own strands, across.
    double middle() const { return middle_; }

  private:
    static constexpr Point2 kUp{0.883, 0.469};  // it climbs 28 degrees

    Frame frame_;
    double behind_;
    double w_;
    Point2 start_;
    double middle_;
};

/// Round the leg of a loop that stands upright, by its frame. turned: the yarn comes from its other foot.
std::vector<Mark> roundLeg(bool first, bool turned) {
    if (first && turned) {
        return {{-0.55, -0.10, -1.2}, {-0.55, 0.20, -1.3}, {-0.28, 0.40, -1.3}, {0.00, 0.58, -1.0},
                {0.08, 0.76, -0.1},   {0.31, 0.84, 1.1},   {0.52, 0.88, 0.5}};
    }
    if (first) {
        return {{0.42, -0.10, -1.0}, {0.42, 0.12, -1.1}, {0.20, 0.36, -1.2}, {0.02, 0.54, -1.0},
                {0.06, 0.76, -0.1},  {0.31, 0.84, 1.1},  {0.52, 0.88, 0.5}};
    }
    return {{0.52, 0.31, -0.9}, {0.40, 0.38, -1.0}, {0.22, 0.47, -1.1},
            {0.14, 0.53, 0},    {0.25, 0.60, 1.1},  {0.46, 0.53, 0.5}};
}

/// Round the outer strand of a loop that leans, by the band. second: that one hangs round a leg, and there is
/// less room.
std::vector<Mark> roundStrand(bool first, bool second, double own) {
    if (!first) {
        return {{0.05, 0.80, -0.9},      {-0.28, 0.42, -1.0},    {-0.30, 0.135, -1.1},
                {-0.21, 0.04, 0},        {-0.11, 0.135, 1.1},    {-0.05, 0.5 * own + 0.1, 0.8},
                {0.12, own + 0.13, 0.3}, {0.62, own + 0.14, 0.1}};
    }
    std::vector<Mark> marks;
    if (second) {
        marks = {{-0.42, 0.22, -1.2}};
    } else {
        marks = {{-0.65, 0.30, -1.0}, {-0.46, 0.135, -1.2}};
    }
    const Mark on[] = {{-0.22, 0, -1.0},
                       {0.04, 0, -0.1},
                       {0.15, 0.135, 1.1},
                       {0.26, own - 0.19, 0.5},
                       {0.62, own - 0.17, 0.1}};
    marks.insert(marks.end(), std::begin(on), std::end(on));
    return marks;
}

}  // namespace

bool KnittedCastOn::goesOnBeside(LoopId loop) const {
    for (LinkId k = f_[loop].firstKid; k; k = f_[k].nextInHost) {
        if (bindings_.besideItsHost(f_[k].loop)) return true;
    }
    return false;
}

bool KnittedCastOn::standsUpright(LoopId loop) const {
    if (bindings_.besideItsHost(loop)) return false;
    for (LinkId l = f_[loop].firstLink; l; l = f_[l].nextInLoop) {
        if (!bindings_.of(l).chain) return true;
    }
    return false;
}

/// Where the band ends and the leg goes on upward; the inner one turns higher.
Point2 KnittedCastOn::leg(LoopId loop, double x) const {
    return layout_[loop].frame.point(x * m_.b, (x == behind(loop) ? 0.27 : 0.19) * m_.w);
}

std::vector<Point3> KnittedCastOn::throughBeside(LoopId loop, double x) const {
    const double e = behind(loop);
    const bool first = x == e;  // where the yarn comes in
    const LoopId host = f_[f_[loop].firstLink].host;
    const double toward = bindings_.of(f_[loop].firstLink).side * m_.yarn;
    const double far = (e > 0 ? layout_[loop].toRight : layout_[loop].toLeft) / m_.w;
    const Band band(layout_[loop].frame, e, std::clamp(far, 0.8, 1.3), m_.w);
    std::vector<Point3> p;
    p.reserve(9);
    if (standsUpright(host)) {
        Frame leg = layout_[host].frame;
        // Above the chain round its legs.
        if (bindings_.endsChain(host)) leg.at = leg.at + leg.up * (kChainRise * m_.h);
        for (const Mark& at : roundLeg(first, turnsBeside(loop)))
            p.push_back(leg.point(-e * at.x * m_.w, at.y * m_.w, at.z * toward));
        const Point2 on = band.point(0.72, band.middle() + (first ? -0.17 : 0.14));
        p.push_back({on.x, on.y, 0.1 * toward});
    } else {
        const LinkId below = f_[host].firstLink;
        const bool second = below && standsUpright(f_[below].host);
        for (const Mark& at : roundStrand(first, second, band.middle())) {
            const Point2 on = band.point(at.x, at.y);
            p.push_back({on.x, on.y, at.z * toward});
        }
    }
    const Point2 on = leg(loop, x);
    p.push_back({on.x, on.y, 0.15 * toward});
    return p;
}

std::vector<Point3> KnittedCastOn::firstLoop(LoopId loop, double x) const {
    const double e = behind(loop);
    const Band band(layout_[loop].frame, e, 1, m_.w);
    std::vector<Point2> at;
    if (x == e) {
        at = {band.point(0.62, band.middle() - 0.17)};
    } else {
        at = {band.point(0.14, band.middle() + 0.26), band.point(0.30, band.middle() + 0.14),
              band.point(0.62, band.middle() + 0.14)};
    }
    at.push_back(leg(loop, x));
    std::vector<Point3> p;
    p.reserve(at.size());
    for (const Point2& on : at) p.push_back({on.x, on.y, 0});
    return p;
}

}  // namespace loopmend
