// SPDX-License-Identifier: MIT
// What is asked before a place is believed: of what is not in the list, and of what looks like it.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cstdlib>
#include <optional>
#include <string>
#include <utility>
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

/// Knitting of which no mistake is known but that one.
Case knowing(const std::string& only, Script script) {
    CaseStart start;
    start.rowsDone = kRows;
    for (const Fault* fault : catalogue()) {
        if (fault->id != only) start.priors[std::string(fault->id)] = 0;
    }
    CaseMeant meant;
    meant.script = std::move(script);
    meant.rowsDone = kRows;
    auto made = Case::begin(start, std::move(meant), usual());
    REQUIRE(made);
    return std::move(*made);
}

Case knowing(const std::string& only) {
    return knowing(only, stockGround(StockGround::stockinette, kStitches, kRows + 2));
}

/// A piece with one mistake, looked at.
struct Spoiled {
    FaultyKnitting piece;
    LookedAt looked;
};

Spoiled spoiled(const Script& script, const FaultPlace& where) {
    Script done = script;
    done.rows.resize(kRows);
    auto piece = knitWith(done, {}, {where}, After::byReading);
    REQUIRE(piece);
    LookedAt looked(*piece->actual.fabric, *piece->meant.fabric, &script);
    return {std::move(*piece), std::move(looked)};
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

TEST_CASE("a ridge that was found at one stitch is not taken for that stitch alone") {
    const Script script = stockGround(StockGround::stockinette, kStitches, kRows);
    const Spoiled hers = spoiled(script, {"wrong_row", 8, 1, 0});
    Case c = caseOn(StockGround::stockinette, kStitches, kRows);
    // In the middle of what she looks at, and where she found it before.
    constexpr int kFound = 13;
    answerAll(c, [&](const Look& look) {
        Sighting s = answer(look, hers.looked);
        const int middle = (look.columnFrom + look.columnTo) / 2;
        if (s.what == What::place)
            s.column = look.columnFrom <= kFound && kFound <= look.columnTo ? kFound : middle;
        return s;
    });
    const CaseSettled s = c.settled();
    CHECK(s.settled);
    REQUIRE(s.explanation);
    CHECK(s.explanation->id == "wrong_row");
    CHECK(s.explanation->row == 8);
}

TEST_CASE("however sure, what was found at one stitch is not taken for all of its row") {
    Case c = knowing("wrong_row");
    const std::vector<OddCell> one = {{8, 11, OddSign::bump}};
    const std::vector<CaseNote> notes = {
        note("slant:row=1-14,column=1-24", What::place, 8, 11, OddSign::bump),
        note("close:row=8,column=11", What::sign, 0, 0, OddSign::bump),
        note("close:row=7,column=11", What::sign, 0, 0, OddSign::bump)};
    REQUIRE(c.tell(notes));
    REQUIRE(c.question());
    CHECK(std::abs(c.question()->look.columnFrom - 11) > 2);
    answerRest(c, [&](const Look& look) { return seenOf(one, look); });
    const CaseSettled s = c.settled();
    REQUIRE(s.explanation);
    CHECK(s.explanation->id == "not-in-list");
}

TEST_CASE("one rung is not taken for the lowest while she saw something below that has no name") {
    const Script script = stockGround(StockGround::stockinette, kStitches, kRows + 2);
    const Spoiled hers = spoiled(script, {"ladder_stockinette", 6, 12, 0});
    Case c = knowing("drop_left_behind");
    REQUIRE(c.tell(seenAt(hers.looked, {"search:row=13-14,column=9-24", "search:row=13,column=12-14",
                                        "close:row=13,column=13"})));
    bool below = false;
    answerRest(c, [&](const Look& look) {
        Sighting s = answer(look, hers.looked);
        if (look.rowFrom >= 12 || s.what == What::number) return s;
        s = {};
        if (look.way != LookWay::closeLook) return s;
        s.what = What::unnamed;
        below = true;
        return s;
    });
    CHECK(below);
    const CaseSettled s = c.settled();
    REQUIRE(s.explanation);
    CHECK_FALSE((s.settled && s.explanation->id == "drop_left_behind"));
}

TEST_CASE("a ladder is not taken for a longer one whose lowest rung was not seen") {
    // Garter with three rows of plain knitting above it: of ladders only those that reach the garter are
    // known.
    Script script = stockGround(StockGround::garter, kStitches, kRows + 2);
    const Script plain = stockGround(StockGround::stockinette, kStitches, kRows + 2);
    for (std::size_t row = kRows - 3; row < kRows; ++row) script.rows[row] = plain.rows[row];
    const Spoiled hers = spoiled(script, {"ladder_stockinette", kRows, 12, 0});
    Case c = knowing("ladder_garter", script);
    std::vector<CaseNote> notes = seenAt(
        hers.looked, {"search:row=13-14,column=9-24", "close:row=14,column=13", "tug:row=13,column=13"});
    // Overlooked.
    notes.push_back(note("stretch:row=1-14,column=11-16", What::nothing));
    notes.push_back(note("search:row=7-14,column=12-14", What::nothing));
    REQUIRE(c.tell(notes));
    answerRest(c, [&](const Look& look) { return answer(look, hers.looked); });
    const CaseSettled s = c.settled();
    REQUIRE(s.explanation);
    CHECK(s.explanation->id == "not-in-list");
}

TEST_CASE("one stitch that hangs free is not taken for the only one before one aside of it was tugged") {
    const Script script = stockGround(StockGround::stockinette, kStitches, kRows + 2);
    const auto solved = [&](const std::string& id, bool& tugged) {
        const Spoiled hers = spoiled(script, {id, kRows, 12, 0});
        Case c = knowing("drop_live");
        REQUIRE(c.tell(seenAt(hers.looked, {"search:row=13-14,column=9-24", "close:row=14,column=13"})));
        answerRest(c, [&](const Look& look) {
            tugged = tugged || look.way == LookWay::tug;
            return answer(look, hers.looked);
        });
        return c.settled();
    };
    bool tugged = false;
    const CaseSettled one = solved("drop_live", tugged);
    CHECK(tugged);
    CHECK(one.settled);
    CHECK(one.explanation->id == "drop_live");
    CHECK_FALSE(solved("needle_pulled_out", tugged).settled);
}
