// SPDX-License-Identifier: MIT
#include "shape/layout_springs.h"

#include <algorithm>
#include <cmath>

namespace loopmend {

namespace {

/// A row that climbs so much longer than it is drawn at rest has short rows beside it.
constexpr double kSteep = 1.7;
constexpr double kAbove = 0.75;
/// A stitch stands at least so high above what it stands on, in rows.
constexpr double kFolded = 0.5;
constexpr double kAside = 0.9;

}  // namespace

/// Short rows make rows climb (a heel): drawn in at once, columns would fold over.
bool LayoutSprings::isSteep(const std::vector<Point2>& p) const {
    const std::vector<double> now = lengths(p);
    // What is bound off or cast on through its neighbour climbs with it.
    const auto chained = [&](EntryId loop, EntryId host) {
        for (LinkId l = f_.isLoop(loop) ? f_[loop].firstLink : LinkId{}; l; l = f_[l].nextInLoop) {
            if (f_[l].host == host) return true;
        }
        return false;
    };
    for (std::size_t k = 0; k < now.size(); ++k) {
        const EntryId a{rowSprings_[k].a};
        const EntryId b{rowSprings_[k].b};
        if (now[k] > kSteep * rowSprings_[k].rest && !chained(a, b) && !chained(b, a)) return true;
    }
    return false;
}

/// Somewhere a stitch came to lie beside what it stands on, or under it.
bool LayoutSprings::isFolded(const std::vector<Point2>& p) const {
    return std::any_of(standing_.begin(), standing_.end(), [&](const Bend& s) {
        const auto host = static_cast<std::size_t>(s.b);
        const Point2 rise = p[static_cast<std::size_t>(s.a)] - p[host];
        return dot(rise, out_.nodes[host].frame.up) < kFolded * out_.gauge.rowMm;
    });
}

std::vector<double> LayoutSprings::lengths(const std::vector<Point2>& p) const {
    std::vector<double> all;
    for (const Spring& s : rowSprings_)
        all.push_back(length(p[static_cast<std::size_t>(s.b)] - p[static_cast<std::size_t>(s.a)]));
    return all;
}

/// What stands higher in the middle is let down by half of it, columns whole, so that the piece bows as
/// much down as up.
void LayoutSprings::bow(std::vector<Point2>& p) const {
    double right = 1e300;
    double left = -1e300;
    for (std::size_t i = 0; i < p.size(); ++i) {
        if (!out_.nodes[i].placed) continue;
        right = std::min(right, p[i].x);
        left = std::max(left, p[i].x);
    }
    if (right > left) return;
    std::vector<double> top(static_cast<std::size_t>((left - right) / out_.gauge.stitchMm) + 2, -1e300);
    const auto place = [&](Point2 at) { return (at.x - right) / out_.gauge.stitchMm; };
    for (std::size_t i = 0; i < p.size(); ++i) {
        if (!out_.nodes[i].placed) continue;
        double& t = top[static_cast<std::size_t>(std::lround(place(p[i])))];
        t = std::max(t, p[i].y);
    }
    for (std::size_t k = 1; k < top.size(); ++k) top[k] = top[k] < -1e299 ? top[k - 1] : top[k];
    const double lowest = *std::min_element(top.begin(), top.end());
    for (std::size_t i = 0; i < p.size(); ++i) {
        if (!out_.nodes[i].placed || kept_[i]) continue;
        const double at = place(p[i]);
        const auto k = std::min(static_cast<std::size_t>(at), top.size() - 2);
        const double t = at - static_cast<double>(k);
        p[i].y -= 0.5 * (top[k] * (1 - t) + top[k + 1] * t - lowest);
    }
}

/// What stands above stays above, what stands beside stays beside, as the section was begun.
void LayoutSprings::keepOrder(std::vector<Point2>& p) const {
    const auto part = [&](Point2& a, Point2& b, Point2 way, double least) {
        const double lacks = least - dot(a - b, way);
        if (lacks <= 0) return;
        a = a + way * (0.5 * lacks);
        b = b - way * (0.5 * lacks);
    };
    for (const Bend& s : standing_) {
        const auto host = static_cast<std::size_t>(s.b);
        part(p[static_cast<std::size_t>(s.a)], p[host], out_.nodes[host].frame.up, kAbove * out_.gauge.rowMm);
    }
    for (const Spring& s : rowSprings_) {
        const auto right = static_cast<std::size_t>(s.a);
        part(p[right], p[static_cast<std::size_t>(s.b)], out_.nodes[right].frame.right,
             kAside * out_.gauge.stitchMm);
    }
}

/// Columns go on the way they came.
void LayoutSprings::noteColumns() {
    for (const SweptRow& row : out_.columns.rows) {
        for (const EntryId e : row.entries) {
            if (!f_.isLoop(e) || !isPlaced(e) || out_.columns.begins[static_cast<std::size_t>(e.value)])
                continue;
            const LinkId l = f_[e].firstLink;
            if (!l || l != f_[e].lastLink || crossed_[static_cast<std::size_t>(f_[l].host.value)]) continue;
            const LoopId host = f_[l].host;
            // What was cast on through it stands beside it, and round a corner it stands on its side.
            const bool onward = dot(out_[host].frame.up, out_[e].frame.up) > 0.7;
            if (isPlaced(host) && onward && !out_.columns.besideHost[static_cast<std::size_t>(e.value)])
                standing_.push_back({e.value, host.value, host.value});
            const LinkId below = f_[host].firstLink;
            if (!below || below != f_[host].lastLink || !isPlaced(host) || !isPlaced(f_[below].host))
                continue;
            columnBends_.push_back({f_[below].host.value, host.value, e.value});
        }
    }
}

void LayoutSprings::relax(int sweeps) {
    run(sweeps, true);
}

void LayoutSprings::relaxNear(int sweeps) {
    const auto lies = [&](const Spring& s) { return kept(EntryId{s.a}) && kept(EntryId{s.b}); };
    springs_.erase(std::remove_if(springs_.begin(), springs_.end(), lies), springs_.end());
    rowSprings_.erase(std::remove_if(rowSprings_.begin(), rowSprings_.end(), lies), rowSprings_.end());
    run(sweeps, false);
}

void LayoutSprings::run(int sweeps, bool mayBeSteep) {
    // A piece of a hundred thousand loops is placed by its rows; springs would only polish it.
    const auto affordable = static_cast<int>(60'000'000 / (springs_.size() + 2 * rowSprings_.size() + 1));
    sweeps = std::min(sweeps, std::max(20, affordable));
    std::vector<Point2> begun(out_.nodes.size());
    for (std::size_t i = 0; i < begun.size(); ++i) begun[i] = out_.nodes[i].frame.at;
    std::vector<Point2> p = begun;
    bool steep = mayBeSteep && isSteep(p);
    if (mayBeSteep) noteColumns();
    if (!steep) {
        sweep(p, sweeps, false);
        steep = isFolded(p);
    }
    if (steep) {
        p = begun;
        bow(p);
        sweep(p, 3 * sweeps, true);
    }
    for (std::size_t i = 0; i < p.size(); ++i) {
        if (out_.nodes[i].placed) out_.nodes[i].frame.at = p[i];
    }
}

/// steep: rows are drawn in slowly from as long as they are, and everything keeps its order.
void LayoutSprings::sweep(std::vector<Point2>& p, int sweeps, bool steep) {
    const std::size_t n = springs_.size();
    const std::size_t rows = rowSprings_.size();
    const auto draw = [&](const Spring& s, double rest) {
        Point2& a = p[static_cast<std::size_t>(s.a)];
        Point2& b = p[static_cast<std::size_t>(s.b)];
        const Point2 d = b - a;
        const double l = length(d) + 1e-9;
        const Point2 c = d * ((l - rest) / l * 0.5 * s.pull);
        if (!kept_[static_cast<std::size_t>(s.a)]) a = a + c;
        if (!s.oneWay && !kept_[static_cast<std::size_t>(s.b)]) b = b - c;
    };
    const auto straighten = [&](const Bend& b, double share) {
        if (kept(EntryId{b.b})) return;
        Point2& middle = p[static_cast<std::size_t>(b.b)];
        const Point2 a = p[static_cast<std::size_t>(b.a)];
        const Point2 c = p[static_cast<std::size_t>(b.c)];
        const Point2 n2 = leftOf(unit(c - a, {1, 0}));
        middle = middle + n2 * (dot((a + c) * 0.5 - middle, n2) * share);
    };
    const std::vector<double> climb = steep ? lengths(p) : std::vector<double>{};
    for (int sweep = 0; sweep < sweeps; ++sweep) {
        const double done = std::min(1.0, 1.5 * sweep / sweeps);
        const auto drawRow = [&](std::size_t k) {
            const double rest = rowSprings_[k].rest;
            draw(rowSprings_[k], steep ? climb[k] + (rest - climb[k]) * done : rest);
        };
        for (std::size_t k = 0; k < n; ++k) {
            const Spring& s = springs_[sweep % 2 == 0 ? k : n - 1 - k];
            draw(s, s.rest);
        }
        // The width of a row gives way least.
        for (std::size_t k = 0; k < rows; ++k) drawRow(k);
        for (std::size_t k = rows; k > 0; --k) drawRow(k - 1);
        for (const Bend& b : bends_) straighten(b, 0.3);
        if (!steep) continue;
        for (const Bend& b : columnBends_) straighten(b, 0.2);
        keepOrder(p);
    }
}

}  // namespace loopmend
