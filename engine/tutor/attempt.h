// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <string>

namespace loopmend {

/// What a learner made of one step of a lesson or exercise, told once, when the step is done with. No names:
/// nothing in it says who she is.
struct Attempt {
    std::string lesson;   ///< id of the lesson or exercise
    std::string run;      ///< which time she worked at it: given by the program, the same after a restart
    int swatch = 0;       ///< from 0
    int step = 0;         ///< from 0, in that swatch
    std::string what;     ///< `find`, `ask count`: the step's kind, and the question's
    std::string skill;    ///< id of tutor/skills.h; empty: exercises none
    bool right = false;   ///< at the first try and without a hint
    int tries = 1;        ///< answers given, or places pointed at, until it was right
    int hints = 0;        ///< rungs climbed
    int strayMoves = 0;   ///< hand moves that led away
    std::string truth;    ///< the right answer's key, or the fault's id
    std::string chosen;   ///< what she took first
    std::int64_t at = 0;  ///< when, in seconds since 1970 (UTC); given by the program
    std::int32_t seconds = 0;  ///< how long the page was open; given by the program
    /// A mending that was all her own: what the moves she did would take at the usual pace (repair/pace.h).
    /// 0: not reckoned.
    std::int32_t reckonedSeconds = 0;
};

}  // namespace loopmend
