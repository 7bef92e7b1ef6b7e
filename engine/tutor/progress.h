// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <map>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "repair/pace.h"
#include "tutor/attempt.h"
#include "tutor/lesson.h"
#include "tutor/review.h"
#include "tutor/skills.h"

/// What a learner's attempts add up to: which skills are known, when each is to be met again, and what that
/// makes of the swatches on the shelf. The same attempts give the same progress on any machine.
namespace loopmend {

/// The attempts that count, oldest first: of each step of a run the first one only, and never twice the same.
/// `at` decides; of equal ones, the order in which they came.
std::vector<Attempt> firstAttempts(const std::vector<Attempt>& attempts);

/// How it went, told by what she did and nobody asked: wrong answers, hints, moves that led away, and the
/// time against her own usual time for such a step.
Grade gradeOf(const Attempt& attempt, int usualSeconds);
/// Her usual time for a step of this kind: the median of what she took before. 0: too few to tell.
int usualSeconds(const std::vector<int>& before);

struct SkillProgress {
    std::string_view skill;
    int attempts = 0;  ///< that counted
    double known = 0;  ///< the chance that she knows it (tutor/mastery.h)
    bool mastered = false;
    std::int64_t masteredAt = 0;  ///< when it first was; 0: never yet
    Review review;                ///< fresh: never met

    bool met() const { return attempts > 0; }
    bool dueAt(std::int64_t now) const { return met() && review.due <= now; }
};

struct Progress {
    std::vector<SkillProgress> skills;  ///< all, in the order of `skills()`
    std::set<std::string> begun;        ///< lessons and exercises with an attempt
    std::set<std::string> finished;     ///< and those of which a run was finished (see `finishedRun`)
    Pace pace;      ///< hers, from the mendings she did all by herself; the usual one without any
    int paced = 0;  ///< how many of those there are

    /// None if there is no such id.
    const SkillProgress* find(std::string_view skill) const;
    bool mastered(std::string_view skill) const;
};

Progress progressOf(const std::vector<Attempt>& attempts);

/// The line of the log that says a run was worked to its end. For the program to keep when `Session::done`
/// first says so; it exercises nothing.
Attempt finishedRun(std::string lesson, std::string run, std::int64_t at);
bool isFinishedRun(const Attempt& attempt);

/// How a lesson lies on the shelf.
enum class SwatchShows : std::uint8_t {
    castOn,      ///< not begun
    unfinished,  ///< some rows
    finished,
    pinned  ///< finished, and something it teaches is due again
};
SwatchShows showsOf(const Lesson& lesson, const Progress& progress, std::int64_t now);

/// What to do next. Nothing is locked; this is what a teacher would hand over.
struct NextThing {
    enum class What : std::uint8_t {
        goOn,      ///< a lesson that lies there unfinished
        practice,  ///< a skill that is due again, or that the next lesson needs
        lesson,    ///< a new one
        again      ///< a lesson worked before, for a skill that cannot be practiced otherwise
    };
    What what = What::lesson;
    std::string lesson;  ///< its id; empty: practice
    std::string skill;   ///< practice, again
    int level = 1;       ///< practice
};
/// The best first; empty only when every lesson is finished, everything taught is known and nothing is due.
std::vector<NextThing> nextThings(const std::vector<Lesson>& course, const Progress& progress,
                                  std::int64_t now);

/// How hard an exercise should be for her, 1 to 5: by how sure it is that she knows it, then by how firmly it
/// sits.
int levelFor(const SkillProgress& skill);

}  // namespace loopmend
