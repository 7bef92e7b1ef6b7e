// SPDX-License-Identifier: MIT
#include "patterns_tsv.h"

#include <algorithm>
#include <cctype>
#include <fstream>
#include <map>
#include <sstream>
#include <stdexcept>

namespace loopmend::outside {

namespace {

std::vector<std::string> split(const std::string& text, char by) {
    std::vector<std::string> parts;
    std::string part;
    std::istringstream in(text);
    while (std::getline(in, part, by)) parts.push_back(part);
    return parts;
}

std::vector<int> numbers(const std::string& text) {
    std::vector<int> list;
    for (const std::string& part : split(text, ',')) list.push_back(std::stoi(part));
    return list;
}

Item stitch(Op op, int times = 1) {
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

/// Word and number of `k5`, `k2tbl`, `slwyif1`; false if the token is not of that shape.
bool numbered(const std::string& token, std::string& word, int& n, std::string& tail) {
    const std::size_t digit = token.find_first_of("0123456789");
    if (digit == std::string::npos) return false;
    std::size_t end = digit;
    while (end < token.size() && std::isdigit(static_cast<unsigned char>(token[end]))) ++end;
    word = token.substr(0, digit);
    n = std::stoi(token.substr(digit, end - digit));
    tail = token.substr(end);
    return true;
}

Item itemOf(const std::string& token) {
    static const std::map<std::string, Op> kPlain = {
        {"k2tog", Op::k2tog},       {"p2tog", Op::p2tog},
        {"k2togtbl", Op::k2togTbl}, {"p2togtbl", Op::p2togTbl},
        {"skp", Op::skp},           {"ssk", Op::ssk},
        {"k3tog", Op::k3tog},       {"p3tog", Op::p3tog},
        {"k3togtbl", Op::k3togTbl}, {"sk2p", Op::sk2p},
        {"sp2p", Op::sp2p},         {"s2kp", Op::s2kp},
        {"k3in1", Op::sk2p},        {"s1k2po", Op::slip1k2Over},
        {"k2togpo", Op::k2togOver}, {"kpk", Op::kpk},
        {"kfb", Op::kfb},           {"inc", Op::kfb},
        {"m1", Op::m1Left},         {"yo", Op::yarnOver},
    };
    if (const auto found = kPlain.find(token); found != kPlain.end()) return stitch(found->second);
    std::string word;
    std::string tail;
    int n = 0;
    if (!numbered(token, word, n, tail)) throw std::runtime_error("unknown token " + token);
    if (word == "k") return stitch(tail == "tbl" ? Op::knitTbl : Op::knit, n);
    if (word == "p") return stitch(tail == "tbl" ? Op::purlTbl : Op::purl, n);
    if (word == "sl") {
        Item item = stitch(Op::slipPurlwiseBack, n);
        item.yarnSaid = false;
        return item;
    }
    if (word == "slwyif") return stitch(Op::slipPurlwiseFront, n);
    if (word == "yo") return counted(Op::yarnOver, n);
    if (word == "co") return counted(Op::castOn, n);
    if (word == "bo") return counted(Op::bindOff, n);
    if (word == "hold") return counted(Op::hold, n);
    if (word == "c") {
        Item item = stitch(Op::cable);
        item.step.over = item.step.under = static_cast<std::int16_t>(n / 2);
        item.step.front = tail == "f";
        return item;
    }
    throw std::runtime_error("unknown token " + token);
}

class Notation {
  public:
    explicit Notation(const std::string& body) {
        // Brackets are tokens of their own, their closing with what stands behind it.
        std::string spaced;
        for (const char c : body) {
            if (c == ')' || c == ']') spaced += ' ';
            spaced += c;
            if (c == '(' || c == '[') spaced += ' ';
        }
        for (const std::string& token : split(spaced, ' '))
            if (!token.empty()) tokens_.push_back(token);
    }

    std::vector<Item> items() {
        std::vector<Item> list;
        while (at_ < tokens_.size() && tokens_[at_][0] != ')' && tokens_[at_][0] != ']') {
            const std::string token = tokens_[at_++];
            if (token == "(") {
                Item group;
                group.kind = ItemKind::group;
                group.items = items();
                group.times = std::stoi(close(")x"));
                list.push_back(std::move(group));
            } else if (token == "[") {
                Item star;
                star.items = items();
                close("]*");
                const bool one = star.items.size() == 1 && star.items[0].times == 1 &&
                                 (star.items[0].step.op == Op::knit || star.items[0].step.op == Op::purl);
                if (one) {
                    star = star.items[0];
                    star.kind = ItemKind::run;  // [k1]* is "k to ..."
                } else {
                    star.kind = ItemKind::star;
                }
                list.push_back(std::move(star));
            } else {
                list.push_back(itemOf(token));
            }
        }
        return list;
    }

  private:
    std::string close(const std::string& start) {
        if (at_ >= tokens_.size() || tokens_[at_].compare(0, start.size(), start) != 0)
            throw std::runtime_error("bracket not closed by " + start);
        return tokens_[at_++].substr(start.size());
    }

    std::vector<std::string> tokens_;
    std::size_t at_ = 0;
};

}  // namespace

std::vector<Row> rowsFromNotation(const std::string& notation, bool round) {
    std::vector<Row> rows;
    for (const std::string& part : split(notation, '|')) {
        const std::size_t colon = part.find(':');
        if (colon == std::string::npos) throw std::runtime_error("row without a colon: " + part);
        Row row;
        row.round = round;
        for (const std::string& span : split(part.substr(0, colon), ',')) {
            const std::size_t dash = span.find('-');
            const int first = std::stoi(span);
            row.spans.push_back(
                {first, dash == std::string::npos ? first : std::stoi(span.substr(dash + 1))});
        }
        row.items = Notation(part.substr(colon + 1)).items();
        // A star stops where the rest of the row begins.
        for (std::size_t i = 0; i < row.items.size(); ++i) {
            Item& item = row.items[i];
            if (item.kind != ItemKind::star && item.kind != ItemKind::run) continue;
            const std::vector<Item> tail(row.items.begin() + static_cast<std::ptrdiff_t>(i) + 1,
                                         row.items.end());
            item.last = static_cast<int>(usesOf(tail));
            item.until = item.last > 0 ? Until::last : Until::end;
        }
        rows.push_back(std::move(row));
    }
    return rows;
}

std::vector<BookPattern> bookPatterns() {
    std::ifstream in(LOOPMEND_SOURCE_DIR "/tests/outside/patterns.tsv");
    if (!in) throw std::runtime_error("tests/outside/patterns.tsv is not there");
    std::vector<BookPattern> list;
    std::string line;
    std::getline(in, line);  // the names of the columns
    while (std::getline(in, line)) {
        std::vector<std::string> field = split(line, '\t');
        field.resize(17);
        BookPattern book;
        book.id = field[0];
        book.name = field[1];
        book.category = field[2];
        book.source = field[3];
        book.place = field[4] + ", " + field[5];
        book.mult = std::stoi(field[6]);
        book.edge = std::stoi(field[7]);
        book.round = field[8] == "round";
        book.loopFirst = std::stoi(field[9]);
        book.loopLast = std::stoi(field[9].substr(field[9].find('-') + 1));
        book.counts = numbers(field[12]);
        book.perRepeat = numbers(field[13]);
        book.edgeStitches = numbers(field[14]);
        book.closes = field[15] == "yes";
        book.notes = field[16];
        book.countOnly = book.notes.find("count only") != std::string::npos;
        book.pattern.title = book.name;
        book.pattern.round = book.round;
        book.pattern.rows = rowsFromNotation(field[11], book.round);
        // Some begin with a later row of their book; here every pattern begins with row 1.
        const int before = book.pattern.rows.front().spans.front().first - 1;
        for (Row& row : book.pattern.rows)
            for (RowSpan& span : row.spans) span = {span.first - before, span.last - before};
        book.loopFirst -= before;
        book.loopLast -= before;
        // Stitches held in the last row stand for the row that opens the next repeat: no loop of whole rows.
        const auto holds = [](const Row& row) {
            return std::any_of(row.items.begin(), row.items.end(),
                               [](const Item& item) { return item.step.op == Op::hold; });
        };
        if (book.closes && std::none_of(book.pattern.rows.begin(), book.pattern.rows.end(), holds)) {
            RepeatRows repeat;
            repeat.rows = {book.loopFirst, book.loopLast};
            repeat.after = book.pattern.rows.size();
            book.pattern.repeats.push_back(repeat);
        }
        list.push_back(std::move(book));
    }
    return list;
}

}  // namespace loopmend::outside
