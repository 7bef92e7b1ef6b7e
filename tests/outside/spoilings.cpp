// SPDX-License-Identifier: MIT
#include "spoilings.h"

#include "pattern/counts.h"
#include "pattern/parse.h"
#include "pattern/print.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <optional>
#include <stdexcept>
#include <string_view>

namespace loopmend::outside {

namespace {

/// SplitMix64 (Steele, Lea and Flood, Fast splittable pseudorandom number generators, 2014).
class Draw {
  public:
    explicit Draw(std::uint64_t seed) : state_(seed) {}
    std::uint64_t next() {
        state_ += 0x9E3779B97F4A7C15ULL;
        std::uint64_t z = state_;
        z = (z ^ (z >> 30U)) * 0xBF58476D1CE4E5B9ULL;
        z = (z ^ (z >> 27U)) * 0x94D049BB133111EBULL;
        return z ^ (z >> 31U);
    }
    std::size_t below(std::size_t n) { return static_cast<std::size_t>(next() % n); }

  private:
    std::uint64_t state_;
};

struct Span {
    std::size_t begin = 0;
    std::size_t end = 0;
};

bool bracket(char c) {
    return c == '(' || c == ')' || c == '*' || c == '[' || c == ']';
}

/// Printed tokens of the body of a row: what stands between blanks and commas, brackets and stars apart.
std::vector<Span> tokensOf(const std::string& text, Span body) {
    std::vector<Span> tokens;
    std::size_t i = body.begin;
    while (i < body.end) {
        const char c = text[i];
        if (c == ' ' || c == ',' || c == ';' || c == '.') {
            ++i;
            continue;
        }
        Span token{i, i + 1};
        if (!bracket(c)) {
            while (token.end < body.end && text[token.end] != ' ' && text[token.end] != ',' &&
                   text[token.end] != ';' && text[token.end] != '.' && !bracket(text[token.end]))
                ++token.end;
        }
        tokens.push_back(token);
        i = token.end;
    }
    return tokens;
}

bool isDigit(char c) {
    return c >= '0' && c <= '9';
}

constexpr std::array<std::string_view, 16> kWords = {"k1",    "p1",  "k2",    "p2",    "yo",  "k2tog",
                                                     "p2tog", "skp", "k3tog", "p3tog", "ssk", "kfb",
                                                     "sk2p",  "sl1", "m1",    "k3"};

/// Stitch words have other words put in their place or one digit of their number changed; bare numbers only
/// that. Other tokens are not changed.
std::optional<std::string> changedToken(const std::string& token, Draw& draw) {
    std::vector<std::size_t> digits;
    for (std::size_t i = 0; i < token.size(); ++i)
        if (isDigit(token[i])) digits.push_back(i);
    const bool bare = digits.size() == token.size();
    // The 2 of k2tog is not a number that a printer takes from the copy by itself: the word is changed whole.
    const bool plain = !bare && (token[0] == 'k' || token[0] == 'p' || token.substr(0, 2) == "sl") &&
                       !digits.empty() && digits.back() + 1 == token.size();
    if ((bare || plain) && (bare || draw.below(2) == 0)) {
        std::string to = token;
        const std::size_t at = digits[draw.below(digits.size())];
        const bool leading = at == digits.front();
        char digit = token[at];
        while (digit == token[at] || (leading && digit == '0'))
            digit = static_cast<char>('0' + draw.below(10));
        to[at] = digit;
        return to;
    }
    const bool stitch = plain || std::any_of(kWords.begin(), kWords.end(),
                                             [&](std::string_view word) { return token == word; });
    if (!stitch) return std::nullopt;
    std::string to = token;
    while (to == token) to = std::string(kWords[draw.below(kWords.size())]);
    return to;
}

/// Stitch by stitch what the hands do, for as many rows as are printed.
std::optional<std::vector<std::vector<Step>>> workedRows(const Pattern& pattern, int castOn, int rows) {
    const auto script = expand(pattern, castOn, rows);
    if (!script) return std::nullopt;
    std::vector<std::vector<Step>> steps;
    for (const WorkedRow& row : script->rows) steps.push_back(row.steps);
    return steps;
}

SpoilShows shows(const Pattern& pattern, const CheckReport& report, const Pattern& whole, std::size_t row) {
    if (!pattern.problems.empty() || pattern.rows.size() != whole.rows.size()) return SpoilShows::unread;
    if (report.ok) return SpoilShows::nowhere;
    const RowOrder order = rowOrder(pattern);
    for (std::size_t i = 0; i < report.rows.size() && i < order.rows.size(); ++i) {
        if (order.rows[i].row == row && !report.rows[i].fits) return SpoilShows::thatRow;
        if (!report.rows[i].fits) return SpoilShows::laterRow;
    }
    return SpoilShows::laterRow;
}

/// The problem of the row that is the first not to come out, in working order.
const Problem* firstProblem(const CheckReport& report) {
    for (const CheckedRow& row : report.rows) {
        if (row.fits) continue;
        for (const Problem& problem : report.problems)
            if (problem.row == row.printed) return &problem;
    }
    return report.problems.empty() ? nullptr : &report.problems.front();
}

}  // namespace

Spoiling spoilt(const BookPattern& book, std::uint64_t seed, bool multiple) {
    Draw draw(seed);
    Spoiling spoiling;
    spoiling.book = &book;
    spoiling.castOn = book.castOn(3);
    Pattern whole = book.pattern;
    if (multiple && book.mult > 0) whole.multiple = PrintedMultiple{book.mult, book.edge, {}};
    const std::string text = print(whole);
    const Pattern read = parse(text);
    for (;;) {
        const std::size_t index = draw.below(read.rows.size());
        const Place& place = read.rows[index].place;
        const Span body{text.find(':', place.begin) + 1, place.end};
        const std::vector<Span> tokens = tokensOf(text, body);
        if (tokens.empty()) continue;
        const Span token = tokens[draw.below(tokens.size())];
        spoiling.was = text.substr(token.begin, token.end - token.begin);
        spoiling.spoil = static_cast<Spoil>(draw.below(3));
        if (spoiling.spoil == Spoil::changed) {
            const std::optional<std::string> changed = changedToken(spoiling.was, draw);
            if (!changed) continue;
            spoiling.now = *changed;
        } else if (spoiling.spoil == Spoil::doubled) {
            const bool comma = token.end < text.size() && text[token.end] == ',';
            spoiling.now = spoiling.was + (comma ? ", " : " ") + spoiling.was;
        } else {
            spoiling.now.clear();
        }
        std::string printed = text;
        printed.replace(token.begin, token.end - token.begin, spoiling.now);
        spoiling.row = index;
        spoiling.pattern = parse(printed);
        spoiling.shows =
            shows(spoiling.pattern, check(spoiling.pattern, spoiling.castOn), read, spoiling.row);
        return spoiling;
    }
}

std::vector<Spoiling> spoilings(const std::vector<BookPattern>& books, std::uint64_t seed, int n,
                                bool multiple) {
    std::vector<Spoiling> list;
    int judged = 0;
    int here = 0;
    const int mostHere = n * 3 / 5;
    Draw draw(seed);
    for (std::size_t i = 0; judged < n; ++i) {
        if (i > static_cast<std::size_t>(n) * 200) throw std::runtime_error("too few spoilings show");
        Spoiling spoiling = spoilt(books[i % books.size()], draw.next(), multiple);
        if (spoiling.shows == SpoilShows::thatRow) {
            if (here == mostHere) continue;
            ++here;
            ++judged;
        } else if (spoiling.shows == SpoilShows::laterRow) {
            ++judged;
        }
        list.push_back(std::move(spoiling));
    }
    return list;
}

Verdict judge(const Spoiling& spoiling) {
    Verdict verdict;
    const CheckReport report = check(spoiling.pattern, spoiling.castOn);
    const Problem* problem = firstProblem(report);
    if (!problem) return verdict;
    verdict.shown = static_cast<int>(problem->suggestions.size());
    const int rows = static_cast<int>(rowOrder(spoiling.book->pattern).rows.size());
    const auto truth = workedRows(spoiling.book->pattern, spoiling.castOn, rows);
    for (std::size_t i = 0; i < problem->suggestions.size(); ++i) {
        for (const Repair& repair : report.repairs) {
            if (repair.words != problem->suggestions[i]) continue;
            Pattern repaired = spoiling.pattern;
            repaired.rows[repair.row] = repair.repaired;
            repaired.problems.clear();
            if (workedRows(repaired, spoiling.castOn, rows) != truth) continue;
            verdict.rank = static_cast<int>(i) + 1;
            return verdict;
        }
    }
    return verdict;
}

void SpoilTally::add(const Spoiling& spoiling, const Verdict& verdict) {
    if (spoiling.shows == SpoilShows::unread) {
        ++unread;
        unreadFirstThree += verdict.rank >= 1 && verdict.rank <= 3 ? 1 : 0;
        unreadShown += verdict.rank > 0 ? 1 : 0;
        return;
    }
    if (spoiling.shows == SpoilShows::nowhere) {
        ++nowhere;
        return;
    }
    ++judged;
    later += spoiling.shows == SpoilShows::laterRow ? 1 : 0;
    first += verdict.rank == 1 ? 1 : 0;
    firstThree += verdict.rank >= 1 && verdict.rank <= 3 ? 1 : 0;
    shown += verdict.rank > 0 ? 1 : 0;
    lines += verdict.shown;
}

}  // namespace loopmend::outside
