// SPDX-License-Identifier: MIT
#include "tutor/session_state.h"

#include <numeric>

#include "fabric/itinerary.h"
#include "tutor/steps.h"

namespace loopmend {

SessionWhole::SessionWhole(const Lesson& what, Terms words, bool leftHanded)
    : lesson(what), terms(words), mirrored(leftHanded) {
    for (const LessonSwatch& swatch : lesson.swatches) {
        // Pages of swatches that she has not reached are counted too: it takes their cloth, not their story.
        Swatch cloth(swatch, terms, mirrored);
        const Knitting start = cloth.takeActual();
        const bool asMeant =
            cloth.isAsMeant(*start.fabric, knotOf(*start.fabric), cloth.rows(), cloth.steps());
        stepsOf.push_back(
            static_cast<int>(stepsThatMakeSense(swatch, !openLoops(*start.fabric).empty(), asMeant).size()));
    }
    reach(0);
}

int SessionWhole::stepsBefore() const {
    return std::accumulate(stepsOf.begin(), stepsOf.begin() + static_cast<std::ptrdiff_t>(at), 0);
}

int SessionWhole::stepsInAll() const {
    return std::accumulate(stepsOf.begin(), stepsOf.end(), 0);
}

void SessionWhole::reach(std::size_t swatch) {
    while (swatches.size() <= swatch) {
        swatches.push_back(std::make_unique<SessionState>(lesson, swatches.size(), terms, mirrored));
        stepsOf[swatches.size() - 1] = static_cast<int>(swatches.back()->steps.size());
    }
    at = swatch;
}

bool hintsFollowCloth(StepKind kind) {
    return kind == StepKind::putRight || kind == StepKind::check;
}

int hintsHere(const SessionState& s) {
    const StepMemory& m = s.here();
    return hintsFollowCloth(s.kind()) && m.hintsFor != s.work.version() ? 0 : m.hints;
}

std::string hintWords(const SessionState& s, int rung) {
    const StepRules& rules = rulesOf(s.kind());
    const std::vector<std::string>& own = s.steps[s.at].hints;
    const auto i = static_cast<std::size_t>(rung - 1);
    // The author's own words come first; once the page is done with, nothing is left to hint at.
    std::string computed = rules.hint != nullptr ? rules.hint(s, rung) : std::string();
    if (i < own.size() && !own[i].empty() && (rules.hint == nullptr || !computed.empty())) return own[i];
    return computed;
}

bool isSatisfied(const SessionState& s) {
    return rulesOf(s.kind()).satisfied(s);
}

}  // namespace loopmend
