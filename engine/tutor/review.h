// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

/// When something learned should be met again: FSRS-6, the published formulas and default weights of the
/// open-spaced-repetition project (MIT). Times are seconds since any fixed moment, handed in; there is no
/// clock and no dice.
namespace loopmend {

enum class Grade : std::uint8_t { again = 1, hard, good, easy };

/// How firmly it sits, and how hard it is to keep.
struct Memory {
    double stability = 0;   ///< days until the chance of still knowing it has come down to 0.9
    double difficulty = 0;  ///< 1 to 10
};

/// Of the very first meeting.
Memory firstMemory(Grade grade);
/// Met again so many whole days later; 0: on the same day.
Memory memoryAfter(const Memory& before, Grade grade, int days);
/// The chance that it is still known so many days after it was met, 0 to 1.
double stillKnown(double days, double stability);
/// Days until that chance has come down to `chance`: 1 to 36500.
int daysUntil(double stability, double chance = 0.9);

/// Short waits, in seconds, before the first wait of days; and likewise after it was forgotten. Empty: none.
struct ReviewSteps {
    std::vector<int> learning;
    std::vector<int> relearning;
};

/// Where one thing stands in the schedule.
struct Review {
    enum class Phase : std::uint8_t { fresh, learning, reviewing, relearning };
    Phase phase = Phase::fresh;
    int step = 0;  ///< of the short waits, while learning or relearning
    std::optional<Memory> memory;
    std::int64_t last = 0;  ///< when it was met
    std::int64_t due = 0;   ///< when it should be met again; nothing while fresh
    int times = 0;          ///< met
};

/// It was met, and went so.
Review reviewed(const Review& before, Grade grade, std::int64_t at, const ReviewSteps& steps = {},
                double chance = 0.9);

/// Whole days between two moments; never below 0.
int daysBetween(std::int64_t from, std::int64_t to);
inline constexpr std::int64_t kSecondsADay = 86'400;

}  // namespace loopmend
