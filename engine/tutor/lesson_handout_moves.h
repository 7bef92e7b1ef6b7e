// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "picture/handout.h"
#include "tutor/demonstration.h"

namespace loopmend {

/// The mending in small drawings, from the move at which the demonstration stands to the last one: each
/// picture is the cloth before its move, with what the move takes lit, and the words of the move. Many like
/// moves are gathered: the first ones, one in the middle, the last. A turn is told with the move before it.
/// The demonstration is walked to its end and back to where it stood. Nothing to do: an empty step.
HandoutStep movesInDrawings(Demonstration& demonstration);

/// Captions in a row that say the same again and again, alone or two by two: which of them are told. Of
/// each run the first two times, the middle and the last; `again`: how often the run goes on in all before
/// this one; 0: told for itself.
struct ToldMove {
    std::size_t index = 0;
    int again = 0;
};
std::vector<ToldMove> gathered(const std::vector<std::string>& captions);

}  // namespace loopmend
