// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "repair/builder.h"
#include "repair/work.h"
#include "tutor/page.h"
#include "tutor/words.h"

/// One hand move told and lit for people who look on.
namespace loopmend {

/// Two or three words: `Hook the rung`.
std::string moveHeading(const Work& work, const Move& move);

/// What hands do, in at most twenty words, for the side that is seen: which way the yarn goes, what lies
/// before or behind, what it shows as. `places`: of the cloth as it lies before the move.
std::string groupWords(const Work& work, const AsSeen& view, const StitchPlaces& places, const Move& move);

/// What the move takes (next), and what it is drawn through (through).
std::vector<PageMark> marksOf(const Work& work, const Move& move);

}  // namespace loopmend
