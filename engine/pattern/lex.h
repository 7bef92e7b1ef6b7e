// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace loopmend {

enum class TokenKind : std::uint8_t { word, number, star, mark, end };

/// A run of letters, a run of digits, a run of stars, or one mark. `k2tog` is three tokens, glued: so `K 2
/// tog`, `k2 tog` and `knit 2 tog` are read by one rule.
struct Token {
    TokenKind kind = TokenKind::end;
    std::string_view text;  ///< lower case; dashes are `-`, all quotes are gone
    int value = 0;          ///< number; stars in a run of stars
    int line = 1;
    int column = 1;
    std::uint32_t begin = 0;
    std::uint32_t end = 0;
    bool glued = false;       ///< nothing stands between this and the token before
    bool first = false;       ///< first of its line
    bool afterBlank = false;  ///< first of its line, and the line before is empty
};

/// The tokens of a text, closed by one of kind `end`. Text from `#` or `//` to the end of its line is a
/// remark and gives none. Any bytes at all are accepted.
struct Tokens {
    std::string lower;  ///< what Token::text points into
    std::vector<Token> list;
};

/// The views point into the result, so it does not move once made: hence the out parameter.
void tokenize(std::string_view text, Tokens& out);

}  // namespace loopmend
