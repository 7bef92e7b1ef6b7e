// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>

#include "fabric/knitter.h"
#include "pattern/plain_words.h"
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

/// `the fifth from the right as it faces you`, counted from the nearer edge; empty: it has no place.
std::string acrossWords(const AsSeen& view, const StitchPlaces& places, LoopId loop);
/// `six rows below the needle`; `on the needle`; `at the foot of the ladder`; `at the cast-on edge`.
std::string downWords(const AsSeen& view, const StitchPlaces& places, LoopId loop);
/// Both.
std::string placeWords(const AsSeen& view, const StitchPlaces& places, LoopId loop);
/// What rows are counted down from: `needle`, or `bound-off edge` where nothing is on the needle.
std::string_view topWords(const Fabric& fabric);
/// How many rows below the newest one; 0: of the newest.
int rowsDown(const StitchPlaces& places, LoopId loop);

/// What to do, in one or two sentences.
std::string moveWords(const AsSeen& view, const StitchPlaces& places, const Move& move);

}  // namespace loopmend
