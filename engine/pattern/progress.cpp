// SPDX-License-Identifier: MIT
// `Continue decreasing in this way until 12 sts remain`: the last two rows that were shaped say how a third
// one is, and so on.
#include "pattern/reader.h"

#include "pattern/counts.h"
#include "pattern/order.h"
#include "pattern/plain_words.h"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

namespace loopmend {

namespace {

bool toTheEnd(const Item& item) {
    return item.kind == ItemKind::star && item.until == Until::end;
}

std::optional<std::vector<Item>> oneOn(const std::vector<Item>& before, const std::vector<Item>& last);

/// The third of a series of which these are the first two. `around` and `4 times` may stand for each other.
std::optional<Item> oneOn(const Item& before, const Item& last) {
    const bool repeats = (toTheEnd(before) && last.kind == ItemKind::group) ||
                         (before.kind == ItemKind::group && toTheEnd(last));
    if (before.kind != last.kind && !repeats) return std::nullopt;
    Item next = last;
    if (repeats || last.kind == ItemKind::group || last.kind == ItemKind::star) {
        auto inner = oneOn(before.items, last.items);
        if (!inner || inner->empty() || (before.kind == last.kind && before.times != last.times))
            return std::nullopt;
        next.items = std::move(*inner);
    } else {
        Step a = before.step;
        Step b = last.step;
        a.link = b.link = false;
        if (a != b) return std::nullopt;
        next.times = 2 * last.times - before.times;
    }
    next.last = 2 * last.last - before.last;
    if (next.times < 0 || next.last < 0) return std::nullopt;
    return next;
}

std::optional<std::vector<Item>> oneOn(const std::vector<Item>& before, const std::vector<Item>& last) {
    if (before.size() != last.size()) return std::nullopt;
    std::vector<Item> next;
    for (std::size_t i = 0; i < last.size(); ++i) {
        std::optional<Item> item = oneOn(before[i], last[i]);
        if (!item) return std::nullopt;
        if (item->times > 0) next.push_back(std::move(*item));  // none of them is left: k0
    }
    return next;
}

/// Worked over so many stitches: how many there are then; none: it cannot be worked over them.
std::optional<std::int64_t> after(const Row& row, std::int64_t stitches) {
    const RowCounts counts = countsOf(row);
    if (counts.contradiction || counts.turns) return std::nullopt;
    const std::int64_t repeats = nearestRepeats(counts, stitches);
    if (missesAt(counts, stitches, repeats) != 0) return std::nullopt;
    return needleAfter(counts, {stitches, 0}, repeats).ahead;
}

}  // namespace

/// Anything between `continue` and `until 12 sts remain`, if it says that it goes on as before.
bool Reader::progressWords(Directive& directive) {
    if (!takeAny({"cont", "continue", "keep"})) return false;
    bool way = false;
    while (!done() && !isAny({"until", "till"})) {
        way = way || isAny({"way", "manner", "established", "est", "set", "thus"});
        ++at_;
    }
    if (!way || done()) return false;
    ++at_;
    takeSeq({"there", "are"}) || takeSeq({"you", "have"}) || take("only");
    if (!number(directive.count) || directive.count < 1 || !stitchWord()) return false;
    takeAny({"rem", "remain", "remains", "remaining", "left", "are"});
    takeSeq({"on", "needle"}) || takeSeq({"on", "the", "needle"});
    return done() || isAny({".", ";"});
}

void Reader::workProgress(const Directive& directive, std::size_t start) {
    const Standing now = standing();
    if (!now.stitches) {
        problem(start, "How far that goes cannot be told without the stitches cast on.", {"Cast on 60 sts"});
        return;
    }
    const RowOrder order = rowOrder(out_);
    std::vector<const Row*> worked;
    for (const OrderedRow& ordered : order.rows) worked.push_back(&out_.rows[ordered.row]);
    std::vector<std::size_t> shaped;
    for (std::size_t i = worked.size(); i-- > 0 && shaped.size() < 2;) {
        const RowCounts counts = countsOf(*worked[i]);
        if (counts.uses.base != counts.makes.base || counts.uses.perRepeat != counts.makes.perRepeat)
            shaped.push_back(i);
    }
    const bool series = shaped.size() == 2 && oneOn(worked[shaped[1]]->items, worked[shaped[0]]->items);
    if (!series) {
        problem(start,
                "These words go on as two shaped rows before them set out, and there are none that do.",
                {"write the first two shaped rows out", "Rep rows 3-4 5 more times"});
        return;
    }
    std::vector<Item> before = worked[shaped[1]]->items;
    std::vector<Item> last = worked[shaped[0]]->items;
    // The rows between go on likewise where the last of them show how.
    std::vector<std::vector<Item>> plain;
    std::vector<std::vector<Item>> plainBefore;
    for (std::size_t i = shaped[1] + 1; i < shaped[0]; ++i) plain.push_back(worked[i]->items);
    std::size_t next = std::min(worked.size() - 1 - shaped[0], plain.size());
    plainBefore = plain;
    for (std::size_t i = 0; i < next; ++i) plain[i] = worked[shaped[0] + 1 + i]->items;

    std::int64_t stitches = *now.stitches;
    const std::int64_t target = directive.count;
    const bool fewer = target < stitches;
    const std::size_t first = out_.rows.size();
    for (int r = 0; r < kMostWritten && stitches != target; ++r) {
        Row row;
        row.round = now.round;
        const bool shapes = next >= plain.size();
        if (shapes) {
            auto on = oneOn(before, last);
            if (!on || on->empty()) break;
            row.items = std::move(*on);
            before = std::exchange(last, row.items);
        } else {
            auto on = sameItems(plainBefore[next], plain[next]) ? std::nullopt
                                                                : oneOn(plainBefore[next], plain[next]);
            row.items = on && !on->empty() ? std::move(*on) : plain[next];
            plainBefore[next] = std::exchange(plain[next], row.items);
        }
        next = shapes ? 0 : next + 1;
        const std::optional<std::int64_t> then = after(row, stitches);
        if (!then || (fewer ? *then < target : *then > target)) break;
        stitches = *then;
        if (stitches == target && shapes) row.printedCount = directive.count;
        append(std::move(row), first, start);
    }
    if (stitches == target) {
        understood(
            start, "in this way",
            "the last two shaped rows set out how each further one differs from the one before, and what is "
            "worked between them");
        return;
    }
    problem(start, fmt::format("Going on in this way comes to {} and no nearer to {}.",
                               many(static_cast<int>(stitches), "stitch", "stitches"), target));
}

}  // namespace loopmend
