// SPDX-License-Identifier: MIT
// `Inc 6 sts evenly across next row`: where that is, is nowhere said; the stitches between come out as even
// as whole numbers allow.
#include "pattern/reader.h"

#include <algorithm>
#include <vector>

#include <fmt/format.h>

namespace loopmend {

namespace {

/// Stitches before each of so many places along a row and behind the last one.
std::vector<int> spread(int stitches, int places) {
    std::vector<int> between;
    int before = 0;
    for (int i = 1; i <= places; ++i) {
        const int at = static_cast<int>((2LL * i - 1) * stitches / (2LL * places));
        between.push_back(at - before);
        before = at;
    }
    between.push_back(stitches - before);
    return between;
}

}  // namespace

bool Reader::evenlyWords(Evenly& evenly) {
    evenly = Evenly{};
    const std::size_t start = at_;
    const auto leave = [&] {
        at_ = start;
        return false;
    };
    const auto end = tokens_->list.begin() + static_cast<std::ptrdiff_t>(limit_);
    if (std::none_of(tokens_->list.begin() + static_cast<std::ptrdiff_t>(at_), end, [](const Token& token) {
            return isAnyOf(token.text, {"evenly", "center", "centre", "middle"});
        }))
        return false;
    bool round = false;
    if (bareKnit(peek().text) || barePurl(peek().text)) {
        evenly.knitted = bareKnit(peek().text);
        ++at_;
        int n = 1;
        takeAny({"next", "the"});
        if (numberAhead() && number(n) && n != 1) return leave();
        rowWord(round) || takeAny({"across", "around"}) || takeSeq({"to", "end"});
        if (!takeAny({","})) return leave();
    } else if (take("work")) {
        int n = 1;
        takeAny({"next", "the"});
        if (numberAhead() && number(n) && n != 1) return leave();
        if (!rowWord(round)) return leave();
        take("in") && takeAny({"patt", "pattern"});
        if (!takeAny({","})) return leave();
    }
    if (!isAny({"inc", "increase", "increasing", "dec", "decrease", "decreasing"})) return leave();
    evenly.fewer = peek().text.substr(0, 3) == "dec";
    ++at_;
    if (!number(evenly.stitches) || evenly.stitches < 1) return leave();
    stitchWord();
    if (take("evenly")) {
        takeAny({"spaced", "spread", "placed"});
    } else {
        takeAny({"at", "in"});
        take("the");
        if (evenly.stitches != 1 || !takeAny({"center", "centre", "middle"})) return leave();
    }
    takeAny({"of", "across", "along", "over", "around", "round", "in", "on"});
    takeAny({"the", "this"});
    evenly.next = take("next");
    evenly.last = !evenly.next && takeAny({"last", "final"});
    takeAny({"foll", "following"});
    rowWord(round) || takeAny({"needle", "sts"});
    return true;
}

bool Reader::evenlyRow(const Evenly& evenly, const Standing& now, std::size_t start, Row& row) {
    const int uses = evenly.fewer ? 2 * evenly.stitches : 0;
    if (!now.stitches) {
        problem(start, "How far apart that is cannot be told without the stitches cast on.",
                {"Cast on 60 sts"});
        return false;
    }
    if (*now.stitches > kLargestNumber || uses > *now.stitches || evenly.stitches > *now.stitches) {
        problem(start, fmt::format("{} stitches are too few for that.", *now.stitches));
        return false;
    }
    const bool knitted = evenly.knitted.value_or(
        now.round || now.side == Facing::right ||
        (established_.kind == Established::Kind::ground &&
         (established_.ground.ground == Ground::garter || established_.ground.ground == Ground::allKnit)));
    const Op plain = knitted ? Op::knit : Op::purl;
    const Op shaped =
        evenly.fewer ? (knitted ? Op::k2tog : Op::p2tog) : (knitted ? Op::m1Left : Op::m1PurlLeft);
    const std::vector<int> between = spread(static_cast<int>(*now.stitches) - uses, evenly.stitches);
    if (between.front() > 0) row.items.push_back(made(plain, between.front()));
    for (std::size_t i = 1; i < between.size();) {
        std::size_t alike = i;
        while (alike < between.size() && between[alike] == between[i]) ++alike;
        Item group;
        group.kind = ItemKind::group;
        group.times = static_cast<int>(alike - i);
        group.items.push_back(made(shaped));
        if (between[i] > 0) group.items.push_back(made(plain, between[i]));
        if (group.times > 1) {
            row.items.push_back(std::move(group));
        } else {
            for (Item& item : group.items) row.items.push_back(std::move(item));
        }
        i = alike;
    }
    understood(
        start, "evenly",
        fmt::format("where is not said: the {} stand as evenly as can be, with plain stitches between; "
                    "which {} is not said either",
                    evenly.fewer ? "decreases" : "increases", evenly.fewer ? "decrease" : "increase"));
    return true;
}

void Reader::workEvenly(const Evenly& evenly, std::optional<int> count, std::size_t start) {
    const Standing now = standing();
    Row row;
    row.round = now.round;
    row.printedCount = count;
    if (!evenlyRow(evenly, now, start, row)) return;
    append(std::move(row), out_.rows.size(), start);
}

/// `Next row: p, dec 6 sts evenly across. (54 sts)`
bool Reader::evenlyBody(const Row& head, std::size_t start) {
    const std::size_t body = at_;
    const bool next = head.spans.size() == 1 && head.spans[0].first == head.spans[0].last &&
                      head.spans[0].first == lastNumber() + 1;
    Evenly evenly;
    if (!next || !evenlyWords(evenly)) return false;
    separators();
    Row counted;
    if (!done()) rowCount(counted);
    separators();
    if (!done()) {
        at_ = body;
        return false;
    }
    Standing now = standing();
    if (head.facing && !now.round) now.side = *head.facing;
    Row row;
    row.round = head.round;
    row.facing = head.facing;
    row.printedCount = counted.printedCount;
    at_ = limit_;
    if (evenlyRow(evenly, now, start, row)) append(std::move(row), out_.rows.size(), start);
    return true;
}

/// `Rep these 2 rows 5 times more, inc 2 sts evenly across last row`: the last time without its last row,
/// which is then worked so.
void Reader::repeatThenEvenly(RepeatRows repeat, const Evenly& evenly, std::optional<int> count,
                              std::size_t start) {
    const int extra = repeat.more || repeat.rows.last != lastNumber() ? repeat.times : repeat.times - 1;
    repeat.more = true;
    repeat.times = extra - 1;
    if (repeat.times > 0) goOnWith(repeat);
    if (repeat.rows.last > repeat.rows.first) {
        --repeat.rows.last;
        repeat.times = 1;
        out_.repeats.push_back(repeat);
    }
    workEvenly(evenly, count, start);
}

}  // namespace loopmend
