// SPDX-License-Identifier: MIT
// What is not in the list: where it is believed to lie, and what is asked before it is.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cstdlib>
#include <optional>
#include <string>
#include <vector>

#include "diagnosis/case.h"
#include "diagnosis/case_on.h"
#include "fault/catalogue.h"
#include "fault/grounds.h"
#include "fault/knit_with.h"
#include "reading/answer.h"

using namespace loopmend;

namespace {

using What = Sighting::What;
constexpr int kRows = 14;
constexpr int kStitches = 24;

/// Something odd that she sees at a place, and calls that.
struct OddCell {
    int row;
    int column;
    OddSign sign;
};

/// What she says of a piece with these spots on it and nothing else: searched for, looked at closely; all
/// else is as it should be.
Sighting seenOf(const std::vector<OddCell>& spots, const Look& look) {
    Sighting s;
    const bool close = look.way == LookWay::closeLook;
    if (look.way == LookWay::countSpan || look.way == LookWay::rowFits || look.way == LookWay::bothEnds)
        s.what = What::number;
    if (!close && look.way != LookWay::searchPatch) return s;
    const int rows = close ? 1 : 0;
    const int columns = close ? 2 : 0;
    const OddCell* nearest = nullptr;
    for (const OddCell& spot : spots) {
        if (spot.row < look.rowFrom - rows || spot.row > look.rowTo + rows ||
            spot.column < look.columnFrom - columns || spot.column > look.columnTo + columns)
            continue;
        const auto off = [&](const OddCell& it) {
            return std::abs(2 * it.row - look.rowFrom - look.rowTo) +
                   std::abs(2 * it.column - look.columnFrom - look.columnTo);
        };
        if (nearest == nullptr || off(spot) < off(*nearest)) nearest = &spot;
    }
    if (nearest == nullptr) return s;
    s.what = close ? nearest->sign == OddSign::other ? What::unnamed : What::sign : What::place;
    s.oddity = close && nearest->sign == OddSign::other ? OddSign::none : nearest->sign;
    if (close) return s;
    s.row = nearest->row;
    s.column = nearest->column;
    return s;
}

/// Plain knitting of which no mistake is known but that one.
Case knowing(const std::string& only) {
    CaseStart start;
    start.rowsDone = kRows;
    for (const Fault* fault : catalogue()) {
        if (fault->id != only) start.priors[std::string(fault->id)] = 0;
    }
    CaseMeant meant;
    meant.script = stockGround(StockGround::stockinette, kStitches, kRows + 2);
    meant.rowsDone = kRows;
    auto made = Case::begin(start, std::move(meant), usual());
    REQUIRE(made);
    return std::move(*made);
}

CaseSettled settledOn(const std::vector<OddCell>& spots) {
    Case c = knowing("");
    answerAll(c, [&](const Look& look) { return seenOf(spots, look); });
    CaseSettled s = c.settled();
    REQUIRE(s.explanation);
    return s;
}

}  // namespace

TEST_CASE("one odd place that is not in the list is settled there") {
    const CaseSettled s = settledOn({{8, 11, OddSign::bump}});
    CHECK(s.settled);
    CHECK(s.explanation->row == 8);
    CHECK(s.explanation->column == 11);
}

TEST_CASE("what is not in the list must have been found at the very place, not only beside it") {
    Case c = knowing("");
    // She tells it a stitch off, to this side and that, until she is asked for three stitches of one row.
    int narrow = 0;
    int off = 1;
    answerAll(c, [&](const Look& look) {
        Sighting s = seenOf({{8, 11, OddSign::bump}}, look);
        if (s.what != What::place) return s;
        if (look.rowFrom == look.rowTo && look.columnTo - look.columnFrom <= 2) {
            ++narrow;
            return Sighting{};
        }
        s.column += off;
        off = -off;
        return s;
    });
    const CaseSettled s = c.settled();
    REQUIRE(s.explanation);
    CHECK(std::abs(s.explanation->column - 11) <= 1);
    CHECK(narrow > 0);
}

TEST_CASE("two odd places near each other are no single place") {
    const CaseSettled s = settledOn({{8, 11, OddSign::bump}, {8, 16, OddSign::tall}});
    CHECK_FALSE(s.settled);
}

TEST_CASE("nothing joined where something should be tells no place by itself") {
    CHECK_FALSE(settledOn({{8, 11, OddSign::noJoin}}).settled);
}

TEST_CASE("odd all along a row is odd toward both of its ends") {
    std::vector<OddCell> half;
    std::vector<OddCell> whole;
    for (int column = 1; column <= kStitches; ++column) {
        whole.push_back({8, column, OddSign::bump});
        if (column <= kStitches / 2) half.push_back(whole.back());
    }
    const CaseSettled s = settledOn(whole);
    CHECK(s.settled);
    CHECK(s.explanation->row == 8);
    CHECK_FALSE(settledOn(half).settled);
}

TEST_CASE("one stitch that hangs free is not taken for the only one before one aside of it was tugged") {
    const Script script = stockGround(StockGround::stockinette, kStitches, kRows + 2);
    Script done = script;
    done.rows.resize(kRows);
    const auto solved = [&](const std::string& id, bool& tugged) {
        const auto piece = knitWith(done, {}, {{id, kRows, 12, 0}}, After::byReading);
        REQUIRE(piece);
        const LookedAt looked(*piece->actual.fabric, *piece->meant.fabric, &script);
        Case c = knowing("drop_live");
        std::vector<CaseNote> notes;
        for (const char* words : {"search:row=13-14,column=9-24", "close:row=14,column=13"}) {
            CaseNote n;
            n.look = *lookFrom(words);
            n.seen = answer(n.look, looked);
            notes.push_back(n);
        }
        REQUIRE(c.tell(notes));
        while (c.question()) {
            CaseNote n;
            n.look = c.question()->look;
            n.seen = answer(n.look, looked);
            tugged = tugged || n.look.way == LookWay::tug;
            REQUIRE(c.tell(n));
        }
        return c.settled();
    };
    bool tugged = false;
    const CaseSettled one = solved("drop_live", tugged);
    CHECK(tugged);
    CHECK(one.settled);
    CHECK(one.explanation->id == "drop_live");
    CHECK_FALSE(solved("needle_pulled_out", tugged).settled);
}
