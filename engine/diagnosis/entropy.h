// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <vector>

/// How much a look is expected to tell, in bits. Knows no knitting and no circuits.
///
/// A hypothesis is a world with a weight and a label; what one wants to know is the label (which parts have
/// failed, which mistake it is and where), not the world. Information is therefore about labels.
namespace loopmend {

/// One outcome that a look may have.
struct LookOutcome {
    std::int64_t id = 0;
    double probability = 0;
};

/// What a look does to hypotheses. Those of one class have the same outcomes with the same probabilities,
/// which add up to 1.
struct Emissions {
    std::vector<std::int32_t> classOf;              ///< by hypothesis
    std::vector<std::vector<LookOutcome>> classes;  ///< each outcome once
};

/// Entropy of weights, which need not add up to 1. Nothing, or one thing alone: 0.
double entropyOf(const std::vector<double>& weights);
/// Entropy of the labels of weighted hypotheses.
double labelEntropy(const std::vector<double>& weights, const std::vector<std::int64_t>& labels);

/// Labels counted through from 0, as `expectedBits` wants them.
std::vector<std::int32_t> numbered(const std::vector<std::int64_t>& labels);

/// Mutual information between the outcome of a look and the label: what is expected to be known of the label
/// after it that was not known before. O(n log n) in the hypotheses.
double expectedBits(const std::vector<double>& weights, const std::vector<std::int32_t>& labels,
                    const Emissions& look);

}  // namespace loopmend
