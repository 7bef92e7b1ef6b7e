// SPDX-License-Identifier: MIT
#include "picture/ribbons.h"

#include <algorithm>
#include <cmath>

namespace loopmend {

namespace {

constexpr int kMostPieces = 10;     ///< into which one given piece of a curve is cut
constexpr double kTaper = 4.5;      ///< length of a needle's point, in its thickness
constexpr double kTipRadius = 0.2;  ///< of a needle's tip, in its radius

struct Sample {
    Point3 at;
    Point3 along;
    double arc = 0;
    double radius = 0;
    EntryId entry;
    Point2 open{1, 1};  ///< to the light, on the right side and on the wrong side
};

Point3 unit3(Point3 p, Point3 otherwise) {
    const double l = length(p);
    return l > 1e-12 ? p * (1 / l) : otherwise;
}

/// The curve through evenly spaced points (uniform Catmull-Rom: relaxed yarn is evenly cut).
struct Spline {
    const std::vector<PathPoint>& points;

    Point3 point(int i) const {
        const auto n = static_cast<int>(points.size());
        if (i < 0) return points[0].at * 2 - points[1].at;
        if (i >= n)
            return points[static_cast<std::size_t>(n) - 1].at * 2 -
                   points[static_cast<std::size_t>(n) - 2].at;
        return points[static_cast<std::size_t>(i)].at;
    }
    Point3 at(int i, double t) const {
        const Point3 a = point(i - 1), b = point(i), c = point(i + 1), d = point(i + 2);
        return (b * 2 + (c - a) * t + (a * 2 - b * 5 + c * 4 - d) * (t * t) +
                (b * 3 - a - c * 3 + d) * (t * t * t)) *
               0.5;
    }
    Point3 along(int i, double t) const {
        const Point3 a = point(i - 1), b = point(i), c = point(i + 1), d = point(i + 2);
        const Point3 v =
            (c - a) + (a * 2 - b * 5 + c * 4 - d) * (2 * t) + (b * 3 - a - c * 3 + d) * (3 * t * t);
        return unit3(v, unit3(c - b, {1, 0, 0}));
    }
};

/// Points on a strand, just close enough for the eye.
class Sampler {
  public:
    Sampler(const PathStrand& strand, double tolerance) : strand_(strand), tolerance_(tolerance) {}

    std::vector<Sample> run(double radius) {
        const auto n = static_cast<int>(strand_.points.size());
        const Spline spline{strand_.points};
        std::vector<double> bend(strand_.points.size(), 0);
        std::vector<double> arc(strand_.points.size(), 0);
        for (int i = 1; i < n; ++i) {
            const Point3 d = spline.point(i) - spline.point(i - 1);
            arc[index(i)] = arc[index(i - 1)] + length(d);
            if (i + 1 < n) {
                const double c =
                    dot(unit3(d, {1, 0, 0}), unit3(spline.point(i + 1) - spline.point(i), {1, 0, 0}));
                bend[index(i)] = std::acos(std::clamp(c, -1.0, 1.0));
            }
        }
        put(spline, 0, 0, 0, radius);
        for (int i = 0; i + 1 < n;) {
            // A chord over an arc of length s that turns by a leaves it by about s * a / 8.
            int to = i + 1;
            double turned = 0.5 * (bend[index(i)] + bend[index(to)]);
            while (to + 1 < n && entry(to) == entry(i)) {
                const double more = turned + 0.5 * (bend[index(to)] + bend[index(to + 1)]);
                if ((arc[index(to + 1)] - arc[index(i)]) * more / 8 > tolerance_) break;
                turned = more;
                ++to;
            }
            const double s = arc[index(to)] - arc[index(i)];
            if (to == i + 1) {
                const int pieces = std::clamp(
                    static_cast<int>(std::ceil(std::sqrt(s * turned / 8 / tolerance_))), 1, kMostPieces);
                for (int k = 1; k < pieces; ++k) {
                    const double t = static_cast<double>(k) / pieces;
                    put(spline, i, t, arc[index(i)] + t * s, radius);
                }
            }
            put(spline, to, 0, arc[index(to)], radius);
            i = to;
        }
        return std::move(samples_);
    }

  private:
    static std::size_t index(int i) { return static_cast<std::size_t>(i); }
    EntryId entry(int i) const { return strand_.points[index(i)].entry; }

    void put(const Spline& spline, int i, double t, double arc, double radius) {
        const auto last = static_cast<int>(strand_.points.size()) - 1;
        const Point3 along = i == last ? spline.along(last - 1, 1) : spline.along(i, t);
        samples_.push_back({i == last ? spline.point(last) : spline.at(i, t), along, arc, radius, entry(i)});
    }

    const PathStrand& strand_;
    double tolerance_;
    std::vector<Sample> samples_;
};

/// A needle's points: cut finely near the ends and made thin there.
void sharpen(std::vector<Sample>& samples, bool start, bool end) {
    const double total = samples.back().arc;
    const double reach = std::min(kTaper * 2 * samples.front().radius, 0.45 * total);
    if (reach <= 0) return;
    const auto cutAt = [&](double arc) {
        for (std::size_t i = 1; i < samples.size(); ++i) {
            if (samples[i].arc < arc + 1e-9) continue;
            const Sample& a = samples[i - 1];
            const Sample& b = samples[i];
            if (b.arc - arc < 1e-6 || arc - a.arc < 1e-6) return;
            const double t = (arc - a.arc) / (b.arc - a.arc);
            Sample s = a;
            s.at = mix(a.at, b.at, t);
            s.along = unit3(mix(a.along, b.along, t), a.along);
            s.arc = arc;
            samples.insert(samples.begin() + static_cast<std::ptrdiff_t>(i), s);
            return;
        }
    };
    constexpr int kCuts = 6;
    for (int k = 1; k <= kCuts; ++k) {
        if (start) cutAt(reach * k / kCuts);
        if (end) cutAt(total - reach * k / kCuts);
    }
    for (Sample& s : samples) {
        double share = 1;
        if (start) share = std::min(share, s.arc / reach);
        if (end) share = std::min(share, (total - s.arc) / reach);
        share = std::clamp(share, 0.0, 1.0);
        s.radius *= kTipRadius + (1 - kTipRadius) * std::sin(1.5707963 * share);
    }
}

/// Round ends.
void round(std::vector<Sample>& samples) {
    const auto cap = [](Sample s, double way, double share) {
        s.at = s.at + s.along * (way * s.radius * share);
        s.arc += way * s.radius * share;
        s.radius *= std::sqrt(std::max(0.0, 1 - share * share));
        return s;
    };
    const Sample first = samples.front();
    const Sample last = samples.back();
    for (const double share : {0.5, 0.85, 1.0}) {
        samples.insert(samples.begin(), cap(first, -1, share));
        samples.push_back(cap(last, 1, share));
    }
}

/// What lies over a point, on either side, found in a net of squares.
class Openness {
  public:
    Openness(double radius, const ClothBounds& bounds)
        : radius_(radius), cell_(kReach * radius), x0_(bounds.low.x), y0_(bounds.low.y) {
        const auto cells = [&](double length) {
            return std::clamp(static_cast<int>(length / cell_) + 1, 1, kMostCells);
        };
        columns_ = bounds.empty() ? 1 : cells(bounds.high.x - x0_);
        rows_ = bounds.empty() ? 1 : cells(bounds.high.y - y0_);
        first_.assign(static_cast<std::size_t>(columns_) * static_cast<std::size_t>(rows_) + 1, 0);
    }

    /// A bit of yarn of so many mm.
    void add(Point3 at, double span) {
        loose_.push_back({static_cast<float>(at.x), static_cast<float>(at.y), static_cast<float>(at.z),
                          static_cast<float>(0.5 * span / radius_)});
    }
    /// When all are added: puts them in order, so that what lies together stands together.
    void sort() {
        const auto cellOf = [&](const Bit& b) { return cell(column(b.x), row(b.y)); };
        for (const Bit& b : loose_) ++first_[cellOf(b) + 1];
        for (std::size_t i = 1; i < first_.size(); ++i) first_[i] += first_[i - 1];
        bits_.resize(loose_.size());
        std::vector<std::uint32_t> next(first_.begin(), first_.end() - 1);
        for (const Bit& b : loose_) bits_[next[cellOf(b)]++] = b;
    }
    /// 0 to 1 on the right side and on the wrong side.
    Point2 of(Point3 at) const {
        const auto x = static_cast<float>(at.x);
        const auto y = static_cast<float>(at.y);
        const auto z = static_cast<float>(at.z);
        const auto perRadius = static_cast<float>(1 / radius_);
        float over = 0;
        float under = 0;
        const int c = column(at.x);
        const int r = row(at.y);
        const int c0 = std::max(0, c - 1);
        const int c1 = std::min(columns_ - 1, c + 1);
        for (int k = std::max(0, r - 1); k <= std::min(rows_ - 1, r + 1); ++k) {
            // The squares of one row stand together.
            const std::uint32_t end = first_[cell(c1, k) + 1];
            for (std::uint32_t i = first_[cell(c0, k)]; i < end; ++i) {
                const Bit& b = bits_[i];
                const float dx = (b.x - x) * perRadius;
                const float dy = (b.y - y) * perRadius;
                const float dz = (b.z - z) * perRadius;
                // About exp(-0.22 r^2), and 0 at the reach.
                const float fade = std::max(0.0F, 1 - (dx * dx + dy * dy) * kPerReach2);
                const float weight = fade * fade * b.weight;
                over += weight * std::min(1.0F, std::max(0.0F, 0.6F * (dz - 0.1F)));
                under += weight * std::min(1.0F, std::max(0.0F, 0.6F * (-dz - 0.1F)));
            }
        }
        return {1 / (1 + 0.9 * static_cast<double>(over)), 1 / (1 + 0.9 * static_cast<double>(under))};
    }

  private:
    static constexpr double kReach = 3.2;  ///< in yarn radii
    static constexpr float kPerReach2 = static_cast<float>(1 / (kReach * kReach));
    static constexpr int kMostCells = 2000;
    struct Bit {
        float x, y, z;
        float weight;  ///< of its length
    };
    int column(double x) const { return std::clamp(static_cast<int>((x - x0_) / cell_), 0, columns_ - 1); }
    int row(double y) const { return std::clamp(static_cast<int>((y - y0_) / cell_), 0, rows_ - 1); }
    std::size_t cell(int i, int k) const {
        return static_cast<std::size_t>(k) * static_cast<std::size_t>(columns_) + static_cast<std::size_t>(i);
    }

    double radius_;
    double cell_;
    double x0_;
    double y0_;
    int columns_ = 1;
    int rows_ = 1;
    std::vector<std::uint32_t> first_;  ///< by square: its first bit
    std::vector<Bit> loose_;
    std::vector<Bit> bits_;
};

/// It changes slowly along the yarn: every other point is asked for, those between lie in the middle.
void open(std::vector<Sample>& samples, const Openness& openness) {
    const std::size_t n = samples.size();
    for (std::size_t i = 0; i < n; i += 2) samples[i].open = openness.of(samples[i].at);
    if (n % 2 == 0) samples[n - 1].open = openness.of(samples[n - 1].at);
    for (std::size_t i = 1; i + 1 < n; i += 2)
        samples[i].open = mix(samples[i - 1].open, samples[i + 1].open, 0.5);
}

Material materialOf(const Fabric& fabric, ToolId tool) {
    if (tool.value >= fabric.toolCount()) return Material::wood;
    switch (fabric[tool].kind) {
        case ToolKind::needle:
        case ToolKind::spareNeedle: return Material::wood;
        case ToolKind::holder:
        case ToolKind::pin:
        case ToolKind::hook: return Material::metal;
        case ToolKind::lifeline: return Material::thread;
    }
    return Material::wood;
}

std::uint8_t colourOf(const Fabric& fabric, YarnId yarn) {
    if (yarn.value >= fabric.yarnCount()) return 0;
    return static_cast<std::uint8_t>(std::clamp(fabric[yarn].flags.colour - 'A', 0, 25));
}

std::uint8_t byteOf(double share) {
    return static_cast<std::uint8_t>(std::lround(255 * std::clamp(share, 0.0, 1.0)));
}

RibbonVertex vertexOf(const Sample& s, Material material, std::uint8_t colour) {
    RibbonVertex v;
    v.at[0] = static_cast<float>(s.at.x);
    v.at[1] = static_cast<float>(s.at.y);
    v.at[2] = static_cast<float>(s.at.z);
    v.along[0] = static_cast<float>(s.along.x);
    v.along[1] = static_cast<float>(s.along.y);
    v.along[2] = static_cast<float>(s.along.z);
    v.radius = static_cast<float>(s.radius);
    v.arc = static_cast<float>(s.arc);
    v.entry = material == Material::yarn ? s.entry.value : -1;
    v.colour = colour;
    v.material = material;
    v.lightRight = byteOf(s.open.x);
    v.lightWrong = byteOf(s.open.y);
    return v;
}

/// Where the yarn turns by more than a right angle within about its own thickness, or stands on end.
std::vector<std::size_t> sharpBends(const std::vector<Sample>& samples) {
    std::vector<std::size_t> bends;
    std::size_t before = 0;
    std::size_t after = 0;
    double last = -1e300;
    for (std::size_t i = 0; i < samples.size(); ++i) {
        const double r = samples[i].radius;
        const double reach = 1.3 * r;
        while (samples[i].arc - samples[before].arc > reach) ++before;
        while (after + 1 < samples.size() && samples[after].arc - samples[i].arc < reach) ++after;
        const bool turned = dot(samples[before].along, samples[after].along) < 0.1;
        const bool onEnd = std::abs(samples[i].along.z) > 0.8;
        if ((!turned && !onEnd) || samples[i].arc - last < 0.5 * r) continue;
        bends.push_back(i);
        last = samples[i].arc;
    }
    return bends;
}

void addKnuckles(RibbonMesh& mesh, const std::vector<Sample>& samples, std::uint8_t colour) {
    for (const std::size_t i : sharpBends(samples)) {
        const auto a = static_cast<std::uint32_t>(mesh.vertices.size());
        RibbonVertex v = vertexOf(samples[i], Material::yarn, colour);
        for (const std::int8_t end : {std::int8_t{-1}, std::int8_t{1}}) {
            for (const std::int8_t edge : {std::int8_t{-1}, std::int8_t{1}}) {
                v.end = end;
                v.edge = edge;
                mesh.vertices.push_back(v);
            }
        }
        mesh.knuckles.insert(mesh.knuckles.end(), {a, a + 1, a + 2, a + 1, a + 3, a + 2});
    }
}

void addRibbon(RibbonMesh& mesh, const std::vector<Sample>& samples, Material material, std::uint8_t colour) {
    const auto base = static_cast<std::uint32_t>(mesh.vertices.size());
    for (const Sample& s : samples) {
        RibbonVertex v = vertexOf(s, material, colour);
        v.edge = -1;
        mesh.vertices.push_back(v);
        v.edge = 1;
        mesh.vertices.push_back(v);
        mesh.bounds.add(s.at, s.radius);
    }
    for (std::size_t i = 0; i + 1 < samples.size(); ++i) {
        const std::uint32_t a = base + 2 * static_cast<std::uint32_t>(i);
        const auto first = static_cast<std::uint32_t>(mesh.indices.size());
        mesh.indices.insert(mesh.indices.end(), {a, a + 1, a + 2, a + 1, a + 3, a + 2});
        const EntryId entry = material == Material::yarn ? samples[i].entry : EntryId{};
        if (mesh.stretches.empty() || i == 0 || mesh.stretches.back().entry != entry)
            mesh.stretches.push_back({entry, first, 0});
        mesh.stretches.back().indexCount += 6;
    }
}

}  // namespace

RibbonMesh ribbonsOf(const Path& path, const Fabric& fabric, const RibbonOptions& options) {
    const double tolerance = options.finest / std::max(1e-6, options.pixelsPerMm);
    Openness openness(0.5 * path.gauge.yarnMm, options.openness ? boundsOf(path) : ClothBounds{});
    struct Ribbon {
        std::vector<Sample> samples;
        Material material = Material::yarn;
        std::uint8_t colour = 0;
    };
    std::vector<Ribbon> ribbons;
    for (const PathStrand& strand : path.strands) {
        if (strand.points.size() < 2) continue;
        Ribbon r;
        r.material = strand.tool ? materialOf(fabric, strand.tool) : Material::yarn;
        r.colour = strand.tool ? std::uint8_t{0} : colourOf(fabric, strand.yarn);
        const double radius = 0.5 * strand.mm * (r.material == Material::thread ? 0.6 : 1.0);
        r.samples = Sampler(strand, tolerance).run(radius);
        if (strand.tool) sharpen(r.samples, strand.pointedStart, strand.pointedEnd);
        if (options.openness) {
            for (std::size_t i = 0; i + 1 < r.samples.size(); ++i) {
                const Sample& a = r.samples[i];
                const Sample& b = r.samples[i + 1];
                const double span = b.arc - a.arc;
                const int parts = std::clamp(static_cast<int>(std::ceil(span / (2 * radius))), 1, 400);
                for (int k = 0; k < parts; ++k)
                    openness.add(mix(a.at, b.at, (k + 0.5) / parts), span / parts);
            }
        }
        round(r.samples);
        ribbons.push_back(std::move(r));
    }
    openness.sort();
    RibbonMesh mesh;
    for (Ribbon& r : ribbons) {
        if (options.openness) open(r.samples, openness);
        addRibbon(mesh, r.samples, r.material, r.colour);
    }
    for (const Ribbon& r : ribbons) {
        if (r.material == Material::yarn) addKnuckles(mesh, r.samples, r.colour);
    }
    return mesh;
}

double ribbonDetail(double pixelsPerMm) {
    return std::exp2(std::ceil(std::log2(std::clamp(pixelsPerMm, 0.5, 200.0)) * 2) / 2);
}

}  // namespace loopmend
