// SPDX-License-Identifier: MIT
#pragma once

#include "pattern/pattern.h"

#include "patterns_tsv.h"

#include <cstdint>
#include <map>
#include <string>
#include <vector>

namespace loopmend::outside {

/// What happened to one printed token of a row.
enum class Spoil : std::uint8_t { changed, dropped, doubled };

/// How a spoilt pattern reads.
enum class SpoilShows : std::uint8_t {
    thatRow,   ///< the spoilt row is the first that cannot be worked
    laterRow,  ///< a row after it is, or the rows cannot be repeated
    unread,    ///< its words are not understood any more: the reader names the place
    nowhere,   ///< everything comes out all the same
};

/// A book pattern, printed in our language with one token spoilt, and read again.
struct Spoiling {
    const BookPattern* book = nullptr;
    Spoil spoil = Spoil::changed;
    SpoilShows shows = SpoilShows::nowhere;
    std::size_t row = 0;  ///< index into Pattern::rows
    std::string was;      ///< the token as printed
    std::string now;      ///< empty if dropped
    Pattern pattern;
    int castOn = 0;
};

/// What the advice for the first row that does not come out is worth.
struct Verdict {
    int rank = 0;   ///< of the true repair among what is shown, from 1; 0 = it is not there
    int shown = 0;  ///< suggestions for that row
};

/// One token of a row of the book spoilt, as `seed` says. Digits are changed to other digits, words of
/// stitches to others; every token of a row may be dropped or doubled, brackets and `rep from *` too. The
/// multiple of the book is printed above, unless `multiple` is false.
Spoiling spoilt(const BookPattern& book, std::uint64_t seed, bool multiple = true);

/// `n` spoilings that show as rows that cannot be worked, at least two in five of them only in a later row,
/// and whatever had to be drawn on the way that does not. Spread evenly over the books.
std::vector<Spoiling> spoilings(const std::vector<BookPattern>& books, std::uint64_t seed, int n,
                                bool multiple = true);

/// A suggestion is the true repair if its rows, worked, are stitch by stitch those of the unspoilt book.
Verdict judge(const Spoiling& spoiling);

/// The figures of many spoilings.
struct SpoilTally {
    int judged = 0;
    int later = 0;  ///< of them, showing only in a later row
    int first = 0;
    int firstThree = 0;
    int shown = 0;
    int lines = 0;  ///< suggestions in all
    int unread = 0;
    int unreadFirstThree = 0;
    int unreadShown = 0;
    int nowhere = 0;

    void add(const Spoiling& spoiling, const Verdict& verdict);
};

}  // namespace loopmend::outside
