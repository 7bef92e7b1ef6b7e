// SPDX-License-Identifier: MIT
#include "tutor/session.h"

#include <algorithm>
#include <array>
#include <stdexcept>
#include <utility>

#include <fmt/format.h>

#include "repair/move_words.h"
#include "tutor/judge.h"
#include "tutor/steps.h"

namespace loopmend {

namespace {

constexpr int kHintRungs = 4;

constexpr std::array<std::string_view, 7> kThings = {"nothing", "loop", "rung", "strand",
                                                     "needle",  "tail", "ball"};
constexpr std::array<std::string_view, 5> kSpots = {"whole", "head", "right-leg", "left-leg", "foot"};
constexpr std::array<std::string_view, 3> kLooks = {"tug", "near", "slant"};

template <std::size_t n>
std::optional<std::size_t> indexOf(const std::array<std::string_view, n>& names, std::string_view name) {
    for (std::size_t i = 0; i < n; ++i) {
        if (names[i] == name) return i;
    }
    return std::nullopt;
}

std::string lineOf(const PointTarget& t) {
    return fmt::format("point {} {} {}", kThings[static_cast<std::size_t>(t.thing)], t.entry.value,
                       kSpots[static_cast<std::size_t>(t.spot)]);
}

const StepRules& rules(const SessionState& s) {
    return rulesOf(s.kind());
}

/// Hints belong to the cloth they were given for: where hands move, each move begins at the first again.
bool hintsFollowCloth(StepKind kind) {
    return kind == StepKind::putRight || kind == StepKind::check;
}

int hintsHere(const SessionState& s) {
    const StepMemory& m = s.here();
    return hintsFollowCloth(s.kind()) && m.hintsFor != s.work.version() ? 0 : m.hints;
}

Page makePage(const SessionState& s) {
    const StepRules& r = rules(s);
    Page page;
    r.show(s, page);
    if (!s.steps[s.at].words.empty()) page.paragraphs = {s.steps[s.at].words};
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
    if (r.hint != nullptr) {
        for (int i = 1; i <= given; ++i) {
            std::string words = r.hint(s, i);
            if (!words.empty()) page.hints.push_back(std::move(words));
        }
        page.hasHint = given < kHintRungs && !r.hint(s, given + 1).empty();
    }
    page.canGoOn = s.at < s.reached || (r.satisfied(s) && s.at + 1 < s.steps.size());
    page.canGoBack = s.at > 0;
    page.step = static_cast<int>(s.at) + 1;
    page.steps = static_cast<int>(s.steps.size());
    for (std::vector<std::string>* all : {&page.paragraphs, &page.evidence, &page.hints}) {
        for (std::string& words : *all) words = spelled(std::move(words), s.terms);
    }
    for (Choice& choice : page.choices) choice.text = spelled(std::move(choice.text), s.terms);
    for (std::string* words : {&page.heading, &page.task, &page.said, &page.caution})
        *words = spelled(std::move(*words), s.terms);
    return page;
}

void did(SessionState& s, std::string line) {
    s.log.push_back(std::move(line));
    s.page.reset();
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
    return rest;
}

const Fabric& goalCloth(const SessionState& s) {
    return s.swatch.meantAt(s.standing().goal.rows, s.standing().goal.steps);
}

std::vector<std::string_view> split(std::string_view line) {
    std::vector<std::string_view> words;
    while (!line.empty()) {
        const std::size_t end = std::min(line.find(' '), line.size());
        if (end > 0) words.push_back(line.substr(0, end));
        line.remove_prefix(std::min(end + 1, line.size()));
    }
    return words;
}

std::optional<int> numberFrom(std::string_view word) {
    const bool minus = !word.empty() && word.front() == '-';
    if (minus) word.remove_prefix(1);
    if (word.empty() || word.size() > 8) return std::nullopt;
    int n = 0;
    for (const char c : word) {
        if (c < '0' || c > '9') return std::nullopt;
        n = n * 10 + (c - '0');
    }
    return minus ? -n : n;
}

/// Does what a line of the log says; false: it says nothing.
bool redoLine(Session& session, std::string_view line) {
    const std::vector<std::string_view> words = split(line);
    if (words.empty()) return false;
    const std::string_view what = words[0];
    if (what == "point" && words.size() == 4) {
        const auto thing = indexOf(kThings, words[1]);
        const auto id = numberFrom(words[2]);
        const auto spot = indexOf(kSpots, words[3]);
        if (!thing || !id || !spot) return false;
        session.pointAt(
            {static_cast<PointTarget::Thing>(*thing), EntryId{*id}, static_cast<PointTarget::Spot>(*spot)});
        return true;
    }
    if (what == "choose" && words.size() == 2) {
        const auto index = numberFrom(words[1]);
        if (!index) return false;
        session.choose(*index);
        return true;
    }
    if (what == "look" && words.size() == 3) {
        const auto kind = indexOf(kLooks, words[1]);
        const auto id = numberFrom(words[2]);
        if (!kind || !id) return false;
        session.look(static_cast<LookKind>(*kind), LoopId{*id});
        return true;
    }
    if (what == "move" && words.size() > 1) {
        const tl::expected<Move, MoveFault> move = moveFrom(line.substr(5));
        if (!move) return false;
        (void)session.perform(*move);
        return true;
    }
    if (words.size() == 3 && what == "hint") {
        (void)session.hint();
        return true;
    }
    if (words.size() != 1) return false;
    if (what == "turn-over")
        session.turnOver();
    else if (what == "undo")
        (void)session.undo();
    else if (what == "redo")
        (void)session.redo();
    else if (what == "next")
        session.next();
    else if (what == "back")
        session.back();
    else
        return false;
    return true;
}

constexpr std::string_view kHead = "loopmend session 1";

}  // namespace

Session::Session(const Lesson& lesson, Terms terms, bool mirrored)
    : state_(std::make_unique<SessionState>(lesson, 0, terms, mirrored)) {}
Session::Session(Session&&) noexcept = default;
Session& Session::operator=(Session&&) noexcept = default;
Session::~Session() = default;

const Page& Session::page() const {
    if (!state_->page) state_->page = makePage(*state_);
    return *state_->page;
}

std::vector<PageMark> Session::marks() const {
    const SessionState& s = *state_;
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
    return state_->kind();
}
const Lesson& Session::lesson() const {
    return state_->lesson;
}
int Session::swatch() const {
    return 0;
}
const LessonSwatch& Session::piece() const {
    return state_->wanted;
}
std::vector<Attempt> Session::takeAttempts() {
    return {};
}
Terms Session::terms() const {
    return state_->terms;
}
bool Session::mirrored() const {
    return state_->mirrored;
}

std::optional<Move> Session::shownMove() const {
    const SessionState& s = *state_;
    if (nextIsShown(s) || (rules(s).hint != nullptr && hintsHere(s) >= kHintRungs &&
                           (s.kind() == StepKind::makeSafe || hintsFollowCloth(s.kind()))))
        return nextMove(s);
    return std::nullopt;
}

const Fabric& Session::fabric() const {
    return state_->fabric();
}
Work& Session::work() {
    return state_->work;
}
const Work& Session::work() const {
    return state_->work;
}
Side Session::facing() const {
    return state_->facing();
}
Side Session::seen() const {
    return state_->seen();
}
std::uint64_t Session::version() const {
    return state_->work.version();
}
const Script& Session::script() const {
    return state_->swatch.script();
}
int Session::rowsAtStart() const {
    return state_->swatch.rows();
}

void Session::pointAt(const PointTarget& target) {
    SessionState& s = *state_;
    did(s, lineOf(target));
    PointTarget at = target;
    // What is not there is the table.
    if (at.thing == PointTarget::Thing::loop && (!s.fabric().has(at.entry) || !s.fabric().isLoop(at.entry)))
        at.thing = PointTarget::Thing::nothing;
    if (at.thing == PointTarget::Thing::rung && (!s.fabric().has(at.entry) || s.fabric().isLoop(at.entry)))
        at.thing = PointTarget::Thing::nothing;
    if (at.thing == PointTarget::Thing::strand && !s.fabric().has(at.entry))
        at.thing = PointTarget::Thing::nothing;
    if (rules(s).point != nullptr) rules(s).point(s, at);
}

void Session::choose(int index) {
    SessionState& s = *state_;
    did(s, fmt::format("choose {}", index));
    if (rules(s).options == nullptr) return;
    const std::vector<Option> options = rules(s).options(s);
    if (index < 0 || index >= static_cast<int>(options.size())) return;
    const std::string& key = options[static_cast<std::size_t>(index)].key;
    StepMemory& m = s.here();
    if (std::find(m.chosen.begin(), m.chosen.end(), key) == m.chosen.end()) m.chosen.push_back(key);
    Answer answer = rules(s).answer(s, key);
    s.said = std::move(answer.words);
    if (answer.state == ChoiceState::notThis) return;
    m.answered = true;
    if (s.kind() == StepKind::choose) s.way = key;
}

Hint Session::hint() {
    SessionState& s = *state_;
    StepMemory& m = s.here();
    const int given = hintsHere(s);
    if (rules(s).hint == nullptr) return {};
    if (given < kHintRungs && !rules(s).hint(s, given + 1).empty()) {
        m.hints = given + 1;
        m.hintsFor = s.work.version();
        ++s.hintsGiven;
        did(s, fmt::format("hint {} {}", name(s.kind()), m.hints));
    }
    const int now = hintsHere(s);
    return now == 0 ? Hint{} : Hint{now, spelled(rules(s).hint(s, now), s.terms)};
}

void Session::turnOver() {
    SessionState& s = *state_;
    did(s, "turn-over");
    s.turnedOver = !s.turnedOver;
    s.here().turned = true;
    s.said = s.seen() == Side::right ? "The right side faces you." : "The wrong side faces you.";
}

void Session::look(LookKind kind, LoopId at) {
    SessionState& s = *state_;
    did(s, fmt::format("look {} {}", kLooks[static_cast<std::size_t>(kind)], at.value));
    if (kind != LookKind::tug) return;
    s.here().tugged = true;
    const Scene scene = sceneNow(s);
    const std::vector<PointTarget> all = roots(scene);
    const bool open = !all.empty() && all.front().thing == PointTarget::Thing::loop &&
                      scene.view.fabric.isLive(all.front().entry);
    s.said =
        open ? (s.standing().open.empty()
                    ? "The cloth opens, and the pin holds. One loop stands free: nothing is drawn through it."
                    : "One loop stands free, and nothing holds it. A harder tug would let it run: pin it.")
             : "Nothing stands free. Every loop is held by the one above it.";
}

bool Session::perform(const Move& move) {
    SessionState& s = *state_;
    did(s, "move " + textOf(move));
    std::optional<Plan> rest = restOfPlan(s, move);
    const bool followed = rest.has_value();
    const Before before = beforeMove(s.standing());
    const EntryId newest{s.fabric().entryCount()};
    const Result<LoopId> made = s.work.perform(move);
    if (!made) {
        s.said = refusalOf(s.work, move, made.error(), s.terms);
        return false;
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
        return true;
    }
    if (move.kind == MoveKind::work && !isNearer(s.standing(), before)) {
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
    SessionState& s = *state_;
    did(s, "undo");
    const bool done = s.work.undo();
    if (done) s.inHand.reset();
    if (done) afterCloth(s);
    s.said = done ? "Taken back." : "There is nothing to take back.";
    return done;
}

bool Session::redo() {
    SessionState& s = *state_;
    did(s, "redo");
    const bool done = s.work.redo();
    if (done) s.inHand.reset();
    if (done) afterCloth(s);
    s.said = done ? "Done again." : "There is nothing to do again.";
    return done;
}

std::vector<Move> Session::knitRow() const {
    return restOfRow(*state_);
}

bool Session::canGoOn() const {
    return page().canGoOn;
}

void Session::next() {
    SessionState& s = *state_;
    if (!canGoOn()) return;
    did(s, "next");
    ++s.at;
    s.reached = std::max(s.reached, s.at);
    s.said.clear();
}

void Session::back() {
    SessionState& s = *state_;
    if (s.at == 0) return;
    did(s, "back");
    --s.at;
    s.said.clear();
}

bool Session::done() const {
    const SessionState& s = *state_;
    return s.at + 1 == s.steps.size() && rules(s).satisfied(s);
}

void Session::setTerms(Terms terms) {
    if (terms == state_->terms) return;
    state_->terms = terms;
    // What was found out about the cloth is told in words too: everything is told again.
    const Lesson lesson = state_->lesson;
    auto again = from(lesson, text());
    if (!again) throw std::logic_error(again.error());
    *this = std::move(*again);
}

std::string Session::text() const {
    const SessionState& s = *state_;
    std::string text = fmt::format("{}\nlesson {}\nterms {}\nhands {}\n", kHead, s.lesson.id,
                                   s.terms == Terms::us ? "us" : "uk", s.mirrored ? "left" : "right");
    for (const std::string& line : s.log) text += line + "\n";
    return text;
}

tl::expected<Session, std::string> Session::from(const Lesson& lesson, std::string_view text) {
    std::vector<std::string_view> lines;
    while (!text.empty()) {
        const std::size_t end = std::min(text.find('\n'), text.size());
        lines.push_back(text.substr(0, end));
        text.remove_prefix(std::min(end + 1, text.size()));
    }
    const auto wrong = [](std::string words) { return tl::unexpected<std::string>(std::move(words)); };
    if (lines.size() < 4 || lines[0] != kHead)
        return wrong("this is no saved lesson, or one of a newer program");
    if (lines[1] != "lesson " + lesson.id) return wrong("this was saved in another lesson");
    if (lines[2] != "terms us" && lines[2] != "terms uk")
        return wrong("line 3 should say whose words are used");
    if (lines[3] != "hands left" && lines[3] != "hands right")
        return wrong("line 4 should say whose hands they are");
    Session session(lesson, lines[2] == "terms uk" ? Terms::uk : Terms::us, lines[3] == "hands left");
    for (std::size_t i = 4; i < lines.size(); ++i) {
        if (!redoLine(session, lines[i])) return wrong(fmt::format("line {} means nothing here", i + 1));
    }
    return session;
}

const std::vector<std::string>& Session::log() const {
    return state_->log;
}
int Session::hintsGiven() const {
    return state_->hintsGiven;
}

}  // namespace loopmend
