// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>

#include "fabric/knitter.h"
#include "pattern/terms.h"
#include "repair/builder.h"
#include "repair/moves.h"

/// Sentences for a page: places as the cloth faces her, moves as she sees them. Short, no blame, no codes.
namespace loopmend {

/// How the cloth lies before her.
struct AsSeen {
    const Fabric& fabric;
    Side seen = Side::right;    ///< the side that she looks at
    Side facing = Side::right;  ///< the side that faces her knitting: moves are said for it
    bool mirrored = false;
    Terms terms = Terms::us;
};

/// `three`, up to twelve; then figures.
std::string numberWord(int n);
/// `third`, up to twelfth; then `13th`.
std::string ordinalWord(int n);
/// `one row`, `six rows`.
std::string many(int n, std::string_view one, std::string_view more);
std::string capital(std::string words);
/// A refusal's or note's words as a sentence: capital letter, full stop.
std::string asSentence(std::string words);
/// US spelling into UK where asked.
std::string spelled(std::string words, Terms terms);
int wordCount(std::string_view words);

/// `the fifth from the right as it faces you`, counted from the nearer edge; empty: it has no place.
std::string acrossWords(const AsSeen& view, const StitchPlaces& places, LoopId loop);
/// `six rows below the needle`; `on the needle`; `at the foot of the ladder`; `at the cast-on edge`.
std::string downWords(const AsSeen& view, const StitchPlaces& places, LoopId loop);
/// Both.
std::string placeWords(const AsSeen& view, const StitchPlaces& places, LoopId loop);
/// How many rows below the newest one; 0: of the newest.
int rowsDown(const StitchPlaces& places, LoopId loop);

/// What to do, in one or two sentences.
std::string moveWords(const AsSeen& view, const StitchPlaces& places, const Move& move);

}  // namespace loopmend
