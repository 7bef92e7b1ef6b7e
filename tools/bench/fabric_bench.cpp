// SPDX-License-Identifier: MIT
// Budgets: plain rows at 5 million stitches a second with the journal on, at most 128 bytes a loop; one
// stitch undone in a microsecond and 200 bytes of journal on 400 x 300 loops.
#include <benchmark/benchmark.h>

#include "fabric/hands.h"
#include "fabric/itinerary.h"
#include "fabric/knitter.h"
#include "fabric/pairing.h"
#include "fabric/rows.h"

namespace {

using namespace loopmend;

/// Stockinette through the knitter's ordinary calls; a mark before every stitch, as an undo step of a person
/// would be. slow: each stitch spelt in primitives one by one.
void knitRows(Fabric& fabric, Knitter& knitter, int rows, int stitches) {
    for (int r = 0; r < rows; ++r) {
        for (int i = 0; i < stitches; ++i) {
            benchmark::DoNotOptimize(fabric.mark());
            (void)(knitter.facing() == Side::right ? knitter.knit() : knitter.purl());
        }
        knitter.turn();
    }
}

struct Piece {
    Fabric fabric;
    YarnId yarn = fabric.addYarn('A', 16800, 4200);
    Knitter knitter{fabric, yarn, Side::wrong};

    explicit Piece(int stitches, int rows = 0) {
        (void)knitter.castOnLongTail(stitches);
        knitter.turn();
        knitRows(fabric, knitter, rows, stitches);
    }
};

/// The same rows without the knitter: lift, pull, let go, hold.
std::string slowKnot(int stitches, int rows) {
    Piece piece(stitches);
    Fabric& f = piece.fabric;
    Side facing = Side::right;
    for (int r = 0; r < rows; ++r) {
        const bool leftward = facing == Side::right;
        const Run run = leftward ? Run::leftward : Run::rightward;
        for (int i = 0; i < stitches; ++i) {
            const Tool& needle = f[f.needle()];
            const HeldId h = leftward ? needle.tip : needle.tip ? f[needle.tip].prev : needle.last;
            const LoopId host = f[h].loop;
            const HeldId next = f[h].next;
            (void)f.letGo(host, f.needle(), false);
            const LoopId loop = *f.liftFromBall(piece.yarn, run, 16800, 4200);
            LinkForm form;
            form.side = Side::right;
            (void)f.pull(loop, host, form, leftward ? -1 : 0);
            const HeldId held = *f.hold(loop, f.needle(), next, Mount::western);
            f.setTip(leftward ? next : held);
        }
        for (std::int32_t y = 0; y < f.yarnCount(); ++y) f.setRowEnds(f[YarnId{y}].last, true);
        facing = opposite(facing);
    }
    return knotOf(f);
}

void knitPlainRows(benchmark::State& state) {
    constexpr int kStitches = 400;
    constexpr int kRows = 500;
    double bytesALoop = 0;
    double journalAStitch = 0;
    std::string knot;
    for (auto _ : state) {
        Piece piece(kStitches);
        knitRows(piece.fabric, piece.knitter, kRows, kStitches);
        state.PauseTiming();
        bytesALoop = static_cast<double>(piece.fabric.bytes()) / (kStitches * (kRows + 2.0));
        journalAStitch = static_cast<double>(piece.fabric.journalBytes()) / (kStitches * 1.0 * kRows);
        knot = knotOf(piece.fabric);
        state.ResumeTiming();
    }
    if (hashOf(knot) != hashOf(slowKnot(kStitches, kRows)))
        state.SkipWithError("not the fabric of the slow path");
    state.SetItemsProcessed(state.iterations() * kStitches * kRows);
    state.counters["bytes_a_loop"] = bytesALoop;
    state.counters["journal_bytes_a_stitch"] = journalAStitch;
}
BENCHMARK(knitPlainRows)->Unit(benchmark::kMillisecond);

void journalUndoOfOneStitch(benchmark::State& state) {
    Piece piece(400, 300);
    (void)piece.knitter.knit();
    std::size_t bytes = 0;
    for (auto _ : state) {
        const std::size_t before = piece.fabric.journalBytes();
        const JournalMark mark = piece.fabric.mark();
        (void)piece.knitter.knit();
        bytes = piece.fabric.journalBytes() - before;
        piece.fabric.rollBack(mark);
    }
    state.counters["journal_bytes"] = static_cast<double>(bytes);
}
BENCHMARK(journalUndoOfOneStitch);

void writeItinerary(benchmark::State& state) {
    const Piece piece(400, 300);
    for (auto _ : state) benchmark::DoNotOptimize(itinerary(piece.fabric));
    state.SetItemsProcessed(state.iterations() * 400 * 300);
}
BENCHMARK(writeItinerary)->Unit(benchmark::kMillisecond);

void readItinerary(benchmark::State& state) {
    const Piece piece(400, 300);
    const Itinerary lines = itinerary(piece.fabric);
    for (auto _ : state) benchmark::DoNotOptimize(fabricFrom(lines).has_value());
    state.SetItemsProcessed(state.iterations() * 400 * 300);
}
BENCHMARK(readItinerary)->Unit(benchmark::kMillisecond);

void rowsByTheWalk(benchmark::State& state) {
    const Piece piece(400, 300);
    for (auto _ : state) benchmark::DoNotOptimize(rowsOf(piece.fabric).last);
}
BENCHMARK(rowsByTheWalk)->Unit(benchmark::kMillisecond);

void pairTwoFabrics(benchmark::State& state) {
    const Piece meant(400, 300);
    Piece actual(400, 149);
    (void)actual.knitter.knit();
    knitRows(actual.fabric, actual.knitter, 1, 399);
    knitRows(actual.fabric, actual.knitter, 150, 400);
    for (auto _ : state) benchmark::DoNotOptimize(pairUp(meant.fabric, actual.fabric).changed.size());
}
BENCHMARK(pairTwoFabrics)->Unit(benchmark::kMillisecond);

/// A column of n rungs hooked up costs n, not n times n.
void runAndHookAColumn(benchmark::State& state) {
    const auto rows = static_cast<int>(state.range(0));
    Piece piece(20, rows);
    Fabric& f = piece.fabric;
    HeldId h = f[f.needle()].first;
    for (int i = 0; i < 10; ++i) h = f[h].next;
    const LoopId top = f[h].loop;
    LoopId foot = top;
    for (int i = 0; i < rows - 1; ++i) foot = f[f[foot].firstLink].host;
    for (auto _ : state) {
        const JournalMark mark = f.mark();
        (void)f.letGo(top, f.needle(), true);
        (void)letRunFrom(f, top, rows - 1);
        LoopId loop = foot;
        for (int i = 0; i < rows - 1; ++i) {
            Hooking hooking;
            hooking.rung = f[f[loop].strands].first;
            hooking.through = {{loop, 0, 0}};
            loop = *hook(f, hooking);
        }
        f.rollBack(mark);
    }
    state.SetItemsProcessed(state.iterations() * (rows - 1));
}
BENCHMARK(runAndHookAColumn)->Arg(50)->Arg(100)->Arg(200)->Arg(400)->Unit(benchmark::kMicrosecond);

}  // namespace
