// SPDX-License-Identifier: MIT
// What is worked in a row: one item after another, and the count at its end.
#include "pattern/reader.h"

#include "pattern/counts.h"
#include "pattern/edit_distance.h"
#include "pattern/op_kinds.h"
#include "pattern/plain_words.h"

#include <algorithm>
#include <cstdlib>
#include <optional>
#include <utility>

#include <fmt/format.h>

namespace loopmend {

namespace {

constexpr int kDeepest = 40;

bool opens(std::string_view text) {
    return text == "(" || text == "[" || text == "{";
}
bool closes(std::string_view text) {
    return text == ")" || text == "]" || text == "}";
}
std::string_view partner(std::string_view open) {
    return open == "(" ? ")" : open == "[" ? "]" : "}";
}

/// Slips of the finger between two words: letters lost, added, exchanged, or two swapped.
constexpr LetterCosts kSlips{.exchange = 1, .swap = 1};

constexpr std::string_view kKnown[] = {
    "knit",      "purl", "slip",   "k2tog",    "k3tog",    "p2tog",   "p3tog", "ssk",
    "sssk",      "ssp",  "skp",    "sk2p",     "s2kp",     "kfb",     "yo",    "m1",
    "m1l",       "m1r",  "repeat", "bind off", "cast off", "cast on", "wyif",  "wyib",
    "yarn over", "k1",   "p1",     "sl1",      "tbl",      "c4f",     "c4b",   "hold"};

std::vector<std::string> nearWords(std::string_view unknown) {
    std::vector<std::pair<int, std::string_view>> found;
    if (unknown.size() <= 12) {
        const int reach = unknown.size() <= 3 ? 1 : 2;
        for (const std::string_view word : kKnown) {
            const int d = lettersApart(unknown, word, kSlips, reach);
            if (d <= reach) found.emplace_back(d, word);
        }
    }
    std::stable_sort(found.begin(), found.end(),
                     [](const auto& a, const auto& b) { return a.first < b.first; });
    std::vector<std::string> words;
    for (std::size_t i = 0; i < found.size() && i < 3; ++i) words.emplace_back(found[i].second);
    return words;
}

}  // namespace

void Reader::rowBody(Row& row) {
    sound_ = true;
    saidChange_.reset();
    wrapsToo_ = false;
    autoLast_ = -1;
    depth_ = 0;
    bool loneWord = false;
    if (sameAs(row)) {
        while (true) {
            separators();
            if (done()) break;
            const std::size_t before = at_;
            if (!rowCount(row)) skipUnknown();
            if (at_ == before) ++at_;
        }
    } else {
        while (!done()) {
            separators();
            if (done()) break;
            if (rowCount(row) || bothStrandsAsOne() || mannerOfMarkers() || mannerOfTurns() || endWords())
                continue;
            const std::size_t before = at_;
            const std::size_t problems = out_.problems.size();
            oneItem(row.items, Stop::row);
            loneWord = row.items.size() == 1 && bare_ && out_.problems.size() == problems;
            if (at_ == before) ++at_;  // no rule may stand still
        }
        // "Row 2: purl." is the whole row.
        if (loneWord && row.items.size() == 1 && row.items[0].kind == ItemKind::stitch) {
            const Op op = row.items[0].step.op;
            if (op == Op::knit || op == Op::purl || op == Op::knitTbl || op == Op::purlTbl ||
                op == Op::bindOff || op == Op::bindOffPurl) {
                row.items[0].kind = ItemKind::run;
                row.items[0].times = 1;
            }
        }
        // "..., end k3": the star stops where the rest of the row begins.
        if (autoLast_ >= 0 && autoLast_ < static_cast<int>(row.items.size())) {
            std::vector<Item> tail(row.items.begin() + autoLast_ + 1, row.items.end());
            const std::int64_t rest = usesOf(tail);
            row.items[static_cast<std::size_t>(autoLast_)].until = rest > 0 ? Until::last : Until::end;
            row.items[static_cast<std::size_t>(autoLast_)].last =
                static_cast<int>(std::clamp<std::int64_t>(rest, 0, kMostStitches));
        }
    }
    if (row.items.empty() && !row.sameAs && sound_) {
        at_ = limit_;
        problem(limit_ > 0 ? limit_ - 1 : 0, "This row says nothing to work.", {"k to end", "p to end"});
        sound_ = false;
    }
    if (wrapsToo_) closeTurns(row);
    castOnBehindTurn(row);
    turnsInPlace(row);
    checkSaidChange(row);
    row.sound = sound_;
}

/// `as row 2`, `repeat rows 1-4`, `same as row 1`.
bool Reader::sameAs(Row& row) {
    const std::size_t start = at_;
    takeAny({"work", "worked", "the"});
    take("same");
    const bool lead = take("as") || takeAny({"like", "rep", "repeat"});
    if (lead) {
        take("for");
        take("in");
        RowSpan span;
        bool found = false;
        if (takeAny({"row", "rows", "rnd", "rnds", "round", "rounds"}) && number(span.first)) {
            span.last = span.first;
            if (takeAny({"-", "to", "and", "through", "&"})) number(span.last);
            found = true;
        } else {
            take("the");
            bool round = false;
            if (ordinal(span.first) && takeAny({"row", "rnd", "round"})) {
                span.last = span.first;
                found = true;
            } else if (rowNameAhead() && namedRow(peek().text) > 0) {
                span.first = span.last = namedRow(peek().text);  // "rep eyelet row"
                ++at_;
                found = rowWord(round);
            }
        }
        if (found && span.last >= span.first) {
            row.sameAs = span;
            // "Rows 3-8: rep rows 1-2 3 times": the numbers say as much
            const std::size_t behind = at_;
            int n = 0;
            bool more = false;
            const std::size_t problems = out_.problems.size();
            if (!row.spans.empty() && times(n, more)) {
                int rows = 0;
                for (const RowSpan& one : row.spans) rows += one.last - one.first + 1;
                const int length = span.last - span.first + 1;
                if (rows != n * length && row.every == Every::none && n > 0)
                    problem(behind, fmt::format("{} rows, {} times, are {} rows, but {} are numbered here.",
                                                length, n, n * length, rows));
            } else {
                at_ = behind;
            }
            if (out_.problems.size() > problems) sound_ = false;
            return true;
        }
    }
    at_ = start;
    return false;
}

/// `(64 sts)`, `[64 sts]`, `- 64 sts`, `64 sts.`, `(64)` at the very end, `(2 sts decreased; 62 sts)`.
/// `working both strands of the double stitch as one`: a row that comes to it does so anyway.
bool Reader::bothStrandsAsOne() {
    const std::size_t start = at_;
    if (takeAny({"working", "knitting", "purling", "treating"})) {
        while (isAny({"the", "each", "any", "all", "both", "two", "strands", "legs", "of", "double",
                      "doubled", "ds"}) ||
               (at_ > start + 1 && isAny({"st", "sts", "stitch", "stitches"})))
            ++at_;
        const bool any = at_ > start + 1;
        if (any &&
            (takeSeq({"as", "one"}) || takeSeq({"together", "as", "one"}) || takeSeq({"tog", "as", "one"}))) {
            stitchWord();
            return true;
        }
    }
    at_ = start;
    return false;
}

int Reader::changeWord() {
    if (takeAny({"dec'd", "decd", "decreased", "less", "fewer"})) return -1;
    if (takeAny({"inc'd", "incd", "increased", "more"})) return 1;
    const int way = is("dec") ? -1 : is("inc") ? 1 : 0;
    if (way != 0) {
        ++at_;
        takeSeq({"'", "d"});
    }
    return way;
}

void Reader::checkSaidChange(const Row& row) {
    if (!saidChange_ || !sound_) return;
    const auto [said, start] = *saidChange_;
    const RowCounts counts = countsOf(row);
    if (counts.contradiction || counts.uses.perRepeat != counts.makes.perRepeat) return;
    const std::int64_t change = counts.makes.base - counts.uses.base;
    if (change == said) return;
    const auto words = [](std::int64_t n) {
        return n == 0 ? std::string("keeps the count")
                      : fmt::format("leaves {} {}", many(static_cast<int>(std::abs(n)), "stitch", "stitches"),
                                    n > 0 ? "more" : "fewer");
    };
    problem(start, fmt::format("It is printed that the row {}, but it {}.", words(said), words(change)));
}

bool Reader::rowCount(Row& row) {
    const std::size_t start = at_;
    const auto accept = [&](int n) {
        row.printedCount = n;
        row.countPlace = placeFrom(start);
        return true;
    };
    if (opens(peek().text)) {
        const std::string_view close = partner(peek().text);
        ++at_;
        bool counted = false;
        bool stitches = false;
        std::optional<std::pair<int, std::size_t>> said;
        int n = 0;
        takeAny({"there", "now", "="});
        while (!done() && peek().text != close) {
            int value = 0;
            if (peek().kind == TokenKind::number && number(value)) {
                if (stitchWord()) {
                    stitches = true;
                    if (const int way = changeWord()) {
                        said = std::pair(way * value, start);
                        continue;
                    }
                    if (takeAny({"bound", "cast"})) continue;
                    n = value;
                    counted = true;
                    continue;
                }
                if (is(close) && at_ == start + 2 &&
                    (at_ + 1 >= limit_ || (at_ + 2 >= limit_ && is(".", 1)))) {
                    n = value;
                    counted = stitches = true;
                    continue;
                }
                break;
            }
            // Anything but a word beside the count means that this is a bracket of stitches.
            const bool word = peek().kind == TokenKind::word &&
                              (stitches || isAny({"total", "on", "needle", "in", "all", "each"}));
            if (!word && !(stitches && isAny({",", ";", ":", "."}))) break;
            ++at_;
        }
        if (stitches && take(close)) {
            if (said) saidChange_ = said;
            if (counted) return accept(n);
            return true;
        }
        at_ = start;
        return false;
    }
    takeAny({"-", "=", ":"});
    takeAny({"there", "you"});
    takeAny({"are", "now", "have", "leaving"});
    takeAny({"now", "have"});
    int n = 0;
    if (peek().kind == TokenKind::number && number(n) && stitchWord()) {
        if (!isAny({"more", "less", "fewer"})) {
            if (const int way = changeWord()) {
                saidChange_ = std::pair(way * n, start);
                return true;
            }
        }
        takeAny({"rem", "remain", "remaining", "left", "total"}) || takeSeq({"in", "all"}) ||
            takeSeq({"on", "needle"}) || takeSeq({"on", "the", "needle"});
        return accept(n);
    }
    at_ = start;
    return false;
}

void Reader::separators() {
    while (takeAny({",", ";", ".", ":", "and", "then", "&"})) {
    }
}

void Reader::items(std::vector<Item>& out, Stop stop, int stars) {
    while (!done()) {
        separators();
        if (done()) return;
        if (mannerOfMarkers()) continue;
        if (stop == Stop::bracket && closes(peek().text)) return;
        if (stop == Stop::star) {
            if (peek().kind == TokenKind::star && peek().value != stars && partialMark(peek().value)) {
                mark_ = static_cast<int>(out.size());
                ++at_;
                continue;
            }
            if (peek().kind == TokenKind::star && peek().value == stars) return;
            if (isAny({"rep", "repeat"})) return;
        }
        const std::size_t before = at_;
        oneItem(out, stop);
        if (at_ == before) ++at_;
    }
}

void Reader::oneItem(std::vector<Item>& out, Stop stop) {
    const std::size_t start = at_;
    bare_ = false;
    if (depth_ > kDeepest) {
        at_ = limit_;
        problem(start, "Brackets and stars are nested too deep here to follow.",
                {"write the inner repeats out"});
        sound_ = false;
        return;
    }
    const Token& token = peek();
    if (token.kind == TokenKind::star) {
        star(out);
    } else if (opens(token.text)) {
        bracket(out);
    } else if (closes(token.text)) {
        ++at_;
        problem(start, fmt::format("This “{}” closes a bracket that was never opened.", wordsFrom(start)),
                {"put ( where the group begins"});
        sound_ = false;
        int n = 0;
        bool more = false;
        times(n, more);  // belongs to the bracket
    } else if (isAny({"rep", "repeat"})) {
        wholeRowRepeat(out, stop);
    } else if (panel(out) || yarnWords() || follow(out) || marker(out) || leaning(out)) {
        // said
    } else {
        Item item;
        // `wyif sl 1`, and as oneself would say it
        if (isAny({"wyif", "wyib", "wyab"}) || (is("with", 0) && is("yarn", 1) && is("in", 2))) {
            bool unused = false;
            bool front = false;
            if (slipManner(unused, unused, front)) {
                takeAny({","});
                if (isAny({"sl", "slip"})) {
                    (front ? pendingYarnFront_ : pendingYarnBack_) = true;
                } else {
                    at_ = start;
                }
            }
        }
        if (decreaseUnsaid(item) || stitch(item)) {
            finishStitch(std::move(item), start, out);
        } else {
            skipUnknown();
        }
    }
}

/// Sets an item to go on to the end or the last stitches. False, with a problem, where that cannot be.
bool Reader::openUntil(Item& item, std::size_t start, Until until, int last) {
    item.until = until;
    item.last = last;
    if (depth_ > 0 && (until == Until::end || until == Until::last)) {
        problem(start, "A repeat to the end of the row cannot stand inside another repeat.",
                {"say how many times", "close the outer repeat first"});
        sound_ = false;
        return false;
    }
    const std::int64_t takes = usesOf(item);
    if (takes <= 0) {
        problem(start, "This repeat takes no stitches off the needle, so it would never reach the end.",
                {"say how many times"});
        sound_ = false;
        return false;
    }
    return true;
}

/// A stitch may be followed by `to end`, `to last 3 sts`, `twice`, `3 times`, `in next st`.
/// Nothing but knits and purls, some of each: `k2, p2 to end` is all of it again and again.
bool Reader::isRibSoFar(const std::vector<Item>& before, const Item& last) const {
    if (depth_ > 0 || before.empty()) return false;
    bool knits = false;
    bool purls = false;
    const auto plain = [&](const Item& item) {
        if (item.kind != ItemKind::stitch) return false;
        knits = knits || item.step.op == Op::knit;
        purls = purls || item.step.op == Op::purl;
        return item.step.op == Op::knit || item.step.op == Op::purl;
    };
    return std::all_of(before.begin(), before.end(), plain) && plain(last) && knits && purls;
}

void Reader::finishStitch(Item item, std::size_t start, std::vector<Item>& out) {
    const bool wasBare = bare_;
    // What is two operations in one word (`sl1yo`) is said as two, unless it is worked several times.
    const auto say = [](Item&& said, std::vector<Item>& to) {
        if (said.kind != ItemKind::group || said.times != 1) {
            to.push_back(std::move(said));
            return;
        }
        for (Item& part : said.items) to.push_back(std::move(part));
    };
    if (item.times == 0) {  // `k0 (1, 2)`: not in this size
        bare_ = false;
        return;
    }
    if (item.times > 1 && !printedWithNumber(item.step.op)) {
        Item group;  // "inc 2"
        group.kind = ItemKind::group;
        group.times = item.times;
        group.place = item.place;
        item.times = 1;
        group.items.push_back(std::move(item));
        item = std::move(group);
    }
    Until until = Until::end;
    int last = 0;
    int n = 1;
    bool more = false;
    if (extent(until, last)) {
        bare_ = false;
        if (item.times == 1 && item.kind == ItemKind::stitch && (wasBare || !isRibSoFar(out, item))) {
            item.kind = ItemKind::run;
            // "bind off 5 to end": the end decides
            if (takesMany(item.step.op)) item.step.count = 1;
            item.place = placeFrom(start);
            openUntil(item, start, until, last);
            out.push_back(std::move(item));
            return;
        }
        Item star;
        star.kind = ItemKind::star;
        star.bareToEnd = !wasBare && isRibSoFar(out, item);
        if (star.bareToEnd) star.items.swap(out);
        say(std::move(item), star.items);
        star.place = placeFrom(start);
        openUntil(star, start, until, last);
        out.push_back(std::move(star));
        return;
    }
    if (times(n, more)) {
        bare_ = false;
        Item group;
        group.kind = ItemKind::group;
        group.times = std::min(more ? n + 1 : n, kLargestNumber);
        group.bareTimes = !more;
        say(std::move(item), group.items);
        group.place = placeFrom(start);
        if (group.times > 0) say(std::move(group), out);
        return;
    }
    if (isAny({"in", "into"}) || (is("all") && isAny({"in", "into"}, 1))) {
        const bool all = take("all");
        ++at_;
        take("the");
        takeAny({"next", "same", "one", "first", "last"});
        if (stitchWord() && (all || item.times != 1)) {
            problem(start, "Put brackets round all that is worked into one stitch.",
                    {"(k1, p1, k1) in next st"});
            sound_ = false;
        }
    }
    // Closing bindings of a row: "bind off all sts".
    item.place = placeFrom(start);
    bare_ = wasBare;
    say(std::move(item), out);
}

/// `work panel A`, `work row 3 of the lace panel over the next 12 sts`, `panel A`: rows of a name of their
/// own.
bool Reader::panel(std::vector<Item>& out) {
    if (panels_ == nullptr || panels_->list.empty() || peek().kind != TokenKind::word) return false;
    const std::size_t start = at_;
    Item item;
    item.kind = ItemKind::group;
    takeAny({"work", "working", "knit"});
    takeAny({"in", "the", "next"});
    take("next");
    if (takeAny({"row", "rnd", "round"})) {
        number(item.panelRow);
        take("of");
    }
    take("the");
    for (std::size_t i = 0; i < panels_->list.size() && item.panel == 0; ++i) {
        const std::vector<std::string>& words = panels_->list[i].words;
        std::size_t same = 0;
        while (same < words.size() &&
               (is(words[same], same) || (words[same] == "patt" && is("pattern", same))))
            ++same;
        if (same < words.size()) continue;
        at_ += same;
        item.panel = static_cast<int>(i) + 1;
    }
    if (item.panel == 0) {
        at_ = start;
        return false;
    }
    const std::size_t behind = at_;
    int stitches = 0;
    takeAny({"over", "across", "on"});
    takeAny({"the", "these"});
    take("next");
    if (!(number(stitches) && stitchWord())) at_ = behind;
    const std::vector<std::vector<Item>>& rows = panels_->list[static_cast<std::size_t>(item.panel) - 1].rows;
    if (item.panelRow > static_cast<int>(rows.size()) && !rows.empty()) {
        problem(start, fmt::format("It has {} rows only.", rows.size()), {});
        sound_ = false;
    }
    if (rows.empty()) sound_ = false;
    item.place = placeFrom(start);
    out.push_back(std::move(item));
    return true;
}

/// `knit the knits and purl the purls`, `work as they appear`, `knit the purls and purl the knits`.
bool Reader::follow(std::vector<Item>& out) {
    const std::size_t start = at_;
    bool opposite = false;
    bool found = false;
    const bool knitFirst = isAny({"knit", "k"});
    if ((knitFirst || isAny({"purl", "p"})) && is("the", 1)) {
        at_ += 2;
        const auto kind = [&](int& knits) {
            if (takeAny({"knits", "knit"})) {
                knits = 1;
            } else if (takeAny({"purls", "purl"})) {
                knits = 0;
            } else {
                return false;
            }
            stitchWord();
            return true;
        };
        int first = 0;
        int second = 0;
        if (kind(first)) {
            takeAny({",", "and", "&"});
            take("and");
            if ((knitFirst ? takeAny({"purl", "p"}) : takeAny({"knit", "k"})) && take("the") &&
                kind(second) && first != second) {
                opposite = (first == 1) != knitFirst;
                found = true;
            }
        }
    } else if (takeAny({"work"})) {
        takeAny({"sts", "all", "stitches"});
        stitchWord();
        const bool stitches = tokens_->list[at_ - 1].text != "work";
        take("as");
        take("the") && takeAny({"sts", "stitches"});
        take("they");
        found = takeAny({"appear", "face"}) || takeSeq({"present", "themselves"}) ||
                (stitches && (take("set") || takeAny({"established"})));
        if (found) take("you");
    }
    if (!found) {
        at_ = start;
        return false;
    }
    takeSeq({"as", "they", "face", "you"}) || takeSeq({"as", "they", "appear"});
    Item item;
    item.kind = ItemKind::follow;
    item.opposite = opposite;
    item.step.yarn = yarn_;
    Until until = Until::end;
    int last = 0;
    extent(until, last);
    item.place = placeFrom(start);
    openUntil(item, start, until, last);
    out.push_back(std::move(item));
    return true;
}

/// `dec 1`, `take in`, `work 2 tog`: which decrease is not said.
bool Reader::decreaseUnsaid(Item& item) {
    const std::size_t start = at_;
    bool said = false;  // by the old books, which have only one
    if (takeAny({"dec", "decrease"})) {
        int n = 1;
        number(n);
        stitchWord();
        if (n != 1) {
            at_ = start;
            return false;
        }
    } else if (takeSeq({"take", "in"}) || take("intake")) {
        if (is("1")) ++at_;
        said = true;
    } else if (takeSeq({"take", "two", "together"}) || takeSeq({"take", "2", "together"})) {
        said = true;
    } else if (takeAny({"work"})) {
        int n = 0;
        if (!number(n) || n != 2 || !(stitchWord(), takeAny({"tog", "together"}))) {
            at_ = start;
            return false;
        }
    } else {
        return false;
    }
    item = made(Op::k2tog);
    item.step.yarn = yarn_;
    item.place = placeFrom(start);
    if (!said)
        understood(start, "which shaping",
                   "which decrease is not said: k2tog, the plainest; another one would change the look, not "
                   "the count");
    return true;
}

void Reader::skipUnknown() {
    // "k2tgo": what was read as k2 belongs to the word that is not known.
    std::size_t start = at_;
    while (start > 0 && tokens_->list[start].glued &&
           (tokens_->list[start - 1].kind == TokenKind::word ||
            tokens_->list[start - 1].kind == TokenKind::number))
        --start;
    const Token first = tokens_->list[start];
    if (start == at_ && first.kind == TokenKind::number && isAny({"times", "more"}, 1)) {
        ++at_;
        while (takeAny({"more", "times"})) {
        }
        problem(start, "It is not clear what is worked so many times: put brackets round it.",
                {fmt::format("(...) {}", wordsFrom(start))});
        sound_ = false;
        return;
    }
    ++at_;
    while (!done() && peek().kind != TokenKind::star && !isAny({",", ";", ".", ":"}) && !opens(peek().text) &&
           !closes(peek().text) && !isAny({"rep", "repeat"}))
        ++at_;
    sound_ = false;
    if (first.kind == TokenKind::number) {
        problem(start, "A number stands here without a stitch before it.",
                {"k" + std::to_string(first.value)});
        return;
    }
    if (first.text == "to" || first.text == "until") {
        problem(start, "It is not clear what goes on so far: put a star before it.",
                {"*...; rep from * " + wordsFrom(start)});
        return;
    }
    if (first.text == "dec" || first.text == "decrease") {
        problem(start, "Which decrease is not said.", {"k2tog", "k3tog", "p2tog"});
        return;
    }
    const bool vague = first.text == "work" || first.text == "cont" || first.text == "continue" ||
                       first.text == "patt" || first.text == "pattern" || first.text == "in";
    if (vague) {
        problem(start, "These words lean on rows worked before; write the row out.",
                {"k to end", "as row 2"});
        return;
    }
    std::size_t next = start;
    std::vector<std::string> near = nearWords(cluster(start, next));
    problem(start, fmt::format("“{}” is not a word of knitting that is known here.", wordsFrom(start)),
            std::move(near));
}

}  // namespace loopmend
