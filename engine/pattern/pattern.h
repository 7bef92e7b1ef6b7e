// SPDX-License-Identifier: MIT
#pragma once

#include "pattern/op.h"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace loopmend {

/// Where words stand in the text a pattern was read from. Line and column count from 1, columns in
/// characters; 0 = the thing was made by a program, not read. begin and end are byte offsets into
/// Pattern::text.
struct Place {
    int line = 0;
    int column = 0;
    std::uint32_t begin = 0;
    std::uint32_t end = 0;
};

/// Something wrong with a pattern, said to a person: where, which words, one sentence, what to try.
struct Problem {
    int row = 0;  ///< the printed number of the row concerned; 0 = no row (a head line, the cast-on)
    int line = 0;
    int column = 0;
    std::string words;  ///< the words concerned, as printed
    std::string message;
    std::vector<std::string> suggestions;
    int misses = 0;  ///< a row that does not fit: stitches left over (> 0) or lacking (< 0)
};

/// Words that are read in more than one way, or that lean on something not said: which reading was taken, and
/// why. Said once for each kind of words, where they stand first.
struct Understood {
    int row = 0;  ///< as in Problem
    int line = 0;
    int column = 0;
    std::string words;
    std::string message;
};

enum class ItemKind : std::uint8_t {
    stitch,  ///< `k5`: `step` worked `times` times
    group,   ///< `(k2tog, yo) 3 times`: `items` worked `times` times in all
    star,    ///< `*k2, p2; rep from * to last 3 sts`: `items`, at least once, as far as `until` says
    run,     ///< `k to last 3 sts`: `step`, perhaps not at all, as far as `until` says
    follow,  ///< `knit the knits and purl the purls`, or (opposite) the other way about
    marker,  ///< place or slip a marker: `slipped` says which; no stitch
};

/// How far a star, a run or a follow goes. The last n stitches are counted before they are worked. `marker`,
/// `gap` (where the work was turned before) and `wrapped` (a stitch wrapped at such a turn) stand only while
/// a text is read: then the stitches up to it are known, and said.
enum class Until : std::uint8_t { end, last, marker, gap, wrapped };

/// One thing said in a row.
struct Item {
    ItemKind kind = ItemKind::stitch;
    Step step;      ///< stitch, run
    int times = 1;  ///< stitch (1 unless the op is printed with a number, as k5), group
    Until until = Until::end;
    int last = 0;  ///< until == last: stitches left unworked; marker, gap, wrapped: left before it
    bool yarnSaid =
        true;  ///< false: a slip that does not say where the yarn is: the float goes to the wrong side
    bool opposite = false;     ///< follow
    bool slipped = false;      ///< marker
    bool removed = false;      ///< marker
    bool inAllUnsaid = false;  ///< group read from `rep from * n times`, where some books mean n more
    bool bareTimes = false;    ///< group read from `k2tog twice`, without brackets
    bool bareToEnd = false;    ///< star read from `k2, p2 to end`, without a star
    bool yarnForward =
        false;  ///< a purl or slip, the yarn brought forward before it: only moved, or a yarn-over
    /// Only while a text is read: a group whose stitches are those of a panel (1 = the first), and of which
    /// of its rows; 0: of the next.
    int panel = 0;
    int panelRow = 0;
    std::vector<Item> items;  ///< group, star
    Place place;
};

/// Rows first, first + 1, ... last.
struct RowSpan {
    int first = 1;
    int last = 1;
};

/// `Row 2 and every even row`, `All wrong-side rows`.
enum class Every : std::uint8_t { none, odd, even, right, wrong };

/// One row as printed: a head that may name several rows, and what is worked in each of them.
struct Row {
    bool round = false;
    std::vector<RowSpan> spans;  ///< as printed; a set-up row has number 0
    Every every = Every::none;
    std::optional<Facing> facing;  ///< RS or WS, if printed
    std::vector<Item> items;
    std::optional<RowSpan> sameAs;  ///< `Row 4: as row 2`; then items is empty
    std::optional<int> printedCount;
    bool sound = true;  ///< false: some of its words were not understood, so its stitches cannot be counted
    Place place;        ///< the whole row
    Place countPlace;
};

/// `Repeat rows 1-4 3 times`. `times` counts in all if those rows were the last ones worked, else further
/// times; `more` says that it always counts further times. times == 0: for as long as one likes (`for
/// pattern`).
struct RepeatRows {
    RowSpan rows;
    int times = 0;
    bool more = false;
    bool untilWorked = false;  ///< only while a text is read: till no turn is left unclosed; times is 0
    std::size_t after = 0;     ///< stands after this many of Pattern::rows
    Place place;
};

/// `Multiple of 6 plus 1`.
struct PrintedMultiple {
    int of = 1;
    int plus = 0;
    Place place;
};

/// Printed instructions, read: what they say, not yet whether they add up.
struct Pattern {
    std::string title;  ///< the first line that is a remark
    std::optional<int> castOn;
    Place castOnPlace;
    std::optional<PrintedMultiple> multiple;
    bool round = false;
    std::string yarns =
        "A";  ///< the colour of each yarn, as Script::yarns; rows name them `with B`, `with A2`
    std::vector<Row> rows;
    std::vector<RepeatRows> repeats;
    bool bindOffAtEnd = false;
    std::vector<std::string> remarks;  ///< lines that give no instruction, as printed
    std::vector<std::string> parts;    ///< pieces worked separately, by their headings; one of them was read
    std::vector<Problem> problems;     ///< found while reading, in the order of the text
    std::vector<Understood> understood;  ///< likewise
    std::string text;                    ///< what was read; Place offsets point into it
};

/// The largest number a pattern may print and the most stitches a row may come to.
inline constexpr int kLargestNumber = 9999;
inline constexpr int kMostStitches = 1'000'000;

/// Stitches an item takes and gives, worked once through; for a star, a run and a follow, of one repeat.
/// Capped far above kMostStitches, so that sums of them cannot overflow.
std::int64_t usesOf(const Item& item);
std::int64_t makesOf(const Item& item);
std::int64_t usesOf(const std::vector<Item>& items);
std::int64_t makesOf(const std::vector<Item>& items);

/// `turn` or `w&t`: only as the last thing of a row.
bool turnsWork(const Item& item);

/// Operations printed with their number of times, as `k5`, `sl2`, `k3 tbl`; all others stand in a group if
/// repeated.
bool printedWithNumber(Op op);

/// Whether two rows or patterns say the same, wherever it is printed.
bool sameItems(const std::vector<Item>& a, const std::vector<Item>& b);
bool sameRow(const Row& a, const Row& b);
bool sameRows(const Pattern& a, const Pattern& b);

/// The words of a place in the text it was read from, blanks tidied; empty if made by a program.
std::string wordsAt(const Pattern& pattern, const Place& place);

}  // namespace loopmend
