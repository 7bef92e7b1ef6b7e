// SPDX-License-Identifier: MIT
#include "fault/severity.h"

#include <catch2/catch.hpp>
#include <map>
#include <string_view>

#include "fault/catalogue.h"

using namespace loopmend;

TEST_CASE("what a mistake costs if it is left is the worst that the trade tells of it") {
    // Common practice; where several are told, any of them.
    const std::map<std::string_view, std::string_view> told = {
        {"accidental_yo", "count look"},
        {"arm_turned", "look"},
        {"bindoff_open", "run"},
        {"broken_yarn", "run"},
        {"cast_on_count", "count"},
        {"caught_strand", "look"},
        {"cdd_wrong_stack", "look"},
        {"colour_gap", "look"},
        {"cross_missed", "look"},
        {"cross_off_by_one", "look"},
        {"cross_wrong_row", "look"},
        {"dec_3_for_2", "count"},
        {"dec_off_by_one", "look"},
        {"dec_twisted", "look"},
        {"dec_yo_swapped", "look"},
        {"decrease_escaped", "run"},
        {"double_wrap", "look count"},
        {"drop_left_behind", "run count"},
        {"drop_live", "run"},
        {"edge_doubled", "size count"},
        {"edge_tension", "size"},
        {"extra_row", "look size"},
        {"float_tight", "size"},
        {"float_uncaught", "look"},
        {"inc_off_by_one", "look"},
        {"join_gap", "look"},
        {"joined_round_twisted", "size"},
        {"kfb_accident", "count"},
        {"knit_below", "look count"},
        {"ladder_cable", "run"},
        {"ladder_edge", "run"},
        {"ladder_garter", "run"},
        {"ladder_lace", "run"},
        {"ladder_rib", "run"},
        {"ladder_stockinette", "run"},
        {"last_left", "look"},
        {"loose_last_knit", "look"},
        {"lost_yo", "count"},
        {"m1_open", "look"},
        {"m1_wrong_lean", "look"},
        {"marker_knitted", "look count"},
        {"marker_moved", "none"},
        {"merged", "count"},
        {"miscrossed", "look"},
        {"missed_dec", "count"},
        {"missed_inc", "size"},
        {"missed_row", "look count"},
        {"missed_yo", "count"},
        {"needle_ladder", "look"},
        {"needle_pulled_out", "run"},
        {"needle_size", "size"},
        {"pickup_gap", "look count"},
        {"pickup_wrong_side", "look"},
        {"repeat_drift", "look count"},
        {"rib_shift", "look"},
        {"seed_to_rib", "look"},
        {"sides_swapped", "look"},
        {"slip_float_back", "look"},
        {"slip_float_front", "look"},
        {"snag", "look"},
        {"split_yarn", "look count"},
        {"tail_used", "none"},
        {"turn_unclosed", "look count"},
        {"turned_midrow", "size"},
        {"twist_pickup", "look"},
        {"twist_tbl", "look size"},
        {"twist_wrap", "look size"},
        {"worked_the_bar", "count"},
        {"wrong_colour", "look"},
        {"wrong_kp", "look"},
        {"wrong_lean", "look"},
        {"wrong_row", "look"},
        {"wrong_size_read", "count size"},
        {"yo_closed", "look"},
    };
    // The trade names what a garment suffers, the piece here what it shows (DEVELOPERS.md, What mistakes do).
    const std::map<std::string_view, Severity> otherwise = {{"marker_moved", Severity::look},
                                                            {"missed_inc", Severity::count},
                                                            {"missed_row", Severity::size},
                                                            {"sides_swapped", Severity::size},
                                                            {"tail_used", Severity::look}};
    int seen = 0;
    for (const Fault* fault : catalogue()) {
        INFO(fault->id);
        const auto example = exampleOf(*fault);
        REQUIRE(example);
        const Severity severity = severityOf(*example, factsOf(*example));
        CHECK_FALSE(severityWords(severity).empty());
        const auto other = otherwise.find(fault->id);
        if (other != otherwise.end()) {
            CHECK(severity == other->second);
            continue;
        }
        const auto known = told.find(fault->id);
        if (known == told.end()) continue;
        ++seen;
        CHECK(known->second.find(name(severity)) != std::string_view::npos);
    }
    CHECK(seen >= 68);
}
