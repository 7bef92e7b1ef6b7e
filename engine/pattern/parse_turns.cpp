// SPDX-License-Identifier: MIT
// The words for turning in mid-row and what is worked there later, and for edges.
#include "pattern/reader.h"

#include "pattern/problem_at.h"

#include <algorithm>

namespace loopmend {

bool Reader::turnOrEdge(Item& item) {
    if (peek().kind != TokenKind::word) return false;
    return turnWords(item) || workedAtTurn(item) || pickUpWords(item) || castOrBindOtherwise(item);
}

/// `turn`, `turn the work`; `w&t`, `wrap and turn`, `wrap next st and turn`; `ds`.
bool Reader::turnWords(Item& item) {
    const std::size_t start = at_;
    const auto work = [&] {
        take("the");
        take("work");
    };
    if (is("turn") && is("over", 1)) return false;
    if (take("turn")) {
        work();
        // "turn and leave rem sts on a holder": nothing waits on the needle, so the row simply ends
        const std::size_t behind = at_;
        takeAny({",", "."});
        take("and");
        if (isAny({"leave", "leaving"}) && holder(item) && item.kind == ItemKind::run) return true;
        at_ = behind;
        item = made(Op::turn);
        return true;
    }
    if (take("wt")) {
        item = made(Op::wrapTurn);
        return true;
    }
    if (take("w") || take("wrap")) {
        take("the");
        take("next");
        stitchWord();
        take(",");
        takeAny({"&", "and"});
        if (takeAny({"t", "turn"})) {
            work();
            item = made(Op::wrapTurn);
            return true;
        }
        at_ = start;
        return false;
    }
    if (take("make")) takeAny({"a", "the", "one"});
    if (takeAny({"ds", "mds"}) || (take("double") && (take("the"), take("next"), stitchWord())) ||
        (take("doubled") && stitchWord())) {
        item = made(Op::doubled);
        return true;
    }
    at_ = start;
    return false;
}

/// `k ds`, `p ds`; `k1 with its wrap`, `p2 with their wraps`; `k1 with its float`.
bool Reader::workedAtTurn(Item& item) {
    const std::size_t start = at_;
    const bool knitted = bareKnit(peek().text);
    if (!knitted && !barePurl(peek().text)) return false;
    ++at_;
    take("the");
    take("next");
    if (take("ds") || (takeAny({"doubled", "double"}) && stitchWord())) {
        item = made(knitted ? Op::knitDoubled : Op::purlDoubled);
        return true;
    }
    if (takeAny({"wrap", "wraps"})) {  // "knit wrap together with st"
        takeAny({"tog", "together"});
        if (take("with")) {
            takeAny({"the", "its", "next", "wrapped"});
            takeAny({"wrapped"});
            if (stitchWord()) {
                item = made(knitted ? Op::knitWithWrap : Op::purlWithWrap);
                return true;
            }
        }
        at_ = start;
        return false;
    }
    if (!wordsAfterNumber(start + 1, {"with", "tog", "together"})) {
        at_ = start;
        return false;
    }
    at_ = start + 1;
    take("the");
    take("next");
    int n = 1;
    number(n);
    take("wrapped");
    stitchWord();
    if (takeAny({"with", "tog", "together"})) {
        take("with");
        takeAny({"its", "their", "the"});
        if (takeAny({"wrap", "wraps"})) {
            item = made(knitted ? Op::knitWithWrap : Op::purlWithWrap, n);
            return true;
        }
        if (takeAny({"float", "floats", "strand", "strands"})) {
            take("behind");
            item = made(knitted ? Op::knitWithFloat : Op::purlWithFloat, n);
            return true;
        }
    }
    at_ = start;
    return false;
}

/// Whether one of these words stands behind the number that may stand here. Looks only: a number that is read
/// is also complained of.
bool Reader::wordsAfterNumber(std::size_t token, std::initializer_list<std::string_view> words) {
    const std::size_t start = at_;
    at_ = token;
    take("the");
    take("next");
    if (peek().kind == TokenKind::number) ++at_;
    take("wrapped");
    stitchWord();
    const bool found = isAny(words);
    at_ = start;
    return found;
}

/// `pick up and knit 17 sts along the edge`, `... along the cast-on edge`, `... along the bound-off edge`.
bool Reader::pickUpWords(Item& item) {
    const std::size_t start = at_;
    if (!takeAny({"pick"})) return false;
    if (take("up")) {
        if (takeAny({"and", "&"})) takeAny({"knit", "k"});
        int n = 0;
        if (number(n) && n > 0) {
            stitchWord();
            Edge edge = Edge::side;
            takeAny({"along", "down", "up", "from", "on"});
            takeAny({"the", "its", "this"});
            const std::size_t behind = at_;
            if (take("cast")) {
                take("-");
                if (take("on")) edge = Edge::castOn;
            } else if (takeAny({"bound", "bind", "cast"})) {
                take("-");
                if (take("off")) edge = Edge::boundOff;
            } else {
                takeAny({"side", "flap", "left", "right"});
            }
            if (edge == Edge::side && is("off") && tokens_->list[behind].text == "cast") {
                ++at_;
                edge = Edge::boundOff;
            }
            takeAny({"edge", "side", "selvedge"});
            item = counted(Op::pickUp, n);
            item.step.edge = edge;
            return true;
        }
    }
    at_ = start;
    return false;
}

/// `cast on 2 knitted`, `cast on 2 turned right`; `bind off 6 together`.
bool Reader::castOrBindOtherwise(Item& item) {
    const std::size_t start = at_;
    int n = 1;
    if (take("co") || takeSeq({"cast", "on"})) {
        if (wordsAfterNumber(at_, {"knitted", "knitwise", "kwise", "by", "turned"}) && number(n)) {
            stitchWord();
            if (takeAny({"knitted", "knitwise", "kwise"}) || takeSeq({"by", "knitting"})) {
                item = counted(Op::castOnKnitted, n);
                return true;
            }
            if (takeSeq({"turned", "right"})) {
                item = counted(Op::castOnRight, n);
                return true;
            }
        }
    } else if (take("bo") || takeSeq({"bind", "off"}) || takeSeq({"cast", "off"})) {
        if (wordsAfterNumber(at_, {"together", "tog"})) {
            const bool numbered = number(n);
            stitchWord();
            takeAny({"together", "tog"});
            if (take("with")) {
                take("the");
                takeSeq({"spare", "needle"}) || takeSeq({"stitch", "holder"}) || take("holder");
            }
            item = counted(Op::bindOffTogether, n);
            bare_ = !numbered;
            return true;
        }
    }
    at_ = start;
    return false;
}

/// `k27, turn, cast on 1 st`: cast on at what is the beginning of the next row then.
void Reader::castOnBehindTurn(Row& row) {
    const int before = std::exchange(castOnNext_, 0);
    const std::size_t n = row.items.size();
    if (n >= 2 && row.items[n - 1].kind == ItemKind::stitch && row.items[n - 1].step.op == Op::castOn &&
        turnsWork(row.items[n - 2])) {
        castOnNext_ = row.items[n - 1].step.count;
        row.items.pop_back();
    }
    if (before < 1 || row.items.empty()) return;
    row.items.insert(row.items.begin(), counted(Op::castOnKnitted, before));
    row.items.front().place = row.items[1].place;
}

/// A turn is the last thing in a row, and a stitch is doubled first of all in the next.
void Reader::turnsInPlace(const Row& row) {
    const auto complain = [&](const Item& item, std::string message, std::vector<std::string> suggestions) {
        out_.problems.push_back(
            problemAt(out_, item.place, row_, std::move(message), std::move(suggestions)));
        sound_ = false;
    };
    const auto inside = [&](const std::vector<Item>& items, const auto& again) -> const Item* {
        for (const Item& item : items) {
            if (turnsWork(item) || (item.kind == ItemKind::stitch && item.step.op == Op::doubled))
                return &item;
            if (const Item* found = again(item.items, again)) return found;
        }
        return nullptr;
    };
    for (std::size_t i = 0; i < row.items.size(); ++i) {
        const Item& item = row.items[i];
        if (const Item* found = inside(item.items, inside)) {
            complain(*found, "A turn cannot stand inside a repeat: each turn begins a new row.",
                     {"write the rows out"});
        } else if (turnsWork(item) && i + 1 < row.items.size()) {
            complain(item, "Nothing can follow a turn in the same row: what comes next is a row of its own.",
                     {"begin a new row after the turn"});
        } else if (item.kind == ItemKind::stitch && item.step.op == Op::doubled && i > 0) {
            complain(item, "A stitch is doubled first in a row, right after the turn.", {"turn", "k ds"});
        }
    }
}

}  // namespace loopmend
