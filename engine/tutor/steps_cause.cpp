// SPDX-License-Identifier: MIT
// The pages of the head: what happened, and which way to go.
#include <algorithm>

#include <fmt/format.h>

#include "diagnosis/words.h"
#include "fault/catalogue.h"
#include "fault/draw.h"
#include "fault/severity.h"
#include "tutor/steps.h"
#include "tutor/ways.h"

namespace loopmend {

namespace {

constexpr std::size_t kWrongAnswers = 2;

bool contains(const std::vector<std::string>& all, std::string_view id) {
    return std::find(all.begin(), all.end(), id) != all.end();
}

/// Always in the same order for the same lesson, in no order that tells.
void mix(std::vector<Option>& options, std::uint64_t seed) {
    Seeded dice(seed);
    for (std::size_t i = options.size(); i > 1; --i)
        std::swap(options[i - 1], options[static_cast<std::size_t>(dice.below(static_cast<int>(i)))]);
}

// ---- what happened?

int signsWanted(const SessionState& s) {
    return std::min<int>(2, static_cast<int>(signsToBeSeen(sceneNow(s)).size()));
}

int signsFound(const SessionState& s) {
    return static_cast<int>(s.here().evidence.size());
}

/// Mistakes that she has not named yet.
int causesLeft(const SessionState& s) {
    int left = 0;
    for (const std::vector<std::string>& cause : s.swatch.causes()) {
        left += std::none_of(cause.begin(), cause.end(),
                             [&](const std::string& id) { return contains(s.here().chosen, id); })
                    ? 1
                    : 0;
    }
    return left;
}

void showCause(const SessionState& s, Page& page) {
    page.heading = "What happened?";
    const int lack = signsWanted(s) - signsFound(s);
    page.paragraphs = {s.mended && !s.startStanding.asMeant ? "It is put right. What had happened to it?"
                       : signsWanted(s) == 1
                           ? "Cloth tells how a mistake came about, if you let it show you the sign."
                           : "Cloth tells how a mistake came about, if you let it show you two signs."};
    page.task = lack > 0 ? fmt::format("Point at {} that tell you, and choose.", many(lack, "sign", "signs"))
                : causesLeft(s) == 0 && s.here().answered ? ""
                                                          : "Choose what happened.";
    if (lack == 1) page.task = "Point at one more sign, and choose.";
    if (lack == 1 && signsWanted(s) == 1) page.task = "Point at the sign that tells you, and choose.";
    const int causes = static_cast<int>(s.swatch.causes().size());
    if (causes > 1 && causesLeft(s) > 0)
        page.paragraphs.push_back(causesLeft(s) == causes
                                      ? fmt::format("{} things happened here.", capital(numberWord(causes)))
                                      : std::string("One more thing happened here."));
}

std::vector<Option> causeOptions(const SessionState& s) {
    const std::vector<std::string> right = s.swatch.rightFaults();
    std::vector<Option> options;
    const auto offer = [&](std::string_view id) {
        const Fault* fault = findFault(id);
        if (fault == nullptr) return false;
        const std::string text = spelled(std::string(fault->cause), s.terms);
        for (const Option& o : options) {
            if (o.text == text || o.key == id) return false;
        }
        options.push_back({std::string(id), text});
        return true;
    };
    const Fault* truth = right.empty() ? nullptr : findFault(right.front());
    for (const std::vector<std::string>& cause : s.swatch.causes()) offer(cause.front());
    // What tempts: what it is easily taken for; then what else befalls such cloth.
    const std::size_t wanted = options.size() + kWrongAnswers;
    if (truth != nullptr) {
        for (const std::string& id : s.swatch.takenFor()) {
            if (options.size() < wanted && !contains(right, id)) offer(id);
        }
    }
    for (const std::vector<const Fault*>& faults : {lessonFaults(), catalogue()}) {
        for (const Fault* fault : faults) {
            if (options.size() >= wanted) break;
            const bool near = truth == nullptr || fault->family == truth->family;
            const bool alike =
                truth != nullptr && signWords(fault->id, s.terms) == signWords(truth->id, s.terms);
            if (near && !alike && !contains(right, fault->id)) offer(fault->id);
        }
    }
    mix(options, s.wanted.yarn.seed);
    options.push_back({kNothingWrong, "Nothing is wrong."});
    options.push_back({kCannotTell, "I can't tell yet."});
    return options;
}

std::string nameWords(const std::string& id, Terms terms) {
    const Fault* fault = findFault(id);
    return fault == nullptr ? std::string() : spelled(std::string(name(*fault, terms)), terms);
}

Answer answerCause(const SessionState& s, const std::string& key) {
    const std::vector<std::string> right = s.swatch.rightFaults();
    const bool sound = s.swatch.story().nothingWrong;
    if (key == kCannotTell)
        return {ChoiceState::notThis,
                "That is an honest answer. Turn it over, tug it, and let a hint show you where."};
    if (key == kNothingWrong) {
        if (sound) return {ChoiceState::right, "So it is. Every stitch is as it was meant."};
        return {ChoiceState::notThis,
                s.standing().open.empty()
                    ? "It may look so from here. One place is not as it was meant."
                    : "A loop stands open, and what is open can run. Something did happen."};
    }
    if (contains(right, key)) {
        const int lack = signsWanted(s) - signsFound(s);
        std::string words = fmt::format("Yes. Knitters call it *{}*.", nameWords(key, s.terms));
        if (causesLeft(s) > (contains(s.here().chosen, key) ? 0 : 1))
            return {ChoiceState::right, words + " That is not all: something else happened too."};
        if (lack > 0)
            words += lack == 1 ? " Which sign shows it? Point at one more."
                               : " Which signs show it? Point at two.";
        return {ChoiceState::right, words};
    }
    const std::string sign = signWords(key, s.terms);
    if (!right.empty() && sign == signWords(right.front(), s.terms))
        return {ChoiceState::notThis,
                fmt::format("A *{}* looks much the same, but lies elsewhere. Look where this one lies.",
                            nameWords(key, s.terms))};
    return {ChoiceState::notThis,
            sign.empty() ? fmt::format("A *{}* looks otherwise. Look again.", nameWords(key, s.terms))
                         : fmt::format("That leaves another sign. {} Is that what you see?", sign)};
}

bool causeKnown(const SessionState& s) {
    return causesLeft(s) == 0 && s.here().answered && signsFound(s) >= signsWanted(s);
}

void pointCause(SessionState& s, const PointTarget& t) {
    const Scene scene = sceneNow(s);
    std::optional<Evidence> sign = signAt(scene, t);
    if (!sign) {
        if (!causeKnown(s) && t.thing != PointTarget::Thing::nothing) ++s.here().misses;
        s.said = aboutTarget(scene, t);
        return;
    }
    std::vector<Evidence>& all = s.here().evidence;
    const bool known =
        std::any_of(all.begin(), all.end(), [&](const Evidence& e) { return e.kind == sign->kind; });
    s.said = known ? "That is the same sign. Is there another kind, perhaps on the other face?"
                   : fmt::format("That counts: {}.", sign->words);
    if (!known) all.push_back(std::move(*sign));
}

std::string hintCause(const SessionState& s, int rung) {
    const std::vector<std::string> right = s.swatch.rightFaults();
    if (right.empty()) return rootHint(s, rung);
    const Fault* fault = findFault(right.front());
    const std::string sign = signWords(right.front(), s.terms);
    switch (rung) {
        case 1: return s.mended ? "Think back to how it lay there at first." : rootHint(s, 1);
        case 2: return sign.empty() ? rootHint(s, 2) : sign;
        case 3: return "Each mistake leaves its own sign, and no other leaves the same.";
        default: return fault == nullptr ? std::string() : fmt::format("It was this: {}", fault->cause);
    }
}

// ---- which way?

bool wayChosen(const SessionState& s) {
    // Where no way is known none can be chosen.
    const bool none = s.standing().plans.empty() && !s.standing().asMeant;
    return s.here().answered || none || (s.mended && !s.startStanding.asMeant);
}

void showWays(const SessionState& s, Page& page) {
    page.heading = "Which way?";
    page.paragraphs = {s.mended && !s.startStanding.asMeant
                           ? "It is mended already."
                           : "There is more than one way to put it right, and sometimes it may stay."};
    page.task = wayChosen(s) ? "" : "Choose the way you would go.";
    if (s.standing().plans.empty() && !s.standing().asMeant)
        page.paragraphs = {"From here no short way of mending it by hand is known. What is safe may wait."};
}

/// What tempts where nothing is wrong.
constexpr const char* kLetRun = "let-one-run";
constexpr const char* kTakeBack = "take-a-row-back";

std::vector<Option> wayOptions(const SessionState& s) {
    std::vector<Option> options;
    if (s.startStanding.asMeant && s.standing().asMeant) {
        options.push_back({kLetRun, "Let one column run down, and hook it up again."});
        options.push_back({kTakeBack, "Take back the last row, and knit it again."});
    }
    for (const Plan& plan : s.standing().plans)
        options.push_back({std::string(nameOf(plan.family)), wayWords(s.swatch, sceneNow(s), plan)});
    mix(options, s.wanted.yarn.seed + 1);
    options.push_back({kLeaveIt, "Leave it as it is."});
    options.push_back({kNothingWrong, "Nothing is wrong."});
    options.push_back({kCannotTell, "I can't tell yet."});
    return options;
}

int liveCount(const Fabric& f) {
    int n = 0;
    for (HeldId h = f[f.needle()].first; h; h = f[h].next) n += f[h].state.hanging == 0 ? 1 : 0;
    return n;
}

/// The lesson goes on to mend it; else it may as well be left.
bool isMended(const SessionState& s) {
    return std::any_of(s.steps.begin(), s.steps.end(),
                       [](const StepPlan& step) { return step.kind == StepKind::putRight; });
}

Answer answerWay(const SessionState& s, const std::string& key) {
    const Standing& standing = s.standing();
    if (key == kCannotTell)
        return {ChoiceState::notThis, "Then look once more. A choice can wait; it is safe where it is."};
    if (standing.asMeant && s.startStanding.asMeant) {
        if (key == kNothingWrong) return {ChoiceState::right, "So it is: every stitch is as it was meant."};
        if (key == kLeaveIt)
            return {ChoiceState::possible, "Nothing is lost by that: there is nothing to be mended."};
        return {ChoiceState::notThis, "Which place would you mend? Every stitch looks like its neighbors."};
    }
    if (standing.asMeant)
        return {ChoiceState::right, key == kNothingWrong || key == kLeaveIt
                                        ? "Right: there is nothing left to mend."
                                        : "There is nothing left to mend now."};
    const bool open = somethingCameOut(sceneNow(s));
    if (key == kNothingWrong)
        return {ChoiceState::notThis,
                open ? "One loop is held by nothing but a pin, or by nothing at all."
                     : "One place is not as it was meant. It may still be allowed to stay."};
    if (key == kLeaveIt) {
        if (open)
            return {ChoiceState::notThis,
                    "A pin holds it for today. Left so, the loop goes on running when the pin is gone."};
        const Fabric& meant = s.swatch.meantAt(standing.goal.rows, standing.goal.steps);
        const int off = liveCount(s.fabric()) - liveCount(meant);
        if (off != 0)
            return {ChoiceState::notThis,
                    fmt::format("The needle has {} than it should: the rows above would not come out.",
                                fmt::format("{} {}", many(off < 0 ? -off : off, "stitch", "stitches"),
                                            off < 0 ? "fewer" : "more"))};
        if (!standing.wound.empty())
            return {ChoiceState::notThis,
                    "A ring that winds about its needle never lies flat, however long it grows."};
        if (changesSize(meant, s.fabric()))
            return {ChoiceState::possible,
                    "You may: the count is right and nothing can run. But it does not come out as large as "
                    "it was "
                    "meant: lay it on a piece that does, before you decide."};
        if (!isMended(s))
            return {
                ChoiceState::right,
                "You may. The count is right and nothing can run: it is looks only, and few will ever look."};
        return {ChoiceState::possible,
                "You may. The count is right and nothing can run: it is looks only. Here we mend it, to "
                "learn how."};
    }
    for (const Plan& plan : standing.plans) {
        if (nameOf(plan.family) != key) continue;
        const Plan& first = *wellChosenPlan(s.wanted, standing);
        if (&plan != &first && contains(s.wanted.repairs, key))
            return {ChoiceState::right, plan.seconds < first.seconds ? "Yes: that is a good way, and quicker."
                                                                     : "Yes: that is a good way too."};
        if (&plan == &first) {
            const bool quickest = std::all_of(standing.plans.begin(), standing.plans.end(),
                                              [&](const Plan& p) { return p.seconds >= first.seconds; });
            std::string words = quickest                        ? "Yes: that is the shortest way home."
                                : first.leaves == Leaves::exact ? "Yes: that leaves no trace."
                                                                : "Yes: that is a good way.";
            if (first.leaves == Leaves::tight) words += " It will be a little tight.";
            if (first.leaves > Leaves::tight) words += " It will show a little to whoever looks for it.";
            return {ChoiceState::right, std::move(words)};
        }
        std::string words = plan.seconds < first.seconds ? "That works too, and is quicker."
                                                         : "That works too, and takes longer.";
        words += plan.leaves == Leaves::exact   ? " Go either way."
                 : plan.leaves == Leaves::tight ? " The mended stitches will be tight."
                                                : " It will show a little.";
        return {ChoiceState::possible, std::move(words)};
    }
    return {ChoiceState::notThis, ""};
}

void pointWay(SessionState& s, const PointTarget& t) {
    s.said = aboutTarget(sceneNow(s), t);
}

std::string hintWay(const SessionState& s, int rung) {
    const Plan* plan = wellChosenPlan(s.wanted, s.standing());
    if (plan == nullptr) return rung < 4 ? rootHint(s, rung) : std::string("Say that nothing is wrong.");
    switch (rung) {
        case 1: return rootHint(s, 1);
        case 2:
            return plan->family == PlanFamily::column
                       ? "Only one column is touched by it. All its neighbors are sound."
                       : "More than one column is touched by it.";
        case 3: return "The fewer stitches come undone, the fewer have to be made again.";
        default: return wayWords(s.swatch, sceneNow(s), *plan);
    }
}

}  // namespace

const Plan* wellChosenPlan(const LessonSwatch& wanted, const Standing& standing) {
    for (const Plan& plan : standing.plans) {
        if (contains(wanted.repairs, nameOf(plan.family))) return &plan;
    }
    return standing.best();
}

StepRules whatHappenedRules() {
    StepRules rules{showCause, causeKnown};
    rules.point = pointCause;
    rules.options = causeOptions;
    rules.answer = answerCause;
    rules.hint = hintCause;
    rules.light = lightRoot;
    return rules;
}

StepRules chooseRules() {
    StepRules rules{showWays, wayChosen};
    rules.point = pointWay;
    rules.options = wayOptions;
    rules.answer = answerWay;
    rules.hint = hintWay;
    rules.light = lightRoot;
    return rules;
}

}  // namespace loopmend
