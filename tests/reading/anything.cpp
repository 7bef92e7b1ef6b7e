// SPDX-License-Identifier: MIT
//
// Whatever hands have made of it: reading neither falls over nor contradicts the fabric.
#include <rapidcheck.h>
#include <catch2/catch.hpp>

#include <algorithm>

#include "fabric/hands.h"
#include "reading/counts.h"
#include "reading/landmarks.h"
#include "reading/notice.h"
#include "reading/script.h"
#include "reading/scripts.h"
#include "reading/symptoms.h"

namespace loopmend {
namespace {

// Stitches, turns in mid-row, falls, runs, rungs hooked in any order, wraps, two colours, stitches picked up.
Fabric mistreated() {
    Fabric fabric;
    const YarnId a = fabric.addYarn('A', 16800, 4200);
    const bool round = *rc::gen::inRange(0, 3) == 0;
    Knitter k(fabric, a, round ? Side::right : Side::wrong);
    const int n = *rc::gen::inRange(4, 10);
    if (*rc::gen::arbitrary<bool>()) {
        (void)k.castOnBackward(n);
    } else {
        (void)k.castOnLongTail(n);
    }
    if (round) {
        (void)k.joinRound();
    } else {
        k.turn();
    }
    YarnId b;
    const int acts = *rc::gen::inRange(5, 90);
    for (int i = 0; i < acts; ++i) {
        const std::vector<LoopId> ahead = k.ahead();
        if (ahead.empty()) {
            if (round) {
                (void)k.endRound();
            } else {
                k.turn();
            }
            if (k.aheadCount() == 0) break;
            continue;
        }
        const LoopId some =
            ahead[static_cast<std::size_t>(*rc::gen::inRange(0, static_cast<int>(ahead.size())))];
        switch (*rc::gen::inRange(0, 26)) {
            case 0:
                if (!round) k.turn();
                break;
            case 1: (void)k.drop(some); break;
            case 2: (void)letRun(fabric, *rc::gen::inRange(1, 4)); break;
            case 3: {
                std::vector<LoopId> loose;
                for (std::int32_t e = 0; e < fabric.entryCount(); ++e) {
                    const LoopId loop{e};
                    if (fabric.has(loop) && fabric.isLoop(loop) && fabric.isLoose(loop))
                        loose.push_back(loop);
                }
                for (const LoopId foot : loose) {
                    const std::vector<PassId> up = rungs(fabric, foot);
                    if (up.empty()) continue;
                    const auto which =
                        static_cast<std::size_t>(*rc::gen::inRange(0, static_cast<int>(up.size())));
                    (void)hook(fabric, {up[which], {{foot, 0, 0}}, Side::right, std::nullopt});
                }
                break;
            }
            case 4:
                if (!round) (void)k.wrapAndTurn();
                break;
            case 5:
                if (!round) (void)k.germanTurn();
                break;
            case 6: (void)k.workWithWrap(); break;
            case 7:
                if (!b) b = fabric.addYarn('B', 16800, 4200);
                k.takeYarn(k.yarn() == a ? b : a);
                break;
            case 8: (void)k.slip(SlipWay::knitwise, *rc::gen::arbitrary<bool>()); break;
            case 9: (void)k.yarnOver(); break;
            case 10: (void)k.k2tog(); break;
            case 11: (void)k.s2kp(); break;
            case 12: (void)k.makeOne(Hand::left); break;
            case 13: (void)k.kfb(); break;
            case 14: (void)k.cross(1, 1, true); break;
            case 15: (void)k.workBelow(false); break;
            case 16: (void)k.bindOff(1); break;
            case 17: (void)k.tink(); break;
            case 18: (void)k.liftedIncrease(Hand::right); break;
            case 19: (void)k.pickUp(some, Part::bothLegs, Side::right); break;
            case 20: (void)k.leaveOnHolder(1); break;
            case 21: (void)k.liftBar(false); break;
            case 22: (void)k.passOver(); break;
            default: (void)(*rc::gen::arbitrary<bool>() ? k.knit() : k.purl()); break;
        }
    }
    return fabric;
}

void readsSoundly(const Fabric& fabric) {
    for (const Side side : {Side::right, Side::wrong}) {
        const Reading reading = readFrom(fabric, side);
        for (const ReadRow& row : reading.rows) {
            std::vector<int> stitches;
            int column = row.waitingRight;
            for (const Cell& cell : row.cells) {
                RC_ASSERT(!code(cell.symbol).empty());
                RC_ASSERT(!words(cell.symbol).empty());
                RC_ASSERT((cell.stitch > 0) == (cell.column > 0));
                if (cell.column == 0) continue;
                RC_ASSERT(cell.column > column);
                column = cell.column;
                stitches.push_back(cell.stitch);
            }
            std::sort(stitches.begin(), stitches.end());
            for (std::size_t i = 0; i < stitches.size(); ++i)
                RC_ASSERT(stitches[i] == static_cast<int>(i) + 1);
        }
        std::size_t held = 0;
        for (HeldId h = fabric[fabric.needle()].first; h; h = fabric[h].next)
            held += fabric[h].state.hanging == 0 ? 1U : 0U;
        RC_ASSERT(reading.needle.size() == held);
        (void)landmarks(fabric, reading);
        (void)symptoms(fabric, reading);
        for (std::size_t r = 0; r < reading.rows.size(); ++r) (void)rowWords(reading, static_cast<int>(r));
    }
    const ScriptReading script = readScript(fabric);
    RC_ASSERT(script.script.rows.size() == script.madeBy.size());
}

}  // namespace

TEST_CASE("anything that hands made can be read") {
    CHECK(rc::check("anything", [] {
        const Fabric one = mistreated();
        const Fabric two = mistreated();
        readsSoundly(one);
        RC_ASSERT(noticeable(one, one).empty());
        (void)noticeable(one, two);
        const auto again = fabricFrom(itinerary(one));
        RC_PRE(again.has_value());
        readsSoundly(*again);
        // A text and the text of what it gives read the same. (Several yarns may change places.)
        if (one.yarnCount() > 1) return;
        const Fabric twice = reloaded(*again);
        const Reading here = readFrom(twice, Side::right);
        const Reading there = readFrom(*again, Side::right);
        RC_LOG() << itinerary(one).knot << "\n" << itinerary(one).measure << "\n";
        RC_ASSERT(here.rows.size() == there.rows.size());
        for (std::size_t r = 0; r < here.rows.size(); ++r) {
            RC_LOG() << "row " << r << "\n";
            RC_ASSERT(here.rows[r].cells.size() == there.rows[r].cells.size());
            RC_ASSERT(here.rows[r].stitches == there.rows[r].stitches);
            for (std::size_t i = 0; i < here.rows[r].cells.size(); ++i)
                RC_ASSERT(code(here.rows[r].cells[i].symbol) == code(there.rows[r].cells[i].symbol));
        }
    }));
}

TEST_CASE("an empty fabric reads as nothing") {
    const Fabric empty;
    const Reading reading = readFrom(empty, Side::right);
    CHECK(reading.needle.empty());
    CHECK(readScript(empty).script.castOn == 0);
    CHECK(landmarks(empty, reading).empty());
    CHECK(symptoms(empty, reading).empty());
    CHECK_FALSE(firstNoticeable(empty, empty).has_value());
}

}  // namespace loopmend
