// SPDX-License-Identifier: MIT
#include "pattern/heading_words.h"

#include <cctype>

namespace loopmend {

std::vector<std::string> headingWords(std::string_view text) {
    std::vector<std::string> words;
    std::string word;
    for (const char c : text) {
        const auto letter = static_cast<unsigned char>(c);
        if (std::isalpha(letter) != 0) {
            word += static_cast<char>(std::tolower(letter));
        } else if (!word.empty()) {
            words.push_back(word);
            word.clear();
        }
    }
    if (!word.empty()) words.push_back(word);
    return words;
}

}  // namespace loopmend
