// SPDX-License-Identifier: MIT
#include "pattern/counts.h"

#include <algorithm>
#include <numeric>
#include <tuple>
#include <utility>

#include <fmt/format.h>

namespace loopmend {

namespace {

/// No piece of knitting is wider; the products of three such numbers below stay inside 64 bits.
constexpr std::int64_t kWidest = kMostStitches;

/// x with a * x = 1 modulo m, for coprime a and m > 1 (extended Euclid).
std::int64_t inverse(std::int64_t a, std::int64_t m) {
    std::int64_t r0 = m;
    std::int64_t r1 = a % m;
    std::int64_t x0 = 0;
    std::int64_t x1 = 1;
    while (r1 != 0) {
        const std::int64_t q = r0 / r1;
        std::tie(r0, r1) = std::pair(r1, r0 - q * r1);
        std::tie(x0, x1) = std::pair(x1, x0 - q * x1);
    }
    return ((x0 % m) + m) % m;
}

std::int64_t ceilDivide(std::int64_t a, std::int64_t b) {
    return a >= 0 ? (a + b - 1) / b : -(-a / b);
}

bool openEnded(const Item& item) {
    return item.kind == ItemKind::star || item.kind == ItemKind::run || item.kind == ItemKind::follow;
}

/// All stitch counts that have worked so far, t = 0, 1, 2 ...: cast on start + startStep t, now ahead on the
/// needle now + nowStep t and behind it back + backStep t.
struct Progression {
    std::int64_t start = 1;
    std::int64_t startStep = 1;
    std::int64_t now = 1;
    std::int64_t nowStep = 1;
    std::int64_t back = 0;
    std::int64_t backStep = 0;

    /// Keeps only the counts that a row can use, and works it; false if there is none.
    bool work(const RowCounts& row) {
        const std::int64_t a = row.uses.base + row.leaves;
        const std::int64_t b = row.uses.perRepeat;
        std::int64_t t = 0;         // the first t that fits
        std::int64_t step = 0;      // and every step'th after it
        std::int64_t repeats = 0;   // of the row's star, for the first
        std::int64_t more = 0;      // and for each further one
        if (b == 0 && row.turns) {  // so many or more
            if (now < a) {
                if (nowStep <= 0) return false;
                t = ceilDivide(a - now, nowStep);
            }
            step = startStep > 0 ? 1 : 0;
        } else if (b == 0) {
            if (nowStep == 0) {
                if (now != a) return false;
                step = startStep > 0 ? 1 : 0;  // every cast-on came down to this count
            } else {
                if (a < now || (a - now) % nowStep != 0) return false;
                t = (a - now) / nowStep;
            }
        } else if (nowStep == 0) {
            if (now < a || (now - a) % b != 0) return false;
            repeats = (now - a) / b;
            if (repeats < row.leastRepeats) return false;
            step = startStep > 0 ? 1 : 0;
        } else {
            // now + nowStep t = a + b repeats
            const std::int64_t g = std::gcd(nowStep, b);
            if ((a - now) % g != 0) return false;
            step = b / g;
            if (step > 1) {
                const std::int64_t want = (((a - now) / g) % step + step) % step;
                t = want * inverse((nowStep / g) % step, step) % step;
            }
            more = nowStep / g;
            repeats = (now + nowStep * t - a) / b;
            if (repeats < row.leastRepeats) {
                const std::int64_t ahead = ceilDivide(row.leastRepeats - repeats, more);
                t += ahead * step;
                repeats += ahead * more;
            }
        }
        start += startStep * t;
        startStep *= step;
        const OnNeedle after = needleAfter(row, {now + nowStep * t, back + backStep * t}, repeats);
        const std::int64_t stays = row.turns ? nowStep * step - row.uses.perRepeat * more : 0;
        now = after.ahead;
        nowStep = row.makes.perRepeat * more + backStep * step;
        back = after.behind;
        backStep = stays;
        const auto sane = [](std::int64_t n) { return n >= 0 && n < kWidest; };
        return sane(start) && sane(startStep) && sane(now) && sane(nowStep) && sane(back) && sane(backStep);
    }
};

void contradict(RowCounts& counts, const Item& item, std::int64_t misses, std::string words) {
    if (counts.contradiction) return;
    counts.contradiction = misses;
    counts.contradictionWords = std::move(words);
    counts.contradictionPlace = item.place;
}

std::string stitches(std::int64_t n) {
    return n == 1 ? "1 stitch" : fmt::format("{} stitches", n);
}

}  // namespace

RowCounts countsOf(const Row& row) {
    RowCounts counts;
    std::int64_t left = 0;    // stitches the last star or run left unworked
    std::int64_t behind = 0;  // used since then
    counts.turns = !row.items.empty() && turnsWork(row.items.back());
    for (const Item& item : row.items) {
        const std::int64_t takes = usesOf(item);
        const std::int64_t gives = makesOf(item);
        counts.where = item.place;
        if (!openEnded(item)) {
            counts.uses.base += takes;
            counts.makes.base += gives;
            behind += takes;
            continue;
        }
        const std::int64_t keeps = item.until == Until::last ? item.last : 0;
        const std::int64_t least = item.kind == ItemKind::star ? 1 : 0;
        if (takes <= 0) {
            contradict(counts, item, 0, "This repeat takes no stitches, so it never reaches the end.");
            continue;
        }
        if (!counts.open) {
            counts.open = true;
            counts.uses.perRepeat = takes;
            counts.makes.perRepeat = gives;
            counts.leastRepeats = least;
        } else {
            // What the first star left is a fixed number of stitches for the second.
            const std::int64_t there = left - behind - keeps;
            const std::int64_t repeats = std::max(there / takes, least);
            if (there != repeats * takes)
                contradict(counts, item, there - repeats * takes,
                           fmt::format("{} are left for this repeat, which takes {} at a time.",
                                       stitches(std::max<std::int64_t>(there, 0)), takes));
            counts.uses.base += repeats * takes;
            counts.makes.base += repeats * gives;
        }
        left = keeps;
        behind = 0;
    }
    if (counts.open) {
        for (std::size_t i = row.items.size(); i-- > 0;) {
            if (!openEnded(row.items[i])) continue;
            counts.where = row.items[i].place;
            if (counts.turns && left > behind) {
                counts.leaves = left - behind;
            } else if (left != behind)
                contradict(
                    counts, row.items[i], left - behind,
                    left == 0
                        ? fmt::format("The repeat goes on to the end, but the words after it use {} more.",
                                      stitches(behind))
                        : fmt::format("The repeat stops {} before the end, but the words after it use {}.",
                                      stitches(left), behind == 0 ? "none" : std::to_string(behind)));
            break;
        }
    }
    for (std::int64_t* n :
         {&counts.uses.base, &counts.uses.perRepeat, &counts.makes.base, &counts.makes.perRepeat})
        *n = std::clamp(*n, -kWidest, kWidest);
    return counts;
}

std::int64_t missesAt(const RowCounts& row, std::int64_t ahead, std::int64_t repeats) {
    const std::int64_t spare = ahead - row.uses.at(repeats) - row.leaves;
    return row.turns && row.uses.perRepeat == 0 ? std::min<std::int64_t>(spare, 0) : spare;
}

OnNeedle needleAfter(const RowCounts& row, const OnNeedle& before, std::int64_t repeats) {
    OnNeedle after;
    after.ahead = before.behind + row.makes.at(repeats);
    if (row.turns) after.behind = std::max<std::int64_t>(before.ahead - row.uses.at(repeats), 0);
    return after;
}

std::int64_t nearestRepeats(const RowCounts& row, std::int64_t ahead) {
    const std::int64_t each = row.uses.perRepeat;
    if (each <= 0) return 0;
    const std::int64_t spare = ahead - row.uses.base - row.leaves;
    std::int64_t repeats = spare <= 0 ? 0 : spare / each;
    if (spare - repeats * each > each / 2) ++repeats;
    return std::max(repeats, row.leastRepeats);
}

std::optional<std::int64_t> printedAfter(const Pattern& pattern, const OrderedRow& ordered) {
    const Row& head = pattern.rows[ordered.head];
    const bool alone =
        head.every == Every::none && head.spans.size() == 1 && head.spans[0].first == head.spans[0].last;
    if (!head.printedCount || ordered.again || !alone) return std::nullopt;
    return *head.printedCount;
}

PatternCounts countAll(const Pattern& pattern) {
    PatternCounts all;
    all.order = rowOrder(pattern);
    std::vector<std::optional<RowCounts>> byRow(pattern.rows.size());
    all.rows.reserve(all.order.rows.size());
    for (const OrderedRow& ordered : all.order.rows) {
        std::optional<RowCounts>& counts = byRow[ordered.row];
        if (!counts) counts = countsOf(pattern.rows[ordered.row]);
        all.rows.push_back(*counts);
    }

    // Rows that are not understood are passed over as if they kept the count; then no multiple is claimed.
    const auto sound = [&](std::size_t i) { return pattern.rows[all.order.rows[i].row].sound; };
    Progression progression;
    std::size_t understood = all.rows.size();
    for (std::size_t i = 0; i < all.rows.size(); ++i) {
        if (!sound(i)) {
            understood = std::min(understood, i);
            continue;
        }
        Progression next = progression;
        if (!next.work(all.rows[i])) {
            all.conflict = i;
            break;
        }
        progression = next;
    }
    // Whatever still worked before the conflict is kept, to choose a stitch count from.
    Multiple multiple;
    multiple.of = progression.startStep;
    multiple.least = progression.start;
    multiple.plus = multiple.of > 0 ? progression.start % multiple.of : progression.start;
    all.partial = multiple;

    const std::size_t worked = std::min(all.conflict.value_or(all.rows.size()), understood);
    OnNeedle first{progression.start, 0};
    OnNeedle second{progression.start + progression.startStep, 0};
    const auto workOne = [](const RowCounts& row, const OnNeedle& n) {
        const std::int64_t repeats =
            row.uses.perRepeat > 0 ? (n.ahead - row.uses.base - row.leaves) / row.uses.perRepeat : 0;
        return needleAfter(row, n, repeats);
    };
    std::vector<std::pair<OnNeedle, OnNeedle>> before;
    for (std::size_t i = 0; i < worked; ++i) {
        before.emplace_back(first, second);
        first = workOne(all.rows[i], first);
        second = workOne(all.rows[i], second);
        all.after.push_back({first.all(), second.all() - first.all()});
    }
    before.emplace_back(first, second);
    if (worked < all.rows.size() || all.rows.empty()) return all;
    all.multiple = multiple;
    if (all.order.loopEnd > all.order.loopFirst) {
        all.closes = before[all.order.loopFirst] == before[all.order.loopEnd];
    }
    return all;
}

}  // namespace loopmend
