// SPDX-License-Identifier: MIT
// What she made of a page, as a line for the log.
#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

#include "fault/catalogue.h"
#include "tutor/session_state.h"
#include "tutor/steps.h"

namespace loopmend {

namespace {

struct MendingOf {
    std::string_view fault;
    std::string_view skill;
};
// What it takes to mend it where the way alone does not say.
constexpr std::array<MendingOf, 21> kMendings = {{{"drop_live", "seat-a-stitch"},
                                                  {"ladder_stockinette", "hook-up"},
                                                  {"ladder_garter", "hook-up-textured"},
                                                  {"ladder_rib", "hook-up-textured"},
                                                  {"ladder_lace", "mend-a-panel"},
                                                  {"ladder_edge", "edge-run"},
                                                  {"ladder_cable", "cross-again"},
                                                  {"miscrossed", "cross-again"},
                                                  {"cross_missed", "cross-again"},
                                                  {"lost_yo", "missing-yarn-over"},
                                                  {"missed_yo", "missing-yarn-over"},
                                                  {"accidental_yo", "one-too-many"},
                                                  {"worked_the_bar", "one-too-many"},
                                                  {"kfb_accident", "one-too-many"},
                                                  {"missed_dec", "late-shaping"},
                                                  {"missed_inc", "late-shaping"},
                                                  {"merged", "late-shaping"},
                                                  {"wrong_lean", "turn-the-lean"},
                                                  {"dec_3_for_2", "turn-the-lean"},
                                                  {"cdd_wrong_stack", "turn-the-lean"},
                                                  {"drop_left_behind", "hook-up"}}};

std::string mendingSkill(const SessionState& s) {
    bool tink = false;
    bool rip = false;
    for (const Move& move : s.work.done()) {
        tink = tink || move.kind == MoveKind::tink;
        rip = rip || move.kind == MoveKind::rip;
    }
    if (rip) return "rip-and-seat";
    if (tink) return "take-back";
    const std::vector<std::string> right = s.swatch.rightFaults();
    for (const MendingOf& m : kMendings) {
        if (!right.empty() && m.fault == right.front()) return std::string(m.skill);
    }
    return "drop-and-mend";
}

/// None of what was meant to be there is missing or too many.
bool countIsRight(const SessionState& s) {
    const Pairing& p = s.startStanding.pairing;
    return p.missing.size() == p.extra.size();
}

std::string skillOfStep(const SessionState& s) {
    const StepPlan& step = s.steps[s.at];
    if (!step.skill.empty()) return step.skill;
    switch (step.kind) {
        case StepKind::makeSafe: return "make-safe";
        case StepKind::look: return {};
        case StepKind::ask: return std::string(skillOf(step.question));
        case StepKind::find: return !s.startStanding.open.empty() ? "run-or-not" : "root-of-it";
        case StepKind::whatHappened: return countIsRight(s) ? "right-count-wrong-look" : "why-one-out";
        case StepKind::choose: return "leave-or-mend";
        case StepKind::putRight: return mendingSkill(s);
        case StepKind::check: return "count-stitches";
        case StepKind::nextTime:
        case StepKind::inWool: break;
    }
    return {};
}

std::string truthOf(const SessionState& s) {
    const std::vector<std::string> right = s.swatch.rightFaults();
    std::string fault = right.empty() ? std::string(kNothingWrong) : right.front();
    switch (s.kind()) {
        case StepKind::ask:
            if (const Question* q = askedHere(s)) {
                for (const QuestionAnswer& a : q->answers) {
                    if (a.right) return a.key;
                }
            }
            return "there";
        case StepKind::choose: {
            const Plan* plan = wellChosenPlan(s.wanted, s.startStanding);
            return plan == nullptr ? std::string(kNothingWrong) : std::string(nameOf(plan->family));
        }
        default: return fault;
    }
}

}  // namespace

void keepAttempt(SessionWhole& whole) {
    SessionState& s = whole.here();
    StepMemory& m = s.here();
    if (m.kept) return;
    m.kept = true;
    // A taster counts for nothing, and what was shown from beginning to end was not hers.
    if (whole.lesson.skills.empty()) return;
    if (s.kind() == StepKind::putRight && s.wanted.guidance.lastAreHers == 0) return;
    Attempt attempt;
    attempt.skill = skillOfStep(s);
    if (attempt.skill.empty()) return;
    attempt.lesson = whole.lesson.id;
    attempt.swatch = static_cast<int>(whole.at);
    attempt.step = static_cast<int>(s.at);
    attempt.what = std::string(name(s.kind()));
    if (s.kind() == StepKind::ask) {
        const QuestionWanted& wanted = s.steps[s.at].question;
        attempt.what += fmt::format(" {}", name(wanted.kind));
        if (!wanted.of.empty()) attempt.what += fmt::format(" {}", wanted.of);
    }
    attempt.tries = 1 + m.misses;
    attempt.hints = m.hintsInAll;
    attempt.strayMoves = m.strayMoves;
    attempt.right = attempt.tries == 1 && attempt.hints == 0 && attempt.strayMoves == 0;
    // What she only followed says nothing of her hands.
    if (s.kind() == StepKind::putRight && !m.wasShown)
        attempt.reckonedSeconds = static_cast<std::int32_t>(std::lround(m.reckonedSeconds));
    attempt.truth = truthOf(s);
    attempt.chosen = m.first;
    whole.attempts.push_back(std::move(attempt));
}

}  // namespace loopmend
