// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "pattern/chart.h"
#include "pattern/terms.h"

/// Charts as plain text (UTF-8), to be read in a terminal and written by hand:
///
///     loopmend chart 1
///     Title: Small eyelets
///     Multiple: 4 plus 1
///     Worked: in rows
///     First row: right side
///     Repeat: rows 1-2
///
///     Chart:
///     2  | [|  |  |  |]
///        | [|  |  o  /]   1
///
///     Legend:
///     |   RS k1; WS p1
///     o   RS yo
///     /   RS k2tog
///
/// Head lines: `Title:`, `Cast on: 21`, `Multiple: 4 plus 1`, `Worked: in rows | in rounds`, `First row:
/// right side | wrong side`, `Hand: left`, `Yarns: AB` (a letter for the colour of each yarn), `Repeat: rows
/// 1-4 [n times | n more times] [after row 8]`, `Bind off: at the end`, `Style: face and reverse` (then X is
/// a face stitch and O a reverse one), `Note:`. Lines that begin with `//` are skipped.
///
/// Rows stand from the bottom up. The number of a row stands at the side where the row begins. Between `[`
/// and
/// `]` stands what is repeated; its edges may lie elsewhere in each row. `#` is no stitch, `:` one that a
/// turned row does not reach, `~` belongs to the sign at its left, which takes several squares. A sign is a
/// letter or two, then its number if it has one (`o2`, `*3`), `_` for the purl form, `'` for another way of
/// working that looks the same, `.B` for another yarn, `+` if that is first led round the one before. A
/// crossing is `2\2` or `2/2`: stitches at the left and at the right, the stroke as the front ones go; `p`
/// and `t` behind a number: those are purled, twisted.
///
/// The legend says what each sign is on the sides where it is used. A sign that is not known here may be
/// explained there: `Q  RS k2tog`.
namespace loopmend {

/// The other notation has the two letters of square paper: X for a face stitch, O for a reverse one.
enum class ChartStyle : std::uint8_t { symbols, faceReverse };

/// The first line of such a text.
inline constexpr std::string_view kChartHead = "loopmend chart";
/// Whether a text says that it is a chart.
bool looksLikeChart(std::string_view text);

/// Reads it. Never fails: what is wrong becomes a Problem with its place, and reading goes on behind it.
WrittenChart parseChart(std::string_view text);

/// Writes it; parseChart of that is the same chart. Faces and reverses: see `sayable`.
std::string printChart(const WrittenChart& chart, ChartStyle style = ChartStyle::symbols,
                       Terms terms = Terms::us);

/// Whether a style can say all of a chart; else the sentence that says what it cannot.
std::optional<Problem> sayable(const WrittenChart& chart, ChartStyle style);

/// The sign as it stands in a text: `|`, `\'`, `2\2p`.
std::string glyphOf(const StitchSign& sign);
/// The other way about; none if it is no sign.
std::optional<StitchSign> signFrom(std::string_view glyph);

/// One line of a legend: a sign, and what is worked where it stands.
struct LegendLine {
    StitchSign sign;            ///< of the first yarn
    std::optional<Step> right;  ///< with the right side facing, if it is used there
    std::optional<Step> wrong;
};
/// Every sign of a chart once, in the order of signs.
std::vector<LegendLine> legendOf(const WrittenChart& chart);
/// `k2tog; WS p2tog`, `ssk`, `WS p1`
std::string wordsOf(const LegendLine& line, bool round, Terms terms);

}  // namespace loopmend
