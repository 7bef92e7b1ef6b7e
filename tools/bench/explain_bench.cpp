// SPDX-License-Identifier: MIT
//
// One mistake between two fabrics: how long until it is found. The design asks for 100 ms at 400 x 300.
#include <benchmark/benchmark.h>

#include "diagnosis/explain.h"
#include "fault/grounds.h"
#include "fault/knit_with.h"

namespace loopmend {
namespace {

struct Case {
    StockGround ground;
    const char* id;
    After after;
};

constexpr Case kCases[] = {
    {StockGround::stockinette, "wrong_kp", After::byReading},
    {StockGround::stockinette, "drop_left_behind", After::byReading},
    {StockGround::stockinette, "ladder_stockinette", After::byReading},
    {StockGround::eyelets, "missed_yo", After::byCount},
    {StockGround::eyelets, "missed_yo", After::byReading},
};

/// The first place near the middle of the piece where the fault can be put.
tl::expected<FaultyKnitting, FaultProblem> inTheMiddle(const Script& script, const Case& c) {
    const int row = static_cast<int>(script.rows.size()) / 2;
    for (int r = row; r < row + 4; ++r) {
        const int middle = stitchesIn(script.rows[static_cast<std::size_t>(r) - 1]) / 2;
        for (int s = middle; s < middle + 8; ++s) {
            auto knitting = knitWith(script, {}, {{c.id, r, s, 0}}, c.after);
            if (knitting) return knitting;
        }
    }
    return knitWith(script, {}, {{c.id, row, 1, 0}}, c.after);
}

void explainOne(benchmark::State& state) {
    const Case& c = kCases[state.range(0)];
    const Script script =
        stockGround(c.ground, static_cast<int>(state.range(1)), static_cast<int>(state.range(2)));
    const auto k = inTheMiddle(script, c);
    if (!k) {
        state.SkipWithError(k.error().message.c_str());
        return;
    }
    std::size_t found = 0;
    for (auto _ : state) {
        const Explanations told = explain(*k->meant.fabric, *k->actual.fabric);
        found = told.explanations.size();
        benchmark::DoNotOptimize(found);
    }
    state.SetLabel(std::string(name(c.ground)) + " " + c.id + " " + std::string(name(c.after)));
    state.counters["explanations"] = static_cast<double>(found);
}
BENCHMARK(explainOne)
    ->ArgsProduct({{0, 1, 2, 3, 4}, {20}, {20}})
    ->ArgsProduct({{0, 1, 2, 3, 4}, {400}, {300}})
    ->Unit(benchmark::kMillisecond);

void knitWithMistake(benchmark::State& state) {
    const Script script = stockGround(StockGround::eyelets, 30, 40);
    for (auto _ : state) {
        const auto k = knitWith(script, {}, {{"missed_yo", 1, 3, 0}}, After::byReading);
        benchmark::DoNotOptimize(k.has_value());
    }
    state.SetItemsProcessed(state.iterations() * 2 * 30 * 40);
}
BENCHMARK(knitWithMistake)->Unit(benchmark::kMicrosecond);

}  // namespace
}  // namespace loopmend
