// SPDX-License-Identifier: MIT
// A class that is only pretended: what each one knows is hidden, answers come by knowledge tracing, hands go
// wrong, days pass. Nobody gets stuck, skills are mastered in the order in which they need each other, and
// what is due is met again.
#include <catch2/catch.hpp>

#include <algorithm>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "course.h"
#include "fault/draw.h"
#include "tutor/mastery.h"
#include "tutor/practice.h"
#include "tutor/progress.h"
#include "tutor/session.h"
#include "tutor/solver.h"

using namespace loopmend;

namespace {

constexpr std::int64_t kDay = kSecondsADay;
constexpr std::int64_t kStart = 1'700'000'000;

const std::vector<Lesson>& course() {
    static const std::vector<Lesson> kLessons = wholeCourse().lessons();
    return kLessons;
}

/// What someone knows, and how she answers for it.
class Mind {
  public:
    Mind(std::uint64_t seed, double quick) : dice_(seed), quick_(quick) {}

    double chance() { return dice_.below(1'000'000) / 1e6; }
    int below(int n) { return dice_.below(n); }

    bool answersRight(std::string_view skill) {
        const Skill* const s = findSkill(skill);
        if (s == nullptr) return chance() < 0.7;
        return chance() < chanceRight(knows(*s) ? 1 : 0, ratesOf(s->kind));
    }
    /// Each step teaches a little, whether it went right or wrong.
    void learn(std::string_view skill) {
        const Skill* const s = findSkill(skill);
        if (s != nullptr && !knows(*s) && chance() < quick_) known_[s->id] = true;
    }

  private:
    bool knows(const Skill& skill) {
        const auto at = known_.find(skill.id);
        if (at != known_.end()) return at->second;
        return known_[skill.id] = chance() < ratesOf(skill.kind).known;
    }

    Seeded dice_;
    double quick_;
    std::map<std::string_view, bool> known_;
};

bool isTaught(std::string_view skill) {
    return std::any_of(course().begin(), course().end(), [&](const Lesson& l) {
        return std::find(l.skills.begin(), l.skills.end(), skill) != l.skills.end();
    });
}

bool taughtTogether(std::string_view a, std::string_view b) {
    return std::any_of(course().begin(), course().end(), [&](const Lesson& l) {
        const auto teaches = [&](std::string_view skill) {
            return std::find(l.skills.begin(), l.skills.end(), skill) != l.skills.end();
        };
        return teaches(a) && teaches(b);
    });
}

const Lesson& lessonOf(const std::string& id) {
    const auto at =
        std::find_if(course().begin(), course().end(), [&](const Lesson& l) { return l.id == id; });
    REQUIRE(at != course().end());
    return *at;
}

/// One learner's weeks, her answers told without a cloth: three steps a skill.
struct Weeks {
    Mind mind;
    std::vector<Attempt> log;
    int runs = 0;
    int lessons = 0;
    int exercises = 0;
    int due = 0;       ///< reviews that came due
    int lateDays = 0;  ///< and how late they were met, all together

    void meet(const std::string& id, const std::vector<std::string>& skills, std::int64_t& now) {
        const std::string run = fmt::format("run-{}", ++runs);
        int step = 0;
        for (const std::string& skill : skills) {
            for (int i = 0; i < 3; ++i) {
                Attempt a;
                a.lesson = id;
                a.run = run;
                a.step = step++;
                a.what = "ask name";
                a.skill = skill;
                a.right = mind.answersRight(skill);
                a.tries = a.right ? 1 : 2;
                a.seconds = 20 + mind.below(40);
                a.at = now;
                now += a.seconds;
                mind.learn(skill);
                log.push_back(std::move(a));
            }
        }
        log.push_back(finishedRun(id, run, now));
    }
};

}  // namespace

TEST_CASE("A pretended class through the course and its practice") {
    constexpr int kLearners = 8;
    constexpr int kDays = 150;
    constexpr int kThingsADay = 5;
    REQUIRE(course().size() >= 16);
    for (int learner = 0; learner < kLearners; ++learner) {
        INFO("learner " << learner);
        Weeks weeks{Mind(static_cast<std::uint64_t>(learner) + 11, 0.15 + 0.05 * learner), {}, 0, 0, 0, 0, 0};
        std::map<std::string, std::int64_t> dueSince;
        for (int day = 0; day < kDays; ++day) {
            std::int64_t now = kStart + day * kDay;
            for (int i = 0; i < kThingsADay; ++i) {
                const Progress progress = progressOf(weeks.log);
                const std::vector<NextThing> next = nextThings(course(), progress, now);
                if (next.empty()) break;
                const NextThing& thing = next.front();
                CHECK(thing.what != NextThing::What::goOn);  // nothing is left lying
                if (thing.what == NextThing::What::practice) {
                    const SkillProgress& s = *progress.find(thing.skill);
                    REQUIRE(nearestLevel(thing.skill, thing.level) > 0);
                    if (s.dueAt(now)) {
                        ++weeks.due;
                        weeks.lateDays += daysBetween(s.review.due, now);
                    }
                    weeks.meet(fmt::format("{}-exercise-{}", thing.skill, weeks.runs), {thing.skill}, now);
                    ++weeks.exercises;
                    // Met again: not due any more.
                    CHECK_FALSE(progressOf(weeks.log).find(thing.skill)->dueAt(now));
                } else {
                    const Lesson& lesson = lessonOf(thing.lesson);
                    weeks.meet(lesson.id, lesson.skills, now);
                    ++weeks.lessons;
                }
            }
        }
        // No dead end: all lessons were given, and everything taught is known.
        const Progress progress = progressOf(weeks.log);
        for (const Lesson& lesson : course()) {
            INFO(lesson.id);
            CHECK(progress.finished.count(lesson.id) == 1);
        }
        for (const Skill& skill : skills()) {
            if (!isTaught(skill.id)) continue;
            const SkillProgress& s = *progress.find(skill.id);
            INFO(skill.id);
            CHECK(s.masteredAt > 0);
            // Mastered after what it needs, unless one lesson teaches both.
            for (const std::string_view need : skill.needs) {
                if (!isTaught(need) || taughtTogether(skill.id, need)) continue;
                INFO(need);
                const std::int64_t before = progress.find(need)->masteredAt;
                CHECK(before > 0);
                CHECK(before / kDay <= s.masteredAt / kDay);
            }
        }
        // The schedule was kept: on the average within two days.
        CHECK(weeks.due > 50);
        CHECK(weeks.lateDays <= 2 * weeks.due);
        CHECK(weeks.exercises > weeks.lessons);
    }
}

namespace {

/// A place somewhere on the cloth.
PointTarget anywhere(const Session& session, Mind& mind) {
    const Fabric& f = session.fabric();
    for (int i = 0; i < 100; ++i) {
        const LoopId loop{mind.below(f.entryCount())};
        if (!f.has(loop) || !f.isLoop(loop)) continue;
        PointTarget target;
        target.thing = PointTarget::Thing::loop;
        target.entry = loop;
        return target;
    }
    return {};
}

void goAstray(Session& session, Mind& mind) {
    const Page& page = session.page();
    if (!page.choices.empty()) {
        session.choose(mind.below(static_cast<int>(page.choices.size())));
    } else if (session.step() == StepKind::putRight) {
        // She knits on over it, or takes back what was right.
        const std::vector<Move> row = session.knitRow();
        if (!row.empty()) session.perform(row.front());
        if (const auto tink = moveFrom("tink 1"); tink && mind.below(2) == 0) session.perform(*tink);
    } else {
        session.pointAt(anywhere(session, mind));
    }
    if (mind.below(3) == 0) session.hint();
}

/// Does the page as one who knows: what hints would lead to, without asking for any, and only the last answer
/// of those that were tried.
void doRight(const Lesson& lesson, Session& session) {
    auto twin = Session::from(lesson, session.text());
    REQUIRE(twin);
    const std::size_t before = twin->log().size();
    REQUIRE(solvePage(*twin));
    const std::vector<std::string>& log = twin->log();
    std::size_t lastChoice = log.size();
    for (std::size_t i = before; i < log.size(); ++i) {
        if (log[i].rfind("choose", 0) == 0) lastChoice = i;
    }
    std::string text = session.text();
    for (std::size_t i = before; i < log.size(); ++i) {
        const bool hint = log[i].rfind("hint", 0) == 0;
        const bool earlier = log[i].rfind("choose", 0) == 0 && i != lastChoice;
        if (!hint && !earlier) text += log[i] + "\n";
    }
    auto after = Session::from(lesson, text);
    REQUIRE(after);
    // What cannot be done without being told (a last answer alone was not enough): the long way.
    if (!after->page().canGoOn && !after->done()) after = std::move(twin);
    session = std::move(*after);
}

struct Told {
    int steps = 0;
    int right = 0;
    int astray = 0;
};

/// Works a lesson to its end, going wrong as often as what she does not know says.
Told work(const Lesson& lesson, Mind& mind, std::vector<Attempt>& log, const std::string& run) {
    Session session(lesson, Terms::us, mind.below(2) == 0);
    Told told;
    // A session made anew from its text does not tell again what it told.
    const auto keep = [&] {
        for (Attempt a : session.takeAttempts()) {
            a.run = run;
            ++told.steps;
            told.right += a.right ? 1 : 0;
            log.push_back(std::move(a));
        }
    };
    for (int page = 0; page < 300; ++page) {
        INFO(lesson.id << ": " << session.page().heading << ": " << session.page().task);
        const std::string skill = lesson.skills.empty() ? "" : lesson.skills.front();
        // The last page is told as soon as it is done, and a session made anew has told it already.
        const bool last = session.page().step == session.page().steps;
        if (last) {
            REQUIRE(solvePage(session));
        } else if (mind.answersRight(skill)) {
            doRight(lesson, session);
        } else {
            ++told.astray;
            goAstray(session, mind);
            REQUIRE(solvePage(session));
        }
        mind.learn(skill);
        if (session.done()) break;
        REQUIRE(session.page().canGoOn);
        session.next();
        keep();
    }
    keep();
    REQUIRE(session.done());
    return told;
}

}  // namespace

TEST_CASE("Lessons and exercises with answers right and wrong and hands gone astray come to their end") {
    Mind mind(5, 0.3);
    std::vector<Attempt> log;
    Told all;
    int runs = 0;
    for (std::size_t i = 0; i < course().size(); i += 7) {
        const Told told = work(course()[i], mind, log, fmt::format("r{}", ++runs));
        all.steps += told.steps;
        all.right += told.right;
        all.astray += told.astray;
    }
    for (const char* skill : {"hook-up", "root-of-it"}) {
        const auto exercise = exerciseOf({skill, nearestLevel(skill, 1), 3});
        REQUIRE(exercise);
        work(*exercise, mind, log, fmt::format("r{}", ++runs));
    }
    CHECK(all.astray > 3);
    CHECK(all.steps > 20);
    CHECK(all.right > 0);
    CHECK(all.right < all.steps);
    const Progress progress = progressOf(log);
    CHECK(std::any_of(progress.skills.begin(), progress.skills.end(),
                      [](const SkillProgress& s) { return s.met(); }));
}

TEST_CASE("Three learners through every lesson, with wrong answers and hands gone astray", "[.class]") {
    for (std::uint64_t learner = 1; learner <= 3; ++learner) {
        Mind mind(learner * 31, 0.15 * static_cast<double>(learner));
        std::vector<Attempt> log;
        int runs = 0;
        for (const Lesson& lesson : course()) {
            const Told told = work(lesson, mind, log, fmt::format("r{}", ++runs));
            INFO(lesson.id);
            CHECK((told.steps > 0 || lesson.skills.empty()));  // the taster counts for nothing
        }
        WARN("learner " << learner << ": " << log.size() << " steps");
    }
}
