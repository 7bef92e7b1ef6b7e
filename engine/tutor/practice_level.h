// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "fault/place.h"
#include "pattern/op.h"
#include "pattern/working.h"

/// How hard an exercise is: what solving it needs. Found by looking at the cloth the way a knitter would,
/// never by which mistake it is.
namespace loopmend {

/// What is asked: the rows as they were knitted, and the one mistake in them.
struct LevelAsked {
    const Script& script;  ///< all of it was knitted, the row with the mistake and those after it included
    const Setup& setup;
    FaultPlace place;
    After after = After::byReading;
    std::vector<std::string> repairs;  ///< ways of mending that count; empty: any
};

struct ExerciseLevel {
    /// The least looks that tell the mistake and its place from every other one near it:
    /// 1. a glance at the side that faces her: what catches the eye there, without knowing the pattern;
    /// 2. turning it over, and counting the stitches on the needle;
    /// 3. the upper three rows read on the side that faces her, against the pattern, and every row's count;
    /// 4. all rows read on that side, against the pattern: what is deep down, or right in its count and not
    /// in
    ///    its look;
    /// 5. all rows on both sides, a tug, and the yarn followed.
    /// 0: nothing is wrong, or nothing tells.
    int looks = 0;
    /// Hand moves of the cheapest proved way of mending; 0: there is none.
    int moves = 0;
    /// What hands need, 1 to 5 (see kMostMoves); 0: there is none, or more than that.
    int hands = 0;
};

/// The most moves of a mending for each level, 1 to 5.
inline constexpr int kMostMoves[5] = {7, 12, 20, 34, 60};

/// The looks alone. What needs more than looks of level `most` may be told as any level above it.
int looksLevelOf(const LevelAsked& asked, int most = 5);
/// The moves and hands alone.
ExerciseLevel handsLevelOf(const LevelAsked& asked);
/// Both.
ExerciseLevel levelOf(const LevelAsked& asked);

}  // namespace loopmend
