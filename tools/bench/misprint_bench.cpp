// SPDX-License-Identifier: MIT
// What misprint advice is worth, and what it costs. Tokens of the 75 book patterns are spoilt one at a time
// (tests/outside/spoilings.h); each line is a kind of spoiling, its time that of one piece of advice:
// judged      spoilings after which some row cannot be worked (at least 40 in 100 of all show later)
// later       in 100 of them, only in a row behind the spoilt one, or when the rows are repeated
// first, three, shown    in 100 of them, the true repair is the first suggestion, among three, among all
// lines       suggestions for the row
// unread      counted apart: the words are not understood any more, and the reader names the place
// read_three  in 100 of those, the true repair is among three suggestions
// comes_out   counted apart: everything comes out all the same
#include "outside/spoilings.h"

#include "pattern/counts.h"

#include <benchmark/benchmark.h>

#include <string>
#include <vector>

namespace {

using namespace loopmend;
using namespace loopmend::outside;

constexpr std::uint64_t kSeed = 1;
constexpr int kJudged = 1000;

struct Measured {
    std::vector<BookPattern> books = bookPatterns();
    std::vector<Spoiling> spoilings;
    std::vector<Verdict> verdicts;

    explicit Measured(bool multiple) : spoilings(outside::spoilings(books, kSeed, kJudged, multiple)) {
        verdicts.reserve(spoilings.size());
        for (const Spoiling& spoiling : spoilings) verdicts.push_back(judge(spoiling));
    }
};

const Measured& measured(bool multiple) {
    static const Measured kStated(true);
    if (multiple) return kStated;
    static const Measured kUnstated(false);
    return kUnstated;
}

bool judged(const Spoiling& spoiling) {
    return spoiling.shows == SpoilShows::thatRow || spoiling.shows == SpoilShows::laterRow;
}

template <class Which>
void table(benchmark::State& state, bool multiple, Which which) {
    const Measured& all = measured(multiple);
    SpoilTally tally;
    std::vector<const Spoiling*> asked;
    for (std::size_t i = 0; i < all.spoilings.size(); ++i) {
        const Spoiling& spoiling = all.spoilings[i];
        if (!which(spoiling)) continue;
        tally.add(spoiling, all.verdicts[i]);
        if (judged(spoiling)) asked.push_back(&spoiling);
    }
    std::size_t at = 0;
    for (auto _ : state) {
        const Spoiling& spoiling = *asked[at++ % asked.size()];
        benchmark::DoNotOptimize(check(spoiling.pattern, spoiling.castOn).problems.size());
    }
    const auto share = [&](int n) { return 100.0 * n / tally.judged; };
    state.counters["judged"] = tally.judged;
    state.counters["later"] = share(tally.later);
    state.counters["first"] = share(tally.first);
    state.counters["three"] = share(tally.firstThree);
    state.counters["shown"] = share(tally.shown);
    state.counters["lines"] = static_cast<double>(tally.lines) / tally.judged;
    state.counters["unread"] = tally.unread;
    state.counters["read_three"] = tally.unread == 0 ? 0.0 : 100.0 * tally.unreadFirstThree / tally.unread;
    state.counters["comes_out"] = tally.nowhere;
}

void misprints(benchmark::State& state) {
    table(state, true, [](const Spoiling&) { return true; });
}
void misprintsMultipleNotStated(benchmark::State& state) {
    table(state, false, [](const Spoiling&) { return true; });
}
void misprintsChanged(benchmark::State& state) {
    table(state, true, [](const Spoiling& spoiling) { return spoiling.spoil == Spoil::changed; });
}
void misprintsDropped(benchmark::State& state) {
    table(state, true, [](const Spoiling& spoiling) { return spoiling.spoil == Spoil::dropped; });
}
void misprintsDoubled(benchmark::State& state) {
    table(state, true, [](const Spoiling& spoiling) { return spoiling.spoil == Spoil::doubled; });
}
void misprintsOfThatRow(benchmark::State& state) {
    table(state, true, [](const Spoiling& spoiling) { return spoiling.shows == SpoilShows::thatRow; });
}
void misprintsOfAnEarlierRow(benchmark::State& state) {
    table(state, true, [](const Spoiling& spoiling) { return spoiling.shows == SpoilShows::laterRow; });
}

BENCHMARK(misprints)->Unit(benchmark::kMillisecond);
BENCHMARK(misprintsMultipleNotStated)->Unit(benchmark::kMillisecond);
BENCHMARK(misprintsChanged)->Unit(benchmark::kMillisecond);
BENCHMARK(misprintsDropped)->Unit(benchmark::kMillisecond);
BENCHMARK(misprintsDoubled)->Unit(benchmark::kMillisecond);
BENCHMARK(misprintsOfThatRow)->Unit(benchmark::kMillisecond);
BENCHMARK(misprintsOfAnEarlierRow)->Unit(benchmark::kMillisecond);

}  // namespace
