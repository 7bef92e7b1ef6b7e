// SPDX-License-Identifier: MIT
#pragma once

#include "pattern/pattern.h"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

/// Sentences that stand for whole rows (`Work 6 rows even`, `Dec 1 st at each end of every 4th row 5 times`),
/// as they are read and before they are written out as rows. Not for use outside this folder.
namespace loopmend {

/// The most rows that one sentence is written out as.
inline constexpr int kMostWritten = 1000;

/// What is worked where nothing but a stitch is named.
enum class Ground : std::uint8_t {
    stockinette,
    reverseStockinette,
    garter,
    seed,        ///< each stitch the other way about in every row
    doubleSeed,  ///< in every second row
    rib,         ///< `knits` and `purls` by turns, then as they face
    asTheyFace,
    allKnit,  ///< every row knitted as it faces her
    allPurl,
};

/// A ground with what it needs to know.
struct NamedGround {
    Ground ground = Ground::stockinette;
    int knits = 1;  ///< rib
    int purls = 1;
};

/// What a piece goes on with where its words only say `in pattern`.
struct Established {
    enum class Kind : std::uint8_t { nothing, rows, ground };
    Kind kind = Kind::nothing;
    RowSpan rows;  ///< by their numbers
    NamedGround ground;
    int worked = 0;         ///< rows of it so far: whose turn is next
    int stitches = 0;       ///< rows: over how many they were set out; 0: nothing was shaped since
    int goneRight = 0;      ///< rows: of these, stitches shaped away at the right edge (< 0: added there),
    int goneLeft = 0;       ///< and at the left one, as the right side shows them
    std::size_t since = 0;  ///< Pattern::rows when it was said
};

/// When a clock strikes: first after so many rows (1 = the next one), then every so many.
struct Beat {
    int first = 1;
    int every = 1;
    int times = 1;  ///< 0: until the count is reached
    std::optional<Facing> side;
    bool saidFirst = false;  ///< `next`: the first one is told, else it comes from the rows worked
};

/// One kind of shaping, on its own clock.
struct Clock {
    enum class Act : std::uint8_t { decrease, increase, bindOff, castOn, row };
    Act act = Act::decrease;
    int stitches = 1;
    std::optional<Step> step;  ///< the operation, if the words name it
    int inset = 0;             ///< stitches worked plain at the edge
    bool start = false;
    bool end = false;
    int row = 0;       ///< Act::row: the number of the row that is worked; 0: there is none of that name
    std::string name;  ///< its name
    std::vector<Beat> beats;
    int target = 0;            ///< stitches there are when it has struck for the last time; 0: not said
    bool untilTarget = false;  ///< it strikes until then
};

/// `Inc 6 sts evenly across next row`.
struct Evenly {
    bool fewer = false;
    int stitches = 0;
    std::optional<bool> knitted;  ///< what the row is else, if that is said
    bool next = false;            ///< it says `next row`
    bool last = false;            ///< it says `last row`: of those that are repeated
};

/// One sentence that stands for rows.
struct Directive {
    /// progress: as the last two shaped rows set out, until there are `count` stitches.
    enum class Kind : std::uint8_t { even, shape, progress, evenly };
    Kind kind = Kind::even;
    std::size_t end = 0;     ///< the first token behind it
    std::size_t yarnAt = 0;  ///< where it names a yarn that is taken up; 0: nowhere
    // even
    bool ground = false;  ///< a stitch is named, else the rows before go on
    NamedGround named;
    bool straight = false;  ///< `even`, `straight`, `in patt`
    int rows = 0;
    bool length = false;            ///< so far as a length in cm or inches says
    std::optional<bool> purlFirst;  ///< `beginning with a purl row`
    int count = 0;                  ///< stitches there are at its end, if printed
    std::optional<Facing> lastSide;
    Evenly evenly;
    // shape
    std::vector<Clock> clocks;
    bool edgeKnown = false;  ///< and on which side that is, by the stitches that were left
    bool anyEdge = false;    ///< an edge is named by what it will be (`neck edge`)
    bool saidTwice = false;  ///< `next and every foll 4th row 5 times`
};

}  // namespace loopmend
