// SPDX-License-Identifier: MIT
//
// The words that name exercises.
#include <cstddef>
#include <limits>

#include "tutor/practice.h"
#include "tutor/skills.h"

namespace loopmend {

namespace {

/// Neither 0 nor o, neither 1 nor i nor l. Their number is a prime.
constexpr std::string_view kDigits = "23456789abcdefghjkmnpqrstuvwxyz";
constexpr std::uint64_t kBase = 31;
static_assert(kDigits.size() == kBase);

std::string digitsOf(std::uint64_t n) {
    std::string digits;
    do {
        digits.insert(digits.begin(), kDigits[static_cast<std::size_t>(n % kBase)]);
        n /= kBase;
    } while (n > 0);
    return digits;
}

std::optional<std::uint64_t> numberOf(std::string_view digits) {
    constexpr std::uint64_t kMost = std::numeric_limits<std::uint64_t>::max();
    if (digits.empty() || (digits.size() > 1 && digits.front() == kDigits.front())) return std::nullopt;
    std::uint64_t n = 0;
    for (const char c : digits) {
        const std::size_t value = kDigits.find(c);
        if (value == std::string_view::npos || n > (kMost - value) / kBase) return std::nullopt;
        n = n * kBase + value;
    }
    return n;
}

/// Different for letters and the hyphen of a skill's word, and for the digits of a seed.
std::uint64_t valueOf(char c, bool seed) {
    if (seed) return kDigits.find(c);
    if (c >= 'a' && c <= 'z') return static_cast<std::uint64_t>(c - 'a');
    if (c >= '0' && c <= '9') return static_cast<std::uint64_t>(c - '0');
    return 26;
}

/// A sum in which each place weighs otherwise, modulo a prime: every single change alters it, and so does
/// swapping two neighbors.
char checkOf(std::string_view word) {
    const std::size_t seedFrom = word.rfind('-') + 1;
    std::uint64_t sum = 0;
    for (std::size_t i = 0; i < word.size(); ++i)
        sum += (i % (kBase - 1) + 1) * valueOf(word[i], i >= seedFrom);
    return kDigits[static_cast<std::size_t>(sum % kBase)];
}

}  // namespace

std::string exerciseId(const ExerciseWanted& wanted) {
    std::string word = wanted.skill;
    word += '-';
    word += std::to_string(wanted.level);
    word += '-';
    word += digitsOf(wanted.seed);
    return word + checkOf(word);
}

std::optional<ExerciseWanted> exerciseFrom(std::string_view id) {
    while (!id.empty() && id.front() == ' ') id.remove_prefix(1);
    while (!id.empty() && (id.back() == ' ' || id.back() == '\n')) id.remove_suffix(1);
    std::string word;
    for (const char c : id) word += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;

    const std::size_t seedAt = word.rfind('-');
    if (seedAt == std::string::npos || seedAt < 3 || word.size() < seedAt + 3) return std::nullopt;
    const std::string_view whole = word;
    const std::string_view skill = whole.substr(0, seedAt - 2);
    const int level = word[seedAt - 1] - '0';
    const std::optional<std::uint64_t> seed = numberOf(whole.substr(seedAt + 1, whole.size() - seedAt - 2));
    if (word[seedAt - 2] != '-' || level < 1 || level > kMostLevel || !seed || findSkill(skill) == nullptr ||
        checkOf(whole.substr(0, whole.size() - 1)) != whole.back()) {
        return std::nullopt;
    }
    return ExerciseWanted{std::string(skill), level, *seed};
}

}  // namespace loopmend
