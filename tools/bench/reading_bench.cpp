// SPDX-License-Identifier: MIT
// Reading a fabric of 400 stitches by 300 rows. Budget: one side 50 ms.
#include <benchmark/benchmark.h>

#include <vector>

#include "fabric/rows.h"
#include "pattern/working.h"
#include "reading/answer.h"
#include "reading/courses.h"
#include "reading/landmarks.h"
#include "reading/notice.h"
#include "reading/read.h"
#include "reading/script.h"
#include "reading/symptoms.h"

namespace loopmend {
namespace {

// Lace with plain rows between: holes, single and double decreases, a slipped edge.
Script lace(int stitches, int rows) {
    Script script;
    script.castOn = stitches;
    const auto step = [](Op op) {
        Step s;
        s.op = op;
        return s;
    };
    for (int r = 1; r <= rows; ++r) {
        WorkedRow row;
        row.number = row.printed = r;
        row.facing = r % 2 == 1 ? Facing::right : Facing::wrong;
        row.steps.push_back(step(Op::slipPurlwiseBack));
        int left = stitches - 1;
        while (r % 2 == 1 && left >= 8) {
            for (const Op op : {Op::knit, Op::yarnOver, Op::s2kp, Op::yarnOver, Op::k2tog, Op::yarnOver,
                                Op::ssk, Op::yarnOver}) {
                row.steps.push_back(step(op));
            }
            left -= 8;
        }
        for (; left > 0; --left) row.steps.push_back(step(r % 2 == 1 ? Op::knit : Op::purl));
        script.rows.push_back(std::move(row));
    }
    return script;
}

Script stockinette(int stitches, int rows) {
    Script script = lace(stitches, rows);
    for (WorkedRow& row : script.rows) {
        Step step;
        step.op = row.facing == Facing::right ? Op::knit : Op::purl;
        row.steps.assign(static_cast<std::size_t>(stitches), step);
    }
    return script;
}

Script scriptFor(const benchmark::State& state) {
    return state.range(0) == 0 ? stockinette(400, 300) : lace(400, 300);
}

void BM_RowsOf(benchmark::State& state) {
    const auto knitting = knit(scriptFor(state));
    for (auto _ : state) benchmark::DoNotOptimize(rowsOf(*knitting->fabric));
}
void BM_CoursesOf(benchmark::State& state) {
    const auto knitting = knit(scriptFor(state));
    for (auto _ : state) benchmark::DoNotOptimize(coursesOf(*knitting->fabric));
}
void BM_ReadOneSide(benchmark::State& state) {
    const auto knitting = knit(scriptFor(state));
    for (auto _ : state) benchmark::DoNotOptimize(readFrom(*knitting->fabric, Side::right));
}
void BM_ReadScript(benchmark::State& state) {
    const auto knitting = knit(scriptFor(state));
    for (auto _ : state) benchmark::DoNotOptimize(readScript(*knitting->fabric));
}
void BM_Landmarks(benchmark::State& state) {
    const auto knitting = knit(scriptFor(state));
    const Reading reading = readFrom(*knitting->fabric, Side::right);
    for (auto _ : state) benchmark::DoNotOptimize(landmarks(*knitting->fabric, reading));
}
void BM_Symptoms(benchmark::State& state) {
    const auto knitting = knit(scriptFor(state));
    const Reading reading = readFrom(*knitting->fabric, Side::right);
    for (auto _ : state) benchmark::DoNotOptimize(symptoms(*knitting->fabric, reading));
}
void BM_FirstNoticeable(benchmark::State& state) {
    const auto knitting = knit(scriptFor(state));
    for (auto _ : state) benchmark::DoNotOptimize(firstNoticeable(*knitting->fabric, *knitting->fabric));
}
void BM_LookedAt(benchmark::State& state) {
    const auto knitting = knit(scriptFor(state));
    const auto meant = knit(scriptFor(state));
    for (auto _ : state) {
        const LookedAt piece(*knitting->fabric, *meant->fabric);
        benchmark::DoNotOptimize(&piece);
    }
}
// Looks of every way, all over the piece.
void BM_ThousandLooks(benchmark::State& state) {
    const auto knitting = knit(scriptFor(state));
    const LookedAt piece(*knitting->fabric, *knitting->fabric);
    std::vector<Look> looks;
    for (int i = 0; i < 1000; ++i) {
        Look look;
        look.way = static_cast<LookWay>(i % kLookWays);
        look.rowFrom = look.rowTo = 1 + (i * 37) % 290;
        look.columnFrom = 1 + (i * 53) % 370;
        look.columnTo = look.columnFrom + 19;
        look.width = 8;
        if (look.way == LookWay::follow) look.rowTo = 1;
        if (look.way == LookWay::searchPatch || look.way == LookWay::stretchPatch) look.rowTo += 9;
        looks.push_back(look);
    }
    for (auto _ : state) {
        for (const Look& look : looks) benchmark::DoNotOptimize(answer(look, piece));
    }
}
BENCHMARK(BM_RowsOf)->Arg(0)->Arg(1)->Unit(benchmark::kMillisecond);
BENCHMARK(BM_CoursesOf)->Arg(0)->Arg(1)->Unit(benchmark::kMillisecond);
BENCHMARK(BM_ReadOneSide)->Arg(0)->Arg(1)->Unit(benchmark::kMillisecond);
BENCHMARK(BM_ReadScript)->Arg(0)->Arg(1)->Unit(benchmark::kMillisecond);
BENCHMARK(BM_Landmarks)->Arg(0)->Arg(1)->Unit(benchmark::kMillisecond);
BENCHMARK(BM_Symptoms)->Arg(0)->Arg(1)->Unit(benchmark::kMillisecond);
BENCHMARK(BM_LookedAt)->Arg(0)->Arg(1)->Unit(benchmark::kMillisecond);
BENCHMARK(BM_ThousandLooks)->Arg(0)->Arg(1)->Unit(benchmark::kMillisecond);
BENCHMARK(BM_FirstNoticeable)->Arg(0)->Arg(1)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace loopmend
