// SPDX-License-Identifier: MIT
// Sentences that name no row but stand for several: `Work 6 rows even`, `Cont in st st for 10 rows`, `Knit 4
// rows`.
#include "pattern/reader.h"

#include <algorithm>

namespace loopmend {

namespace {

bool begins(std::string_view text) {
    static constexpr std::string_view kWords[] = {
        "work",   "worked",      "cont",     "continue",  "proceed",  "keep",  "knit",     "k",     "plain",
        "purl",   "p",           "pearl",    "dec",       "decrease", "inc",   "increase", "bind",  "cast",
        "rep",    "repeat",      "beg",      "beginning", "starting", "start", "at",       "k2tog", "ssk",
        "now",    "then",        "shape",    "bo",        "with",     "using", "change",   "join",  "switch",
        "garter", "stockinette", "stocking", "st",        "seed",     "moss",  "double",   "single"};
    return std::find(std::begin(kWords), std::end(kWords), text) != std::end(kWords);
}

}  // namespace

/// A line of its own, also where no full stop ended the one before it.
bool Reader::beginsLine(const Token& token) const {
    return token.first && token.kind == TokenKind::word && !lowerCase(token) &&
           isAnyOf(token.text,
                   {"row",  "rows", "rnd",   "rnds",   "round", "rounds",   "next",    "repeat",   "rep",
                    "knit", "purl", "work",  "cast",   "bind",  "bo",       "cont",    "continue", "dec",
                    "inc",  "with", "using", "change", "shape", "decrease", "increase"});
}

/// The token behind the sentence that begins here: a full stop ends it (not one within a number), an empty
/// line too.
std::size_t Reader::sentenceEnd(std::size_t token) const {
    std::size_t i = token;
    for (; i < limit_; ++i) {
        const Token& here = tokens_->list[i];
        if (i > token && (here.afterBlank || beginsLine(here))) break;
        if (here.text != ".") continue;
        const bool abbreviated =
            isAnyOf(tokens_->list[i - (i > 0 ? 1 : 0)].text,
                    {"st", "sts", "patt", "foll", "beg", "rep", "rem", "alt", "cont", "dec", "inc"}) &&
            i + 1 < limit_ && tokens_->list[i + 1].kind == TokenKind::word && !tokens_->list[i + 1].first &&
            lowerCase(tokens_->list[i + 1]);
        const bool decimal = i > 0 && i + 1 < limit_ && tokens_->list[i - 1].kind == TokenKind::number &&
                             tokens_->list[i + 1].kind == TokenKind::number && tokens_->list[i + 1].glued;
        if (!decimal && !abbreviated) break;
    }
    return i;
}

bool Reader::isAnyOf(std::string_view text, std::initializer_list<std::string_view> texts) {
    return std::find(texts.begin(), texts.end(), text) != texts.end();
}

bool Reader::lowerCase(const Token& token) const {
    return token.begin < out_.text.size() && out_.text[token.begin] >= 'a' && out_.text[token.begin] <= 'z';
}

/// Whether such a sentence begins at `token`. If it looks only, what it finds wrong or remarks is not kept.
bool Reader::directiveAt(std::size_t token, Directive& directive, bool looksOnly) {
    const Token& first = tokens_->list[token];
    if (first.kind != TokenKind::word || !begins(first.text)) return false;
    const std::size_t oldAt = at_;
    const std::size_t oldLimit = limit_;
    const std::size_t oldProblems = out_.problems.size();
    const bool oldSound = sound_;
    const int oldSizes = sizes_;
    const std::size_t oldNotes = out_.understood.size();
    const std::size_t oldSaid = said_.size();
    const std::string oldYarns = out_.yarns;
    const std::uint8_t oldYarn = yarn_;
    at_ = token;
    furthest_ = limit_;
    limit_ = sentenceEnd(token);
    directive = Directive{};
    takeAny({"now", "then"});
    if (yarnWords()) {
        takeAny({","});
        take("and");
    }
    const std::size_t start = at_;
    bool found = evenWords(directive);
    if (!found) {
        at_ = start;
        directive = Directive{};
        directive.kind = Directive::Kind::shape;
        found = shapeWords(directive);
    }
    if (!found) {
        at_ = start;
        directive = Directive{};
        directive.kind = Directive::Kind::progress;
        found = progressWords(directive);
    }
    if (!found) {
        at_ = start;
        directive = Directive{};
        directive.kind = Directive::Kind::evenly;
        found = evenlyWords(directive.evenly) && !directive.evenly.last;
    }
    directive.end = at_;
    at_ = oldAt;
    limit_ = oldLimit;
    out_.yarns = oldYarns;
    yarn_ = oldYarn;
    link_ = false;
    if (!looksOnly) return found;
    out_.problems.resize(oldProblems);
    sound_ = oldSound;
    sizes_ = oldSizes;
    out_.understood.resize(oldNotes);
    said_.resize(oldSaid);
    return found;
}

/// `stockinette st`, `garter stitch`, `k2, p2 rib`, `moss st`.
bool Reader::stitchName(NamedGround& ground) {
    const std::size_t start = at_;
    const auto stitchWordToo = [&] {
        take("-");
        takeAny({"st", "stitch"});
        return true;
    };
    const bool reversed = takeAny({"reverse", "rev"});
    if (reversed) take("-");
    if (takeAny({"stockinette", "stockinet", "stocking", "ss"}) || takeSeq({"st", "st"}) ||
        takeSeq({"st", "-", "st"}) || takeSeq({"st", ".", "st", "."})) {
        ground.ground = reversed ? Ground::reverseStockinette : Ground::stockinette;
        return stitchWordToo();
    }
    if (reversed) {
        at_ = start;
        return false;
    }
    if (takeAny({"garter"})) {
        ground.ground = Ground::garter;
        return stitchWordToo();
    }
    const bool doubled = take("double");
    if (takeAny({"seed"})) {
        ground.ground = doubled ? Ground::doubleSeed : Ground::seed;
        return stitchWordToo();
    }
    if (take("moss")) {
        // US moss stitch is what the UK calls double moss stitch (common practice).
        ground.ground = doubled || !ukWords() ? Ground::doubleSeed : Ground::seed;
        stitchWordToo();
        if (!doubled && namedRow("moss") > 0) {  // "Moss st row: k1, *p1, k1; rep from * to end"
            ground.ground = Ground::seed;
            return true;
        }
        if (!doubled)
            understood(
                start, "moss",
                ukWords()
                    ? "in UK words, as this text has them, moss stitch changes with every row; in US "
                      "words it would be each bump two rows high"
                    : "in US words moss stitch has each bump two rows high; in UK words it would change "
                      "with every row (US seed stitch)");
        return true;
    }
    if (doubled || take("single")) {
        if (takeAny({"rib", "ribbing"})) {
            ground = {Ground::rib, doubled ? 2 : 1, doubled ? 2 : 1};
            return true;
        }
        at_ = start;
        return false;
    }
    int knits = 0;
    int purls = 0;
    if (bareKnit(peek().text) && peek(1).kind == TokenKind::number) {
        ++at_;
        number(knits);
        take(",");
        take("and");
        if (barePurl(peek().text)) {
            ++at_;
            if (number(purls) && takeAny({"rib", "ribbing"}) && knits > 0 && purls > 0) {
                ground = {Ground::rib, knits, purls};
                return true;
            }
        }
    } else if (peek().kind == TokenKind::number) {
        number(knits);
        if (takeAny({"x", "/", "by", "-"}) && peek().kind == TokenKind::number && number(purls) &&
            takeAny({"rib", "ribbing"}) && knits > 0 && purls > 0) {
            ground = {Ground::rib, knits, purls};
            return true;
        }
    } else if (takeAny({"rib", "ribbing"})) {
        ground = {Ground::asTheyFace, 1, 1};
        take("as");
        takeAny({"set", "established", "before"});
        return true;
    }
    at_ = start;
    return false;
}

/// `in patt`, `in pattern as established`, `as set`: what was said before goes on.
bool Reader::inPattern() {
    const std::size_t start = at_;
    const bool in = take("in");
    takeAny({"the", "established", "est", "same"});
    const bool pattern = in && takeAny({"patt", "pattern", "patts"});
    const std::size_t behind = at_;
    if (take("as")) {
        if (takeAny({"set", "established", "est", "before", "given"})) return true;
        at_ = behind;
    }
    if (pattern) return true;
    at_ = start;
    return false;
}

/// `beg with a purl row`, `starting with a RS row`.
bool Reader::beginsWith(Directive& directive) {
    const std::size_t start = at_;
    if (!takeAny({"beg", "beginning", "starting", "start"})) return false;
    take("with");
    takeAny({"a", "an"});
    if (bareKnit(peek().text) || barePurl(peek().text)) {
        directive.purlFirst = barePurl(peek().text);
        ++at_;
    } else {
        std::optional<Facing> side;
        if (!oneSide(side)) {
            at_ = start;
            return false;
        }
    }
    bool round = false;
    rowWord(round);
    return true;
}

bool Reader::evenWords(Directive& directive) {
    const std::size_t start = at_;
    const auto rowWords = [&] {
        takeAny({"more", "further"});
        bool round = false;
        return rowWord(round);
    };
    if (isAny({"beg", "beginning", "starting", "start"})) {
        if (!beginsWith(directive)) return false;
        take(",");
    }
    const std::size_t first = at_;
    if (stitchName(directive.named)) {  // "K2, p2 rib for 6 rows"
        directive.ground = true;
        const std::size_t behind = at_;
        Directive ahead;
        const bool far = lengthWords(ahead) && ahead.length;
        at_ = behind;
        take("for");
        int n = 0;
        if (!far && !(number(n) && rowWords())) return false;
        at_ = behind;
    } else if (at_ = first; bareKnit(peek().text) || barePurl(peek().text)) {
        const bool knitted = bareKnit(peek().text);
        ++at_;
        // "Knit even for 18 rounds": what goes on, goes on
        const bool even = takeAny({"even", "straight"});
        const bool length = take("for");
        const bool every = takeAny({"every", "all", "each"});
        takeAny({"the", "next", "a", "following"});
        int n = every ? 0 : 1;
        if (!every) number(n);
        takeAny({"more", "further", "plain"});
        bool round = false;
        const std::size_t word = at_;
        if (!every && n > 0 && takeAny({"ridge", "ridges"})) {  // "Knit 3 ridges (6 rows)": of garter
            n = std::min(2 * n, kMostWritten);
            if (take("(")) {
                while (!done() && !take(")")) ++at_;
            }
        } else if (!rowWord(round) || (!every && n == 1 && word == start + 1))
            return false;  // "Knit row 3"
        if (!every && numberAhead()) return false;
        if (even && length) takeAny({"more", "only"});
        directive.ground = !even;
        directive.straight = even;
        directive.named.ground = knitted ? Ground::allKnit : Ground::allPurl;
        directive.rows = n;
    } else if (takeAny({"work", "worked", "cont", "continue", "proceed", "keep"})) {
        takeSeq({"to", "work"}) || takeAny({"working", "on"});
        // "Continue in MC only": the rows that follow say the rest
        const std::size_t behind = at_;
        takeAny({"in", "with"});
        const std::size_t name = at_;
        if (yarnName(yarn_)) {
            directive.yarnAt = name;
            takeAny({"only", "alone", "throughout"});
            if (done() || isAny({".", ";"})) return true;
            take(",");
        } else {
            at_ = behind;
        }
    } else if (takeSeq({"change", "to"}) || takeSeq({"switch", "to"})) {
        if (!stitchName(directive.named)) return false;
        directive.ground = true;
        if (takeAny({"and", "with", ","})) {
            take("with");
            directive.yarnAt = at_;
            if (!yarnName(yarn_)) return false;
        }
    } else {
        return false;
    }
    bool any = directive.ground || directive.straight;
    while (!done()) {
        const std::size_t here = at_;
        if (takeAny({",", "and", "then", "straight", "even", "without"})) {
            const std::string_view word = tokens_->list[here].text;
            if (word == "straight" || word == "even") {
                directive.straight = any = true;
            } else if (word == "without") {
                take("further");
                if (takeAny({"shaping", "decreasing", "increasing"})) {
                    directive.straight = any = true;
                } else {
                    at_ = here;
                    break;
                }
            }
            if (is("at") || isAny({"dec", "inc"})) {
                at_ = here;
                break;
            }
            continue;
        }
        if (inPattern()) {
            directive.straight = any = true;
            continue;
        }
        if (beginsWith(directive)) continue;
        if (directive.ground && takeAny({"beg", "beginning"}) && takeAny({"alt", "alternate"})) {
            bool alternate = false;  // "k1, p1 rib, beg alt rows p1": as rib is anyway
            if (rowWord(alternate) && (bareKnit(peek().text) || barePurl(peek().text))) {
                ++at_;
                int n = 0;
                number(n);
                continue;
            }
            at_ = here;
            break;
        }
        const bool in = take("in");
        if (!directive.ground && stitchName(directive.named)) {
            directive.ground = any = true;
            continue;
        }
        if (in) {
            at_ = here;
            break;
        }
        if (lengthWords(directive)) continue;
        take("for");
        takeAny({"a", "another", "the"});
        takeAny({"next", "further", "following", "foll"});
        int n = 0;
        if (directive.rows == 0 && number(n) && n > 0 && rowWords()) {
            directive.rows = n;
            any = true;
            takeAny({"more", "further", "only"});
            continue;
        }
        at_ = here;
        break;
    }
    if (is("(") || is("-") || is("[")) {
        Row row;
        if (rowCount(row) && row.printedCount) directive.count = *row.printedCount;
    }
    if (!any) return false;
    // "knit 1 round, purl 1 round"
    const bool another = at_ > start && isAnyOf(tokens_->list[at_ - 1].text, {",", "and"}) &&
                         (bareKnit(peek().text) || barePurl(peek().text));
    const bool ends = done() || isAny({".", ";"}) || is("at") || another || directive.length;
    return ends && (directive.rows > 0 || directive.length || directive.ground || directive.straight);
}

/// `until piece measures 10 cm`, `for 4 in`, `ending with a WS row`, `until 12 rows have been worked`.
bool Reader::lengthWords(Directive& directive) {
    const std::size_t start = at_;
    const auto unit = [&] { return takeAny({"cm", "cms", "in", "ins", "inch", "inches", "mm", "yards"}); };
    const auto decimal = [&] {
        int n = 0;
        if (!number(n)) return false;
        if (is(".") || is("/")) {
            ++at_;
            number(n);
        }
        number(n);  // 4 1/2
        if (take("/")) number(n);
        return true;
    };
    if (takeAny({"end", "ending", "finishing", "finish", "ends"})) {
        takeAny({"with", "on", "after", "by", "at"});
        takeAny({"a", "an", "the", "working"});
        // "ending at armhole edge": the next row begins there
        if (const auto right = edgeAtRight(peek().text); right && isAny({"edge", "edges"}, 1)) {
            at_ += 2;
            directive.lastSide = *right ? Facing::wrong : Facing::right;
            return true;
        }
        bool numbered = false;
        int n = 0;
        if (rowWord(numbered) && number(n)) return true;  // "ending with row 6"
        if (ordinal(n)) {                                 // "ending with a 6th patt row"
            takeAny({"patt", "pattern"});
            if (rowWord(numbered)) return true;
        }
        std::optional<Facing> side;
        if (oneSide(side)) {
            bool round = false;
            rowWord(round);
            directive.lastSide = side;
            return true;
        }
        const bool knitted = bareKnit(peek().text);
        if (knitted || barePurl(peek().text)) {
            ++at_;
            bool round = false;
            rowWord(round);
            return true;
        }
        at_ = start;
        return false;
    }
    if (takeAny({"until", "till", "to"})) {
        int n = 0;
        const std::size_t behind = at_;
        if (number(n)) {
            bool round = false;
            takeAny({"more"});
            if (rowWord(round)) {  // until 12 rows have been worked
                while (!done() &&
                       isAny({"have", "has", "been", "are", "worked", "completed", "in", "all", "done"}))
                    ++at_;
                directive.rows = n;
                return true;
            }
        }
        at_ = behind;
        while (!done() && !isAny({"measures", "measure", "is", "reaches", "has", "desired", "length", "cm",
                                  "in", "inches", ",", ";", "until", "st", "sts", "rem", "remain"}))
            ++at_;
        if (isAny({"measures", "measure", "is", "reaches", "desired", "length", "cm", "inches"})) {
            directive.length = true;
            while (!done() && !isAny({",", ";", "ending", "end", "finishing"})) ++at_;
            return true;
        }
        at_ = start;
        return false;
    }
    take("for");
    takeAny({"a", "another", "further"});
    takeAny({"further", "another", "about"});
    if (decimal() && unit()) {
        directive.length = true;
        while (!done() && !isAny({",", ";", "ending", "end", "finishing"})) ++at_;
        return true;
    }
    at_ = start;
    return false;
}

}  // namespace loopmend
