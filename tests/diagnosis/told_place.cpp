// SPDX-License-Identifier: MIT
// Of several places that are odd she may tell any.
#include <catch2/catch.hpp>

#include <string>
#include <vector>

#include "diagnosis/case_chances.h"
#include "diagnosis/case_on.h"
#include "diagnosis/told_place.h"
#include "fault/knit_with.h"
#include "reading/answer_piece.h"

using namespace loopmend;

namespace {

using What = Sighting::What;

FaultyKnitting ladder() {
    const Script script = stockGround(StockGround::stockinette, 20, 14);
    auto piece = knitWith(script, {}, {{"ladder_stockinette", 12, 9}}, After::byReading);
    REQUIRE(piece);
    return std::move(*piece);
}

Look searching(int rowFrom, int rowTo, int columnFrom, int columnTo) {
    Look look;
    look.way = LookWay::searchPatch;
    look.rowFrom = rowFrom;
    look.rowTo = rowTo;
    look.columnFrom = columnFrom;
    look.columnTo = columnTo;
    return look;
}

Sighting toldAt(int row, int column, OddSign sign) {
    Sighting s;
    s.what = What::place;
    s.oddity = sign;
    s.row = row;
    s.column = column;
    return s;
}

}  // namespace

TEST_CASE("any rung of a ladder may be told, but mostly the plainest is") {
    const FaultyKnitting piece = ladder();
    const LookedAt looked(*piece.actual.fabric, *piece.meant.fabric);
    const Look all = searching(1, 14, 1, 20);
    const Sighting plainest = answer(all, looked);
    REQUIRE(plainest.what == What::place);
    double others = 0;
    int rungs = 0;
    for (const OddPlace& odd : looked.inner().odd) {
        const CaseForecast f = forecastOfTold(all, toldAt(odd.row, odd.column, odd.sign), looked, {});
        REQUIRE(f.seen.what == What::place);
        CHECK(f.seen.row == odd.row);
        CHECK(f.seen.column == odd.column);
        ++rungs;
        if (odd.row == plainest.row && odd.column == plainest.column) {
            CHECK(f.share == Approx(1));
            continue;
        }
        CHECK(f.share > 0);
        CHECK(f.share < 0.2);
        others += f.share;
    }
    CHECK(rungs > 2);
    CHECK(others > 0.1);
    CHECK(others <= 0.5);
    // Where nothing is odd the forecast is what a good eye finds, as it was.
    const CaseForecast elsewhere = forecastOfTold(all, toldAt(3, 3, OddSign::ladder), looked, {});
    CHECK(elsewhere.seen == plainest);
    CHECK(elsewhere.share == Approx(1));
    // A single place has no share to give away.
    const Look one = searching(plainest.row, plainest.row, plainest.column, plainest.column);
    CHECK(forecastOfTold(one, plainest, looked, {}).share == Approx(1));
}

TEST_CASE("tables tell as many places of a ladder, and the same of them, as the piece") {
    const FaultyKnitting piece = ladder();
    const LookedAt looked(*piece.actual.fabric, *piece.meant.fabric);
    const CaseTables t(stockGround(StockGround::stockinette, 20, 16), {}, 14, {}, nullptr);
    const Look all = searching(1, 14, 1, 20);
    int found = 0;
    for (std::size_t h = 0; h < t.size(); ++h) {
        const CaseHypothesis& it = t.at(h);
        if (t.id(it.kind) != "ladder_stockinette" || it.row != 12 || it.stitch != 9) continue;
        ++found;
        for (const OddPlace& odd : looked.inner().odd) {
            const Sighting told = toldAt(odd.row, odd.column, odd.sign);
            const CaseForecast cloth = forecastOfTold(all, told, looked, {});
            const CaseForecast table = forecastOfTold(all, told, t, h, {});
            INFO(odd.row << ", " << odd.column);
            CHECK(table.seen == cloth.seen);
            CHECK(table.share == Approx(cloth.share));
        }
    }
    CHECK(found > 0);
}

TEST_CASE("where she points need not be where a mistake is plainest") {
    const CaseTables t(stockGround(StockGround::stockinette, 60, 16), {}, 14, {}, nullptr);
    CaseNote note;
    note.kind = CaseNote::Kind::picture;
    note.picture = CasePicture::bump;
    note.row = 7;
    note.column = 48;
    int found = 0;
    for (std::size_t h = 0; h < t.size(); ++h) {
        const CaseHypothesis& it = t.at(h);
        if (t.id(it.kind) != "wrong_row" || it.row != 7) continue;
        ++found;
        CaseNote there = note;
        const Sighting plainest = t.plainestOf(h, Side::right);
        there.column = plainest.column;
        CHECK(std::abs(plainest.column - note.column) > 8);
        CaseNote nowhere = note;
        nowhere.row = 13;
        CHECK(likelihoodOf(there, t, h, {}) > likelihoodOf(note, t, h, {}));
        CHECK(likelihoodOf(note, t, h, {}) > 2 * likelihoodOf(nowhere, t, h, {}));
        CHECK(goesWith(note, t, h, {}) > 0.3);
    }
    CHECK(found > 0);
}
