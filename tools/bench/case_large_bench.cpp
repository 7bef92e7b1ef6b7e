// SPDX-License-Identifier: MIT
// A case on 400 x 300 stitches: how long until there is a first belief, and from each answer to the next
// question. Every answer is what a perfect eye would give of a piece with one mistake. Counters in seconds of
// one core:
//
// caseLarge: two stitches worked together in row 201 (of plain knitting, a bump).
// - begin, picture: until a question stands; after the five pictures, when all is still possible
// - second: the longest of the next three answers; median: of all after these
//
// caseLargeBegun: five other cases, by seed: a row that did not come out, a count of the newest row, a place
// pointed at, a feeling, and a mistake that was taken out of the list. An answer is its question and what the
// case believes then (Case::settled), as the window waits for both.
// - begin: the longest; worst, median: of all answers; over: in 100 answers, longer than 0.2
// - told: the longest in which a whole piece is knitted again, because it is told
#include <algorithm>
#include <cstdint>
#include <ctime>
#include <optional>
#include <string>
#include <vector>

#include <benchmark/benchmark.h>

#include "diagnosis/belief.h"
#include "diagnosis/case.h"
#include "diagnosis/tables.h"
#include "fault/draw.h"
#include "fault/grounds.h"
#include "fault/knit_with.h"
#include "reading/answer.h"

namespace {

using namespace loopmend;

constexpr int kStitches = 400;
constexpr int kRows = 300;

double secondsOf(const auto& what) {
    const std::clock_t from = std::clock();
    what();
    return static_cast<double>(std::clock() - from) / CLOCKS_PER_SEC;
}

double medianOf(std::vector<double> values) {
    if (values.empty()) return 0;
    std::sort(values.begin(), values.end());
    return values[values.size() / 2];
}

std::string_view usualMistake(StockGround ground) {
    return ground == StockGround::stockinette ? "wrong_kp" : "merged";
}

/// The piece that she has, and the case that asks about it.
struct LargeCase {
    Script script;
    std::optional<Case> asked;
    double begin = 0;
    std::optional<FaultyKnitting> piece;
    std::optional<LookedAt> looked;
    std::size_t hidden = 0;

    /// The failure is said by `problem`.
    LargeCase(StockGround ground, const CaseStart& start) {
        CaseMeant meant;
        meant.script = script = stockGround(ground, kStitches, kRows + 2);
        meant.rowsDone = kRows;
        tl::expected<Case, std::string> made = tl::unexpected<std::string>("");
        begin = secondsOf([&] { made = Case::begin(start, std::move(meant)); });
        if (made) {
            asked.emplace(std::move(*made));
        } else {
            problem = made.error();
        }
    }
    bool hide(std::size_t h) {
        const CaseTables& t = asked->tables();
        Script done = script;
        done.rows.resize(kRows);
        auto knitted = knitWith(done, {}, {t.placeOf(t.at(h))}, static_cast<After>(t.at(h).after));
        if (!knitted) {
            problem = knitted.error().message;
            return false;
        }
        hidden = h;
        piece.emplace(std::move(*knitted));
        looked.emplace(*piece->actual.fabric, *piece->meant.fabric, &script);
        return true;
    }
    /// In row 201.
    bool hide(std::string_view id) {
        const CaseTables& t = asked->tables();
        for (std::size_t h = 0; h < t.size(); ++h) {
            if (t.at(h).row == 201 && t.isListed(t.at(h)) && t.id(t.at(h).kind) == id) return hide(h);
        }
        problem = "no such mistake";
        return false;
    }
    bool hideAny(Seeded& dice) {
        const CaseTables& t = asked->tables();
        const std::vector<std::int32_t> all = Belief(t.priors()).alive();
        constexpr int kTries = 60;
        for (int i = 0; i < kTries; ++i) {
            const auto h = static_cast<std::size_t>(
                all[static_cast<std::size_t>(dice.below(static_cast<int>(all.size())))]);
            if (t.isListed(t.at(h)) && hide(h)) return true;
        }
        return false;
    }
    CaseNote answerTo(const CaseQuestion& q) const {
        CaseNote note;
        note.kind = q.kind;
        note.look = q.look;
        if (q.kind == CaseNote::Kind::look) note.seen = answer(q.look, *looked);
        if (q.kind == CaseNote::Kind::cameOut) note.seen.by = howTheRowCameOut();
        return note;
    }
    int howTheRowCameOut() const {
        Look fits;
        fits.way = LookWay::rowFits;
        fits.rowFrom = fits.rowTo = kRows + 1;
        const int by = answer(fits, *looked).by;
        return by < 0 ? -1 : by > 0 ? 1 : 0;
    }

    std::string problem;
};

void caseLarge(benchmark::State& state) {
    const auto ground = static_cast<StockGround>(state.range(0));
    state.SetLabel(std::string(name(ground)));
    for ([[maybe_unused]] const auto once : state) {
        CaseStart start;
        start.rowsDone = kRows;
        LargeCase it(ground, start);
        if (!it.asked || !it.hide(usualMistake(ground))) {
            state.SkipWithError(it.problem.c_str());
            return;
        }
        Case& c = *it.asked;
        const double picture = secondsOf([&] {
            CaseNote note;
            note.kind = CaseNote::Kind::picture;
            benchmark::DoNotOptimize(c.tell(note));
            benchmark::DoNotOptimize(c.question());
        });
        std::vector<double> answers;
        while (c.question()) {
            const CaseQuestion q = *c.question();
            const CaseNote note = it.answerTo(q);
            answers.push_back(secondsOf([&] {
                if (q.kind != CaseNote::Kind::look || !c.tell(note)) c.cantTell();
                benchmark::DoNotOptimize(c.question());
            }));
        }
        const auto first =
            answers.begin() + static_cast<std::ptrdiff_t>(std::min<std::size_t>(3, answers.size()));
        state.counters["begin"] = it.begin;
        state.counters["picture"] = picture;
        state.counters["second"] = answers.empty() ? 0 : *std::max_element(answers.begin(), first);
        state.counters["median"] = medianOf({first, answers.end()});
    }
}

/// What she says first, by case.
CaseNote firstNote(int which, const LargeCase& it, Seeded& dice) {
    const CaseTables& t = it.asked->tables();
    CaseNote note;
    switch (which) {
        case 0:
            note.kind = CaseNote::Kind::cameOut;
            note.seen.by = it.howTheRowCameOut();
            break;
        case 1:
            note.look.way = LookWay::countSpan;
            note.look.rowFrom = note.look.rowTo = kRows;
            note.look.columnFrom = 1;
            note.look.columnTo = t.cloth().width(kRows);
            note.seen = answer(note.look, *it.looked);
            break;
        case 2: {
            note.kind = CaseNote::Kind::picture;
            note.picture = CasePicture::something;
            Sighting at = t.plainestOf(it.hidden, Side::right);
            if (at.what == Sighting::What::nothing) at = t.plainestOf(it.hidden, Side::wrong);
            note.row = std::clamp(at.row + dice.below(5) - 2, 1, kRows);
            note.column = std::clamp(at.column + dice.below(7) - 3, 1, t.cloth().width(note.row));
            break;
        }
        default:
            note.kind = CaseNote::Kind::picture;
            note.picture = CasePicture::something;
            break;
    }
    return note;
}

void caseLargeBegun(benchmark::State& state) {
    constexpr int kCases = 5;
    constexpr int kUnlisted = 4;
    constexpr double kLimit = 0.2;
    const auto ground = static_cast<StockGround>(state.range(0));
    state.SetLabel(std::string(name(ground)));
    for ([[maybe_unused]] const auto once : state) {
        double begin = 0;
        double told = 0;
        std::vector<double> answers;
        for (int which = 0; which < kCases; ++which) {
            CaseStart start;
            start.rowsDone = kRows;
            start.seed = static_cast<std::uint64_t>(which) + 1;
            if (which == kUnlisted) start.priors[std::string(usualMistake(ground))] = 0;
            LargeCase it(ground, start);
            Seeded dice(77 + static_cast<std::uint64_t>(which));
            if (!it.asked || !(which == kUnlisted ? it.hide(usualMistake(ground)) : it.hideAny(dice))) {
                state.SkipWithError(it.problem.c_str());
                return;
            }
            begin = std::max(begin, it.begin);
            Case& c = *it.asked;
            const auto tell = [&](const CaseNote& note) {
                CaseSettled then;
                const double seconds = secondsOf([&] {
                    if (!c.tell(note)) c.cantTell();
                    then = c.settled();
                });
                if (then.settled || !c.question()) {
                    told = std::max(told, seconds);
                } else {
                    answers.push_back(seconds);
                }
            };
            tell(firstNote(which, it, dice));
            while (c.question()) tell(it.answerTo(*c.question()));
        }
        const auto over = std::count_if(answers.begin(), answers.end(), [](double s) { return s > kLimit; });
        state.counters["begin"] = begin;
        state.counters["worst"] = answers.empty() ? 0 : *std::max_element(answers.begin(), answers.end());
        state.counters["median"] = medianOf(answers);
        state.counters["over"] =
            100.0 * static_cast<double>(over) / static_cast<double>(std::max<std::size_t>(1, answers.size()));
        state.counters["told"] = told;
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
BENCHMARK(caseLargeBegun)
    ->Arg(static_cast<int>(StockGround::stockinette))
    ->Arg(static_cast<int>(StockGround::rib))
    ->Arg(static_cast<int>(StockGround::eyelets))
    ->Arg(static_cast<int>(StockGround::spines))
    ->Arg(static_cast<int>(StockGround::cables))
    ->Iterations(1)
    ->Unit(benchmark::kSecond);

}  // namespace
