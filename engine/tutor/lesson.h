// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include <tl/expected.hpp>

#include "fault/grounds.h"
#include "fault/place.h"
#include "pattern/terms.h"
#include "pattern/working.h"

namespace loopmend {

/// One page of a lesson: what it asks for. Steps may be left out and may come in another order.
enum class StepKind : std::uint8_t {
    makeSafe,      ///< nothing can run any more; left out by itself where nothing can
    look,          ///< both faces, a tug
    find,          ///< point at the root, count how far down it is
    whatHappened,  ///< two signs, then the cause
    choose,        ///< which way to mend it, or to leave it
    putRight,      ///< by hand
    check,         ///< tug, both faces, count, rows knitted on
    nextTime,      ///< one habit
    inWool         ///< the closing card, never scored
};
/// `make-safe`, `look`, `find` ...: the word of files.
std::string_view name(StepKind kind);

/// How much of the mending is shown. A worked example fades from its last move backward.
struct Guidance {
    /// Moves at the end that are hers; the ones before are shown, each before she does it. -1: all are hers;
    /// 0: every one is shown.
    int lastAreHers = -1;
};

struct StepPlan {
    StepKind kind = StepKind::look;
    std::string words;  ///< the author's own, in place of the computed sentences; usually empty
};

/// What it is knitted with, for the picture.
struct LessonYarn {
    double tex = 400;         ///< yarn, grams a kilometre
    double needleMm = 6;      ///< needle, mm
    std::uint64_t seed = 1;   ///< small unevenness, and the order of answers
    std::uint32_t color = 0;  ///< which of the picture's wools
};

/// Intentions only: what is knitted, what went wrong, which steps. Every answer, wrong answer, hint, move and
/// sentence is found by asking the engine.
struct Lesson {
    std::string id;
    std::string title;

    std::string pattern;  ///< instructions; empty: `ground`
    StockGround ground = StockGround::stockinette;
    int stitches = 16;
    int rows = 12;  ///< rows knitted before the lesson begins
    bool round = false;
    Setup setup;  ///< cast-on, habit, lengths; who learns decides whether it is mirrored
    LessonYarn yarn;

    std::string member;  ///< whose it is, of the circle
    std::string thing;   ///< `scarf end`

    std::vector<FaultPlace> faults;  ///< none: a faultless twin
    After after = After::byReading;

    std::vector<StepPlan> steps;
    Guidance guidance;
    int rowsOn = 2;  ///< rows knitted on in `check`
};

/// All steps in the usual order.
std::vector<StepPlan> usualSteps();

/// `a-stitch-that-ran`: the end of Oswin's scarf, one stitch run down six rows, every rung shown first.
Lesson firstLesson();

/// All lessons that there are so far, in the order of the course, the first one first.
std::vector<Lesson> lessons();

/// Whether the lesson can be knitted at all; else one sentence.
tl::expected<void, std::string> knits(const Lesson& lesson);

}  // namespace loopmend
