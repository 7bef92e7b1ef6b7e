// SPDX-License-Identifier: MIT
#include "shape/relax_contacts.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace loopmend {

namespace {

constexpr int kBlock = 512;

/// Along one yarn, pieces nearer than this (in radii) are not a contact.
constexpr float kAlong = 4.4F;

struct Near {
    float s;
    float t;
    Quad d;  ///< from j to i
};

float clamp01(float v) {
    return std::min(1.0F, std::max(0.0F, v));
}

/// Nearest points of two pieces (Ericson, Real-Time Collision Detection, 2005, 5.1.9).
Near nearest(Quad a0, Quad a1, Quad b0, Quad b1) {
    const Quad u = a1 - a0;
    const Quad w = b1 - b0;
    const Quad p = a0 - b0;
    const float a = dot3(u, u);
    const float b = dot3(u, w);
    const float c = dot3(w, w);
    const float d = dot3(u, p);
    const float e = dot3(w, p);
    const float den = a * c - b * b + 1e-5F;
    float s = clamp01((b * e - c * d) / den);
    const float t = clamp01((b * s + e) / (c + 1e-7F));
    s = clamp01((b * t - d) / (a + 1e-7F));
    return {s, t, p + u * s - w * t};
}

struct Four {
    Quad x, y, z, w;
};

inline __attribute__((always_inline)) Four turned(Quad a, Quad b, Quad c, Quad d) {
    const Quad ab = __builtin_shufflevector(a, b, 0, 4, 1, 5);
    const Quad cd = __builtin_shufflevector(c, d, 0, 4, 1, 5);
    const Quad ab2 = __builtin_shufflevector(a, b, 2, 6, 3, 7);
    const Quad cd2 = __builtin_shufflevector(c, d, 2, 6, 3, 7);
    return {__builtin_shufflevector(ab, cd, 0, 1, 4, 5), __builtin_shufflevector(ab, cd, 2, 3, 6, 7),
            __builtin_shufflevector(ab2, cd2, 0, 1, 4, 5), __builtin_shufflevector(ab2, cd2, 2, 3, 6, 7)};
}

inline __attribute__((always_inline)) Quad clamp01(Quad v) {
    const Quad zero{0, 0, 0, 0};
    const Quad one{1, 1, 1, 1};
    v = v < zero ? zero : v;
    return v > one ? one : v;
}

/// The same for four pairs at once; the ends of their pieces, coordinate by coordinate.
struct NearFour {
    Quad s;
    Quad t;
    Quad x, y, z;
    Quad d2;
};

inline __attribute__((always_inline)) NearFour nearestFour(const Four& a, const Four& a1, const Four& b,
                                                           const Four& b1, Quad shiftX, Quad shiftY) {
    const Quad ux = a1.x - a.x, uy = a1.y - a.y, uz = a1.z - a.z;
    const Quad wx = b1.x - b.x, wy = b1.y - b.y, wz = b1.z - b.z;
    const Quad px = a.x - b.x - shiftX, py = a.y - b.y - shiftY, pz = a.z - b.z;
    const Quad aa = ux * ux + uy * uy + uz * uz;
    const Quad bb = ux * wx + uy * wy + uz * wz;
    const Quad cc = wx * wx + wy * wy + wz * wz;
    const Quad dd = ux * px + uy * py + uz * pz;
    const Quad ee = wx * px + wy * py + wz * pz;
    NearFour n;
    n.s = clamp01((bb * ee - cc * dd) / (aa * cc - bb * bb + 1e-5F));
    n.t = clamp01((bb * n.s + ee) / (cc + 1e-7F));
    n.s = clamp01((bb * n.t - dd) / (aa + 1e-7F));
    n.x = px + ux * n.s - wx * n.t;
    n.y = py + uy * n.s - wy * n.t;
    n.z = pz + uz * n.s - wz * n.t;
    n.d2 = n.x * n.x + n.y * n.y + n.z * n.z;
    return n;
}

template <class Pair>
inline Four startsOf(const Quad* x, const Pair* q, std::int32_t Pair::*end, int further) {
    return turned(x[q[0].*end + further], x[q[1].*end + further], x[q[2].*end + further],
                  x[q[3].*end + further]);
}

}  // namespace

void Contacts::rebuild(const RodBed& bed, Team& team, float skin) {
    skin_ = skin;
    pairs_.clear();
    shifts_.clear();
    if (bed.periodic) {
        findPeriodic(bed);
    } else {
        findIn(bed, team);
    }
    placed_ = bed.x;
    while (pairs_.size() % 4 != 0) {
        pairs_.push_back({bed.n, bed.n + 2});
        if (bed.periodic) shifts_.push_back({0, 0});
    }
    share(bed);
}

void Contacts::share(const RodBed& bed) {
    const std::size_t groups = pairs_.size() / 4;
    for (std::size_t k = 0; k <= kShares; ++k) cuts_[k] = 4 * (groups * k / kShares);
    for (std::size_t k = 0; k < kShares; ++k) {
        Row& row = rows_[k];
        row.force.resize(bed.x.size());
        row.first = bed.n + 4;
        row.end = 0;
        for (std::size_t p = cuts_[k]; p < cuts_[k + 1]; ++p) {
            if (pairs_[p].i >= bed.n) continue;
            row.first = std::min({row.first, pairs_[p].i, pairs_[p].j});
            row.end = std::max({row.end, pairs_[p].i + 2, pairs_[p].j + 2});
        }
        row.first = std::min(row.first, row.end);
    }
}

void Contacts::findIn(const RodBed& bed, Team& team) {
    const auto n = static_cast<std::size_t>(bed.n);
    float radius = 0;
    float longest = 0;
    Quad low = bed.x[0];
    Quad high = bed.x[0];
    lengths_.assign(n, 0);
    for (std::size_t i = 0; i < n; ++i) {
        const Quad p = bed.x[i];
        low = p < low ? p : low;
        high = p > high ? p : high;
        radius = std::max(radius, p[3]);
        if (bed.rest[i] <= 0) continue;
        // A drawn piece may be far longer than it is at rest.
        const Quad along = bed.x[i + 1] - p;
        lengths_[i] = std::sqrt(dot3(along, along));
        longest = std::max(longest, lengths_[i]);
    }
    const float cell = 2 * radius + skin_ + 1.02F * longest;
    int size[3];
    for (int k = 0; k < 3; ++k) size[k] = static_cast<int>((high[k] - low[k]) / cell) + 1;
    const auto place = [&](std::size_t i, int k) {
        const float middle = 0.5F * (bed.x[i][k] + bed.x[i + 1][k]);
        return std::clamp(static_cast<int>((middle - low[k]) / cell), 0, size[k] - 1);
    };
    const std::size_t cells = static_cast<std::size_t>(size[0]) * static_cast<std::size_t>(size[1]) *
                              static_cast<std::size_t>(size[2]);
    cellOf_.assign(n, -1);
    begin_.assign(cells + 1, 0);
    for (std::size_t i = 0; i < n; ++i) {
        if (bed.rest[i] <= 0) continue;
        cellOf_[i] = (place(i, 2) * size[1] + place(i, 1)) * size[0] + place(i, 0);
        ++begin_[static_cast<std::size_t>(cellOf_[i]) + 1];
    }
    for (std::size_t c = 0; c < cells; ++c) begin_[c + 1] += begin_[c];
    in_.resize(n);
    std::vector<int> next(begin_.begin(), begin_.end() - 1);
    for (std::size_t i = 0; i < n; ++i) {
        if (cellOf_[i] >= 0)
            in_[static_cast<std::size_t>(next[static_cast<std::size_t>(cellOf_[i])]++)] = static_cast<int>(i);
    }
    const int blocks = (bed.n + kBlock - 1) / kBlock;
    found_.resize(static_cast<std::size_t>(blocks));
    team.run(blocks, [&](int block) {
        std::vector<Pair>& found = found_[static_cast<std::size_t>(block)];
        found.clear();
        for (int i = block * kBlock; i < std::min(bed.n, (block + 1) * kBlock); ++i) {
            const auto a = static_cast<std::size_t>(i);
            if (cellOf_[a] < 0) continue;
            const bool still = bed.free[a] == 0 && bed.free[a + 1] == 0;
            const Quad middle = bed.x[a] + bed.x[a + 1];
            const auto apart = static_cast<int>(std::lround(kAlong / bed.rest[a]));
            const int cx = cellOf_[a] % size[0];
            const int cy = cellOf_[a] / size[0] % size[1];
            const int cz = cellOf_[a] / size[0] / size[1];
            const int x0 = std::max(0, cx - 1);
            const int x1 = std::min(size[0] - 1, cx + 1);
            for (int z = std::max(0, cz - 1); z <= std::min(size[2] - 1, cz + 1); ++z) {
                for (int y = std::max(0, cy - 1); y <= std::min(size[1] - 1, cy + 1); ++y) {
                    const int row = (z * size[1] + y) * size[0];
                    const int end = begin_[static_cast<std::size_t>(row + x1) + 1];
                    for (int k = begin_[static_cast<std::size_t>(row + x0)]; k < end; ++k) {
                        const int j = in_[static_cast<std::size_t>(k)];
                        if (j <= i) continue;
                        const auto b = static_cast<std::size_t>(j);
                        if (j <= i + apart && bed.spanOf[a] == bed.spanOf[b]) continue;
                        const float reach = bed.x[a][3] + bed.x[b][3] + skin_;
                        const float far = reach + 0.505F * (lengths_[a] + lengths_[b]);
                        const Quad m = middle - bed.x[b] - bed.x[b + 1];
                        if (dot3(m, m) > 4 * far * far) continue;
                        if (still && bed.free[b] == 0 && bed.free[b + 1] == 0) continue;
                        found.push_back({i, j});
                    }
                }
            }
        }
        // The spheres round two pieces meet; most of the pieces do not. Four at a time.
        while (found.size() % 4 != 0) found.push_back({bed.n, bed.n + 2});
        std::size_t kept = 0;
        const Quad none{0, 0, 0, 0};
        for (std::size_t p = 0; p < found.size(); p += 4) {
            const Pair q[4] = {found[p], found[p + 1], found[p + 2], found[p + 3]};
            const Four a = startsOf(bed.x.data(), q, &Pair::i, 0);
            const Four b = startsOf(bed.x.data(), q, &Pair::j, 0);
            const NearFour near = nearestFour(a, startsOf(bed.x.data(), q, &Pair::i, 1), b,
                                              startsOf(bed.x.data(), q, &Pair::j, 1), none, none);
            const Quad reach = a.w + b.w + skin_;
            const Quad open = reach * reach - near.d2;
            for (int e = 0; e < 4; ++e) {
                if (open[e] > 0 && q[e].i < bed.n) found[kept++] = q[e];
            }
        }
        found.resize(kept);
    });
    for (const std::vector<Pair>& found : found_) pairs_.insert(pairs_.end(), found.begin(), found.end());
}

void Contacts::findPeriodic(const RodBed& bed) {
    for (int i = 0; i < bed.n; ++i) {
        const auto a = static_cast<std::size_t>(i);
        if (bed.rest[a] <= 0) continue;
        const auto apart = static_cast<int>(std::lround(kAlong / bed.rest[a]));
        for (int j = i; j < bed.n; ++j) {
            const auto b = static_cast<std::size_t>(j);
            if (bed.rest[b] <= 0) continue;
            const float reach = bed.x[a][3] + bed.x[b][3] + skin_;
            for (int sy = -3; sy <= 3; ++sy) {
                for (int sx = -2; sx <= 2; ++sx) {
                    if (i == j && (sy < 0 || (sy == 0 && sx <= 0))) continue;
                    const bool along = bed.spanOf[a] == bed.spanOf[b] && sy == 0;
                    const int turn = bed.spans[static_cast<std::size_t>(bed.spanOf[a])].around;
                    if (along && std::abs(j - i + sx * turn) <= apart) continue;
                    const Quad shift = quadOf(static_cast<float>(sx * bed.period[0]),
                                              static_cast<float>(sy * bed.period[1]), 0, 0);
                    const Near near = nearest(bed.x[a], bed.x[a + 1], bed.x[b] + shift, bed.x[b + 1] + shift);
                    if (dot3(near.d, near.d) >= reach * reach) continue;
                    pairs_.push_back({i, j});
                    shifts_.push_back({static_cast<float>(sx), static_cast<float>(sy)});
                }
            }
        }
    }
}

void Contacts::forces(const RodBed& bed, int share, float thickness, float stiffness) {
    if (bed.periodic) {
        forcesOf<true>(bed, share, thickness, stiffness);
    } else {
        forcesOf<false>(bed, share, thickness, stiffness);
    }
}

template <bool periodic>
void Contacts::forcesOf(const RodBed& bed, int share, float thickness, float stiffness) {
    const auto k = static_cast<std::size_t>(share);
    Row& row = rows_[k];
    std::fill(row.force.begin() + row.first, row.force.begin() + row.end, Quad{0, 0, 0, 0});
    Sums sums;
    Quad nearest2{1e9F, 1e9F, 1e9F, 1e9F};
    Quad closeness2 = nearest2;
    const Quad* const x = bed.x.data();
    Quad* const force = row.force.data();
    for (std::size_t p = cuts_[k]; p < cuts_[k + 1]; p += 4) {
        const Pair* const q = pairs_.data() + p;
        const Four a = startsOf(x, q, &Pair::i, 0);
        const Four b = startsOf(x, q, &Pair::j, 0);
        Quad shiftX{0, 0, 0, 0};
        Quad shiftY = shiftX;
        if constexpr (periodic) {
            const Shift* const h = shifts_.data() + p;
            shiftX = quadOf(h[0].x, h[1].x, h[2].x, h[3].x) * static_cast<float>(bed.period[0]);
            shiftY = quadOf(h[0].y, h[1].y, h[2].y, h[3].y) * static_cast<float>(bed.period[1]);
        }
        const NearFour near =
            nearestFour(a, startsOf(x, q, &Pair::i, 1), b, startsOf(x, q, &Pair::j, 1), shiftX, shiftY);
        const Quad d2 = near.d2;
        const Quad full = a.w + b.w;
        const Quad close = d2 / (full * full + 1e-9F);
        nearest2 = d2 < nearest2 ? d2 : nearest2;
        closeness2 = close < closeness2 ? close : closeness2;
        const Quad reach = full * thickness;
        const Quad over = reach * reach - d2;
        for (int e = 0; e < 4; ++e) {
            if (over[e] <= 0) continue;
            const float d = std::sqrt(d2[e]) + 1e-9F;
            const float deep = reach[e] - d;
            const float load = stiffness * (deep + 6 * deep * deep * deep);
            sums.energy += static_cast<double>(stiffness * deep * deep * (0.5F + 1.5F * deep * deep));
            const float g = load / d;
            const Quad push = quadOf(near.x[e] * g, near.y[e] * g, near.z[e] * g, load);
            const Quad back = quadOf(-push[0], -push[1], -push[2], load);
            force[q[e].i] += push * (1 - near.s[e]);
            force[q[e].i + 1] += push * near.s[e];
            force[q[e].j] += back * (1 - near.t[e]);
            force[q[e].j + 1] += back * near.t[e];
            if constexpr (periodic) {
                const Shift& h = shifts_[p + static_cast<std::size_t>(e)];
                sums.pull[0] -= static_cast<double>(push[0] * h.x);
                sums.pull[1] -= static_cast<double>(push[1] * h.y);
            }
        }
    }
    for (int e = 0; e < 4; ++e) {
        sums.nearest2 = std::min(sums.nearest2, nearest2[e]);
        sums.closeness2 = std::min(sums.closeness2, closeness2[e]);
    }
    sums_[k] = sums;
}

}  // namespace loopmend
