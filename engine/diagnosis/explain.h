// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "fabric/fabric.h"
#include "fault/place.h"
#include "pattern/terms.h"
#include "pattern/working.h"

/// Two fabrics, what was meant and what is there: which mistake turns the one into the other?
///
/// Both are walked along the yarns. Where they part, every fault of the catalogue that can stand near (or
/// show there: a twist shows a row below) is put into the meant knitting, with each way of going on after it,
/// and knitted on beside the actual cloth until it differs. What is left is compared whole: an explanation is
/// given only if it makes the very knot that is there. If no single mistake does, those that explain the next
/// disagreement are taken as known and what is left is looked at again, up to three in one piece (several.h).
/// What cannot be explained so is said to be unknown.
namespace loopmend {

/// A mistake that makes the cloth as it is.
struct FoundFault {
    std::string id;
    int row = 0;       ///< the row in which the hands did it (see FaultPlace)
    int rowTo = 0;     ///< the last of a span of rows in any of which it gives the same fabric
    int stitch = 0;    ///< 1 is the first stitch worked in that row
    int stitchTo = 0;  ///< the last of a span of stitches at any of which it gives the same fabric
    int rows = 0;      ///< a run: how many rows came out, if she knitted on after it; 0: down from the needle
    int seenRow = 0;   ///< the row in which it is seen: of a twist the one below
    After after = After::byReading;
    bool afterOpen = false;  ///< other ways of going on give the same fabric
};

struct Explanation {
    std::vector<FoundFault> faults;  ///< several: by row and stitch
    double probability = 0;
    /// The lengths of the yarn agree too (the second line of the text), so that even a tug would not tell.
    bool yarnAgrees = false;
    std::string words;  ///< for a learner: what, where, and the sign that settles it
    std::vector<std::string>
        sameFabricAs;  ///< other faults that make this very knot, each proved by its text
};

/// A place no known mistake explains.
struct UnknownPlace {
    int row = 0;
    int stitch = 0;  ///< 0: the row as a whole
};

struct Explanations {
    bool nothingWrong = false;
    int rows = 0;  ///< rows of the meant knitting that were compared: as many as the actual one has
    std::vector<Explanation> explanations;  ///< the likeliest first; their probabilities add up to 1
    std::vector<UnknownPlace> unknown;
    std::string words;  ///< one sentence for all of it
};

/// The meant fabric is read back into rows of operations and worked again with each mistake.
Explanations explain(const Fabric& meant, const Fabric& actual, Terms terms = Terms::us);

/// The same where the rows are known.
Explanations explain(const Script& meant, const Setup& setup, const Fabric& actual, Terms terms = Terms::us);

}  // namespace loopmend
