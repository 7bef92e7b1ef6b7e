// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include <tl/expected.hpp>

#include "fabric/fabric.h"

/// The fabric as two lines of text. The first is the knot and nothing else: two fabrics are the same knot
/// exactly if their first lines are equal. The second holds what is measured or only noted: lengths, marks,
/// mounts, the tip, row ends. Both lines give back the same fabric, and the fabric gives back the same two
/// lines.
///
/// First line, sections divided by ` | `:
///   yarn A ball < o! o! > 2k 1k-1 | ...     one yarn from its first end; `ball-` is read from the ball's
///   end,
///                                           `ends` has no ball; `<` `>` where the yarn changes direction
///     o            a loop without links            !      anchored
///     12k  12p     drawn through loop 12 toward the right side / the wrong side (2.12: loop 12 of yarn 2)
///     -1 +1 +2     twist                           b r l  under both legs, the right, the left one
///     h s          host pierced, only some plies   @i     place from right to left among the host's links
///     ^i           the host's place from right to left among the loop's hosts
///     a&b          several links, in the order of the bight
///     ~12r ~12w    the strand goes by loop 12 on the right / wrong side; @i from bottom to top where the
///     order of
///                  the text is not that order
///   cross 3 5 +1   loops 3 (it stood right) and 5 changed places, the left one in front
///   join 8 +0      a round joined after loop 8, twist of the band
///   needle 31 30+2   the needle's loops from right to left, with extra half turns; likewise pin, holder, ...
///   loose 12       live loops that nothing holds
///
/// Second line, sections in the same order:
///   yarn 2000 9000/2000 = 8000/2500 ; ~12<w     lead; an ordinary loop/strand; then for every entry of the
///   first
///                                  line `=` (ordinary), `um/strand` or `.` (a pass), `;` after one that ends
///                                  a row, and the marks where they lie (loop, direction, side, @i as above)
///   yarn B ball 2000 9000/2000 ~3<w     a further yarn of which nothing but marks is left
///   needle 3 w w e ~12             places to the right of the tip; mounts; hanging places
///   pin w                          likewise for every other tool
namespace loopmend {

struct Itinerary {
    std::string knot;
    std::string measure;
};

/// Both lines of a fabric. Linear, but for a fabric whose first yarn is not settled by a cast-on and a ball.
Itinerary itinerary(const Fabric& fabric);
/// The first line alone.
std::string knotOf(const Fabric& fabric);
/// A 64-bit hash of a text (FNV-1a), the same on every machine.
std::uint64_t hashOf(std::string_view text);

/// Where a text could not be read.
struct TextFault {
    std::string message;  ///< what, where, in one sentence
};

/// Reads both lines. Refuses anything that is not a fabric: unknown words, loops that are not there, a loop
/// drawn through itself by any way round.
tl::expected<Fabric, TextFault> fabricFrom(const Itinerary& lines);

/// How the normal form numbers a fabric: yarns in its order, and each loop's place in its yarn from 1.
struct Numbering {
    struct Place {
        std::int32_t yarn = 0;  ///< from 1; 0: no entry of the normal form
        std::int32_t loop = 0;  ///< loops: from 1; passes: 0
    };
    std::vector<YarnId> yarns;
    std::vector<bool> reversed;
    std::vector<Place> places;  ///< by entry id
    /// Loops of the normal form in its order, all yarns.
    std::vector<LoopId> order;

    const Place& operator[](EntryId id) const { return places[static_cast<std::size_t>(id.value)]; }
};
Numbering numbering(const Fabric& fabric);
/// Whether the first line writes this entry: not a loop that is nothing, a mark, or a strand that crosses
/// nothing.
bool isInKnot(const Fabric& fabric, EntryId entry);

}  // namespace loopmend
