// SPDX-License-Identifier: MIT
// Budgets: a swatch of 30 x 40 from its drawing to rest in a second on two cores; its neighbourhood after one
// changed stitch in 33 ms. Time is the wall's; CPU is that of all threads. A busy machine shows in the
// difference.
#include <benchmark/benchmark.h>

#include <optional>

#include "pattern/working.h"
#include "shape/relax_near.h"

namespace {

using namespace loopmend;

struct Piece {
    Path path;
    PathRods rods;
};

/// Stockinette; one stitch in the middle purled, or not.
Knitting knitted(int stitches, int rows, bool wrong) {
    Script script;
    script.castOn = stitches;
    for (int r = 1; r <= rows; ++r) {
        WorkedRow row;
        row.number = row.printed = r;
        row.facing = r % 2 == 1 ? Facing::right : Facing::wrong;
        for (int i = 0; i < stitches; ++i) {
            const bool knit = (r % 2 == 1) != (wrong && r == rows / 2 && i == stitches / 2);
            Step step;
            step.op = knit ? Op::knit : Op::purl;
            row.steps.push_back(step);
        }
        script.rows.push_back(std::move(row));
    }
    return std::move(*knit(script));
}

Piece drawn(const Fabric& fabric) {
    PathOptions options;
    options.step = 0.08;
    Piece p;
    p.path = pathOf(fabric, layoutOf(fabric), options);
    p.rods = rodsOfPath(p.path, fabric);
    return p;
}

void relaxFromCold(benchmark::State& state) {
    const Knitting k = knitted(static_cast<int>(state.range(0)), static_cast<int>(state.range(1)), false);
    const Piece p = drawn(*k.fabric);
    RelaxOptions options;
    options.threads = static_cast<int>(state.range(2));
    RelaxFigures figures;
    for (auto _ : state) {
        const auto relaxed = relax(p.rods.rods, options);
        if (!relaxed) {
            state.SkipWithError(sentence(relaxed.error()).c_str());
            return;
        }
        figures = relaxed->figures;
    }
    state.counters["steps"] = figures.steps;
    state.counters["nearest"] = figures.nearest;
    state.counters["strain"] = figures.strain;
}
BENCHMARK(relaxFromCold)
    ->Args({30, 40, 1})
    ->Args({30, 40, 2})
    ->Unit(benchmark::kMillisecond)
    ->Iterations(2)
    ->MeasureProcessCPUTime()
    ->UseRealTime();

/// Rods, warm start, neighbourhood, and the comparison of crossings; layout and drawing of the fabric are not
/// in it.
void relaxAfterOneStitch(benchmark::State& state) {
    const Knitting plain = knitted(30, 40, false);
    const Knitting wrong = knitted(30, 40, true);
    const Piece before = drawn(*plain.fabric);
    const Piece after = drawn(*wrong.fabric);
    RelaxOptions cold;
    cold.alarm = false;
    PathRods lay = before.rods;
    lay.rods = relax(before.rods.rods, cold)->rods;
    std::vector<EntryId> changed;
    for (std::int32_t e = 0; e < plain.fabric->entryCount(); ++e) {
        const LinkId a = (*plain.fabric)[EntryId{e}].firstLink;
        const LinkId b = (*wrong.fabric)[EntryId{e}].firstLink;
        if (a && b && (*plain.fabric)[a].form.side != (*wrong.fabric)[b].form.side)
            changed.push_back(EntryId{e});
    }
    NearOptions options;
    options.relax.threads = static_cast<int>(state.range(0));
    RelaxFigures figures;
    for (auto _ : state) {
        const auto near = relaxNear(lay, after.rods, changed, after.path.gauge.stitchMm, options, &figures);
        if (!near) {
            state.SkipWithError(sentence(near.error()).c_str());
            return;
        }
    }
    state.counters["steps"] = figures.steps;
    state.counters["nearest"] = figures.nearest;
}
BENCHMARK(relaxAfterOneStitch)
    ->Arg(1)
    ->Arg(2)
    ->Unit(benchmark::kMillisecond)
    ->MeasureProcessCPUTime()
    ->UseRealTime();

void drawRods(benchmark::State& state) {
    const Knitting k = knitted(30, 40, false);
    for (auto _ : state) benchmark::DoNotOptimize(drawn(*k.fabric));
}
BENCHMARK(drawRods)->Unit(benchmark::kMillisecond);

}  // namespace
