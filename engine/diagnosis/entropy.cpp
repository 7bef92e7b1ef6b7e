// SPDX-License-Identifier: MIT
#include "diagnosis/entropy.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <unordered_map>
#include <utility>

namespace loopmend {

namespace {

double term(double p) {
    return p > 0 ? -p * std::log2(p) : 0;
}

/// Sums of a sorted list of (key, weight) by key, as an entropy.
template <class Key>
double entropyByKey(std::vector<std::pair<Key, double>>& list) {
    std::stable_sort(list.begin(), list.end(),
                     [](const auto& a, const auto& b) { return a.first < b.first; });
    double entropy = 0;
    double total = 0;
    double sum = 0;
    for (std::size_t i = 0; i < list.size(); ++i) {
        sum += list[i].second;
        if (i + 1 < list.size() && list[i + 1].first == list[i].first) continue;
        entropy += term(sum);
        total += sum;
        sum = 0;
    }
    return total > 0 ? entropy / total + std::log2(total) : 0;
}

}  // namespace

double entropyOf(const std::vector<double>& weights) {
    const double total = std::accumulate(weights.begin(), weights.end(), 0.0);
    if (total <= 0) return 0;
    double entropy = 0;
    for (const double w : weights) entropy += term(w / total);
    return entropy;
}

double labelEntropy(const std::vector<double>& weights, const std::vector<std::int64_t>& labels) {
    std::vector<std::pair<std::int64_t, double>> list;
    list.reserve(weights.size());
    for (std::size_t i = 0; i < weights.size(); ++i) list.emplace_back(labels[i], weights[i]);
    return entropyByKey(list);
}

std::vector<std::int32_t> numbered(const std::vector<std::int64_t>& labels) {
    std::unordered_map<std::int64_t, std::int32_t> known;
    std::vector<std::int32_t> numbers;
    numbers.reserve(labels.size());
    for (const std::int64_t label : labels)
        numbers.push_back(known.try_emplace(label, static_cast<std::int32_t>(known.size())).first->second);
    return numbers;
}

double expectedBits(const std::vector<double>& weights, const std::vector<std::int32_t>& labels,
                    const Emissions& look) {
    const std::size_t classes = look.classes.size();
    const double total = std::accumulate(weights.begin(), weights.end(), 0.0);
    if (total <= 0) return 0;
    // I(outcome; label) = H(outcome) - H(outcome | label). Most labels are of one class.
    std::vector<double> entropyOfClass(classes, 0);
    for (std::size_t c = 0; c < classes; ++c) {
        for (const LookOutcome& o : look.classes[c]) entropyOfClass[c] += term(o.probability);
    }
    std::vector<double> weightOfClass(classes, 0);
    std::int32_t most = -1;
    for (const std::int32_t label : labels) most = std::max(most, label);
    const auto count = static_cast<std::size_t>(most + 1);
    std::vector<std::int32_t> only(count, -1);  // the class of a label; -2: several
    std::vector<double> weightOfLabel(count, 0);
    for (std::size_t i = 0; i < weights.size(); ++i) {
        if (weights[i] <= 0) continue;
        const std::int32_t c = look.classOf[i];
        const auto l = static_cast<std::size_t>(labels[i]);
        weightOfClass[static_cast<std::size_t>(c)] += weights[i] / total;
        weightOfLabel[l] += weights[i] / total;
        if (only[l] == -1) only[l] = c;
        if (only[l] != c) only[l] = -2;
    }
    double given = 0;
    std::vector<std::pair<std::pair<std::int32_t, std::int64_t>, double>> mixed;
    for (std::size_t l = 0; l < count; ++l) {
        if (only[l] >= 0) given += weightOfLabel[l] * entropyOfClass[static_cast<std::size_t>(only[l])];
    }
    for (std::size_t i = 0; i < weights.size(); ++i) {
        const auto l = static_cast<std::size_t>(labels[i]);
        if (weights[i] <= 0 || only[l] != -2) continue;
        for (const LookOutcome& o : look.classes[static_cast<std::size_t>(look.classOf[i])])
            mixed.push_back({{labels[i], o.id}, weights[i] / total * o.probability});
    }
    std::sort(mixed.begin(), mixed.end());
    for (std::size_t i = 0; i < mixed.size();) {
        double sum = 0;
        const auto key = mixed[i].first;
        for (; i < mixed.size() && mixed[i].first == key; ++i) sum += mixed[i].second;
        const double all = weightOfLabel[static_cast<std::size_t>(key.first)];
        given += all * term(sum / all);
    }
    std::vector<std::pair<std::int64_t, double>> outcomes;
    for (std::size_t c = 0; c < classes; ++c) {
        if (weightOfClass[c] <= 0) continue;
        for (const LookOutcome& o : look.classes[c]) {
            if (o.probability > 0) outcomes.emplace_back(o.id, weightOfClass[c] * o.probability);
        }
    }
    return std::max(0.0, entropyByKey(outcomes) - given);
}

}  // namespace loopmend
