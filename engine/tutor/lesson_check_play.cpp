// SPDX-License-Identifier: MIT
#include "tutor/lesson_check_play.h"

#include <algorithm>
#include <map>
#include <set>
#include <stdexcept>

#include <fmt/format.h>

#include "tutor/question.h"
#include "tutor/solver.h"
#include "tutor/state.h"
#include "tutor/steps.h"
#include "tutor/words.h"

namespace loopmend {

namespace {

std::vector<StepPlan> stepsOf(const LessonSwatch& swatch) {
    return swatch.steps.empty() ? usualSteps() : swatch.steps;
}

constexpr std::size_t kFewestAnswers = 3;

/// What is wrong with a question; empty: nothing.
std::string aboutQuestion(const Question& q) {
    if (!q.targets.empty()) {
        const bool all = std::all_of(q.targets.begin(), q.targets.end(),
                                     [](const std::vector<PointTarget>& t) { return !t.empty(); });
        return all ? std::string() : "there is nothing here that it could be answered with";
    }
    const auto right =
        std::count_if(q.answers.begin(), q.answers.end(), [](const QuestionAnswer& a) { return a.right; });
    if (right != 1) return fmt::format("it has {} right answers; it must have one", right);
    if (q.answers.size() < kFewestAnswers) return "fewer than two wrong answers could tempt";
    for (std::size_t i = 0; i < q.answers.size(); ++i) {
        for (std::size_t j = 0; j < i; ++j) {
            if (q.answers[i].text == q.answers[j].text)
                return fmt::format("two answers read the same: {}", q.answers[i].text);
        }
    }
    return {};
}

/// One working through, and what was wrong on its pages.
struct Play {
    const Lesson& lesson;
    std::vector<PlacedProblem>& problems;
    std::set<std::string> said;  ///< once for all hands and words
    int swatch = -1;
    std::map<StepKind, int> seen;  ///< pages of each kind in this swatch
    int step = -1;

    void tell(std::string place, std::string words) {
        if (!said.insert(place + words).second) return;
        while (!words.empty() && words.back() == '.') words.pop_back();
        problems.push_back({swatch, step, {std::move(place), std::move(words)}});
    }

    /// Which step of the swatch the page is: the next of its kind.
    void opened(const Session& session) {
        if (session.swatch() != swatch) {
            swatch = session.swatch();
            seen.clear();
        }
        int n = seen[session.step()]++;
        const std::vector<StepPlan> steps = stepsOf(session.piece());
        step = -1;
        for (std::size_t i = 0; i < steps.size(); ++i) {
            if (steps[i].kind == session.step() && n-- == 0) step = static_cast<int>(i);
        }
    }

    void look(const Session& session) {
        const Page& page = session.page();
        int n = wordCount(page.task);
        for (const std::string& p : page.paragraphs) n += wordCount(p);
        if (n > kMostWordsOnPage)
            tell(here(), fmt::format("the page comes to {} words; at most {} are read", n, kMostWordsOnPage));
    }

    std::string here() const { return step < 0 ? placeOfSwatch(swatch) : placeOfStep(swatch, step); }
};

void onPage(const Session& session, bool done, void* with) {
    Play& play = *static_cast<Play*>(with);
    if (!done) play.opened(session);
    play.look(session);
}

void playOnce(Play& play, Terms terms, bool mirrored) {
    play.swatch = -1;
    Session session(play.lesson, terms, mirrored);
    if (solveLesson(session, onPage, &play)) return;
    play.tell(play.here(),
              fmt::format("this page cannot be done{}: {}", mirrored ? " by a left hand" : "",
                          session.page().task.empty() ? session.page().heading : session.page().task));
}

}  // namespace

void checkQuestions(const Lesson& lesson, int i, std::vector<PlacedProblem>& problems) {
    const LessonSwatch& swatch = lesson.swatches[static_cast<std::size_t>(i)];
    const std::vector<StepPlan> steps = stepsOf(swatch);
    const bool asks = std::any_of(steps.begin(), steps.end(),
                                  [](const StepPlan& step) { return step.kind == StepKind::ask; });
    if (!asks) return;
    for (const bool mirrored : {false, true}) {
        SessionState state(lesson, static_cast<std::size_t>(i), Terms::us, mirrored);
        bool sound = true;
        for (int j = 0; j < static_cast<int>(steps.size()); ++j) {
            const StepPlan& step = steps[static_cast<std::size_t>(j)];
            // Later questions are about another cloth: the one that was mended.
            if (step.kind == StepKind::putRight) break;
            if (step.kind != StepKind::ask) continue;
            const auto question = questionOf(state.swatch, sceneNow(state), step.question, swatch.yarn.seed);
            const std::string wrong = question ? aboutQuestion(*question) : question.error();
            if (wrong.empty()) continue;
            problems.push_back({i, j, {placeOfStep(i, j, "question"), wrong}});
            sound = false;
        }
        if (!sound) return;  // the other hand would be told the same
    }
}

void checkByPlaying(const Lesson& lesson, std::vector<PlacedProblem>& problems) {
    Play play{lesson, problems, {}, -1, {}, -1};
    for (const Terms terms : {Terms::us, Terms::uk}) {
        for (const bool mirrored : {false, true}) {
            try {
                playOnce(play, terms, mirrored);
            } catch (const std::exception& broken) {
                play.tell(play.here(), fmt::format("this page could not be worked: {}", broken.what()));
            }
        }
    }
}

}  // namespace loopmend
