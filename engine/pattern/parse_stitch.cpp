// SPDX-License-Identifier: MIT
// The words for one stitch. Every rule starts at the cursor and takes the longest form it knows.
#include "pattern/reader.h"

#include <fmt/format.h>

namespace loopmend {

namespace {

/// Words that are a whole operation by themselves.
struct WholeWord {
    std::string_view word;
    Op op;
};
constexpr WholeWord kWholeWords[] = {
    {"ssk", Op::ssk},      {"sssk", Op::sssk},      {"ssp", Op::ssp},           {"spp", Op::spp},
    {"skp", Op::skp},      {"skpo", Op::skp},       {"skpsso", Op::skp},        {"cdd", Op::s2kp},
    {"kpk", Op::kpk},      {"kyok", Op::kyok},      {"pkp", Op::pkp},           {"pyop", Op::pyop},
    {"narrow", Op::k2tog}, {"widen", Op::yarnOver}, {"passover", Op::passOver}, {"cddp", Op::s2pp},
};

/// `fb`, `fbf`: front and back leg in turn, so many loops; 0: it says something else.
int legsIn(std::string_view text) {
    constexpr std::size_t kMostLoops = 9;
    if (text.size() < 2 || text.size() > kMostLoops) return 0;
    for (std::size_t i = 0; i < text.size(); ++i)
        if (text[i] != (i % 2 == 0 ? 'f' : 'b')) return 0;
    return static_cast<int>(text.size());
}

Item eachLeg(bool knitted, int loops) {
    return counted(knitted ? Op::kfb : Op::pfb, loops == 2 ? 1 : loops);
}

}  // namespace

bool Reader::stitch(Item& item) {
    const std::size_t start = at_;
    bare_ = false;
    const bool found = [&] {
        if (aliased(item) || turnOrEdge(item)) return true;
        const Token& token = peek();
        if (token.kind == TokenKind::number) return crossCable(item);
        if (token.kind != TokenKind::word) return false;
        if (bareKnit(token.text)) return knitOrPurl(item, true);
        if (barePurl(token.text)) return knitOrPurl(item, false);
        const bool knitted = token.text.front() == 'k';
        if (knitted || token.text.front() == 'p') {
            if (const int loops = legsIn(token.text.substr(1))) {
                ++at_;
                item = eachLeg(knitted, loops);
                return true;
            }
        }
        for (const WholeWord& whole : kWholeWords) {
            if (whole.word != token.text) continue;
            ++at_;
            item = made(whole.op);
            return true;
        }
        return shortName(item) || slip(item) || yarnOver(item) || makeOne(item) || cable(item) ||
               castOrBind(item) || holder(item) || passOverItem(item) || lifted(item) || fallen(item) ||
               brioche(item);
    }();
    if (found) {
        item.step.yarn = yarn_;
        item.step.link = link_;
        if (item.kind == ItemKind::group && !item.items.empty()) item.items.front().step.link = link_;
        link_ = false;
        if (item.kind == ItemKind::stitch) yarnBehind(item);
        item.place = placeFrom(start);
    }
    return found;
}

bool Reader::aliased(Item& item) {
    if (aliases_.empty() || peek().kind == TokenKind::mark) return false;
    std::size_t next = at_;
    const std::string_view words = cluster(at_, next);
    for (auto it = aliases_.rbegin(); it != aliases_.rend(); ++it) {
        if (it->first != words) continue;
        item = it->second;
        at_ = next;
        return true;
    }
    return false;
}

bool Reader::throughBack() {
    if (takeAny({"tbl", "tbls"}) || takeSeq({"-", "tbl"})) return true;
    if (is("(") && isAny({"through", "thru", "tbl"}, 1)) {
        const std::size_t open = at_++;
        if (throughBack() && take(")")) return true;
        at_ = open;
        return false;
    }
    if (takeSeq({"from", "behind"}) || takeSeq({"at", "the", "back"})) return true;
    const std::size_t start = at_;
    if (takeAny({"in", "into", "through", "thru"})) {
        take("the");
        if (take("back")) {
            takeAny({"loop", "loops", "leg", "legs"});
            if (take("of")) {
                take("the");
                stitchWord();
            }
            return true;
        }
    }
    at_ = start;
    return false;
}

bool Reader::together(Item& item, bool knitted, int n) {
    const std::size_t start = at_;
    bool tbl = false;
    bool over = false;
    if (takeAny({"tog", "together"})) {
        tbl = throughBack();
    } else if (take("togtbl")) {
        tbl = true;
    } else if (knitted && take("togpo")) {
        over = true;
    } else {
        return false;
    }
    if (knitted && n == 2 && !tbl && !over) {
        const std::size_t before = at_;
        take(",");
        if (take("pass")) {
            take("the");
            over = takeSeq({"st", "before", "it", "over"}) || takeSeq({"stitch", "before", "it", "over"}) ||
                   takeSeq({"previous", "st", "over"}) || takeSeq({"previous", "stitch", "over"});
            if (over) take("it");
        }
        if (!over) at_ = before;
    }
    if (over) {
        item = made(Op::k2togOver);
        return true;
    }
    if (n == 2) {
        item = made(knitted ? (tbl ? Op::k2togTbl : Op::k2tog) : (tbl ? Op::p2togTbl : Op::p2tog));
    } else if (n == 3) {
        item = made(knitted ? (tbl ? Op::k3togTbl : Op::k3tog) : (tbl ? Op::p3togTbl : Op::p3tog));
    } else {
        const std::string_view word = knitted ? "k" : "p";
        item = made(knitted ? Op::k2tog : Op::p2tog);
        problem(start, fmt::format("{} stitches worked together are not known here: 2 or 3 are.", n),
                {fmt::format("{}2tog", word), fmt::format("{}3tog", word)});
        sound_ = false;
    }
    return true;
}

/// `f&b`, `fbf`, `into the front and the back`, `in front, back and front`.
int Reader::legsInTurn() {
    const std::size_t start = at_;
    if (const int loops = legsIn(peek().text)) {
        ++at_;
        return loops;
    }
    takeAny({"in", "into"});
    int loops = 0;
    std::size_t end = at_;
    while (true) {
        take("the");
        const bool front = loops % 2 == 0;
        if (!(front ? takeAny({"front", "f"}) : takeAny({"back", "b"}))) break;
        ++loops;
        end = at_;
        takeAny({",", "&", "and", "/"});
        take("and");
    }
    at_ = loops >= 2 ? end : start;
    return loops >= 2 ? loops : 0;
}

/// `next`, `the first`, `last`, before a stitch or several.
bool Reader::whichStitch() {
    const std::size_t start = at_;
    take("the");
    if (take("next")) return true;
    if (is("1") && is("st", 1) && peek(1).glued && isAny({"st", "stitch"}, 2)) {  // "inc in 1st st"
        at_ += 2;
        return true;
    }
    if (takeAny({"first", "last"})) {
        const std::size_t here = at_;
        if (peek().kind == TokenKind::number) ++at_;
        const bool stitches = stitchWord();
        at_ = here;
        if (stitches) return true;
    }
    at_ = start;
    return false;
}

bool Reader::knitOrPurl(Item& item, bool knitted) {
    const std::size_t start = at_;
    ++at_;
    const Op plain = knitted ? Op::knit : Op::purl;
    const bool one = whichStitch();
    if (const int loops = legsInTurn()) {
        item = eachLeg(knitted, loops);
    } else if (throughBack()) {
        bare_ = true;
        item = made(knitted ? Op::knitTbl : Op::purlTbl);
        return true;
    } else {
        int n = 1;
        const bool numbered = number(n) || (one && isAny({"st", "stitch"}));
        if (numbered && knitted) take("plain");  // "knit 2 plain"
        if (numbered) stitchWord();
        if (together(item, knitted, n)) return true;
        if (throughBack()) {
            item = made(knitted ? Op::knitTbl : Op::purlTbl, n);
            stitchWord();
        } else if (take("below") || takeSeq({"in", "row", "below"}) ||
                   takeSeq({"in", "the", "row", "below"}) || takeSeq({"into", "the", "row", "below"}) ||
                   takeSeq({"in", "st", "below"}) || takeSeq({"in", "the", "stitch", "below"}) ||
                   takeSeq({"into", "the", "stitch", "below"})) {
            item = made(knitted ? Op::knitBelow : Op::purlBelow, n);
        } else if (numbered && is("b") && (peek().glued || (!numberAhead(1) && !namesYarn()))) {
            ++at_;
            if (options_.k1bIsBelow) {
                item = *options_.k1bIsBelow ? made(knitted ? Op::knitBelow : Op::purlBelow, n)
                                            : made(knitted ? Op::knitTbl : Op::purlTbl, n);
            } else {
                item = made(knitted ? Op::knitTbl : Op::purlTbl, n);
                const std::string_view letter = knitted ? "k" : "p";
                problem(
                    start,
                    fmt::format("“{}” means through the back loop in some books and into the stitch below "
                                "in others; the book's key says which.",
                                wordsFrom(start)),
                    {fmt::format("{}{} tbl", letter, n), fmt::format("{}{} below", letter, n)});
                sound_ = false;
            }
        } else {
            item = made(plain, n);
            bare_ = !numbered;
            if (const int legs = n == 1 ? legsInTurn() : 0) {
                item = eachLeg(knitted, legs);
                bare_ = false;
            }
        }
    }
    if (item.step.op == Op::kfb || item.step.op == Op::pfb) {
        if (take("of")) {
            takeAny({"the", "one"});
            take("next");
        }
        stitchWord();
    } else if (item.step.op == Op::knit || item.step.op == Op::purl) {
        wrapping(item);
    }
    return true;
}

/// Names with a number inside: sk2p, s2kp, s1k2po ...
bool Reader::shortName(Item& item) {
    struct Form {
        std::string_view a, b, c, d, e;
        Op op;
    };
    static constexpr Form kForms[] = {
        {"sk", "2", "p", "", "", Op::sk2p},          {"sk", "2", "po", "", "", Op::sk2p},
        {"sk", "2", "togpo", "", "", Op::sk2p},      {"sp", "2", "p", "", "", Op::sp2p},
        {"sp", "2", "po", "", "", Op::sp2p},         {"s", "2", "kp", "", "", Op::s2kp},
        {"s", "2", "kpo", "", "", Op::s2kp},         {"s", "2", "pp", "", "", Op::s2pp},
        {"s", "2", "ppo", "", "", Op::s2pp},         {"s", "2", "k", "1", "p", Op::s2kp},
        {"s", "1", "k", "2", "po", Op::slip1k2Over},
    };
    for (const Form& form : kForms) {
        if (!is(form.a) || !is(form.b, 1) || !peek(1).glued || !is(form.c, 2) || !peek(2).glued) continue;
        std::size_t length = 3;
        if (!form.d.empty()) {
            if (!is(form.d, 3) || !is(form.e, 4) || !peek(4).glued) continue;
            length = 5;
        } else if (form.c == "p" && peek(3).glued && peek(3).kind == TokenKind::number) {
            continue;  // "sp2p2": not ours
        }
        at_ += length;
        item = made(form.op);
        return true;
    }
    if ((isAny({"centred", "centered", "central"}) && is("double", 1)) ||
        (is("double") && isAny({"centred", "centered", "central"}, 1))) {
        at_ += 2;
        takeAny({"decrease", "dec"});
        item = made(Op::s2kp);
        return true;
    }
    return false;
}

/// `yarn forward` moves the yarn before a purl or a slip, and is a yarn-over before anything else.
bool Reader::yarnMove(Item& item, std::size_t start) {
    takeAny({","});
    // Only a plain word may follow: the rule never calls itself twice.
    if (isAny({"sl", "slip"})) {
        pendingYarnFront_ = true;
        const bool slipped = stitch(item) && uses(item.step) == makes(item.step);
        pendingYarnFront_ = false;
        if (slipped) {
            item.yarnForward = item.kind == ItemKind::stitch && item.times == 1;
            return true;
        }  // else `yfwd, sl1, k1, psso`: a yarn-over before a decrease
    } else if (barePurl(peek().text)) {
        const bool purled = stitch(item);
        item.yarnForward = purled && item.kind == ItemKind::stitch;
        return purled;
    }
    at_ = start;
    return false;
}

/// `yarn back`, before a slip or a stitch that has it there anyway.
bool Reader::yarnBack(Item& item, std::size_t start) {
    takeAny({","});
    pendingYarnBack_ = isAny({"sl", "slip"});
    if ((pendingYarnBack_ || bareKnit(peek().text) || barePurl(peek().text)) && stitch(item)) return true;
    pendingYarnBack_ = false;
    at_ = start;
    return false;
}

bool Reader::yarnOver(Item& item) {
    const std::size_t start = at_;
    const auto wraps = [&](int n) {
        item = counted(Op::yarnOver, n);
        const std::size_t before = at_;
        int said = 1;
        bool more = false;
        if (peek().kind == TokenKind::number && peek().glued) {
            number(said);
        } else if (!times(said, more) || more) {
            at_ = before;
            said = 1;
        }
        if (said > 1) item.step.count = static_cast<std::int16_t>(said);
        return true;
    };
    if (takeAny({"yo", "yon", "yrn", "yfrn", "yfon", "over", "yarnover", "o", "won", "wrn"})) return wraps(1);
    if (takeSeq({"turn", "over"})) return wraps(1);  // old: the thread turned over the needle
    if (take("dyo")) return wraps(2);
    if (takeSeq({"double", "yo"}) || takeSeq({"double", "yarn", "over"})) return wraps(2);
    if (takeSeq({"reverse", "yo"}) || takeSeq({"rev", "yo"}) || takeSeq({"backward", "yo"}) ||
        takeSeq({"reverse", "yarn", "over"}) || takeSeq({"backward", "yarn", "over"})) {
        wraps(1);
        item.step.op = Op::yarnOverReverse;
        return true;
    }
    // yarn | wool | cotton ..., said in full.
    bool verb = takeAny({"bring", "throw", "put", "take", "move"});
    if (verb) take("the");
    const bool yarn = takeAny({"yarn", "wool", "wl", "cotton", "thread", "silk", "y"});
    if (yarn) {
        if (take("over")) {
            takeAny({"the", "right"});
            take("needle");
            return wraps(1);
        }
        if (takeSeq({"o"}) || takeSeq({"round", "needle"}) || takeSeq({"around", "needle"}) ||
            takeSeq({"on", "needle"}) || takeSeq({"round", "the", "needle"}))
            return wraps(1);
        if (takeAny({"forward", "fwd"}) || takeSeq({"to", "front"}) || takeSeq({"to", "the", "front"})) {
            if (takeSeq({"and", "round", "needle"}) || takeSeq({"round", "needle"})) return wraps(1);
            const std::size_t behind = at_;
            if (yarnMove(item, behind)) return true;
            return wraps(1);
        }
        if (take("back") || takeSeq({"to", "back"}) || takeSeq({"to", "the", "back"})) {
            return yarnBack(item, start);
        }
        at_ = start;
        return false;
    }
    at_ = start;
    if (takeAny({"yf", "yfwd", "wf", "wfwd", "yft"})) {
        const std::size_t behind = at_;
        if (yarnMove(item, behind)) return true;
        return wraps(1);
    }
    return takeAny({"yb", "ybk", "ybwd"}) && yarnBack(item, start);
}

bool Reader::makeOne(Item& item) {
    const std::size_t start = at_;
    if (takeAny({"inc", "increase"})) {
        int n = 1;
        number(n);
        stitchWord();
        const std::size_t behind = at_;
        if (!(take("in") && whichStitch() && stitchWord())) at_ = behind;
        item = made(Op::kfb, n);
        understood(start, "inc",
                   "which increase is not said: into the front and the back of the stitch; another one would "
                   "change the "
                   "look, not the count");
        return true;
    }
    if (!takeAny({"m", "make"})) return false;
    int n = 1;
    if (!number(n)) {
        at_ = start;
        return false;
    }
    if (is("st") || is("stitch")) ++at_;
    const auto glued = [&](std::string_view text) { return is(text) && peek().glued && take(text); };
    const bool purled = glued("p") || glued("pw") || takeAny({"purl", "purlwise"});
    if (glued("pl") || glued("lp")) {
        item = made(Op::m1PurlLeft, n);
    } else if (glued("pr") || glued("rp")) {
        item = made(Op::m1PurlRight, n);
    } else if (takeAny({"l", "left"})) {
        item = made(purled || take("purlwise") || take("purl") ? Op::m1PurlLeft : Op::m1Left, n);
    } else if (takeAny({"r", "right"})) {
        item = made(purled || take("purlwise") || take("purl") ? Op::m1PurlRight : Op::m1Right, n);
    } else if (take("open")) {
        item = made(Op::m1Open, n);
    } else if (purled) {
        item = made(Op::m1PurlLeft, n);
    } else if (options_.m1IsYarnOver) {
        item = counted(Op::yarnOver, n);
    } else {
        item = made(Op::m1Left, n);
        understood(start, "m1",
                   "the bar is lifted so that it leans left, as most books mean it; the book's key may say "
                   "right, open, or "
                   "(old books) a yarn-over");
    }
    return true;
}

}  // namespace loopmend
