// SPDX-License-Identifier: MIT
#pragma once

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
};
std::string_view name(Family family);

/// Where hands are: a step of a row that is about to be worked.
struct Spot {
    const WorkedRow& row;
    int step;
    const Knitter& knitter;

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

struct Fault {
    std::string_view id = {};
    std::string_view name = {};    ///< in a knitter's words
    std::string_view ukName = {};  ///< empty: the same
    Family family = Family::drops;

    /// Worked in. standsOn: the mistake can happen to this step. work: the hands' moves; how many of the
    /// row's steps are done with by them (0: the step itself is still to be worked).
    bool (*standsOn)(const Spot&) = nullptr;
    Result<int> (*work)(Knitter&, const Spot&) = nullptr;

    /// Suffered later. fallsAt: this is the kind of cloth it is called after. suffer: the moves.
    bool (*fallsAt)(const Fabric&, const Fall&) = nullptr;
    Result<void> (*suffer)(Knitter&, const Fall&) = nullptr;
    bool runs =
        false;  ///< suffered: it goes down row by row (else it is one stitch of the row on the needle)

    std::string_view cause = {};
    std::string_view prevention = {};
    std::string_view confusedWith = {};  ///< ids, divided by blanks

    bool suffered() const { return suffer != nullptr; }
};

}  // namespace loopmend
