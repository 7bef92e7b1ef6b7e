// SPDX-License-Identifier: MIT
// Budgets: a swatch of 30 x 40 from nothing to a good picture in a second on two cores; what a hand move
// costs before the first picture that moves, 33 ms. Time is the wall's; CPU is that of all threads. A busy
// machine shows in the difference.
#include <benchmark/benchmark.h>

#include "fabric/hands.h"
#include "fault/grounds.h"
#include "pattern/working.h"
#include "shape/cloth.h"
#include "shape/relax_path.h"

namespace {

using namespace loopmend;

Knitting stockinette(int stitches, int rows) {
    return std::move(*knit(stockGround(StockGround::stockinette, stitches, rows)));
}

void drawCloth(benchmark::State& state) {
    const Knitting k = stockinette(30, 40);
    for (auto _ : state) benchmark::DoNotOptimize(Cloth::drawn(*k.fabric));
}
BENCHMARK(drawCloth)->Unit(benchmark::kMillisecond);

/// From the fabric to rest.
void clothFromCold(benchmark::State& state) {
    const Knitting k = stockinette(30, 40);
    ClothOptions options;
    options.threads = static_cast<int>(state.range(0));
    RelaxFigures figures;
    for (auto _ : state) {
        Cloth cloth = Cloth::drawn(*k.fabric, options);
        cloth.settle();
        if (cloth.fault()) {
            state.SkipWithError(sentence(*cloth.fault()).c_str());
            return;
        }
        figures = cloth.figures();
    }
    state.counters["steps"] = figures.steps;
    state.counters["nearest"] = figures.nearest;
}
BENCHMARK(clothFromCold)
    ->Arg(1)
    ->Arg(2)
    ->Unit(benchmark::kMillisecond)
    ->Iterations(3)
    ->MeasureProcessCPUTime()
    ->UseRealTime();

/// The top stitch of a ladder in the middle is hooked up, and falls again: two hand moves. settled 0: up to
/// the first picture that moves; 1: until it lies still.
void clothAfterAMove(benchmark::State& state) {
    const auto stitches = static_cast<int>(state.range(0));
    const bool settled = state.range(1) != 0;
    Knitting k = stockinette(stitches, 40);
    Fabric& fabric = *k.fabric;
    LoopId loop = k.knitter.ahead()[static_cast<std::size_t>(stitches / 2)];
    (void)k.knitter.drop(loop);
    (void)letRunFrom(fabric, loop, 5);
    for (std::int32_t e = 0; e < fabric.entryCount(); ++e) {
        if (fabric.has(EntryId{e}) && fabric.isLoop(EntryId{e}) && fabric.isLoose(EntryId{e}))
            loop = EntryId{e};
    }
    ClothOptions options;
    options.threads = static_cast<int>(state.range(2));
    Cloth cloth = Cloth::drawn(fabric, options);
    cloth.settle();
    bool up = false;
    JournalMark mark;
    for (auto _ : state) {
        if (up) {
            fabric.rollBack(mark);
        } else {
            mark = fabric.mark();
            Hooking hooking;
            hooking.rung = rungs(fabric, loop).front();
            hooking.through = {{loop, 0, 0}};
            (void)hook(fabric, hooking);
        }
        up = !up;
        cloth.follow(fabric);
        cloth.advance(10);
        if (settled) cloth.settle();
        if (cloth.fault()) {
            state.SkipWithError(sentence(*cloth.fault()).c_str());
            return;
        }
    }
    state.counters["steps"] = cloth.figures().steps;
    state.counters["nearest"] = cloth.figures().nearest;
}
BENCHMARK(clothAfterAMove)
    ->ArgNames({"stitches", "settled", "threads"})
    ->Args({16, 0, 1})
    ->Args({16, 1, 1})
    ->Args({30, 0, 1})
    ->Args({30, 0, 2})
    ->Args({30, 1, 1})
    ->Args({30, 1, 2})
    ->Unit(benchmark::kMillisecond)
    ->Iterations(20)
    ->MeasureProcessCPUTime()
    ->UseRealTime();

}  // namespace
