// SPDX-License-Identifier: MIT
// Row heads: which rows the words behind them are for.
#include "pattern/reader.h"

#include <algorithm>

#include <fmt/format.h>

namespace loopmend {

namespace {

bool rowish(std::string_view text) {
    return text == "row" || text == "rows" || text == "rnd" || text == "rnds" || text == "round" ||
           text == "rounds" || text == "line";
}

/// `Rwo`, `Rows` with a slip of the finger: the same letters, or one more, or one less.
bool almostRow(std::string_view text) {
    for (const std::string_view word : {"row", "rows", "round", "rnd"}) {
        if (text == word) return false;
        std::string a(text);
        std::string b(word);
        std::sort(a.begin(), a.end());
        std::sort(b.begin(), b.end());
        if (a == b) return true;
        const std::string& longer = a.size() > b.size() ? a : b;
        const std::string& shorter = a.size() > b.size() ? b : a;
        if (longer.size() != shorter.size() + 1 || shorter.size() < 3) continue;
        if (std::includes(longer.begin(), longer.end(), shorter.begin(), shorter.end()) &&
            text.front() == word.front())
            return true;
    }
    return false;
}

}  // namespace

bool Reader::rowWord(bool& round) {
    if (!rowish(peek().text)) return false;
    round = peek().text.substr(0, 2) == "rn" || peek().text.substr(0, 3) == "rou";
    ++at_;
    return true;
}

bool Reader::oneSide(std::optional<Facing>& facing) {
    if (take("rs") || takeSeq({"right", "side"}) || takeSeq({"right", "-", "side"})) {
        facing = Facing::right;
    } else if (take("ws") || takeSeq({"wrong", "side"}) || takeSeq({"wrong", "-", "side"})) {
        facing = Facing::wrong;
    } else {
        return false;
    }
    takeAny({"facing", "row", "rows"});
    return true;
}

/// 4 | 2, 4 and 6 | 1-3 | 5 to 8; with `ordinals`, 1st | 2nd and 4th | 5th to 8th.
bool Reader::headNumbers(Head& head, bool ordinals) {
    const auto one = [&](int& n) {
        const std::size_t start = at_;
        if (ordinals) return ordinal(n);
        // A number with an ending is an ordinal of what follows: "Row 1, 2nd row".
        if (!number(n)) return false;
        if (peek().kind == TokenKind::word && peek().glued && !rowish(peek().text)) {
            at_ = start;
            return false;
        }
        return true;
    };
    RowSpan span;
    if (!one(span.first)) return false;
    while (true) {
        span.last = span.first;
        const std::size_t behind = at_;
        if (takeAny({"-", "to", "through", "thru"})) {
            if (!one(span.last)) {
                at_ = behind;
                span.last = span.first;
            } else if (span.last < span.first) {
                head.complaints.emplace_back(
                    fmt::format("The rows run backwards: {} comes before {}.", span.last, span.first),
                    fmt::format("Rows {}-{}", span.last, span.first));
                std::swap(span.first, span.last);
            }
        }
        if (span.first < 1) {
            head.complaints.emplace_back("Rows are counted from 1.", "Set-up row:");
            span.first = 1;
            span.last = std::max(span.last, 1);
        }
        head.row.spans.push_back(span);
        const std::size_t next = at_;
        const bool comma = takeAny({",", "&"});
        const bool conjunction = take("and");
        if ((!comma && !conjunction) || !one(span.first)) {
            at_ = next;
            return true;
        }
    }
}

/// `every odd row`, `all even-numbered rows`, `every alt row`, `all WS rows`, `every other row`; the word row
/// itself may be missing before a side or be taken already.
bool Reader::everyRows(Head& head) {
    const std::size_t start = at_;
    // "Row 2 and foll alternate rows"
    const bool alternate = isAny({"foll", "following"}) && isAny({"alt", "alternate"}, 1);
    if (!alternate && !takeAny({"every", "all", "each"})) return false;
    takeAny({"following", "foll"});
    std::optional<Facing> side;
    Every every = Every::none;
    if (takeAny({"odd", "uneven"})) {
        every = Every::odd;
    } else if (take("even")) {
        every = Every::even;
    } else if (takeAny({"alt", "alternate", "other", "second"}) || takeSeq({"2", "nd"})) {
        const int n = head.row.spans.empty() ? 2 : head.row.spans.front().first;
        every = n % 2 == 0 ? Every::even : Every::odd;
    } else if (oneSide(side)) {
        every = side == Facing::right ? Every::right : Every::wrong;
    } else if (takeSeq({"remaining"})) {
        at_ = start;
        return false;
    }
    if (every == Every::none) {
        at_ = start;
        return false;
    }
    takeSeq({"-", "numbered"}) || take("numbered");
    takeAny({"following", "foll", "alt", "alternate"});
    bool round = false;
    const bool said =
        rowWord(round) || tokens_->list[at_ - 1].text == "rows" || tokens_->list[at_ - 1].text == "row";
    if (!said) {
        at_ = start;
        return false;
    }
    if (round) head.row.round = true;
    if (takeSeq({"to"}) && !oneSide(side)) {  // "to row 15": the numbers printed say as much
        bool ignored = false;
        rowWord(ignored);
        int n = 0;
        number(n);
    }
    head.row.every = every;
    return true;
}

/// (RS), RS, [WS], (right side facing), and a remark in brackets before the colon.
void Reader::headSide(Head& head) {
    while (true) {
        const std::size_t start = at_;
        std::optional<Facing> side;
        take(",");
        if (oneSide(side)) {
            head.row.facing = side;
            continue;
        }
        at_ = start;
        if (is("(") || is("[")) {
            const std::string_view close = is("(") ? ")" : "]";
            ++at_;
            bool onlySides = true;
            while (!done() && peek().text != close && !peek().first) {
                if (oneSide(side)) {
                    head.row.facing = side;
                } else if (is("and") && isAny({"every", "all", "each", "foll", "following"}, 1)) {
                    ++at_;
                    if (!everyRows(head)) onlySides = false;
                } else if (rowNameAhead()) {
                    head.name = rowName();  // "Row 5 (dec row):"
                    at_ += 2;
                } else {
                    if (!isAny({",", "and", "facing"})) onlySides = false;
                    ++at_;
                }
            }
            if (take(close) && (onlySides || is(":"))) continue;
            at_ = start;
        }
        return;
    }
}

/// `dec row`, `eyelet rnd`: a row called by what it does.
bool Reader::rowNameAhead() const {
    return isAny({"dec", "decrease", "inc", "increase", "shaping", "eyelet", "buttonhole", "ridge", "cable",
                  "turning", "picot", "lace", "rib", "neck", "crown", "gusset", "final", "last"}) &&
           rowish(peek(1).text);
}

std::string Reader::rowName() const {
    return is("decrease") ? "dec" : is("increase") ? "inc" : std::string(peek().text);
}

/// How many words stand on the line before the word row; 0: none, or too many for a name.
std::size_t Reader::wordsBeforeRow() const {
    constexpr std::size_t kMostWords = 3;
    std::size_t words = 0;
    const auto onLine = [&](std::size_t i) { return i == 0 || !peek(i).first; };
    while (words <= kMostWords && peek(words).kind == TokenKind::word && !rowish(peek(words).text) &&
           onLine(words))
        ++words;
    return words <= kMostWords && onLine(words) && rowish(peek(words).text) ? words : 0;
}

/// `Moss st row:`, `Thumb opening rnd (RS):`: a row called by more words than one, at its first.
bool Reader::longName(Head& head) {
    if (isAny({"ws", "rs", "wrong", "right", "even", "odd", "next", "every", "all", "each", "rep", "repeat",
               "work", "these", "as"}))
        return false;
    const std::size_t words = wordsBeforeRow();
    if (words < 2 || peek(words).text.back() == 's' || !(is(":", words + 1) || is("(", words + 1)))
        return false;
    head.name = rowName();
    at_ += words;
    return true;
}

/// `Rib row 1:`, `Short row 2 (WS):`: words of its own before the number, as a heading would have them.
void Reader::labelAhead(Head& head) {
    if (isAny({"next", "rep", "repeat", "work", "knit", "purl", "k", "p", "as", "every", "all", "each",
               "these", "cont", "continue", "from", "until", "end", "ending"}))
        return;
    const std::size_t words = wordsBeforeRow();
    if (words == 0 || peek(words + 1).kind != TokenKind::number) return;
    bool colon = false;
    for (std::size_t i = words + 2; i < words + 9 && !colon; ++i) {
        if (peek(i).first) break;
        colon = peek(i).text == ":";
    }
    if (!colon) return;
    const std::size_t start = at_;
    at_ += words;
    head.label = wordsFrom(start);
}

/// Whether a row head stands at `token`; in the middle of a line only with its colon.
bool Reader::headAt(std::size_t token, bool lineStart, Head& head) {
    const std::size_t oldAt = at_;
    const std::size_t oldLimit = limit_;
    const std::size_t oldProblems = out_.problems.size();
    const bool oldSound = sound_;
    const std::size_t oldNotes = out_.understood.size();
    const std::size_t oldSaid = said_.size();
    at_ = token;
    limit_ = tokens_->list.size() - 1;
    head = Head{};
    const auto leave = [&](bool found) {
        head.body = at_;
        at_ = oldAt;
        limit_ = oldLimit;
        sound_ = oldSound;
        out_.understood.resize(oldNotes);
        said_.resize(oldSaid);
        if (out_.problems.size() > oldProblems) {  // a number too large: said when the row is read
            head.complaints.emplace_back(out_.problems.back().message, std::string());
            out_.problems.resize(oldProblems);
        }
        return found;
    };
    bool round = false;
    bool named = false;
    if (lineStart) labelAhead(head);
    if (isAny({"next", "set", "setup", "foundation", "preparation", "prep"}) || is("following")) {
        const bool next = is("next") || is("following");
        ++at_;
        takeSeq({"-", "up"}) || take("up");
        int several = 1;
        if (next && number(several) && several > 1 && rowWord(round)) {
            head.next = named = true;  // "Next 2 rows:"
            head.nextRows = several;
        } else if (rowWord(round)) {
            int n = 0;
            if (number(n)) return leave(false);  // "next row 3", "next rows 2": not a head
            head.next = next;
            const std::size_t behind = at_;
            takeAny({",", "&"});
            if (!next || !take("and") || !everyRows(head)) at_ = behind;  // "Next row and every alt row"
            if (!next) head.row.spans.push_back({0, 0});
            named = true;
        } else if (!next && lineStart && is(":") &&
                   (bareKnit(peek(1).text) || barePurl(peek(1).text) || isAny({"sl", "slip", "(", "["}, 1) ||
                    peek(1).kind == TokenKind::star)) {  // "Set up: k3, pm, k to end"
            head.row.spans.push_back({0, 0});
            named = true;
        }
    } else if (isAny({"every", "all", "each"}) && (is(":", 2) || is("(", 2)) && rowish(peek(1).text)) {
        ++at_;  // "Every row: knit."
        named = rowWord(round);
        head.row.spans.push_back({1, 1});
    } else if (isAny({"every", "all", "each"})) {
        named = everyRows(head);
    } else if (lineStart && longName(head)) {
        named = head.next = rowWord(round);
    } else if (rowNameAhead() && (is(":", 2) || is("(", 2) || is("[", 2))) {
        head.name = rowName();
        ++at_;
        named = head.next = rowWord(round);
    } else if (isAny({"even", "odd", "ws", "rs", "wrong", "right"})) {
        std::optional<Facing> side;
        if (oneSide(side)) {
            // "RS rows:" takes its own word row.
            const std::string_view last = tokens_->list[at_ - 1].text;
            named = last == "rows" || rowWord(round);
            head.row.every = side == Facing::right ? Every::right : Every::wrong;
        } else {
            head.row.every = is("even") ? Every::even : Every::odd;
            ++at_;
            takeSeq({"-", "numbered"}) || take("numbered");
            named = rowWord(round);
        }
        int n = 0;
        if (named && !is(":")) named = false;
        if (named && number(n)) named = false;
    } else if (rowWord(round) || (is("r") && lineStart && peek(1).kind == TokenKind::number && ++at_ > 0)) {
        if (headNumbers(head, false)) {
            named = true;
            headSide(head);  // "Row 1 (WS) and all WS rows"
            const std::size_t behind = at_;
            takeAny({",", "&"});
            take("and");
            if (!everyRows(head)) at_ = behind;
        } else if (is(":") && lineStart) {
            head.unnumbered = named = true;
        }
    } else if (lineStart && peek().kind == TokenKind::word && peek(1).kind == TokenKind::number &&
               is(":", 2) && almostRow(peek().text)) {
        ++at_;
        named = head.misspelt = headNumbers(head, false);
        round = tokens_->list[token].text.find('d') != std::string_view::npos;
    } else if (headNumbers(head, true)) {
        const std::size_t behind = at_;
        takeAny({",", "&"});
        take("and");
        if (everyRows(head)) {
            named = true;
        } else {
            at_ = behind;
            named = rowWord(round);
            if (named) {
                headSide(head);
                const std::size_t next = at_;
                takeAny({",", "&"});
                take("and");
                if (!everyRows(head)) at_ = next;
            }
        }
    }
    if (!named) return leave(false);
    if (round) head.row.round = true;
    headSide(head);
    if (takeAny({":"})) {
        if (is("(") || is("[")) headSide(head);  // "1st row: (right side) Knit."
        return leave(true);
    }
    if (!lineStart) {
        // "2nd row. - p1, k1"
        if (!(is(".") && is("-", 1)) && !is("-")) return leave(false);
        take(".");
        while (take("-")) {
        }
        return leave(true);
    }
    // "Rows 1-8 form the pattern." is a remark about rows.
    if (isAny({"form", "forms", "set", "sets", "make", "makes", "is", "are", "should", "of", "will"}) ||
        (is("should") || is("only") || is("complete")))
        return leave(false);
    take(".");
    while (takeAny({"-", "="})) {
    }
    return leave(true);
}

}  // namespace loopmend
