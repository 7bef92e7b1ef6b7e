// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <cstdint>
#include <string_view>
#include <vector>

#include "fabric/knitter.h"
#include "pattern/op.h"

/// A mistake: what the hands did instead of what they meant, or what the cloth suffered later.
///
/// A fault holds hands' moves and words, nothing else. What it does to the count, how it looks and when it
/// shows are found by working it (facts.h), never written down.
namespace loopmend {

enum class Family : std::uint8_t {
    drops,     ///< stitches that come off the needle or out of the cloth
    strands,   ///< strands added, missing or caught
    stitches,  ///< the wrong stitch, or the right one the wrong way round
    shaping,   ///< decreases and increases
    cables,
    rows,     ///< other rows than those that were meant, or turned in the wrong place
    repeats,  ///< the right stitches in the wrong place: columns, repeats, crossings
    starts,   ///< another cast-on, another join
    edges,    ///< where a piece begins, ends, turns or is picked up
    colours,  ///< several yarns
    harm,     ///< what the cloth suffers as a whole, or in wear
    lengths,  ///< the right stitches with too much yarn or too little
};
std::string_view name(Family family);

/// Where hands are: a step of a row that is about to be worked.
struct Spot {
    const WorkedRow& row;
    int step;
    const Knitter& knitter;
    int stitch = 0;  ///< of the stitches that the step works, the one meant, from 0

    const Step& here() const { return row.steps[static_cast<std::size_t>(step)]; }
    /// The step after it; none at the end of the row.
    const Step* next() const {
        const auto i = static_cast<std::size_t>(step) + 1;
        return i < row.steps.size() ? &row.steps[i] : nullptr;
    }
};

/// What comes out of the cloth after some rows.
struct Fall {
    /// The lowest row that comes out, in the order worked, as far as its loops are there (none: bound off, or
    /// never worked).
    const std::vector<LoopId>& row;
    int stitch;          ///< from 1
    EntryId firstOfRow;  ///< nothing older than this comes out
    bool round;

    LoopId lowest() const { return row[static_cast<std::size_t>(stitch) - 1]; }
};

/// Where words are taken otherwise than they were meant.
struct Misreading {
    const Script& script;
    int row;              ///< from 1
    int step;             ///< of that row
    int by;               ///< by how much (FaultPlace::rows); 0: as is usual
    int until = 1 << 30;  ///< rows above this one are left out of account

    const WorkedRow& rowAt(int r) const { return script.rows[static_cast<std::size_t>(r) - 1]; }
    const WorkedRow& here() const { return rowAt(row); }
    int rows() const { return std::min(static_cast<int>(script.rows.size()), until); }
};

/// How a piece is begun.
struct PieceStart {
    int castOn = 0;
    std::int8_t twist = 0;  ///< in the round: half turns of the band at the join
};

struct Fault {
    std::string_view id = {};
    std::string_view name = {};    ///< in a knitter's words
    std::string_view ukName = {};  ///< empty: the same
    Family family = Family::drops;

    /// Worked in. standsOn: the mistake can happen to this step. work: the hands' moves; how many of the
    /// row's steps are done with by them (0: the step itself is still to be worked).
    bool (*standsOn)(const Spot&) = nullptr;
    Result<int> (*work)(Knitter&, const Spot&) = nullptr;
    bool ownYarn = false;    ///< worked in: the moves take up their yarn themselves (else the row's)
    bool anyStitch = false;  ///< worked in: at any stitch of a step that works several (else at its first)
    /// Worked in: again in every later row that has the same step, and the same one after it, in that column.
    bool everyRow = false;

    /// Suffered later. fallsAt: this is the kind of cloth it is called after. suffer: the moves.
    bool (*fallsAt)(const Fabric&, const Fall&) = nullptr;
    Result<void> (*suffer)(Knitter&, const Fall&) = nullptr;
    bool runs =
        false;  ///< suffered: it goes down row by row (else it is one stitch of the row on the needle)
    bool inCloth = false;  ///< suffered: it befalls any stitch, when all was knitted

    /// Misread: from a row on her hands follow other words. canRead: it can happen there. rowsFor: what they
    /// work in place of a meant row of the place's number or later: the row itself, another one, several, or
    /// none. castsOn: what she begins with instead.
    bool (*canRead)(const Misreading&) = nullptr;
    std::vector<WorkedRow> (*rowsFor)(const Misreading&, int row) = nullptr;
    PieceStart (*castsOn)(const Misreading&) = nullptr;
    bool wholeRow = false;  ///< misread: no stitch of the row in particular; it is named by the first one

    std::string_view cause = {};
    std::string_view prevention = {};
    std::string_view sign = {};       ///< in one sentence: what tells it from what it is taken for
    std::string_view onPurpose = {};  ///< what to do at that stitch to make it: `wrap the yarn twice`
    /// Practice draws it. Not yet: what changes no knot, or asks to be knitted on with several yarns. A
    /// lesson may use it all the same.
    bool inLessons = true;

    bool suffered() const { return suffer != nullptr; }
    bool misread() const { return canRead != nullptr; }
};

}  // namespace loopmend
