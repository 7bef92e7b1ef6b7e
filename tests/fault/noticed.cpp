// SPDX-License-Identifier: MIT
//
// When a mistake shows.
#include <catch2/catch.hpp>

#include "fault/scenes.h"
#include "reading/notice.h"
#include "reading/read.h"

namespace loopmend {
namespace {

std::optional<Notice> first(const FaultyKnitting& k, bool counts = false) {
    return firstNoticeable(*k.meant.fabric, *k.actual.fabric, {counts});
}

const std::vector<After> kGoingOn = {After::byCount, After::byReading};

}  // namespace

TEST_CASE("plain return rows hide a mistake in lace for two rows, lace in every row for one") {
    // With plain return rows a lace mistake shows two rows later, or on the return row to someone who counts;
    // with pattern on every row, on the next row (common practice).
    // (A line that has grown already breaks at once: a spine without its decrease is seen in its own row.)
    int tried = 0;
    for (const After after : kGoingOn) {
        for (const auto& [id, ground] :
             {std::pair{"missed_yo", StockGround::eyelets}, std::pair{"missed_yo", StockGround::spines},
              std::pair{"missed_dec", StockGround::eyelets}}) {
            const Script script = stockGround(ground, 15, 9);
            for (const FaultPlace& place : placesFor(*findFault(id), script, {}, {3, 5, 1, false})) {
                ++tried;
                INFO(name(ground) << " " << text(place) << " " << name(after));
                const FaultyKnitting k = spoiled(script, {place}, after);
                REQUIRE(first(k));
                CHECK(first(k)->row == place.row + 2);
                REQUIRE(first(k, true));
                CHECK(first(k, true)->row <= place.row + 1);
            }
        }
        const Script net = stockGround(StockGround::net, 14, 9);
        for (const FaultPlace& place : placesFor(*findFault("missed_yo"), net, {}, {3, 5, 2, false})) {
            ++tried;
            INFO("net " << text(place) << " " << name(after));
            const FaultyKnitting k = spoiled(net, {place}, after);
            REQUIRE(first(k));
            CHECK(first(k)->row == place.row + 1);
        }
    }
    CHECK(tried > 50);
}

TEST_CASE("a twisted stitch is seen one row below the row in which it was worked") {
    // Common practice.
    for (const StockGround ground : {StockGround::stockinette, StockGround::garter, StockGround::rib}) {
        for (const bool round : {false, true}) {
            const Script script = stockGround(ground, 14, 8, round);
            for (const char* id : {"twist_tbl", "twist_wrap", "twist_pickup"}) {
                const auto place = drawPlace(7, *findFault(id), script, {}, {4, 6, 2, false});
                REQUIRE(place);
                INFO(name(ground) << " " << text(*place));
                const FaultyKnitting k = spoiled(script, {*place}, After::byReading);
                REQUIRE(first(k));
                CHECK(first(k)->cue == Cue::twist);
                CHECK(first(k)->seenRow == place->row - 1);
                // From both sides the same hand, and no other stitch has crossed feet.
                for (const Side side : {Side::right, Side::wrong}) {
                    const Reading reading = readFrom(*k.actual.fabric, side);
                    int crossed = 0;
                    for (const ReadRow& row : reading.rows) {
                        for (const Cell& cell : row.cells) {
                            if (cell.symbol.feet == 0) continue;
                            ++crossed;
                            CHECK(row.row == place->row - 1);
                            CHECK(cell.symbol.feetHand() ==
                                  (id == std::string("twist_tbl") ? Lean::left : Lean::right));
                        }
                    }
                    CHECK(crossed == 1);
                }
            }
        }
    }
}

TEST_CASE("a stitch that hangs free is seen at once, whatever the ground") {
    for (const GroundCloth& cloth : cloths(14, 8)) {
        const auto place = drawPlace(3, *findFault("drop_left_behind"), cloth.script, {}, {4, 6, 2, false});
        if (!place) continue;
        INFO(cloth.words << " " << text(*place));
        const FaultyKnitting k = spoiled(cloth.script, {*place}, After::byReading);
        REQUIRE(first(k));
        CHECK(first(k)->row == place->row);
        CHECK(first(k)->cue == Cue::freeLoop);
    }
}

TEST_CASE("a spine of centred decreases breaks at or above what was missed below it") {
    // If the spine jumps, a stitch or a yarn-over was missed or made at or below the jump (common practice).
    const Script script = stockGround(StockGround::spines, 19, 12);
    int broken = 0;
    for (const FaultPlace& place : placesFor(*findFault("missed_yo"), script, {}, {3, 7, 2, false})) {
        const FaultyKnitting k = spoiled(script, {place}, After::byCount);
        for (const Notice& notice : noticeable(*k.meant.fabric, *k.actual.fabric)) {
            if (notice.cue != Cue::landmark) continue;
            ++broken;
            INFO(text(place) << ": " << notice.words);
            CHECK(notice.seenRow >= place.row);
        }
    }
    CHECK(broken > 5);
}

}  // namespace loopmend
