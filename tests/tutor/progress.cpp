// SPDX-License-Identifier: MIT
// What attempts add up to.
#include "tutor/progress.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "tutor/mastery.h"
#include "tutor/practice.h"

using namespace loopmend;

namespace {

constexpr std::int64_t kDay = kSecondsADay;
constexpr std::int64_t kStart = 1'700'000'000;

Attempt attempt(std::string skill, std::string run, int step, bool right, std::int64_t at) {
    Attempt a;
    a.lesson = "a-lesson";
    a.run = std::move(run);
    a.step = step;
    a.what = "ask name";
    a.skill = std::move(skill);
    a.right = right;
    a.tries = right ? 1 : 2;
    a.at = at;
    a.seconds = 30;
    return a;
}

Lesson lessonOf(std::string id, std::vector<std::string> teaches, std::vector<std::string> needs = {}) {
    Lesson lesson;
    lesson.id = std::move(id);
    lesson.skills = std::move(teaches);
    lesson.needs = std::move(needs);
    lesson.swatches.emplace_back();
    return lesson;
}

bool same(const Progress& a, const Progress& b) {
    return a.begun == b.begun && a.finished == b.finished &&
           std::equal(a.skills.begin(), a.skills.end(), b.skills.begin(), b.skills.end(),
                      [](const SkillProgress& x, const SkillProgress& y) {
                          return x.skill == y.skill && x.attempts == y.attempts && x.known == y.known &&
                                 x.review.due == y.review.due && x.review.times == y.review.times;
                      });
}

}  // namespace

TEST_CASE("Mendings done by herself add up to her own pace") {
    CHECK(progressOf({}).paced == 0);
    CHECK(progressOf({}).pace.secondsPerStitch == Pace{}.secondsPerStitch);
    std::vector<Attempt> all;
    for (int i = 0; i < 9; ++i) {
        Attempt a = attempt("hook-up", fmt::format("run {}", i), 6, true, kStart + i * kDay);
        a.what = "put-right";
        a.reckonedSeconds = 100;
        a.seconds = 50;
        all.push_back(a);
    }
    const Progress p = progressOf(all);
    CHECK(p.paced == 9);
    // Nine at half the time, and the usual pace with the weight of three.
    CHECK(p.pace.secondsPerStitch == Approx(Pace{}.secondsPerStitch * (9 * 0.5 + 3) / 12));
    // What was not reckoned, or of which nobody knows how long it took, says nothing.
    for (Attempt& a : all) a.reckonedSeconds = 0;
    CHECK(progressOf(all).paced == 0);
    for (Attempt& a : all)
        a = [&] {
            Attempt without = a;
            without.reckonedSeconds = 100;
            without.seconds = 0;
            return without;
        }();
    CHECK(progressOf(all).pace.secondsPerStitch == Pace{}.secondsPerStitch);
}

TEST_CASE("Nothing was tried yet: nothing is known, due, begun or finished") {
    const Progress p = progressOf({});
    REQUIRE(p.skills.size() == skills().size());
    for (const SkillProgress& s : p.skills) {
        CHECK_FALSE(s.met());
        CHECK_FALSE(s.mastered);
        CHECK_FALSE(s.dueAt(kStart + 1000 * kDay));
        CHECK(s.known == ratesOf(findSkill(s.skill)->kind).known);
    }
    CHECK(p.begun.empty());
    CHECK(p.find("no-such-skill") == nullptr);
}

TEST_CASE("Only the first attempt on a step of a run counts; what was sent twice counts once") {
    const Attempt wrong = attempt("knit-or-purl", "r1", 1, false, kStart);
    Attempt later = attempt("knit-or-purl", "r1", 1, true, kStart + 60);
    const Attempt other = attempt("knit-or-purl", "r1", 2, true, kStart + 90);
    const Progress once = progressOf({wrong, other});
    CHECK(once.find("knit-or-purl")->attempts == 2);
    CHECK(same(once, progressOf({wrong, later, other})));
    CHECK(same(once, progressOf({wrong, other, wrong, other})));
    // The moment decides, not the order of the lines: logs are merged.
    CHECK(same(once, progressOf({later, other, wrong})));
    later.run = "r2";
    CHECK(progressOf({wrong, later, other}).find("knit-or-purl")->attempts == 3);
}

TEST_CASE("A hint counts as not right, for knowing as for the schedule") {
    Attempt hinted = attempt("knit-or-purl", "r1", 1, true, kStart);
    hinted.hints = 1;
    const Progress p = progressOf({hinted});
    CHECK(same(p, progressOf({attempt("knit-or-purl", "r1", 1, false, kStart)})));
    CHECK(p.find("knit-or-purl")->known <
          progressOf({attempt("knit-or-purl", "r1", 1, true, kStart)}).find("knit-or-purl")->known);
}

TEST_CASE("Grades are told by what she did") {
    Attempt a = attempt("hook-up", "r", 0, true, kStart);
    CHECK(gradeOf(a, 0) == Grade::good);
    CHECK(gradeOf(a, 30) == Grade::good);
    CHECK(gradeOf(a, 50) == Grade::easy);  // much quicker than she is
    CHECK(gradeOf(a, 14) == Grade::hard);  // much slower
    CHECK(gradeOf(a, 15) == Grade::good);
    const auto with = [&](int tries, int hints, int stray) {
        Attempt b = a;
        b.right = tries == 1 && hints == 0;
        b.tries = tries;
        b.hints = hints;
        b.strayMoves = stray;
        return gradeOf(b, 100);
    };
    CHECK(with(2, 0, 0) == Grade::hard);
    CHECK(with(1, 1, 0) == Grade::hard);
    CHECK(with(1, 0, 2) == Grade::hard);
    CHECK(with(3, 0, 0) == Grade::again);
    CHECK(with(1, 2, 0) == Grade::again);
    CHECK(with(1, 0, 4) == Grade::again);
    // Time alone never fails her, and none told is no time.
    a.seconds = 100'000;
    CHECK(gradeOf(a, 10) == Grade::hard);
    a.seconds = 0;
    CHECK(gradeOf(a, 10) == Grade::good);
}

TEST_CASE("Her usual time is the median of her own, once there are three") {
    CHECK(usualSeconds({}) == 0);
    CHECK(usualSeconds({10, 20}) == 0);
    CHECK(usualSeconds({10, 0, 20, -1}) == 0);
    CHECK(usualSeconds({90, 10, 20}) == 20);
    CHECK(usualSeconds({10, 20, 30, 400}) == 30);
}

TEST_CASE("Three right answers in a row are mastery; when it was is kept") {
    std::vector<Attempt> log;
    for (int i = 0; i < 3; ++i) {
        CHECK_FALSE(progressOf(log).mastered("the-neck"));
        log.push_back(attempt("the-neck", "r", i, true, kStart + i));
    }
    const Progress p = progressOf(log);
    CHECK(p.mastered("the-neck"));
    CHECK(p.find("the-neck")->masteredAt == kStart + 2);
}

TEST_CASE("One run is one review of a skill, a long break within it makes two") {
    std::vector<Attempt> log;
    for (int i = 0; i < 4; ++i) log.push_back(attempt("the-neck", "r1", i, true, kStart + i * 60));
    const SkillProgress once = *progressOf(log).find("the-neck");
    CHECK(once.review.times == 1);
    CHECK(once.review.due == kStart + 180 + 2 * kDay);  // good: 2.3 days
    CHECK_FALSE(once.dueAt(once.review.due - 1));
    CHECK(once.dueAt(once.review.due));
    log.push_back(attempt("the-neck", "r1", 4, true, kStart + kDay));
    CHECK(progressOf(log).find("the-neck")->review.times == 2);
    log.push_back(attempt("the-neck", "r2", 4, true, kStart + kDay + 60));
    CHECK(progressOf(log).find("the-neck")->review.times == 3);
    // Mostly right is good, half right is not.
    log = {attempt("the-neck", "r", 0, true, kStart), attempt("the-neck", "r", 1, true, kStart),
           attempt("the-neck", "r", 2, false, kStart)};
    CHECK(progressOf(log).find("the-neck")->review.due == kStart + 2 * kDay);
    log.pop_back();
    log.back() = attempt("the-neck", "r", 1, false, kStart);
    CHECK(progressOf(log).find("the-neck")->review.due == kStart + 1 * kDay);
}

TEST_CASE("A swatch on the shelf: cast on, unfinished, finished, pinned, finished again") {
    const Lesson lesson = lessonOf("a-lesson", {"the-neck"});
    std::vector<Attempt> log;
    const auto shows = [&](std::int64_t now) { return showsOf(lesson, progressOf(log), now); };
    CHECK(shows(kStart) == SwatchShows::castOn);
    log.push_back(attempt("the-neck", "r1", 0, true, kStart));
    CHECK(shows(kStart) == SwatchShows::unfinished);
    CHECK(shows(kStart + 100 * kDay) == SwatchShows::unfinished);
    log.push_back(finishedRun("a-lesson", "r1", kStart + 60));
    CHECK(isFinishedRun(log.back()));
    CHECK(shows(kStart + kDay) == SwatchShows::finished);
    CHECK(shows(kStart + 2 * kDay) == SwatchShows::pinned);
    // An exercise of the skill takes the pin out.
    Attempt exercise = attempt("the-neck", "r9", 0, true, kStart + 2 * kDay);
    exercise.lesson = "the-neck-1-2x";
    log.push_back(exercise);
    CHECK(shows(kStart + 2 * kDay) == SwatchShows::finished);
    // A taster teaches nothing and is never due.
    const Lesson taster = lessonOf("a-lesson", {});
    CHECK(showsOf(taster, progressOf(log), kStart + 999 * kDay) == SwatchShows::finished);
}

TEST_CASE("What to do next: what lies there, what is due, what she is ready for") {
    using What = NextThing::What;
    const std::vector<Lesson> course = {lessonOf("taster", {}), lessonOf("first", {"knit-or-purl"}),
                                        lessonOf("second", {"the-neck"}, {"knit-or-purl"}),
                                        lessonOf("graft", {"snip-and-graft"})};
    std::vector<Attempt> log;
    const auto next = [&](std::int64_t now) { return nextThings(course, progressOf(log), now); };
    REQUIRE_FALSE(next(kStart).empty());
    CHECK(next(kStart)[0].what == What::lesson);
    CHECK(next(kStart)[0].lesson == "taster");
    log.push_back(finishedRun("taster", "t", kStart));
    CHECK(next(kStart)[0].lesson == "first");
    Attempt a = attempt("knit-or-purl", "r", 0, true, kStart);
    a.lesson = "first";
    log.push_back(a);
    CHECK(next(kStart)[0].what == What::goOn);
    log.push_back(finishedRun("first", "r", kStart));
    // Not sure yet: an exercise before what builds on it.
    REQUIRE(canBeExercised("knit-or-purl"));
    CHECK(next(kStart)[0].what == What::practice);
    CHECK(next(kStart)[0].skill == "knit-or-purl");
    for (int i = 1; i < 4; ++i) {
        a.step = i;
        log.push_back(a);
    }
    CHECK(next(kStart)[0].lesson == "second");
    const std::vector<NextThing> due = next(kStart + 30 * kDay);
    CHECK(due[0].what == What::practice);
    CHECK(due[0].skill == "knit-or-purl");
    CHECK(std::any_of(due.begin(), due.end(), [](const NextThing& n) { return n.lesson == "second"; }));
    // What nothing here teaches keeps no lesson back.
    log.push_back(finishedRun("second", "r", kStart));
    const std::vector<NextThing> last = next(kStart);
    CHECK(std::any_of(last.begin(), last.end(), [](const NextThing& n) { return n.lesson == "graft"; }));
}

TEST_CASE("Levels rise with what she knows and how firmly it sits") {
    SkillProgress s;
    s.known = 0.3;
    CHECK(levelFor(s) == 1);
    s.known = 0.8;
    CHECK(levelFor(s) == 2);
    s.known = 0.97;
    s.mastered = true;
    CHECK(levelFor(s) == 3);
    s.review.memory = Memory{20, 5};
    CHECK(levelFor(s) == 4);
    s.review.memory = Memory{90, 5};
    CHECK(levelFor(s) == 5);
}
