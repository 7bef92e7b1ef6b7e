// SPDX-License-Identifier: MIT
// A case on 400 x 300 stitches: how long until there is a first belief, and from each answer to the next
// question. Every answer is what a perfect eye would give of a piece with two stitches worked together in row
// 201 (of plain knitting, a bump). Counters in seconds of one core:
//
// - begin, picture: until a question stands; after the five pictures, when all is still possible
// - second: the longest of the next three answers; median: of all after these
#include <algorithm>
#include <ctime>
#include <string>
#include <vector>

#include <benchmark/benchmark.h>

#include "diagnosis/case.h"
#include "diagnosis/tables.h"
#include "fault/grounds.h"
#include "fault/knit_with.h"
#include "reading/answer.h"

namespace {

using namespace loopmend;

double secondsOf(const auto& what) {
    const std::clock_t from = std::clock();
    what();
    return static_cast<double>(std::clock() - from) / CLOCKS_PER_SEC;
}

void caseLarge(benchmark::State& state) {
    constexpr int kRows = 300;
    const auto ground = static_cast<StockGround>(state.range(0));
    state.SetLabel(std::string(name(ground)));
    for ([[maybe_unused]] const auto once : state) {
        CaseMeant meant;
        meant.script = stockGround(ground, 400, kRows + 2);
        meant.rowsDone = kRows;
        const Script script = meant.script;
        Script done = script;
        done.rows.resize(kRows);
        CaseStart start;
        start.rowsDone = kRows;
        tl::expected<Case, std::string> made = tl::unexpected<std::string>("");
        const double begin = secondsOf([&] { made = Case::begin(start, std::move(meant)); });
        if (!made) {
            state.SkipWithError(made.error().c_str());
            return;
        }
        Case& c = *made;
        const CaseTables& t = c.tables();
        const std::string_view id = ground == StockGround::stockinette ? "wrong_kp" : "merged";
        std::size_t hidden = 0;
        while (hidden < t.size() &&
               (t.at(hidden).row != 201 || !t.isListed(t.at(hidden)) || t.id(t.at(hidden).kind) != id))
            ++hidden;
        if (hidden == t.size()) {
            state.SkipWithError("no such mistake");
            return;
        }
        const auto piece =
            knitWith(done, {}, {t.placeOf(t.at(hidden))}, static_cast<After>(t.at(hidden).after));
        if (!piece) {
            state.SkipWithError(piece.error().message.c_str());
            return;
        }
        const LookedAt looked(*piece->actual.fabric, *piece->meant.fabric, &script);
        const double picture = secondsOf([&] {
            CaseNote note;
            note.kind = CaseNote::Kind::picture;
            benchmark::DoNotOptimize(c.tell(note));
            benchmark::DoNotOptimize(c.question());
        });
        std::vector<double> answers;
        while (c.question()) {
            const CaseQuestion q = *c.question();
            CaseNote note;
            note.look = q.look;
            note.seen = answer(q.look, looked);
            answers.push_back(secondsOf([&] {
                if (q.kind != CaseNote::Kind::look || !c.tell(note)) c.cantTell();
                benchmark::DoNotOptimize(c.question());
            }));
        }
        const auto first =
            answers.begin() + static_cast<std::ptrdiff_t>(std::min<std::size_t>(3, answers.size()));
        state.counters["begin"] = begin;
        state.counters["picture"] = picture;
        state.counters["second"] = answers.empty() ? 0 : *std::max_element(answers.begin(), first);
        std::sort(first, answers.end());
        state.counters["median"] =
            first == answers.end() ? 0 : first[static_cast<std::ptrdiff_t>((answers.end() - first) / 2)];
    }
}
BENCHMARK(caseLarge)
    ->Arg(static_cast<int>(StockGround::stockinette))
    ->Arg(static_cast<int>(StockGround::eyelets))
    ->Arg(static_cast<int>(StockGround::net))
    ->Arg(static_cast<int>(StockGround::spines))
    ->Arg(static_cast<int>(StockGround::cables))
    ->Iterations(1)
    ->Unit(benchmark::kSecond);

}  // namespace
