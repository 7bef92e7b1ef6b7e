// SPDX-License-Identifier: MIT
// Every question has one right answer, and wrong ones that tempt. What is right is checked by other means
// than those by which it was found.
#include <algorithm>
#include <memory>
#include <optional>
#include <set>

#include <fmt/format.h>
#include <catch2/catch.hpp>

#include "fabric/hands.h"
#include "fabric/rows.h"
#include "fault/catalogue.h"
#include "fault/draw.h"
#include "fault/facts.h"
#include "pattern/chart.h"
#include "pattern/chart_text.h"
#include "pattern/counts.h"
#include "pattern/parse.h"
#include "repair/workplace.h"
#include "sampled.h"
#include "tutor/question.h"
#include "tutor/session.h"
#include "tutor/skills.h"
#include "tutor/state.h"
#include "tutor/steps.h"

using namespace loopmend;

namespace {

struct Cloth {
    Lesson lesson;
    std::string name;
};

LessonSwatch swatchOf(StockGround ground, std::uint64_t seed) {
    LessonSwatch swatch;
    swatch.ground = ground;
    swatch.stitches = 13 + static_cast<int>(seed % 5);
    swatch.rows = 8 + static_cast<int>(seed % 4);
    swatch.yarn.seed = seed;
    return swatch;
}

Lesson lessonOf(const LessonSwatch& swatch) {
    Lesson lesson;
    lesson.id = "any";
    lesson.swatches = {swatch};
    return lesson;
}

/// Every ground sound, and every mistake on a ground that has a place for it, drawn from the seed.
std::vector<Cloth> cloths(std::uint64_t seed) {
    std::vector<Cloth> all;
    for (int g = 0; g < kStockGrounds; ++g) {
        const auto ground = static_cast<StockGround>(g);
        all.push_back(
            {lessonOf(swatchOf(ground, seed + static_cast<std::uint64_t>(g))), std::string(name(ground))});
    }
    for (const Fault* fault : lessonFaults()) {
        for (int i = 0; i < kStockGrounds; ++i) {
            const auto ground = static_cast<StockGround>((i + static_cast<int>(seed)) % kStockGrounds);
            LessonSwatch swatch = swatchOf(ground, seed);
            const Script script = stockGround(ground, swatch.stitches, swatch.rows);
            Wanted wanted;
            wanted.rowFrom = 2;
            wanted.rowTo = swatch.rows - 2;
            const std::optional<FaultPlace> place = drawPlace(seed, *fault, script, swatch.setup, wanted);
            if (!place) continue;
            swatch.faults = {*place};
            all.push_back({lessonOf(swatch), fmt::format("{} {}", name(ground), text(*place))});
            break;
        }
    }
    std::vector<Cloth> some;
    for (std::size_t i = 0; i < all.size(); ++i) {
        if (isSampled(static_cast<int>(i + seed))) some.push_back(std::move(all[i]));
    }
    return some;
}

std::unique_ptr<SessionState> layOut(const Lesson& lesson, bool turned = false, bool mirrored = false,
                                     Terms terms = Terms::us) {
    auto state = std::make_unique<SessionState>(lesson, 0, terms, mirrored);
    state->turnedOver = turned;
    return state;
}

std::optional<Question> ask(const SessionState& state, QuestionKind kind, std::string of = {}, int row = 0,
                            int stitch = 0) {
    const QuestionWanted wanted{kind, std::move(of), row, stitch};
    auto asked = questionOf(state.swatch, sceneNow(state), wanted, state.wanted.yarn.seed);
    if (!asked) return std::nullopt;
    return *asked;
}

std::string rightKey(const Question& q) {
    for (const QuestionAnswer& a : q.answers) {
        if (a.right) return a.key;
    }
    return {};
}

LoopId lit(const Question& q) {
    return q.about.empty() || q.about.front().loops.empty() ? LoopId{} : q.about.front().loops.front();
}

void checkForm(const SessionState& state, const QuestionWanted& wanted, const Question& q) {
    INFO(name(wanted.kind) << ' ' << wanted.of << ": " << q.words);
    CHECK(wordCount(q.words) <= 45);
    REQUIRE(q.hints.size() == 4);
    for (const std::string& hint : q.hints) CHECK_FALSE(hint.empty());
    CHECK(q.lights.size() == 4);
    CHECK(findSkill(skillOf(wanted)) != nullptr);
    if (q.targets.empty()) {
        CHECK(q.answers.size() >= 3);
        std::set<std::string> texts;
        std::set<std::string> keys;
        int right = 0;
        for (const QuestionAnswer& a : q.answers) {
            INFO(a.text);
            CHECK_FALSE(a.text.empty());
            CHECK_FALSE(a.why.empty());
            CHECK(a.right == a.rightFor.empty());
            CHECK(texts.insert(a.text).second);
            CHECK(keys.insert(a.key).second);
            right += a.right ? 1 : 0;
            // A wrong answer is right for another mistake, or is a belief in a few words.
            if (!a.right) CHECK((findFault(a.rightFor) != nullptr || wordCount(a.rightFor) >= 3));
        }
        CHECK(right == 1);
        return;
    }
    CHECK(q.answers.empty());
    CHECK(q.tempting.size() >= 2);
    for (const std::vector<PointTarget>& targets : q.targets) {
        REQUIRE_FALSE(targets.empty());
        for (const PointTarget& t : targets) {
            if (t.thing == PointTarget::Thing::ball) continue;
            REQUIRE(state.fabric().has(t.entry));
            CHECK(state.fabric().isLoop(t.entry) != (t.thing == PointTarget::Thing::rung));
            for (const TemptingTarget& wrong : q.tempting) CHECK_FALSE(wrong.target == t);
        }
    }
    for (const TemptingTarget& t : q.tempting) {
        CHECK_FALSE(t.why.empty());
        CHECK((findFault(t.rightFor) != nullptr || wordCount(t.rightFor) >= 3));
    }
}

}  // namespace

TEST_CASE("Every question of every cloth has one right answer and two that tempt", "[questions]") {
    int asked = 0;
    std::set<std::string> kinds;
    for (const Cloth& cloth : cloths(5)) {
        for (const bool mirrored : {false, true}) {
            const auto state = layOut(cloth.lesson, false, mirrored, mirrored ? Terms::uk : Terms::us);
            std::vector<std::string> keys[2];
            for (const bool turned : {false, true}) {
                state->turnedOver = turned;
                INFO(cloth.name << (mirrored ? " mirrored" : "") << (turned ? " turned" : ""));
                const Scene scene = sceneNow(*state);
                for (const QuestionWanted& wanted : questionsFor(state->swatch, scene, 3)) {
                    const auto q = questionOf(state->swatch, scene, wanted, 3);
                    REQUIRE(q);
                    checkForm(*state, wanted, *q);
                    ++asked;
                    kinds.insert(fmt::format("{} {}", name(wanted.kind), wanted.of));
                    // Turned over it is the same question with the same answer, in other words. What is asked
                    // of the face she sees (V, bump, ridge, which side) is another one.
                    const bool ofTheFace = wanted.of == "v" || wanted.of == "bump" || wanted.of == "ridges";
                    if (!ofTheFace && !q->answers.empty())
                        keys[turned ? 1 : 0].push_back(
                            fmt::format("{} {} {}", name(wanted.kind), wanted.of, rightKey(*q)));
                }
            }
            INFO(cloth.name << (mirrored ? " mirrored" : ""));
            CHECK(keys[0] == keys[1]);
        }
    }
    CHECK(asked > sampled(4000));
    if (kSanitized) return;
    // Of everything that can be asked there was a cloth that could be asked it.
    INFO(fmt::format("{}", fmt::join(kinds, ", ")));
    CHECK(kinds.size() >= 50);
}

TEST_CASE("What is counted is what the script and the links say", "[questions]") {
    for (const Cloth& cloth : cloths(11)) {
        INFO(cloth.name);
        const auto state = layOut(cloth.lesson);
        const Fabric& f = state->fabric();
        if (const auto q = ask(*state, QuestionKind::count, "stitches")) {
            int n = 0;
            for (HeldId h = f[f.needle()].first; h; h = f[h].next) n += f[h].state.hanging == 0 ? 1 : 0;
            CHECK(rightKey(*q) == fmt::format("{}", n));
        }
        if (const auto q = ask(*state, QuestionKind::count, "rungs")) {
            CHECK(rightKey(*q) == fmt::format("{}", rungs(f, lit(*q)).size()));
        }
        if (cloth.lesson.first().faults.empty()) {
            if (const auto q = ask(*state, QuestionKind::count, "row-change")) {
                // The lit row, as it is written.
                const int row = state->places().of(q->about.front().loops[1]).row;
                int change = 0;
                for (const Step& step : state->swatch.script().rows[static_cast<std::size_t>(row) - 1].steps)
                    change += makes(step) - uses(step);
                CHECK(rightKey(*q) == fmt::format("{}", change));
            }
            if (const auto q = ask(*state, QuestionKind::count, "holes")) {
                const int row = state->places().of(q->about.front().loops[1]).row;
                int holes = 0;
                for (const Step& step : state->swatch.script().rows[static_cast<std::size_t>(row) - 1].steps)
                    holes += step.op == Op::yarnOver ? 1 : 0;
                CHECK(rightKey(*q) == fmt::format("{}", holes));
            }
        }
    }
    const auto plain = layOut(lessonOf(swatchOf(StockGround::stockinette, 0)));  // eight rows
    const auto rows = ask(*plain, QuestionKind::count, "rows");
    REQUIRE(rows);
    CHECK(rightKey(*rows) == "7");  // the eighth is on the needle
    LessonSwatch garter = swatchOf(StockGround::garter, 0);
    garter.rows = 9;
    const auto ridges = ask(*layOut(lessonOf(garter)), QuestionKind::count, "ridges");
    REQUIRE(ridges);
    // Rows 2, 4, 6 and 8 were knitted with the wrong side in front: each stands out as a ridge on the right
    // side (common practice).
    CHECK(rightKey(*ridges) == "4");
}

TEST_CASE("What runs is what runs when it is let go", "[questions]") {
    for (const Cloth& cloth : cloths(17)) {
        INFO(cloth.name);
        const auto state = layOut(cloth.lesson);
        for (const char* of : {"open", "held", "bound"}) {
            const auto q = ask(*state, QuestionKind::willItRun, of);
            if (!q) continue;
            Fabric copy = state->fabric();
            const int ran = letRunFrom(copy, lit(*q));
            CHECK((ran > 0) == (rightKey(*q) == "open"));
        }
        if (const auto q = ask(*state, QuestionKind::ifItDrops)) {
            // By hand: the needle lets it go, and it is tugged as long as something comes out.
            Swatch swatch(cloth.lesson.first(), Terms::us, false);
            Work work(swatch.takeActual());
            const LoopId loop = lit(*q);
            Move drop;
            drop.kind = MoveKind::drop;
            drop.loops = {loop};
            REQUIRE(work.perform(drop));
            Move run;
            run.kind = MoveKind::letRun;
            run.loops = {loop};
            const int top = state->places().of(loop).row;
            const std::vector<std::vector<LoopId>> before = state->places().rows();
            // A yarn over comes out when it is let go: nothing runs.
            const bool ran = work.perform(run).has_value();
            const std::string key = rightKey(*q);
            const bool forks = key.find("-forks") != std::string::npos;
            int rows = 0;
            for (int row = 1; ran && row <= top; ++row) {
                const auto& loops = before[static_cast<std::size_t>(row)];
                const auto gone = static_cast<int>(std::count_if(loops.begin(), loops.end(), [&](LoopId l) {
                    return !work.fabric().has(l) || !work.fabric().isLoop(l);
                }));
                // Where it was turned early, a row has two stitches more of that column.
                rows += forks ? std::min(gone, 1) : gone;
            }
            INFO(key << " and by hand " << rows);
            CHECK(key.substr(0, key.find("-forks")) == fmt::format("runs-{}", rows));
        }
    }
}

TEST_CASE("Knit or purl, and which leg: as the script and the habit say", "[questions]") {
    for (const StockGround ground :
         {StockGround::stockinette, StockGround::garter, StockGround::rib, StockGround::seed}) {
        for (const std::uint64_t seed : {1U, 2U, 3U}) {
            const auto state = layOut(lessonOf(swatchOf(ground, seed)));
            const auto q = ask(*state, QuestionKind::neck);
            REQUIRE(q);
            const StitchPlace at = state->places().of(lit(*q));
            const WorkedRow& row = state->swatch.script().rows[static_cast<std::size_t>(at.row) - 1];
            const bool purl = row.steps[static_cast<std::size_t>(at.stitch) - 1].op == Op::purl;
            // Keys say what it is on the right side.
            const bool purlOnRight = purl == (row.facing == Facing::right);
            CHECK(rightKey(*q) == (purlOnRight ? "purl" : "knit"));
        }
    }
    for (const Habit habit : {Habit::western, Habit::eastern}) {
        for (const bool mirrored : {false, true}) {
            LessonSwatch swatch = swatchOf(StockGround::stockinette, 2);
            swatch.setup.habit = habit;
            const auto q = ask(*layOut(lessonOf(swatch), false, mirrored), QuestionKind::mount);
            REQUIRE(q);
            CHECK(rightKey(*q) == ((habit == Habit::western) != mirrored ? "right-leg" : "left-leg"));
        }
    }
}

TEST_CASE("A column followed is one through the other; a row lies along the yarn", "[questions]") {
    for (const Cloth& cloth : cloths(23)) {
        if (!cloth.lesson.first().faults.empty()) continue;
        INFO(cloth.name);
        const auto state = layOut(cloth.lesson);
        const Fabric& f = state->fabric();
        if (const auto q = ask(*state, QuestionKind::trace, "column")) {
            LoopId above = lit(*q);
            for (const auto& targets : q->targets) {
                const LoopId here = targets.front().entry;
                const auto isHost = [&](LoopId a, LoopId b) {
                    const std::vector<LoopId> hosts = f.hostsRightToLeft(a);
                    return std::find(hosts.begin(), hosts.end(), b) != hosts.end();
                };
                CHECK((isHost(above, here) || isHost(here, above)));
                above = here;
            }
        }
        if (const auto q = ask(*state, QuestionKind::trace, "row")) {
            const Rows rows = rowsOf(f);
            LoopId last = lit(*q);
            for (const auto& targets : q->targets) {
                const LoopId here = targets.front().entry;
                CHECK(rows[here] == rows[last]);
                CHECK((f.loopBefore(here) == last || f.loopBefore(last) == here));
                last = here;
            }
        }
    }
}

TEST_CASE("Another cloth, another answer", "[questions]") {
    LessonSwatch sound = swatchOf(StockGround::stockinette, 4);
    LessonSwatch bump = sound;
    bump.faults = {{"wrong_kp", 4, 6, 0}};
    LessonSwatch twisted = sound;
    twisted.faults = {{"twist_tbl", 4, 6, 0}};
    const auto a = ask(*layOut(lessonOf(sound)), QuestionKind::name, "", 4, 6);
    const auto b = ask(*layOut(lessonOf(bump)), QuestionKind::name, "", 4, 6);
    const auto c = ask(*layOut(lessonOf(twisted)), QuestionKind::name, "crossed", 4, 6);
    REQUIRE(a);
    REQUIRE(b);
    REQUIRE(c);
    CHECK(rightKey(*a) == "k");
    CHECK(rightKey(*b) == "p");
    CHECK(rightKey(*c) == "k\\");
    // What is right here is a wrong answer there.
    CHECK(
        std::any_of(a->answers.begin(), a->answers.end(), [](const QuestionAnswer& x) { return !x.right; }));

    LessonSwatch ladder = sound;
    ladder.faults = {{"ladder_stockinette", 5, 6, 0}};
    LessonSwatch left = sound;
    left.faults = {{"drop_left_behind", 5, 6, 0}};
    const auto slack = ask(*layOut(lessonOf(ladder)), QuestionKind::rungKind);
    const auto straight = ask(*layOut(lessonOf(left)), QuestionKind::rungKind);
    REQUIRE(slack);
    REQUIRE(straight);
    CHECK(rightKey(*slack) == "long");
    CHECK(rightKey(*straight) == "short");
    CHECK_FALSE(ask(*layOut(lessonOf(sound)), QuestionKind::rungKind));
    CHECK_FALSE(ask(*layOut(lessonOf(sound)), QuestionKind::root));
    CHECK_FALSE(ask(*layOut(lessonOf(sound)), QuestionKind::twoSigns));

    const auto nothing = ask(*layOut(lessonOf(sound)), QuestionKind::whichPlan);
    const auto hook = ask(*layOut(lessonOf(ladder)), QuestionKind::whichPlan);
    REQUIRE(nothing);
    REQUIRE(hook);
    CHECK(rightKey(*nothing) == kNothingWrong);
    CHECK(rightKey(*hook) == "column");
}

TEST_CASE("Which stitch of a decrease lies on top: as it was worked", "[questions]") {
    LessonSwatch swatch;
    swatch.pattern =
        "Row 1 (RS): k12.\nRow 2: p12.\nRow 3: k2, k2tog, k8.\nRow 4: p11.\nRow 5: k6, ssk, k3.\nRow 6: "
        "p10.\n"
        "Row 7: k10.\nRow 8: p10.\nRow 9: k10.\n";
    swatch.stitches = 12;
    swatch.rows = 8;
    const auto state = layOut(lessonOf(swatch));
    // k2tog leans to the right, the left stitch on top; ssk to the left (common practice).
    const auto k2tog = ask(*state, QuestionKind::onTop, "decrease", 3);
    const auto ssk = ask(*state, QuestionKind::onTop, "decrease", 5);
    REQUIRE(k2tog);
    REQUIRE(ssk);
    CHECK(rightKey(*k2tog) == "right");
    CHECK(rightKey(*ssk) == "left");
}

namespace {

/// A line of a chart as the reader of charts reads it: as anybody's chart of that one row.
Pattern patternOfLine(std::string line, const WorkedRow& row) {
    const bool right = row.facing == Facing::right;
    const std::string number = fmt::format("{}", row.number);
    const std::size_t at = right ? line.size() - number.size() : 0;
    REQUIRE(line.substr(at, number.size()) == number);
    line.replace(at, number.size(), "1");
    const WrittenChart chart =
        parseChart(fmt::format("loopmend chart 1\nWorked: in rows\nFirst row: {} side\n\nChart:\n{}\n",
                               right ? "right" : "wrong", line));
    REQUIRE(chart.problems.empty());
    return patternOf(chart);
}

}  // namespace

TEST_CASE("The words of a row work it again, its squares are that row, and the row that is due comes next",
          "[questions]") {
    int asked = 0;
    for (const StockGround ground : {StockGround::rib, StockGround::eyelets, StockGround::cables,
                                     StockGround::shaped, StockGround::spines}) {
        const auto state = layOut(lessonOf(swatchOf(ground, 2)));
        const Script& script = state->swatch.script();
        const int rows = state->swatch.rows();
        for (int r = 1; r <= rows; ++r) {
            INFO(name(ground) << " row " << r);
            const WorkedRow& row = script.rows[static_cast<std::size_t>(r) - 1];
            int stitches = 0;
            for (const Step& step : row.steps) stitches += uses(step);
            if (const auto q = ask(*state, QuestionKind::written, "words", r)) {
                const auto again = expand(parse("Row 1: " + rightKey(*q) + "."), stitches, 1);
                REQUIRE(again);
                CHECK(again->rows[0].steps == row.steps);
            }
            const bool right = row.facing == Facing::right;
            const auto q = ask(*state, QuestionKind::written, right ? "squares" : "squares-behind", r);
            if (!q) continue;
            const auto worked = expand(patternOfLine(rightKey(*q), row), stitches, 1);
            REQUIRE(worked);
            CHECK(worked->rows[0].steps == row.steps);
        }
        const auto due = ask(*state, QuestionKind::written, "due");
        if (!due) continue;  // its rows are too few to choose from
        ++asked;
        const std::vector<Step>& next = script.rows[static_cast<std::size_t>(rows)].steps;
        int stitches = 0;
        for (const Step& step : next) stitches += uses(step);
        const auto again = expand(parse("Row 1: " + rightKey(*due) + "."), stitches, 1);
        REQUIRE(again);
        CHECK(again->rows[0].steps == next);
    }
    CHECK(asked >= 3);
}

TEST_CASE("Empty squares are not counted, and a box is worked as often as the chart's own words say",
          "[questions]") {
    LessonSwatch crowns = swatchOf(StockGround::eyelets, 2);
    crowns.pattern =
        "Row 1 (RS): k1, *yo, k3, yo, k1; rep from * to end.\nRow 2: p to end.\n"
        "Row 3: k1, *ssk, k1, k2tog, k1; rep from * to end.\nRow 4: p to end.\n";
    crowns.stitches = 17;
    crowns.rows = 8;
    LessonSwatch rib = swatchOf(StockGround::rib, 0);
    rib.stitches = 18;
    LessonSwatch eyelets = swatchOf(StockGround::eyelets, 0);
    eyelets.stitches = 19;
    int empty = 0;
    int boxes = 0;
    for (const LessonSwatch& swatch : {crowns, rib, eyelets}) {
        const auto state = layOut(lessonOf(swatch));
        for (int r = 1; r <= state->swatch.rows(); ++r) {
            INFO(swatch.pattern << name(swatch.ground) << " row " << r);
            const WorkedRow& row = state->swatch.script().rows[static_cast<std::size_t>(r) - 1];
            int stitches = 0;
            int left = 0;
            for (const Step& step : row.steps) {
                stitches += uses(step);
                left += makes(step);
            }
            if (const auto q = ask(*state, QuestionKind::written, "no-stitch", r)) {
                ++empty;
                CHECK(rightKey(*q) == fmt::format("{}", left));
                CHECK(q->words.find('#') != std::string::npos);
            }
            const auto q = ask(*state, QuestionKind::written, "box", r);
            if (!q) continue;
            ++boxes;
            const std::size_t from = q->words.find('\n') + 1;
            const std::string line = q->words.substr(from, q->words.find('\n', from) - from);
            const Pattern words = patternOfLine(line, row);
            const auto worked = expand(words, stitches, 1);
            REQUIRE(worked);
            CHECK(worked->rows[0].steps == row.steps);
            const RowCounts counts = countsOf(words.rows[0]);
            REQUIRE(counts.uses.perRepeat > 0);
            CHECK(rightKey(*q) == fmt::format("{}", (stitches - counts.uses.base) / counts.uses.perRepeat));
        }
    }
    CHECK(empty == 2);  // rows 3 and 7 of the crowns: the rows behind them are all of one stitch
    CHECK(boxes >= 12);
}

TEST_CASE("While it is asked for, the pattern lies face down", "[questions]") {
    Lesson lesson = lessonOf(swatchOf(StockGround::eyelets, 2));
    lesson.swatches.front().steps.resize(2);
    for (StepPlan& step : lesson.swatches.front().steps) step.kind = StepKind::ask;
    lesson.swatches.front().steps[0].question.kind = QuestionKind::written;
    lesson.swatches.front().steps[0].question.of = "due";
    lesson.swatches.front().steps[1].question.kind = QuestionKind::neck;
    Session session(lesson);
    CHECK(session.page().patternAway);
    const std::vector<Choice> choices = session.page().choices;
    REQUIRE(choices.size() >= 3);
    for (int i = 0; i < static_cast<int>(choices.size()) && !session.canGoOn(); ++i) session.choose(i);
    CHECK_FALSE(session.page().patternAway);
    session.next();
    CHECK_FALSE(session.page().patternAway);
}

TEST_CASE("What an author asks for and is not there is refused with a sentence", "[questions]") {
    const auto state = layOut(lessonOf(swatchOf(StockGround::stockinette, 1)));
    const Scene scene = sceneNow(*state);
    for (const QuestionWanted& wanted :
         {QuestionWanted{QuestionKind::pointAt, "frob", 0, 0},
          QuestionWanted{QuestionKind::count, "sheep", 0, 0},
          QuestionWanted{QuestionKind::name, "hole", 0, 0}, QuestionWanted{QuestionKind::name, "", 99, 1},
          QuestionWanted{QuestionKind::root, "", 0, 0}}) {
        const auto asked = questionOf(state->swatch, scene, wanted, 1);
        REQUIRE_FALSE(asked);
        CHECK(wordCount(asked.error()) >= 4);
    }
    // A row or a stitch past the end: how far it goes.
    const int rows = static_cast<int>(sceneNow(*state).reading.rows.size()) - 1;
    const auto row = questionOf(state->swatch, scene, {QuestionKind::name, "", 99, 1}, 1);
    CHECK(row.error() == fmt::format("the piece has {} rows there, so there is no row 99", rows));
    const int wide = scene.reading.rows[3].stitches;
    const auto stitch = questionOf(state->swatch, scene, {QuestionKind::name, "", 3, 77}, 1);
    CHECK(stitch.error() == fmt::format("row 3 has {} stitches, so there is no stitch 77 in it", wide));
}
