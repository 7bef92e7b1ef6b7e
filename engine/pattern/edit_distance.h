// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <cstddef>
#include <limits>
#include <string_view>
#include <vector>

/// How far apart two sequences are: the cheapest way of making one the other by leaving elements out, putting
/// some in, and exchanging one for another (V. I. Levenshtein, Binary codes capable of correcting deletions,
/// insertions and reversals, Soviet Physics Doklady 10, 1966; filled row by row: R. A. Wagner, M. J. Fischer,
/// The string-to-string correction problem, Journal of the ACM 21, 1974).
namespace loopmend {

/// A price that nothing reaches.
inline constexpr int kNoEditLimit = std::numeric_limits<int>::max() / 4;

/// `costs` says what edits cost: alone(x), an element left out or put in; exchanged(x, y), 0 for the same;
/// swapped(), two neighbors that changed places (kNoEditLimit: no edit of its own); leastAlone, what alone()
/// costs at least (1 or more). Dearer than `most`: most + 1. Where `most` is small, only what lies near the
/// diagonal is looked at.
template <class Sequence, class Costs>
int editDistance(const Sequence& a, const Sequence& b, const Costs& costs, int most = kNoEditLimit) {
    std::size_t begin = 0;
    while (begin < a.size() && begin < b.size() && a[begin] == b[begin]) ++begin;
    std::size_t aEnd = a.size();
    std::size_t bEnd = b.size();
    while (aEnd > begin && bEnd > begin && a[aEnd - 1] == b[bEnd - 1]) {
        --aEnd;
        --bEnd;
    }
    const std::size_t n = aEnd - begin;
    const std::size_t m = bEnd - begin;
    const std::size_t band = std::min(std::max(n, m), static_cast<std::size_t>(most / costs.leastAlone)) + 1;
    if (n > m + band || m > n + band) return most + 1;
    std::vector<int> before;  // two rows back
    std::vector<int> last(m + 1, kNoEditLimit);
    std::vector<int> row(m + 1, kNoEditLimit);
    last[0] = 0;
    for (std::size_t j = 0; j < std::min(m, band); ++j) last[j + 1] = last[j] + costs.alone(b[begin + j]);
    for (std::size_t i = 0; i < n; ++i) {
        const auto& x = a[begin + i];
        const int alone = costs.alone(x);
        const std::size_t from = i + 1 > band ? i + 1 - band : 0;
        const std::size_t to = std::min(m, i + 1 + band);
        if (from == 0) {
            row[0] = last[0] + alone;
        } else {
            row[from - 1] = kNoEditLimit;
        }
        int least = from == 0 ? row[0] : kNoEditLimit;
        for (std::size_t j = std::max<std::size_t>(from, 1); j <= to; ++j) {
            const auto& y = b[begin + j - 1];
            row[j] =
                std::min({last[j] + alone, row[j - 1] + costs.alone(y), last[j - 1] + costs.exchanged(x, y)});
            const bool swapped =
                !before.empty() && i > 0 && j > 1 && x == b[begin + j - 2] && a[begin + i - 1] == y;
            if (swapped) row[j] = std::min(row[j], before[j - 2] + costs.swapped());
            least = std::min(least, row[j]);
        }
        if (least > most) return most + 1;
        if (costs.swapped() < kNoEditLimit) before = last;
        std::swap(last, row);
    }
    return std::min(last[m], most + 1);
}

/// Prices for words: each letter the same.
struct LetterCosts {
    int exchange = 1;
    int swap = kNoEditLimit;  ///< 1: two letters that changed places are one slip of the finger
    static constexpr int leastAlone = 1;

    static int alone(char) { return 1; }
    int exchanged(char x, char y) const { return x == y ? 0 : exchange; }
    int swapped() const { return swap; }
};

/// Letters to be changed, lost or put in to make one word the other. More than `most`: most + 1.
inline int lettersApart(std::string_view a, std::string_view b, LetterCosts costs = {},
                        int most = kNoEditLimit) {
    return editDistance(a, b, costs, most);
}

}  // namespace loopmend
