// SPDX-License-Identifier: MIT
#include "pattern/heading_words.h"

#include <algorithm>
#include <cctype>

namespace loopmend {

std::vector<std::string> headingWords(std::string_view text) {
    std::vector<std::string> words;
    std::string word;
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (text[i] == '#' || text.substr(i, 2) == "//") i = std::min(text.find('\n', i), text.size() - 1);
        const auto letter = static_cast<unsigned char>(text[i]);
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
