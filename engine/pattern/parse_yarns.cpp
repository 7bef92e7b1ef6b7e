// SPDX-License-Identifier: MIT
// Words for what the yarn does: which yarn, how often round the needle, what is let fall, and older loops
// worked into. In brioche a stitch and the yarn-over that was slipped over it count as two loops: `sl1yo`
// leaves both, `brk` and `brp` take both.
#include "pattern/reader.h"

#include <algorithm>

namespace loopmend {

namespace {

constexpr int kMostBalls = 9;
constexpr int kMostTurns = 9;

}  // namespace

/// `MC` and `CC`, the main and the contrast color, as books print them (common practice).
char Reader::colorWord() const {
    const Token& token = peek();
    if (token.kind != TokenKind::word || (token.text != "mc" && token.text != "cc") ||
        token.begin >= out_.text.size() ||
        out_.text.substr(token.begin, 2) != (token.text == "mc" ? "MC" : "CC"))
        return '\0';
    return token.text == "mc" ? 'A' : 'B';
}

/// A capital letter alone; the small one may be a word.
bool Reader::namesYarn() const {
    const Token& token = peek();
    if (colorWord() != '\0') return true;
    if (token.kind != TokenKind::word || token.text.size() != 1 || token.begin >= out_.text.size())
        return false;
    return out_.text[token.begin] >= 'A' && out_.text[token.begin] <= 'Z';
}

/// `B`, `A2` (the second ball of that color).
bool Reader::yarnName(std::uint8_t& yarn) {
    if (!namesYarn()) return false;
    const std::size_t start = at_;
    if (const char color = colorWord(); color != '\0') {
        // `CC2` is a third color, not a second ball.
        const bool numbered = color == 'B' && peek(1).kind == TokenKind::number && peek(1).glued;
        const int n = numbered ? peek(1).value : 1;
        if (n < 1 || n > kMostBalls) return false;
        at_ += numbered ? 2 : 1;
        const char letter = static_cast<char>(color + n - 1);
        if (out_.yarns.find(letter) == std::string::npos) out_.yarns += letter;
        yarn = static_cast<std::uint8_t>(out_.yarns.find(letter));
        understood(start, "MC", "MC, the main color, is yarn A here; CC, the contrast color, is yarn B");
        return true;
    }
    const char letter = out_.text[peek().begin];
    const bool numbered = peek(1).kind == TokenKind::number && peek(1).glued;
    const int ball = numbered ? peek(1).value : 1;
    const bool joined = peek(numbered ? 2 : 1).glued && peek(numbered ? 2 : 1).kind == TokenKind::word;
    if (ball < 1 || ball > kMostBalls || joined) return false;
    at_ += numbered ? 2 : 1;
    int met = static_cast<int>(std::count(out_.yarns.begin(), out_.yarns.end(), letter));
    for (; met < ball; ++met) out_.yarns += letter;
    met = 0;
    std::size_t i = 0;
    while (met < ball) met += out_.yarns[i++] == letter ? 1 : 0;
    yarn = static_cast<std::uint8_t>(i - 1);
    return true;
}

/// `with B`, `with yarn A2`, `change to B`, `rejoin yarn`, `with B linked`: what follows is worked with it.
bool Reader::yarnWords() {
    const std::size_t start = at_;
    const bool with = takeAny({"with", "using"}) || takeSeq({"change", "to"}) || takeSeq({"join"}) ||
                      takeSeq({"switch", "to"});
    if (with) {
        takeAny({"color", "colour", "yarn", "col"});
        if (yarnName(yarn_)) {
            link_ = takeAny({"linked", "linking"});
            if (link_) takeAny({"yarns", "yarn"});
            bare_ = false;
            return true;
        }
    }
    at_ = start;
    // `rejoin yarn`: the one that is knitted with anyway, where stitches had waited
    const bool again = takeAny({"rejoin", "reattach"});
    if (again || takeAny({"join", "attach"})) {
        take("the");
        const bool yarn = takeAny({"yarn", "yarns", "wool"});
        if (again && yarnName(yarn_)) return true;
        if (yarn && (done() || peek().kind == TokenKind::mark || is("and"))) return true;
    }
    at_ = start;
    return false;
}

/// `k3 B`, `k3 in B`: that stitch alone.
void Reader::yarnBehind(Item& item) {
    const std::size_t start = at_;
    std::uint8_t yarn = 0;
    takeAny({"in", "with"});
    takeAny({"color", "colour"});
    const std::string before = out_.yarns;
    const bool glued = peek().glued;
    if (!glued && yarnName(yarn) &&
        (done() || peek().kind == TokenKind::mark || peek().kind == TokenKind::star)) {
        item.step.yarn = yarn;
        return;
    }
    out_.yarns = before;
    at_ = start;
}

/// Behind a stitch: `wrapping twice`, `wrapping the yarn 3 times round the needle`.
bool Reader::wrapping(Item& item) {
    const std::size_t start = at_;
    take(",");
    if (takeAny({"wrapping", "winding"})) {
        take("the");
        takeAny({"yarn", "wool", "thread", "cotton"});
        const bool round = takeAny({"round", "around"});
        if (round) {
            take("the");
            take("needle");
        }
        int n = 1;
        bool more = false;
        if (times(n, more)) {
            if (takeAny({"round", "around"})) {
                take("the");
                take("needle");
            }
            n = std::clamp(n, 1, kMostTurns);
            if (n > 1) {
                item.step.op = item.step.op == Op::purl ? Op::purlWraps : Op::knitWraps;
                item.step.count = static_cast<std::int16_t>(n);
            }
            return true;
        }
        at_ = start;
        take(",");
        ++at_;
        while (!done() && peek().kind != TokenKind::mark && peek().kind != TokenKind::star) ++at_;
        problem(start, "How many times the yarn goes round the needle is not said.",
                {"k1 wrapping twice", "p1 wrapping 3 times"});
        sound_ = false;
        return true;
    }
    at_ = start;
    return false;
}

/// `let 1 fall`, `drop the extra wrap`.
bool Reader::fallen(Item& item) {
    const std::size_t start = at_;
    const bool let = take("let");
    if (!let && !take("drop")) return false;
    take("the");
    takeAny({"next"});
    int n = 1;
    const bool numbered = number(n);
    takeAny({"extra", "further"});
    const bool thing = takeAny({"wrap", "wraps", "loop", "loops", "turn", "turns", "yo", "yos"});
    if (!thing && let) stitchWord();
    if (let ? takeAny({"fall", "drop"}) : thing) {
        if (let) takeSeq({"off", "the", "needle"}) || take("off");
        item = made(Op::letFall, n);
        bare_ = !numbered;
        return true;
    }
    at_ = start;
    return false;
}

/// rli, lli and what the old books call raising.
bool Reader::lifted(Item& item) {
    struct Known {
        std::string_view word;
        Op op;
    };
    static constexpr Known kWords[] = {{"rli", Op::liftedRight},
                                       {"lli", Op::liftedLeft},
                                       {"rlip", Op::liftedRightPurl},
                                       {"llip", Op::liftedLeftPurl}};
    for (const Known& word : kWords) {
        if (!take(word.word)) continue;
        item = made(word.op);
        return true;
    }
    const std::size_t start = at_;
    int n = 1;
    if (take("raise") && number(n)) {
        stitchWord();
        item = made(Op::liftedRight, n);
        return true;
    }
    at_ = start;
    return false;
}

/// brk, brp: the stitch and its yarn-over together.
bool Reader::brioche(Item& item) {
    const bool knitted = is("brk");
    if (!knitted && !is("brp")) return false;
    ++at_;
    int n = 1;
    if (peek().kind == TokenKind::number) number(n);
    item = made(knitted ? Op::k2tog : Op::p2tog, n);
    return true;
}

/// The yarn-over of `sl1yo`, behind the slip.
bool Reader::slippedWithYarnOver(Item& item, int n) {
    if (!is("yo") || !peek().glued) return false;
    ++at_;
    Item slipped = made(Op::slipPurlwiseFront);
    Item over = counted(Op::yarnOver, 1);
    slipped.step.yarn = over.step.yarn = yarn_;  // the group's own is never looked at
    item = Item{};
    item.kind = ItemKind::group;
    item.times = n;
    item.items = {std::move(slipped), std::move(over)};
    return true;
}

}  // namespace loopmend
