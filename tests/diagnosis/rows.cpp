// SPDX-License-Identifier: MIT
//
// Rows that were misread are told by row, with what makes the same cloth.
#include <algorithm>
#include <catch2/catch.hpp>

#include "diagnosis/explain.h"
#include "fault/grounds.h"
#include "fault/knit_with.h"

namespace loopmend {
namespace {

Explanations told(const Script& script, const FaultPlace& place, After after = After::byReading) {
    const auto k = knitWith(script, {}, {place}, after);
    REQUIRE(k);
    return explain(script, {}, *k->actual.fabric);
}

const FoundFault* found(const Explanations& all, std::string_view id) {
    for (const Explanation& e : all.explanations) {
        if (e.faults.front().id == id) return &e.faults.front();
    }
    return nullptr;
}

}  // namespace

TEST_CASE("where rows are alike, a row too many is told as a span of rows") {
    // Rows 2 and 4 are both purled across: 3 and 4 worked twice are 2 and 3 worked twice.
    const Script lace = stockGround(StockGround::eyelets, 11, 9);
    const Explanations all = told(lace, {"extra_row", 4, 1, 0});
    REQUIRE_FALSE(all.explanations.empty());
    const FoundFault* rows = found(all, "extra_row");
    REQUIRE(rows != nullptr);
    CHECK(rows->row == 3);
    CHECK(rows->rowTo == 4);
    CHECK(all.words.find("rows 3 to 4") != std::string::npos);
    CHECK(all.explanations.front().words.find("rows 3 to 4") != std::string::npos);
}

TEST_CASE("swapped sides and an odd row left out are one cloth, and said to be") {
    const Script lace = stockGround(StockGround::eyelets, 11, 9);
    const Explanations all = told(lace, {"sides_swapped", 4, 1, 0});
    REQUIRE(found(all, "sides_swapped") != nullptr);
    const FoundFault* missed = found(all, "missed_row");
    REQUIRE(missed != nullptr);
    CHECK(missed->rows == 1);
    CHECK(missed->row == 4);
    CHECK(std::any_of(all.explanations.begin(), all.explanations.end(), [](const Explanation& e) {
        return std::count(e.sameFabricAs.begin(), e.sameFabricAs.end(), "sides_swapped") == 1;
    }));
}

TEST_CASE("how many were cast on too many or too few is told") {
    const Script plain = stockGround(StockGround::stockinette, 12, 5);
    for (const int by : {1, 2, -2}) {
        INFO(by);
        const Explanations all = told(plain, {"cast_on_count", 1, 1, by}, After::byCount);
        const FoundFault* cast = found(all, "cast_on_count");
        REQUIRE(cast != nullptr);
        CHECK(cast->rows == by);
        CHECK(all.words.find("before row 1") != std::string::npos);
    }
}

TEST_CASE("she who stopped after a row too many, or the row after one left out, noticed there") {
    const Script cables = stockGround(StockGround::cables, 14, 10);
    for (const char* id : {"extra_row", "missed_row", "wrong_row", "last_left"}) {
        for (int row = 2; row < 9; ++row) {
            const FaultPlace place{id, row, 1, 0};
            if (!knitWith(cables, {}, {place}, After::rowEnd)) continue;
            INFO(text(place));
            const Explanations all = told(cables, place, After::rowEnd);
            const FoundFault* there = found(all, id);
            REQUIRE(there != nullptr);
            // Or she worked a row more after the lower row of the span.
            CHECK((there->after == After::rowEnd || there->afterOpen));
            CHECK(there->row <= row);
            CHECK(row <= std::max(there->row, there->rowTo));
        }
    }
}

}  // namespace loopmend
