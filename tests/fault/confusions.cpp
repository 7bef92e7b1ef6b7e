// SPDX-License-Identifier: MIT
#include "fault/confusions.h"

#include <algorithm>
#include <string>

#include <catch2/catch.hpp>

#include "fault/scenes.h"

namespace loopmend {

namespace {

std::vector<Likeness> likenessesOf(const std::string& id) {
    const auto example = exampleOf(*findFault(id));
    REQUIRE(example);
    return likenesses(*example);
}

/// 0: nothing shows the same.
double share(const std::vector<Likeness>& all, const std::string& id) {
    const auto at = std::find_if(all.begin(), all.end(), [&](const Likeness& one) { return one.id == id; });
    return at == all.end() ? 0 : at->share();
}

bool has(const std::vector<LookWay>& ways, LookWay way) {
    return std::find(ways.begin(), ways.end(), way) != ways.end();
}

}  // namespace

TEST_CASE("mistakes that the trade takes for each other share half of what can be seen") {
    // Common practice: one too few with a loop inside the cloth or two in one stitch; one too many from the
    // bar, from a yarn-over, from both legs of a stitch; feet crossed by the wrap, by the leg, by putting
    // back; a stitch under another one and one that was slipped.
    const std::vector<std::pair<std::string, std::vector<std::string>>> taken = {
        {"drop_left_behind", {"ladder_stockinette"}},
        {"merged", {"drop_left_behind"}},
        {"accidental_yo", {"worked_the_bar", "kfb_accident"}},
        {"missed_dec", {"accidental_yo"}},
        {"dec_3_for_2", {"merged"}},
        {"twist_wrap", {"twist_tbl", "twist_pickup"}},
        {"slip_float_back", {"knit_below"}},
        {"join_gap", {"snag"}},  // one big stitch
    };
    for (const auto& [id, others] : taken) {
        const std::vector<Likeness> all = likenessesOf(id);
        for (const std::string& other : others) {
            INFO(id << " and " << other);
            CHECK(share(all, other) >= 0.5);
        }
    }
}

TEST_CASE("what tells two mistakes apart is said") {
    // Common practice: a loop stands free in the one and both loops are held in the other; so the count is
    // alike, and stretching or tugging decides.
    const std::vector<Likeness> all = likenessesOf("drop_left_behind");
    const auto merged =
        std::find_if(all.begin(), all.end(), [](const Likeness& one) { return one.id == "merged"; });
    REQUIRE(merged != all.end());
    CHECK(has(merged->same, LookWay::countSpan));
    CHECK(has(merged->apart, LookWay::stretchPatch));
    CHECK(has(merged->apart, LookWay::tug));
    CHECK(share(likenessesOf("wrong_kp"), "missed_yo") == 0);
}

TEST_CASE("likenesses are in order, and a look is on one side only") {
    for (const char* id : {"merged", "yo_closed", "edge_doubled"}) {
        INFO(id);
        const std::vector<Likeness> all = likenessesOf(id);
        REQUIRE_FALSE(all.empty());
        for (std::size_t i = 0; i < all.size(); ++i) {
            INFO(all[i].id);
            CHECK(findFault(all[i].id) != nullptr);
            CHECK(all[i].id != id);
            CHECK_FALSE(all[i].same.empty());
            for (const LookWay way : all[i].same) CHECK_FALSE(has(all[i].apart, way));
            if (i > 0) CHECK(all[i].share() <= all[i - 1].share());
        }
        const std::vector<std::string> taken = easilyTakenFor(all);
        REQUIRE_FALSE(taken.empty());
        CHECK(taken.size() <= 4);
        CHECK(taken.front() == all.front().id);
    }
}

}  // namespace loopmend
