// SPDX-License-Identifier: MIT
#include "fault/catalogue.h"

#include <catch2/catch.hpp>
#include <cctype>
#include <set>

namespace loopmend {

TEST_CASE("the catalogue has what every evening brings") {
    for (const char* id : {"drop_live", "drop_left_behind", "ladder_stockinette", "ladder_garter",
                           "ladder_rib", "missed_yo", "accidental_yo", "wrong_kp", "twist_wrap", "twist_tbl",
                           "twist_pickup", "wrong_lean", "missed_dec", "merged"}) {
        INFO(id);
        REQUIRE(findFault(id) != nullptr);
        CHECK(findFault(id)->id == id);
    }
    CHECK(findFault("") == nullptr);
    CHECK(findFault("missed_yoo") == nullptr);
    CHECK(nearestFault("missed_yoo") == "missed_yo");
    CHECK(nearestFault("laddergarter") == "ladder_garter");
}

TEST_CASE("every fault is whole, has its own id and name, and knows what it is taken for") {
    std::set<std::string_view> ids;
    std::set<std::string_view> names;
    for (const Fault* fault : catalogue()) {
        INFO(fault->id);
        CHECK(ids.insert(fault->id).second);
        CHECK(names.insert(fault->name).second);
        CHECK((fault->standsOn != nullptr) == (fault->work != nullptr));
        CHECK((fault->fallsAt != nullptr) == (fault->suffer != nullptr));
        CHECK((fault->misread()) == (fault->rowsFor != nullptr || fault->castsOn != nullptr));
        CHECK((fault->work != nullptr ? 1 : 0) + (fault->suffered() ? 1 : 0) + (fault->misread() ? 1 : 0) ==
              1);
        CHECK_FALSE(fault->cause.empty());
        CHECK_FALSE(fault->prevention.empty());
        CHECK(fault->cause.back() == '.');
        CHECK(fault->prevention.back() == '.');
        if (!fault->sign.empty()) CHECK(fault->sign.back() == '.');
    }
}

TEST_CASE("names are a knitter's, and change with the side of the Atlantic only where her words do") {
    std::set<std::string> different;
    for (const Fault* fault : catalogue()) {
        if (name(*fault, Terms::us) != name(*fault, Terms::uk)) different.insert(std::string(fault->id));
        // Words that are for the people who build this, or blame.
        for (const std::string_view words : {fault->name, fault->cause, fault->prevention}) {
            for (const char* no :
                 {"graph", "host", "itinerary", "link", "wrongly", "careless", "must never"}) {
                INFO(fault->id << ": " << words);
                CHECK(words.find(no) == std::string_view::npos);
            }
        }
    }
    for (const char* id : {"cdd_wrong_stack", "ladder_rib", "ladder_stockinette", "wrong_colour",
                           "colour_gap", "bindoff_open", "edge_tension", "seed_to_rib"})
        CHECK(different.erase(id) == 1);
    CHECK(different == std::set<std::string>{});
}

}  // namespace loopmend
