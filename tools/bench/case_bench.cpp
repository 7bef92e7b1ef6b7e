// SPDX-License-Identifier: MIT
// The case, measured: 420 knitters made from seeds (tests/outside/case_knitter.h) on 21 book patterns of
// 20 x 20 to 200 x 100 stitches. Each line is a run: as it is; her errors doubled once more; 10 in 100 close
// looks misnamed; every mistake taken out of the list; any of several odd places told, not the plainest.
// Prints its table by family, size, ground, start, way of going on. LOOPMEND_CASES: how many (420),
// LOOPMEND_CASES_STEP: every nth of them.
//
// - right, wrong, place: in 100 cases, settled on the right kind at its place; settled otherwise; elsewhere
//   than where her hands did it or where that shows most plainly; site: than where her hands did it
// - looks, over12: median looks; in 100 cases, more than twelve
// - recount, halve: median seconds, six more for each look, against those of counting rows from the needle
//   down, or halving, and comparing the row found (pieces of 40 x 40 up)
#include <algorithm>
#include <cstdlib>
#include <map>
#include <memory>
#include <string>
#include <vector>

#include <benchmark/benchmark.h>
#include <fmt/format.h>

#include "diagnosis/case_effects.h"
#include "fault/catalogue.h"
#include "fault/knit_with.h"
#include "outside/case_knitter.h"

namespace {

using namespace loopmend;
using namespace loopmend::seeded;

int fromEnvironment(const char* name, int usual) {
    const char* const value = std::getenv(name);
    return value == nullptr ? usual : std::max(1, std::atoi(value));
}

struct Line {
    int n = 0;
    int right = 0;
    int wrong = 0;
    int place = 0;
    int site = 0;
    int over = 0;
    std::vector<double> looks, seconds, down, halve;
};

double median(std::vector<double> values) {
    if (values.empty()) return 0;
    std::sort(values.begin(), values.end());
    return values[values.size() / 2];
}

void cases(benchmark::State& state, const Bending& bending, bool baselines) {
    std::map<std::string, Line> lines;
    std::map<std::string, int> kinds;
    int unlisted = 0;
    int told = 0;
    for ([[maybe_unused]] const auto once : state) {
        const auto effects = std::make_shared<CaseEffects>();
        const int all = fromEnvironment("LOOPMEND_CASES", 420);
        for (int n = 0; n < all; n += fromEnvironment("LOOPMEND_CASES_STEP", 1)) {
            const auto c = seededCase(n, bending);
            if (!c) continue;
            const CaseResult r = solve(*c, bending, effects);
            BaselineResult down;
            BaselineResult halve;
            if (baselines) {
                down = recount(*c, false);
                halve = recount(*c, true);
            }
            ++kinds[c->faults.front().id];
            unlisted += c->unlisted ? 1 : 0;
            told += c->unlisted && r.secondOrFirstUnlisted ? 1 : 0;
            const std::string size =
                fmt::format("{:3} rows{}", c->rows, c->looked->width(1) > 149 ? ", wide" : "");
            for (const std::string& key :
                 {std::string("all"), fmt::format("family {}", name(findFault(c->faults.front().id)->family)),
                  "size " + size, "ground " + c->category,
                  std::string("start ") + kStarts[static_cast<std::size_t>(c->starts)],
                  fmt::format("after {}", name(c->after)),
                  std::string(c->faults.size() > 1 ? "two mistakes"
                              : c->unlisted        ? "not in the list"
                                                   : "one mistake"),
                  std::string(c->starts == StartsWith::feeling ? "with a feeling"
                                                               : "with a row, count or place"),
                  std::string(c->rows >= 40 ? "from 40 x 40 up" : "20 x 20")}) {
                Line& line = lines[key];
                ++line.n;
                line.right += r.settled && r.right ? 1 : 0;
                line.wrong += r.settled && !r.right ? 1 : 0;
                line.place += r.settled && !r.rightPlace ? 1 : 0;
                line.site += r.settled && !r.rightSite ? 1 : 0;
                line.over += r.looks > 12 ? 1 : 0;
                line.looks.push_back(r.looks);
                line.seconds.push_back(r.seconds + 6 * r.looks);
                line.down.push_back(down.seconds);
                line.halve.push_back(halve.seconds);
            }
        }
    }
    for (const auto& [key, line] : lines) {
        fmt::print(
            "{:32} n {:3}  right {:5.1f}  wrong {:4.1f}  place {:4.1f}  looks {:2.0f}  over 12 {:4.1f}  "
            "{:4.0f} s",
            key, line.n, 100.0 * line.right / line.n, 100.0 * line.wrong / line.n,
            100.0 * line.place / line.n, median(line.looks), 100.0 * line.over / line.n,
            median(line.seconds));
        if (baselines)
            fmt::print("  {:.2f} of recounting  {:.2f} of halving",
                       median(line.seconds) / std::max(1.0, median(line.down)),
                       median(line.seconds) / std::max(1.0, median(line.halve)));
        fmt::print("\n");
    }
    fmt::print("{} kinds; not in the list: {} of {} first or second\n\n", kinds.size(), told, unlisted);
    const Line& whole = lines["all"];
    const Line& large = lines["from 40 x 40 up"];
    const auto share = [&](int n) { return 100.0 * n / std::max(1, whole.n); };
    state.counters["right"] = share(whole.right);
    state.counters["wrong"] = share(whole.wrong);
    state.counters["place"] = share(whole.place);
    state.counters["site"] = share(whole.site);
    state.counters["looks"] = median(whole.looks);
    state.counters["over12"] = share(whole.over);
    if (baselines) {
        state.counters["recount"] = median(large.seconds) / std::max(1.0, median(large.down));
        state.counters["halve"] = median(large.seconds) / std::max(1.0, median(large.halve));
    }
}

void caseAsItIs(benchmark::State& state) {
    cases(state, {}, true);
}
void caseErrorsDoubled(benchmark::State& state) {
    Bending bending;
    bending.errors = 2;
    cases(state, bending, false);
}
void caseMisnamed(benchmark::State& state) {
    Bending bending;
    bending.misnames = 0.10;
    cases(state, bending, false);
}
void caseUnlisted(benchmark::State& state) {
    Bending bending;
    bending.unlistedAll = true;
    cases(state, bending, false);
}
void caseAnyPlace(benchmark::State& state) {
    Bending bending;
    bending.anyPlace = true;
    cases(state, bending, false);
}
BENCHMARK(caseAsItIs)->Iterations(1)->Unit(benchmark::kSecond);
BENCHMARK(caseErrorsDoubled)->Iterations(1)->Unit(benchmark::kSecond);
BENCHMARK(caseMisnamed)->Iterations(1)->Unit(benchmark::kSecond);
BENCHMARK(caseUnlisted)->Iterations(1)->Unit(benchmark::kSecond);
BENCHMARK(caseAnyPlace)->Iterations(1)->Unit(benchmark::kSecond);

}  // namespace
