// SPDX-License-Identifier: MIT
#include "fault/facts.h"

#include <catch2/catch.hpp>
#include <map>

#include "fault/scenes.h"

namespace loopmend {

TEST_CASE("what mistakes do to the count, as the trade has it") {
    // Common practice: one too few, right, one too many; at the end of the row of the mistake and later.
    const std::map<std::string_view, int> expected = {
        {"drop_live", -1},       {"drop_left_behind", -1}, {"ladder_stockinette", -1},
        {"ladder_garter", -1},   {"ladder_rib", -1},       {"ladder_lace", -1},
        {"ladder_edge", -1},     {"ladder_cable", -1},     {"lost_yo", -1},
        {"decrease_escaped", 0}, {"missed_yo", -1},        {"accidental_yo", 1},
        {"worked_the_bar", 1},   {"knit_below", 0},        {"slip_float_back", 0},
        {"slip_float_front", 0}, {"yo_closed", 0},         {"wrong_kp", 0},
        {"twist_wrap", 0},       {"twist_tbl", 0},         {"twist_pickup", 0},
        {"missed_dec", 1},       {"merged", -1},           {"wrong_lean", 0},
        {"dec_3_for_2", -1},     {"dec_off_by_one", 0},    {"dec_yo_swapped", 0},
        {"cdd_wrong_stack", 0},  {"dec_twisted", 0},       {"missed_inc", -1},
        {"m1_open", 0},          {"m1_wrong_lean", 0},     {"kfb_accident", 1},
        {"inc_off_by_one", 0},   {"miscrossed", 0},        {"cross_missed", 0},
        {"cross_off_by_one", 0}, {"arm_turned", 0},        {"double_wrap", 1},
        {"split_yarn", 0},       {"split_in_two", 1},      {"caught_strand", 0},
        {"marker_knitted", 0},   {"edge_doubled", 1},      {"bindoff_open", 0},
        {"pickup_gap", -1},      {"pickup_wrong_side", 0}, {"wrong_colour", 0},
        {"colour_gap", 0},       {"broken_yarn", 0},       {"needle_size", 0},
        {"edge_tension", 0},     {"needle_ladder", 0},     {"loose_last_knit", 0},
        {"float_tight", 0},      {"join_gap", 0},          {"snag", 0},
        {"wrong_row", 0},        {"extra_row", 0},         {"missed_row", 0},
        {"turned_midrow", 0},    {"last_left", 0},         {"cast_on_count", -1},
        {"sides_swapped", 0},    {"rib_shift", 0},         {"joined_round_twisted", 0},
        {"seed_to_rib", 0},      {"repeat_drift", 0},      {"marker_moved", 0},
        {"cross_wrong_row", 0},  {"wrong_size_read", 2},   {"turn_unclosed", 1},
        {"float_uncaught", 0},   {"tail_used", 0},
    };
    for (const Fault* fault : catalogue()) {
        INFO(fault->id);
        const auto example = exampleOf(*fault);
        REQUIRE(example);
        const FaultFacts facts = factsOf(*example);
        if (fault->id == "needle_pulled_out") {  // as many as it slid out of
            CHECK(facts.countAtRow < -2);
            continue;
        }
        REQUIRE(expected.count(fault->id) == 1);
        CHECK(facts.countAtRow == expected.at(fault->id));
        CHECK(facts.countLater == expected.at(fault->id));
        // Several increases or decreases of one row, as another size has them.
        if (fault->id == "wrong_size_read") continue;
        CHECK(facts.countEffect == (expected.at(fault->id) == 0  ? "the count stays right"
                                    : expected.at(fault->id) < 0 ? "one too few from its row on"
                                                                 : "one too many from its row on"));
    }
}

TEST_CASE("every mistake looks like something, and shows at some time") {
    for (const Fault* fault : catalogue()) {
        INFO(fault->id);
        const auto example = exampleOf(*fault);
        REQUIRE(example);
        CHECK(example->place.id == fault->id);
        const FaultFacts facts = factsOf(*example);
        INFO(facts.looksRs);
        CHECK_FALSE(facts.looksRs.empty());
        // The stitches are those that were meant, whichever end made them: the trade tells no look either.
        const bool hidden = fault->id == "tail_used";
        CHECK((facts.looksRs.find("no difference") != std::string::npos) == hidden);
        CHECK_FALSE(facts.looksWs.empty());
        if (hidden) CHECK(facts.looksWs.find("no difference") == std::string::npos);
        CHECK(facts.noticedAfter >= 0);
        CHECK_FALSE(facts.cue.empty());
        CHECK_FALSE(facts.noticedBy.empty());
    }
}

TEST_CASE("what hangs free can run, and nothing else can") {
    // Common practice: a loop that stands free is a drop, a run, or has escaped from a decrease.
    for (const Fault* fault : catalogue()) {
        INFO(fault->id);
        const bool drops = (fault->family == Family::drops && fault->id != "lost_yo") ||
                           fault->id == "bindoff_open" || fault->family == Family::harm;
        CHECK(factsOf(*exampleOf(*fault)).canRun == drops);
    }
}

TEST_CASE("looks are those of the trade") {
    const auto looks = [](const char* id) { return factsOf(*exampleOf(*findFault(id))); };
    // A bump across a V column, a V among bumps from the other side (common practice).
    CHECK(looks("wrong_kp").looksRs == "a bump instead of a V");
    CHECK(looks("wrong_kp").looksWs == "a V instead of a bump");
    // Through the back leg `\`, wrapped the other way `/` (common practice; the hand is the same from both
    // sides).
    CHECK(looks("twist_tbl").looksRs.find("crossed to the left") != std::string::npos);
    CHECK(looks("twist_tbl").looksWs.find("crossed to the left") != std::string::npos);
    CHECK(looks("twist_wrap").looksRs.find("crossed to the right") != std::string::npos);
    CHECK(looks("twist_pickup").looksRs.find("crossed to the right") != std::string::npos);
    CHECK(looks("missed_yo").looksRs.find("missing: a hole") == 0);
    CHECK(looks("accidental_yo").looksRs.find("one too many: a hole") == 0);
    CHECK(looks("slip_float_back").looksRs.find("a strand behind it") != std::string::npos);
    CHECK(looks("slip_float_back").looksWs.find("a strand across it") != std::string::npos);
    CHECK(looks("slip_float_front").looksRs.find("a strand across it") != std::string::npos);
    // Lean is seen from the knit side, from the other nearly nothing.
    CHECK(looks("wrong_lean").looksRs.find("leans left instead of") != std::string::npos);
    CHECK(looks("wrong_lean").looksWs.find("no difference") != std::string::npos);
    CHECK(looks("cdd_wrong_stack").looksRs.find("instead of three stitches meet, a middle one on top") !=
          std::string::npos);
    CHECK(looks("kfb_accident").looksRs.find("out of one stitch") != std::string::npos);
    CHECK(looks("ladder_rib").looksRs.find("standing free under") != std::string::npos);
}

}  // namespace loopmend
