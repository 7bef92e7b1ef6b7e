// SPDX-License-Identifier: MIT
#include "tutor/lesson_check.h"

#include <algorithm>
#include <set>
#include <stdexcept>
#include <string_view>

#include <fmt/format.h>

#include "fault/catalogue.h"
#include "fault/knit_with.h"
#include "pattern/counts.h"
#include "pattern/parse.h"
#include "reading/counts.h"
#include "reading/read.h"
#include "repair/uneven.h"
#include "tutor/lesson_check_play.h"
#include "tutor/skills.h"
#include "tutor/standing.h"
#include "tutor/swatch.h"
#include "tutor/words.h"

namespace loopmend {

namespace {

constexpr std::size_t kMostHints = 4;

std::string withoutStop(std::string words) {
    while (!words.empty() && (words.back() == '.' || words.back() == ' ')) words.pop_back();
    return words;
}

bool isId(std::string_view id) {
    return !id.empty() && id.front() != '-' && id.back() != '-' &&
           std::all_of(id.begin(), id.end(),
                       [](char c) { return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '-'; });
}

/// The known skill that shares most letters with what was written, from both ends.
std::string_view nearestSkill(std::string_view id) {
    std::string_view nearest;
    std::size_t best = 3;  // fewer letters in common say nothing
    for (const Skill& skill : skills()) {
        const std::size_t most = std::min(skill.id.size(), id.size());
        std::size_t head = 0;
        while (head < most && skill.id[head] == id[head]) ++head;
        std::size_t tail = 0;
        while (tail + head < most && skill.id[skill.id.size() - 1 - tail] == id[id.size() - 1 - tail]) ++tail;
        if (head + tail > best) {
            best = head + tail;
            nearest = skill.id;
        }
    }
    return nearest;
}

std::string noSuchSkill(std::string_view id) {
    const std::string_view nearest = nearestSkill(id);
    return nearest.empty() ? fmt::format("there is no skill {}", id)
                           : fmt::format("there is no skill {}; perhaps {}", id, nearest);
}

/// Whether an eye could tell them apart from this side.
bool looksDifferent(const Reading& a, const Reading& b) {
    if (a.rows.size() != b.rows.size()) return true;
    for (std::size_t r = 0; r < a.rows.size(); ++r) {
        const std::vector<Cell>& one = a.rows[r].cells;
        const std::vector<Cell>& other = b.rows[r].cells;
        if (one.size() != other.size()) return true;
        for (std::size_t i = 0; i < one.size(); ++i) {
            if (!looksAlike(one[i].symbol, other[i].symbol)) return true;
        }
    }
    return false;
}

bool shows(const Fabric& meant, const Fabric& actual) {
    if (!openLoops(actual).empty()) return true;
    for (const Side side : {Side::right, Side::wrong}) {
        const Reading as = readFrom(meant, side);
        const Reading is = readFrom(actual, side);
        if (looksDifferent(as, is) || liveStitches(as) != liveStitches(is)) return true;
    }
    for (std::int32_t i = 0; i < actual.joinCount(); ++i) {  // its edge winds round the needle
        if (i >= meant.joinCount() || actual[JoinId{i}].twist != meant[JoinId{i}].twist) return true;
    }
    return !unevenIn(meant, actual, pairUp(meant, actual)).none();
}

class Checker {
  public:
    explicit Checker(const Lesson& lesson) : lesson_(lesson) {}

    std::vector<LessonProblem> check() {
        head();
        for (int i = 0; i < static_cast<int>(lesson_.swatches.size()); ++i) swatch(i);
        if (lesson_.swatches.empty()) add(-1, -1, "swatches", "a lesson has at least one swatch");
        if (knits_ && !lesson_.swatches.empty()) checkByPlaying(lesson_, problems_);
        std::stable_sort(problems_.begin(), problems_.end(),
                         [](const PlacedProblem& a, const PlacedProblem& b) {
                             return a.swatch != b.swatch ? a.swatch < b.swatch : a.step < b.step;
                         });
        std::vector<LessonProblem> all;
        for (PlacedProblem& p : problems_) all.push_back(std::move(p.problem));
        return all;
    }

  private:
    void add(int swatch, int step, std::string place, std::string words) {
        problems_.push_back({swatch, step, {std::move(place), withoutStop(std::move(words))}});
    }

    void head() {
        if (!isId(lesson_.id))
            add(-1, -1, "id", "must be lower-case words, digits and hyphens, as a-stitch-that-ran");
        if (lesson_.title.empty()) add(-1, -1, "title", "must not be empty");
        skillIds("skills", lesson_.skills);
        skillIds("needs", lesson_.needs);
        for (std::size_t i = 0; i < lesson_.needs.size(); ++i) {
            const std::string& need = lesson_.needs[i];
            if (std::find(lesson_.skills.begin(), lesson_.skills.end(), need) != lesson_.skills.end())
                add(-1, -1, fmt::format("needs[{}]", i),
                    fmt::format("{} is taught here, so it cannot be needed", need));
        }
        written(-1, -1, "about", lesson_.about);
    }

    void skillIds(std::string_view name, const std::vector<std::string>& ids) {
        std::set<std::string_view> seen;
        for (std::size_t i = 0; i < ids.size(); ++i) {
            const std::string place = fmt::format("{}[{}]", name, i);
            if (findSkill(ids[i]) == nullptr)
                add(-1, -1, place, noSuchSkill(ids[i]));
            else if (!seen.insert(ids[i]).second)
                add(-1, -1, place, fmt::format("{} stands here twice", ids[i]));
        }
    }

    /// The author's own words: short, whole, and in a knitter's words.
    void written(int swatch, int step, const std::string& place, const std::string& words) {
        const int n = wordCount(words);
        if (n > kMostWordsOnPage)
            add(swatch, step, place,
                fmt::format("these are {} words; a page has at most {}", n, kMostWordsOnPage));
        const bool isPattern = words.find("; rep from *") != std::string::npos;
        if (!isPattern && std::count(words.begin(), words.end(), '*') % 2 != 0)
            add(swatch, step, place, "an asterisk stands alone; a trade word stands between two: *rung*");
        for (const Fault* fault : catalogue()) {
            if (fault->id.find('_') != std::string_view::npos && words.find(fault->id) != std::string::npos)
                add(swatch, step, place,
                    fmt::format("{} is no knitter's word; say {}", fault->id, name(*fault, Terms::us)));
        }
    }

    void swatch(int i) {
        const LessonSwatch& s = lesson_.swatches[static_cast<std::size_t>(i)];
        const std::size_t before = problems_.size();
        pattern(i, s);
        for (std::size_t f = 0; f < s.faults.size(); ++f) {
            const std::string& id = s.faults[f].id;
            if (findFault(id) == nullptr)
                add(i, -1, placeOfSwatch(i, fmt::format("faults[{}].id", f)),
                    fmt::format("there is no mistake {}; perhaps {}", id, nearestFault(id)));
        }
        steps(i, s);
        if (problems_.size() == before || !patternProblem_) {
            cloth(i, s);
            return;
        }
        // What keeps the rows from being worked was told; there is nothing to play then.
        Lesson alone;
        alone.swatches = {s};
        knits_ = knits_ && knits(alone).has_value();
    }

    void pattern(int i, const LessonSwatch& s) {
        patternProblem_ = false;
        if (s.pattern.empty()) return;
        const CheckReport report = loopmend::check(parse(s.pattern), s.stitches);
        for (const Problem& p : report.problems) {
            patternProblem_ = true;
            add(i, -1, placeOfSwatch(i, "pattern"),
                fmt::format("line {}, column {}: {}", p.line, p.column, p.message));
        }
    }

    void steps(int i, const LessonSwatch& s) {
        for (int j = 0; j < static_cast<int>(s.steps.size()); ++j) {
            const StepPlan& step = s.steps[static_cast<std::size_t>(j)];
            written(i, j, placeOfStep(i, j, "words"), step.words);
            if (step.hints.size() > kMostHints)
                add(i, j, placeOfStep(i, j, "hints"),
                    fmt::format("there are {} hints; they have at most {} rungs", step.hints.size(),
                                kMostHints));
            for (std::size_t h = 0; h < step.hints.size(); ++h)
                written(i, j, placeOfStep(i, j, fmt::format("hints[{}]", h)), step.hints[h]);
            if (!step.skill.empty() && findSkill(step.skill) == nullptr)
                add(i, j, placeOfStep(i, j, "skill"), noSuchSkill(step.skill));
            const QuestionWanted& q = step.question;
            if (step.kind != StepKind::ask && (!q.of.empty() || q.row != 0 || q.stitch != 0))
                add(i, j, placeOfStep(i, j, "question"), "only an \"ask\" step has a question");
        }
    }

    /// What can only be said of the cloth itself.
    void cloth(int i, const LessonSwatch& s) {
        const std::size_t before = problems_.size();
        try {
            const Swatch cloth(s, Terms::us, false);
            faults(i, s, cloth);
        } catch (const std::invalid_argument& problem) {
            blame(i, s, problem.what());
            return;
        } catch (const std::exception& problem) {
            add(i, -1, placeOfSwatch(i), fmt::format("it cannot be knitted: {}", problem.what()));
            knits_ = false;
            return;
        }
        if (problems_.size() > before) return;
        repairs(i, s);
        checkQuestions(lesson_, i, problems_);
    }

    /// The fault that keeps the cloth from being knitted; else the cloth itself.
    void blame(int i, const LessonSwatch& s, const std::string& why) {
        knits_ = false;
        for (std::size_t f = 0; f < s.faults.size(); ++f) {
            if (findFault(s.faults[f].id) == nullptr) return;  // told already
            LessonSwatch alone = s;
            alone.faults = {s.faults[f]};
            alone.stitchesOfRow = 0;
            try {
                const Swatch cloth(alone, Terms::us, false);
            } catch (const std::invalid_argument& problem) {
                add(i, -1, placeOfSwatch(i, fmt::format("faults[{}]", f)), problem.what());
                return;
            }
        }
        add(i, -1, placeOfSwatch(i), fmt::format("it cannot be knitted: {}", why));
    }

    /// Each mistake leaves something to be seen or counted, and the diagnosis finds it. Several at once are
    /// beyond it: each is then tried alone.
    void faults(int i, const LessonSwatch& s, const Swatch& all) {
        for (std::size_t f = 0; f < s.faults.size(); ++f) {
            const std::string place = placeOfSwatch(i, fmt::format("faults[{}]", f));
            LessonSwatch one = s;
            one.faults = {s.faults[f]};
            Swatch alone(one, Terms::us, false);
            const Explanations& story = s.faults.size() == 1 ? all.story() : alone.story();
            if (story.nothingWrong) {
                add(i, -1, place, "the cloth comes out as it was meant; choose another place for it");
                continue;
            }
            const std::vector<std::string> found = alone.rightFaults();
            const bool explained = !story.explanations.empty() &&
                                   std::find(found.begin(), found.end(), s.faults[f].id) != found.end();
            if (!explained) {
                add(i, -1, place,
                    story.explanations.empty()
                        ? std::string("from the cloth nobody can say that it was this; choose another place, "
                                      "or another way of going on after it")
                        : fmt::format("the cloth tells of another mistake: {}",
                                      story.explanations.front().faults.front().id));
            }
            const Knitting actual = alone.takeActual();
            if (!shows(alone.meantAt(alone.rows()), *actual.fabric))
                add(i, -1, place,
                    "it can be seen from neither side, nor counted; choose another place for it");
        }
    }

    /// Each once, the cheapest first.
    static std::string waysThatCouldBeAskedFor(LessonSwatch s) {
        s.repairs.clear();
        for (int family = 0; family < kPlanFamilies; ++family)
            s.repairs.emplace_back(nameOf(static_cast<PlanFamily>(family)));
        Swatch cloth(s, Terms::us, false);
        Work work(cloth.takeActual());
        std::vector<std::string_view> names;
        for (const Plan& plan : standingOf(cloth, work, false).plans) {
            const std::string_view name = nameOf(plan.family);
            if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(name);
        }
        return fmt::format("{}", fmt::join(names, ", "));
    }

    void repairs(int i, const LessonSwatch& s) {
        if (s.repairs.empty()) return;
        Swatch cloth(s, Terms::us, false);
        Work work(cloth.takeActual());
        const Standing standing = standingOf(cloth, work, false);
        for (std::size_t r = 0; r < s.repairs.size(); ++r) {
            const bool isWay =
                std::any_of(standing.plans.begin(), standing.plans.end(),
                            [&](const Plan& plan) { return nameOf(plan.family) == s.repairs[r]; });
            if (isWay) continue;
            const std::string ways = waysThatCouldBeAskedFor(s);
            add(i, -1, placeOfSwatch(i, fmt::format("repairs[{}]", r)),
                fmt::format("there is no such way to mend it as {}; there is {}", s.repairs[r],
                            ways.empty() ? "none" : ways));
        }
    }

    const Lesson& lesson_;
    std::vector<PlacedProblem> problems_;
    bool knits_ = true;
    bool patternProblem_ = false;
};

}  // namespace

std::string placeOfSwatch(int swatch, std::string_view within) {
    return fmt::format("swatches[{}]{}{}", swatch, within.empty() ? "" : ".", within);
}

std::string placeOfStep(int swatch, int step, std::string_view within) {
    return placeOfSwatch(swatch, fmt::format("steps[{}]{}{}", step, within.empty() ? "" : ".", within));
}

std::vector<LessonProblem> problemsOf(const Lesson& lesson) {
    return Checker(lesson).check();
}

std::vector<LessonProblem> problemsOf(const std::vector<Lesson>& course) {
    std::vector<LessonProblem> problems;
    std::set<std::string_view> ids;
    std::set<std::string_view> taught;
    for (std::size_t i = 0; i < course.size(); ++i) {
        const Lesson& lesson = course[i];
        if (!ids.insert(lesson.id).second)
            problems.push_back(
                {fmt::format("lessons[{}].id", i), fmt::format("{} is there twice", lesson.id)});
        for (std::size_t n = 0; n < lesson.needs.size(); ++n) {
            if (taught.count(lesson.needs[n]) == 0)
                problems.push_back({fmt::format("lessons[{}].needs[{}]", i, n),
                                    fmt::format("{} needs {}, and no lesson before it teaches that",
                                                lesson.id, lesson.needs[n])});
        }
        const std::set<std::string_view> here(lesson.skills.begin(), lesson.skills.end());
        for (std::size_t k = 0; k < lesson.skills.size(); ++k) {
            const Skill* skill = findSkill(lesson.skills[k]);
            if (skill == nullptr) continue;  // the lesson's own problem
            for (const std::string_view need : skill->needs) {
                if (taught.count(need) == 0 && here.count(need) == 0)
                    problems.push_back(
                        {fmt::format("lessons[{}].skills[{}]", i, k),
                         fmt::format("{} teaches {}, and nothing before it teaches {}, which that needs",
                                     lesson.id, lesson.skills[k], need)});
            }
        }
        taught.insert(here.begin(), here.end());
    }
    return problems;
}

}  // namespace loopmend
