// SPDX-License-Identifier: MIT
#include "tutor/practice_skills.h"

#include <algorithm>

#include "tutor/practice.h"

namespace loopmend {

namespace {

using K = StepKind;
using Q = QuestionKind;
using M = MistakeMust;

SkillExercise asking(std::string_view skill, std::vector<PracticeQuestion> questions,
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

/// What the grounds and mistakes that there are give: a bit for each level. Where nothing is said, all five.
struct Levels {
    std::string_view skill;
    unsigned levels;
};
constexpr Levels kLevels[] = {
    {"count-ridges", 0b001100},             //
    {"rows-since", 0b111000},               //
    {"yarn-overs", 0b011000},               //
    {"which-on-top", 0b111000},             //
    {"decreases-from-behind", 0b111000},    //
    {"three-into-one", 0b111000},           //
    {"new-stitches", 0b101000},             //
    {"which-arm", 0b011000},                //
    {"slipped-stitches", 0b000100},         //
    {"rows-that-balance", 0b111000},        //
    {"written-repeats", 0b111100},          //
    {"chart-directions", 0b111100},         //
    {"chart-wrong-side", 0b011100},         //
    {"chart-repeats", 0b011100},            //
    {"chart-gaps", 0b101000},               //
    {"place-in-chart", 0b111000},           //
    {"long-or-short-rung", 0b111100},       //
    {"crossed-feet", 0b011000},             //
    {"count-that-moved", 0b001110},         //
    {"why-one-out", 0b001110},              //
    {"right-count-wrong-look", 0b011010},   //
    {"root-of-it", 0b011110},               //
    {"better-face", 0b000100},              //
    {"leave-or-mend", 0b011110},            //
    {"make-safe", 0b001110},                //
    {"seat-a-stitch", 0b000010},            //
    {"take-back", 0b001010},                //
    {"hook-up", 0b001110},                  //
    {"drop-and-mend", 0b011110},            //
    {"hook-up-textured", 0b001110},         //
    {"rip-and-seat", 0b011110},             //
    {"missing-yarn-over", 0b011110},        //
    {"one-too-many", 0b001110},             //
    {"back-through-a-decrease", 0b101110},  //
    {"late-shaping", 0b011110},             //
    {"edge-run", 0b001110},                 //
    {"cross-again", 0b011100},              //
    {"mend-a-panel", 0b011110},             //
};

std::vector<SkillExercise> all() {
    std::vector<SkillExercise> list;
    using W = PracticeQuestion::Where;
    list.push_back(
        asking("knit-or-purl",
               {{Q::name, "", W::anyRow}, {Q::pointAt, "v", W::anyRow}, {Q::pointAt, "bump", W::anyRow}}));
    list.push_back(asking("both-faces", {{Q::whenTurned, "", W::anyRow}}));
    list.push_back(asking("the-neck", {{Q::neck, "", W::onNeedle}}));
    list.push_back(asking("stitch-parts", {{Q::pointAt, "head", W::anyRow},
                                           {Q::pointAt, "leg", W::anyRow},
                                           {Q::pointAt, "foot", W::anyRow},
                                           {Q::pointAt, "bar", W::anyRow}}));
    list.push_back(asking("columns-and-rows", {{Q::trace, "column"}, {Q::trace, "row"}}));
    list.push_back(asking("leading-leg", {{Q::mount, "", W::onNeedle}}));
    list.push_back(
        asking("run-or-not", {{Q::willItRun, "held"}, {Q::willItRun, "bound"}, {Q::ifItDrops, ""}}));
    list.push_back(asking("count-stitches", {{Q::count, "stitches"}, {Q::pointAt, "on-needle"}}));
    list.push_back(asking("count-rows", {{Q::count, "rows"}, {Q::pointAt, "first-row"}}));
    list.push_back(asking("count-ridges", {{Q::count, "ridges"}}));
    list.push_back(asking("rows-since", {{Q::count, "rows-since"}}));
    list.push_back(asking("which-side", {{Q::whichSide, ""}}));
    list.push_back(asking("which-way", {{Q::pointAt, "yarn-needle"}}));
    list.push_back(asking(
        "yarn-overs", {{Q::pointAt, "hole", W::anyRow}, {Q::name, "hole", W::anyRow}, {Q::count, "holes"}}));
    list.push_back(asking("which-on-top", {{Q::onTop, "", W::anyRow}, {Q::name, "decrease", W::anyRow}}));
    list.push_back(asking("decreases-from-behind", {{Q::whenTurned, "decrease", W::anyRow}}));
    list.push_back(asking("three-into-one", {{Q::onTop, "double-decrease", W::anyRow},
                                             {Q::name, "double-decrease", W::anyRow}}));
    list.push_back(
        asking("new-stitches", {{Q::name, "increase", W::anyRow}, {Q::pointAt, "increase", W::anyRow}}));
    list.push_back(asking("which-arm", {{Q::onTop, "cable", W::anyRow}, {Q::name, "cable", W::anyRow}}));
    list.push_back(asking("slipped-stitches", {{Q::name, "slipped", W::anyRow},
                                               {Q::whenTurned, "slipped", W::anyRow},
                                               {Q::pointAt, "slipped", W::anyRow}}));
    list.push_back(asking("rows-that-balance", {{Q::count, "row-change", W::anyRow}}));
    list.push_back(asking("written-repeats", {{Q::written, "words", W::anyRow}}));
    list.push_back(asking("chart-directions", {{Q::written, "squares", W::anyRow}}));
    list.push_back(asking("chart-wrong-side", {{Q::written, "squares-behind", W::anyRow}}));
    list.push_back(asking("chart-repeats", {{Q::written, "box", W::anyRow}}));
    list.push_back(asking("chart-gaps", {{Q::written, "no-stitch", W::anyRow}}));
    list.push_back(asking("place-in-chart", {{Q::written, "due"}}));
    list.push_back(asking("long-or-short-rung", {{Q::rungKind, "long"}, {Q::rungKind, "short"}},
                          {"drop_left_behind", "ladder_stockinette", "ladder_rib", "ladder_garter"}));

    list.push_back(finding("crossed-feet", M::anything, {"twist_wrap", "twist_tbl", "twist_pickup"}));
    list.push_back(finding("count-that-moved", M::moveTheCount));
    list.push_back(finding("why-one-out", M::beOneOut));
    list.push_back(finding("right-count-wrong-look", M::keepTheCount));
    list.push_back(finding("root-of-it", M::showLater));
    list.push_back(finding("better-face", M::showBehind, {"wrong_kp", "slip_float_back"}));
    {
        SkillExercise e = finding("leave-or-mend", M::anything);
        e.steps = {K::makeSafe, K::look, K::find, K::whatHappened, K::choose, K::nextTime};
        e.scored = {K::choose};
        list.push_back(std::move(e));
    }

    {
        SkillExercise e =
            mending("make-safe", {"drop_live", "drop_left_behind", "ladder_stockinette", "ladder_garter",
                                  "ladder_rib", "decrease_escaped", "needle_pulled_out"});
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
    list.push_back(mending("rip-and-seat",
                           {"wrong_kp", "merged", "accidental_yo", "missed_yo", "missed_dec", "wrong_row",
                            "missed_row", "turned_midrow"},
                           {"rip"}));
    list.push_back(mending("missing-yarn-over", {"missed_yo", "lost_yo", "yo_closed"}));
    list.push_back(mending(
        "one-too-many", {"accidental_yo", "worked_the_bar", "kfb_accident", "double_wrap", "edge_doubled"}));
    {
        SkillExercise e =
            mending("back-through-a-decrease",
                    {"wrong_lean", "dec_3_for_2", "dec_twisted", "merged", "dec_off_by_one"}, {"tink"});
        e.inLastRows = true;
        list.push_back(std::move(e));
    }
    // The open one is seldom hard enough for its level: it is drawn twice as often.
    list.push_back(mending("late-shaping", {"missed_dec", "missed_inc", "m1_open", "m1_open", "m1_wrong_lean",
                                            "inc_off_by_one"}));
    list.push_back(mending("turn-the-lean", {"wrong_lean", "cdd_wrong_stack", "dec_twisted", "dec_off_by_one",
                                             "decrease_escaped"}));
    {
        SkillExercise e = mending("edge-run", {"ladder_edge"});
        e.atEdge = true;
        list.push_back(std::move(e));
    }
    list.push_back(mending("cross-again", {"miscrossed", "cross_missed", "ladder_cable", "cross_wrong_row"}));
    list.push_back(mending("mend-a-panel", {"ladder_lace", "dec_yo_swapped", "dec_off_by_one"}));
    for (SkillExercise& e : list) {
        for (const Levels& l : kLevels) {
            if (l.skill == e.skill) e.levels = l.levels;
        }
    }
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
    const SkillExercise* const e = exerciseFor(skill);
    return e == nullptr ? 0U : e->levels;
}

bool canBeExercised(std::string_view skill) {
    return levelsOf(skill) != 0;
}

}  // namespace loopmend
