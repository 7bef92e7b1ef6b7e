// SPDX-License-Identifier: MIT
// Fresh exercises: named by a word, the same everywhere, as hard as they are said to be, and fit to be given.
#include "tutor/practice.h"

#include <rapidcheck/catch.h>
#include <catch2/catch.hpp>

#include <algorithm>
#include <array>
#include <iterator>
#include <map>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "fault/catalogue.h"
#include "fault/draw.h"
#include "fault/knit_with.h"
#include "sampled.h"
#include "tutor/lesson_check.h"
#include "tutor/practice_cloth.h"
#include "tutor/practice_level.h"
#include "tutor/practice_skills.h"
#include "tutor/skills.h"
#include "tutor/swatch.h"

using namespace loopmend;

namespace {

std::vector<std::string> exercisable() {
    std::vector<std::string> ids;
    for (const Skill& skill : skills()) {
        if (canBeExercised(skill.id)) ids.emplace_back(skill.id);
    }
    return ids;
}

/// Every skill at every level with seed 1, then with seed 2 ...
std::vector<ExerciseWanted> wanted(int count) {
    std::vector<ExerciseWanted> list;
    for (std::uint64_t seed = 1;; ++seed) {
        for (const std::string& skill : exercisable()) {
            for (int level = 1; level <= kMostLevel; ++level) {
                if ((levelsOf(skill) >> static_cast<unsigned>(level) & 1U) == 0) continue;
                if (static_cast<int>(list.size()) == count) return list;
                list.push_back({skill, level, seed});
            }
        }
    }
}

/// What the exercises of a run came to.
struct Spread {
    int given = 0;
    int faultless = 0;
    std::map<std::string, int> cloths;
    std::map<std::string, int> faults;
    std::set<std::string> members;

    void add(const LessonSwatch& piece) {
        ++given;
        members.insert(piece.member);
        ++cloths[piece.pattern + std::string(name(piece.ground)) + (piece.round ? " round" : "")];
        if (piece.faults.empty()) ++faultless;
        for (const FaultPlace& place : piece.faults) ++faults[place.id];
    }
};

void checkGiven(const ExerciseWanted& w, const Lesson& lesson) {
    CHECK(lesson.id == exerciseId(w));
    REQUIRE(lesson.swatches.size() == 1);
    CHECK(lesson.first().faults.size() <= 1);
    for (const LessonProblem& p : problemsOf(lesson))
        FAIL_CHECK(lesson.id << ": " << p.place << ": " << p.words);
}

/// The level anew, from the lesson alone.
void checkLevel(const ExerciseWanted& w, const LessonSwatch& piece) {
    const SkillExercise& exercise = *exerciseFor(w.skill);
    if (piece.faults.empty() || exercise.asks()) return;
    Script script = knittedRows(piece);
    const auto knitting = knitWith(script, piece.setup, piece.faults, piece.after);
    REQUIRE(knitting);
    script.rows.resize(static_cast<std::size_t>(knitting->rows));
    const ExerciseLevel level =
        levelOf({script, piece.setup, piece.faults.front(), piece.after, piece.repairs});
    if (exercise.mends()) {
        CHECK(std::max(level.looks, level.hands) == w.level);
        CHECK(level.moves <= kMostMoves[w.level - 1]);
    } else {
        CHECK(level.looks == w.level);
    }
}

bool same(const LessonSwatch& a, const LessonSwatch& b) {
    return a.pattern == b.pattern && a.ground == b.ground && a.stitches == b.stitches && a.rows == b.rows &&
           a.round == b.round && a.member == b.member && a.thing == b.thing && a.faults == b.faults &&
           a.after == b.after && a.yarn.seed == b.yarn.seed && a.steps.size() == b.steps.size();
}

}  // namespace

TEST_CASE("A word names an exercise, and is read back") {
    const ExerciseWanted w{"hook-up", 2, 7};
    CHECK(exerciseId(w).substr(0, 10) == "hook-up-2-");
    CHECK(exerciseId(w).size() == 12);
    // Words that were written down somewhere stay what they are.
    CHECK(exerciseId({"hook-up", 2, 3}) == "hook-up-2-5z");
    rc::prop("for any skill, level and seed", [] {
        ExerciseWanted one;
        const auto& all = skills();
        one.skill = std::string(all[*rc::gen::inRange<std::size_t>(0, all.size())].id);
        one.level = *rc::gen::inRange(1, kMostLevel + 1);
        one.seed = *rc::gen::arbitrary<std::uint64_t>() >> *rc::gen::inRange(0, 64);
        const std::string id = exerciseId(one);
        const auto back = exerciseFrom(id);
        RC_ASSERT(back.has_value());
        RC_ASSERT((back->skill == one.skill && back->level == one.level && back->seed == one.seed));
        for (const char c : id) RC_ASSERT(((c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '-'));
    });
    for (const std::uint64_t seed : {std::uint64_t{0}, ~std::uint64_t{0}})
        CHECK(exerciseFrom(exerciseId({"take-back", 5, seed}))->seed == seed);
}

TEST_CASE("A mistyped word names no exercise") {
    const std::string letters = "abcdefghijklmnopqrstuvwxyz0123456789-";
    for (const std::uint64_t seed : {0, 7, 31, 123'456'789}) {
        const std::string id = exerciseId({"drop-and-mend", 3, seed});
        for (std::size_t i = 0; i < id.size(); ++i) {
            for (const char c : letters) {
                if (c == id[i]) continue;
                std::string other = id;
                other[i] = c;
                if (exerciseFrom(other)) FAIL_CHECK(other << " for " << id);
            }
            if (i + 1 < id.size() && id[i] != id[i + 1]) {
                std::string swapped = id;
                std::swap(swapped[i], swapped[i + 1]);
                if (exerciseFrom(swapped)) FAIL_CHECK(swapped << " for " << id);
            }
        }
    }
    for (const char* no :
         {"", "-", "hook-up", "hook-up-2", "hook-up-2-", "hook-up-6-92", "no-such-2-92", "--1-2"})
        CHECK_FALSE(exerciseFrom(no));
    const std::string id = exerciseId({"hook-up", 1, 99});
    std::string loud;
    for (const char c : id) loud += c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c;
    CHECK(exerciseFrom("  " + loud + " \n")->seed == 99);
}

TEST_CASE("Every practice cloth can be knitted at any width that dice give, in all its rows") {
    std::set<std::string> texts;
    for (const PracticeCloth& cloth : practiceCloths()) {
        INFO(cloth.name);
        CHECK(texts
                  .insert(std::string(cloth.text) + std::string(name(cloth.ground)) +
                          (cloth.round ? "round" : "") + (cloth.text.empty() ? "" : "text"))
                  .second);
        for (std::uint64_t seed = 1; seed <= 6; ++seed) {
            Seeded dice(seed);
            const LessonSwatch swatch = lentSwatch(dice, cloth);
            const Script script = knittedRows(swatch);
            REQUIRE(static_cast<int>(script.rows.size()) == swatch.rows);
            CHECK(knit(script, swatch.setup));
            CHECK_FALSE(swatch.member.empty());
            CHECK_FALSE(swatch.thing.empty());
        }
    }
    CHECK(texts.size() >= 15);
}

TEST_CASE("Where a mistake can be told is found by looking, not by its name") {
    struct Case {
        const char* what;
        StockGround ground;
        int rows;
        FaultPlace place;
        int looks;
    };
    // Rows even: the right side faces her.
    const std::vector<Case> cases = {
        {"an open stitch under its ladder", StockGround::stockinette, 12, {"ladder_stockinette", 8, 7, 0}, 1},
        {"a bump among V's", StockGround::stockinette, 12, {"wrong_kp", 5, 7, 0}, 1},
        {"a stitch too many, no hole: counting tells",
         StockGround::stockinette,
         12,
         {"kfb_accident", 11, 7, 0},
         2},
        {"crossed feet, deep down", StockGround::stockinette, 12, {"twist_tbl", 5, 7, 0}, 4},
        {"a lean, from the side that shows it", StockGround::eyelets, 12, {"wrong_lean", 5, 6, 0}, 4},
        {"a lean, from the side that hides it", StockGround::eyelets, 11, {"wrong_lean", 5, 6, 0}, 5},
    };
    int n = 0;
    for (const Case& c : cases) {
        if (!isSampled(n++ * 2)) continue;
        INFO(c.what);
        const Script script = stockGround(c.ground, 15, c.rows);
        FaultPlace place = c.place;
        const Fault* const fault = findFault(place.id);
        Wanted where;
        where.rowFrom = where.rowTo = place.row;
        where.clearOfEdges = 3;
        const std::vector<FaultPlace> places = placesFor(*fault, script, {}, where);
        REQUIRE_FALSE(places.empty());
        place = places.front();
        const Setup setup;
        const LevelAsked asked{script, setup, place, After::byReading, {}};
        CHECK(looksLevelOf(asked) == c.looks);
        // Less looking never tells more.
        for (int most = 1; most <= kMostLevel; ++most)
            CHECK((looksLevelOf(asked, most) > most) == (c.looks > most));
    }
}

TEST_CASE("How far hands must go is the moves of the cheapest way that counts") {
    const Script script = stockGround(StockGround::stockinette, 14, 12);
    const Setup setup;
    const auto hands = [&](int row, std::vector<std::string> repairs) {
        return handsLevelOf({script, setup, {"ladder_stockinette", row, 7, 0}, After::byReading, repairs});
    };
    CHECK(hands(12, {}).hands == 1);
    CHECK(hands(4, {}).moves > hands(9, {}).moves);
    CHECK(hands(4, {}).hands > hands(12, {}).hands);
    CHECK(hands(4, {"tink"}).moves == 0);
    CHECK(hands(4, {"tink"}).hands == 0);
}

TEST_CASE("What is not exercised is said") {
    CHECK_FALSE(canBeExercised("snip-and-graft"));
    CHECK(nearestLevel("snip-and-graft", 3) == 0);
    const auto none = exerciseOf({"snip-and-graft", 1, 1});
    REQUIRE_FALSE(none);
    CHECK(none.error().find("learned in lessons only") != std::string::npos);
    REQUIRE_FALSE(exerciseOf({"no-such-skill", 1, 1}));
    REQUIRE_FALSE(exerciseOf({"hook-up", 0, 1}));
    REQUIRE_FALSE(exerciseOf({"hook-up", 6, 1}));
    for (const std::string& skill : exercisable()) {
        for (int level = 1; level <= kMostLevel; ++level) {
            const int nearest = nearestLevel(skill, level);
            CHECK((levelsOf(skill) >> static_cast<unsigned>(nearest) & 1U) == 1);
            if ((levelsOf(skill) >> static_cast<unsigned>(level) & 1U) != 0) CHECK(nearest == level);
        }
    }
}

TEST_CASE("The same word, the same exercise; another seed, another one") {
    int asked = 0;
    int different = 0;
    for (const char* skill : {"knit-or-purl", "hook-up", "drop-and-mend", "why-one-out"}) {
        if (!isSampled(asked * 4)) break;
        ++asked;
        const ExerciseWanted w{skill, nearestLevel(skill, 2), 5};
        const auto a = exerciseOf(w);
        const auto b = exerciseOf(*exerciseFrom(exerciseId(w)));
        REQUIRE(a);
        REQUIRE(b);
        CHECK(same(a->first(), b->first()));
        const auto c = exerciseOf({skill, w.level, 6});
        REQUIRE(c);
        different += same(a->first(), c->first()) ? 0 : 1;
    }
    CHECK(different == asked);
}

TEST_CASE("Exercises, spread over skills and levels, pass the lesson check and are as hard as they say") {
    constexpr int kAll = 1000;
    constexpr int kSome = kSanitized ? 2 : 60;
    Spread spread;
    const std::vector<ExerciseWanted> all = wanted(kAll);
    Seeded dice(8);
    for (int n = 0; n < kSome; ++n) {
        const auto i = static_cast<std::size_t>(dice.below(kAll));
        INFO(exerciseId(all[i]));
        const auto lesson = exerciseOf(all[i]);
        if (!lesson) {
            FAIL_CHECK(lesson.error());
            continue;
        }
        spread.add(lesson->first());
        checkGiven(all[i], *lesson);
        if (spread.given % 3 == 0) checkLevel(all[i], lesson->first());
    }
    CHECK(spread.given == kSome);
    if (kSanitized) return;
    CHECK(spread.cloths.size() >= 15);
    CHECK(spread.faults.size() >= 10);
    CHECK(spread.members.size() == 5);
}

TEST_CASE("A thousand exercises pass the lesson check; every mistake occurs, one in three has none",
          "[.all1000]") {
    Spread spread;
    int mistakesWanted = 0;
    int occurring = 0;
    for (const ExerciseWanted& w : wanted(1000)) {
        INFO(exerciseId(w));
        const auto lesson = exerciseOf(w);
        if (!lesson) {
            FAIL_CHECK(lesson.error());
            continue;
        }
        if (!exerciseFor(w.skill)->asks()) {
            ++mistakesWanted;
            occurring += lesson->first().faults.empty() ? 0 : 1;
        }
        spread.add(lesson->first());
        checkGiven(w, *lesson);
    }
    CHECK(spread.given == 1000);
    CHECK(spread.cloths.size() >= 15);
    for (const Fault* fault : lessonFaults()) {
        // Met in lessons alone: there is no cloth of two colors for dice, and they find no place for the
        // others.
        static constexpr std::array<std::string_view, 4> kInLessonsAlone = {
            "wrong_colour", "missed_row", "edge_doubled", "needle_pulled_out"};
        if (std::find(kInLessonsAlone.begin(), kInLessonsAlone.end(), fault->id) != kInLessonsAlone.end())
            continue;
        if (spread.faults[std::string(fault->id)] == 0) FAIL_CHECK("never: " << fault->id);
    }
    WARN(spread.given << " exercises, " << spread.cloths.size() << " cloths, " << occurring
                      << " with a mistake, " << spread.faults.size() << " mistakes");
    CHECK(occurring > mistakesWanted * 3 / 5);
    CHECK(occurring < mistakesWanted * 3 / 4);
}
