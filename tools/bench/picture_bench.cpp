// SPDX-License-Identifier: MIT
// What stands between yarn and the screen, for a swatch of 30 by 40: its ribbons (budget: 15 ms, so that an
// animation has time left for the rest), the picker of one view, and one question to it.
#include <benchmark/benchmark.h>

#include "fault/grounds.h"
#include "pattern/working.h"
#include "picture/pick.h"
#include "picture/ribbons.h"
#include "shape/cloth.h"

namespace loopmend {
namespace {

struct Swatch30x40 {
    Knitting knitting = std::move(*knit(stockGround(StockGround::stockinette, 30, 40)));
    Path path;
    View view;

    Swatch30x40() {
        Cloth cloth = Cloth::drawn(*knitting.fabric);
        cloth.advance(50);
        path = cloth.path();
        view = View::fitting(boundsOf(path), 1280, 800);
    }
    const Fabric& fabric() const { return *knitting.fabric; }
};

void ribbons(benchmark::State& state) {
    const Swatch30x40 swatch;
    RibbonOptions options;
    options.pixelsPerMm = swatch.view.pixelsPerMm;
    options.openness = state.range(0) != 0;
    std::size_t triangles = 0;
    for (auto _ : state) triangles = ribbonsOf(swatch.path, swatch.fabric(), options).triangles();
    state.counters["triangles"] = static_cast<double>(triangles);
}
BENCHMARK(ribbons)->ArgName("openness")->Arg(0)->Arg(1)->Unit(benchmark::kMillisecond);

void pickerOfView(benchmark::State& state) {
    const Swatch30x40 swatch;
    for (auto _ : state)
        benchmark::DoNotOptimize(Picker(swatch.path, swatch.fabric(), swatch.view).at({640, 400}));
}
BENCHMARK(pickerOfView)->Unit(benchmark::kMillisecond);

void pointing(benchmark::State& state) {
    const Swatch30x40 swatch;
    const Picker picker(swatch.path, swatch.fabric(), swatch.view);
    double x = 300;
    for (auto _ : state) {
        benchmark::DoNotOptimize(picker.at({x, 0.5 * x + 100}, 12));
        x = x > 900 ? 300 : x + 1.7;
    }
}
BENCHMARK(pointing)->Unit(benchmark::kMicrosecond);

}  // namespace
}  // namespace loopmend
