// SPDX-License-Identifier: MIT
#include "pattern/numbers.h"

#include <algorithm>

namespace loopmend {

std::vector<std::string_view> splitAtBlanks(std::string_view line) {
    std::vector<std::string_view> words;
    while (!line.empty()) {
        const std::size_t end = std::min(line.find(' '), line.size());
        if (end > 0) words.push_back(line.substr(0, end));
        line.remove_prefix(std::min(end + 1, line.size()));
    }
    return words;
}

std::optional<int> wholeNumber(std::string_view digits) {
    constexpr std::size_t kMostDigits = 8;
    if (digits.empty() || digits.size() > kMostDigits) return std::nullopt;
    int n = 0;
    for (const char c : digits) {
        if (c < '0' || c > '9') return std::nullopt;
        n = 10 * n + (c - '0');
    }
    return n;
}

std::optional<int> signedNumber(std::string_view digits) {
    const bool minus = !digits.empty() && digits.front() == '-';
    if (!digits.empty() && (minus || digits.front() == '+')) digits.remove_prefix(1);
    const std::optional<int> n = wholeNumber(digits);
    return n && minus ? -*n : n;
}

}  // namespace loopmend
