// SPDX-License-Identifier: MIT
#include "tutor/review.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace loopmend {

namespace {

/// The published default weights.
constexpr double kW[21] = {0.212,  1.2931, 2.3065, 8.2956, 6.4133, 0.8334, 3.0194,
                           0.001,  1.8722, 0.1666, 0.796,  1.4835, 0.0614, 0.2629,
                           1.6483, 0.6014, 1.8729, 0.5425, 0.0912, 0.0658, 0.1542};
constexpr double kDecay = -kW[20];
constexpr double kLeastStability = 0.001;
constexpr int kMostDays = 36'500;

/// So that stability is the time after which nine in ten are still known.
double factor() {
    return std::pow(0.9, 1 / kDecay) - 1;
}

double number(Grade grade) {
    return static_cast<double>(grade);
}

/// Not clamped: difficulty drifts towards that of `easy` as it stands in the formula.
double firstDifficulty(Grade grade) {
    return kW[4] - std::exp(kW[5] * (number(grade) - 1)) + 1;
}

double difficultyAfter(double before, Grade grade) {
    const double step = -kW[6] * (number(grade) - 3);
    const double moved = before + (10 - before) / 9 * step;
    return std::clamp(kW[7] * firstDifficulty(Grade::easy) + (1 - kW[7]) * moved, 1.0, 10.0);
}

double stabilitySameDay(double before, Grade grade) {
    double grown = std::exp(kW[17] * (number(grade) - 3 + kW[18])) * std::pow(before, -kW[19]);
    if (grade == Grade::good || grade == Grade::easy) grown = std::max(grown, 1.0);
    return before * grown;
}

double stabilityForgotten(const Memory& m, double known) {
    const double longTerm = kW[11] * std::pow(m.difficulty, -kW[12]) *
                            (std::pow(m.stability + 1, kW[13]) - 1) * std::exp((1 - known) * kW[14]);
    return std::min(longTerm, m.stability / std::exp(kW[17] * kW[18]));
}

double stabilityRecalled(const Memory& m, double known, Grade grade) {
    const double hard = grade == Grade::hard ? kW[15] : 1;
    const double easy = grade == Grade::easy ? kW[16] : 1;
    return m.stability * (1 + std::exp(kW[8]) * (11 - m.difficulty) * std::pow(m.stability, -kW[9]) *
                                  (std::exp((1 - known) * kW[10]) - 1) * hard * easy);
}

/// The wait in seconds while there are short ones; none: on to waits of days.
std::optional<std::int64_t> shortWait(const std::vector<int>& waits, Grade grade, int& step) {
    const int count = static_cast<int>(waits.size());
    const auto wait = [&](int i) { return std::int64_t{waits[static_cast<std::size_t>(i)]}; };
    if (count == 0 || (step >= count && grade != Grade::again)) return std::nullopt;
    switch (grade) {
        case Grade::again: step = 0; return wait(0);
        case Grade::hard:
            if (step > 0) return wait(step);
            return count == 1 ? wait(0) * 3 / 2 : (wait(0) + wait(1)) / 2;
        case Grade::good:
            if (++step == count) return std::nullopt;
            return wait(step);
        case Grade::easy: break;
    }
    return std::nullopt;
}

}  // namespace

Memory firstMemory(Grade grade) {
    return {std::max(kW[static_cast<std::size_t>(grade) - 1], kLeastStability),
            std::clamp(firstDifficulty(grade), 1.0, 10.0)};
}

double stillKnown(double days, double stability) {
    return std::pow(1 + factor() * std::max(days, 0.0) / std::max(stability, kLeastStability), kDecay);
}

Memory memoryAfter(const Memory& before, Grade grade, int days) {
    Memory after;
    if (days < 1) {
        after.stability = stabilitySameDay(before.stability, grade);
    } else {
        const double known = stillKnown(days, before.stability);
        after.stability = grade == Grade::again ? stabilityForgotten(before, known)
                                                : stabilityRecalled(before, known, grade);
    }
    after.stability = std::max(after.stability, kLeastStability);
    after.difficulty = difficultyAfter(before.difficulty, grade);
    return after;
}

int daysUntil(double stability, double chance) {
    const double days = std::round(stability / factor() * (std::pow(chance, 1 / kDecay) - 1));
    return static_cast<int>(std::clamp(days, 1.0, double{kMostDays}));
}

int daysBetween(std::int64_t from, std::int64_t to) {
    return static_cast<int>(std::clamp<std::int64_t>((to - from) / kSecondsADay, 0, 1'000'000));
}

Review reviewed(const Review& before, Grade grade, std::int64_t at, const ReviewSteps& steps, double chance) {
    using Phase = Review::Phase;
    Review after = before;
    after.times = before.times + 1;
    after.last = at;
    after.memory =
        before.memory ? memoryAfter(*before.memory, grade, daysBetween(before.last, at)) : firstMemory(grade);
    if (before.phase == Phase::fresh) {
        after.phase = Phase::learning;
        after.step = 0;
    } else if (before.phase == Phase::reviewing && grade == Grade::again) {
        after.phase = Phase::relearning;
        after.step = 0;
    }
    if (after.phase != Phase::reviewing) {
        const bool learning = after.phase == Phase::learning;
        const auto wait = shortWait(learning ? steps.learning : steps.relearning, grade, after.step);
        if (wait) {
            after.due = at + *wait;
            return after;
        }
    }
    after.phase = Phase::reviewing;
    after.step = 0;
    after.due = at + std::int64_t{daysUntil(after.memory->stability, chance)} * kSecondsADay;
    return after;
}

}  // namespace loopmend
