// SPDX-License-Identifier: MIT
// A lesson as a page to take home says everything that the lesson does.
#include <catch2/catch.hpp>

#include <algorithm>
#include <set>
#include <string>

#include "tutor/lesson_handout.h"
#include "tutor/session.h"

using namespace loopmend;

namespace {

bool says(const Handout& handout, const std::string& words) {
    return std::any_of(handout.steps.begin(), handout.steps.end(), [&](const HandoutStep& step) {
        return std::any_of(step.sentences.begin(), step.sentences.end(),
                           [&](const std::string& s) { return s.find(words) != std::string::npos; });
    });
}

}  // namespace

TEST_CASE("The first lesson's handout has every page, every kind of move, and the answers", "[handout]") {
    const Lesson lesson = firstLesson();
    const Handout handout = handoutOf(lesson);
    CHECK(handout.title == lesson.title);
    CHECK(handout.from.find("Harbour Lane") != std::string::npos);
    const auto pages = std::count_if(handout.steps.begin(), handout.steps.end(),
                                     [](const HandoutStep& step) { return !step.part; });
    CHECK(static_cast<std::size_t>(pages) == lesson.first().steps.size());
    CHECK(says(handout, "*Answer:*"));
    CHECK(says(handout, "Knit two more rows."));
    std::size_t moves = 0;
    for (const HandoutStep& step : handout.steps) {
        CHECK_FALSE(step.heading.empty());
        moves += step.part ? 1 : 0;
        if (!step.part) continue;
        REQUIRE(step.pictures.size() == 2);
        for (const HandoutPicture& p : step.pictures) {
            CHECK(p.drawing.widthMm > 10);
            CHECK(p.drawing.title == p.caption);
        }
        // The two faces are two pictures.
        CHECK(step.pictures[0].caption != step.pictures[1].caption);
    }
    CHECK(moves >= 6);
}

TEST_CASE("A left-handed handout and one in British words can be made", "[handout]") {
    const Handout left = handoutOf(firstLesson(), Terms::uk, true);
    CHECK(left.steps.size() == handoutOf(firstLesson()).steps.size());
}
