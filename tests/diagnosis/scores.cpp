// SPDX-License-Identifier: MIT
//
// How often it is right, measured: every mistake on every ground with every way of going on, two at once, and
// harm that no mistake explains. `[.all]` measures all of it and prints the table.
#include <catch2/catch.hpp>
#include <cstdio>
#include <string>

#include "diagnosis/damaged.h"
#include "diagnosis/measured.h"
#include "sampled.h"

namespace loopmend {
namespace {

Measured measure(const std::vector<MeasuredCase>& cases) {
    Measured score;
    for (const MeasuredCase& c : cases) {
        const Script script = scriptOf(c);
        const auto k = knitWith(script, {}, c.faults, c.after);
        INFO(c.words());
        REQUIRE(k);
        // Some leave the cloth as it was to be: a row left out after the last.
        Script worked = script;
        worked.rows.resize(static_cast<std::size_t>(k->handsRows < k->rows ? k->handsRows : k->rows));
        const auto meant = knit(worked);
        const Itinerary actual = itinerary(*k->actual.fabric);
        if (meant && itinerary(*meant->fabric).knot == actual.knot &&
            itinerary(*meant->fabric).measure == actual.measure)
            continue;
        judgeCase(c, script, *k->actual.fabric, explain(script, {}, *k->actual.fabric), score);
    }
    return score;
}

std::string missedOf(const Measured& score) {
    std::string words;
    for (const std::string& one : score.missed) words += one + "\n";
    return words;
}

void print(const char* what, const Measured& score) {
    const auto share = [&](int n) { return 100.0 * n / std::max(score.cases, 1); };
    std::printf(
        "%s: %d cases; what was made or what nobody can tell from it %.1f %%; what was made told first "
        "%.1f %%, after another of the same cloth and yarn %.1f %%, among three %.1f %%, another of the same "
        "cloth %.1f %%; %d told, %d not proved\n",
        what, score.cases, share(score.right()), share(score.first), share(score.tied), share(score.three),
        share(score.equal), score.told, score.unproved);
    std::printf("%s", missedOf(score).c_str());
    for (const auto& [pair, n] : score.confusions)
        std::printf("  %4d  %s told as %s\n", n, pair.first.c_str(), pair.second.c_str());
}

struct Harm {
    int cases = 0;
    int unknown = 0;
    int right = 0;
    std::string missed;
};

Harm measureHarm(int n) {
    Harm harm;
    for (std::uint64_t seed = 0; harm.cases < n; ++seed) {
        const auto piece = damagedPiece(seed);
        if (!piece) continue;
        ++harm.cases;
        const Explanations told = explain(piece->script, {}, *piece->actual.fabric);
        if (!told.explanations.empty() || told.unknown.size() != 1) {
            harm.missed += piece->words + ": " + told.words + "\n";
            continue;
        }
        ++harm.unknown;
        const UnknownPlace& said = told.unknown.front();
        const bool right = std::any_of(piece->places.begin(), piece->places.end(), [&](const auto& place) {
            return place.first == said.row && place.second == said.stitch;
        });
        harm.right += right ? 1 : 0;
        if (!right) harm.missed += piece->words + ": " + told.words + "\n";
    }
    return harm;
}

}  // namespace

TEST_CASE("every mistake is told, on every ground, however she went on") {
    const Measured score = measure(singleCases(1, kSanitized ? 83 : 29));
    INFO(missedOf(score));
    CHECK(score.cases > (kSanitized ? 30 : 90));
    CHECK(score.right() >= score.cases * 97 / 100);
    CHECK(score.first + score.tied >= score.cases * 97 / 100);
    CHECK(score.unproved == 0);
}

TEST_CASE("two mistakes in one piece are told together") {
    // Never much fewer: of two pairs no share can be told.
    const Measured score = measure(pairCases(kSanitized ? 6 : 14));
    INFO(missedOf(score));
    CHECK(score.right() * 100 >= score.cases * 80);
    CHECK(score.unproved == 0);
}

TEST_CASE("two mistakes are told in the order and the way in which they make the cloth") {
    // Two at one stitch; what fell after the last row; a stitch too many before the second one; one that fell
    // in a row worked blindly.
    const auto both = [](StockGround ground, After after, FaultPlace one, FaultPlace other) {
        return MeasuredCase{ground, false, after, {std::move(one), std::move(other)}};
    };
    const After reading = After::byReading;
    const After count = After::byCount;
    const Measured score = measure(
        {both(StockGround::stockinette, reading, {"worked_the_bar", 1, 5, 0}, {"merged", 1, 5, 0}),
         both(StockGround::rib, reading, {"ladder_edge", 1, 14, 0}, {"needle_pulled_out", 11, 11, 0}),
         both(StockGround::cables, count, {"split_yarn", 7, 14, 0}, {"split_in_two", 6, 2, 0}),
         both(StockGround::spines, reading, {"ladder_stockinette", 10, 7, 0}, {"split_in_two", 3, 7, 0}),
         both(StockGround::joined, count, {"drop_left_behind", 8, 9, 0}, {"last_left", 5, 1, 0})});
    INFO(missedOf(score));
    CHECK(score.cases == 5);
    CHECK(score.right() == 5);
    CHECK(score.told >= 10);
    CHECK(score.unproved == 0);
}

TEST_CASE("where yarn broke each part of it is seen beside its own") {
    // What else went wrong lies beyond the break, before it, at both of its ends, in another yarn, in how the
    // round was joined; a piece that is bound off has no ball; the yarn that broke is the second of two.
    const auto both = [](StockGround ground, bool round, After after, FaultPlace one, FaultPlace other) {
        return MeasuredCase{ground, round, after, {std::move(one), std::move(other)}};
    };
    const After reading = After::byReading;
    const After count = After::byCount;
    const Measured score = measure(
        {both(StockGround::garter, false, count, {"broken_yarn", 2, 9, 0}, {"kfb_accident", 8, 2, 0}),
         both(StockGround::eyelets, true, reading, {"broken_yarn", 2, 14, 0}, {"missed_yo", 7, 11, 0}),
         both(StockGround::banded, false, reading, {"split_yarn", 11, 4, 0}, {"broken_yarn", 4, 1, 0}),
         both(StockGround::stockinette, true, reading, {"joined_round_twisted", 1, 1, 0},
              {"broken_yarn", 9, 6, 0}),
         both(StockGround::bound, false, count, {"broken_yarn", 2, 11, 0}, {"slip_float_back", 6, 5, 0}),
         both(StockGround::stranded, true, reading, {"broken_yarn", 9, 2, 0}, {"twist_tbl", 9, 7, 0}),
         {StockGround::stranded, false, reading, {{"broken_yarn", 8, 11, 0}}}});
    INFO(missedOf(score));
    CHECK(score.cases == 7);
    CHECK(score.right() == 7);
    CHECK(score.unproved == 0);
}

TEST_CASE("a short float, a wide strand and what she stopped at are told where they begin far off") {
    const Measured score =
        measure({{StockGround::caught, false, After::byReading, {{"float_tight", 2, 11, 0}}},
                 {StockGround::stranded, true, After::byReading, {{"needle_ladder", 3, 3, 0}}},
                 {StockGround::caught, true, After::rowEnd, {{"needle_ladder", 5, 11, 0}}},
                 {StockGround::shaped, true, After::rowEnd, {{"merged", 1, 5, 0}}},
                 {StockGround::turned, false, After::rowEnd, {{"kfb_accident", 5, 2, 0}}}});
    INFO(missedOf(score));
    CHECK(score.cases == 5);
    CHECK(score.right() == 5);
    CHECK(score.unproved == 0);
}

TEST_CASE("a missed yarn over and a missed decrease that make the count right are both told") {
    const Script lace = stockGround(StockGround::eyelets, 13, 11);
    int found = 0;
    for (int row = 1; row <= 9; row += kSanitized ? 8 : 2) {
        for (const FaultPlace& yo : placesFor(*findFault("missed_yo"), lace, {}, {row, row})) {
            for (const FaultPlace& dec : placesFor(*findFault("missed_dec"), lace, {}, {row, row})) {
                if (std::abs(yo.stitch - dec.stitch) > 1) continue;
                const auto k = knitWith(lace, {}, {yo, dec}, After::byReading);
                if (!k) continue;
                const Explanations told = explain(lace, {}, *k->actual.fabric);
                INFO(text(yo) << " " << text(dec) << ": " << told.words);
                CHECK(std::any_of(told.explanations.begin(), told.explanations.end(),
                                  [&](const Explanation& e) {
                                      return measured::isTruth(e, {yo, dec});
                                  }));
                ++found;
            }
        }
    }
    CHECK(found > (kSanitized ? 1 : 4));
}

TEST_CASE("a run that fell later is told with the mistake that was worked in") {
    const Script plain = stockGround(StockGround::stockinette, 13, 11);
    for (const FaultPlace& ladder :
         {FaultPlace{"ladder_stockinette", 2, 10, 0}, FaultPlace{"ladder_stockinette", 8, 3, 0}}) {
        const std::vector<FaultPlace> both{{"wrong_kp", 6, 5, 0}, ladder};
        const auto k = knitWith(plain, {}, both, After::byReading);
        REQUIRE(k);
        const Explanations told = explain(plain, {}, *k->actual.fabric);
        INFO(text(ladder) << ": " << told.words);
        CHECK(std::any_of(told.explanations.begin(), told.explanations.end(),
                          [&](const Explanation& e) { return measured::isTruth(e, both); }));
    }
}

TEST_CASE("harm that no mistake makes is unknown, with the first stitch that differs") {
    const Harm harm = measureHarm(sampled(24));
    INFO(harm.missed);
    CHECK(harm.unknown * 100 >= harm.cases * 95);
    CHECK(harm.right * 100 >= harm.cases * 95);
}

TEST_CASE("how often it is right, all of it", "[.all]") {
    const Measured single = measure(singleCases(1, 1));
    print("one mistake", single);
    CHECK(single.cases >= 2000);
    CHECK(single.right() * 100 >= single.cases * 95);
    CHECK(single.unproved == 0);
    const Measured pairs = measure(pairCases(1000));
    print("two mistakes", pairs);
    CHECK(pairs.right() * 100 >= pairs.cases * 90);
    CHECK(pairs.unproved == 0);
    const Harm harm = measureHarm(1000);
    std::printf("harm: %d cases, unknown %d, the first place right %d\n%s", harm.cases, harm.unknown,
                harm.right, harm.missed.c_str());
    CHECK(harm.right * 100 >= harm.cases * 95);
}

}  // namespace loopmend
