// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "fault/place.h"
#include "pattern/op.h"
#include "pattern/terms.h"
#include "tutor/lesson.h"

/// How to knit a lesson's piece in wool, its mistake made on purpose, and a twin without.
namespace loopmend {

struct Sampler {
    std::vector<std::string> needs;    ///< yarn, needles, other things
    std::vector<std::string> rows;     ///< the cast-on, the rows in the words of patterns, where to stop
    std::vector<std::string> mistake;  ///< where and how; empty: nothing is wrong with it
    std::vector<std::string> abbreviations;  ///< `k2tog: knit two together`, of those used
};

/// The swatch must be one that can be knitted.
Sampler samplerOf(const LessonSwatch& swatch, Terms terms, bool mirrored);

/// Rows of operations as a pattern would print them: like neighbors counted together, what repeats in a row
/// between a star and `rep from *`, what repeats from row to row named. They parse to the same rows.
std::vector<std::string> patternWords(const Script& script, Terms terms);

/// What the hands do at that stitch, for a mistake made on purpose: `purl it instead of knitting it`.
/// `meant`: the step that is worked there when nothing goes wrong. Empty: no such mistake.
std::string onPurpose(std::string_view fault, const Step& meant);

/// `medium yarn, about 250 m to 100 g (worsted | aran)`
std::string yarnWords(const LessonYarn& yarn, Terms terms);
/// `4.5 mm needles (US 7)`
std::string needleWords(double mm, bool round, Terms terms);

}  // namespace loopmend
