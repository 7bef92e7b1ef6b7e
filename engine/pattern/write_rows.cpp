// SPDX-License-Identifier: MIT
// Sentences that stand for rows, written out as rows: what follows in the text, and all that counts, draws
// and prints, then knows rows only.
#include "pattern/reader.h"

#include "pattern/counts.h"
#include "pattern/order.h"
#include "pattern/part_of_row.h"

#include <algorithm>

#include <fmt/format.h>

namespace loopmend {

namespace {

Item run(Op op, Until until = Until::end, int last = 0) {
    Item item = made(op);
    item.kind = ItemKind::run;
    item.until = last > 0 ? Until::last : until;
    item.last = last;
    return item;
}

Item asBefore(bool opposite, int last) {
    Item item;
    item.kind = ItemKind::follow;
    item.opposite = opposite;
    item.until = last > 0 ? Until::last : Until::end;
    item.last = last;
    return item;
}

}  // namespace

/// One row of a ground, from its edge on or over all but the last stitches of it; false if it cannot be said
/// so.
bool Reader::groundItems(const NamedGround& ground, int worked, const Standing& now, int last, bool whole,
                         std::vector<Item>& out) const {
    const bool right = now.round || now.side == Facing::right;
    const auto plain = [&](bool knitted) {
        out.push_back(run(knitted ? Op::knit : Op::purl, Until::end, last));
        return true;
    };
    const auto star = [&](int knits, int purls) {
        if (!whole) return false;
        Item item;
        item.kind = ItemKind::star;
        item.items = {made(Op::knit, knits), made(Op::purl, purls)};
        const int each = knits + purls;
        const int over = now.stitches ? static_cast<int>(*now.stitches % each) : 0;
        if (over > 0) {
            item.until = Until::last;
            item.last = over;
        }
        out.push_back(std::move(item));
        if (over > 0) out.push_back(made(Op::knit, std::min(over, knits)));
        if (over > knits) out.push_back(made(Op::purl, over - knits));
        return true;
    };
    switch (ground.ground) {
        case Ground::stockinette: return plain(right);
        case Ground::reverseStockinette: return plain(!right);
        case Ground::garter: return plain(!now.round || worked % 2 == 0);
        case Ground::allKnit: return plain(true);
        case Ground::allPurl: return plain(false);
        case Ground::seed:
            if (worked == 0) return star(1, 1);
            out.push_back(asBefore(true, last));
            return true;
        case Ground::doubleSeed:
            if (worked == 0) return star(1, 1);
            out.push_back(asBefore(worked % 2 == 0, last));
            return true;
        case Ground::rib:
            if (worked == 0) return star(ground.knits, ground.purls);
            out.push_back(asBefore(false, last));
            return true;
        case Ground::asTheyFace: out.push_back(asBefore(false, last)); return true;
    }
    return false;
}

void Reader::patternNotSaid(std::size_t start) {
    problem(start, "Where this shaping falls into the pattern is not said: write these rows out.",
            {"Row 9: ssk, k to last 2 sts, k2tog"});
}

/// The row of a pattern whose turn is next, over so many stitches; none: it does not come out over them.
std::optional<std::vector<Step>> Reader::establishedRow(const Standing& now, int stitches) const {
    const int length = established_.rows.last - established_.rows.first + 1;
    const int n = established_.rows.first + established_.worked % length;
    const std::optional<std::size_t> found = rowWorkedAs(out_, n);
    if (!found) return std::nullopt;
    Pattern one;
    one.round = now.round;
    one.yarns = out_.yarns;
    one.rows.push_back(out_.rows[*found]);
    one.rows.front().spans = {{1, 1}};
    one.rows.front().every = Every::none;
    one.rows.front().printedCount.reset();
    one.rows.front().facing = now.round ? std::nullopt : std::optional<Facing>(now.side);
    tl::expected<Script, Problem> script = expand(one, stitches, 1);
    if (!script) return std::nullopt;
    return std::move(script->rows.front().steps);
}

/// The same between the shaped edges; the first and the last stitches there are at the edges are left for
/// others.
bool Reader::establishedPart(const Standing& now, int first, int last, std::vector<Item>& out) const {
    const bool rightFirst = now.round || now.side == Facing::right;
    const int gone = rightFirst ? established_.goneRight : established_.goneLeft;
    const int goneAtEnd = rightFirst ? established_.goneLeft : established_.goneRight;
    const auto row = establishedRow(now, established_.stitches);
    if (!row) return false;
    const auto part = partOfRow(*row, gone + first, established_.stitches - goneAtEnd - last);
    if (!part) return false;
    for (Item& item : itemsOf(*part)) out.push_back(std::move(item));
    return true;
}

/// The next row of what is established; false: between the shaped edges it cannot be worked.
bool Reader::evenRow(const Standing& now, Row& row) {
    bool said = true;
    if (established_.kind == Established::Kind::ground) {
        groundItems(established_.ground, established_.worked, now, 0, true, row.items);
    } else if (established_.stitches > 0) {
        said = establishedPart(now, 0, 0, row.items);
    } else {
        const int length = established_.rows.last - established_.rows.first + 1;
        const int n = established_.rows.first + established_.worked % length;
        row.sameAs = RowSpan{n, n};
    }
    ++established_.worked;
    return said;
}

/// Appends a row under the next number. Rows of one sentence that say the same stand under one head.
void Reader::append(Row row, std::size_t firstOfSentence, std::size_t start) {
    const bool first = firstOfSentence == out_.rows.size();
    const int n = (first ? lastWorked() : lastNumber()) + 1;
    unnumbered_ = true;
    row.place = placeFrom(start);
    row.countPlace = row.place;
    for (Item& item : row.items) {
        item.place = row.place;
        item.step.yarn = yarn_;
        for (Item& inner : item.items) {
            inner.place = row.place;
            inner.step.yarn = yarn_;
        }
    }
    if (n > kLargestNumber) return;
    onSome(row);
    for (std::size_t i = out_.rows.size(); i-- > firstOfSentence;) {
        Row& before = out_.rows[i];
        if (before.printedCount || row.printedCount || before.facing || row.facing ||
            before.round != row.round)
            continue;
        const bool same = before.sameAs ? row.sameAs && before.sameAs->first == row.sameAs->first &&
                                              before.sameAs->last == before.sameAs->first
                                        : !row.sameAs && sameItems(before.items, row.items);
        if (!same) continue;
        if (before.spans.back().last == n - 1 && !before.sameAs) {
            before.spans.back().last = n;
        } else {
            before.spans.push_back({n, n});
        }
        return;
    }
    row.spans = {{n, n}};
    out_.rows.push_back(std::move(row));
}

void Reader::workDirective(const Statement& statement) {
    const std::size_t start = statement.begin;
    Directive directive;
    if (!directiveAt(start, directive, false)) return;
    takeAny({"now", "then"});
    yarnWords();
    if (directive.yarnAt > 0) {
        at_ = directive.yarnAt;
        yarnName(yarn_);
        at_ = directive.end;
        if (!directive.ground && !directive.straight && directive.rows == 0 && !directive.length) return;
    }
    // A count behind the sentence is the one it leads to.
    at_ = directive.end;
    separators();
    Row counted;
    if (!done() && rowCount(counted) && counted.printedCount) {
        directive.count = *counted.printedCount;
        for (Clock& clock : directive.clocks)
            if (clock.target == 0) clock.target = directive.count;
        directive.end = at_;
    }
    at_ = directive.end;
    row_ = lastNumber() + 1;
    if (directive.kind == Directive::Kind::even) {
        const Established before = established_;
        workEven(directive, start);
        // "P 1 row" is one row, and no other ground.
        const Ground ground = directive.named.ground;
        if (directive.ground && directive.rows == 1 && before.kind != Established::Kind::nothing &&
            (ground == Ground::allKnit || ground == Ground::allPurl)) {
            established_ = before;
            ++established_.worked;
        }
    } else if (directive.kind == Directive::Kind::shape) {
        workShape(directive, start);
    } else if (directive.kind == Directive::Kind::evenly) {
        workEvenly(directive.evenly, directive.count > 0 ? std::optional<int>(directive.count) : std::nullopt,
                   start);
    } else {
        workProgress(directive, start);
    }
    at_ = directive.end;
    // What stands behind it is no part of it.
    separators();
    if (!done()) {
        Statement rest;
        rest.begin = at_;
        rest.end = statement.end;
        row_ = 0;
        remarkStatement(rest);
    }
}

void Reader::workEven(const Directive& directive, std::size_t start) {
    Standing now = standing();
    bool sayFirst = false;
    if (directive.ground) {
        established_ = {};
        established_.kind = Established::Kind::ground;
        established_.ground = directive.named;
        established_.since = out_.rows.size();
        Ground& ground = established_.ground.ground;
        if (ground == Ground::allKnit && now.round) ground = Ground::stockinette;
        if (ground == Ground::asTheyFace && out_.rows.empty()) ground = Ground::rib;
        if (directive.purlFirst && !now.round && ground == Ground::stockinette) {
            const Facing wanted = *directive.purlFirst ? Facing::wrong : Facing::right;
            if (out_.rows.empty()) {
                sayFirst = wanted != now.side;
                now.side = wanted;
            } else if (wanted != now.side) {
                ground = Ground::reverseStockinette;
                understood(
                    start, "first",
                    fmt::format("the row that comes is a {} row, so beginning with a {} row gives reverse "
                                "stockinette",
                                now.side == Facing::right ? "right-side" : "wrong-side",
                                *directive.purlFirst ? "purl" : "knit"));
            }
        }
    } else {
        assume(start);
        if (established_.kind == Established::Kind::nothing) {
            problem(start, "These words lean on rows worked before, and there are none.",
                    {"Row 1: k to end"});
            return;
        }
        if (directive.straight)
            understood(start, "straight",
                       "to work even, or in pattern, is to go on with the rows worked before, not to change "
                       "to plain knitting");
    }
    int rows = directive.rows;
    const bool open = rows == 0 && directive.length;
    if (open) {
        rows = 2;
        if (established_.kind == Established::Kind::rows) {
            rows = established_.rows.last - established_.rows.first + 1;
        } else if (established_.ground.ground == Ground::doubleSeed) {
            rows = 4;
        } else if (now.round && established_.ground.ground != Ground::garter &&
                   established_.ground.ground != Ground::seed) {
            rows = 1;
        }
        // A first row that is no `follow` is worked once only.
        if (established_.worked == 0 && established_.kind == Established::Kind::ground &&
            (established_.ground.ground == Ground::seed || established_.ground.ground == Ground::rib))
            rows += now.round ? 1 : 2;
        if (established_.worked == 0 && established_.ground.ground == Ground::doubleSeed &&
            established_.kind == Established::Kind::ground)
            rows += 4;
    }
    const auto sideAfter = [&](int n) { return n % 2 == 1 ? now.side : opposite(now.side); };
    if (directive.lastSide && !now.round && rows > 0 && sideAfter(rows) != *directive.lastSide) {
        const std::string_view last = *directive.lastSide == Facing::right ? "right-side" : "wrong-side";
        if (open) {
            ++rows;
        } else {
            problem(start, fmt::format("{} rows from here do not end with a {} row.", rows, last),
                    {fmt::format("{} rows", rows + 1), fmt::format("{} rows", rows - 1)});
        }
    }
    if (rows > kMostWritten) {
        tooManyRows(start);
        rows = kMostWritten;
    }
    const std::size_t first = out_.rows.size();
    const int before = lastWorked();
    const bool whole = established_.kind == Established::Kind::rows && !directive.count && !sayFirst &&
                       rows > 1 && established_.stitches == 0 &&
                       established_.worked % (established_.rows.last - established_.rows.first + 1) == 0;
    if (whole && !out_.rows.empty() && before + rows <= kLargestNumber) {
        Row row;
        row.round = now.round;
        row.spans = {{before + 1, before + rows}};
        row.sameAs = established_.rows;
        row.place = placeFrom(start);
        established_.worked += rows;
        out_.rows.push_back(std::move(row));
    } else {
        for (int i = 0; i < rows; ++i) {
            Row row;
            row.round = now.round;
            if (i == 0 && sayFirst) row.facing = now.side;
            if (directive.count > 0 && i + 1 == rows) row.printedCount = directive.count;
            if (!evenRow(now, row)) return patternNotSaid(start);
            append(std::move(row), first, start);
            now.side = now.round ? Facing::right : opposite(now.side);
        }
    }
    if (open && rows > 0) {
        RepeatRows repeat;
        int unit = 2;
        if (established_.kind == Established::Kind::rows) {
            unit = established_.rows.last - established_.rows.first + 1;
        } else if (established_.ground.ground == Ground::doubleSeed) {
            unit = 4;
        } else if (now.round && established_.ground.ground != Ground::garter &&
                   established_.ground.ground != Ground::seed) {
            unit = 1;
        }
        const int last = lastNumber();
        repeat.rows = {std::max(last - unit + 1, 1), last};
        repeat.after = out_.rows.size();
        repeat.place = placeFrom(start);
        out_.repeats.push_back(repeat);
        understood(
            start, "length",
            "how many rows that is depends on how tight she knits; they go on for as long as one likes");
    }
}

/// `Rows 1-6: work in garter st`, `Row 9: work even`: rows under their own numbers. False: the words say
/// something else.
bool Reader::groundBody(Row& head, std::size_t start) {
    const std::size_t body = at_;
    const std::size_t problems = out_.problems.size();
    const bool oldSound = sound_;
    const auto leave = [&] {
        at_ = body;
        out_.problems.resize(problems);
        sound_ = oldSound;
        return false;
    };
    const bool verb = takeAny({"work", "cont", "continue", "keep"});
    bool straight = verb && takeAny({"even", "straight"});
    NamedGround ground;
    straight = inPattern() || straight;
    bool named = false;
    if (!straight) {
        take("in");
        named = stitchName(ground);
    } else if (!verb && tokens_->list[body].text == "as") {
        return leave();
    }
    Until until = Until::end;
    int last = 0;
    if (named || straight) extent(until, last);
    takeAny({"."});
    Row counted;
    if ((named || straight) && !done()) rowCount(counted);
    separators();
    if ((!named && !straight) || !done() || until != Until::end) {
        return leave();
    }
    Standing now = standing();
    if (head.facing && !now.round) now.side = *head.facing;
    now.round = now.round || head.round;
    if (now.round) now.side = Facing::right;
    if (named) {
        established_ = {};
        established_.kind = Established::Kind::ground;
        established_.ground = ground;
        if (now.round && ground.ground == Ground::allKnit) established_.ground.ground = Ground::stockinette;
        if (ground.ground == Ground::asTheyFace && out_.rows.empty())
            established_.ground.ground = Ground::rib;
    } else {
        assume(start);
        if (established_.kind == Established::Kind::nothing) {
            return leave();
        }
        understood(start, "straight",
                   "to work even, or in pattern, is to go on with the rows worked before, not to change to "
                   "plain knitting");
    }
    const std::size_t first = out_.rows.size();
    int before = 0;
    for (const RowSpan& span : head.spans) {
        if (span.last - span.first >= kMostWritten) {
            tooManyRows(start);
            break;
        }
        for (int n = span.first; n <= span.last; ++n) {
            Row row;
            row.round = head.round;
            if (before == 0) row.facing = head.facing;
            const bool turned = before > 0 && (n - before) % 2 != 0;
            if (turned && !now.round) now.side = opposite(now.side);
            before = n;
            if (!evenRow(now, row)) {
                patternNotSaid(start);
                return false;
            }
            row.place = placeFrom(start);
            for (Item& item : row.items) item.place = row.place;
            bool merged = false;
            for (std::size_t i = first; i < out_.rows.size() && !merged && !row.facing; ++i) {
                Row& other = out_.rows[i];
                if (other.facing || other.sameAs.has_value() != row.sameAs.has_value() ||
                    (row.sameAs && row.sameAs->first != other.sameAs->first) ||
                    !sameItems(other.items, row.items))
                    continue;
                if (other.spans.back().last == n - 1 && !row.sameAs) {
                    other.spans.back().last = n;
                } else {
                    other.spans.push_back({n, n});
                }
                merged = true;
            }
            if (merged) continue;
            row.spans = {{n, n}};
            unnumbered_ = true;
            out_.rows.push_back(std::move(row));
        }
    }
    if (counted.printedCount && out_.rows.size() > first) {
        out_.rows.back().printedCount = counted.printedCount;
        out_.rows.back().countPlace = counted.countPlace;
    }
    established_.since = out_.rows.size();
    return true;
}

/// Within a row: `work in patt to last 2 sts`, `work to end`, `work 5 sts`.
bool Reader::leaning(std::vector<Item>& out) {
    const std::size_t start = at_;
    const std::size_t problems = out_.problems.size();
    const bool oldSound = sound_;
    const auto leave = [&] {
        at_ = start;
        out_.problems.resize(problems);
        sound_ = oldSound;
        return false;
    };
    // "moss to last 4 sts"
    const bool stitch = isAny({"moss", "rib", "seed", "garter"}) && is("to", 1);
    if (stitch) ++at_;
    const bool verb = stitch || takeAny({"work", "cont", "continue", "patt", "pattern"});
    bool pattern = verb && (stitch || isAnyOf(tokens_->list[start].text, {"patt", "pattern"}));
    if (verb) pattern = takeAny({"even", "straight"}) || pattern;
    int n = 0;
    const bool numbered = verb && number(n);
    if (numbered) stitchWord();
    pattern = inPattern() || pattern;
    Until until = Until::end;
    int last = 0;
    const bool far = !numbered && extent(until, last);
    pattern = inPattern() || pattern;
    if ((!verb && !pattern) || (!far && !numbered && !pattern)) {
        return leave();
    }
    if (!far && !numbered && !done() && !isAny({",", ".", ";", "(", "["})) {
        return leave();
    }
    const std::size_t notes = out_.understood.size();
    const auto saidNotes = said_;
    const Established saved = established_;
    assume(start);
    if (established_.kind == Established::Kind::rows) {
        if (const auto ground = groundOf(established_.rows)) {
            established_.kind = Established::Kind::ground;
            established_.ground = *ground;
            established_.worked = std::max(established_.worked, 1);
        }
    }
    std::vector<Item> items;
    if (established_.kind == Established::Kind::ground) {
        Standing now = standing();
        if (headSide_ && !now.round) now.side = *headSide_;
        groundItems(established_.ground, std::max(established_.worked, 1), now, last, false, items);
    }
    if (pattern && patternPart(start, numbered ? std::optional<int>(n) : std::nullopt, last, out))
        return true;
    const bool plain = items.size() == 1 && items[0].kind == ItemKind::run;
    if (items.size() != 1 || (numbered && !plain)) {
        established_ = saved;
        out_.understood.resize(notes);
        said_ = saidNotes;
        return leave();
    }
    Item item = std::move(items[0]);
    item.step.yarn = yarn_;
    item.place = placeFrom(start);
    if (numbered) {
        item.kind = ItemKind::stitch;
        item.times = n;
        item.until = Until::end;
        item.last = 0;
        if (n > 0) out.push_back(std::move(item));
    } else {
        item.until = until;
        item.last = last;
        openUntil(item, start, until, last);
        out.push_back(std::move(item));
    }
    understood(start, "straight",
               "to work even, or in pattern, is to go on with the rows worked before, not to change to plain "
               "knitting");
    return true;
}

}  // namespace loopmend
