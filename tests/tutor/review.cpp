// SPDX-License-Identifier: MIT
// When a thing is due again: the published formulas, weights and expected values of FSRS-6.
#include "tutor/review.h"

#include <rapidcheck/catch.h>
#include <catch2/catch.hpp>

#include <vector>

using namespace loopmend;

namespace {

std::vector<int> intervals(const std::vector<int>& grades, const ReviewSteps& steps) {
    std::vector<int> days;
    Review review;
    std::int64_t now = 1'700'000'000;
    for (const int grade : grades) {
        review = reviewed(review, static_cast<Grade>(grade), now, steps);
        days.push_back(daysBetween(now, review.due));
        now = review.due;
    }
    return days;
}

const ReviewSteps kMinutes{{60, 600}, {600}};

}  // namespace

// Source of all values here: open-spaced-repetition, FSRS-6, published formulas, default weights and unit
// tests of its reference scheduler (MIT license), 2025.
TEST_CASE("Six grades give the published stability and difficulty") {
    const std::vector<int> grades = {1, 3, 3, 3, 3, 3};
    const std::vector<int> gaps = {0, 0, 1, 3, 8, 21};
    Memory memory = firstMemory(static_cast<Grade>(grades[0]));
    for (std::size_t i = 1; i < grades.size(); ++i)
        memory = memoryAfter(memory, static_cast<Grade>(grades[i]), gaps[i]);
    CHECK(memory.stability == Approx(53.62691).margin(1e-4));
    CHECK(memory.difficulty == Approx(6.3574867).margin(1e-4));
}

TEST_CASE("The first grade decides where a thing begins") {
    const double stability[] = {0.212, 1.2931, 2.3065, 8.2956};
    const double difficulty[] = {6.4133, 5.11217071, 2.11810397, 1};
    for (int g = 1; g <= 4; ++g) {
        const Memory memory = firstMemory(static_cast<Grade>(g));
        CHECK(memory.stability == Approx(stability[g - 1]).margin(1e-12));
        CHECK(memory.difficulty == Approx(difficulty[g - 1]).margin(5e-9));
    }
}

TEST_CASE("What is still known falls off as published") {
    CHECK(stillKnown(8, 8.2956) == Approx(0.9024733).margin(5e-8));
    // By its meaning: nine in ten at the stability itself.
    for (const double s : {0.2, 1.0, 8.2956, 400.0}) CHECK(stillKnown(s, s) == Approx(0.9));
    CHECK(stillKnown(0, 5) == 1);
}

TEST_CASE("Intervals follow the published sequence through learning, lapses and relearning") {
    const std::vector<int> grades = {3, 3, 3, 3, 3, 3, 1, 1, 3, 3, 3, 3, 3};
    CHECK(intervals(grades, kMinutes) == std::vector<int>{0, 2, 11, 46, 163, 498, 0, 0, 2, 4, 7, 12, 21});
}

TEST_CASE("Short waits: again begins anew, hard lies between, easy leaves them") {
    using Phase = Review::Phase;
    const std::int64_t now = 1000;
    const auto wait = [&](const Review& r) { return r.due - r.last; };
    const Review good = reviewed({}, Grade::good, now, kMinutes);
    CHECK(good.phase == Phase::learning);
    CHECK(wait(good) == 600);
    CHECK(wait(reviewed({}, Grade::again, now, kMinutes)) == 60);
    CHECK(wait(reviewed({}, Grade::hard, now, kMinutes)) == 330);
    CHECK(wait(reviewed({}, Grade::hard, now, {{60}, {}})) == 90);
    const Review easy = reviewed({}, Grade::easy, now, kMinutes);
    CHECK(easy.phase == Phase::reviewing);
    CHECK(wait(easy) == 8 * kSecondsADay);
    CHECK(wait(reviewed(good, Grade::hard, now + 600, kMinutes)) == 600);
    CHECK(wait(reviewed(good, Grade::again, now + 600, kMinutes)) == 60);
    const Review known = reviewed(good, Grade::good, now + 600, kMinutes);
    CHECK(known.phase == Phase::reviewing);
    const Review lapsed = reviewed(known, Grade::again, known.due, kMinutes);
    CHECK(lapsed.phase == Phase::relearning);
    CHECK(wait(lapsed) == 600);
    CHECK(reviewed(lapsed, Grade::good, lapsed.due, kMinutes).phase == Phase::reviewing);
    // Without short waits the next day is the soonest.
    const Review plain = reviewed({}, Grade::again, now);
    CHECK(plain.phase == Phase::reviewing);
    CHECK(wait(plain) == kSecondsADay);
    CHECK(wait(reviewed(plain, Grade::again, plain.due)) == kSecondsADay);
}

TEST_CASE(
    "Whatever the grades and gaps, memory and intervals stay within bounds, better grades wait longer") {
    rc::prop("any history", [] {
        Review review;
        std::int64_t now = *rc::gen::inRange<std::int64_t>(-1'000'000, 2'000'000'000);
        const int count = *rc::gen::inRange(1, 40);
        for (int i = 0; i < count; ++i) {
            std::int64_t due[5] = {};
            for (int g = 1; g <= 4; ++g) due[g] = reviewed(review, static_cast<Grade>(g), now).due;
            RC_ASSERT((due[1] <= due[2] && due[2] <= due[3] && due[3] <= due[4]));
            review = reviewed(review, static_cast<Grade>(*rc::gen::inRange(1, 5)), now);
            RC_ASSERT(review.memory.has_value());
            RC_ASSERT((review.memory->stability >= 0.001 && review.memory->stability < 1e9));
            RC_ASSERT((review.memory->difficulty >= 1 && review.memory->difficulty <= 10));
            const int days = daysBetween(now, review.due);
            RC_ASSERT((days >= 1 && days <= 36'500));
            now += *rc::gen::inRange<std::int64_t>(0, 400 * kSecondsADay);
        }
        RC_ASSERT(review.times == count);
    });
    CHECK(daysUntil(0.0001) == 1);
    CHECK(daysUntil(1e12) == 36'500);
    CHECK(daysBetween(100, 0) == 0);
}
