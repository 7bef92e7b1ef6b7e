// SPDX-License-Identifier: MIT
#include "diagnosis/belief.h"

#include <algorithm>
#include <iterator>
#include <numeric>
#include <utility>

namespace loopmend {

Belief::Belief(std::vector<double> weights) : weights_(std::move(weights)) {
    alive_.resize(weights_.size());
    std::iota(alive_.begin(), alive_.end(), std::int32_t{0});
    settle(std::accumulate(weights_.begin(), weights_.end(), 0.0));
}

Belief Belief::with(const std::vector<std::pair<std::int32_t, double>>& instead) const {
    Belief other = *this;
    std::vector<std::int32_t> more;
    for (const auto& [h, weight] : instead) {
        double& w = other.weights_[static_cast<std::size_t>(h)];
        if (w <= 0 && weight > 0) more.push_back(h);
        w = weight;
    }
    std::sort(more.begin(), more.end());
    std::vector<std::int32_t> all;
    all.reserve(alive_.size() + more.size());
    std::merge(alive_.begin(), alive_.end(), more.begin(), more.end(), std::back_inserter(all));
    other.alive_ = std::move(all);
    double total = 0;
    for (const std::int32_t h : other.alive_) total += other.weights_[static_cast<std::size_t>(h)];
    other.settle(total);
    return other;
}

void Belief::settle(double total) {
    if (total <= 0) {
        for (const std::int32_t h : alive_) weights_[static_cast<std::size_t>(h)] = 0;
        alive_.clear();
        sums_.clear();
        return;
    }
    std::size_t kept = 0;
    double left = 0;
    for (const std::int32_t h : alive_) {
        double& w = weights_[static_cast<std::size_t>(h)];
        w /= total;
        if (w < kTiny) {
            w = 0;
            continue;
        }
        left += w;
        alive_[kept++] = h;
    }
    alive_.resize(kept);
    sums_.clear();
    double sum = 0;
    for (std::size_t i = 0; i < kept; ++i) {
        if (i % kBlock == 0) sums_.push_back(sum);
        double& w = weights_[static_cast<std::size_t>(alive_[i])];
        w /= left;
        sum += w;
    }
    sums_.push_back(sum);
}

std::vector<std::int32_t> Belief::drawn(int count, double offset) const {
    std::vector<std::int32_t> drawn;
    if (alive_.empty() || count <= 0 || sums_.back() <= 0) return drawn;
    drawn.reserve(static_cast<std::size_t>(count));
    const double step = sums_.back() / count;
    double next = offset * step;
    for (std::size_t block = 0; block + 1 < sums_.size(); ++block) {
        if (next >= sums_[block + 1]) continue;
        double sum = sums_[block];
        const std::size_t end = std::min(alive_.size(), (block + 1) * kBlock);
        for (std::size_t i = block * kBlock; i < end; ++i) {
            sum += weights_[static_cast<std::size_t>(alive_[i])];
            while (next < sum && static_cast<int>(drawn.size()) < count) {
                drawn.push_back(static_cast<std::int32_t>(i));
                next += step;
            }
        }
    }
    // Rounding at the end.
    while (static_cast<int>(drawn.size()) < count)
        drawn.push_back(static_cast<std::int32_t>(alive_.size()) - 1);
    return drawn;
}

}  // namespace loopmend
