// SPDX-License-Identifier: MIT
#include "tutor/state.h"

#include <algorithm>

namespace loopmend {

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
    for (const StepPlan& step : wanted.steps.empty() ? usualSteps() : wanted.steps) {
        if (step.kind == StepKind::makeSafe && startStanding.open.empty()) continue;
        steps.push_back(step);
    }
    if (steps.empty()) steps.push_back(StepPlan{});
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
    return standing().best();
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

void SessionState::clothChanged() {
    standing_.reset();
    places_.reset();
    for (std::optional<Reading>& reading : readings_) reading.reset();
}

}  // namespace loopmend
