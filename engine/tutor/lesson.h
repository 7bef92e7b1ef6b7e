// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <tl/expected.hpp>

#include "fault/grounds.h"
#include "fault/place.h"
#include "pattern/terms.h"
#include "pattern/working.h"
#include "tutor/asking.h"

namespace loopmend {

/// One page of a lesson: what it asks for. Steps may be left out and may come in another order.
enum class StepKind : std::uint8_t {
    makeSafe,      ///< nothing can run any more; left out by itself where nothing can
    look,          ///< both faces, a tug
    ask,           ///< one question about the cloth (tutor/asking.h)
    find,          ///< point at the root, count how far down it is
    whatHappened,  ///< two signs, then the cause
    choose,        ///< which way to mend it, or to leave it
    putRight,      ///< by hand
    check,         ///< tug, both faces, count, rows knitted on
    nextTime,      ///< one habit
    inWool         ///< the closing card, never scored
};
/// `make-safe`, `look`, `ask`, `find` ...: the word of files.
std::string_view name(StepKind kind);
std::optional<StepKind> stepKindFrom(std::string_view word);

/// How much of the mending is shown. A worked example fades from its last move backward.
struct Guidance {
    /// Moves at the end that are hers; the ones before are shown, each before she does it. -1: all are hers;
    /// 0: every one is shown.
    int lastAreHers = -1;
};

struct StepPlan {
    StepKind kind = StepKind::look;
    std::string words;               ///< the author's own, in place of the computed sentences; usually empty
    std::vector<std::string> hints;  ///< the author's own, from the first rung up; empty or missing: computed
    QuestionWanted question;         ///< of `ask`
    /// What it exercises, by id (tutor/skills.h); empty: what its kind and question exercise by themselves.
    std::string skill;
};

/// What it is knitted with, for the picture.
struct LessonYarn {
    double tex = 400;         ///< yarn, grams a kilometre
    double needleMm = 6;      ///< needle, mm
    std::uint64_t seed = 1;   ///< small unevenness, and the order of answers
    std::uint32_t color = 0;  ///< which of the picture's wools
};

/// One piece of knitting of a lesson, and what is done with it.
struct LessonSwatch {
    std::string pattern;  ///< instructions; empty: `ground`
    StockGround ground = StockGround::stockinette;
    int stitches = 16;
    int rows = 12;          ///< rows knitted before the lesson begins
    int stitchesOfRow = 0;  ///< and so many stitches of the next row: put down in the middle of it
    bool round = false;
    Setup setup;  ///< cast-on, habit, lengths; who learns decides whether it is mirrored
    LessonYarn yarn;

    std::string member;  ///< whose it is, of the circle
    std::string thing;   ///< `scarf end`

    std::vector<FaultPlace> faults;  ///< none: nothing is wrong with it
    After after = After::byReading;

    std::vector<StepPlan> steps;  ///< none: the usual ones
    /// Ways of mending that count as well chosen, by the words of plans (repair/plan.h): `column`, `tink`,
    /// `rip`, which are always looked for, and further ones only if they stand here; empty: any that is
    /// proved.
    std::vector<std::string> repairs;
    Guidance guidance;
    int rowsOn = 2;  ///< rows knitted on in `check`
};

/// Intentions only: what is knitted, what went wrong, which steps. Every answer, wrong answer, hint, move and
/// sentence is found by asking the engine.
struct Lesson {
    std::string id;  ///< lower-case words with hyphens: `a-stitch-that-ran`
    std::string title;
    std::string about;  ///< one sentence for the shelf
    /// What it teaches and what it takes for granted, ids of tutor/skills.h. None taught: a taster.
    std::vector<std::string> skills;
    std::vector<std::string> needs;
    std::vector<LessonSwatch> swatches;  ///< at least one; taken one after another

    const LessonSwatch& first() const { return swatches.front(); }
};

/// All steps in the usual order.
std::vector<StepPlan> usualSteps();

/// Whether the lesson can be knitted at all; else one sentence.
tl::expected<void, std::string> knits(const Lesson& lesson);

}  // namespace loopmend
