// SPDX-License-Identifier: MIT
// Sentences of shaping, written out as rows.
#include "pattern/reader.h"

#include "pattern/counts.h"
#include "pattern/order.h"
#include "pattern/part_of_row.h"

#include <algorithm>

#include <fmt/format.h>

namespace loopmend {

namespace {}  // namespace

/// The operation at an edge: leaning in with it, one stitch in for what is lifted from the bar.
bool Reader::edgeItems(const Clock& clock, bool atStart, bool knitted, std::vector<Item>& out) {
    const Op plain = knitted ? Op::knit : Op::purl;
    if (clock.stitches == 0) return true;  // none of this size
    std::vector<Item> items;
    if (clock.inset > 0) items.push_back(made(plain, clock.inset));
    switch (clock.act) {
        case Clock::Act::decrease: {
            if (clock.step) {
                Item item;
                item.step = *clock.step;
                items.push_back(std::move(item));
                break;
            }
            if (clock.stitches == 1) {
                items.push_back(
                    made(knitted ? (atStart ? Op::ssk : Op::k2tog) : (atStart ? Op::p2tog : Op::ssp)));
            } else if (clock.stitches == 2) {
                items.push_back(made(knitted ? (atStart ? Op::sssk : Op::k3tog) : Op::p3tog));
            } else {
                return false;
            }
            break;
        }
        case Clock::Act::increase: {
            if (clock.stitches != 1) return false;
            if (clock.inset == 0) items.push_back(made(plain));
            items.push_back(made(knitted ? (atStart ? Op::m1Left : Op::m1Right)
                                         : (atStart ? Op::m1PurlRight : Op::m1PurlLeft)));
            break;
        }
        case Clock::Act::bindOff:
            items.push_back(counted(knitted ? Op::bindOff : Op::bindOffPurl, clock.stitches));
            break;
        case Clock::Act::castOn:
            items.push_back(counted(atStart ? Op::castOnKnitted : Op::castOn, clock.stitches));
            break;
        case Clock::Act::row: return false;
    }
    if (!atStart && clock.act != Clock::Act::bindOff && clock.act != Clock::Act::castOn)
        std::reverse(items.begin(), items.end());
    for (Item& item : items) out.push_back(std::move(item));
    return true;
}

/// Rows worked since the last one that changed the count, that row not counted; many if there was none.
int Reader::rowsSinceShaping() const {
    const RowOrder order = rowOrder(out_);
    for (std::size_t i = order.rows.size(); i-- > 0;)
        if (usesOf(out_.rows[order.rows[i].row].items) != makesOf(out_.rows[order.rows[i].row].items))
            return static_cast<int>(order.rows.size() - 1 - i);
    return kMostWritten;
}

void Reader::tooManyRows(std::size_t start) {
    problem(start,
            fmt::format("These are more than {} rows, which is the most that one sentence is written out as.",
                        kMostWritten),
            {"say it in two sentences, one after the other"});
}

/// How many stitches fewer (< 0) or more there are each time it strikes.
std::int64_t Reader::changeOf(const Clock& clock, const Standing& now) const {
    const std::int64_t edges = (clock.start ? 1 : 0) + (clock.end ? 1 : 0);
    switch (clock.act) {
        case Clock::Act::decrease:
        case Clock::Act::bindOff: return -edges * clock.stitches;
        case Clock::Act::increase:
        case Clock::Act::castOn: return edges * clock.stitches;
        case Clock::Act::row: break;
    }
    for (const Row& row : out_.rows) {
        if (row.spans.empty() || row.spans.front().first != clock.row) continue;
        const RowCounts counts = countsOf(row);
        const std::int64_t n = now.stitches.value_or(0);
        const std::int64_t repeats = now.stitches ? nearestRepeats(counts, n) : 0;
        return counts.makes.at(repeats) - counts.uses.at(repeats);
    }
    return 0;
}

/// The rows from here in which a clock strikes, 1 = the next; none, with a problem, if that cannot be told.
std::vector<int> Reader::strikes(Clock& clock, const Directive& directive, const Standing& now,
                                 std::size_t start) {
    std::int64_t wanted = -1;  // strikes until the count is reached
    const bool open =
        std::any_of(clock.beats.begin(), clock.beats.end(), [](const Beat& beat) { return beat.times == 0; });
    if (clock.target > 0 && (open || directive.saidTwice)) {
        const std::int64_t change = changeOf(clock, now);
        if (!now.stitches && open) {
            problem(start, "How often is not said, and without the stitches cast on it cannot be told.",
                    {"5 times", "Cast on 60 sts"});
            return {};
        }
        const std::int64_t way = clock.target - now.stitches.value_or(clock.target);
        if (change != 0 && way % change == 0 && way / change >= 0) {
            wanted = way / change;
        } else if (open) {
            problem(
                start,
                fmt::format("There are {} stitches, and {} each time never come to {}.", *now.stitches,
                            change < 0 ? fmt::format("{} fewer", -change) : fmt::format("{} more", change),
                            clock.target),
                {});
            return {};
        }
    }
    if (open && wanted < 0) {
        problem(start, "How often this is done is not said.", {"5 times", "until 40 sts remain"});
        return {};
    }
    if (directive.saidTwice && clock.beats.size() == 2 && clock.beats[1].times > 1) {
        const int said = clock.beats[1].times;
        const bool further = wanted == said + 1;
        if (!further) clock.beats[1].times = said - 1;
        understood(
            start, "next and every",
            further ? fmt::format(
                          "{} times are counted behind the first one, {} in all: the printed count says so",
                          said, said + 1)
                    : fmt::format("{} times are counted in all, the first one with them{}", said,
                                  wanted == said ? ": the printed count says so"
                                                 : "; in some books it would be once more"));
    }
    std::vector<int> rows;
    int at = 0;
    for (const Beat& beat : clock.beats) {
        int step = beat.first;
        if (rows.empty() && !beat.saidFirst && !beat.side && beat.every > 1) {
            // Counted from the row shaped before, if that is not longer ago; else the first one comes at
            // once.
            const int since = rowsSinceShaping();
            step = since < beat.every ? beat.every - since : 1;
        }
        for (int i = 0; beat.times == 0 ? static_cast<std::int64_t>(rows.size()) < wanted : i < beat.times;
             ++i) {
            at += step;
            const auto side = [&] { return now.round || at % 2 == 1 ? now.side : opposite(now.side); };
            if (beat.side && i == 0 && side() != *beat.side) ++at;
            step = beat.every;
            if (at > kMostWritten) {
                tooManyRows(start);
                return {};
            }
            rows.push_back(at);
        }
    }
    return rows;
}

/// A pattern goes on while its edges are shaped: from here its rows are cut where the edges are.
bool Reader::beginShapedPattern(const Standing& now, std::size_t start) {
    if (established_.stitches > 0) return true;
    if (!now.stitches || *now.stitches > kLargestNumber) {
        problem(start,
                "Where this shaping falls into the pattern cannot be told without the stitches cast on.",
                {"Cast on 61 sts"});
        return false;
    }
    const int stitches = static_cast<int>(*now.stitches);
    const int length = established_.rows.last - established_.rows.first + 1;
    const int worked = established_.worked;
    Standing then = now;
    bool fits = true;
    for (int i = 0; i < length && fits; ++i) {
        const auto row = establishedRow(then, stitches);
        fits = row && partOfRow(*row, 0, stitches);
        ++established_.worked;
        then.side = then.round ? Facing::right : opposite(then.side);
    }
    established_.worked = worked;
    if (!fits) {
        patternNotSaid(start);
        return false;
    }
    established_.stitches = stitches;
    understood(
        start, "shaped pattern",
        "while the edges are shaped, stitches keep their places in the pattern; at an edge a yarn-over "
        "and a decrease are worked only where both have room, and plain stitches where they have not");
    return true;
}

void Reader::workShape(const Directive& given, std::size_t start) {
    Directive directive = given;
    Standing now = standing();
    if (directive.ground) {
        established_ = {};
        established_.kind = Established::Kind::ground;
        established_.ground = directive.named;
        established_.since = out_.rows.size();
    }
    assume(start);
    const bool edges = std::any_of(directive.clocks.begin(), directive.clocks.end(),
                                   [](const Clock& clock) { return clock.act != Clock::Act::row; });
    if (established_.kind == Established::Kind::nothing) {
        problem(start, "Shaping leans on rows worked before, and there are none.", {"Row 1: k to end"});
        return;
    }
    std::vector<std::vector<int>> when;
    int rows = 0;
    bool wide = false;
    for (Clock& clock : directive.clocks) {
        if (clock.act == Clock::Act::row && clock.row == 0) {
            problem(start, fmt::format("There is no {} row before these words.", clock.name), {});
            return;
        }
        const std::size_t problems = out_.problems.size();
        when.push_back(strikes(clock, directive, now, start));
        if (out_.problems.size() > problems) return;
        if (!when.back().empty()) rows = std::max(rows, when.back().back());
        for (const Beat& beat : clock.beats) wide = wide || beat.every > 2;
    }
    if (wide)
        understood(
            start, "every nth",
            "every 4th row is read as one row with shaping and three without, counted from the last row that "
            "was "
            "shaped, or beginning with the next row if there was none; every 4 rows is read as the same");
    if (edges && established_.kind == Established::Kind::rows) {
        if (const auto ground = groundOf(established_.rows)) {
            established_.kind = Established::Kind::ground;
            established_.ground = *ground;
            established_.worked = std::max(established_.worked, 1);
        } else if (!beginShapedPattern(now, start)) {
            return;
        }
    }
    const bool inRows = established_.kind == Established::Kind::rows;
    bool unsaid = false;
    const std::size_t first = out_.rows.size();
    for (int r = 1; r <= rows; ++r) {
        Row row;
        row.round = now.round;
        const bool knitted = [&] {
            if (inRows && established_.stitches > 0) {
                const auto whole = establishedRow(now, established_.stitches);
                return !whole || isPlainKnit(*whole);
            }
            std::vector<Item> items;
            groundItems(established_.ground, established_.worked, now, 0, true, items);
            if (items.front().kind == ItemKind::run) return items.front().step.op == Op::knit;
            return now.round || now.side == Facing::right;
        }();
        std::vector<Item> begin;
        std::vector<Item> end;
        bool struck = false;
        bool plainLeft = false;
        for (std::size_t c = 0; c < directive.clocks.size(); ++c) {
            const Clock& clock = directive.clocks[c];
            if (!std::binary_search(when[c].begin(), when[c].end(), r)) continue;
            if (clock.act == Clock::Act::row) {
                if (struck) {
                    problem(start, "Two kinds of shaping fall into one row here: write it out.", {});
                    return;
                }
                row.sameAs = RowSpan{clock.row, clock.row};
                plainLeft = true;
            } else {
                if (plainLeft) {
                    problem(start, "Two kinds of shaping fall into one row here: write it out.", {});
                    return;
                }
                // Edges named by what they will be keep their side; `beg` and `end` are as the row goes.
                const bool turned = directive.anyEdge && !now.round && now.side == Facing::wrong;
                const bool atStart = turned ? clock.end : clock.start;
                const bool atEnd = turned ? clock.start : clock.end;
                if ((atStart && !edgeItems(clock, true, knitted, begin)) ||
                    (atEnd && !edgeItems(clock, false, knitted, end))) {
                    problem(start,
                            fmt::format("{} stitches at one place are more than one decrease or increase.",
                                        clock.stitches),
                            {"dec 1 st", "bind off 3 sts"});
                    return;
                }
                unsaid = unsaid || (!clock.step &&
                                    (clock.act == Clock::Act::decrease || clock.act == Clock::Act::increase));
            }
            struck = true;
            if (r == rows && clock.target > 0) row.printedCount = clock.target;
        }
        if (!struck) {
            if (!evenRow(now, row)) return patternNotSaid(start);
        } else if (!row.sameAs) {
            const int last = static_cast<int>(std::clamp<std::int64_t>(usesOf(end), 0, kLargestNumber));
            std::vector<Item> middle;
            if (inRows) {
                const int begun = static_cast<int>(usesOf(begin));
                if (!establishedPart(now, begun, last, middle)) return patternNotSaid(start);
                const bool rightFirst = now.round || now.side == Facing::right;
                (rightFirst ? established_.goneRight : established_.goneLeft) +=
                    begun - static_cast<int>(makesOf(begin));
                (rightFirst ? established_.goneLeft : established_.goneRight) +=
                    static_cast<int>(usesOf(end) - makesOf(end));
            } else if (!groundItems(established_.ground, std::max(established_.worked, 1), now, last, false,
                                    middle)) {
                return;
            }
            // Behind a shaped edge no turn comes right before, where a stitch would be doubled.
            for (Item& item : middle) {
                if (!begin.empty() && item.step.op == Op::doubled) item = made(knitted ? Op::knit : Op::purl);
            }
            row.items = std::move(begin);
            for (Item& item : middle) row.items.push_back(std::move(item));
            for (Item& item : end) row.items.push_back(std::move(item));
            ++established_.worked;
        } else {
            ++established_.worked;
        }
        if (row.items.empty() && !row.sameAs) {
            problem(start, "The stitches are used up before all of this is worked.",
                    {"fewer times", "until 12 sts remain"});
            return;
        }
        append(std::move(row), first, start);
        now.side = now.round ? Facing::right : opposite(now.side);
    }
    if (unsaid)
        understood(start, "which shaping",
                   "which decrease or increase is not said: a decrease of the two stitches at the edge that "
                   "leans in "
                   "with it, an increase from the bar one stitch in; others change the look, not the count");
    if (directive.anyEdge && directive.edgeKnown)
        understood(start, "neck edge", "the neck edge is the one where the other stitches were left");
    if (directive.anyEdge && !directive.edgeKnown)
        understood(
            start, "which edge",
            "on which side that edge lies is not said: armhole, side and sleeve edges are read as the right "
            "edge as the right side shows it, neck and front edges as the left one");
}

}  // namespace loopmend
