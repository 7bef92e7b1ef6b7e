// SPDX-License-Identifier: MIT
#include "picture/telling.h"

#include <algorithm>
#include <cmath>

namespace loopmend {

namespace {

/// The eye does not see smaller things than this, pixels; and a difference of lightness must be so large.
constexpr double kBlurPixels = 1.2;
constexpr float kSeenStep = 0.16F;
/// A place found so many pixels aside is the same place.
constexpr int kAside = 3;
/// Looked at to each side, in widths of a stitch.
constexpr double kAround = 1.6;
constexpr double kDegree = 3.14159265358979323846 / 180;

struct Spot {
    float depth = -1e9F;
    Point3 normal;
};

class Eye {
  public:
    Eye(const View& view, Point2 about, double half, double lightDegrees)
        : view_(view), low_(std::sin(lightDegrees * kDegree)) {
        view_.centre = about;
        size_ = std::max(4, static_cast<int>(std::lround(2 * half * view.pixelsPerMm)));
        view_ = view_.sized(size_, size_);
        spots_.resize(static_cast<std::size_t>(size_) * static_cast<std::size_t>(size_));
        const double flat = std::cos(lightDegrees * kDegree) * std::sqrt(0.5);
        light_ = {-flat, flat, low_};
        const int reach = std::max(2, size_ / 12);
        for (int step = 0; step < 3 * reach; ++step)
            aside_.push_back(static_cast<int>(std::lround(step * std::sqrt(0.5))));
    }

    Glimpse look(const Path& path) {
        for (const PathStrand& strand : path.strands) {
            if (strand.tool) continue;
            for (std::size_t i = 0; i + 1 < strand.points.size(); ++i)
                put(strand.points[i].at, strand.points[i + 1].at, 0.5 * strand.mm);
        }
        for (const Spot& spot : spots_) highest_ = std::max(highest_, spot.depth);
        Glimpse glimpse;
        glimpse.width = glimpse.height = size_;
        glimpse.light.resize(spots_.size());
        for (int y = 0; y < size_; ++y) {
            for (int x = 0; x < size_; ++x) glimpse.light[index(x, y)] = shade(x, y);
        }
        blur(glimpse);
        return glimpse;
    }

  private:
    std::size_t index(int x, int y) const {
        return static_cast<std::size_t>(y) * static_cast<std::size_t>(size_) + static_cast<std::size_t>(x);
    }

    void put(Point3 from, Point3 to, double radiusMm) {
        const SeenPoint a = view_.seen(from);
        const SeenPoint b = view_.seen(to);
        const double r = radiusMm * view_.pixelsPerMm;
        const int x0 = std::max(0, static_cast<int>(std::floor(std::min(a.at.x, b.at.x) - r)));
        const int x1 = std::min(size_ - 1, static_cast<int>(std::ceil(std::max(a.at.x, b.at.x) + r)));
        const int y0 = std::max(0, static_cast<int>(std::floor(std::min(a.at.y, b.at.y) - r)));
        const int y1 = std::min(size_ - 1, static_cast<int>(std::ceil(std::max(a.at.y, b.at.y) + r)));
        const Point2 way{b.at.x - a.at.x, b.at.y - a.at.y};
        const double long2 = std::max(1e-9, dot(way, way));
        for (int y = y0; y <= y1; ++y) {
            for (int x = x0; x <= x1; ++x) {
                const Point2 p{x + 0.5 - a.at.x, y + 0.5 - a.at.y};
                const double t = std::clamp(dot(p, way) / long2, 0.0, 1.0);
                const Point2 off = p - way * t;
                const double d = length(off);
                if (d >= r) continue;
                const double up = std::sqrt(1 - (d / r) * (d / r));
                const auto depth =
                    static_cast<float>(a.depth + (b.depth - a.depth) * t + up * r / view_.pixelsPerMm);
                Spot& spot = spots_[index(x, y)];
                if (depth <= spot.depth) continue;
                spot.depth = depth;
                spot.normal = {off.x / r, -off.y / r, up};
            }
        }
    }

    float shade(int x, int y) const {
        const Spot& spot = spots_[index(x, y)];
        if (spot.depth < -1e8F) return 0.86F;  // the ground
        double lit = std::max(0.0, dot(spot.normal, light_));
        if (lit > 0 && inShadow(x, y)) lit *= 0.25;
        return static_cast<float>(std::min(1.0, 0.16 + 0.84 * lit));
    }

    /// Other yarn stands between here and the light.
    bool inShadow(int x, int y) const {
        const double rise = low_ / std::sqrt(std::max(1e-9, 1 - low_ * low_)) / view_.pixelsPerMm;
        const float here = spots_[index(x, y)].depth;
        for (std::size_t step = 2; step < aside_.size(); ++step) {
            const int px = x - aside_[step];
            const int py = y - aside_[step];
            if (px < 0 || py < 0) return false;
            const float ray = here + static_cast<float>(static_cast<double>(step) * rise) + 0.1F;
            if (ray >= highest_) return false;  // above all yarn from here on
            if (spots_[index(px, py)].depth > ray) return true;
        }
        return false;
    }

    void blur(Glimpse& glimpse) const {
        const int reach = static_cast<int>(std::ceil(2 * kBlurPixels));
        std::vector<float> weights;
        float sum = 0;
        for (int i = -reach; i <= reach; ++i) {
            weights.push_back(static_cast<float>(std::exp(-0.5 * i * i / (kBlurPixels * kBlurPixels))));
            sum += weights.back();
        }
        for (const bool across : {true, false}) {
            const std::vector<float> before = glimpse.light;
            for (int y = 0; y < size_; ++y) {
                for (int x = 0; x < size_; ++x) {
                    float value = 0;
                    for (int i = -reach; i <= reach; ++i) {
                        const int px = std::clamp(across ? x + i : x, 0, size_ - 1);
                        const int py = std::clamp(across ? y : y + i, 0, size_ - 1);
                        value += weights[static_cast<std::size_t>(i + reach)] * before[index(px, py)];
                    }
                    glimpse.light[index(x, y)] = value / sum;
                }
            }
        }
    }

    View view_;
    double low_;
    Point3 light_;
    int size_ = 0;
    std::vector<Spot> spots_;
    float highest_ = -1e9F;
    std::vector<int> aside_;  ///< pixels to the left, and up, of each step toward the light
};

double differing(const Glimpse& a, const Glimpse& b, int dx, int dy) {
    int n = 0;
    for (int y = kAside; y < a.height - kAside; ++y) {
        for (int x = kAside; x < a.width - kAside; ++x) {
            n += std::abs(a.at(x, y) - b.at(x + dx, y + dy)) > kSeenStep ? 1 : 0;
        }
    }
    return n;
}

/// What the hands have to do for it.
int steps(const WayOfLooking& way) {
    return (way.nearer > 2   ? 2
            : way.nearer > 1 ? 1
                             : 0) +
           (way.slant ? 1 : 0) + (way.pull > 1 ? 1 : 0) + (way.otherSide ? 2 : 0);
}

}  // namespace

Glimpse glimpseOf(const Path& path, Point2 about, const View& view, double stitches, double lightDegrees) {
    return Eye(view, about, stitches * path.gauge.stitchMm, lightDegrees).look(path);
}

double toldApart(const Glimpse& a, const Glimpse& b) {
    if (a.width != b.width || a.height != b.height) return a.width * static_cast<double>(a.height);
    double least = 1e300;
    for (int dy = -kAside; dy <= kAside; ++dy) {
        for (int dx = -kAside; dx <= kAside; ++dx) least = std::min(least, differing(a, b, dx, dy));
    }
    return least;
}

std::vector<WayOfLooking> waysOfLooking() {
    // Coming nearer costs a knitter least, then the lamp, then a pull; turning the work over shows another
    // cloth.
    std::vector<WayOfLooking> ways;
    for (const bool otherSide : {false, true}) {
        for (const double nearer : {1.0, 1.8, 3.0}) {
            for (const bool slant : {false, true}) {
                for (const double pull : {1.0, kGentlePull})
                    ways.push_back({otherSide, nearer, pull, slant, 0});
            }
        }
    }
    std::stable_sort(ways.begin(), ways.end(),
                     [](const WayOfLooking& a, const WayOfLooking& b) { return steps(a) < steps(b); });
    return ways;
}

double toldApart(const Likeness& seen, const Likeness& other, const View& held, const WayOfLooking& way) {
    View view = way.otherSide ? held.turnedOver() : held;
    view.pixelsPerMm *= way.nearer;
    view.pull *= way.pull;
    const double light = way.slant ? kSlantingLight : kOrdinaryLight;
    return toldApart(glimpseOf(*seen.path, seen.at, view, kAround, light),
                     glimpseOf(*other.path, other.at, view, kAround, light));
}

WayOfLooking betterView(const Likeness& seen, const Likeness& other, const View& held) {
    WayOfLooking best;
    for (WayOfLooking way : waysOfLooking()) {
        way.told = toldApart(seen, other, held, way);
        if (way.plain()) return way;
        if (way.told > best.told) best = way;
    }
    return best;
}

}  // namespace loopmend
