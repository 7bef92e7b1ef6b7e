// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>

#include "pattern/terms.h"
#include "repair/work.h"

/// Hand moves in a learner's words, for the side that she sees. No word of the model: a loop is a stitch.
namespace loopmend {

/// What doing this move means, in one sentence with its full stop: `Draw the lowest rung toward you through
/// this stitch: a knit on this side.` The cloth is as it lies before the move. `seen`: the side that she
/// looks at (none: the one that faces her knitting).
std::string wordsOf(const Work& work, const Move& move, Terms terms = Terms::us,
                    std::optional<Side> seen = std::nullopt);

/// Why hands cannot do it, in one sentence with its full stop, and if there is something to do first, what.
std::string refusalOf(const Work& work, const Move& move, const Refusal& refusal, Terms terms = Terms::us);

/// The move in three or four words, without its place: `Thread the row`.
std::string briefly(const Move& move);

/// What to mind before the move, where hands or work can come to harm; empty: nothing in particular.
std::string cautionOf(const Work& work, const Move& move);

}  // namespace loopmend
