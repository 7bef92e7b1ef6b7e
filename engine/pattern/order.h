// SPDX-License-Identifier: MIT
#pragma once

#include "pattern/pattern.h"

#include <cstddef>
#include <optional>
#include <vector>

namespace loopmend {

/// One row in the order it is worked.
struct OrderedRow {
    std::size_t row =
        0;  ///< index into Pattern::rows, of the row whose words are worked (never one that says `as row 2`)
    std::size_t head = 0;  ///< index into Pattern::rows, of the row that carries the number
    int printed = 0;       ///< the number it is printed under
    bool again = false;    ///< a further time, because of `repeat rows`
};

/// The rows of a pattern in working order: once through all that is printed, finite repeats included.
struct RowOrder {
    std::vector<OrderedRow> rows;
    /// The rows that go on for pattern: positions in `rows`, [loopFirst, loopEnd). All of them unless a
    /// `repeat rows` without a number of times says otherwise.
    std::size_t loopFirst = 0;
    std::size_t loopEnd = 0;
    bool loopPrinted = false;
    Facing first =
        Facing::right;  ///< which face looks at the knitter in the first row, by the heads that say so
    std::vector<Problem>
        problems;  ///< numbers twice or missing, rows that refer to none, sides that do not alternate
};

/// Works out the order. A number that is missing is skipped, one that stands twice is worked as it says
/// first; both are named. At most kMostRows rows come out.
RowOrder rowOrder(const Pattern& pattern);
inline constexpr std::size_t kMostRows = 20'000;

/// Index into Pattern::rows of the row whose words are worked for that number; none: no such row. Cheaper
/// than the whole order.
std::optional<std::size_t> rowWorkedAs(const Pattern& pattern, int number);

/// Only the problems of rowOrder().
std::vector<Problem> orderProblems(const Pattern& pattern);

constexpr Facing opposite(Facing facing) {
    return facing == Facing::right ? Facing::wrong : Facing::right;
}

/// Which face looks at the knitter in the nth row worked (from 0): in rounds the right side, flat by turns.
Facing facingOf(const Pattern& pattern, const RowOrder& order, std::size_t position);

}  // namespace loopmend
