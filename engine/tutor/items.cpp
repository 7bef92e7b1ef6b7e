// SPDX-License-Identifier: MIT
#include "tutor/items.h"

#include <cmath>
#include <cstddef>
#include <stdexcept>

namespace loopmend {

namespace {

/// Sums of whole numbers below 2^53 are exact, so that no variance is exactly none.
struct Sums {
    double n = 0, x = 0, y = 0, xx = 0, yy = 0, xy = 0;
};

std::optional<double> correlation(const Sums& s) {
    const double vx = s.n * s.xx - s.x * s.x;
    const double vy = s.n * s.yy - s.y * s.y;
    if (vx <= 0 || vy <= 0) return std::nullopt;
    return (s.n * s.xy - s.x * s.y) / std::sqrt(vx * vy);
}

}  // namespace

ItemAnalysis analyze(const ItemAnswers& answers) {
    ItemAnalysis result;
    if (answers.empty()) return result;
    const std::size_t count = answers.front().size();
    std::vector<double> totals;
    for (const std::vector<bool>& row : answers) {
        if (row.size() != count) throw std::invalid_argument("analyze: rows of different lengths");
        double total = 0;
        for (const bool right : row) total += right ? 1 : 0;
        totals.push_back(total);
    }
    const auto n = static_cast<double>(answers.size());
    double sumPq = 0;
    for (std::size_t item = 0; item < count; ++item) {
        Sums all;
        Sums others;
        all.n = others.n = n;
        for (std::size_t i = 0; i < answers.size(); ++i) {
            const double x = answers[i][item] ? 1 : 0;
            const auto add = [x](Sums& s, double y) {
                s.x += x;
                s.y += y;
                s.xx += x * x;
                s.yy += y * y;
                s.xy += x * y;
            };
            add(all, totals[i]);
            add(others, totals[i] - x);
        }
        ItemFigures figures;
        figures.difficulty = all.x / n;
        figures.discrimination = correlation(all);
        figures.corrected = correlation(others);
        sumPq += figures.difficulty * (1 - figures.difficulty);
        result.items.push_back(figures);
    }
    double x = 0;
    double xx = 0;
    for (const double total : totals) {
        x += total;
        xx += total * total;
    }
    const double variance = (n * xx - x * x) / (n * n);
    if (count > 1 && variance > 0) {
        const auto k = static_cast<double>(count);
        result.reliability = k / (k - 1) * (1 - sumPq / variance);
    }
    return result;
}

}  // namespace loopmend
