// SPDX-License-Identifier: MIT
#include "tutor/lesson_handout_words.h"

#include <array>
#include <cctype>
#include <string>
#include <string_view>

#include <fmt/format.h>

#include "tutor/words.h"

namespace loopmend {

namespace {

struct Term {
    std::string_view word;
    std::string_view more;  ///< more than one of it
    std::string_view meaning;
};
constexpr std::array<Term, 13> kTerms = {{
    {"V", "Vs", "a knit stitch seen from the front"},
    {"bump", "bumps", "a knit stitch seen from behind: a short bar lies across it"},
    {"ladder", "ladders", "the column of bare strands that a fallen stitch leaves"},
    {"rung", "rungs", "a strand that lies bare across a gap: the yarn of one stitch, one row"},
    {"run", "ran", "to come undone downward, row by row"},
    {"open stitch", "open stitches", "a stitch through which nothing is drawn, so that it can run"},
    {"strand", "strands", "a piece of yarn between two stitches"},
    {"leg", "legs", "either side of a stitch, from its top down"},
    {"foot", "feet", "where a stitch comes out of the one below it"},
    {"column", "columns", "stitches standing one above another"},
    {"yarn over", "yarn overs", "the yarn laid over the needle: a new stitch with a hole under it"},
    {"decrease", "decreases", "two or more stitches worked as one"},
    {"cable", "cables", "columns that change places, some in front of others"},
}};

bool isLetter(char c) {
    return std::isalpha(static_cast<unsigned char>(c)) != 0;
}

/// Where the word stands by itself; npos: nowhere.
std::size_t find(const std::string& text, std::string_view word) {
    for (std::size_t at = text.find(word); at != std::string::npos; at = text.find(word, at + 1)) {
        const std::size_t end = at + word.size();
        if ((at == 0 || !isLetter(text[at - 1])) && (end == text.size() || !isLetter(text[end]))) return at;
    }
    return std::string::npos;
}

bool setsOff(const std::string& text, const Term& term) {
    return text.find(fmt::format("*{}*", term.word)) != std::string::npos ||
           text.find(fmt::format("*{}*", term.more)) != std::string::npos;
}

bool uses(const std::string& text, const Term& term) {
    return find(text, term.word) != std::string::npos || find(text, term.more) != std::string::npos ||
           find(text, capital(std::string(term.word))) != std::string::npos ||
           find(text, capital(std::string(term.more))) != std::string::npos;
}

}  // namespace

void explainTerms(Handout& handout, Terms terms) {
    std::array<bool, kTerms.size()> known{};
    for (HandoutStep& step : handout.steps) {
        std::vector<std::string> texts = step.sentences;
        texts.insert(texts.end(), step.choices.begin(), step.choices.end());
        texts.insert(texts.end(), step.lines.begin(), step.lines.end());
        texts.push_back(step.heading);
        texts.push_back(step.caution);
        for (const HandoutPicture& p : step.pictures) texts.push_back(p.caption);
        std::vector<std::string> said;
        for (std::size_t i = 0; i < kTerms.size(); ++i) {
            if (known[i]) continue;
            for (const std::string& text : texts) {
                if (!uses(text, kTerms[i])) continue;
                known[i] = true;
                if (!setsOff(text, kTerms[i]))
                    said.push_back(spelled(
                        fmt::format("*{}*: {}.", capital(std::string(kTerms[i].word)), kTerms[i].meaning),
                        terms));
                break;
            }
        }
        step.sentences.insert(step.sentences.end(), said.begin(), said.end());
    }
}

}  // namespace loopmend
