// SPDX-License-Identifier: MIT
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "tutor/attempt.h"
#include "tutor/state.h"

namespace loopmend {

/// A whole lesson in hand: one state for each swatch that was reached.
struct SessionWhole {
    SessionWhole(const Lesson& what, Terms words, bool leftHanded);

    Lesson lesson;
    Terms terms;
    bool mirrored;
    std::vector<std::unique_ptr<SessionState>> swatches;  ///< as far as she came
    std::vector<int> stepsOf;  ///< pages of each swatch of the lesson, also of those not reached
    std::size_t at = 0;        ///< the swatch that lies there
    std::vector<std::string> log;
    int hintsGiven = 0;
    std::vector<Attempt> attempts;  ///< not yet taken

    SessionState& here() { return *swatches[at]; }
    const SessionState& here() const { return *swatches[at]; }
    /// Pages before the swatch that lies there, and pages of the lesson.
    int stepsBefore() const;
    int stepsInAll() const;
    bool isLastPage() const {
        return at + 1 == lesson.swatches.size() && here().at + 1 == here().steps.size();
    }
    void reach(std::size_t swatch);
};

/// What the page is to be asked: hints given so far that count, and the words of a rung.
int hintsHere(const SessionState& state);
std::string hintWords(const SessionState& state, int rung);
/// Whether the page's task is done.
bool isSatisfied(const SessionState& state);
/// Hints belong to the cloth they were given for: where hands move, each move begins at the first again.
bool hintsFollowCloth(StepKind kind);

inline constexpr int kHintRungs = 4;

/// Lines of the text.
std::string pointLine(const PointTarget& target);
std::string lookLine(LookKind kind, LoopId at);

/// A page is done with: what she made of it is kept, once, if it exercises a skill.
void keepAttempt(SessionWhole& whole);

}  // namespace loopmend
