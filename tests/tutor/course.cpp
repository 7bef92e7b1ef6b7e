// SPDX-License-Identifier: MIT
// The course as a whole, and each of its lessons.
#include "course.h"

#include <algorithm>
#include <map>
#include <set>
#include <string>
#include <vector>

#include <catch2/catch.hpp>

#include "fault/catalogue.h"
#include "sampled.h"
#include "tutor/lesson_check.h"
#include "tutor/skills.h"

using namespace loopmend;

namespace {

std::string listOf(const std::vector<LessonProblem>& problems) {
    std::string all;
    for (const LessonProblem& p : problems) all += p.place + " | " + p.words + "\n";
    return all;
}

int placeOf(const std::vector<Lesson>& lessons, const std::string& id) {
    const auto at =
        std::find_if(lessons.begin(), lessons.end(), [&](const Lesson& lesson) { return lesson.id == id; });
    return at == lessons.end() ? -1 : static_cast<int>(at - lessons.begin());
}

}  // namespace

TEST_CASE("Every lesson of the course can be given, by either hand and in both kinds of English") {
    int i = 0;
    for (const Lesson& lesson : wholeCourse().lessons()) {
        if (!isSampled(i++)) continue;
        DYNAMIC_SECTION(lesson.id) {
            const auto problems = problemsOf(lesson);
            INFO(listOf(problems));
            CHECK(problems.empty());
        }
    }
}

TEST_CASE("The course is given in the order of needs, the first lesson needs nothing") {
    const std::vector<Lesson> lessons = wholeCourse().lessons();
    const auto problems = problemsOf(lessons);
    INFO(listOf(problems));
    CHECK(problems.empty());
    REQUIRE(lessons.size() >= 25);
    CHECK(lessons.front().id == "a-stitch-that-ran");
    CHECK(lessons.front().skills.empty());
    CHECK(lessons.front().needs.empty());
    // Reading before mending, taking back before hooking up.
    CHECK(placeOf(lessons, "vs-and-bumps") < placeOf(lessons, "ask-the-neck"));
    CHECK(placeOf(lessons, "stitch-by-stitch-back") < placeOf(lessons, "hook-it-up"));
    CHECK(placeOf(lessons, "hook-it-up") < placeOf(lessons, "one-wrong-bump"));
    CHECK(placeOf(lessons, "one-wrong-bump") < placeOf(lessons, "ladder-in-a-rib"));
}

TEST_CASE("The course shows many mistakes, in the circle, and pieces with nothing wrong among them") {
    const Course course = wholeCourse();
    std::set<std::string> members;
    std::set<std::string> faults;
    std::set<std::string> taught;
    std::set<StockGround> grounds;
    int pieces = 0;
    int faultless = 0;
    int rounds = 0;
    for (const Course::Unit& unit : course.units) {
        INFO(unit.title);
        CHECK_FALSE(unit.title.empty());
        CHECK_FALSE(unit.about.empty());
        CHECK_FALSE(unit.lessons.empty());
    }
    for (const Lesson& lesson : course.lessons()) {
        INFO(lesson.id);
        CHECK_FALSE(lesson.about.empty());
        taught.insert(lesson.skills.begin(), lesson.skills.end());
        // The program teaches the eye; the closing card sends her to her own wool.
        REQUIRE_FALSE(lesson.swatches.back().steps.empty());
        CHECK(lesson.swatches.back().steps.back().kind == StepKind::inWool);
        for (const LessonSwatch& swatch : lesson.swatches) {
            ++pieces;
            faultless += swatch.faults.empty() ? 1 : 0;
            rounds += swatch.round ? 1 : 0;
            members.insert(swatch.member);
            if (swatch.pattern.empty()) grounds.insert(swatch.ground);
            for (const FaultPlace& fault : swatch.faults) faults.insert(fault.id);
            CHECK_FALSE(swatch.thing.empty());
            CHECK_FALSE(swatch.steps.empty());
        }
    }
    CHECK(members == std::set<std::string>{"Bo", "Ishaan", "Maren", "Oswin", "Tilda"});
    CHECK(faults.size() >= 25);
    CHECK(grounds.size() >= 7);
    CHECK(rounds >= 4);
    CHECK(3 * faultless >= pieces);
    CHECK(taught.size() >= 35);
}

TEST_CASE("A mending is shown at first, then partly, and in the end left to her") {
    std::map<std::string, std::vector<int>> hers;
    for (const Lesson& lesson : wholeCourse().lessons()) {
        for (const LessonSwatch& swatch : lesson.swatches) {
            const bool mends =
                std::any_of(swatch.steps.begin(), swatch.steps.end(),
                            [](const StepPlan& step) { return step.kind == StepKind::putRight; });
            if (mends && !swatch.faults.empty()) hers[lesson.id].push_back(swatch.guidance.lastAreHers);
        }
    }
    for (const auto& [id, all] : hers) {
        INFO(id);
        for (std::size_t i = 1; i < all.size(); ++i) {
            const int before = all[i - 1] < 0 ? 1000 : all[i - 1];
            const int now = all[i] < 0 ? 1000 : all[i];
            CHECK(before <= now);
        }
    }
    CHECK(hers["a-stitch-that-ran"] == std::vector<int>{0});
    CHECK(hers["one-wrong-bump"] == std::vector<int>{0, 3, -1});
}

TEST_CASE("Files of the course are as the program would write them") {
    MachineDisk disk;
    for (const Lesson& lesson : wholeCourse().lessons()) {
        INFO(lesson.id);
        CHECK(*readFile(disk, courseFolder() + "/" + lesson.id + ".json") == lessonText(lesson));
    }
}
