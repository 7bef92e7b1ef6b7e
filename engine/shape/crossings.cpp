// SPDX-License-Identifier: MIT
#include "shape/crossings.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace loopmend {

namespace {

struct Piece {
    int strand;
    int index;
};

/// Buckets of the plane; a segment lies in every bucket its box touches.
struct Grid {
    double cell = 1;
    double x0 = 0;
    double y0 = 0;
    int nx = 1;
    int ny = 1;
    std::vector<std::vector<Piece>> cells;

    int column(double x) const { return std::clamp(static_cast<int>((x - x0) / cell), 0, nx - 1); }
    int row(double y) const { return std::clamp(static_cast<int>((y - y0) / cell), 0, ny - 1); }
};

Grid gridOver(const Path& path) {
    Grid g;
    double x1 = -1e300;
    double y1 = -1e300;
    g.x0 = 1e300;
    g.y0 = 1e300;
    std::size_t n = 0;
    for (const PathStrand& s : path.strands) {
        for (const PathPoint& p : s.points) {
            g.x0 = std::min(g.x0, p.at.x);
            g.y0 = std::min(g.y0, p.at.y);
            x1 = std::max(x1, p.at.x);
            y1 = std::max(y1, p.at.y);
        }
        n += s.points.size();
    }
    if (n == 0) return g;
    g.cell = std::max(0.4 * path.gauge.stitchMm,
                      std::sqrt((x1 - g.x0) * (y1 - g.y0) / (4.0 * static_cast<double>(n) + 1)));
    g.nx = static_cast<int>((x1 - g.x0) / g.cell) + 1;
    g.ny = static_cast<int>((y1 - g.y0) / g.cell) + 1;
    g.cells.resize(static_cast<std::size_t>(g.nx) * static_cast<std::size_t>(g.ny));
    return g;
}

}  // namespace

std::vector<PlanarCrossing> crossingsOf(const Path& path) {
    std::vector<PlanarCrossing> found;
    Grid grid = gridOver(path);
    if (grid.cells.empty()) return found;
    const auto point = [&](int strand, int i) -> const Point3& {
        return path.strands[static_cast<std::size_t>(strand)].points[static_cast<std::size_t>(i)].at;
    };
    for (int s = 0; s < static_cast<int>(path.strands.size()); ++s) {
        const auto n = static_cast<int>(path.strands[static_cast<std::size_t>(s)].points.size());
        for (int i = 0; i + 1 < n; ++i) {
            const Point3& a = point(s, i);
            const Point3& b = point(s, i + 1);
            const int cx0 = grid.column(std::min(a.x, b.x));
            const int cx1 = grid.column(std::max(a.x, b.x));
            const int cy0 = grid.row(std::min(a.y, b.y));
            const int cy1 = grid.row(std::max(a.y, b.y));
            for (int cy = cy0; cy <= cy1; ++cy) {
                for (int cx = cx0; cx <= cx1; ++cx) {
                    auto& cell = grid.cells[static_cast<std::size_t>(cy) * static_cast<std::size_t>(grid.nx) +
                                            static_cast<std::size_t>(cx)];
                    for (const Piece& other : cell) {
                        if (other.strand == s && std::abs(other.index - i) < 2) continue;
                        const Point3& c = point(other.strand, other.index);
                        const Point3& d = point(other.strand, other.index + 1);
                        const Point2 u{b.x - a.x, b.y - a.y};
                        const Point2 v{d.x - c.x, d.y - c.y};
                        const Point2 w{c.x - a.x, c.y - a.y};
                        const double det = turnOf(u, v);
                        if (std::abs(det) < 1e-12) continue;
                        const double t = turnOf(w, v) / det;
                        const double k = turnOf(w, u) / det;
                        if (t < 0 || t >= 1 || k < 0 || k >= 1) continue;
                        const Point2 where{a.x + u.x * t, a.y + u.y * t};
                        // Segments share buckets; the crossing counts in the one it lies in.
                        if (grid.column(where.x) != cx || grid.row(where.y) != cy) continue;
                        PlanarCrossing x;
                        x.over = {s, i + t, a.z + (b.z - a.z) * t};
                        x.under = {other.strand, other.index + k, c.z + (d.z - c.z) * k};
                        if (x.under.z > x.over.z) std::swap(x.over, x.under);
                        x.where = where;
                        found.push_back(x);
                    }
                    cell.push_back({s, i});
                }
            }
        }
    }
    return found;
}

}  // namespace loopmend
