// SPDX-License-Identifier: MIT
#include "shape/plumb.h"

#include <algorithm>

namespace loopmend {

namespace {

/// How much more the width of a row weighs than the uprightness of a column.
constexpr double kRowWeight = 1.8;
/// Holds what is tied to nothing.
constexpr double kStay = 1e-3;

double dot(const std::vector<double>& a, const std::vector<double>& b) {
    double sum = 0;
    for (std::size_t i = 0; i < a.size(); ++i) sum += a[i] * b[i];
    return sum;
}

}  // namespace

void PlumbNet::addColumn(std::int32_t loop, const std::vector<std::int32_t>& hosts, double off) {
    Column c{loop, {}, 0, off};
    for (const std::int32_t h : hosts) {
        if (c.count < 3) c.hosts[static_cast<std::size_t>(c.count++)] = h;
    }
    if (c.count > 0) columns_.push_back(c);
}

/// The gradient of the energy at u: of its square part alone, or with the offsets.
std::vector<double> PlumbNet::pushed(const std::vector<double>& u, bool withOffsets) const {
    std::vector<double> g(count_);
    for (std::size_t i = 0; i < count_; ++i) g[i] = kStay * u[i];
    for (const Row& r : rows_) {
        const auto a = static_cast<std::size_t>(r.right);
        const auto b = static_cast<std::size_t>(r.left);
        const double pull = kRowWeight * (u[a] - u[b] - (withOffsets ? r.off : 0));
        g[a] += pull;
        g[b] -= pull;
    }
    for (const Column& c : columns_) {
        const auto loop = static_cast<std::size_t>(c.loop);
        const double share = 1.0 / std::max(1, c.count);
        double apart = u[loop] + (withOffsets ? c.off : 0);
        for (int k = 0; k < c.count; ++k)
            apart -= share * u[static_cast<std::size_t>(c.hosts[static_cast<std::size_t>(k)])];
        g[loop] += apart;
        for (int k = 0; k < c.count; ++k)
            g[static_cast<std::size_t>(c.hosts[static_cast<std::size_t>(k)])] -= share * apart;
    }
    return g;
}

std::vector<double> PlumbNet::solve(int steps) const {
    std::vector<double> u(count_, 0);
    std::vector<double> rest = pushed(u, true);
    for (double& x : rest) x = -x;
    std::vector<double> way = rest;
    double size = dot(rest, rest);
    const double enough = 1e-10 * size;
    for (int k = 0; k < steps && size > enough && size > 1e-18; ++k) {
        const std::vector<double> pushedWay = pushed(way, false);
        const double along = dot(way, pushedWay);
        if (along <= 0) break;
        const double step = size / along;
        for (std::size_t i = 0; i < count_; ++i) {
            u[i] += step * way[i];
            rest[i] -= step * pushedWay[i];
        }
        const double next = dot(rest, rest);
        for (std::size_t i = 0; i < count_; ++i) way[i] = rest[i] + way[i] * (next / size);
        size = next;
    }
    return u;
}

}  // namespace loopmend
