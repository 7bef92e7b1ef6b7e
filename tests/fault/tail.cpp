// SPDX-License-Identifier: MIT
//
// The end left from the cast-on, taken up in place of the yarn that runs to the ball: it hangs where the
// first row begins, ends after a few stitches, and the count stays right (common practice).
#include <catch2/catch.hpp>

#include "fault/scenes.h"

namespace loopmend {
namespace {

/// What a tail reaches: a hand's breadth.
constexpr std::int64_t kHand = 100'000;

std::vector<FaultPlace> places(const Script& script, const Setup& setup) {
    return placesFor(*findFault("tail_used"), script, setup);
}

/// The yarn that is there and was not meant to be.
YarnId tailOf(const FaultyKnitting& k) {
    REQUIRE(k.meant.fabric->yarnCount() == 1);
    REQUIRE(k.actual.fabric->yarnCount() == 2);
    return YarnId{1};
}

std::vector<LoopId> loopsIn(const Fabric& f, YarnId yarn) {
    std::vector<LoopId> loops;
    for (EntryId e = f[yarn].first; e; e = f[e].next) {
        if (f.isLoop(e)) loops.push_back(e);
    }
    return loops;
}

std::int64_t lengthOf(const Fabric& f, YarnId yarn) {
    std::int64_t um = 0;
    for (const LoopId loop : loopsIn(f, yarn)) um += f[loop].um + f[loop].strandUm;
    return um;
}

Setup castOnBy(CastOn how) {
    Setup setup;
    setup.castOn = how;
    return setup;
}

}  // namespace

TEST_CASE("the tail hangs where the row begins that comes first to it, and at no other place") {
    // Of a long-tail cast-on both ends leave the last stitch; of loops and of a knitted cast-on the tail
    // hangs at the other edge, to which flat work comes with its second row and a round at once.
    const Script flat = stockGround(StockGround::garter, 12, 7, false);
    const Script round = stockGround(StockGround::garter, 12, 7, true);
    for (const auto& [script, how, row] :
         {std::tuple{&flat, CastOn::longTail, 1}, std::tuple{&flat, CastOn::backward, 2},
          std::tuple{&flat, CastOn::knitted, 2}, std::tuple{&round, CastOn::longTail, 1},
          std::tuple{&round, CastOn::backward, 1}}) {
        const std::vector<FaultPlace> all = places(*script, castOnBy(how));
        INFO(static_cast<int>(how) << (script->round ? " in the round" : " flat"));
        REQUIRE(all.size() == 1);
        CHECK(all.front().row == row);
        CHECK(all.front().stitch == 1);
    }
    // Of a few stitches the tail would reach to the end of the row, and nobody would have to go back to the
    // other yarn in it.
    CHECK(places(stockGround(StockGround::garter, 4, 7, false), {}).empty());
}

TEST_CASE("the tail ends when it does not reach round one more stitch") {
    const Script script = stockGround(StockGround::stockinette, 30, 4);
    std::size_t last = 0;
    for (const std::int32_t loopUm : {40'000, 16'800, 8'000, 4'000}) {
        Setup setup;
        setup.loopUm = loopUm;
        setup.strandUm = loopUm / 4;
        INFO(loopUm);
        const FaultyKnitting k = spoiled(script, {{"tail_used", 1, 1, 0}}, After::byReading, setup);
        const Fabric& f = *k.actual.fabric;
        const YarnId tail = tailOf(k);
        CHECK(f[tail].flags.ball == 0);
        CHECK(lengthOf(f, tail) <= kHand);
        CHECK(lengthOf(f, tail) + loopUm + setup.strandUm > kHand);
        CHECK(loopsIn(f, tail).size() > last);
        last = loopsIn(f, tail).size();
    }
}

TEST_CASE("the working yarn lies across behind the stitches of the tail, and no stitch is another") {
    for (const bool purl : {false, true}) {
        const Op op = purl ? Op::purl : Op::knit;
        Script script;
        script.castOn = 12;
        for (int row = 1; row <= 3; ++row)
            script.rows.push_back(
                rowOf(row, row % 2 == 1 ? Facing::right : Facing::wrong, steps({{12, op}})));
        for (const After after : kAllAfters) {
            INFO((purl ? "purled " : "knitted ") << name(after));
            const FaultyKnitting k = spoiled(script, {{"tail_used", 1, 1, 0}}, after);
            const Fabric& f = *k.actual.fabric;
            const YarnId tail = tailOf(k);
            CHECK(k.misfits.empty());
            for (const SideBySide::Counts& counts : k.counts) CHECK(counts.meant == counts.actual);
            CHECK(f.loopCount() == k.meant.fabric->loopCount());
            for (const LoopId loop : loopsIn(f, tail)) {
                REQUIRE(f.linkCount(loop) == 1);
                const std::vector<PassId> by = f.passesOf(f[f[loop].firstLink].host);
                REQUIRE(by.size() == 1);
                CHECK(f[by.front()].yarn == YarnId{0});
                // As the right side shows it: behind a knit, before a purl.
                CHECK(f.passSide(by.front()) == (purl ? Side::right : Side::wrong));
            }
        }
    }
}

TEST_CASE("where the pattern decreases and makes holes from the edge on, the tail does so too") {
    Script script;
    script.castOn = 12;
    script.rows.push_back(
        rowOf(1, Facing::right, steps({{1, Op::k2tog}, {1, Op::yarnOver}, {1, Op::k2tog}, {8, Op::knit}})));
    script.rows.push_back(rowOf(2, Facing::wrong, steps({{11, Op::purl}})));
    const FaultyKnitting k = spoiled(script, {{"tail_used", 1, 1, 0}}, After::byReading);
    const Fabric& f = *k.actual.fabric;
    const std::vector<LoopId> loops = loopsIn(f, tailOf(k));
    REQUIRE(loops.size() >= 3);
    CHECK(f.linkCount(loops[0]) == 2);
    CHECK(f.linkCount(loops[1]) == 0);
    CHECK(f.linkCount(loops[2]) == 2);
    CHECK(f.loopCount() == k.meant.fabric->loopCount());
}

}  // namespace loopmend
