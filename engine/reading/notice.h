// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "fabric/fabric.h"
#include "pattern/terms.h"
#include "reading/symptoms.h"

/// When a knitter could see that her knitting is not what was meant. Both fabrics are read, row by row;
/// nothing is known of how the one went wrong.
namespace loopmend {

enum class Cue : std::uint8_t {
    count,          ///< the stitches at the end of a row, for someone who counts them
    rowDoesNotFit,  ///< a row of the pattern ends over or short
    wrongColumn,    ///< the pattern comes to stand over other stitches than before
    holeMissing,
    holeExtra,
    face,      ///< a bump for a V or a V for a bump
    freeLoop,  ///< a stitch that stands free
    ladder,
    joined,    ///< two columns grow together where they should not, or do not where they should
    landmark,  ///< a line that the eye follows breaks
    strand,    ///< a tall stitch, a strand behind or across
    crossing,  ///< a cable of the other hand, or missing
    column,    ///< a column begins where none should, or does not where one should
    lean,      ///< a decrease that leans the other way
    twist,     ///< crossed feet
    color,     ///< a stitch of another color
    turn,      ///< a row that begins or ends in the middle
    other,
};
std::string_view name(Cue cue);

/// How easily it is seen. Common practice: twisted stitches and the lean of a single decrease are rarely
/// noticed.
enum class Visibility : std::uint8_t { rare, ifLookedFor, plain };

struct Notice {
    int row = 0;  ///< the row at whose end she can see it, counted as worked
    Cue cue = Cue::other;
    Visibility visibility = Visibility::plain;
    int seenRow = 0;     ///< where it is seen: the row that looks different
    int seenStitch = 0;  ///< in the order worked, from 1; 0: the row itself
    std::string words;
    SeenFrom seenFrom = SeenFrom::both;  ///< the side of the cloth on which it shows
};

struct Attention {
    bool counts = false;  ///< she counts the stitches of every row
    /// She reads the necks of the stitches on the needle at the end of each row: a purl for a knit is seen
    /// before the next row meets it.
    bool readsNecks = false;
    /// She compares the repeats of a pattern row with each other when it is done: a hole that is missing, a
    /// decrease too many are seen before the pattern comes again.
    bool comparesRepeats = false;
    /// Sides of the cloth she looks at. The bumpy side of a stitch hides its feet and how a decrease leans.
    SeenFrom looksAt = SeenFrom::both;
};

/// The first row of each cue, earliest first, then the plainest first. Linear.
///
/// What is different in a row of lace is not seen on the plain row above it (a knitter just works back): it
/// is seen when the next row of the pattern has to be set upon it. So plain return rows hide it for two rows,
/// and lace on every row shows it in the next one (common practice). In a plain ground the next row meets it.
std::vector<Notice> noticeable(const Fabric& meant, const Fabric& actual, Terms terms = Terms::us,
                               Attention attention = {});

/// The first row at which she could see something, plainly or if she looks; if there is only what is rarely
/// seen or what must be counted, that. None: both look the same.
std::optional<Notice> firstNoticeable(const Fabric& meant, const Fabric& actual, Attention attention = {},
                                      Terms terms = Terms::us);

}  // namespace loopmend
