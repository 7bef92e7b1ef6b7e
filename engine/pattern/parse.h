// SPDX-License-Identifier: MIT
#pragma once

#include "pattern/pattern.h"

#include <cstddef>
#include <optional>
#include <string_view>

namespace loopmend {

/// What only the book's key can say. The same words mean different things in different books.
struct ParseOptions {
    /// Old books: `m1`, `make one` is a yarn-over. Otherwise it is a lifted bar leaning left, unless left,
    /// right, purlwise or open is said.
    bool m1IsYarnOver = false;
    /// `k1b`: into the stitch below (true), through the back loop (false); not known: a problem that asks.
    std::optional<bool> k1bIsBelow;
    /// Which of `40 (44, 48)`: 0 is the number before the brackets.
    int size = 0;
    /// Which of the pieces that a text tells under headings (Pattern::parts): 0 is the first.
    std::size_t part = 0;
};

/// Reads printed instructions as books and leaflets print them, US and UK words, abbreviated or in full, in
/// capitals or not. Never fails: what is not understood becomes a Problem with its place, and the reading
/// goes on behind it.
///
/// A text is made of statements, each from the start of a line or after a full stop:
/// - row heads: `Row 1 (RS):`, `Rows 2, 4 and 6:`, `Rows 1-3:`, `Row 3 and every odd row:`, `1st and 3rd
/// rows:`,
///   `Rnd 1:`, `All wrong-side rows:`, `Next row:`, `Set-up row:`; the row goes on to the next statement or
///   empty line;
/// - `Cast on 61 sts`, `Multiple of 6 plus 1`, `in the round`, also within a remark;
/// - `Repeat rows 1-8 [n times | n more times]`, `Bind off all sts`;
/// - `T2 = k2tog`: a word of the book's own, from here on;
/// - `Panel A (12 sts)` and its rows, for rows that say `work panel A` or `row 3 of panel A`;
/// - anything else, and all behind `#`: a remark.
///
/// In a row: stitches (`k5`, `purl two`, `sl1 wyif`, `k2tog tbl`, `slip 1, knit 1, pass slipped stitch over`,
/// `2/2 RC`, `bind off 3` ...); `(..) 3 times`, `[..] x 3`, `(k1, yo, k1) in next st`; `*..; rep from * to
/// end`, `to last 3 sts`, `*..* 4 times`, `rep from * 3 more times`; `k to last 2 sts`; `knit the knits and
/// purl the purls`; the count at its end, `(64 sts)` or `- 64 sts`; or only `as row 2`.
///
/// Sentences that stand for rows are written out as rows, under the next numbers: `Work 6 rows even`, `Cont
/// in patt`, `Work in st st for 10 rows`, `K2, p2 rib for 4 rows`, `Knit 4 rows`; `Dec 1 st at each end of
/// next and every foll 4th row 3 times`, `Cast off 5 sts at beg of next 2 rows`, `at the same time ...`; `Rep
/// dec row every other row until 20 sts remain`. So are rows that say no more than a stitch (`Rows 1-4:
/// garter st`) or lean on those before (`work in patt to last 2 sts`). `k to 2 sts before marker` is said in
/// stitches, wherever the markers stand (markers.h). Rows that begin again from 1 under another remark are
/// counted on. Of a text of several pieces (`Back`, `Sleeve` ...) one is read (ParseOptions::part); `work as
/// for left front, reversing shaping` gives its mirror image (reverse_shaping.h).
///
/// Unless a book says otherwise (common practice): `n times` counts in all, `n more times` counts further
/// times, for stitches and for rows; a bare `sl` is purlwise with the strand on the wrong side; `yf` before a
/// purl or a slip only moves the yarn and before anything else is a yarn-over. Where books differ and the
/// counts of this row and the next ones come out only the other way, the other way is taken (settle.h). Which
/// reading was taken, and why, is in Pattern::understood, once for each kind of words.
Pattern parse(std::string_view text, const ParseOptions& options = {});

}  // namespace loopmend
