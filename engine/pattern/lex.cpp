// SPDX-License-Identifier: MIT
#include "pattern/lex.h"

#include "pattern/pattern.h"

namespace loopmend {

namespace {

bool letter(char c) {
    return c >= 'a' && c <= 'z';
}
bool digit(char c) {
    return c >= '0' && c <= '9';
}
bool continuation(char c) {
    return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U;
}

/// Characters beyond ASCII that printed patterns use, as the plain sign that stands for them.
struct Likeness {
    std::string_view from;
    char to;  // ' ' = a blank
};
constexpr Likeness kLikenesses[] = {
    {"\xE2\x80\x90", '-'},  {"\xE2\x80\x91", '-'},  {"\xE2\x80\x92", '-'}, {"\xE2\x80\x93", '-'},
    {"\xE2\x80\x94", '-'},  {"\xE2\x88\x92", '-'},  {"\xC3\x97", 'x'},     {"\xE2\x88\x97", '*'},
    {"\xE2\x80\x99", '\''}, {"\xE2\x80\x98", '\''}, {"\xE2\x80\x9C", ' '}, {"\xE2\x80\x9D", ' '},
    {"\xC2\xA0", ' '},      {"\xE2\x80\x89", ' '},  {"\xEF\xBB\xBF", ' '}, {"\xE2\x80\xA2", ' '},
};

class Lexer {
  public:
    Lexer(std::string_view text, Tokens& out) : text_(text), out_(out) {
        out_.lower.assign(text);
        for (char& c : out_.lower)
            if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
        lower_ = out_.lower;
        out_.list.clear();
        out_.list.reserve(text.size() / 2 + 1);
    }

    void run() {
        while (at_ < lower_.size()) step();
        emit(TokenKind::end, at_, at_);
    }

  private:
    void step() {
        const char c = lower_[at_];
        if (c == '\n') {
            newline();
        } else if (c == '#' || (c == '/' && at_ + 1 < lower_.size() && lower_[at_ + 1] == '/')) {
            while (at_ < lower_.size() && lower_[at_] != '\n') advance(1);
            glued_ = false;
            lineHasRemark_ = true;
        } else if (c == ' ' || c == '\t' || c == '\r' || c == '"') {
            advance(1);
            glued_ = false;
        } else if (letter(c)) {
            word();
        } else if (digit(c)) {
            number();
        } else if (c == '*') {
            stars();
        } else if (static_cast<unsigned char>(c) < 0x80U) {
            emit(TokenKind::mark, at_, at_ + 1);
            advance(1);
        } else {
            foreign();
        }
    }

    void newline() {
        if (!lineHasToken_ && !lineHasRemark_) blank_ = true;
        ++at_;
        ++line_;
        column_ = 1;
        lineHasToken_ = false;
        lineHasRemark_ = false;
        glued_ = false;
    }

    void word() {
        // "C.O. 13", "B.O."
        for (const auto& [dotted, plain] : {std::pair("c.o.", "co"), std::pair("b.o.", "bo")}) {
            if (lower_.compare(at_, 4, dotted) != 0) continue;
            emit(TokenKind::word, at_, at_ + 4);
            out_.list.back().text = plain;
            advance(4);
            return;
        }
        const std::size_t begin = at_;
        std::size_t end = at_;
        while (end < lower_.size() && (letter(lower_[end]) || innerApostrophe(end))) ++end;
        emit(TokenKind::word, begin, end);
        advance(end - begin);
    }

    bool innerApostrophe(std::size_t i) const {
        return lower_[i] == '\'' && i + 1 < lower_.size() && letter(lower_[i + 1]);
    }

    void number() {
        const std::size_t begin = at_;
        std::size_t end = at_;
        int value = 0;
        while (end < lower_.size() && digit(lower_[end])) {
            // One more than may be printed is enough to know that it is too much.
            if (value <= kLargestNumber) value = value * 10 + (lower_[end] - '0');
            ++end;
        }
        emit(TokenKind::number, begin, end);
        out_.list.back().value = value;
        advance(end - begin);
    }

    void stars() {
        const std::size_t begin = at_;
        std::size_t end = at_;
        while (end < lower_.size() && lower_[end] == '*') ++end;
        emit(TokenKind::star, begin, end);
        out_.list.back().value = static_cast<int>(end - begin);
        advance(end - begin);
    }

    void foreign() {
        for (const Likeness& likeness : kLikenesses) {
            if (lower_.compare(at_, likeness.from.size(), likeness.from) != 0) continue;
            if (likeness.to == ' ') {
                glued_ = false;
            } else {
                const TokenKind kind = likeness.to == '*'   ? TokenKind::star
                                       : likeness.to == 'x' ? TokenKind::word
                                                            : TokenKind::mark;
                emit(kind, at_, at_ + likeness.from.size());
                out_.list.back().value = 1;
                out_.list.back().text = plain(likeness.to);
            }
            advance(likeness.from.size());
            return;
        }
        std::size_t end = at_ + 1;
        while (end < lower_.size() && continuation(lower_[end])) ++end;
        emit(TokenKind::mark, at_, end);
        advance(end - at_);
    }

    static std::string_view plain(char c) {
        switch (c) {
            case '-': return "-";
            case 'x': return "x";
            case '*': return "*";
            default: return "'";
        }
    }

    void emit(TokenKind kind, std::size_t begin, std::size_t end) {
        Token token;
        token.kind = kind;
        token.text = std::string_view(lower_).substr(begin, end - begin);
        token.line = line_;
        token.column = column_;
        token.begin = static_cast<std::uint32_t>(begin);
        token.end = static_cast<std::uint32_t>(end);
        token.glued = glued_ && lineHasToken_;
        token.first = !lineHasToken_;
        token.afterBlank = token.first && (blank_ || out_.list.empty());
        out_.list.push_back(token);
        lineHasToken_ = true;
        blank_ = false;
        glued_ = true;
    }

    void advance(std::size_t bytes) {
        for (std::size_t i = 0; i < bytes; ++i, ++at_)
            if (!continuation(lower_[at_])) ++column_;
    }

    std::string_view text_;
    Tokens& out_;
    std::string_view lower_;
    std::size_t at_ = 0;
    int line_ = 1;
    int column_ = 1;
    bool lineHasToken_ = false;
    bool lineHasRemark_ = false;
    bool blank_ = false;
    bool glued_ = false;
};

}  // namespace

void tokenize(std::string_view text, Tokens& out) {
    Lexer(text, out).run();
}

}  // namespace loopmend
