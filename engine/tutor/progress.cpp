// SPDX-License-Identifier: MIT
#include "tutor/progress.h"

#include <algorithm>
#include <cstddef>
#include <tuple>
#include <utility>

#include "tutor/mastery.h"

namespace loopmend {

namespace {

constexpr std::string_view kFinished = "finished";
/// Attempts on a skill in one run belong to one sitting, unless she went away for this long.
constexpr std::int64_t kSittingGap = std::int64_t{6} * 3600;
constexpr std::size_t kEnoughTimes = 3;
/// Much slower or faster than she usually is.
constexpr int kSlow = 200;  // percent
constexpr int kQuick = 60;
constexpr int kManyTries = 3;
constexpr int kManyHints = 2;
constexpr int kManyStrayMoves = 4;

/// What is being met of one skill in one run.
struct Sitting {
    std::string lesson;
    std::string run;
    std::int64_t last = 0;
    int grades = 0;
    int count = 0;

    bool open() const { return count > 0; }
    /// The usual one of its grades; of two, the worse.
    Grade grade() const { return static_cast<Grade>((2 * grades + count - 1) / (2 * count)); }
};

struct Meeting {
    SkillProgress progress;
    Sitting sitting;

    void close() {
        if (!sitting.open()) return;
        progress.review = reviewed(progress.review, sitting.grade(), sitting.last);
        sitting = Sitting{};
    }
};

/// The times she took for one kind of step, in order: the usual one is asked for at every attempt.
class Usual {
  public:
    void add(int seconds) {
        if (seconds > 0) sorted_.insert(std::upper_bound(sorted_.begin(), sorted_.end(), seconds), seconds);
    }
    int seconds() const { return sorted_.size() < kEnoughTimes ? 0 : sorted_[sorted_.size() / 2]; }

  private:
    std::vector<int> sorted_;
};

}  // namespace

std::vector<Attempt> firstAttempts(const std::vector<Attempt>& attempts) {
    std::vector<Attempt> all = attempts;
    std::stable_sort(all.begin(), all.end(), [](const Attempt& a, const Attempt& b) { return a.at < b.at; });
    std::set<std::tuple<std::string, std::string, int, int, bool>> seen;
    std::vector<Attempt> first;
    for (Attempt& a : all) {
        if (seen.emplace(a.lesson, a.run, a.swatch, a.step, isFinishedRun(a)).second)
            first.push_back(std::move(a));
    }
    return first;
}

Grade gradeOf(const Attempt& a, int usual) {
    if (a.tries >= kManyTries || a.hints >= kManyHints || a.strayMoves >= kManyStrayMoves)
        return Grade::again;
    const bool timed = usual > 0 && a.seconds > 0;
    if (!a.right || a.tries > 1 || a.hints > 0 || a.strayMoves > 0) return Grade::hard;
    if (timed && std::int64_t{a.seconds} * 100 > std::int64_t{usual} * kSlow) return Grade::hard;
    if (timed && std::int64_t{a.seconds} * 100 <= std::int64_t{usual} * kQuick) return Grade::easy;
    return Grade::good;
}

int usualSeconds(const std::vector<int>& before) {
    Usual usual;
    for (const int s : before) usual.add(s);
    return usual.seconds();
}

const SkillProgress* Progress::find(std::string_view skill) const {
    for (const SkillProgress& s : skills) {
        if (s.skill == skill) return &s;
    }
    return nullptr;
}

bool Progress::mastered(std::string_view skill) const {
    const SkillProgress* const s = find(skill);
    return s != nullptr && s->mastered;
}

Progress progressOf(const std::vector<Attempt>& attempts) {
    std::vector<Meeting> meetings;
    std::map<std::string_view, std::size_t> index;
    for (const Skill& skill : skills()) {
        index[skill.id] = meetings.size();
        meetings.emplace_back();
        meetings.back().progress.skill = skill.id;
        meetings.back().progress.known = ratesOf(skill.kind).known;
    }
    Progress progress;
    std::map<std::string, Usual> times;
    std::vector<Pace::Attempted> mendings;
    for (const Attempt& a : firstAttempts(attempts)) {
        progress.begun.insert(a.lesson);
        if (isFinishedRun(a)) {
            progress.finished.insert(a.lesson);
            continue;
        }
        if (a.reckonedSeconds > 0 && a.seconds > 0) {
            mendings.push_back({static_cast<double>(a.reckonedSeconds), static_cast<double>(a.seconds)});
        }
        Usual& usual = times[a.what];
        const Grade grade = gradeOf(a, usual.seconds());
        usual.add(a.seconds);
        const auto at = index.find(a.skill);
        if (at == index.end()) continue;
        Meeting& m = meetings[at->second];
        Sitting& sitting = m.sitting;
        if (sitting.open() &&
            (sitting.lesson != a.lesson || sitting.run != a.run || a.at - sitting.last > kSittingGap)) {
            m.close();
        }
        sitting.lesson = a.lesson;
        sitting.run = a.run;
        sitting.last = a.at;
        sitting.grades += static_cast<int>(grade);
        ++sitting.count;

        SkillProgress& s = m.progress;
        const bool right = a.right && a.hints == 0 && a.tries <= 1;
        s.known = knownAfter(s.known, right, ratesOf(skills()[at->second].kind));
        s.mastered = s.known >= kMastered;
        if (s.mastered && s.masteredAt == 0) s.masteredAt = a.at;
        ++s.attempts;
    }
    progress.pace = Pace{}.calibrated(mendings);
    progress.paced = static_cast<int>(mendings.size());
    for (Meeting& m : meetings) {
        m.close();
        progress.skills.push_back(m.progress);
    }
    return progress;
}

Attempt finishedRun(std::string lesson, std::string run, std::int64_t at) {
    Attempt a;
    a.lesson = std::move(lesson);
    a.run = std::move(run);
    a.what = kFinished;
    a.at = at;
    a.right = true;
    return a;
}

bool isFinishedRun(const Attempt& attempt) {
    return attempt.what == kFinished;
}

SwatchShows showsOf(const Lesson& lesson, const Progress& progress, std::int64_t now) {
    if (progress.finished.count(lesson.id) == 0) {
        return progress.begun.count(lesson.id) != 0 ? SwatchShows::unfinished : SwatchShows::castOn;
    }
    for (const std::string& skill : lesson.skills) {
        const SkillProgress* const s = progress.find(skill);
        if (s != nullptr && s->dueAt(now)) return SwatchShows::pinned;
    }
    return SwatchShows::finished;
}

int levelFor(const SkillProgress& skill) {
    constexpr double kLikely = 0.6;
    constexpr double kFirm = 10;  // days
    constexpr double kVeryFirm = 40;
    if (skill.known < kLikely) return 1;
    if (!skill.mastered) return 2;
    const double stability = skill.review.memory ? skill.review.memory->stability : 0;
    return stability < kFirm ? 3 : stability < kVeryFirm ? 4 : 5;
}

}  // namespace loopmend
