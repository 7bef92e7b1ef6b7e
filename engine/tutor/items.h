// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <vector>

/// How well a set of questions tells those who know from those who do not. Where the answers hold no
/// information (one question, one learner, all alike) there is no figure: none, never a number that means
/// nothing.
namespace loopmend {

/// Right or wrong, one row a learner, as many columns as there are items.
using ItemAnswers = std::vector<std::vector<bool>>;

struct ItemFigures {
    double difficulty = 0;  ///< share of right answers, 0 to 1: the higher, the easier
    /// Correlation of the item with the sum of all items (point-biserial), and with the sum of the others.
    std::optional<double> discrimination;
    std::optional<double> corrected;
};

struct ItemAnalysis {
    std::vector<ItemFigures> items;
    /// Kuder and Richardson's formula 20, with the population's variance: for right and wrong it is alpha.
    std::optional<double> reliability;
};

/// Throws std::invalid_argument if the rows differ in length.
ItemAnalysis analyze(const ItemAnswers& answers);

}  // namespace loopmend
