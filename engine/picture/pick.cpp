// SPDX-License-Identifier: MIT
#include "picture/pick.h"

#include <algorithm>
#include <cmath>

namespace loopmend {

namespace {

constexpr double kCell = 24;  ///< pixels
constexpr int kMostCells = 400;

}  // namespace

Picker::Picker(const Path& path, const Fabric& fabric, const View& view) : view_(view) {
    kind_.assign(static_cast<std::size_t>(fabric.entryCount()), 0);
    for (std::int32_t e = 0; e < fabric.entryCount(); ++e) {
        const EntryId id{e};
        if (!fabric.has(id) || fabric.isLoop(id)) continue;
        kind_[static_cast<std::size_t>(e)] = fabric.isFree(id) ? 2 : 1;
    }
    const ViewAxes axes = view.axes();
    const auto seen = [&](Point3 p) { return axes.seen(p - Point3{view.centre.x, view.centre.y, 0}); };
    for (const PathStrand& strand : path.strands) {
        const std::size_t n = strand.points.size();
        if (n < 2) continue;
        for (std::size_t i = 0; i + 1 < n; ++i) {
            const EntryId entry = strand.tool ? EntryId{} : strand.points[i].entry;
            if (i == 0 || stretches_.back().entry != entry) {
                Stretch s;
                s.entry = entry;
                s.tool = strand.tool;
                s.first = static_cast<std::int32_t>(bits_.size());
                s.yarnMm = strand.mm;
                stretches_.push_back(s);
            }
            Stretch& s = stretches_.back();
            const Point3 a = seen(strand.points[i].at);
            const Point3 b = seen(strand.points[i + 1].at);
            Bit bit;
            bit.a = {0.5 * view.width + a.x * view.pixelsPerMm, 0.5 * view.height - a.y * view.pixelsPerMm};
            bit.b = {0.5 * view.width + b.x * view.pixelsPerMm, 0.5 * view.height - b.y * view.pixelsPerMm};
            bit.depthA = static_cast<float>(a.z);
            bit.depthB = static_cast<float>(b.z);
            bit.radiusMm = static_cast<float>(0.5 * strand.mm);
            bit.radius = static_cast<float>(0.5 * strand.mm * view.pixelsPerMm);
            bit.along = static_cast<float>(s.length);
            bit.length = static_cast<float>(loopmend::length(strand.points[i + 1].at - strand.points[i].at));
            bit.stretch = static_cast<std::int32_t>(stretches_.size()) - 1;
            s.length += bit.length;
            ++s.count;
            bits_.push_back(bit);
        }
    }
    for (std::size_t k = 0; k < stretches_.size(); ++k) {
        Stretch& s = stretches_[k];
        if (s.entry) {
            const auto e = static_cast<std::size_t>(s.entry.value);
            if (ofEntry_.size() <= e) ofEntry_.resize(e + 1);
            ofEntry_[e].push_back(static_cast<std::int32_t>(k));
        }
        double early = 0;
        double late = 0;
        for (std::int32_t i = s.first; i < s.first + s.count; ++i) {
            const Bit& bit = bits_[static_cast<std::size_t>(i)];
            const double way = bit.length * 0.5 * (bit.a.x + bit.b.x);
            (bit.along + 0.5 * bit.length < 0.5 * s.length ? early : late) += way;
        }
        s.firstLegIsLeft = early <= late;
    }
    double x1 = -1e300;
    double y1 = -1e300;
    x0_ = 1e300;
    y0_ = 1e300;
    for (const Bit& bit : bits_) {
        x0_ = std::min({x0_, bit.a.x, bit.b.x});
        y0_ = std::min({y0_, bit.a.y, bit.b.y});
        x1 = std::max({x1, bit.a.x, bit.b.x});
        y1 = std::max({y1, bit.a.y, bit.b.y});
    }
    // What is far outside the picture is never pointed at.
    const double margin = 200;
    x0_ = std::max(x0_, -margin);
    y0_ = std::max(y0_, -margin);
    x1 = std::min(x1, view.width + margin);
    y1 = std::min(y1, view.height + margin);
    columns_ = std::clamp(static_cast<int>((x1 - x0_) / kCell) + 1, 1, kMostCells);
    rows_ = std::clamp(static_cast<int>((y1 - y0_) / kCell) + 1, 1, kMostCells);
    cells_.resize(static_cast<std::size_t>(columns_) * static_cast<std::size_t>(rows_));
    const auto column = [&](double x) {
        return static_cast<int>(std::floor(std::clamp((x - x0_) / kCell, -2.0, 1e4)));
    };
    const auto row = [&](double y) {
        return static_cast<int>(std::floor(std::clamp((y - y0_) / kCell, -2.0, 1e4)));
    };
    for (std::size_t b = 0; b < bits_.size(); ++b) {
        const Bit& bit = bits_[b];
        const int c0 = std::max(0, column(std::min(bit.a.x, bit.b.x)));
        const int c1 = std::min(columns_ - 1, column(std::max(bit.a.x, bit.b.x)));
        const int r0 = std::max(0, row(std::min(bit.a.y, bit.b.y)));
        const int r1 = std::min(rows_ - 1, row(std::max(bit.a.y, bit.b.y)));
        for (int r = r0; r <= r1; ++r) {
            for (int c = c0; c <= c1; ++c) cells_[cell(c, r)].push_back(static_cast<std::int32_t>(b));
        }
    }
}

std::size_t Picker::cell(int i, int k) const {
    return static_cast<std::size_t>(k) * static_cast<std::size_t>(columns_) + static_cast<std::size_t>(i);
}

template <class Visit>
void Picker::near(PixelPoint p, double reach, Visit visit) const {
    const auto bound = [](double v, int n) {
        return static_cast<int>(std::clamp(std::floor(v), -1.0, static_cast<double>(n)));
    };
    const int c0 = std::max(0, bound((p.x - reach - x0_) / kCell, columns_));
    const int c1 = std::min(columns_ - 1, bound((p.x + reach - x0_) / kCell, columns_));
    const int r0 = std::max(0, bound((p.y - reach - y0_) / kCell, rows_));
    const int r1 = std::min(rows_ - 1, bound((p.y + reach - y0_) / kCell, rows_));
    for (int r = r0; r <= r1; ++r) {
        for (int c = c0; c <= c1; ++c) {
            for (const std::int32_t b : cells_[cell(c, r)]) visit(bits_[static_cast<std::size_t>(b)]);
        }
    }
}

Picker::Nearest Picker::nearest(const Bit& bit, PixelPoint p) {
    const double dx = bit.b.x - bit.a.x;
    const double dy = bit.b.y - bit.a.y;
    const double l2 = dx * dx + dy * dy;
    const double t =
        l2 > 1e-12 ? std::clamp(((p.x - bit.a.x) * dx + (p.y - bit.a.y) * dy) / l2, 0.0, 1.0) : 0.5;
    return {std::hypot(bit.a.x + t * dx - p.x, bit.a.y + t * dy - p.y), t};
}

YarnPart Picker::partOf(const Stretch& stretch, double along) const {
    if (!stretch.entry) return YarnPart::tool;
    const auto e = static_cast<std::size_t>(stretch.entry.value);
    const int kind = e < kind_.size() ? kind_[e] : 0;
    if (kind != 0) return kind == 2 ? YarnPart::rung : YarnPart::strand;
    // Foot and head of a loop are as long as yarn is thick, its legs as long as it is tall.
    const double foot = std::min(2.0 * stretch.yarnMm, 0.15 * stretch.length);
    const double head = std::min(2.4 * stretch.yarnMm, 0.15 * stretch.length);
    if (along < foot || along > stretch.length - foot) return YarnPart::foot;
    if (std::abs(along - 0.5 * stretch.length) < head) return YarnPart::head;
    return (along < 0.5 * stretch.length) == stretch.firstLegIsLeft ? YarnPart::leftLeg : YarnPart::rightLeg;
}

std::optional<Picked> Picker::at(PixelPoint pixel, double snapPixels, bool tools) const {
    // On the yarn beats beside it; on it the foremost, beside it the nearest.
    const Bit* best = nullptr;
    Nearest bestAt;
    double bestGap = snapPixels;
    double bestDepth = 0;
    double thickest = 0;
    for (const Stretch& s : stretches_) thickest = std::max(thickest, 0.5 * s.yarnMm * view_.pixelsPerMm);
    near(pixel, snapPixels + thickest, [&](const Bit& bit) {
        if (!tools && !stretches_[static_cast<std::size_t>(bit.stretch)].entry) return;
        const Nearest n = nearest(bit, pixel);
        const double gap = std::max(0.0, n.distance - bit.radius);
        if (gap > snapPixels) return;
        const double u = std::min(1.0, n.distance / std::max(1e-6f, bit.radius));
        const double depth =
            bit.depthA + n.t * (bit.depthB - bit.depthA) + bit.radiusMm * std::sqrt(1 - u * u);
        const bool better = best == nullptr || (gap > 0 || bestGap > 0 ? gap < bestGap : depth > bestDepth);
        if (!better) return;
        best = &bit;
        bestAt = n;
        bestGap = gap;
        bestDepth = depth;
    });
    if (best == nullptr) return std::nullopt;
    const Stretch& s = stretches_[static_cast<std::size_t>(best->stretch)];
    Picked picked;
    picked.entry = s.entry;
    picked.tool = s.tool;
    picked.part = partOf(s, best->along + bestAt.t * best->length);
    picked.along = s.length > 0 ? (best->along + bestAt.t * best->length) / s.length : 0;
    picked.distance = bestGap;
    picked.depth = bestDepth;
    return picked;
}

std::optional<DrawnPlace> Picker::whereIs(EntryId entry) const {
    const auto e = static_cast<std::size_t>(entry.value);
    if (!entry || e >= ofEntry_.size() || ofEntry_[e].empty()) return std::nullopt;
    DrawnPlace place;
    place.low = {1e300, 1e300};
    place.high = {-1e300, -1e300};
    struct Candidate {
        double fromMiddle;
        PixelPoint at;
    };
    std::vector<Candidate> candidates;
    for (const std::int32_t k : ofEntry_[e]) {
        const Stretch& s = stretches_[static_cast<std::size_t>(k)];
        for (std::int32_t i = s.first; i < s.first + s.count; ++i) {
            const Bit& bit = bits_[static_cast<std::size_t>(i)];
            for (const PixelPoint p : {bit.a, bit.b}) {
                place.low = {std::min(place.low.x, p.x - bit.radius),
                             std::min(place.low.y, p.y - bit.radius)};
                place.high = {std::max(place.high.x, p.x + bit.radius),
                              std::max(place.high.y, p.y + bit.radius)};
            }
            const PixelPoint middle{0.5 * (bit.a.x + bit.b.x), 0.5 * (bit.a.y + bit.b.y)};
            const double along = bit.along + 0.5 * bit.length;
            candidates.push_back({std::abs(along - 0.5 * s.length) + (s.length < 1e-9 ? 1e6 : 0), middle});
        }
    }
    std::stable_sort(candidates.begin(), candidates.end(),
                     [](const Candidate& a, const Candidate& b) { return a.fromMiddle < b.fromMiddle; });
    place.at = candidates.front().at;
    for (const Candidate& c : candidates) {
        const auto picked = at(c.at, 0);
        if (!picked || picked->entry != entry) continue;
        place.at = c.at;
        place.visible = true;
        break;
    }
    return place;
}

std::optional<DrawnPlace> Picker::whereIs(ToolId tool) const {
    for (const Stretch& s : stretches_) {
        if (s.entry || s.tool != tool) continue;
        DrawnPlace place;
        place.low = {1e300, 1e300};
        place.high = {-1e300, -1e300};
        for (std::int32_t i = s.first; i < s.first + s.count; ++i) {
            const Bit& bit = bits_[static_cast<std::size_t>(i)];
            place.low = {std::min({place.low.x, bit.a.x - bit.radius, bit.b.x - bit.radius}),
                         std::min({place.low.y, bit.a.y - bit.radius, bit.b.y - bit.radius})};
            place.high = {std::max({place.high.x, bit.a.x + bit.radius, bit.b.x + bit.radius}),
                          std::max({place.high.y, bit.a.y + bit.radius, bit.b.y + bit.radius})};
        }
        for (std::int32_t k = 0; k < s.count; ++k) {
            // From the middle outward.
            const std::int32_t i = s.first + s.count / 2 + (k % 2 == 0 ? k / 2 : -(k + 1) / 2);
            if (i < s.first || i >= s.first + s.count) continue;
            const Bit& bit = bits_[static_cast<std::size_t>(i)];
            const PixelPoint middle{0.5 * (bit.a.x + bit.b.x), 0.5 * (bit.a.y + bit.b.y)};
            if (k == 0) place.at = middle;
            const auto picked = at(middle, 0);
            if (!picked || picked->entry || picked->tool != tool) continue;
            place.at = middle;
            place.visible = true;
            break;
        }
        return place;
    }
    return std::nullopt;
}

}  // namespace loopmend
