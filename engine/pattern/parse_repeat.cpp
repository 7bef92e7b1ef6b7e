// SPDX-License-Identifier: MIT
// Repeats within a row: brackets, stars, and the words for how often and how far.
#include "pattern/reader.h"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

namespace loopmend {

namespace {

std::string_view partner(std::string_view open) {
    return open == "(" ? ")" : open == "[" ? "]" : "}";
}

/// Appends one stitch after another to `flat`; false if the items hold more than plain stitches.
bool flatten(const std::vector<Item>& items, std::vector<Step>& flat) {
    for (const Item& item : items) {
        if (item.kind == ItemKind::group) {
            for (int i = 0; i < item.times; ++i)
                if (flat.size() > 9 || !flatten(item.items, flat)) return false;
        } else if (item.kind == ItemKind::stitch) {
            for (int i = 0; i < item.times && flat.size() <= 9; ++i) flat.push_back(item.step);
        } else {
            return false;
        }
    }
    return flat.size() <= 9;
}

}  // namespace

/// `to end`, `to end of row`, `to last 3 sts`, `to within 3 sts of end`, `until 3 sts remain`, `across`, `all
/// sts`.
bool Reader::extent(Until& until, int& last) {
    const std::size_t start = at_;
    until = Until::end;
    last = 0;
    const auto rowWords = [&] {
        if (take("of")) {
            take("the");
            takeAny({"row", "rnd", "round", "needle"});
        }
    };
    if (isAny({"across", "around"}) && is("to", 1)) ++at_;  // "k2tog around to last st"
    // "purl back": nothing else follows in the row
    const bool back = is("back") && (at_ + 1 >= limit_ || peek(1).text == "." || peek(1).text == "(");
    if (takeAny({"across", "around", "throughout"}) || (back && take("back"))) {
        take("the");
        takeAny({"row", "rnd", "round"});
        return true;
    }
    if (isAny({"row", "rnd", "round"}) && !numberAhead(1)) {
        ++at_;
        return true;
    }
    if (takeSeq({"the", "row"}) || takeSeq({"this", "row"}) || takeSeq({"the", "round"}) ||
        takeSeq({"the", "rest"}))
        return true;
    // "kfb in each st"
    const bool inEach = is("in") && isAny({"each", "every", "all"}, 1);
    if (inEach) ++at_;
    // "purl all sts to last 2 sts": only so far
    const std::size_t all = at_;
    const bool allButLast =
        take("all") && stitchWord() && is("to") && isAny({"last", "the", "within"}, 1) && !is("end", 2);
    if (!allButLast) at_ = all;
    if (!allButLast && takeAny({"all", "every", "each", "rem", "remaining", "rest"})) {
        takeAny({"the", "rem", "remaining"});
        if (stitchWord() || tokens_->list[at_ - 1].text == "rest") {
            if (!(take("to") && take("end"))) takeAny({"across", "around"});
            return true;
        }
        if (tokens_->list[start].text == "all") {
            if (take("across")) return true;
            if (at_ == start + 1 && !isAny({"in", "into"})) return true;
        }
        at_ = start;
        return false;
    }
    if (take("until")) {
        int n = 0;
        take("there") && takeAny({"is", "are"});
        if (number(n) && stitchWord() && takeAny({"rem", "remain", "remains", "left", "are"})) {
            take("left");
            until = Until::last;
            last = n;
            return true;
        }
        at_ = start;
        return false;
    }
    if (!take("to")) return false;
    take("the");
    if (take("end")) {
        rowWords();
        return true;
    }
    if (take("within")) {
        take("the");
        take("last");
        int n = 1;
        number(n);
        if (stitchWord()) {
            take("of") && (take("the"), take("end"));
            rowWords();
            until = n > 0 ? Until::last : Until::end;
            last = n;
            return true;
        }
    } else if (take("last")) {
        int n = 1;
        number(n);
        if (stitchWord() || n > 0) {
            until = n > 0 ? Until::last : Until::end;
            last = n;
            return true;
        }
    } else {
        // `to marker`, `to 2 sts before the marker`, `to 1 st before gap`, `to next wrapped st`
        int n = 0;
        if (numberAhead() && number(n)) {
            stitchWord();
            if (!takeAny({"before", "from"})) n = -1;
        }
        takeAny({"the", "a"});
        takeAny({"next", "first", "second", "last"});
        if (n >= 0 && (takeAny({"marker", "m", "mkr"}))) {
            until = Until::marker;
            last = n;
            return true;
        }
        if (n >= 0 && take("wrapped") && stitchWord()) {
            until = Until::wrapped;
            last = n;
            return true;
        }
        // A doubled stitch is the last one before the gap of its turn.
        if (n >= 0 && (take("ds") || (takeAny({"double", "doubled"}) && stitchWord()))) {
            until = Until::gap;
            last = n + 1;
            return true;
        }
        const bool turning = takeAny({"turning"});
        if (n >= 0 &&
            (take("gap") || (turning && takeAny({"point", "gap", "place"})) ||
             (takeAny({"previous", "turn"}) && (tokens_->list[at_ - 1].text == "turn" || take("turn"))))) {
            until = Until::gap;
            last = n;
            return true;
        }
    }
    at_ = start;
    return false;
}

/// `3 times`, `twice`, `x 3`, `3 more times`, `once more`.
bool Reader::times(int& n, bool& more) {
    const std::size_t start = at_;
    more = false;
    takeSeq({"a", "total", "of"});
    if (takeAny({"once", "twice", "thrice"})) {
        const std::string_view word = tokens_->list[start].text;
        n = word == "once" ? 1 : word == "twice" ? 2 : 3;
        more = take("more");
        return true;
    }
    if (take("x")) {
        if (peek().kind == TokenKind::number && number(n) && n > 0) {
            takeAny({"times"});
            return true;
        }
        at_ = start;
        return false;
    }
    if (numberAhead() && number(n)) {
        more = takeAny({"more", "further"});
        if (takeAny({"times", "time", "x"})) {
            if (take("more")) more = true;
            takeSeq({"in", "all"}) || takeSeq({"in", "total"}) || takeAny({"altogether", "total"});
            if (n == 0 && !sized_) {
                problem(start, "Nothing can be worked no times.", {"1 time", "leave these words out"});
                sound_ = false;
                n = 1;
            }
            return true;
        }
    }
    at_ = start;
    return false;
}

void Reader::star(std::vector<Item>& out) {
    const std::size_t start = at_;
    const int stars = peek().value;
    ++at_;
    Item item;
    item.kind = ItemKind::star;
    const int outerMark = std::exchange(mark_, -1);
    ++depth_;
    items(item.items, Stop::star, stars);
    --depth_;
    const int mark = std::exchange(mark_, outerMark);
    item.place = placeFrom(start);
    if (done()) {
        problem(start, "The repeat that begins at this star is never closed.",
                {"; rep from * to end", "; rep from * to last n sts"});
        sound_ = false;
        out.push_back(std::move(item));
        return;
    }
    bool closed = false;
    if (peek().kind == TokenKind::star) {
        ++at_;
        closed = true;
        const std::size_t before = at_;
        takeAny({",", ";", "."});
        if (!isAny({"rep", "repeat"})) at_ = before;
    }
    bool said = false;
    if (isAny({"rep", "repeat"})) said = repeatFromStar();
    mark_ = mark;
    starExtent(item, start, closed && !said, out);
    mark_ = outerMark;
}

/// Whether the row goes on to say `ending last rep at **` with so many stars.
bool Reader::partialMark(int stars) const {
    for (std::size_t i = at_ + 1; i + 1 < limit_; ++i) {
        const Token& here = tokens_->list[i];
        if (here.text == "at" && tokens_->list[i + 1].kind == TokenKind::star &&
            tokens_->list[i + 1].value == stars)
            return true;
    }
    return false;
}

/// Behind `ending`: `last rep at **`, `at **`, `last rep k1`, `last rep with k1 instead of k3`. The last
/// repeat is cut short, and the star stops before it.
bool Reader::lastRepeat(Item& item, std::size_t start, std::vector<Item>& out) {
    const std::size_t here = at_;
    take("the");
    const bool last = take("last") && takeAny({"rep", "repeat", "repetition", "time"});
    std::vector<Item> tail;
    if (take("at") && peek().kind == TokenKind::star && mark_ >= 0) {
        ++at_;
        tail.assign(item.items.begin(),
                    item.items.begin() + std::min<std::ptrdiff_t>(mark_, std::ssize(item.items)));
    } else if (last) {
        take("with");
        const std::size_t problems = out_.problems.size();
        std::vector<Item> end;
        oneItem(end, Stop::row);
        if (out_.problems.size() > problems || end.size() != 1 || end[0].kind != ItemKind::stitch) {
            at_ = here;
            out_.problems.resize(problems);
            return false;
        }
        if (takeSeq({"instead", "of"})) {
            std::vector<Item> unused;
            oneItem(unused, Stop::row);
        }
        // In place of the last such stitches of the repeat, which ends there.
        std::size_t i = item.items.size();
        while (i > 0 &&
               !(item.items[i - 1].kind == ItemKind::stitch && item.items[i - 1].step.op == end[0].step.op))
            --i;
        tail.assign(item.items.begin(), item.items.begin() + static_cast<std::ptrdiff_t>(i > 0 ? i - 1 : 0));
        tail.push_back(std::move(end[0]));
        understood(here, "last repeat",
                   "the last repeat ends with these stitches in place of those that it says there; what "
                   "stands behind "
                   "them in the repeat is left out");
    } else {
        at_ = here;
        return false;
    }
    item.place = placeFrom(start);
    if (depth_ > 0 || item.items.empty()) return false;
    // More may follow: the star stops before all of it.
    openUntil(item, start, Until::end, 0);
    autoLast_ = static_cast<int>(out.size());
    out.push_back(std::move(item));
    for (Item& one : tail) out.push_back(std::move(one));
    return true;
}

/// `rep`, `repeat from *`, `rep between *s`, `rep from * to *`, at "rep".
bool Reader::repeatFromStar() {
    ++at_;
    takeAny({"from", "between"});
    take("the");
    if (peek().kind == TokenKind::star) {
        ++at_;
        const std::size_t before = at_;
        if (takeAny({"to", "and"}) && peek().kind == TokenKind::star) {
            ++at_;
        } else {
            at_ = before;
        }
        if (is("s") && peek().glued) ++at_;
    } else {
        takeAny({"stars", "star", "asterisk", "asterisks"});
    }
    return true;
}

void Reader::starExtent(Item& item, std::size_t start, bool inAll, std::vector<Item>& out) {
    const std::size_t behind = at_;
    take(",");
    int n = 1;
    bool more = false;
    if (times(n, more)) {
        if (more) {
            ++n;
        } else if (!inAll) {
            // "rep from * once" can only mean once more.
            item.inAllUnsaid = true;
            if (n == 1) n = 2;
        }
        item.kind = ItemKind::group;
        item.times = std::min(n, kLargestNumber);
        item.place = placeFrom(start);
        if (item.times == 0) return;  // not in this size
        if (item.items.empty()) {
            problem(start, "There is nothing between the stars to repeat.");
            sound_ = false;
            return;
        }
        out.push_back(std::move(item));
        return;
    }
    Until until = Until::end;
    int last = 0;
    const bool said = extent(until, last);
    if (!said) at_ = behind;
    const std::size_t before = at_;
    takeAny({",", ";"});
    take("but");
    if (takeAny({"end", "ending", "ends"})) {
        if (!said && lastRepeat(item, start, out)) return;
        take("with");
        takeAny({"row", "rnd", "round"});
        if (isAny({"last", "at", "the"})) {
            while (!done() && !isAny({".", ";"})) ++at_;
            item.place = placeFrom(start);
            problem(before,
                    "A last repeat that stops half-way is not followed here; write out how the row ends.",
                    {"; rep from * to last n sts, ..."});
            sound_ = false;
        } else if (!said || until == Until::end) {
            if (depth_ == 0) autoLast_ = static_cast<int>(out.size());
        }
    } else {
        at_ = before;
        if (inAll && !said && !done() && !isAny({".", "-", "(", "["})) {
            item.place = placeFrom(start);
            problem(start, "It is not said how often this is worked.",
                    {"*...* 4 times", "*...* to last n sts"});
            sound_ = false;
        }
    }
    item.place = placeFrom(start);
    if (item.items.empty()) {
        problem(start, "There is nothing after the star to repeat.");
        sound_ = false;
        return;
    }
    openUntil(item, start, until, last);
    out.push_back(std::move(item));
}

/// `k2, p2, rep to end`, without a star: all of the row so far.
void Reader::wholeRowRepeat(std::vector<Item>& out, Stop stop) {
    const std::size_t start = at_;
    ++at_;
    takeAny({"from", "between"});
    const bool fromStar = peek().kind == TokenKind::star;
    if (fromStar) ++at_;
    takeSeq({"the", "beginning"}) || takeSeq({"beg"}) || takeSeq({"beginning"}) || takeSeq({"these", "sts"});
    Until until = Until::end;
    int last = 0;
    int n = 1;
    bool more = false;
    const bool open = extent(until, last);
    const bool counted = !open && times(n, more);
    // "K2, p2; repeat.": all along the row
    const bool bare =
        !open && !counted && !fromStar && stop == Stop::row && (done() || is(".")) && !out.empty();
    if (bare) understood(start, "repeat", "what stands before it is repeated to the end of the row");
    if (fromStar || stop != Stop::row || (!open && !counted && !bare) || out.empty()) {
        if (!open && !counted) {
            while (!done() && !isAny({".", ";", ","})) ++at_;
        }
        problem(start, "This repeats from a star, but there is no star before it in this row.",
                {"put * where the repeat begins"});
        sound_ = false;
        return;
    }
    Item item;
    item.items = std::move(out);
    out.clear();
    for (const Item& inner : item.items) {
        const bool openEnded =
            inner.kind == ItemKind::star || inner.kind == ItemKind::run || inner.kind == ItemKind::follow;
        if (!openEnded) continue;
        problem(start, "A repeat to the end of the row cannot stand inside another repeat.",
                {"put * where the repeat begins"});
        sound_ = false;
        break;
    }
    if (counted) {
        item.kind = ItemKind::group;
        item.times = std::min(more || n == 1 ? n + 1 : n, kLargestNumber);
        item.inAllUnsaid = !more;
        item.place = placeFrom(start);
        out.push_back(std::move(item));
        return;
    }
    item.kind = ItemKind::star;
    item.place = placeFrom(start);
    openUntil(item, start, until, last);
    out.push_back(std::move(item));
}

void Reader::bracket(std::vector<Item>& out) {
    const std::size_t start = at_;
    const std::string_view close = partner(peek().text);
    ++at_;
    Item item;
    item.kind = ItemKind::group;
    ++depth_;
    items(item.items, Stop::bracket, 0);
    --depth_;
    if (done()) {
        problem(start, "This bracket is never closed.", {fmt::format("put {} where the group ends", close)});
        sound_ = false;
        for (Item& inner : item.items) out.push_back(std::move(inner));
        return;
    }
    if (peek().text != close) {
        ++at_;
        problem(start, "This bracket is closed by one of another shape.",
                {fmt::format("close it with {}", close)});
        sound_ = false;
    } else {
        ++at_;
    }
    item.place = placeFrom(start);
    if (item.items.empty()) {
        problem(start, "There is nothing between these brackets.");
        sound_ = false;
        return;
    }
    bracketTail(item, start, out);
}

void Reader::bracketTail(Item& item, std::size_t start, std::vector<Item>& out) {
    const std::size_t behind = at_;
    takeAny({",", ";"});
    // Inside an open star, "rep" belongs to the star.
    const bool rep = depth_ == 0 && takeAny({"rep", "repeat"});
    Until until = Until::end;
    int last = 0;
    int n = 1;
    bool more = false;
    if (times(n, more)) {
        item.times = std::min(more || (rep && n == 1) ? n + 1 : n, kLargestNumber);
        item.inAllUnsaid = rep && !more;
        item.place = placeFrom(start);
        // (yo) twice is one yarn-over wound twice.
        Item& only = item.items[0];
        const bool yarnOvers = item.items.size() == 1 && only.kind == ItemKind::stitch && only.times == 1 &&
                               (only.step.op == Op::yarnOver || only.step.op == Op::yarnOverReverse);
        if (yarnOvers && only.step.count * item.times <= kLargestNumber) {
            only.step.count = static_cast<std::int16_t>(only.step.count * item.times);
            only.place = item.place;
            out.push_back(std::move(only));
            return;
        }
        if (item.times == 0) return;  // not in this size
        if (item.times == 1) {
            for (Item& inner : item.items) out.push_back(std::move(inner));
            return;
        }
        out.push_back(std::move(item));
        return;
    }
    if (extent(until, last)) {
        item.kind = ItemKind::star;
        item.place = placeFrom(start);
        openUntil(item, start, until, last);
        out.push_back(std::move(item));
        return;
    }
    if (!rep && at_ == behind) {
        take("all");
        if (takeAny({"in", "into"})) {
            take("the");
            takeAny({"next", "same", "one", "first", "following"});
            if (is("1")) ++at_;
            if (stitchWord()) {
                oneStitch(item, start, out);
                return;
            }
        }
    }
    at_ = behind;
    for (Item& inner : item.items) out.push_back(std::move(inner));
}

/// (k1, p1, k1) in next st, (k1, yo, k1) in next st, (k1, k1 tbl) in next st.
void Reader::oneStitch(Item& group, std::size_t start, std::vector<Item>& out) {
    std::vector<Step> flat;
    const bool plain = flatten(group.items, flat);
    Item item;
    item.place = placeFrom(start);
    if (!flat.empty()) {
        item.step.yarn = flat.front().yarn;
        item.step.link = flat.front().link;
    }
    const auto alternates = [&](Op first, Op second) {
        for (std::size_t i = 0; i < flat.size(); ++i) {
            const Op wanted = i % 2 == 0 ? first : second;
            if (flat[i].op != wanted || flat[i].count != 1) return false;
        }
        return flat.size() >= 2;
    };
    const bool purled = !flat.empty() && flat[0].op == Op::purl;
    const Op first = purled ? Op::purl : Op::knit;
    const auto several = [&](Op op) {
        item.step.op = op;
        item.step.count = static_cast<std::int16_t>(flat.size() == 3 ? 1 : flat.size());
    };
    if (plain && alternates(first, purled ? Op::purlTbl : Op::knitTbl)) {
        item.step.op = purled ? Op::pfb : Op::kfb;
        item.step.count = static_cast<std::int16_t>(flat.size() == 2 ? 1 : flat.size());
    } else if (plain && alternates(first, purled ? Op::knit : Op::purl)) {
        several(purled ? Op::pkp : Op::kpk);
    } else if (plain && flat.size() % 2 == 1 && alternates(first, Op::yarnOver)) {
        several(purled ? Op::pyop : Op::kyok);
    } else {
        problem(
            start,
            "Into one stitch only k1, p1 in turn, k1, yo in turn, or k1, k1 tbl are known, and the same with "
            "k and p exchanged, up to nine loops.",
            {"(k1, p1, k1) in next st", "(k1, yo, k1) in next st", "kfb"});
        sound_ = false;
        item.step.op = Op::kpk;
        item.step.count = static_cast<std::int16_t>(std::clamp<std::size_t>(flat.size(), 2, 9));
    }
    bare_ = false;
    finishStitch(std::move(item), start, out);
}

}  // namespace loopmend
