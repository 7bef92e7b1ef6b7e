// SPDX-License-Identifier: MIT
#include "pattern/reader.h"

#include "pattern/plain_words.h"
#include "pattern/problem_at.h"

#include <algorithm>

#include <fmt/format.h>

namespace loopmend {

namespace {

constexpr std::string_view kNumberWords[] = {"one",     "two",       "three",    "four",     "five",
                                             "six",     "seven",     "eight",    "nine",     "ten",
                                             "eleven",  "twelve",    "thirteen", "fourteen", "fifteen",
                                             "sixteen", "seventeen", "eighteen", "nineteen", "twenty"};
constexpr std::string_view kOrdinalWords[] = {
    "first",     "second",    "third",       "fourth",     "fifth",      "sixth",      "seventh",
    "eighth",    "ninth",     "tenth",       "eleventh",   "twelfth",    "thirteenth", "fourteenth",
    "fifteenth", "sixteenth", "seventeenth", "eighteenth", "nineteenth", "twentieth"};

template <std::size_t N>
int indexIn(const std::string_view (&words)[N], std::string_view text) {
    for (std::size_t i = 0; i < N; ++i)
        if (words[i] == text) return static_cast<int>(i) + 1;
    return 0;
}

constexpr std::string_view kOrdinalEndings[] = {"st", "nd", "rd", "th", "d"};  // "2d" is an old "2nd"

}  // namespace

bool bareKnit(std::string_view text) {
    return text == "k" || text == "knit" || text == "plain";
}
bool barePurl(std::string_view text) {
    return text == "p" || text == "purl" || text == "pearl" || text == "seam";
}

Item made(Op op, int times) {
    Item item;
    item.step.op = op;
    item.times = times;
    return item;
}

Item counted(Op op, int count) {
    Item item;
    item.step.op = op;
    item.step.count = static_cast<std::int16_t>(count);
    return item;
}

Reader::Reader(std::string_view text, const ParseOptions& options, Pattern& pattern, const Panels* panels)
    : options_(options), out_(pattern), panels_(panels) {
    tokenize(text, storage_);
    tokens_ = &storage_;
    limit_ = storage_.list.size() - 1;
    out_.text.assign(text);
}

const Token& Reader::peek(std::size_t ahead) const {
    const std::size_t i = at_ + ahead;
    return i < limit_ ? tokens_->list[i] : tokens_->list.back();
}

bool Reader::isAny(std::initializer_list<std::string_view> texts, std::size_t ahead) const {
    const std::string_view text = peek(ahead).text;
    return !text.empty() && std::find(texts.begin(), texts.end(), text) != texts.end();
}

bool Reader::take(std::string_view text) {
    if (done() || !is(text)) return false;
    ++at_;
    return true;
}

bool Reader::takeAny(std::initializer_list<std::string_view> texts) {
    if (done() || !isAny(texts)) return false;
    ++at_;
    return true;
}

bool Reader::takeSeq(std::initializer_list<std::string_view> texts) {
    if (at_ + texts.size() > limit_) return false;
    std::size_t i = at_;
    for (const std::string_view text : texts)
        if (tokens_->list[i++].text != text) return false;
    at_ = i;
    return true;
}

bool Reader::numberAhead(std::size_t ahead) const {
    const Token& token = peek(ahead);
    if (token.kind == TokenKind::number || noneOfThisSize(ahead)) return true;
    return token.kind == TokenKind::word && indexIn(kNumberWords, token.text) != 0;
}

/// `- (1, 2)`: a list in which the first size has none.
bool Reader::noneOfThisSize(std::size_t ahead) const {
    if (sizes_ < 2 || !is("-", ahead) || !(is("(", ahead + 1) || is("[", ahead + 1))) return false;
    std::size_t i = ahead + 2;
    int count = 1;
    while (peek(i).kind == TokenKind::number || peek(i).text == "-") {
        ++count;
        ++i;
        if (!isAny({",", ":", ";", "/"}, i)) break;
        ++i;
    }
    return count == sizes_ && (peek(i).text == ")" || peek(i).text == "]");
}

bool Reader::number(int& value) {
    const std::size_t start = at_;
    const Token& token = peek();
    if (token.kind == TokenKind::number) {
        value = token.value;
    } else if (noneOfThisSize(0)) {
        value = 0;
    } else {
        const int n = token.kind == TokenKind::word ? indexIn(kNumberWords, token.text) : 0;
        if (n == 0) return false;
        value = n;
    }
    ++at_;
    if (value > kLargestNumber) {
        problem(start, fmt::format("{} is more than a pattern can say; the largest number read is {}.",
                                   wordsFrom(start), kLargestNumber));
        value = kLargestNumber;
        sound_ = false;
    }
    sized_ = false;
    // 40/44/48
    if (is("/") && peek(1).kind == TokenKind::number && (is("/", 2) || sizes_ == 2) && peek().glued) {
        std::size_t i = 0;
        int count = 1;
        int chosen = value;
        while (peek(i).text == "/" && peek(i + 1).kind == TokenKind::number) {
            if (count == options_.size) chosen = peek(i + 1).value;
            ++count;
            i += 2;
        }
        const bool cross = isAny({"rc", "lc", "rpc", "lpc"}, i);
        if (!cross && (count > 2 || sizes_ == count)) {
            at_ += i;
            sizesMet(start, count);
            value = std::min(chosen, kLargestNumber);
        }
        return true;
    }
    // 40 (44, 48): sizes. One number alone in brackets could be a stitch count, so it needs a list before it.
    if ((is("(") || is("[")) && (peek(1).kind == TokenKind::number || is("-", 1))) {
        const std::string_view close = is("(") ? ")" : "]";
        std::size_t i = 1;
        int count = 1;
        int chosen = value;
        // `-`: this size has none
        while (peek(i).kind == TokenKind::number || peek(i).text == "-") {
            if (count == options_.size) chosen = peek(i).kind == TokenKind::number ? peek(i).value : 0;
            ++count;
            ++i;
            if (!isAny({",", ":", ";", "/"}, i)) break;
            ++i;
        }
        const bool listed = sizes_ > 0 && count > 1 && at_ + i + 1 < limit_ && !isAny({"."}, i + 1);
        if (peek(i).text == close && (count > 2 || sizes_ == count || listed)) {
            at_ += i + 1;
            sizesMet(start, count);
            value = std::min(chosen, kLargestNumber);
        }
    }
    return true;
}

/// A list of numbers for so many sizes was read.
void Reader::sizesMet(std::size_t start, int count) {
    sized_ = true;
    if (sizes_ == 0) {
        sizes_ = count;
        understood(start, "sizes",
                   fmt::format("{} sizes; the {} number is read everywhere", count,
                               ordinalWord(std::min(options_.size, count - 1) + 1)));
    }
    if (sizes_ == count) return;
    problem(start, fmt::format("Here are {} sizes, but {} before.", count, sizes_));
    sound_ = false;
}

bool Reader::ordinal(int& value) {
    const Token& token = peek();
    if (token.kind == TokenKind::number && peek(1).glued && peek(1).kind == TokenKind::word &&
        std::find(std::begin(kOrdinalEndings), std::end(kOrdinalEndings), peek(1).text) !=
            std::end(kOrdinalEndings)) {
        value = std::min(token.value, kLargestNumber);
        at_ += 2;
        return true;
    }
    const int n = token.kind == TokenKind::word ? indexIn(kOrdinalWords, token.text) : 0;
    if (n == 0) return false;
    value = n;
    ++at_;
    return true;
}

Place Reader::placeFrom(std::size_t firstToken) const {
    const std::size_t last = tokens_->list.size() - 1;
    const Token& first = tokens_->list[std::min(firstToken, last)];
    Place place{first.line, first.column, first.begin, first.end};
    if (at_ > firstToken) place.end = tokens_->list[std::min(at_, last + 1) - 1].end;
    return place;
}

std::string Reader::wordsFrom(std::size_t firstToken) const {
    return wordsAt(out_, placeFrom(firstToken));
}

void Reader::problem(std::size_t firstToken, std::string message, std::vector<std::string> suggestions) {
    out_.problems.push_back(
        problemAt(out_, placeFrom(firstToken), row_, std::move(message), std::move(suggestions)));
}

void Reader::understood(std::size_t firstToken, std::string_view kind, std::string message) {
    if (std::find(said_.begin(), said_.end(), kind) != said_.end()) return;
    said_.emplace_back(kind);
    const Place place = placeFrom(firstToken);
    out_.understood.push_back({row_, place.line, place.column, wordsAt(out_, place), std::move(message)});
}

bool Reader::ukWords() const {
    return std::any_of(tokens_->list.begin(), tokens_->list.end(), [&](const Token& token) {
        const std::size_t i = static_cast<std::size_t>(&token - tokens_->list.data());
        return token.text == "stocking" || token.text == "tension" || token.text == "skpo" ||
               token.text == "yfwd" || token.text == "colour" || token.text == "yrn" ||
               (token.text == "cast" && i + 1 < tokens_->list.size() && tokens_->list[i + 1].text == "off");
    });
}

/// The number of the row that bears a name; 0 if none does.
int Reader::namedRow(std::string_view name) const {
    if (name == "last" || name == "previous" || name == "this") return lastNumber();
    const std::string_view shortName = name == "decrease" ? "dec" : name == "increase" ? "inc" : name;
    for (auto it = names_.rbegin(); it != names_.rend(); ++it)
        if (it->first == shortName) return it->second;
    return 0;
}

std::string_view Reader::cluster(std::size_t token, std::size_t& next) const {
    next = token + 1;
    while (next < limit_ && tokens_->list[next].glued &&
           (tokens_->list[next].kind == TokenKind::word || tokens_->list[next].kind == TokenKind::number))
        ++next;
    const std::size_t begin = tokens_->list[token].begin;
    const std::size_t end = tokens_->list[next - 1].end;
    return std::string_view(tokens_->lower).substr(begin, end - begin);
}

}  // namespace loopmend
