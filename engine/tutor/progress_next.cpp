// SPDX-License-Identifier: MIT
//
// What a teacher would hand over next.
#include <algorithm>
#include <set>
#include <string>
#include <vector>

#include "tutor/practice.h"
#include "tutor/progress.h"

namespace loopmend {

namespace {

using What = NextThing::What;

bool contains(const std::vector<std::string>& list, std::string_view id) {
    return std::find(list.begin(), list.end(), id) != list.end();
}

class Chooser {
  public:
    Chooser(const std::vector<Lesson>& course, const Progress& progress, std::int64_t now)
        : course_(course), progress_(progress), now_(now) {}

    std::vector<NextThing> all() {
        for (const Lesson& lesson : course_) {
            if (showsOf(lesson, progress_, now_) == SwatchShows::unfinished)
                things_.push_back({What::goOn, lesson.id, "", 1});
        }
        due();
        newLesson();
        // What a finished lesson taught and she does not know yet: in the order of needs.
        for (const SkillProgress& s : progress_.skills) {
            if (s.met() && !s.mastered) meet(s.skill);
        }
        return std::move(things_);
    }

  private:
    bool finished(const Lesson& lesson) const { return progress_.finished.count(lesson.id) != 0; }

    const Lesson* taughtBy(std::string_view skill) const {
        for (const Lesson& lesson : course_) {
            if (contains(lesson.skills, skill)) return &lesson;
        }
        return nullptr;
    }

    /// What is longest overdue first.
    void due() {
        std::vector<const SkillProgress*> due;
        for (const SkillProgress& s : progress_.skills) {
            if (s.dueAt(now_)) due.push_back(&s);
        }
        std::stable_sort(due.begin(), due.end(), [](const SkillProgress* a, const SkillProgress* b) {
            return a->review.due < b->review.due;
        });
        for (const SkillProgress* s : due) meet(s->skill);
    }

    /// A skill once more: as an exercise, else in the lesson that teaches it. False: neither is there.
    bool meet(std::string_view skill) {
        if (offered_.count(std::string(skill)) != 0) return true;
        const SkillProgress* const s = progress_.find(skill);
        if (s != nullptr && canBeExercised(skill)) {
            things_.push_back({What::practice, "", std::string(skill), levelFor(*s)});
        } else if (const Lesson* lesson = taughtBy(skill)) {
            things_.push_back(
                {finished(*lesson) ? What::again : What::lesson, lesson->id, std::string(skill), 1});
        } else {
            return false;
        }
        offered_.insert(std::string(skill));
        return true;
    }

    /// What no lesson here teaches keeps nothing back, nor what its lesson taught without ever asking for it.
    bool canStillBeLearned(std::string_view skill) const {
        const Lesson* const teacher = taughtBy(skill);
        const SkillProgress* const s = progress_.find(skill);
        return teacher != nullptr && s != nullptr && (s->met() || !finished(*teacher));
    }

    /// Skills that a lesson takes for granted and another one teaches, but she does not know yet.
    std::vector<std::string> lacking(const Lesson& lesson) const {
        std::vector<std::string> needs = lesson.needs;
        for (const std::string& id : lesson.skills) {
            const Skill* const skill = findSkill(id);
            if (skill == nullptr) continue;
            for (const std::string_view need : skill->needs) {
                if (!contains(lesson.skills, need)) needs.emplace_back(need);
            }
        }
        std::vector<std::string> out;
        for (const std::string& need : needs) {
            if (!progress_.mastered(need) && canStillBeLearned(need) && !contains(out, need))
                out.push_back(need);
        }
        return out;
    }

    /// The first lesson not begun; before it, what she lacks for it; after it, the first she is ready for
    /// now.
    void newLesson() {
        bool first = true;
        for (const Lesson& lesson : course_) {
            if (finished(lesson) || progress_.begun.count(lesson.id) != 0) continue;
            const std::vector<std::string> lacks = lacking(lesson);
            if (lacks.empty()) {
                things_.push_back({What::lesson, lesson.id, "", 1});
                return;
            }
            if (!first) continue;
            first = false;
            for (const std::string& need : lacks) meet(need);
        }
    }

    const std::vector<Lesson>& course_;
    const Progress& progress_;
    std::int64_t now_;
    std::vector<NextThing> things_;
    std::set<std::string> offered_;
};

}  // namespace

std::vector<NextThing> nextThings(const std::vector<Lesson>& course, const Progress& progress,
                                  std::int64_t now) {
    return Chooser(course, progress, now).all();
}

}  // namespace loopmend
