// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <utility>
#include <vector>

namespace loopmend {

/// How much each of many hypotheses is believed: one flat array of weights. Knows nothing of what they say.
///
/// Every observation is a likelihood with a floor: what was seen may be a false alarm, so nothing is ruled
/// out by one of them alone. Hypotheses that are hardly believed any more are dropped from the list of those
/// that are looked at; their weight is kept, so that belief is the product of all likelihoods in whatever
/// order they came.
class Belief {
  public:
    Belief() = default;
    explicit Belief(std::vector<double> weights);

    std::size_t size() const { return weights_.size(); }
    /// They add up to 1 (or all are 0, if nothing was possible at all).
    const std::vector<double>& weights() const { return weights_; }
    double weight(std::size_t hypothesis) const { return weights_[hypothesis]; }
    /// Those that weigh anything, in their order.
    const std::vector<std::int32_t>& alive() const { return alive_; }

    /// likelihoodOf(hypothesis) is asked for each that is alive. Returns how likely the observation was.
    template <class LikelihoodOf>
    double update(LikelihoodOf likelihoodOf, double floor = 0) {
        double total = 0;
        for (const std::int32_t h : alive_) {
            double& w = weights_[static_cast<std::size_t>(h)];
            w *= floor + (1 - floor) * likelihoodOf(h);
            total += w;
        }
        settle(total);
        return total;
    }

    /// The same with some weights in place of what they are; the others keep theirs against those.
    Belief with(const std::vector<std::pair<std::int32_t, double>>& instead) const;

    /// Systematic resampling: `count` of those that are alive, each drawn as often as its weight has it but
    /// for less than one, from a single throw `offset` in [0, 1) (G. Kitagawa, Monte Carlo filter and
    /// smoother, Journal of Computational and Graphical Statistics 5, 1996). Indices into alive(), ascending.
    /// None if nothing is.
    std::vector<std::int32_t> drawn(int count, double offset) const;

    /// Less than this share is dropped: so little that no few later looks would bring it back.
    static constexpr double kTiny = 1e-12;

  private:
    void settle(double total);

    static constexpr std::size_t kBlock = 256;
    std::vector<double> weights_;
    std::vector<std::int32_t> alive_;
    std::vector<double> sums_;  ///< of what is alive, before every kBlock-th of them; last of all the whole
};

}  // namespace loopmend
