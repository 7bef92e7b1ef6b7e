// SPDX-License-Identifier: MIT
// Budget: a pattern of 500 rows is parsed and its counts are checked within 10 ms.
#include "pattern/counts.h"
#include "pattern/parse.h"
#include "pattern/print.h"

#include <benchmark/benchmark.h>

#include <fmt/format.h>

#include <string>

namespace {

using namespace loopmend;

/// 500 rows of lace, every row in full as a leaflet would print it; a wrong digit in each row of `wrongRows`.
std::string lace(int wrongRows) {
    std::string text = "Multiple of 16 sts plus 5. Cast on 165 stitches.\n";
    for (int i = 1; i <= 500; ++i) {
        if (i % 2 == 0) {
            text += fmt::format("Row {} (WS): Sl 1, purl to last 2 sts, k2. (165 sts)\n", i);
            continue;
        }
        const int shift = i / 2 % 4;
        const bool wrong = i / 2 < wrongRows;
        text += fmt::format(
            "Row {} (RS): K2, *yo, k{}, ssk, k{}, (yo, k2tog) twice, sl 1, k2tog, psso, k1, yo, k{}, yo; "
            "rep from * to last 3 sts, yo, k2tog, k1. (165 sts)\n",
            i, 1 + shift, 4 - shift, wrong ? 2 : 1);
    }
    return text;
}

void parse500Rows(benchmark::State& state) {
    const std::string text = lace(0);
    for (auto _ : state) benchmark::DoNotOptimize(parse(text));
    state.SetBytesProcessed(static_cast<std::int64_t>(state.iterations()) *
                            static_cast<std::int64_t>(text.size()));
}
BENCHMARK(parse500Rows)->Unit(benchmark::kMillisecond);

void parseAndCheck500Rows(benchmark::State& state) {
    const std::string text = lace(static_cast<int>(state.range(0)));
    std::size_t problems = 0;
    for (auto _ : state) {
        const CheckReport report = check(parse(text));
        problems = report.problems.size();
        benchmark::DoNotOptimize(report.ok);
    }
    state.counters["problems"] = static_cast<double>(problems);
}
BENCHMARK(parseAndCheck500Rows)->Arg(0)->Arg(1)->Arg(20)->Unit(benchmark::kMillisecond);

void expand500Rows(benchmark::State& state) {
    const Pattern pattern = parse(lace(0));
    for (auto _ : state) benchmark::DoNotOptimize(expand(pattern, 165, 500));
    state.SetItemsProcessed(static_cast<std::int64_t>(state.iterations()) * 165 * 500);
}
BENCHMARK(expand500Rows)->Unit(benchmark::kMillisecond);

void print500Rows(benchmark::State& state) {
    const Pattern pattern = parse(lace(0));
    for (auto _ : state) benchmark::DoNotOptimize(print(pattern));
}
BENCHMARK(print500Rows)->Unit(benchmark::kMillisecond);

}  // namespace
