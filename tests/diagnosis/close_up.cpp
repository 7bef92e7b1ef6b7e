// SPDX-License-Identifier: MIT
// What an explanation looks like, beside what was meant: worked, and looked at again as she would.
#include <algorithm>

#include <catch2/catch.hpp>

#include "diagnosis/case_on.h"
#include "diagnosis/close_up.h"
#include "fabric/itinerary.h"

using namespace loopmend;

namespace {

CaseStart lace(int stitches, int rows) {
    CaseStart start;
    start.pattern =
        "Multiple of 6 plus 1.\nRow 1 (RS): k1, *yo, k2tog, k4; rep from * to end.\nRow 2: p.\nRow 3: "
        "k.\nRow 4: p.\n";
    start.stitches = stitches;
    start.rowsDone = rows;
    return start;
}

CaseNote closeLook(int row, int column, OddSign sign) {
    CaseNote note;
    note.look.way = LookWay::closeLook;
    note.look.rowFrom = note.look.rowTo = row;
    note.look.columnFrom = note.look.columnTo = column;
    note.seen.what = Sighting::What::sign;
    note.seen.oddity = sign;
    return note;
}

}  // namespace

TEST_CASE("an explanation is shown where it shows and beside what was meant") {
    auto its = Case::begin(lace(25, 20), usual());
    REQUIRE(its);
    REQUIRE(its->tell(closeLook(13, 14, OddSign::noHole)));
    int shown = 0;
    for (const CaseExplanation& e : its->explanations(8)) {
        INFO(e.words);
        const auto up = closeUpOf(*its, e);
        CHECK(up.has_value() == e.fault.has_value());
        if (!up) continue;
        ++shown;
        CHECK(knotOf(*up->meant) != knotOf(*up->actual));
        CHECK(std::abs(up->row - e.seenRow) <= 1);
        CHECK(std::abs(up->column - e.column) <= 2);
        if (up->sign == OddSign::none) continue;
        // The same sign is seen there by whoever looks, and nothing is odd there in what was meant.
        Look look;
        look.way = LookWay::closeLook;
        look.rowFrom = look.rowTo = up->row;
        look.columnFrom = look.columnTo = up->column;
        look.side = up->side;
        CHECK(answer(look, LookedAt(*up->actual, *up->meant)).oddity == up->sign);
        CHECK(answer(look, LookedAt(*up->meant, *up->meant)).oddity == OddSign::none);
    }
    CHECK(shown > 0);
    const auto all = its->explanations(8);
    const auto missed =
        std::find_if(all.begin(), all.end(), [](const auto& e) { return e.id == "missed_yo"; });
    REQUIRE(missed != all.end());
    CHECK(closeUpOf(*its, *missed)->sign == OddSign::noHole);
}

TEST_CASE("of a large piece only the rows up to the place are knitted for its picture") {
    auto its = Case::begin(lace(25, 60), usual());
    REQUIRE(its);
    REQUIRE(its->tell(closeLook(13, 14, OddSign::noHole)));
    const auto up = closeUpOf(*its, its->explanations(1).front());
    REQUIRE(up);
    CHECK(up->actual->loopCount() < 25 * 30);
}

TEST_CASE("what is not in the list has no picture") {
    auto its = Case::begin(lace(13, 10), usual());
    REQUIRE(its);
    CaseExplanation unlisted;
    unlisted.id = "not-in-list";
    unlisted.row = unlisted.seenRow = 9;
    unlisted.column = 9;
    CHECK_FALSE(closeUpOf(*its, unlisted));
}
