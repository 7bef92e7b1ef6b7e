// SPDX-License-Identifier: MIT
// The pages of the hand: put it right, check; and the two last cards.
#include <algorithm>

#include <fmt/format.h>

#include "fault/catalogue.h"
#include "fault/draw.h"
#include "reading/counts.h"
#include "tutor/steps.h"

namespace loopmend {

namespace {

// ---- put it right

/// Stitches lie tighter than they did in the cloth as it was meant.
bool isTight(const SessionState& s) {
    for (const ReadRow& row : s.reading(s.seen()).rows) {
        for (const Cell& cell : row.cells) {
            if (cell.symbol.tight) return true;
        }
    }
    return false;
}

/// Nothing was done yet, and no way is known: nobody is kept here.
bool noWayFromTheStart(const SessionState& s) {
    return s.plan() == nullptr && !s.standing().asMeant && !s.work.canUndo();
}

void showMend(const SessionState& s, Page& page) {
    page.heading = "Put it right";
    if (s.startStanding.asMeant) {
        page.paragraphs = {"Nothing here asks to be put right: every stitch is as it was meant."};
        return;
    }
    if (s.standing().asMeant && s.standing().shows) {
        page.paragraphs = {"It is mended as well as it can be: nothing can run from there.",
                           "It shows a little, to whoever looks for it."};
        return;
    }
    if (s.standing().asMeant) {
        page.paragraphs = {"It is mended: every stitch is as it was meant.",
                           isTight(s) ? "One place is tight still. Ease yarn into it from its neighbors, "
                                        "with the tip of the needle."
                                      : "Nobody will find the place."};
        return;
    }
    const Plan* plan = s.plan();
    if (noWayFromTheStart(s)) {
        page.paragraphs = {
            "No way of mending this by hand is known. It is safe as it is, and you may go on."};
        return;
    }
    if (plan == nullptr) {
        page.paragraphs = {"From here no short way is known. Take your last moves back until there is one."};
        page.task = "Take the last move back.";
        return;
    }
    int hooks = 0;
    for (const PlannedMove& m : plan->moves) hooks += m.move.kind == MoveKind::hook ? 1 : 0;
    if (nextIsShown(s)) {
        page.paragraphs = {hooks > 0 ? fmt::format("{} to go. First watch, then do it.",
                                                   capital(many(hooks, "rung", "rungs")))
                                     : std::string("First watch, then do it.")};
        page.task = moveWords(s.view(), s.places(), plan->moves.front().move);
    } else {
        page.paragraphs = {
            "Any way that works is welcome. What goes wrong can be taken back.",
            hooks > 0 ? fmt::format("{} to go.", capital(many(hooks, "rung", "rungs"))) : std::string()};
        page.task = "Put it right.";
    }
    for (const PlannedMove& m : plan->moves) {
        if (m.move.kind == MoveKind::letRun || m.move.kind == MoveKind::drop)
            page.caution = "Pin first what must stay, then let the rest run.";
    }
    for (const Caution& caution : plan->cautions) {
        if (caution.beforeMove == 0 && page.caution.empty()) page.caution = caution.words;
    }
    if (plan->leaves == Leaves::tight && page.caution.empty())
        page.caution = "One strand is short: that stitch will be tight. Ease in yarn from its neighbors.";
}

bool isMended(const SessionState& s) {
    return s.standing().asMeant || noWayFromTheStart(s);
}

void pointMend(SessionState& s, const PointTarget& t) {
    s.said = aboutTarget(sceneNow(s), t);
}

// ---- check

int onNeedle(const SessionState& s) {
    return liveStitches(s.reading(s.seen()));
}

enum class Check { mend, tug, turn, count, knit, done };

Check nextCheck(const SessionState& s) {
    const StepMemory& m = s.here();
    if (!s.standing().asMeant) return noWayFromTheStart(s) ? Check::done : Check::mend;
    if (!m.tugged) return Check::tug;
    if (!m.turned) return Check::turn;
    if (!m.answered && onNeedle(s) > 0) return Check::count;
    return rowsKnittedOn(s) < rowsWanted(s) ? Check::knit : Check::done;
}

void showCheck(const SessionState& s, Page& page) {
    page.heading = "Check";
    if (noWayFromTheStart(s)) {
        page.paragraphs = {
            "It stays as it is for today. Note the row and the place, and knit on if you like."};
        return;
    }
    switch (nextCheck(s)) {
        case Check::mend:
            page.paragraphs = {"Something is not as it was meant again. Hints show the way back."};
            page.task = "Put that right first.";
            break;
        case Check::tug:
            page.paragraphs = {"A mended place is tried, not trusted."};
            page.task = "Tug gently beside it: nothing may stand free.";
            break;
        case Check::turn:
            page.paragraphs = {"Nothing moves. A rung left out would lie across the other face."};
            page.task = "Turn it over and look.";
            break;
        case Check::count:
            page.paragraphs = {"Both faces are even. Now the count."};
            page.task = "How many stitches are on the needle?";
            break;
        case Check::knit: {
            const int left = rowsWanted(s) - rowsKnittedOn(s);
            page.paragraphs = {"Rows above it show whether it holds."};
            page.task = fmt::format("Knit {} more {}.", numberWord(left), left == 1 ? "row" : "rows");
            break;
        }
        case Check::done:
            page.paragraphs = {s.standing().shows ? "It holds."
                                                  : "It holds, it is even, and the count is right."};
            break;
    }
}

std::vector<Option> countOptions(const SessionState& s) {
    std::vector<Option> options;
    if (nextCheck(s) < Check::count || nextCheck(s) == Check::mend || onNeedle(s) == 0) return options;
    const int n = onNeedle(s);
    const int first = std::max(0, n - Seeded(s.wanted.yarn.seed + 3).below(3));
    for (int i = first; i <= first + 2; ++i)
        options.push_back({fmt::format("{}", i - n), fmt::format("{}", i)});
    options.push_back({kCannotTell, "I can't tell yet"});
    return options;
}

Answer answerCount(const SessionState& s, const std::string& key) {
    if (key == kCannotTell) return {ChoiceState::notThis, "Count by twos, and touch each pair."};
    if (key == "0") return {ChoiceState::right, fmt::format("{}, and so it should be.", onNeedle(s))};
    return {ChoiceState::notThis,
            key.front() != '-' ? "That is more than hang there." : "There are more. Look at both ends."};
}

bool isChecked(const SessionState& s) {
    return nextCheck(s) == Check::done;
}

std::string hintCheck(const SessionState& s, int rung) {
    switch (nextCheck(s)) {
        case Check::mend:
        case Check::knit: return moveHint(s, rung);
        case Check::tug:
            return rung < 4 ? "A loop that nothing holds opens when its neighbors are drawn apart."
                            : "Tug the cloth sideways.";
        case Check::turn:
            return rung < 4 ? "What is hidden on one face lies open on the other." : "Turn the cloth over.";
        case Check::count:
            return rung < 4 ? "Count the loops that sit on the needle."
                            : fmt::format("It is {}.", onNeedle(s));
        case Check::done: break;
    }
    return {};
}

void lightCheck(const SessionState& s, int hints, std::vector<PageMark>& marks) {
    if (nextCheck(s) == Check::mend) lightMove(s, hints, marks);
}

// ---- next time, in wool

const Fault* faultOf(const SessionState& s) {
    const std::vector<std::string> right = s.swatch.rightFaults();
    return right.empty() ? nullptr : findFault(right.front());
}

bool always(const SessionState&) {
    return true;
}

void showNextTime(const SessionState& s, Page& page) {
    page.heading = "Next time";
    const Fault* fault = faultOf(s);
    page.paragraphs = {fault == nullptr
                           ? std::string("Look at your work at arm's length every few rows, both faces.")
                           : std::string(fault->prevention),
                       "One small habit, and it hardly ever happens again."};
}

void showInWool(const SessionState& s, Page& page) {
    page.heading = "In wool";
    const Fault* fault = faultOf(s);
    if (fault == nullptr) {
        page.paragraphs = {
            "On a swatch of your own: look at both faces, and count once down and once across."};
    } else if (fault->runs) {
        page.paragraphs = {
            "On a swatch of your own: knit ten rows. Let the fifth stitch fall on purpose and run three "
            "rows.",
            "Pin it. Hook it up, lowest rung first, and look at both faces."};
    } else {
        page.paragraphs = {
            fmt::format("On a swatch of your own, make this mistake on purpose: {}.", name(*fault, s.terms)),
            "Knit three rows on, find it, and put it right."};
    }
    page.caution = "Rest your hands when they ask for it.";
}

}  // namespace

StepRules putRightRules() {
    StepRules rules{showMend, isMended};
    rules.point = pointMend;
    rules.hint = moveHint;
    rules.light = lightMove;
    return rules;
}

StepRules checkRules() {
    StepRules rules{showCheck, isChecked};
    rules.point = pointMend;
    rules.options = countOptions;
    rules.answer = answerCount;
    rules.hint = hintCheck;
    rules.light = lightCheck;
    return rules;
}

StepRules nextTimeRules() {
    return StepRules{showNextTime, always};
}

StepRules inWoolRules() {
    return StepRules{showInWool, always};
}

}  // namespace loopmend
