// SPDX-License-Identifier: MIT
#pragma once

#include "pattern/order.h"
#include "pattern/pattern.h"

#include <algorithm>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include <tl/expected.hpp>

namespace loopmend {

/// `base + perRepeat * n` stitches, for n repeats of the star (or run) that goes to the end of the row.
struct Affine {
    std::int64_t base = 0;
    std::int64_t perRepeat = 0;
    /// Rows that multiply their stitches again and again end at a number no needle holds, not in an overflow.
    std::int64_t at(std::int64_t n) const {
        return base + perRepeat * std::clamp(n, -kMostRepeats, kMostRepeats);
    }
    static constexpr std::int64_t kMostRepeats = 1'000'000'000;

    friend bool operator==(const Affine& a, const Affine& b) {
        return a.base == b.base && a.perRepeat == b.perRepeat;
    }
};

/// Where the stitches are when a row begins: ahead of it on the left needle, and behind it on the right one,
/// where they have waited since the work was turned before them. All that a row says (`to end`, `to last 3
/// sts`) is of those ahead.
struct OnNeedle {
    std::int64_t ahead = 0;
    std::int64_t behind = 0;
    std::int64_t all() const { return ahead + behind; }

    friend bool operator==(const OnNeedle& a, const OnNeedle& b) {
        return a.ahead == b.ahead && a.behind == b.behind;
    }
};

/// What a row does to the number of stitches. A row without a star or run to the end has perRepeat 0.
struct RowCounts {
    Affine uses;
    Affine makes;
    bool turns = false;       ///< its last words turn the work: what is ahead then may stay there
    std::int64_t leaves = 0;  ///< turned after a star or run: stitches that stay ahead; without one, any do
    std::int64_t leastRepeats = 0;  ///< 1 for a star, which is worked before it is repeated; 0 for a run
    bool open = false;              ///< has a star or run that takes up whatever is there
    Place where;                    ///< of that star or run, or of the last item
    /// Set if no number of stitches fits, because what follows a star does not use the stitches it leaves:
    /// stitches left over (> 0) or lacking (< 0), and the sentence.
    std::optional<std::int64_t> contradiction;
    std::string contradictionWords;
    Place contradictionPlace;
};

RowCounts countsOf(const Row& row);

/// Stitches left over (> 0) or lacking (< 0) if a row is worked over so many ahead with n repeats of its
/// star.
std::int64_t missesAt(const RowCounts& row, std::int64_t ahead, std::int64_t repeats);
/// The needle when the next row begins. After a round nothing is behind; after a turn, what the row left.
OnNeedle needleAfter(const RowCounts& row, const OnNeedle& before, std::int64_t repeats);
/// The number of repeats whose stitches are nearest to what is ahead.
std::int64_t nearestRepeats(const RowCounts& row, std::int64_t ahead);

/// Stitch counts for which every row of a pattern comes out: plus, plus + of, plus + 2 of ..., from `least`
/// on. of == 0: only `plus` itself.
struct Multiple {
    std::int64_t of = 0;
    std::int64_t plus = 0;   ///< below `of` where `of` > 0
    std::int64_t least = 0;  ///< the smallest count that can be worked
};

/// The algebra over all rows of a pattern. No stitch count is tried: each row's `uses` is solved against what
/// the row before leaves, as a linear equation in whole numbers.
struct PatternCounts {
    RowOrder order;
    std::vector<RowCounts> rows;  ///< for each of order.rows
    std::optional<Multiple> multiple;
    /// No stitch count works every row: the first of order.rows for which there is none.
    std::optional<std::size_t> conflict;
    /// The counts that work every row before the conflict; rows with words that are not understood are passed
    /// over.
    Multiple partial;
    /// Stitches after order.rows[i], those waiting behind a turn among them, for the tth count of `partial`
    /// (t = 0: its least); up to the conflict or such a row.
    std::vector<Affine> after;
    /// The loop can be worked again and again: it ends with the stitches it began with.
    bool closes = false;
};

PatternCounts countAll(const Pattern& pattern);

/// The count printed behind a row that stands for itself alone, the first time it is worked.
std::optional<std::int64_t> printedAfter(const Pattern& pattern, const OrderedRow& ordered);

/// A row of a report, at the stitch count of the report.
struct CheckedRow {
    int row = 0;      ///< in working order, 1 = the first after the cast-on
    int printed = 0;  ///< the number it is printed under
    std::int64_t uses = 0;
    std::int64_t makes = 0;
    std::int64_t stitchesAfter = 0;
    Affine usesBy;  ///< for n repeats of its star
    Affine makesBy;
    std::int64_t repeats = 0;  ///< of its star at this stitch count
    bool fits = true;
    std::string text;  ///< the row as we print it
};

/// A change of the printed words after which more of a pattern comes out.
struct Repair {
    std::size_t row = 0;  ///< index into Pattern::rows
    Row repaired;         ///< to stand in its place
    int price = 0;        ///< the less, the likelier
    std::string words;    ///< `Row 3: “k4” instead of “k3”`, as among a problem's suggestions
};

/// What `check` finds. Problems stand in the order of the text; `ok` = there is none.
struct CheckReport {
    std::int64_t castOn = 0;
    std::vector<CheckedRow> rows;
    std::optional<Multiple> multiple;
    bool closes = false;  ///< the rows can be repeated on the stitches they leave
    std::vector<Problem> problems;
    std::vector<Repair> repairs;  ///< all that are suggested, those for one problem together, best first
    bool ok = false;
};

/// Whether misprint advice is wanted. It costs a few milliseconds a row that does not come out.
enum class Advice : std::uint8_t { given, none };

/// Reads the count out of every row. Without `stitches`, those of the pattern: its cast-on, else what its
/// printed counts ask for, else two repeats of its multiple. A row that cannot be worked says by how many
/// stitches it misses and which small change of the printed words, in it or in any row before, would make all
/// come out; the rows after it are then checked as if it had been worked with the nearest number of
/// repeats.
CheckReport check(const Pattern& pattern, std::optional<int> stitches = std::nullopt,
                  Advice advice = Advice::given);

/// The first `rows` rows of the pattern over `stitches` as single operations; when the printed rows are
/// through, the loop goes on (from row 1, or as `repeat rows` says). Fails with the row that cannot be
/// worked, or if the pattern has problems of reading. Two yarn-overs side by side come out as one of two
/// wraps, as they do in wool.
tl::expected<Script, Problem> expand(const Pattern& pattern, int stitches, int rows);

}  // namespace loopmend
