// SPDX-License-Identifier: MIT
#pragma once

#include "pattern/pattern.h"

namespace loopmend {

/// Says in stitches what a text says by its markers and turns: `k to 2 sts before marker` becomes `k8`, or `k
/// to last 6 sts` where the stitches cast on are not known. Markers stand where `pm` put them, go along with
/// their stitches from row to row, and are met by `sm`, `to marker` and `remove marker` in the order of the
/// needle. Places where the work was turned are marks too, till they are worked over: `to gap` goes to the
/// next one, `to wrapped st` to the next stitch that was wrapped at one. Rows repeated `until all sts have
/// been worked` are worked till no such place is left. Where rows that are repeated meet marks after other
/// numbers of stitches each time, the rows are written out one by one. A mark that is not there, or that
/// cannot be reached, is a problem of the row that asks for it. Texts that ask for none stay as they are.
void followMarks(Pattern& pattern);

/// How many wrapped stitches lie ahead when the row behind those of a pattern begins; 0 where its rows do not
/// come out so far.
int wrapsAhead(const Pattern& pattern);

/// Whether a pattern says anything by its markers or turns.
bool asksForMarks(const Pattern& pattern);

}  // namespace loopmend
