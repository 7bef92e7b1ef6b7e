// SPDX-License-Identifier: MIT
// Slipped stitches and what is passed over or crossed; casting on and off in the row; holders.
#include "pattern/reader.h"

#include <fmt/format.h>

namespace loopmend {

/// psso, p2sso, pass slipped stitch over; `passed` = how many it says, 0 if it does not.
bool Reader::passOverWords(int& passed) {
    const std::size_t start = at_;
    passed = 0;
    if (takeAny({"psso", "pso"})) {
        passed = 1;
        return true;
    }
    if (is("p") && peek(1).kind == TokenKind::number && is("sso", 2)) {
        passed = peek(1).value;
        at_ += 3;
        return true;
    }
    if (takeAny({"pass", "draw", "pull", "slip"})) {
        take("the");
        if (takeAny({"both", "two"})) passed = 2;
        if (is("2")) {
            passed = 2;
            ++at_;
        }
        take("the");
        if (takeAny({"slipped", "slip", "sl"})) {
            stitchWord() || take("one") || take("ones") || take("loop");
            if (take("over")) {
                while (isAny({"both", "it", "them", "the", "knit", "knitted", "k", "st", "sts", "stitch",
                              "stitches", "last", "just"}) &&
                       !numberAhead(1))
                    ++at_;
                return true;
            }
        }
    }
    at_ = start;
    return false;
}

/// Behind `slip 1`: does `k1, psso` follow? Then the whole is one decrease.
bool Reader::slippedOver(Item& item, int slipped) {
    const std::size_t start = at_;
    const auto separator = [&] {
        takeAny({",", ";", "-"}) || take("and");
        take("then");
    };
    separator();
    const bool knitted = bareKnit(peek().text);
    if (knitted || barePurl(peek().text)) {
        ++at_;
        take("the") && take("next");
        int n = 1;
        number(n);
        stitchWord();
        const bool two = takeAny({"tog", "together"});
        separator();
        int passed = 0;
        if (passOverWords(passed)) {
            if (slipped == 1 && passed < 2) {
                if (two && n == 2) {
                    item = made(knitted ? Op::sk2p : Op::sp2p);
                    return true;
                }
                if (!two && n == 1) {
                    item = made(knitted ? Op::skp : Op::spp);
                    return true;
                }
                if (!two && knitted && n == 2) {
                    item = made(Op::slip1k2Over);
                    return true;
                }
            }
            if (slipped == 2 && !two && n == 1 && passed != 1) {
                item = made(knitted ? Op::s2kp : Op::s2pp);
                return true;
            }
        }
    }
    at_ = start;
    return false;
}

/// `sl next 3 sts to cn and hold in front, k3, k3 from cn`.
bool Reader::cableFromSlip(Item& item) {
    const std::size_t start = at_;
    takeAny({"to", "onto", "on"});
    takeAny({"a", "the", "spare", "extra", "third"});
    if (takeSeq({"cable", "needle"}) || takeAny({"cn", "needle", "pin"})) {
        takeAny({","});
        take("and");
        takeAny({"hold", "leave", "held", "place", "keep"});
        takeAny({"in", "at", "to"});
        take("the");
        const bool front = take("front");
        if (front || takeAny({"back"})) {
            if (take("of")) {
                take("the");
                take("work");
            }
            take(",");
            const auto arm = [&](int& n, bool& purled, bool& twisted) {
                purled = barePurl(peek().text);
                if (!purled && !bareKnit(peek().text)) return false;
                ++at_;
                take("the") && take("next");
                if (!number(n)) return false;
                stitchWord();
                twisted = throughBack();
                return true;
            };
            bool twistPast = false;
            bool twistBack = false;
            int past = 0;
            int back = 0;
            bool purlPast = false;
            bool purlBack = false;
            if (arm(past, purlPast, twistPast)) {
                takeAny({","});
                takeAny({"then", "and"});
                if (arm(back, purlBack, twistBack) && take("from")) {
                    takeAny({"the", "a"});
                    takeSeq({"cable", "needle"}) || takeAny({"cn", "needle", "pin"});
                    if (back == item.times && past > 0) {
                        Step step;
                        step.op = Op::cable;
                        step.over = static_cast<std::int16_t>(back);
                        step.under = static_cast<std::int16_t>(past);
                        step.front = front;
                        step.purlOver = purlBack;
                        step.purlUnder = purlPast;
                        step.tblOver = twistBack;
                        step.tblUnder = twistPast;
                        item = Item{};
                        item.step = step;
                        return true;
                    }
                }
            }
        }
    }
    at_ = start;
    return false;
}

bool Reader::slipManner(bool& knitwise, bool& yarnSaid, bool& yarnFront) {
    if (takeAny({"knitwise", "kwise", "kw", "knitways"}) || takeSeq({"as", "if", "to", "knit"})) {
        knitwise = true;
    } else if (takeAny({"purlwise", "pwise", "pw", "purlways"}) || takeSeq({"as", "if", "to", "purl"})) {
        knitwise = false;
    } else if (takeAny({"wyif", "wyf"}) || takeSeq({"with", "yarn", "in", "front"}) ||
               takeSeq({"with", "the", "yarn", "in", "front"}) || takeSeq({"yarn", "in", "front"})) {
        yarnSaid = true;
        yarnFront = true;
    } else if (takeAny({"wyib", "wyab"}) || takeSeq({"with", "yarn", "in", "back"}) ||
               takeSeq({"with", "yarn", "at", "back"}) || takeSeq({"with", "the", "yarn", "in", "back"}) ||
               takeSeq({"yarn", "in", "back"})) {
        yarnSaid = true;
        yarnFront = false;
    } else {
        return false;
    }
    return true;
}

bool Reader::slip(Item& item) {
    const std::size_t start = at_;
    if (!takeAny({"sl", "slip", "s"})) return false;
    if (takeSeq({",", "slip", ",", "knit"}) || takeSeq({"slip", "knit"}) || takeSeq({"sl", "knit"})) {
        item = made(Op::ssk);
        return true;
    }
    if (takeSeq({"slip", "purl"}) || takeSeq({"sl", "purl"})) {
        item = made(Op::ssp);
        return true;
    }
    if (takeSeq({"and", "bind"})) {
        item = made(Op::skp);
        return true;
    }
    if (takeSeq({",", "narrow", "and", "bind"}) || takeSeq({",", "narrow", ",", "and", "bind"})) {
        item = made(Op::sk2p);
        return true;
    }
    whichStitch();
    int n = 1;
    bool knitwise = false;
    bool yarnSaid = pendingYarnFront_ || pendingYarnBack_;
    bool yarnFront = pendingYarnFront_;
    pendingYarnFront_ = pendingYarnBack_ = false;
    const std::size_t behindWord = at_;
    if (number(n)) {
        if (is("k") && peek().glued && !numberAhead(1)) {
            ++at_;
            knitwise = true;
        } else if (is("p") && peek().glued && !numberAhead(1)) {
            ++at_;
        }
    } else if (is("m") || is("marker") || tokens_->list[start].text == "s") {
        at_ = start;
        return false;
    }
    bare_ = at_ == behindWord;
    if (n == 1 && (takeSeq({",", "narrow", "and", "bind"}) || takeSeq({",", "narrow", ",", "and", "bind"}))) {
        item = made(Op::sk2p);
        bare_ = false;
        return true;
    }
    if (!bare_ && !knitwise && slippedWithYarnOver(item, n)) return true;
    stitchWord();
    const bool joined = takeAny({"tog", "together"});
    while (slipManner(knitwise, yarnSaid, yarnFront)) {
    }
    stitchWord();
    item = made(Op::slipPurlwiseBack, n);
    if (!joined && cableFromSlip(item)) return true;
    const std::size_t behind = at_;
    takeAny({"to", "on", "onto"});
    takeAny({"a", "the"});
    takeSeq({"st", "holder"}) || takeSeq({"stitch", "holder"}) || take("holder");
    if (at_ > behind && tokens_->list[at_ - 1].text == "holder") {
        item = counted(Op::hold, n);
        return true;
    }
    at_ = behind;
    if ((n == 1 && !joined) || n == 2) {
        if (slippedOver(item, n)) return true;
    }
    if (joined && n > 1) {
        problem(start, "Stitches slipped together are known only in a centred decrease.",
                {"s2kp", fmt::format("sl{} knitwise", n)});
        sound_ = false;
    }
    if (knitwise) {
        item.step.op = yarnFront ? Op::slipKnitwiseFront : Op::slipKnitwiseBack;
    } else {
        item.step.op = yarnFront ? Op::slipPurlwiseFront : Op::slipPurlwiseBack;
    }
    item.yarnSaid = yarnSaid;
    if (!yarnSaid)
        understood(start, "slip",
                   "where the yarn goes is not said: the strand lies on the wrong side of the piece, as most "
                   "books mean it");
    return true;
}

/// c6f, c4b.
bool Reader::cable(Item& item) {
    const std::size_t start = at_;
    if (!takeAny({"c", "cable"})) return false;
    int n = 0;
    if (number(n) && (isAny({"f", "front", "fwd"}) || isAny({"b", "back", "bk"}))) {
        const bool front = isAny({"f", "front", "fwd"});
        ++at_;
        if (n < 2 || n % 2 != 0) {
            problem(start, fmt::format("A cable over {} stitches has no half; say how it crosses.", n),
                    {fmt::format("{}/{} {}", n / 2 + 1, n / 2, front ? "LC" : "RC")});
            sound_ = false;
            n = 2;
        }
        item = Item{};
        item.step.op = Op::cable;
        item.step.over = item.step.under = static_cast<std::int16_t>(n / 2);
        item.step.front = front;
        return true;
    }
    at_ = start;
    return false;
}

/// 2/2 RC, 2/1 LPC: so many knit stitches cross in front, over so many. Right = they move to the right, the
/// others are held behind; left = they are held in front.
bool Reader::crossCable(Item& item) {
    const std::size_t start = at_;
    int above = 0;
    int below = 0;
    if (peek().kind == TokenKind::number && number(above) && take("/") && peek().kind == TokenKind::number &&
        number(below) && isAny({"rc", "lc", "rpc", "lpc"}) && above > 0 && below > 0) {
        const bool left = isAny({"lc", "lpc"});
        const bool purled = isAny({"rpc", "lpc"});
        ++at_;
        item = Item{};
        item.step.op = Op::cable;
        item.step.front = left;
        item.step.over = static_cast<std::int16_t>(left ? above : below);
        item.step.under = static_cast<std::int16_t>(left ? below : above);
        item.step.purlOver = !left && purled;
        item.step.purlUnder = left && purled;
        return true;
    }
    at_ = start;
    return false;
}

bool Reader::castOrBind(Item& item) {
    const std::size_t start = at_;
    if (take("co") || takeSeq({"cast", "on"})) {
        int n = 0;
        if (number(n)) {
            stitchWord();
            item = counted(Op::castOn, n);
            return true;
        }
        at_ = start;
        return false;
    }
    if (!take("bo") && !takeSeq({"bind", "off"}) && !takeSeq({"cast", "off"})) return false;
    int n = 0;
    take("next");
    const bool numbered = number(n);
    if (numbered) stitchWord();
    const bool purled = takeAny({"purlwise", "pwise"}) || takeSeq({"in", "purl"});
    takeAny({"knitwise", "kwise", "loosely"}) || takeSeq({"in", "pattern"}) || takeSeq({"in", "patt"});
    item = counted(purled ? Op::bindOffPurl : Op::bindOff, numbered ? n : 1);
    bare_ = !numbered;
    return true;
}

bool Reader::holder(Item& item) {
    const std::size_t start = at_;
    const bool hold = take("hold");
    if (!hold && !takeAny({"place", "placing", "put", "putting", "leave", "leaving"})) return false;
    if (hold && (is("to") || is("all"))) {  // how far is said behind it
        item = counted(Op::hold, 1);
        return true;
    }
    take("the");
    const bool rest = takeAny({"rem", "remaining", "other", "rest"});
    if (rest) take("of") && take("the");
    take("next");
    int n = 0;
    if (number(n) || rest) {
        stitchWord();
        takeAny({"on", "onto", "to"});
        takeAny({"a", "the", "another"});
        takeAny({"second", "third", "separate"});
        const bool onHolder = takeSeq({"st", "holder"}) || takeSeq({"stitch", "holder"}) || take("holder") ||
                              takeSeq({"spare", "needle"}) || takeSeq({"waste", "yarn"}) || take("thread");
        if (onHolder && take("for")) {  // "on a holder for the instep"
            take("the");
            while (!done() && peek().kind == TokenKind::word && !is("and")) ++at_;
        }
        if (hold || onHolder) {
            item = counted(Op::hold, rest ? 1 : n);
            if (rest) item.kind = ItemKind::run;  // all that is left
            return true;
        }
    }
    at_ = start;
    return false;
}

bool Reader::passOverItem(Item& item) {
    const std::size_t start = at_;
    if (take("pass")) {
        take("the");
        int n = 0;
        if ((ordinal(n) || number(n)) && n == 2) {
            if (stitchWord() && take("over")) {
                take("the");
                int first = 0;
                if (ordinal(first)) stitchWord();
                item = made(Op::passOver);
                return true;
            }
        }
        at_ = start;
    }
    int passed = 0;
    if (passOverWords(passed)) {
        item = made(Op::passOver);
        problem(start, "The slipped stitch is passed over something other than k1, k2, k2tog, p1 or p2tog.",
                {"sl1, k1, psso", "sl1, k2tog, psso", "sl1, k2, psso"});
        sound_ = false;
        return true;
    }
    return false;
}

}  // namespace loopmend
