// SPDX-License-Identifier: MIT
#include "pattern/plain_words.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <utility>

#include <fmt/format.h>

namespace loopmend {

namespace {

constexpr std::array<std::string_view, 13> kNumbers = {
    "no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"};
constexpr std::array<std::string_view, 13> kOrdinals = {"",      "first",    "second",  "third",  "fourth",
                                                        "fifth", "sixth",    "seventh", "eighth", "ninth",
                                                        "tenth", "eleventh", "twelfth"};

}  // namespace

std::string ordinalNumber(int n) {
    const int tens = n / 10 % 10;
    const std::string_view end = tens == 1     ? "th"
                                 : n % 10 == 1 ? "st"
                                 : n % 10 == 2 ? "nd"
                                 : n % 10 == 3 ? "rd"
                                               : "th";
    return fmt::format("{}{}", n, end);
}

std::string numberWord(int n) {
    return n >= 0 && n < static_cast<int>(kNumbers.size())
               ? std::string(kNumbers[static_cast<std::size_t>(n)])
               : fmt::format("{}", n);
}

std::string ordinalWord(int n) {
    if (n >= 1 && n < static_cast<int>(kOrdinals.size()))
        return std::string(kOrdinals[static_cast<std::size_t>(n)]);
    return ordinalNumber(n);
}

std::string many(int n, std::string_view one, std::string_view more) {
    return fmt::format("{} {}", numberWord(n), n == 1 ? one : more);
}

std::string capital(std::string words) {
    if (!words.empty() && words[0] >= 'a' && words[0] <= 'z')
        words[0] = static_cast<char>(words[0] - 'a' + 'A');
    return words;
}

std::string asSentence(std::string words) {
    words = capital(std::move(words));
    if (!words.empty() && words.back() != '.' && words.back() != '?' && words.back() != '!') words += '.';
    return words;
}

std::string spelled(std::string words, Terms terms) {
    constexpr std::array<std::pair<std::string_view, std::string_view>, 4> kPairs = {
        {{"neighbor", "neighbour"}, {"center", "centre"}, {"color", "colour"}, {"toward", "towards"}}};
    const auto replace = [&](std::string_view from, std::string_view to) {
        for (std::size_t at = words.find(from); at != std::string::npos;
             at = words.find(from, at + to.size()))
            words.replace(at, from.size(), to);
    };
    for (const auto& [us, uk] : kPairs) {
        replace(uk, us);
        if (terms == Terms::uk) replace(us, uk);
    }
    return words;
}

std::string oneLine(std::string words) {
    std::replace_if(
        words.begin(), words.end(), [](char c) { return std::iscntrl(static_cast<unsigned char>(c)) != 0; },
        ' ');
    const std::size_t first = words.find_first_not_of(' ');
    if (first == std::string::npos) return {};
    return words.substr(first, words.find_last_not_of(' ') - first + 1);
}

int wordCount(std::string_view words) {
    int n = 0;
    bool counted = false;  // the word that is going on
    for (const char c : words) {
        const bool read = std::isalnum(static_cast<unsigned char>(c)) != 0 || (c & 0x80) != 0;
        if (c == ' ' || c == '\n') {
            counted = false;
        } else if (read && !counted) {
            ++n;
            counted = true;
        }
    }
    return n;
}

}  // namespace loopmend
