// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "pattern/samplers.h"
#include "pattern/terms.h"
#include "picture/handout.h"
#include "picture/telling.h"
#include "reading/stitch_facts.h"

/// A sheet of operations: each on a small piece of its own, from both sides, as a drawing and as wool, with
/// its square of a chart and what was found out about it.
namespace loopmend {

/// One operation as it lies, and what it is easily taken for.
struct ShownStitch {
    Sampler sampler;
    StitchFacts facts;
    std::string chartWords;  ///< what its square of a chart means; empty: it has none
    /// Of the other samplers that change the count as much, the one that looks most like it at the size of a
    /// lesson and is another knot.
    std::string takenFor;  ///< its id; empty: none is like it
    std::string takenForName;
    Sampler like;          ///< that one's piece
    WayOfLooking bestWay;  ///< the way of looking that tells the two apart
};

/// Those of `wanted` (ids; none: all) among `samplers`, each compared with all of them as they are drawn.
/// What cannot be knitted or is not found is left out.
std::vector<ShownStitch> shownStitches(const std::vector<Sampler>& samplers,
                                       const std::vector<std::string>& wanted, Terms terms = Terms::us);

/// The way of looking in a sentence: `Come nearer, and let the light slant.`
std::string words(const WayOfLooking& way);

/// The sheet: a step for each of them.
Handout stitchSheet(const std::vector<ShownStitch>& shown, Terms terms = Terms::us);

/// A piece of 40 rows on a picture 800 pixels high: what a lesson shows.
double lessonPixelsPerMm(const Gauge& gauge);

}  // namespace loopmend
