// SPDX-License-Identifier: MIT
// A text is cut into statements first, so that a bad one cannot hide the next.
#include "pattern/parse.h"

#include "pattern/markers.h"
#include "pattern/order.h"
#include "pattern/panels.h"
#include "pattern/part_read.h"
#include "pattern/parts.h"
#include "pattern/reader.h"
#include "pattern/settle.h"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

namespace loopmend {

namespace {

bool letterStart(std::string_view text, std::initializer_list<std::string_view> words) {
    return std::find(words.begin(), words.end(), text) != words.end();
}

/// Words with which a line of stitches may go on; any other line after a full stop is a remark.
bool stitchStart(const Token& token) {
    if (token.kind != TokenKind::word) return token.kind != TokenKind::end;
    return letterStart(
        token.text,
        {"k",    "knit", "p",    "purl", "sl",   "slip", "yo",   "yfwd", "yf",  "yrn", "ssk",  "sssk",
         "ssp",  "skp",  "skpo", "sk",   "s",    "m",    "make", "kfb",  "inc", "c",   "rep",  "repeat",
         "bind", "cast", "bo",   "co",   "hold", "psso", "pass", "to",   "end", "and", "then", "kpk",
         "kyok", "pfb",  "pkp",  "pyop", "sp",   "spp",  "cdd",  "yarn", "sm",  "pm",  "over"});
}

}  // namespace

Pattern parse(std::string_view text, const ParseOptions& options) {
    Pattern pattern;
    const Parts parts = partsOf(text, options.part);
    const bool several = parts.names.size() > 1;
    Panels panels = panelsOf(several ? std::string_view(parts.text) : text);
    if (!panels.list.empty()) readPanels(panels, options, pattern);
    const Begun begun = several ? beginPart(parts, text, options, pattern) : Begun{};
    Reader(panels.text, options, pattern, &panels).read(begun);
    if (!panels.list.empty()) {
        pattern.text.assign(text);
        workPanels(panels, pattern);
    }
    followMarks(pattern);
    settle(pattern);
    if (several) finishPart(parts, options, pattern);
    std::vector<Problem> order = orderProblems(pattern);
    pattern.problems.insert(pattern.problems.end(), std::make_move_iterator(order.begin()),
                            std::make_move_iterator(order.end()));
    std::stable_sort(pattern.problems.begin(), pattern.problems.end(),
                     [](const Problem& a, const Problem& b) {
                         return a.line != b.line ? a.line < b.line : a.column < b.column;
                     });
    std::stable_sort(pattern.understood.begin(), pattern.understood.end(),
                     [](const Understood& a, const Understood& b) {
                         return a.line != b.line ? a.line < b.line : a.column < b.column;
                     });
    return pattern;
}

void Reader::read(const Begun& begun) {
    begun_ = begun;
    std::vector<Statement> statements;
    split(statements);
    mixed_ = std::any_of(statements.begin(), statements.end(), [](const Statement& statement) {
        return statement.what == What::row && statement.head.row.round;
    });
    const std::size_t all = limit_;
    for (Statement& statement : statements) {
        at_ = statement.begin;
        limit_ = statement.end;
        row_ = 0;
        sound_ = true;
        depth_ = 0;
        pendingYarnFront_ = pendingYarnBack_ = false;
        switch (statement.what) {
            case What::row: rowStatement(statement); break;
            case What::repeat:
                repeatStatement(statement);
                for (std::size_t i = statement.begin + 1; i < statement.end; ++i)
                    if (tokens_->list[i - 1].text == ".") leftOut(i, statement.end);
                break;
            case What::bindOff: out_.bindOffAtEnd = true; break;
            case What::alias: aliasStatement(statement); break;
            case What::remark: remarkStatement(statement); break;
            case What::directive: workDirective(statement); break;
        }
        limit_ = all;
    }
    for (const Row& row : out_.rows)
        if (row.round) out_.round = true;
    if (out_.round)
        for (Row& row : out_.rows) row.round = true;
}

void Reader::split(std::vector<Statement>& statements) {
    const std::size_t all = tokens_->list.size() - 1;
    bool inRow = false;
    std::size_t behindDirective = 0;
    for (std::size_t i = 0; i < all; ++i) {
        const Token& token = tokens_->list[i];
        const bool lineStart = token.first;
        const bool afterStop =
            i > 0 && (tokens_->list[i - 1].text == "." || tokens_->list[i - 1].text == ";");
        Statement statement;
        if (!lineStart && !afterStop) {
            // "Cast on 60 sts and work in rib for 5 rows."
            if (inRow || i < behindDirective || i == 0 ||
                !isAnyOf(tokens_->list[i - 1].text, {",", "and", ":"}))
                continue;
            // "Shape top: Next row: k2tog, k to end."
            if (tokens_->list[i - 1].text == ":" && headAt(i, false, statement.head)) {
                statement.what = What::row;
                if (!statements.empty()) statements.back().end = i;
                statement.begin = i;
                statement.end = all;
                anyRow_ = inRow = true;
                statements.push_back(std::move(statement));
                continue;
            }
            // "Work these 6 rows 3 times, then work rows 1-2 once more."
            at_ = i;
            if (!statements.empty() && statements.back().what == What::repeat && repeatAhead()) {
                statement.what = What::repeat;
                statements.back().end = i;
                statement.begin = i;
                statement.end = all;
                statements.push_back(std::move(statement));
                continue;
            }
            Directive directive;
            const bool then = token.text == "then";
            if (!directiveAt(i, directive) || directive.kind == Directive::Kind::progress ||
                (directive.rows == 0 && !directive.length && !directive.ground && !then))
                continue;
            behindDirective = directive.end;
            statement.what = What::directive;
            if (!statements.empty()) statements.back().end = i;
            statement.begin = i;
            statement.end = all;
            statements.push_back(std::move(statement));
            continue;
        }
        if (!classify(i, lineStart, inRow, statement)) continue;
        if (!statements.empty()) statements.back().end = i;
        statement.begin = i;
        statement.end = all;
        anyRow_ = anyRow_ || statement.what == What::row || statement.what == What::directive;
        inRow = statement.what == What::row;
        if (statement.what == What::directive) behindDirective = statement.directiveEnd;
        statements.push_back(std::move(statement));
    }
}

/// Whether a statement begins at this token, and of which kind.
bool Reader::classify(std::size_t token, bool lineStart, bool inRow, Statement& statement) {
    if (headAt(token, lineStart, statement.head)) {
        statement.what = What::row;
        return true;
    }
    at_ = token;
    if (repeatAhead()) {
        statement.what = What::repeat;
        return true;
    }
    Directive directive;
    if (directiveAt(token, directive)) {
        statement.what = What::directive;
        statement.directiveEnd = directive.end;
        return true;
    }
    if (!lineStart && anyRow_ && token > 0 && tokens_->list[token - 1].text == "." && bindOffAhead()) {
        statement.what = What::bindOff;
        return true;
    }
    if (!lineStart) return false;
    if (aliasAhead()) {
        statement.what = What::alias;
        return true;
    }
    const bool goesOn =
        inRow && (tokens_->list[token - 1].text == "," || tokens_->list[token - 1].text == "and");
    if (anyRow_ && !goesOn && bindOffAhead()) {
        statement.what = What::bindOff;
        return true;
    }
    const Token& here = tokens_->list[token];
    const bool fresh = here.afterBlank || !inRow;
    // A printed count ends a row as a full stop does: `(8 sts)`.
    const bool afterCount = token > 1 && tokens_->list[token - 1].text == ")" &&
                            isAnyOf(tokens_->list[token - 2].text, {"st", "sts", "stitches"});
    const bool afterStop = token > 0 && (tokens_->list[token - 1].text == "." || afterCount);
    statement.what = What::remark;
    return fresh || (afterStop && !stitchStart(here)) || here.text == "multiple";
}

bool Reader::bindOffAhead() {
    const std::size_t start = at_;
    bool found = false;
    if (takeSeq({"bind", "off"}) || takeSeq({"cast", "off"}) || take("bo")) {
        int n = 0;
        found = !number(n);
    }
    at_ = start;
    return found;
}

/// `T2 = k2tog`, `c4f means 2/2 LC`.
bool Reader::aliasAhead() {
    if (peek().kind != TokenKind::word) return false;
    std::size_t next = at_;
    cluster(at_, next);
    const std::size_t start = at_;
    at_ = next;
    const bool found = is("=") || is("means");
    at_ = start;
    return found;
}

void Reader::aliasStatement(const Statement& statement) {
    std::size_t next = at_;
    std::string words(cluster(at_, next));
    const std::size_t start = at_;
    // The definition ends with its line.
    std::size_t end = statement.begin + 1;
    while (end < statement.end && !tokens_->list[end].first) ++end;
    limit_ = end;
    at_ = next + 1;
    std::vector<Item> meaning;
    const std::size_t problems = out_.problems.size();
    separators();
    if (!done()) oneItem(meaning, Stop::row);
    separators();
    if (meaning.size() == 1 && meaning[0].kind == ItemKind::stitch && done() &&
        out_.problems.size() == problems) {
        aliases_.emplace_back(std::move(words), std::move(meaning[0]));
        return;
    }
    out_.problems.resize(problems);
    at_ = statement.begin;
    if (namesYarn() && (colorWord() != '\0' || is("=", 1))) {  // "MC = grey, CC = red"
        at_ = statement.end;
        out_.remarks.push_back(wordsFrom(statement.begin));
        return;
    }
    at_ = end;
    problem(start, "A word of the book's own must stand for one stitch that is known here.",
            {fmt::format("{} = k2tog", words)});
}

void Reader::rowStatement(Statement& statement) {
    Head& head = statement.head;
    Row row = std::move(head.row);
    if (head.next || head.unnumbered) {
        if (head.next && !alternate_) settleEvery(row.facing);
        int n = lastNumber() + 1;
        if (alternate_ && (n - *alternate_) % 2 == 0) ++n;  // that one is worked as every second row is
        if (row.every != Every::none) {
            alternate_ = n;
            row.every = n % 2 == 0 ? Every::even : Every::odd;
        }
        row.spans.push_back({n, n + head.nextRows - 1});
    }
    // `Row 1` behind `Rib row 1` begins anew, as under a heading.
    if (!(head.next || head.unnumbered) && std::exchange(label_, head.label) != head.label)
        heading_ = head.label.empty() ? std::string(row.round ? "Rnd 1" : "Row 1") : head.label;
    // A row to set up behind others comes next.
    const bool setUp = row.spans.size() == 1 && row.spans[0].last == 0 && !out_.rows.empty();
    if (setUp) row.spans[0] = {lastNumber() + 1, lastNumber() + 1};
    numberInGroup(row, head.next || head.unnumbered || setUp, statement.begin);
    if (!head.name.empty() && !row.spans.empty()) names_.emplace_back(head.name, row.spans.front().first);
    row_ = row.spans.empty() ? 0 : row.spans.front().first;
    at_ = std::min(head.body, limit_);
    const std::string_view word = row.round ? "Rnd" : "Row";
    if (head.unnumbered)
        problem(statement.begin, "This row has no number.", {fmt::format("{} {}:", word, row_)});
    if (head.misspelt)
        problem(statement.begin, "This looks like the head of a row.", {fmt::format("{} {}:", word, row_)});
    for (const auto& [message, suggestion] : head.complaints)
        problem(statement.begin, message,
                suggestion.empty() ? std::vector<std::string>{} : std::vector<std::string>{suggestion});
    if (out_.rows.empty() && !row.round && !row.facing) row.facing = begun_.facing;
    headSide_ = row.facing;
    partAt_.reset();
    if (row.every == Every::none && (evenlyBody(row, statement.begin) || groundBody(row, statement.begin) ||
                                     shapedBody(row, statement.begin)))
        return;
    rowBody(row);
    if (row.sameAs) {
        row.sameAs->first = std::min(row.sameAs->first + offset_, kLargestNumber);
        row.sameAs->last = std::min(row.sameAs->last + offset_, kLargestNumber);
    }
    at_ = limit_;
    row.place = placeFrom(statement.begin);
    partWorked(row);
    onSome(row);
    toAndFro(row, statement.begin);
    out_.rows.push_back(std::move(row));
}

/// Rows among rounds that begin with one of a side, or with a turn (`Row 1 (RS): ... turn`), are worked to
/// and fro: those with the right side facing end with a turn, but for one before rounds go on. The ones
/// between are turned anyway.
void Reader::toAndFro(Row& row, std::size_t first) {
    if (row.round || !mixed_) {
        if (row.round && flatTurn_ && *flatTurn_ + 1 == out_.rows.size() && !out_.rows.back().items.empty())
            out_.rows.back().items.pop_back();
        flatSide_.reset();
        flatTurn_.reset();
        return;
    }
    const auto waits = [](const Item& item) { return turnsWork(item) || item.step.op == Op::hold; };
    const bool begins = row.facing || std::any_of(row.items.begin(), row.items.end(), waits);
    if (!flatSide_ && !begins) return;
    const Facing side = flatSide_ ? opposite(*flatSide_) : row.facing.value_or(Facing::right);
    flatSide_ = side;
    flatTurn_.reset();
    if (side == Facing::wrong || row.items.empty() || turnsWork(row.items.back())) return;
    row.items.push_back(made(Op::turn));
    row.items.back().place = row.place;
    flatTurn_ = out_.rows.size();
    const std::size_t here = std::exchange(at_, limit_);
    understood(
        first, "to and fro",
        "rows among rounds are worked to and fro: the work is turned at the ends of those with the right "
        "side facing");
    at_ = here;
}

/// Rows that begin again from 1 under another heading, or behind rows without numbers (`Knit 4 rows`), are
/// counted on from those before.
void Reader::numberInGroup(Row& row, bool counted, std::size_t start) {
    const bool behindOthers = std::exchange(unnumbered_, counted);
    if (counted) {
        heading_.clear();
        return;  // `Next row` has its number from the rows before
    }
    const int first = row.spans.empty() ? 0 : row.spans.front().first;
    const bool otherKind = mixed_ && !out_.rows.empty() && out_.rows.back().round != row.round;
    const bool restarts = (behindOthers || otherKind || (!heading_.empty() && first <= groupRow_)) &&
                          (first == 1 || (first == 2 && row.every != Every::none));
    if (restarts) beginGroup(start);
    // "Decrease round 2" behind a round without a number comes next, whatever was counted before it.
    if (!restarts && behindOthers && !label_.empty() && first > 1) offset_ = lastNumber() + 1 - first;
    for (RowSpan& span : row.spans) {
        groupRow_ = std::max(groupRow_, span.last);
        if (span.last == 0) continue;
        span.first = std::min(span.first + offset_, kLargestNumber);
        span.last = std::min(span.last + offset_, kLargestNumber);
    }
    if (offset_ % 2 != 0 && (row.every == Every::odd || row.every == Every::even))
        row.every = row.every == Every::odd ? Every::even : Every::odd;
    if (offset_ > 0 && row.every != Every::none && row.spans.empty()) {
        // `Every even row` of this group: from its first one on.
        const int from =
            offset_ + (row.every == Every::odd ? (offset_ % 2 == 0 ? 1 : 2) : (offset_ % 2 == 0 ? 2 : 1));
        if (row.every == Every::odd || row.every == Every::even) row.spans.push_back({from, from});
    }
    heading_.clear();
}

/// What `every even row` claims so far is settled: rows that follow are others.
/// The next one is no such row, whatever its number; the even row behind the last odd one was worked, unless
/// the side that faces her in the next one says otherwise.
void Reader::settleEvery(std::optional<Facing> next) {
    alternate_.reset();
    if (std::none_of(out_.rows.begin(), out_.rows.end(),
                     [](const Row& row) { return row.every != Every::none; }))
        return;
    const RowOrder order = rowOrder(out_);
    const int last = lastNumber();
    const bool open = next && !out_.round && facingOf(out_, order, order.rows.size()) != *next;
    for (std::size_t i = 0; i < out_.rows.size(); ++i) {
        Row& row = out_.rows[i];
        if (row.every == Every::none) continue;
        std::vector<RowSpan> spans;
        for (const OrderedRow& ordered : order.rows)
            if (ordered.head == i && !ordered.again && !(open && ordered.printed > last))
                spans.push_back({ordered.printed, ordered.printed});
        if (spans.empty()) continue;
        row.spans = std::move(spans);
        row.every = Every::none;
    }
}

void Reader::beginGroup(std::size_t start) {
    settleEvery();
    offset_ = lastNumber();
    groupRow_ = 0;
    established_ = {};
    const std::size_t line = static_cast<std::size_t>(tokens_->list[start].line);
    out_.understood.push_back(
        {offset_ + 1, static_cast<int>(line), tokens_->list[start].column,
         heading_.empty() ? std::string(tokens_->list[start].text) + " 1" : heading_,
         fmt::format("rows begin again from 1 here; they are counted on, so that row 1 is row {}",
                     offset_ + 1)});
}

/// What sounds like work and is not understood is said to be left out; other needles are no work.
void Reader::leftOut(std::size_t start, std::size_t end) {
    const auto first = tokens_->list.begin() + static_cast<std::ptrdiff_t>(start);
    const auto last = tokens_->list.begin() + static_cast<std::ptrdiff_t>(end);
    const bool needles =
        std::any_of(first, last, [](const Token& token) { return token.text.substr(0, 6) == "needle"; });
    // "Divide for armholes: k12, cast off 3 sts, k to end"
    const auto colon = std::find_if(first, last, [](const Token& token) { return token.text == ":"; });
    const bool stitches = anyRow_ && last - colon > 2 &&
                          isAnyOf((colon + 1)->text, {"k", "p", "knit", "purl", "sl"}) &&
                          (colon + 2)->kind == TokenKind::number;
    const bool work = isAnyOf(first->text, {"work", "cont", "continue", "change", "switch", "rep", "repeat",
                                            "k", "p", "proceed", "knit", "purl"});
    if (needles || !(anyRow_ || out_.castOn) || !(stitches || work)) return;
    const std::size_t here = std::exchange(at_, end);
    out_.understood.push_back({0, first->line, first->column, wordsFrom(start),
                               "this is not understood and taken as a remark: nothing is worked for it"});
    at_ = here;
}

/// `Working on last set of 5 sts only`: the others wait from the next row on.
bool Reader::someOnly(std::size_t start, std::size_t end) {
    const std::size_t behind = std::exchange(at_, start);
    const std::size_t limit = std::exchange(limit_, end);
    bool found = false;
    int n = 0;
    takeAny({"now", "then"});
    if (takeAny({"working", "work", "cont", "continue", "continuing"}) &&
        (takeAny({"working"}), take("on"))) {
        takeAny({"the", "these", "those"});
        takeAny({"last", "first", "next"});
        take("set") && take("of");
        found =
            number(n) && n > 0 && stitchWord() && (take("only"), true) && (done() || isAny({",", ".", ":"}));
    }
    if (found) {
        only_ = n;
        onlyLater_ = false;
    }
    at_ = behind;
    limit_ = limit;
    return found;
}

/// The first row after that: it ends where those stitches do, and the rest is held. One that turns before its
/// end does not come so far: then it is the next one from that side.
void Reader::onSome(Row& row) {
    if (std::exchange(onlyLater_, false)) return;
    const int only = std::exchange(only_, 0);
    if (only == 0 || row.items.empty() || row.sameAs) return;
    if (turnsWork(row.items.back())) {
        only_ = only;
        onlyLater_ = true;
        return;
    }
    const std::optional<std::int64_t> all = standing().stitches;
    if (!all || *all <= only || *all > kLargestNumber) return;
    const int rest = static_cast<int>(*all) - only;
    for (Item& item : row.items) {
        if (item.kind == ItemKind::stitch || item.kind == ItemKind::group || item.kind == ItemKind::marker)
            continue;
        if (item.until == Until::end) {
            item.until = Until::last;
            item.last = rest;
        } else if (item.until == Until::last) {
            item.last = std::min(item.last + rest, kLargestNumber);
        }
    }
    Item hold = counted(Op::hold, 1);
    hold.kind = ItemKind::run;
    hold.place = row.place;
    row.items.push_back(std::move(hold));
}

void Reader::remarkStatement(const Statement& statement) {
    const std::size_t start = at_;
    const bool facts = factsInRemark();
    at_ = statement.end;
    const std::string words = wordsFrom(start);
    if (!facts && statement.begin == 0) out_.title = words;
    if (!words.empty()) heading_ = words.size() <= 60 ? words : "a remark";
    if (!facts) out_.remarks.push_back(words);
    if (someOnly(start, statement.end)) return;

    // Nor is shaping that is not understood.
    const bool goesOn = isAnyOf(tokens_->list[start].text, {"cont", "continue", "keep"});
    const auto shaping = [&](std::size_t i) {
        return isAnyOf(tokens_->list[i].text,
                       {"dec", "decrease", "decreasing", "inc", "increase", "increasing"});
    };
    const bool shapes = anyRow_ && (goesOn || shaping(start));
    bool rows = false;
    for (std::size_t i = start; i < statement.end && shapes; ++i)
        rows = rows ||
               (goesOn ? shaping(i)
                       : isAnyOf(tokens_->list[i].text, {"row", "rows", "rnd", "rnds", "round", "rounds"}));
    if (rows) {
        problem(start, "These words seem to shape the piece, but when or where is not understood.",
                {"Dec 1 st at each end of next and every foll 4th row 3 times."});
        return;
    }

    // Nor are stitches that come back into work.
    const auto says = [&](std::initializer_list<std::string_view> any) {
        for (std::size_t i = start; i < statement.end; ++i)
            if (isAnyOf(tokens_->list[i].text, any)) return true;
        return false;
    };
    const bool waiting = says({"held", "holder", "holders"}) && !says({"strand", "strands", "double"});
    if (anyRow_ && ((waiting && says({"return", "replace", "from", "needle", "needles", "rejoin", "join"})) ||
                    (says({"rejoin"}) && says({"st", "sts", "stitches"})))) {
        at_ = statement.end;
        problem(start,
                "These words seem to take stitches up again that waited; which, and how, is not understood.",
                {"Return to the 12 held sts, rejoin yarn, k to end",
                 "a heading of its own before its rows (Second side), and under it: Cast on 12 sts"});
        return;
    }

    leftOut(start, statement.end);

    // Stitches without a row head are not silently lost.
    at_ = start;
    const std::size_t problems = out_.problems.size();
    const std::size_t notes = out_.understood.size();
    const std::size_t said = said_.size();
    const std::string yarns = out_.yarns;
    const std::uint8_t yarn = yarn_;
    std::vector<Item> stitches;
    bool clean = true;
    while (!done() && clean) {
        separators();
        if (done()) break;
        const std::size_t before = at_;
        oneItem(stitches, Stop::row);
        clean = at_ > before && out_.problems.size() == problems;
    }
    out_.problems.resize(problems);
    out_.understood.resize(notes);
    said_.resize(said);
    out_.yarns = yarns;
    yarn_ = yarn;
    link_ = false;
    const auto cast = [](const Item& item) {
        return item.kind == ItemKind::stitch && (item.step.op == Op::castOn || item.step.op == Op::bindOff);
    };
    const bool edges = std::all_of(stitches.begin(), stitches.end(), cast);
    const bool numbered = std::any_of(tokens_->list.begin() + static_cast<std::ptrdiff_t>(start),
                                      tokens_->list.begin() + static_cast<std::ptrdiff_t>(statement.end),
                                      [](const Token& token) { return token.kind == TokenKind::number; });
    if (clean && !edges && stitches.size() >= 2 && numbered) {
        at_ = statement.end;
        problem(start, "These words are stitches, but no row head stands before them.",
                {fmt::format("Row 1: {}", words)});
    }
}

/// Cast-on, multiple and round may be said in any line that is not a row.
bool Reader::factsInRemark() {
    const std::size_t start = at_;
    bool facts = false;
    for (; !done(); ++at_) {
        const std::size_t here = at_;
        if (at_ == start && takeAny({"yarns", "yarn", "colors", "colours"}) && take(":")) {
            std::uint8_t yarn = 0;
            while (yarnName(yarn)) {
                facts = true;
                take(",") || take("and");
            }
        } else if (takeSeq({"cast", "on"}) || take("co")) {
            int n = 0;
            takeAny({"a", "total", "of"});
            if (at_ == start + 2 - (tokens_->list[start].text == "co" ? 1 : 0) && out_.castOn &&
                !out_.rows.empty() && numberAhead()) {
                at_ = limit_;
                problem(here,
                        "Here another piece is cast on, and the one before has not ended under a heading of "
                        "its own.",
                        {"a heading before it: Sleeve", "a heading before each: Back"});
                at_ = here;
                facts = true;
            } else if (number(n) && n > 0 && !out_.castOn && out_.rows.empty()) {
                stitchWord();
                facts = true;
                out_.castOn = n;
                out_.castOnPlace = placeFrom(here);
            }
        } else if (takeAny({"multiple", "multiples", "mult", "mults", "divisible"})) {
            take(".");
            PrintedMultiple multiple;
            if (takeAny({"of", "by"}) && number(multiple.of) && multiple.of > 0) {
                stitchWord();
                take(",");
                if (takeAny({"+", "plus", "and"})) {
                    takeAny({"an", "extra"});
                    number(multiple.plus);
                    stitchWord();
                }
                // "+ 1, plus 2 edge sts": both stand beside the repeats
                const std::size_t edges = at_;
                takeAny({",", "("});
                takeAny({",", "and"});
                int more = 0;
                if (takeAny({"+", "plus"}) && number(more)) {
                    takeAny({"edge", "selvedge", "selvage", "border"});
                    stitchWord();
                    takeAny({"edge", "selvedge"});
                    take(")");
                    multiple.plus = std::min(multiple.plus + more, kLargestNumber);
                } else {
                    at_ = edges;
                }
                facts = true;
                multiple.place = placeFrom(here);
                if (!out_.multiple) out_.multiple = multiple;
            }
        } else if (takeSeq({"in", "the", "round"}) || takeSeq({"in", "rounds"})) {
            facts = out_.round = true;
        }
        at_ = here;
    }
    at_ = start;
    return facts;
}

}  // namespace loopmend
