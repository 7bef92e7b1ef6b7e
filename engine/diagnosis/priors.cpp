// SPDX-License-Identifier: MIT
#include "diagnosis/priors.h"

#include "fault/steps.h"

namespace loopmend {

namespace {

struct Weight {
    std::string_view id;
    double weight;
};

// One short in lace is a missed yarn over before it is a dropped stitch; a stitch left behind is commoner
// than one that fell after its row; a cross done from habit goes wrong more often than it is forgotten.
constexpr Weight kWeights[] = {
    {"missed_yo", 10},       {"lost_yo", 4},         {"accidental_yo", 8},   {"worked_the_bar", 1},
    {"drop_left_behind", 6}, {"drop_live", 4},       {"ladder_lace", 3},     {"ladder_stockinette", 5},
    {"ladder_garter", 3},    {"ladder_rib", 3},      {"ladder_edge", 3},     {"ladder_cable", 1},
    {"decrease_escaped", 2}, {"knit_below", 1},      {"slip_float_back", 2}, {"slip_float_front", 2},
    {"yo_closed", 2},        {"wrong_kp", 10},       {"twist_tbl", 4},       {"twist_wrap", 3},
    {"twist_pickup", 3},     {"missed_dec", 8},      {"merged", 6},          {"wrong_lean", 4},
    {"dec_3_for_2", 2},      {"dec_off_by_one", 3},  {"dec_yo_swapped", 3},  {"cdd_wrong_stack", 3},
    {"dec_twisted", 2},      {"missed_inc", 4},      {"m1_open", 2},         {"m1_wrong_lean", 3},
    {"kfb_accident", 1},     {"inc_off_by_one", 1},  {"miscrossed", 4},      {"cross_missed", 3},
    {"wrong_row", 3},        {"extra_row", 3},       {"missed_row", 3},      {"sides_swapped", 1},
    {"turned_midrow", 2},    {"last_left", 2},       {"turn_unclosed", 2},   {"rib_shift", 2},
    {"seed_to_rib", 2},      {"repeat_drift", 3},    {"marker_moved", 2},    {"cross_wrong_row", 3},
    {"cast_on_count", 3},    {"wrong_size_read", 2},
};

}  // namespace

double priorOf(std::string_view faultId) {
    for (const Weight& w : kWeights) {
        if (w.id == faultId) return w.weight;
    }
    return 1;
}

double priorAt(const Script& meant, const FaultPlace& place) {
    // A stitch that hangs free under a decrease has escaped it, and one under a bind-off was chained past,
    // before it fell of its own accord.
    constexpr double kFellThere = 0.4;
    constexpr double kFellFromBindOff = 0.2;
    // Flat, a row is missed or worked again together with its return row; one alone is the other side taken
    // up.
    constexpr double kHalfARidge = 0.2;
    if (place.row < 1 || place.row > static_cast<int>(meant.rows.size())) return 1;
    const WorkedRow& row = meant.rows[static_cast<std::size_t>(place.row) - 1];
    if (place.id == "missed_row" || place.id == "extra_row")
        return !row.round && place.rows % 2 != 0 ? kHalfARidge : 1;
    if (place.id != "drop_live" || place.row == static_cast<int>(meant.rows.size())) return 1;
    const WorkedRow& next = meant.rows[static_cast<std::size_t>(place.row)];
    const int nth = next.facing == row.facing ? place.stitch : stitchesIn(row) + 1 - place.stitch;
    int taken = 0;
    for (const Step& step : next.steps) {
        taken += uses(step);
        if (taken >= nth) return isBindOff(step) ? kFellFromBindOff : isDecrease(step) ? kFellThere : 1;
    }
    return 1;
}

double priorOf(After after) {
    switch (after) {
        case After::byReading: return 0.5;
        case After::byCount: return 0.3;
        case After::rowEnd: return 0.2;
    }
    return 0;
}

}  // namespace loopmend
