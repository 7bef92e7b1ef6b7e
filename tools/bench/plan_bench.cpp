// SPDX-License-Identifier: MIT
//
// Plans: how long until the ways back are known. The design asks for 200 ms for any mistake on 400 x 300, and
// 20 ms on a swatch as lessons have it, with up to three mistakes.
#include <benchmark/benchmark.h>

#include "fabric/hands.h"
#include "fault/grounds.h"
#include "fault/knit_with.h"
#include "repair/ways_back.h"
#include "spoiled.h"

namespace loopmend {
namespace {

constexpr Spoiling kCases[] = {
    {StockGround::stockinette, "wrong_kp", After::byReading},
    {StockGround::stockinette, "ladder_stockinette", After::byReading},
    {StockGround::cables, "miscrossed", After::byReading},
    {StockGround::eyelets, "missed_yo", After::byReading},
    {StockGround::eyelets, "missed_yo", After::byCount},
};

template <class Plans>
void plan(benchmark::State& state, Plans plans) {
    const Spoiling& c = kCases[state.range(0)];
    const Script script =
        stockGround(c.ground, static_cast<int>(state.range(1)), static_cast<int>(state.range(2)));
    auto k = spoiled(script, c, static_cast<int>(state.range(3)));
    if (!k) {
        state.SkipWithError(k.error().message.c_str());
        return;
    }
    std::size_t found = 0;
    for (auto _ : state) {
        found = plans(*k->meant.fabric, script, k->actual.knitter);
        benchmark::DoNotOptimize(found);
    }
    state.SetLabel(std::string(name(c.ground)) + " " + c.id + " " + std::string(name(c.after)));
    state.counters["plans"] = static_cast<double>(found);
}

void planOne(benchmark::State& state) {
    plan(state, [](const Fabric& meant, const Script& script, Knitter& knitter) {
        return plansFor(meant, script, knitter).size();
    });
}
BENCHMARK(planOne)
    ->ArgsProduct({{0, 1, 2, 3, 4}, {20}, {20}, {50}})
    ->ArgsProduct({{0, 1, 2, 3, 4}, {400}, {300}, {50, 98}})
    ->Unit(benchmark::kMillisecond);

void waysBackOne(benchmark::State& state) {
    plan(state, [](const Fabric& meant, const Script& script, Knitter& knitter) {
        return waysBack(meant, script, knitter).all.size();
    });
}
BENCHMARK(waysBackOne)
    ->ArgsProduct({{0, 1, 2, 3, 4}, {20}, {20}, {50}})
    ->ArgsProduct({{0, 1, 2, 3, 4}, {400}, {300}, {50, 98}})
    ->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace loopmend
