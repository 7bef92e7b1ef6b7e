// SPDX-License-Identifier: MIT
// A page that asks one thing of the cloth.
#include <algorithm>

#include <fmt/format.h>

#include "tutor/steps.h"

namespace loopmend {

namespace {

using Thing = PointTarget::Thing;

bool has(const std::vector<PointTarget>& all, const PointTarget& t) {
    return std::any_of(all.begin(), all.end(), [&](const PointTarget& r) {
        return r.thing == t.thing && (r.entry == t.entry || r.thing == Thing::ball) &&
               (r.spot == PointTarget::Spot::whole || r.spot == t.spot);
    });
}

bool isFound(const SessionState& s, std::size_t target) {
    const std::vector<std::size_t>& found = s.here().found;
    return std::find(found.begin(), found.end(), target) != found.end();
}

std::string headingFor(QuestionKind kind) {
    switch (kind) {
        case QuestionKind::pointAt: return "Point at it";
        case QuestionKind::twoSigns: return "Two signs";
        case QuestionKind::name: return "What is it?";
        case QuestionKind::count: return "Count";
        case QuestionKind::whichSide: return "Which side?";
        case QuestionKind::neck: return "Look at its neck";
        case QuestionKind::mount: return "How does it sit?";
        case QuestionKind::onTop: return "Which is on top?";
        case QuestionKind::willItRun: return "Will it run?";
        case QuestionKind::whenTurned: return "From behind";
        case QuestionKind::trace: return "Follow it";
        case QuestionKind::ifItDrops: return "What if it drops?";
        case QuestionKind::root: return "Where did it begin?";
        case QuestionKind::rungKind: return "Long or short?";
        case QuestionKind::whichPlan: return "Which way?";
        case QuestionKind::written: return "As a pattern says it";
    }
    return "Read it";
}

bool isAnswered(const SessionState& s) {
    const Question* q = askedHere(s);
    if (q == nullptr) return true;
    return q->targets.empty() ? s.here().answered : s.here().found.size() >= q->targets.size();
}

void showAsk(const SessionState& s, Page& page) {
    page.heading = headingFor(s.steps[s.at].question.kind);
    const Question* q = askedHere(s);
    if (q == nullptr) {
        page.paragraphs = {"There is nothing to ask here now."};
        return;
    }
    if (!isAnswered(s)) {
        page.task = q->words;
        page.patternAway = q->kind == QuestionKind::written;
        return;
    }
    page.paragraphs = {q->words};
}

std::vector<Option> askOptions(const SessionState& s) {
    std::vector<Option> options;
    const Question* q = askedHere(s);
    if (q == nullptr || q->answers.empty()) return options;
    for (const QuestionAnswer& answer : q->answers) options.push_back({answer.key, answer.text});
    options.push_back({kCannotTell, "I can't tell yet"});
    return options;
}

Answer answerAsk(const SessionState& s, const std::string& key) {
    if (key == kCannotTell)
        return {ChoiceState::notThis, "That is honest. Come near, turn it over, or take a hint."};
    if (const Question* q = askedHere(s)) {
        for (const QuestionAnswer& answer : q->answers) {
            if (answer.key == key)
                return {answer.right ? ChoiceState::right : ChoiceState::notThis, answer.why};
        }
    }
    return {ChoiceState::notThis, ""};
}

/// What lies there: nothing is said of where to look instead.
std::string thatIs(const Scene& scene, const PointTarget& t) {
    switch (t.thing) {
        case Thing::nothing: return "That is the table. Point at the cloth.";
        case Thing::needle: return "That is the needle.";
        case Thing::tail: return "That is the tail of the cast-on.";
        case Thing::ball: return "That is the yarn to the ball.";
        case Thing::rung: return "That is a rung: a strand with no stitch in it.";
        case Thing::strand: return "That is the bar between two stitches.";
        case Thing::loop:
            return fmt::format("That is {}: {}.", lookWords(scene, t.entry),
                               placeWords(scene.view, scene.places, t.entry));
    }
    return {};
}

void pointAsk(SessionState& s, const PointTarget& t) {
    const Scene scene = sceneNow(s);
    const Question* q = askedHere(s);
    if (q == nullptr || q->targets.empty() || isAnswered(s)) {
        s.said = thatIs(scene, t);
        return;
    }
    StepMemory& m = s.here();
    const bool signs = q->kind == QuestionKind::twoSigns;
    const std::vector<Evidence::Kind> kinds = signs ? signsToBeSeen(scene) : std::vector<Evidence::Kind>();
    const std::optional<Evidence> sign = signs ? signAt(scene, t) : std::nullopt;
    const auto counts = [&](std::size_t i) {
        // The same sign on the other face is another one.
        if (signs) return sign && i < kinds.size() && sign->kind == kinds[i];
        return has(q->targets[i], t);
    };
    for (std::size_t i = 0; i < q->targets.size(); ++i) {
        if (!counts(i)) continue;
        if (isFound(s, i)) {
            s.said = signs ? "That is the same sign again." : "That one is found already.";
            return;
        }
        if (q->inOrder && i != m.found.size()) {
            ++m.misses;
            if (m.first.empty()) m.first = "out-of-order";
            s.said = "It belongs to it, but something comes before it. One after the other.";
            return;
        }
        if (m.first.empty()) m.first = "there";
        m.found.push_back(i);
        Evidence evidence;
        evidence.target = t;
        evidence.words = sign                     ? sign->words
                         : t.thing == Thing::loop ? placeWords(scene.view, scene.places, t.entry)
                         : t.thing == Thing::rung ? "a rung"
                         : t.thing == Thing::ball ? "the yarn to the ball"
                                                  : "the strand between two stitches";
        m.evidence.push_back(std::move(evidence));
        const int left = static_cast<int>(q->targets.size() - m.found.size());
        s.said = left == 0 ? "Yes, that is it." : fmt::format("Yes. {} more.", capital(numberWord(left)));
        return;
    }
    ++m.misses;
    for (const TemptingTarget& tempting : q->tempting) {
        if (!has({tempting.target}, t)) continue;
        if (m.first.empty()) m.first = tempting.rightFor;
        s.said = tempting.why;
        return;
    }
    if (m.first.empty()) m.first = "elsewhere";
    s.said = thatIs(scene, t);
}

std::string hintAsk(const SessionState& s, int rung) {
    const Question* q = askedHere(s);
    if (q == nullptr || isAnswered(s)) return {};
    const auto i = static_cast<std::size_t>(rung - 1);
    return i < q->hints.size() ? q->hints[i] : std::string();
}

void lightAsk(const SessionState& s, int hints, std::vector<PageMark>& marks) {
    const Question* q = askedHere(s);
    if (q == nullptr) return;
    marks.insert(marks.end(), q->about.begin(), q->about.end());
    if (isAnswered(s) || hints < 1) return;
    const auto rung = static_cast<std::size_t>(std::min(hints, 4)) - 1;
    if (rung >= q->lights.size()) return;
    const std::vector<PageMark>& lights = q->lights[rung];
    // Of several things in order, the next one.
    const bool one = rung == 3 && lights.size() == q->targets.size() && lights.size() > 1;
    for (std::size_t i = 0; i < lights.size(); ++i) {
        if (one && isFound(s, i)) continue;
        marks.push_back(lights[i]);
        if (one) break;
    }
}

}  // namespace

const Question* askedHere(const SessionState& s) {
    if (s.kind() != StepKind::ask) return nullptr;
    if (!s.question || s.question->step != s.at) {
        constexpr std::uint64_t kApart = 101;
        const std::uint64_t seed = s.wanted.yarn.seed * kApart + s.at;
        s.question = {s.at, questionOf(s.swatch, sceneNow(s), s.steps[s.at].question, seed)};
    }
    return s.question->asked ? &*s.question->asked : nullptr;
}

StepRules askRules() {
    StepRules rules{showAsk, isAnswered};
    rules.point = pointAsk;
    rules.options = askOptions;
    rules.answer = answerAsk;
    rules.hint = hintAsk;
    rules.light = lightAsk;
    return rules;
}

}  // namespace loopmend
