// SPDX-License-Identifier: MIT
#pragma once

#include <string_view>
#include <vector>

#include "tutor/lesson.h"

/// How each skill is exercised.
namespace loopmend {

/// What an exercise of a skill needs of its mistake; all of it is found by working the cloth.
enum class MistakeMust : unsigned char {
    anything,
    moveTheCount,  ///< some row's count is not as meant
    beOneOut,      ///< the stitches on the needle are one too many or one too few, and nothing hangs free
    keepTheCount,  ///< every row's count is as meant, and nothing hangs free
    showLater,     ///< nobody could notice it in its own row
    showBehind,    ///< the side that faces her catches no eye, the other does
};

/// A question, and where dice may put it.
struct PracticeQuestion {
    QuestionKind kind = QuestionKind::name;
    std::string_view of;
    enum class Where : unsigned char {
        engine,  ///< left to the engine: there is one such question of a cloth
        anyRow,
        onNeedle  ///< a stitch of the last row
    };
    Where where = Where::engine;
};

struct SkillExercise {
    std::string_view skill;
    std::vector<std::string_view> faults;  ///< ids to draw from; empty: the whole catalogue
    MistakeMust must = MistakeMust::anything;
    std::vector<StepKind> steps;              ///< the pages, in order
    std::vector<StepKind> scored;             ///< of them, those that count for this skill
    std::vector<PracticeQuestion> questions;  ///< seeing: what is asked; no mistake is needed
    std::vector<std::string_view> repairs;    ///< ways of mending that count; empty: any
    bool inLastRows = false;                  ///< the mistake stands in one of the last two rows
    bool atEdge = false;
    /// Levels at which exercises come up without long searching (see levelsOf); measured.
    unsigned levels = 0b111110;

    bool asks() const { return !questions.empty(); }
    bool mends() const;
};

/// None: the skill is not exercised.
const SkillExercise* exerciseFor(std::string_view skill);

}  // namespace loopmend
