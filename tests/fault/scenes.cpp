// SPDX-License-Identifier: MIT
#include "fault/scenes.h"

#include <catch2/catch.hpp>

namespace loopmend {

namespace {

std::vector<GroundCloth> clothsOf(int grounds, int stitches, int rows) {
    std::vector<GroundCloth> all;
    for (int g = 0; g < grounds; ++g) {
        for (const bool round : {false, true}) {
            const auto ground = static_cast<StockGround>(g);
            if (round && !goesRound(ground)) continue;
            all.push_back({ground, round, stockGround(ground, stitches, rows, round),
                           std::string(name(ground)) + (round ? ", in the round" : ", flat")});
        }
    }
    return all;
}

}  // namespace

std::vector<GroundCloth> cloths(int stitches, int rows) {
    return clothsOf(kStockGrounds, stitches, rows);
}

std::vector<GroundCloth> allCloths(int stitches, int rows) {
    return clothsOf(kAllStockGrounds, stitches, rows);
}

FaultyKnitting spoiled(const Script& script, const std::vector<FaultPlace>& faults, After after,
                       const Setup& setup) {
    auto knitting = knitWith(script, setup, faults, after);
    INFO((knitting ? "" : knitting.error().message));
    REQUIRE(knitting);
    return std::move(*knitting);
}

WorkedRow rowOf(int number, Facing facing, std::vector<Step> steps) {
    WorkedRow row;
    row.number = number;
    row.printed = number;
    row.facing = facing;
    row.steps = std::move(steps);
    return row;
}

std::vector<Step> steps(std::initializer_list<std::pair<int, Op>> runs) {
    std::vector<Step> all;
    for (const auto& [n, op] : runs) {
        Step step;
        step.op = op;
        all.insert(all.end(), static_cast<std::size_t>(n), step);
    }
    return all;
}

std::vector<LoopId> looseLoops(const Fabric& fabric) {
    std::vector<LoopId> loose;
    for (std::int32_t i = 0; i < fabric.entryCount(); ++i) {
        const EntryId e{i};
        if (fabric.has(e) && fabric.isLoop(e) && fabric.isLoose(e) && !fabric.isNothing(e))
            loose.push_back(e);
    }
    return loose;
}

}  // namespace loopmend
