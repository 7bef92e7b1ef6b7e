// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "tutor/signs.h"

namespace loopmend {

/// What is remembered of the cloth before a move, to say what the move did.
struct Before {
    std::vector<LoopId> open;
    std::vector<LoopId> wrong;
    std::size_t passesWrong = 0;
    std::size_t lacking = 0;  ///< meant stitches that did not stand
    double seconds = 0;       ///< of the best plan; 0: none
    std::size_t moves = 0;
    bool asMeant = false;
};
Before beforeMove(const Standing& standing);

/// What a move did, in the learner's words: nearer, or what is now not as meant and why that matters.
/// made: the loop it made. counts: how much is left may be told.
std::string didWords(const Scene& after, const Before& before, const Move& move, LoopId made,
                     const Fabric& meant, bool counts);
/// The same for a move of the plan.
std::string followedWords(const Scene& after, const Move& move, bool counts);
/// The same for stitches worked on, from the entry `firstNew` on: held against the row that they belong to.
std::string workedWords(const Scene& after, EntryId firstNew, const Fabric& meant);
/// Whether the move brought the cloth nearer to what was meant, or left it as near.
bool isNearer(const Standing& after, const Before& before);

}  // namespace loopmend
