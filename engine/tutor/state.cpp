// SPDX-License-Identifier: MIT
#include "tutor/state.h"

#include <algorithm>

#include "tutor/steps.h"

namespace loopmend {

std::vector<StepPlan> stepsThatMakeSense(const LessonSwatch& swatch, bool canRun, bool asMeant) {
    std::vector<StepPlan> steps;
    for (const StepPlan& step : swatch.steps.empty() ? usualSteps() : swatch.steps) {
        if (step.kind == StepKind::makeSafe && !canRun) continue;
        if (step.kind == StepKind::putRight && asMeant) continue;
        steps.push_back(step);
    }
    if (steps.empty()) steps.push_back(StepPlan{});
    return steps;
}

SessionState::SessionState(const Lesson& what, std::size_t swatchIndex, Terms words, bool leftHanded)
    : lesson(what),
      wanted(lesson.swatches.at(swatchIndex)),
      terms(words),
      mirrored(leftHanded),
      swatch(wanted, words, leftHanded),
      work(swatch.takeActual()),
      start(work.fabric()),
      startStanding(standingOf(swatch, work, false)),
      startPlaces(start),
      startReadings{readFrom(start, Side::right, hands()), readFrom(start, Side::wrong, hands())} {
    steps = stepsThatMakeSense(wanted, !startStanding.open.empty(), startStanding.asMeant);
    memory.resize(steps.size());
    mended = startStanding.asMeant;
}

const Standing& SessionState::standing() const {
    if (!standing_) {
        const bool onward = mended && places().lastRow() >= swatch.rows();
        standing_ = standingOf(swatch, work, onward, !inHand);
        if (inHand && !standing_->asMeant) standing_->plans = {*inHand};
    }
    return *standing_;
}

const Plan* SessionState::plan() const {
    for (const Plan& plan : standing().plans) {
        if (nameOf(plan.family) == way) return &plan;
    }
    return wellChosenPlan(wanted, standing());
}

const StitchPlaces& SessionState::places() const {
    if (!places_) places_.emplace(work.fabric());
    return *places_;
}

const Reading& SessionState::reading(Side side) const {
    std::optional<Reading>& reading = readings_[static_cast<std::size_t>(side)];
    if (!reading) reading = readFrom(work.fabric(), side, hands());
    return *reading;
}

bool SessionState::sawBothFaces() const {
    return std::any_of(memory.begin(), memory.end(), [](const StepMemory& m) { return m.turned; });
}

void SessionState::clothChanged() {
    question.reset();
    standing_.reset();
    places_.reset();
    for (std::optional<Reading>& reading : readings_) reading.reset();
}

}  // namespace loopmend
