// SPDX-License-Identifier: MIT
#include "tutor/session.h"

#include <algorithm>
#include <stdexcept>
#include <utility>

#include <fmt/format.h>

#include "repair/move_words.h"
#include "tutor/judge.h"
#include "tutor/session_state.h"
#include "tutor/steps.h"

namespace loopmend {

namespace {

const StepRules& rules(const SessionState& s) {
    return rulesOf(s.kind());
}

Page makePage(const SessionWhole& whole) {
    const SessionState& s = whole.here();
    const StepRules& r = rules(s);
    Page page;
    r.show(s, page);
    if (!s.steps[s.at].words.empty()) {
        page.paragraphs = {s.steps[s.at].words};
    } else if (s.at == 0 && s.kind() != StepKind::makeSafe && !s.wanted.member.empty()) {
        page.paragraphs.insert(page.paragraphs.begin(), fmt::format("Here is {}.", whose(s)));
    }
    page.paragraphs.erase(std::remove(page.paragraphs.begin(), page.paragraphs.end(), std::string()),
                          page.paragraphs.end());
    if (r.options != nullptr) {
        for (Option& option : r.options(s)) {
            Choice choice{std::move(option.text), ChoiceState::open};
            const std::vector<std::string>& chosen = s.here().chosen;
            if (std::find(chosen.begin(), chosen.end(), option.key) != chosen.end())
                choice.state = r.answer(s, option.key).state;
            page.choices.push_back(std::move(choice));
        }
    }
    for (const Evidence& e : s.here().evidence) page.evidence.push_back(capital(e.words));
    page.said = s.said;
    const int given = hintsHere(s);
    for (int i = 1; i <= given; ++i) {
        std::string words = hintWords(s, i);
        if (!words.empty()) page.hints.push_back(std::move(words));
    }
    page.hasHint = given < kHintRungs && !hintWords(s, given + 1).empty();
    const bool reached = s.at < s.reached || whole.at + 1 < whole.swatches.size();
    page.canGoOn = reached || (r.satisfied(s) && !whole.isLastPage());
    page.canGoBack = s.at > 0 || whole.at > 0;
    page.step = whole.stepsBefore() + static_cast<int>(s.at) + 1;
    page.steps = whole.stepsInAll();
    for (std::vector<std::string>* all : {&page.paragraphs, &page.evidence, &page.hints}) {
        for (std::string& words : *all) words = spelled(std::move(words), s.terms);
    }
    for (Choice& choice : page.choices) choice.text = spelled(std::move(choice.text), s.terms);
    for (std::string* words : {&page.heading, &page.task, &page.said, &page.caution})
        *words = spelled(std::move(*words), s.terms);
    return page;
}

void did(SessionWhole& whole, std::string line) {
    whole.log.push_back(std::move(line));
    whole.here().page.reset();
}

/// The last page has no next: it is done with as soon as what it asks is done.
void afterwards(SessionWhole& whole) {
    if (whole.isLastPage() && isSatisfied(whole.here())) keepAttempt(whole);
}

void afterCloth(SessionState& s) {
    s.clothChanged();
    if (goalReached(s.swatch, s.work)) s.mended = true;
}

/// What is left of the plan when this move is the next of it; none: it is another move.
std::optional<Plan> restOfPlan(const SessionState& s, const Move& move) {
    const Plan* plan = s.plan();
    if (plan == nullptr || plan->moves.empty() || !(plan->moves.front().move == move)) return std::nullopt;
    Plan rest = *plan;
    rest.seconds *= static_cast<double>(rest.moves.size() - 1) / static_cast<double>(rest.moves.size());
    rest.moves.erase(rest.moves.begin());
    // What was warned of before this move was said.
    rest.cautions.erase(std::remove_if(rest.cautions.begin(), rest.cautions.end(),
                                       [](const Caution& caution) { return caution.beforeMove == 0; }),
                        rest.cautions.end());
    for (Caution& caution : rest.cautions) --caution.beforeMove;
    return rest;
}

const Fabric& goalCloth(const SessionState& s) {
    return s.swatch.meantAt(s.standing().goal.rows, s.standing().goal.steps);
}

}  // namespace

Session::Session(const Lesson& lesson, Terms terms, bool mirrored)
    : whole_(std::make_unique<SessionWhole>(lesson, terms, mirrored)) {}
Session::Session(Session&&) noexcept = default;
Session& Session::operator=(Session&&) noexcept = default;
Session::~Session() = default;

const Page& Session::page() const {
    const SessionState& s = whole_->here();
    if (!s.page) s.page = makePage(*whole_);
    return *s.page;
}

std::vector<PageMark> Session::marks() const {
    const SessionState& s = whole_->here();
    std::vector<PageMark> marks;
    PageMark evidence;
    for (const Evidence& e : s.here().evidence) {
        if (!s.fabric().has(e.target.entry)) continue;
        (e.target.thing == PointTarget::Thing::rung     ? evidence.rungs
         : e.target.thing == PointTarget::Thing::strand ? evidence.strands
                                                        : evidence.loops)
            .push_back(e.target.entry);
    }
    evidence.kind = PageMarkKind::evidence;
    if (!evidence.loops.empty() || !evidence.rungs.empty() || !evidence.strands.empty())
        marks.push_back(evidence);
    if (rules(s).light != nullptr) rules(s).light(s, hintsHere(s), marks);
    return marks;
}

StepKind Session::step() const {
    return whole_->here().kind();
}
const Lesson& Session::lesson() const {
    return whole_->lesson;
}
int Session::swatch() const {
    return static_cast<int>(whole_->at);
}
const LessonSwatch& Session::piece() const {
    return whole_->here().wanted;
}
std::vector<Attempt> Session::takeAttempts() {
    return std::exchange(whole_->attempts, {});
}
Terms Session::terms() const {
    return whole_->terms;
}
bool Session::mirrored() const {
    return whole_->mirrored;
}

std::optional<Move> Session::shownMove() const {
    const SessionState& s = whole_->here();
    if (nextIsShown(s) ||
        (hintsHere(s) >= kHintRungs && (s.kind() == StepKind::makeSafe || hintsFollowCloth(s.kind()))))
        return nextMove(s);
    return std::nullopt;
}

const Fabric& Session::fabric() const {
    return whole_->here().fabric();
}
Work& Session::work() {
    return whole_->here().work;
}
const Work& Session::work() const {
    return whole_->here().work;
}
Side Session::facing() const {
    return whole_->here().facing();
}
Side Session::seen() const {
    return whole_->here().seen();
}
std::uint64_t Session::version() const {
    // Going on to another swatch changes the cloth too.
    constexpr int kShift = 40;
    return (static_cast<std::uint64_t>(whole_->at) << kShift) + whole_->here().work.version();
}
const Script& Session::script() const {
    return whole_->here().swatch.script();
}
int Session::rowsAtStart() const {
    return whole_->here().swatch.rows();
}

void Session::pointAt(const PointTarget& target) {
    SessionState& s = whole_->here();
    did(*whole_, pointLine(target));
    PointTarget at = target;
    // What is not there is the table.
    if (at.thing == PointTarget::Thing::loop && (!s.fabric().has(at.entry) || !s.fabric().isLoop(at.entry)))
        at.thing = PointTarget::Thing::nothing;
    if (at.thing == PointTarget::Thing::rung && (!s.fabric().has(at.entry) || s.fabric().isLoop(at.entry)))
        at.thing = PointTarget::Thing::nothing;
    if (at.thing == PointTarget::Thing::strand && !s.fabric().has(at.entry))
        at.thing = PointTarget::Thing::nothing;
    if (rules(s).point != nullptr) rules(s).point(s, at);
    afterwards(*whole_);
}

void Session::choose(int index) {
    SessionState& s = whole_->here();
    did(*whole_, fmt::format("choose {}", index));
    if (rules(s).options == nullptr) return;
    const std::vector<Option> options = rules(s).options(s);
    if (index < 0 || index >= static_cast<int>(options.size())) return;
    const std::string& key = options[static_cast<std::size_t>(index)].key;
    StepMemory& m = s.here();
    const bool before = rules(s).satisfied(s);
    const bool again = std::find(m.chosen.begin(), m.chosen.end(), key) != m.chosen.end();
    if (!again) m.chosen.push_back(key);
    Answer answer = rules(s).answer(s, key);
    s.said = std::move(answer.words);
    if (!before && m.first.empty()) m.first = key;
    if (answer.state == ChoiceState::notThis) {
        if (!before && !again) ++m.misses;
        return;
    }
    m.answered = true;
    if (s.kind() == StepKind::choose) s.way = key;
    afterwards(*whole_);
}

Hint Session::hint() {
    SessionState& s = whole_->here();
    StepMemory& m = s.here();
    const int given = hintsHere(s);
    if (given < kHintRungs && !hintWords(s, given + 1).empty()) {
        m.hints = given + 1;
        m.hintsFor = s.work.version();
        if (!rules(s).satisfied(s)) ++m.hintsInAll;
        ++whole_->hintsGiven;
        did(*whole_, fmt::format("hint {} {}", name(s.kind()), m.hints));
    }
    const int now = hintsHere(s);
    return now == 0 ? Hint{} : Hint{now, spelled(hintWords(s, now), s.terms)};
}

void Session::turnOver() {
    SessionState& s = whole_->here();
    did(*whole_, "turn-over");
    s.turnedOver = !s.turnedOver;
    s.question.reset();
    s.here().turned = true;
    s.said = s.seen() == Side::right ? "The right side faces you." : "The wrong side faces you.";
    afterwards(*whole_);
}

void Session::look(LookKind kind, LoopId at) {
    SessionState& s = whole_->here();
    did(*whole_, lookLine(kind, at));
    if (kind != LookKind::tug) return;
    s.here().tugged = true;
    const Scene scene = sceneNow(s);
    const std::vector<PointTarget> all = roots(scene);
    const bool open =
        !all.empty() && all.front().thing == PointTarget::Thing::loop && wasOpen(scene, all.front().entry);
    s.said =
        open ? (s.standing().open.empty()
                    ? "The cloth opens, and the pin holds. One loop stands free: nothing is drawn through it."
                    : "One loop stands free, and nothing holds it. A harder tug would let it run: pin it.")
             : "Nothing stands free. Every loop is held by the one above it.";
    afterwards(*whole_);
}

bool Session::perform(const Move& move) {
    SessionState& s = whole_->here();
    did(*whole_, "move " + textOf(move));
    std::optional<Plan> rest = restOfPlan(s, move);
    const bool followed = rest.has_value();
    const Before before = beforeMove(s.standing());
    const EntryId newest{s.fabric().entryCount()};
    const bool mending = s.kind() == StepKind::putRight;
    if (mending) s.here().wasShown = s.here().wasShown || nextIsShown(s);
    const MovePrice price = mending ? s.cost.of(Workplace(s.work.knitter()), move) : MovePrice{};
    const Result<LoopId> made = s.work.perform(move);
    if (!made) {
        s.said = refusalOf(s.work, move, made.error(), s.terms);
        return false;
    }
    if (mending) {
        s.here().reckonedSeconds += price.seconds;
        s.cost.done(move, *made, price);
    }
    switch (move.kind) {
        case MoveKind::work:
        case MoveKind::turn:
        case MoveKind::tink:
        case MoveKind::rip: s.turnedOver = false; break;  // done as she holds it to knit
        default: break;
    }
    if (hintsFollowCloth(s.kind())) s.inHand = std::move(rest);
    const bool counts = s.kind() == StepKind::putRight;
    afterCloth(s);
    if (followed) {
        s.said = followedWords(sceneNow(s), move, counts);
        afterwards(*whole_);
        return true;
    }
    const bool nearer = isNearer(s.standing(), before);
    if (!nearer && hintsFollowCloth(s.kind())) ++s.here().strayMoves;
    afterwards(*whole_);
    if (move.kind == MoveKind::work && !nearer) {
        // What was worked is held against the row that it belongs to, whatever lies below it.
        const Standing there = standingOf(s.swatch, s.work, true, false);
        const Scene scene{s.view(), there, s.places(), s.reading(s.seen())};
        s.said = workedWords(scene, newest, s.swatch.meantAt(there.goal.rows, there.goal.steps));
        return true;
    }
    s.said = didWords(sceneNow(s), before, move, *made, goalCloth(s), counts);
    return true;
}

bool Session::undo() {
    SessionState& s = whole_->here();
    did(*whole_, "undo");
    const bool done = s.work.undo();
    if (done) s.inHand.reset();
    if (done) afterCloth(s);
    s.said = done ? "Taken back." : "There is nothing to take back.";
    return done;
}

bool Session::redo() {
    SessionState& s = whole_->here();
    did(*whole_, "redo");
    const bool done = s.work.redo();
    if (done) s.inHand.reset();
    if (done) afterCloth(s);
    s.said = done ? "Done again." : "There is nothing to do again.";
    return done;
}

std::vector<Move> Session::knitRow() const {
    return restOfRow(whole_->here());
}

bool Session::canGoOn() const {
    return page().canGoOn;
}

void Session::next() {
    if (!canGoOn()) return;
    did(*whole_, "next");
    if (isSatisfied(whole_->here())) keepAttempt(*whole_);
    SessionState& s = whole_->here();
    if (s.at + 1 < s.steps.size()) {
        ++s.at;
        s.reached = std::max(s.reached, s.at);
    } else {
        whole_->reach(whole_->at + 1);
    }
    SessionState& now = whole_->here();
    now.said.clear();
    now.page.reset();
    afterwards(*whole_);
}

void Session::back() {
    if (!page().canGoBack) return;
    did(*whole_, "back");
    if (whole_->here().at > 0)
        --whole_->here().at;
    else
        --whole_->at;
    whole_->here().said.clear();
    whole_->here().page.reset();
}

bool Session::done() const {
    return whole_->isLastPage() && isSatisfied(whole_->here());
}

void Session::setTerms(Terms terms) {
    if (terms == whole_->terms) return;
    whole_->terms = terms;
    // What was found out about the cloth is told in words too: everything is told again.
    const Lesson lesson = whole_->lesson;
    auto again = from(lesson, text());
    if (!again) throw std::logic_error(again.error());
    again->whole_->attempts = std::move(whole_->attempts);
    *this = std::move(*again);
}

const std::vector<std::string>& Session::log() const {
    return whole_->log;
}
int Session::hintsGiven() const {
    return whole_->hintsGiven;
}

}  // namespace loopmend
