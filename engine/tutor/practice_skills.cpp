// SPDX-License-Identifier: MIT
#include "tutor/practice_skills.h"

#include <algorithm>

#include "tutor/practice.h"

namespace loopmend {

namespace {

using K = StepKind;
using Q = QuestionKind;
using M = MistakeMust;

SkillExercise asking(std::string_view skill, std::vector<QuestionWanted> questions,
                     std::vector<std::string_view> faults = {}) {
    SkillExercise e;
    e.skill = skill;
    e.faults = std::move(faults);
    e.questions = std::move(questions);
    return e;
}

SkillExercise finding(std::string_view skill, M must, std::vector<std::string_view> faults = {}) {
    SkillExercise e;
    e.skill = skill;
    e.must = must;
    e.faults = std::move(faults);
    e.steps = {K::makeSafe, K::look, K::find, K::whatHappened, K::nextTime};
    e.scored = {K::find, K::whatHappened};
    return e;
}

SkillExercise mending(std::string_view skill, std::vector<std::string_view> faults,
                      std::vector<std::string_view> repairs = {}) {
    SkillExercise e;
    e.skill = skill;
    e.faults = std::move(faults);
    e.repairs = std::move(repairs);
    e.steps = {K::makeSafe, K::look, K::find, K::whatHappened, K::choose, K::putRight, K::check, K::nextTime};
    e.scored = {K::putRight};
    return e;
}

std::vector<SkillExercise> all() {
    std::vector<SkillExercise> list;
    const auto ask = [](Q kind, std::string of = "") {
        QuestionWanted q;
        q.kind = kind;
        q.of = std::move(of);
        return q;
    };
    // One question each, asked of several stitches.
    list.push_back(asking("knit-or-purl", {ask(Q::name)}));
    list.push_back(asking("both-faces", {ask(Q::whenTurned)}));
    list.push_back(asking("the-neck", {ask(Q::neck)}));
    list.push_back(asking("stitch-parts", {ask(Q::pointAt, "head"), ask(Q::pointAt, "leg"),
                                           ask(Q::pointAt, "foot"), ask(Q::pointAt, "bar")}));
    list.push_back(asking("columns-and-rows", {ask(Q::trace, "column"), ask(Q::trace, "row")}));
    list.push_back(asking("leading-leg", {ask(Q::mount)}));
    list.push_back(asking("run-or-not", {ask(Q::willItRun), ask(Q::ifItDrops)}));
    list.push_back(asking("count-stitches", {ask(Q::count, "stitches")}));
    list.push_back(asking("count-rows", {ask(Q::count, "rows")}));
    list.push_back(asking("count-ridges", {ask(Q::count, "ridges")}));
    list.push_back(asking("rows-since", {ask(Q::count, "rows-since")}));
    list.push_back(asking("which-side", {ask(Q::whichSide)}));
    list.push_back(asking("which-way", {ask(Q::pointAt, "yarn-needle")}));
    list.push_back(asking("yarn-overs", {ask(Q::pointAt, "hole")}));
    list.push_back(asking("which-on-top", {ask(Q::onTop)}));
    list.push_back(asking("long-or-short-rung", {ask(Q::rungKind)},
                          {"drop_left_behind", "ladder_stockinette", "ladder_rib", "ladder_garter"}));

    list.push_back(finding("crossed-feet", M::anything, {"twist_wrap", "twist_tbl", "twist_pickup"}));
    list.push_back(finding("count-that-moved", M::moveTheCount));
    list.push_back(finding("why-one-out", M::beOneOut));
    list.push_back(finding("right-count-wrong-look", M::keepTheCount));
    list.push_back(finding("root-of-it", M::showLater));
    list.push_back(finding("better-face", M::showBehind));
    {
        SkillExercise e = finding("leave-or-mend", M::anything);
        e.steps = {K::makeSafe, K::look, K::find, K::whatHappened, K::choose, K::nextTime};
        e.scored = {K::choose};
        list.push_back(std::move(e));
    }

    {
        SkillExercise e = mending("make-safe", {"drop_live", "drop_left_behind", "ladder_stockinette",
                                                "ladder_garter", "ladder_rib", "decrease_escaped"});
        e.steps = {K::makeSafe, K::look, K::find, K::whatHappened, K::nextTime};
        e.scored = {K::makeSafe};
        list.push_back(std::move(e));
    }
    list.push_back(mending("seat-a-stitch", {"drop_live"}));
    {
        SkillExercise e = mending("take-back",
                                  {"wrong_kp", "twist_tbl", "accidental_yo", "slip_float_front",
                                   "slip_float_back", "merged", "knit_below"},
                                  {"tink"});
        e.inLastRows = true;
        list.push_back(std::move(e));
    }
    list.push_back(mending("hook-up", {"ladder_stockinette", "drop_left_behind"}, {"column"}));
    list.push_back(mending("drop-and-mend",
                           {"wrong_kp", "twist_pickup", "twist_tbl", "twist_wrap", "knit_below",
                            "slip_float_back", "slip_float_front"},
                           {"column"}));
    list.push_back(mending("hook-up-textured", {"ladder_rib", "ladder_garter"}, {"column"}));
    list.push_back(
        mending("rip-and-seat", {"wrong_kp", "merged", "accidental_yo", "missed_yo", "missed_dec"}, {"rip"}));
    list.push_back(mending("missing-yarn-over", {"missed_yo", "lost_yo", "yo_closed"}));
    list.push_back(mending("one-too-many", {"accidental_yo", "worked_the_bar", "kfb_accident"}));
    {
        SkillExercise e =
            mending("back-through-a-decrease",
                    {"wrong_lean", "dec_3_for_2", "dec_twisted", "merged", "dec_off_by_one"}, {"tink"});
        e.inLastRows = true;
        list.push_back(std::move(e));
    }
    list.push_back(mending("late-shaping", {"missed_dec", "missed_inc", "merged", "dec_3_for_2", "m1_open",
                                            "m1_wrong_lean", "inc_off_by_one"}));
    list.push_back(mending("turn-the-lean", {"wrong_lean", "cdd_wrong_stack", "dec_twisted", "dec_off_by_one",
                                             "decrease_escaped"}));
    {
        SkillExercise e = mending("edge-run", {"ladder_edge"});
        e.atEdge = true;
        list.push_back(std::move(e));
    }
    list.push_back(mending("cross-again", {"miscrossed", "cross_missed", "ladder_cable"}));
    list.push_back(mending("mend-a-panel", {"ladder_lace", "dec_yo_swapped", "dec_off_by_one"}));
    return list;
}

}  // namespace

bool SkillExercise::mends() const {
    return std::find(steps.begin(), steps.end(), StepKind::putRight) != steps.end();
}

const SkillExercise* exerciseFor(std::string_view skill) {
    static const std::vector<SkillExercise> kAll = all();
    for (const SkillExercise& e : kAll) {
        if (e.skill == skill) return &e;
    }
    return nullptr;
}

unsigned levelsOf(std::string_view skill) {
    return exerciseFor(skill) != nullptr ? 0b111110U : 0U;
}

bool canBeExercised(std::string_view skill) {
    return levelsOf(skill) != 0;
}

}  // namespace loopmend
