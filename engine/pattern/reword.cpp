// SPDX-License-Identifier: MIT
#include "pattern/reword.h"

#include "pattern/lex.h"
#include "pattern/parse.h"
#include "pattern/print.h"

#include <algorithm>
#include <array>
#include <string_view>
#include <vector>

#include <fmt/format.h>

namespace loopmend {

namespace {

constexpr std::size_t kMostTokens = 150;  ///< of a row that is read again and again
constexpr std::size_t kMostRead = 1000;   ///< times
constexpr std::size_t kNear = 3;          ///< tokens

/// Words that hold a row together.
constexpr std::array<std::string_view, 22> kFrame = {
    "(",    ")",   "*",   "rep",  "from", "to", "end", "last", "sts", "times", "twice",
    "wyif", "tbl", "off", "bind", "2",    "3",  "4",   "5",    "6",   "k",     "p"};

class Rewording {
  public:
    Rewording(const Pattern& pattern, std::size_t row, const MisprintWords& words,
              const std::function<Tried(const Row&, int, const std::string&)>& tried)
        : row_(pattern.rows[row]), words_(words), tried_(tried) {
        const Place& place = row_.place;
        if (place.end > pattern.text.size() || place.begin >= place.end || pattern.yarns.size() > 1) return;
        const std::string whole = pattern.text.substr(place.begin, place.end - place.begin);
        const std::size_t colon = whole.find(':');
        if (colon == std::string::npos) return;
        // As the only row of a pattern, so that nothing is wrong with it but its words.
        text_ = (pattern.round ? "Rnd 1:" : "Row 1:") + whole.substr(colon + 1);
        before_ = pattern.round ? "Worked in the round.\n" : "";
        tokenize(text_, tokens_);
        near_.assign(tokens_.list.size(), false);
        for (const Problem& problem : pattern.problems) stumbles(problem);
    }

    void all() {
        const std::size_t colon = text_.find(':');
        if (colon == std::string::npos || tokens_.list.size() > kMostTokens) return;
        while (first_ < tokens_.list.size() && tokens_.list[first_].begin <= colon) ++first_;
        last_ = tokens_.list.size() - 1;  // the last one is of kind end
        for (std::size_t i = first_; i < last_ && !enough_; ++i) leaveOut(i);
        for (std::size_t i = first_; i <= last_ && !enough_; ++i)
            for (const std::string_view word : kFrame)
                if (near_[i] || word == "(" || word == ")" || word == "*")
                    putIn(i, word, misprint_price::kBracket);
        for (std::size_t i = first_; i <= last_ && !enough_; ++i) {
            if (!near_[i]) continue;
            for (std::size_t w = 0; w < words_.own; ++w)
                putIn(i, printItem(words_.stitches[w]), misprint_price::kLost);
            for (const std::string_view word : {"k1", "p1", "k2", "p2", "k3", "p3"})
                putIn(i, word, misprint_price::kLost);
        }
    }

  private:
    /// Words are put in near where the reader stumbled; brackets and stars may be lost far from there.
    void stumbles(const Problem& problem) {
        if (problem.words.empty() || problem.line < row_.place.line) return;
        for (std::size_t at = text_.find(problem.words); at != std::string::npos;
             at = text_.find(problem.words, at + 1)) {
            for (std::size_t i = 0; i < tokens_.list.size(); ++i) {
                const std::size_t here = tokens_.list[i].begin;
                const bool edge = here == at || tokens_.list[i].end == at + problem.words.size();
                if (!edge) continue;
                for (std::size_t j = i < kNear ? 0 : i - kNear; j <= i + kNear && j < near_.size(); ++j)
                    near_[j] = true;
            }
        }
    }

    std::size_t endOf(std::size_t token) const {
        return token == last_ ? text_.size() : static_cast<std::size_t>(tokens_.list[token].begin);
    }

    void leaveOut(std::size_t i) {
        const Token& token = tokens_.list[i];
        const bool twice = (i > first_ && tokens_.list[i - 1].text == token.text) ||
                           (i + 1 < last_ && tokens_.list[i + 1].text == token.text);
        std::string text = text_;
        text.erase(token.begin, token.end - token.begin);
        read(text, i, twice ? misprint_price::kDoubled : misprint_price::kPutIn, standsAlone(i));
    }

    /// One word between two commas.
    bool standsAlone(std::size_t i) const {
        const auto parts = [&](std::size_t at) {
            return tokens_.list[at].text == "," || tokens_.list[at].text == ".";
        };
        return (i == first_ || parts(i - 1)) && (i + 1 >= last_ || parts(i + 1)) && !parts(i);
    }

    void putIn(std::size_t i, std::string_view word, int price) {
        std::string text = text_;
        text.insert(endOf(i), fmt::format(" {} ", word));
        read(text, i, price);
    }

    void read(const std::string& text, std::size_t at, int price, bool leftOut = false) {
        if (enough_ || ++read_ > kMostRead) return;
        const Pattern one = parse(before_ + text);
        if (!one.problems.empty() || one.rows.size() != 1 || !one.rows[0].sound ||
            one.rows[0].items.empty() || one.rows[0].printedCount != row_.printedCount)
            return;
        Row row = row_;
        row.items = one.rows[0].items;
        row.sound = true;
        const std::string words =
            leftOut ? fmt::format("leave out “{}”", tokens_.list[at].text) : change(text, at);
        enough_ = tried_(row, price, words) == Tried::enough;
    }

    static std::string tidy(std::string_view words) {
        std::string text;
        for (const char c : words) {
            const bool blank = c == ' ' || c == '\n' || c == '\t' || c == '\r';
            if (blank && (text.empty() || text.back() == ' ' || text.back() == '(')) continue;
            if (c == ')' && !text.empty() && text.back() == ' ') text.pop_back();
            text += blank ? ' ' : c;
        }
        while (!text.empty() && (text.back() == ' ' || text.back() == ',' || text.back() == '.'))
            text.pop_back();
        return text;
    }

    /// The words around token `at` as they stand and as they then do: two before it and two behind.
    std::string change(const std::string& now, std::size_t at) const {
        const auto inWord = [&](std::size_t token) {
            const auto part = [&](std::size_t i) {
                return tokens_.list[i].kind == TokenKind::word || tokens_.list[i].kind == TokenKind::number;
            };
            return token > first_ && token < last_ && tokens_.list[token].glued && part(token) &&
                   part(token - 1);
        };
        std::size_t from = at > first_ + 2 ? at - 2 : first_;
        while (inWord(from)) --from;
        while (from < at && (tokens_.list[from].text == ";" || tokens_.list[from].text == ",")) ++from;
        std::size_t to = std::min(at + 3, last_);
        while (inWord(to)) ++to;
        const std::size_t begin = tokens_.list[from].begin;
        const std::size_t end = endOf(to);
        const std::size_t longer = now.size() > text_.size() ? now.size() - text_.size() : 0;
        const std::size_t shorter = text_.size() > now.size() ? text_.size() - now.size() : 0;
        return fmt::format("“{}” instead of “{}”",
                           tidy(std::string_view(now).substr(begin, end - begin + longer - shorter)),
                           tidy(std::string_view(text_).substr(begin, end - begin)));
    }

    const Row& row_;
    const MisprintWords& words_;
    const std::function<Tried(const Row&, int, const std::string&)>& tried_;
    std::string text_;
    std::string before_;
    Tokens tokens_;
    std::vector<bool> near_;  ///< of each token: the reader stumbled about here
    std::size_t first_ = 0;   ///< token behind the head
    std::size_t last_ = 0;
    std::size_t read_ = 0;
    bool enough_ = false;
};

}  // namespace

void eachRewording(const Pattern& pattern, std::size_t row, const MisprintWords& words,
                   const std::function<Tried(const Row& read, int price, const std::string& words)>& tried) {
    if (pattern.rows[row].sameAs) return;
    Rewording(pattern, row, words, tried).all();
}

}  // namespace loopmend
