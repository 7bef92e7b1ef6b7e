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
/// - anything else, and all behind `#`: a remark.
///
/// In a row: stitches (`k5`, `purl two`, `sl1 wyif`, `k2tog tbl`, `slip 1, knit 1, pass slipped stitch over`,
/// `2/2 RC`, `bind off 3` ...); `(..) 3 times`, `[..] x 3`, `(k1, yo, k1) in next st`; `*..; rep from * to
/// end`, `to last 3 sts`, `*..* 4 times`, `rep from * 3 more times`; `k to last 2 sts`; `knit the knits and
/// purl the purls`; the count at its end, `(64 sts)` or `- 64 sts`; or only `as row 2`.
///
/// Unless a book says otherwise (common practice): `n times` counts in all, `n more times` counts further
/// times, for stitches and for rows; a bare `sl` is purlwise with the strand on the wrong side; `yf` before a
/// purl or a slip only moves the yarn and before anything else is a yarn-over.
Pattern parse(std::string_view text, const ParseOptions& options = {});

}  // namespace loopmend
