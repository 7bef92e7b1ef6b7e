// SPDX-License-Identifier: MIT
// Sentences of shaping: what is done, at which edge, and when: `Dec 1 st at each end of next and every foll
// 4th row 5 times`, `Bind off 5 sts at beg of next 2 rows`, `Rep dec row every other row until 20 sts
// remain`.
#include "pattern/reader.h"

#include <algorithm>

namespace loopmend {

namespace {

/// Edges by what they will be in the garment.
constexpr std::string_view kEdges[] = {"neck",   "armhole", "front",  "side",  "raglan",   "sleeve",
                                       "center", "centre",  "inside", "outer", "shoulder", "selvedge"};

bool isNeck(std::string_view name) {
    return name == "neck" || name == "front" || name == "center" || name == "centre";
}

bool isArmhole(std::string_view name) {
    return name == "armhole" || name == "side" || name == "shoulder";
}

}  // namespace

/// Whether the neck lies at the right edge, as the right side shows it: where the other half was left.
std::optional<bool> Reader::sideOfNeck() const {
    const std::optional<bool> held = leftAtRight(out_);
    return held ? held : begun_.leftAtRight;
}

/// On which side an edge lies that is named by what it will be; none: it is no edge.
std::optional<bool> Reader::edgeAtRight(std::string_view name) const {
    if (std::find(std::begin(kEdges), std::end(kEdges), name) == std::end(kEdges)) return std::nullopt;
    const std::optional<bool> neck = isNeck(name) || isArmhole(name) ? sideOfNeck() : std::nullopt;
    return neck ? *neck == isNeck(name) : !isNeck(name);
}

bool Reader::shapeWords(Directive& directive) {
    // "Cont in garter st, inc 1 st at each end of ..."
    if (isAny({"work", "cont", "continue", "keep", "working"})) {
        const std::size_t here = at_;
        ++at_;
        takeSeq({"to", "work"});
        const bool pattern = inPattern();
        const bool in = !pattern && take("in");
        directive.ground = in && stitchName(directive.named);
        takeAny({","});
        take("and");
        if (!(pattern || directive.ground) ||
            !isAny({"dec", "decrease", "inc", "increase", "decreasing", "increasing", "bind", "cast", "bo",
                    "binding", "casting"}))
            at_ = here;
    }
    Clock clock;
    if (!clockWords(clock, directive)) return false;
    directive.clocks.push_back(clock);
    while (true) {
        const std::size_t here = at_;
        const std::size_t sentence = limit_;
        if (done() && limit_ < furthest_ && tokens_->list[limit_].text == ".") limit_ = furthest_;
        takeAny({",", ";", "."});
        take("and");
        if (!(takeSeq({"at", "the", "same", "time"}) || takeSeq({"at", "same", "time"}))) {
            at_ = here;
            limit_ = sentence;
            break;
        }
        limit_ = std::min(limit_, sentenceEnd(at_));
        takeAny({",", ":"});
        const std::size_t behind = at_;
        Clock second;
        if (clockWords(second, directive)) {
            directive.clocks.push_back(second);
            continue;
        }
        // `at the same time work in patt`: what goes on anyway
        at_ = behind;
        Directive even;
        if (evenWords(even) && even.rows == 0) continue;
        at_ = here;
        return false;
    }
    // "until 20 sts rem, then at each end of every row until 12 sts rem": a sentence of its own
    const bool then = is("then") || (is(",") && (is("then", 1) || at_ + 1 >= limit_));
    return done() || isAny({".", ";"}) || then;
}

/// One kind of shaping with its place and time.
bool Reader::clockWords(Clock& clock, Directive& directive) {
    if (take("shape")) {
        // `Shape armholes: bind off 5 sts at beg of next 2 rows`
        while (!done() && peek().kind == TokenKind::word && !is("by")) ++at_;
        takeAny({":", ",", "by"});
    }
    bool place = true;
    if (takeAny({"dec", "decrease", "decreasing"}) || takeAny({"inc", "increase", "increasing"})) {
        const std::string_view verb = tokens_->list[at_ - 1].text;
        clock.act = verb.substr(0, 3) == "dec" ? Clock::Act::decrease : Clock::Act::increase;
        bool round = false;
        if (rowWord(round)) {  // "Dec row every 4th row": the row of that name
            at_ -= 2;
            return rowClock(clock);
        }
        number(clock.stitches);
        stitchWord();
    } else if (takeSeq({"bind", "off"}) || takeSeq({"cast", "off"}) || take("bo") ||
               takeSeq({"binding", "off"}) || takeSeq({"casting", "off"}) || takeSeq({"cast", "on"}) ||
               takeSeq({"casting", "on"})) {
        clock.act = tokens_->list[at_ - 1].text == "on" ? Clock::Act::castOn : Clock::Act::bindOff;
        if (!number(clock.stitches)) return false;
        stitchWord();
    } else if (isAny({"rep", "repeat", "work"})) {
        ++at_;
        take("the");
        return rowClock(clock);
    } else if (isAny({"k", "knit", "p", "purl", "k2tog", "ssk"})) {
        const std::size_t problems = out_.problems.size();
        Item item;
        if (!stitch(item) || out_.problems.size() > problems || item.kind != ItemKind::stitch ||
            item.times != 1 || uses(item.step) <= makes(item.step))
            return false;
        clock.step = item.step;
        clock.stitches = uses(item.step) - makes(item.step);
    } else if (lastClock_ && is("at") && at_ > 0 && tokens_->list[at_ - 1].text == "then") {
        clock.act = lastClock_->act;
        clock.stitches = lastClock_->stitches;
        clock.step = lastClock_->step;
    } else {
        return false;
    }
    place = placeWords(clock, directive);
    if (!place) return false;
    takeAny({"of", "on", "in"});
    if (!beatWords(clock, directive)) return false;
    lastClock_ = clock;
    return true;
}

bool Reader::shapedBody(const Row& head, std::size_t start) {
    const std::size_t body = at_;
    const auto leave = [&] {
        at_ = body;
        return false;
    };
    const bool next = head.spans.size() == 1 && head.spans[0].first == head.spans[0].last &&
                      head.spans[0].first == lastNumber() + 1;
    if (!next || !isAny({"inc", "increase", "dec", "decrease"})) return leave();
    Directive directive;
    directive.kind = Directive::Kind::shape;
    Clock clock;
    clock.act = peek().text.substr(0, 3) == "dec" ? Clock::Act::decrease : Clock::Act::increase;
    ++at_;
    if (!number(clock.stitches) || !stitchWord() || !placeWords(clock, directive)) return leave();
    if (takeAny({"of", "on"})) {
        takeAny({"this", "the"});
        bool round = false;
        if (!rowWord(round)) return leave();
    }
    takeAny({","});
    inPattern();
    Beat beat;
    beat.saidFirst = true;
    beat.side = head.facing;
    clock.beats = {beat};
    take(".");
    Row counted;
    if (!done() && rowCount(counted) && counted.printedCount) clock.target = *counted.printedCount;
    separators();
    if (!done()) return leave();
    directive.clocks = {clock};
    directive.end = at_;
    workShape(directive, start);
    at_ = limit_;
    return true;
}

/// `dec row`, `inc rnd`, `last row`: a row of that name is worked again, by the clock.
bool Reader::rowClock(Clock& clock) {
    const std::string_view name = peek().text;
    if (peek().kind != TokenKind::word) return false;
    ++at_;
    bool round = false;
    if (!rowWord(round)) return false;
    clock.act = Clock::Act::row;
    clock.row = namedRow(name);
    clock.name = std::string(name);
    takeAny({"on", "in", "at"});
    Directive ignored;
    return beatWords(clock, ignored);
}

/// `at each end`, `at beg`, `at neck edge`, `at beg and end`; `2 sts in` from it.
bool Reader::placeWords(Clock& clock, Directive& directive) {
    takeAny({"at", "in", "on"});
    take("the");
    if (takeAny({"each", "both"})) {
        if (!takeAny({"end", "ends", "side", "sides", "edge", "edges"})) return false;
        clock.start = clock.end = true;
    } else if (takeAny({"beg", "beginning", "start"})) {
        clock.start = true;
        const std::size_t here = at_;
        if (take("and") && (take("the"), take("end"))) {
            clock.end = true;
        } else {
            at_ = here;
        }
    } else if (take("end")) {
        clock.end = true;
    } else {
        const std::string_view name = peek().text;
        if (std::find(std::begin(kEdges), std::end(kEdges), name) == std::end(kEdges)) return false;
        ++at_;
        if (!takeAny({"edge", "edges"})) return false;
        directive.anyEdge = true;
        directive.edgeKnown = sideOfNeck().has_value() && (isNeck(name) || isArmhole(name));
        clock.start = edgeAtRight(name).value_or(true);
        clock.end = !clock.start;
    }
    const std::size_t here = at_;
    takeAny({",", "("});
    if (number(clock.inset) && stitchWord() && takeAny({"in", "inside"})) {
        takeSeq({"from", "edge"}) || takeSeq({"from", "the", "edge"});
        takeAny({")", ","});
    } else {
        at_ = here;
        clock.inset = 0;
    }
    return true;
}

/// When: one beat after another, and the count they lead to.
bool Reader::beatWords(Clock& clock, Directive& directive) {
    bool any = false;
    while (true) {
        const std::size_t here = at_;
        if (any) {
            takeAny({",", ";"});
            take("and");
            take("then");
            takeAny({"on", "in", "of"});
        }
        Beat beat;
        bool ok = oneBeat(beat);
        if (ok && any && clock.beats.back().times == 1 && tokens_->list[here].text == "and" &&
            beat.every > 1 && clock.beats.size() == 1 && tokens_->list[here + 1].text == "every")
            directive.saidTwice = true;
        if (!ok) {
            at_ = here;
            break;
        }
        clock.beats.push_back(beat);
        any = true;
    }
    if (!any) return false;
    // the count at the end
    const std::size_t here = at_;
    takeAny({",", "or"});
    if (takeAny({"until", "till", "to"})) {
        takeSeq({"there", "are"}) || takeSeq({"you", "have"});
        int n = 0;
        if (number(n) && n > 0 && stitchWord()) {
            takeAny({"rem", "remain", "remaining", "left", "are"});
            takeSeq({"on", "needle"}) || takeSeq({"on", "the", "needle"}) || take("left");
            clock.target = n;
            clock.untilTarget = true;
            if (clock.beats.back().every > 1 || clock.beats.back().first == 1) {
                Beat& last = clock.beats.back();
                if (last.times == 1 && !lastBeatCounted_) last.times = 0;
            }
            return true;
        }
        at_ = here;
    }
    at_ = here;
    Row row;
    if (!done() && (is("(") || is("[") || is("-") || is(".") || numberAhead())) {
        const std::size_t behind = at_;
        if (rowCount(row) && row.printedCount) {
            clock.target = *row.printedCount;
        } else {
            at_ = behind;
        }
    }
    return true;
}

/// `next row`, `every 4th row 5 times`, `next 6 rows`, `foll 3 alt rows`, `5 foll 4th rows`, `every RS row`.
bool Reader::oneBeat(Beat& beat) {
    const std::size_t start = at_;
    lastBeatCounted_ = false;
    const auto fail = [&] {
        at_ = start;
        return false;
    };
    takeAny({"this", "the"});
    bool round = false;
    bool every = false;
    int n = 0;
    int many = 0;
    if (take("next")) {
        beat.saidFirst = true;
        if (number(many)) {
            if (many < 1) return fail();
            int nth = 0;
            if (takeAny({"alt", "alternate"})) {
                beat.every = 2;
            } else if (ordinal(nth) && nth > 0) {
                beat.every = nth;
            }
            if (!rowWord(round)) return fail();
            beat.times = many;
            lastBeatCounted_ = many > 1;
            return true;
        }
        std::optional<Facing> side;
        if (oneSide(side)) beat.side = side;
        const bool said = rowWord(round) || beat.side || is("and");
        return said ? true : fail();
    }
    if (peek().kind != TokenKind::word || !isAny({"every", "each", "foll", "following"})) {
        // "5th row", "3rd and every foll 4th row"
        const std::size_t here = at_;
        int nth = 0;
        if (ordinal(nth) && nth > 0 &&
            (rowWord(round) || (is("and") && isAny({"every", "foll", "following"}, 1)))) {
            beat.first = nth;
            beat.saidFirst = true;
            return true;
        }
        at_ = here;
    }
    if (takeAny({"every", "each"})) {
        every = true;
        takeAny({"foll", "following"});
    } else if (takeAny({"foll", "following"})) {
        number(many);
    } else if (number(many)) {
        if (!takeAny({"foll", "following"})) return fail();
    } else {
        return fail();
    }
    std::optional<Facing> side;
    if (takeAny({"other", "alt", "alternate", "second"})) {
        beat.every = 2;
    } else if (ordinal(n) && n > 0) {
        beat.every = n;
    } else if (every && numberAhead() && number(n) && n > 0) {
        beat.every = n;  // "every 4 rows"
    } else if (oneSide(side)) {
        beat.side = side;
        beat.every = 2;
        beat.first = 1;
    }
    takeAny({"foll", "following"});
    const bool named = tokens_->list[at_ - 1].text == "row" || tokens_->list[at_ - 1].text == "rows";
    if (!rowWord(round) && !named) return fail();
    if (!beat.side) beat.first = beat.every;
    beat.times = many > 0 ? many : 1;
    lastBeatCounted_ = many > 0;
    if (many == 0 && !every) lastBeatCounted_ = true;  // "foll 4th row": one
    int said = 1;
    bool more = false;
    const std::size_t here = at_;
    take(",");
    if (times(said, more)) {
        beat.times = said;
        lastBeatCounted_ = true;
    } else {
        at_ = here;
    }
    if (every && !lastBeatCounted_) beat.times = 0;  // until a count, or as often as is said behind
    return true;
}

}  // namespace loopmend
