// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>

#include "fault/fault.h"
#include "fault/grounds.h"
#include "fault/knit_with.h"
#include "pattern/terms.h"

/// What a mistake does and how it looks, found by making it on a small piece.
namespace loopmend {

/// A small piece with one mistake in it, and the same as it was meant.
struct FaultExample {
    StockGround ground = StockGround::stockinette;
    Script script;
    FaultPlace place;
    FaultyKnitting reading;  ///< every later stitch kept above its own column
    FaultyKnitting count;    ///< the rows worked on as they are written
};
/// On the first stock ground that has a place for it, away from the edges if it can be. Every fault of the
/// catalogue has one.
std::optional<FaultExample> exampleOf(const Fault& fault);

struct FaultFacts {
    int countAtRow = 0;       ///< stitches too many (below 0: too few) at the end of its row
    int countLater = 0;       ///< and after the last row of the example
    std::string countEffect;  ///< in words: `one too few from its row on`
    std::string looksRs;      ///< what is seen there on the right side, and what should be
    std::string looksWs;
    bool canRun = false;    ///< a stitch hangs free
    int noticedAfter = 0;   ///< rows worked after it until a knitter could notice; -1: never while she looks
    int noticedRow = 0;     ///< the row of the example in which that is
    std::string cue;        ///< by what (see reading/notice.h)
    std::string noticedBy;  ///< in words
};
/// Computed from the example, nothing known beforehand.
FaultFacts factsOf(const FaultExample& example, Terms terms = Terms::us);

}  // namespace loopmend
