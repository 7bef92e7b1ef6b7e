// SPDX-License-Identifier: MIT
//
// What a learner is told of a mistake: two signs by two ways of looking, and what it is not.
#include <catch2/catch.hpp>
#include <string>

#include "diagnosis/account.h"
#include "diagnosis/words.h"
#include "fault/catalogue.h"
#include "sampled.h"

namespace loopmend {

TEST_CASE("every mistake has two signs, and is told apart from what it is taken for") {
    int ruledOut = 0;
    int told = 0;
    int i = 0;
    for (const Fault* fault : catalogue()) {
        if (i++ % (kSanitized ? 24 : 3) != 0) continue;
        const Account account = accountOf(fault->id, {});
        INFO(fault->id);
        ++told;
        REQUIRE(account.signs.size() == 2);
        CHECK(account.signs[0] != account.signs[1]);
        for (const std::string& sign : account.signs) {
            CHECK(sign.size() > 10);
            CHECK(sign.back() == '.');
            for (const char* no : {"graph", "host", "cone", "itinerary", "wrongly", "stupid"})
                CHECK(sign.find(no) == std::string::npos);
        }
        if (account.notId.empty()) {
            CHECK(account.notWords.empty());
            continue;
        }
        ++ruledOut;
        const Fault* const other = findFault(account.notId);
        REQUIRE(other != nullptr);
        CHECK(account.notId != fault->id);
        CHECK(account.notWords.find(std::string(name(*other, Terms::us))) != std::string::npos);
        // What may as well have happened is not ruled out.
        if (told < 4) CHECK(accountOf(fault->id, {account.notId}).notId != account.notId);
    }
    // A share of the whole catalogue: four of it tell nothing.
    if (!kSanitized) CHECK(2 * ruledOut > told);
}

TEST_CASE("signs are told in the reader's English") {
    CHECK(accountOf("missed_yo", {}, Terms::us).signs.size() == 2);
    const Account account = accountOf("ladder_garter", {}, Terms::uk);
    CHECK(account.notWords.find("neighbors") == std::string::npos);
    CHECK(accountOf("no_such_thing", {}).signs.empty());
}

}  // namespace loopmend
