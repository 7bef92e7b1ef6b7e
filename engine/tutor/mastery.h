// SPDX-License-Identifier: MIT
#pragma once

#include "tutor/skills.h"

/// How sure it is that a skill is known, answer by answer: Bayesian knowledge tracing (A. T. Corbett, J. R.
/// Anderson, Knowledge tracing: modeling the acquisition of procedural knowledge, User Modeling and
/// User-Adapted Interaction 4 (1995) 253-278). All numbers are chances from 0 to 1.
namespace loopmend {

struct KnowingRates {
    double known = 0.3;    ///< before the first answer
    double learned = 0.2;  ///< that one step teaches it
    double slip = 0.1;     ///< a wrong answer though it is known
    double guess = 0.25;   ///< a right one though it is not
};

/// What is taken for every skill of a kind until learners have told better. A right answer can be guessed
/// among four; a mending cannot well be guessed, but hands slip more.
KnowingRates ratesOf(SkillKind kind);

/// That the next answer is right.
double chanceRight(double known, const KnowingRates& rates);
/// That it is known after an answer, and after what the step itself taught.
double knownAfter(double known, bool right, const KnowingRates& rates);

/// From here on a skill counts as known.
inline constexpr double kMastered = 0.95;

}  // namespace loopmend
