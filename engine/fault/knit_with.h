// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include <tl/expected.hpp>

#include "fault/place.h"
#include "fault/side_by_side.h"
#include "pattern/working.h"

namespace loopmend {

/// A knitting with mistakes in it, and the same rows as they were meant.
struct FaultyKnitting {
    Knitting meant;
    Knitting actual;
    int rows = 0;       ///< meant rows worked on both
    int handsRows = 0;  ///< rows that the hands worked for them
    std::vector<SideBySide::Counts> counts;
    std::vector<Misfit> misfits;  ///< rows that did not come out, and that hands fudged
};

/// Works a script with mistakes put in as they would happen. Several faults: in the order of their places.
/// Noticed at row end: she stops at the end of the last row with a mistake in it.
tl::expected<FaultyKnitting, FaultProblem> knitWith(const Script& script, const Setup& setup,
                                                    const std::vector<FaultPlace>& faults, After after);

/// Looks a place up: a known fault, a row and a stitch that the script has. Whether the mistake can happen
/// there shows when it is worked.
tl::expected<PlacedFault, FaultProblem> place(const Script& script, const FaultPlace& where);
/// The row after which a fault is in the knitting.
int rowOf(const Script& script, const PlacedFault& fault);
/// The same for a place; its own row if no fault can be placed there.
int rowOf(const Script& script, const FaultPlace& where);
/// The same mistake in later rows, if it comes again there (Fault::everyRow): where the row faces her as that
/// one did and has the same words at the stitch.
std::vector<PlacedFault> alsoLater(const Script& script, const PlacedFault& first);
/// Where what is worked for misread words first differs from what was meant: a row more or fewer need not
/// show at once.
inline constexpr int kEveryRow = 1 << 30;
struct Differs {
    int after = 0;  ///< the meant row in place of which it was worked
    int inRow = 0;  ///< the row of the cloth; one more than the script has, if only that is too many
    int step = 0;   ///< of that row, the first one that is another
};
/// Not looked for above row `last` of the cloth: then it is told as one row higher.
Differs firstDifference(const Script& script, const PlacedFault& fault, int last = kEveryRow);

}  // namespace loopmend
