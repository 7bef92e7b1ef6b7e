// SPDX-License-Identifier: MIT
#include "tutor/lesson_handout_quiz.h"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "tutor/lesson_handout_pictures.h"
#include "tutor/solver.h"
#include "tutor/words.h"

namespace loopmend {

namespace {

constexpr int kMostPages = 200;
constexpr double kQuestionStitchMm = 9;
constexpr std::string_view kOnPaper = "on the picture";

void askAll(Session& session) {
    while (session.page().hasHint && session.hint().rung != 0) {
    }
}

std::vector<EntryId> lit(const Session& session, PageMarkKind kind) {
    std::vector<EntryId> all;
    for (const PageMark& mark : session.marks()) {
        if (mark.kind != kind) continue;
        for (const std::vector<EntryId>* list : {&mark.loops, &mark.rungs, &mark.strands})
            all.insert(all.end(), list->begin(), list->end());
    }
    return all;
}

void pointAt(Session& session, const std::vector<EntryId>& places) {
    for (const EntryId e : places) {
        const Fabric& f = session.fabric();
        if (!f.has(e)) continue;
        const auto thing = f.isLoop(e) ? PointTarget::Thing::loop : PointTarget::Thing::rung;
        const std::string before = session.page().said;
        session.pointAt({thing, e, PointTarget::Spot::whole});
        if (f.isLoop(e) && session.page().evidence.empty() && !session.canGoOn())
            session.pointAt({PointTarget::Thing::strand, e, PointTarget::Spot::whole});
    }
}

std::string sentence(std::string words) {
    if (words.empty()) return words;
    const char last = words.back();
    return last == '.' || last == '?' || last == '!' ? words : words + ".";
}

/// A pencil stands for the pointer: `Point at the bar.` becomes `Mark the bar on the picture.`
std::string onPaper(std::string words) {
    constexpr std::string_view kPoint = "oint at ";
    std::size_t at = words.find(kPoint);
    if (at == std::string::npos || at == 0) return words;
    --at;
    const char* mark = words[at] == 'P' ? "Mark " : "mark ";
    const std::size_t end = words.find_first_of(",.:;?", at);
    if (end == std::string::npos) return words + fmt::format(" Mark it {}.", kOnPaper);
    words.insert(end, fmt::format(" {}", kOnPaper));
    words.replace(at, kPoint.size() + 1, mark);
    constexpr std::string_view kSay = "or say that";
    if (const std::size_t say = words.find(kSay); say != std::string::npos)
        words.replace(say, kSay.size(), "or tick that");
    return words;
}

/// Nothing shines on paper: what is lit is drawn with dashes.
std::string dashed(std::string words) {
    constexpr std::string_view kLit = " lit ";
    for (std::size_t at = words.find(kLit); at != std::string::npos; at = words.find(kLit, at + 1))
        words.replace(at, kLit.size(), " dashed ");
    return words;
}

/// An answer and what is said to it, which often begins with the answer itself.
std::string together(const std::string& answer, const std::string& said) {
    const std::string bare = answer.substr(0, answer.find_last_not_of('.') + 1);
    for (const std::string_view before : {"", "Yes, ", "Yes: "}) {
        if (said.rfind(std::string(before) + bare, 0) == 0) return said;
        std::string small = bare;
        if (!small.empty() && small[0] >= 'A' && small[0] <= 'Z')
            small[0] = static_cast<char>(small[0] - 'A' + 'a');
        if (said.rfind(std::string(before) + small, 0) == 0) return said;
    }
    return said.empty() ? sentence(answer) : fmt::format("{} {}", sentence(answer), said);
}

class Player {
  public:
    Player(const Lesson& lesson, Terms terms, bool mirrored) : session_(lesson, terms, mirrored) {}

    std::vector<PlayedSwatch> play() {
        for (int i = 0; i < kMostPages; ++i) {
            if (all_.empty() || session_.swatch() != at_) begin();
            if (!page() && !solvePage(session_)) break;
            if (session_.done() || !session_.canGoOn()) break;
            session_.next();
        }
        return std::move(all_);
    }

  private:
    void begin() {
        at_ = session_.swatch();
        all_.emplace_back();
        all_.back().wanted = session_.piece();
        all_.back().start = session_.fabric();
        all_.back().facing = session_.facing();
    }

    PlayedSwatch& here() { return all_.back(); }

    /// What the page has for paper. True: it is done with.
    bool page() {
        const Page page = session_.page();
        switch (session_.step()) {
            case StepKind::ask: ask(); break;
            case StepKind::find: find(); break;
            case StepKind::whatHappened: cause(); break;
            case StepKind::choose: way(); break;
            case StepKind::check: count(); break;
            case StepKind::putRight: here().mends = here().mends || !page.task.empty(); break;
            case StepKind::nextTime: here().nextTime = page.paragraphs; break;
            case StepKind::inWool:
                here().inWool = page.paragraphs;
                here().caution = page.caution;
                break;
            case StepKind::makeSafe:
            case StepKind::look: break;
        }
        return session_.canGoOn();
    }

    QuizQuestion opened() const {
        QuizQuestion question;
        const Page& page = session_.page();
        question.words = page.task;
        if (question.words.empty() && !page.paragraphs.empty()) question.words = page.paragraphs.back();
        for (const Choice& choice : page.choices) question.choices.push_back(choice.text);
        question.words = onPaper(std::move(question.words));
        return question;
    }

    void keep(QuizQuestion question) {
        if (!question.words.empty() && !question.answer.empty())
            here().questions.push_back(std::move(question));
    }

    /// Answers one after another, the right one last; what holds, and what can be done too, is written down.
    void choose(QuizQuestion& question) {
        std::vector<std::string> possible;
        const auto n = static_cast<int>(session_.page().choices.size());
        int right = -1;
        for (int i = 0; i < n; ++i) {
            const std::string text = session_.page().choices[static_cast<std::size_t>(i)].text;
            session_.choose(i);
            const std::vector<Choice>& now = session_.page().choices;
            const bool stands =
                i < static_cast<int>(now.size()) && now[static_cast<std::size_t>(i)].text == text;
            const ChoiceState state = stands               ? now[static_cast<std::size_t>(i)].state
                                      : session_.canGoOn() ? ChoiceState::right
                                                           : ChoiceState::notThis;
            const std::string words = together(text, session_.page().said);
            if (state == ChoiceState::right && right < 0) {
                right = i;
                question.answer.insert(question.answer.begin(), words);
                if (!stands) return;  // it goes on to something else
            } else if (state == ChoiceState::possible) {
                possible.push_back("Also possible: " + words);
            }
        }
        if (right >= 0) session_.choose(right);
        question.answer.insert(question.answer.end(), possible.begin(), possible.end());
    }

    void ask() {
        QuizQuestion question = opened();
        const std::vector<PageMark> about = session_.marks();
        if (!about.empty()) {
            std::vector<EntryId> places;
            for (const PageMark& mark : about) {
                for (const std::vector<EntryId>* list : {&mark.loops, &mark.rungs, &mark.strands})
                    places.insert(places.end(), list->begin(), list->end());
            }
            const Fabric& f = session_.fabric();
            question.picture = faceOf(viewAbout(f, places), f, session_.seen(), about, kQuestionStitchMm);
            question.words = dashed(std::move(question.words));
            question.picture->caption = session_.seen() == Side::right ? "The right side" : "The wrong side";
            question.picture->drawing.title = question.words;
        }
        (void)solvePage(session_);
        const Page& page = session_.page();
        for (const Choice& choice : page.choices) {
            if (choice.state == ChoiceState::right) question.answer.push_back(sentence(choice.text));
        }
        if (page.choices.empty()) {
            question.answer = page.evidence;
            for (std::string& words : question.answer) words = sentence(words);
            question.places = lit(session_, PageMarkKind::evidence);
        }
        if (!page.said.empty()) question.answer.push_back(page.said);
        keep(std::move(question));
    }

    void find() {
        QuizQuestion question = opened();
        if (question.words.rfind("Mark it", 0) == 0)
            question.words = "Is there a place that is not as it should be? " + question.words;
        const bool mended = session_.canGoOn();
        askAll(session_);
        question.places = lit(session_, PageMarkKind::next);
        if (question.places.empty()) {
            choose(question);
            if (!mended) keep(std::move(question));
            return;
        }
        pointAt(session_, question.places);
        if (!session_.page().said.empty()) question.answer.push_back(session_.page().said);
        if (question.words.find(kOnPaper) == std::string::npos)
            question.words += fmt::format(" Mark it {}.", kOnPaper);
        if (!mended) keep(std::move(question));
        if (session_.canGoOn() || session_.page().choices.empty()) return;
        QuizQuestion howFar = opened();
        choose(howFar);
        keep(std::move(howFar));
    }

    void cause() {
        QuizQuestion question = opened();
        question.words = "What happened?";
        // The answer first, or the signs are asked for in it.
        (void)solvePage(session_);
        choose(question);
        for (const std::string& sign : session_.page().evidence)
            question.answer.push_back("A sign: " + sentence(sign));
        question.places = lit(session_, PageMarkKind::evidence);
        keep(std::move(question));
    }

    void way() {
        QuizQuestion question = opened();
        question.words = "Which way would you go?";
        choose(question);
        keep(std::move(question));
    }

    void count() {
        session_.look(LookKind::tug);
        session_.turnOver();
        QuizQuestion question = opened();
        const bool asks = !session_.page().choices.empty();
        if (asks) choose(question);
        session_.turnOver();
        if (asks) keep(std::move(question));
    }

    Session session_;
    int at_ = -1;
    std::vector<PlayedSwatch> all_;
};

}  // namespace

std::vector<PlayedSwatch> played(const Lesson& lesson, Terms terms, bool mirrored) {
    return Player(lesson, terms, mirrored).play();
}

}  // namespace loopmend
