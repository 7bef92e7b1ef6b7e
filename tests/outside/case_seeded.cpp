// SPDX-License-Identifier: MIT
//
// Knitters made from seeds, on book patterns (patterns.tsv): the hidden piece is knitted with its mistake and
// answers as a perfect eye would, spoilt as eyes are. The whole table is tools/bench/case_bench.cpp.
#include <catch2/catch.hpp>

#include <memory>
#include <set>
#include <string>

#include "diagnosis/tables.h"
#include "outside/case_knitter.h"

using namespace loopmend;
using namespace loopmend::seeded;

namespace {

struct Count {
    int all = 0;
    int right = 0;
    int wrong = 0;
    int wrongPlace = 0;
};

Count measure(int from, int to, int step) {
    Count count;
    const auto effects = std::make_shared<CaseEffects>();
    for (int n = from; n < to; n += step) {
        const auto hidden = seededCase(n);
        if (!hidden) continue;
        const CaseResult r = solve(*hidden, {}, effects);
        ++count.all;
        count.right += r.settled && r.right ? 1 : 0;
        count.wrong += r.settled && !r.right ? 1 : 0;
        count.wrongPlace += r.settled && !r.rightPlace ? 1 : 0;
        CHECK(r.looks <= 20);
    }
    return count;
}

}  // namespace

TEST_CASE("knitters of the first sixty cases are told what happened") {
    const Count count = measure(0, 60, 1);
    INFO("right " << count.right << ", wrong " << count.wrong << ", of these elsewhere " << count.wrongPlace
                  << ", of " << count.all);
    REQUIRE(count.all == 60);
    CHECK(count.right * 100 >= count.all * 83);
    CHECK(count.wrong * 100 <= count.all * 3);
    CHECK(count.wrongPlace * 100 <= count.all);
}

namespace {

/// Random looks at random mistakes: what the tables say against what the cloth itself answers.
void agree(const char* wanted, int pairs, int& all, int& same) {
    for (int n = 0; n < 21; ++n) {
        const auto c = seededCase(n);
        if (!c || c->pattern != wanted) continue;
        const CaseTables t(c->script, {}, c->rows, {}, nullptr);
        Script done = c->script;
        done.rows.resize(static_cast<std::size_t>(c->rows));
        Seeded dice(7);
        for (int i = 0; i < pairs;) {
            const auto h = static_cast<std::size_t>(dice.below(static_cast<int>(t.size())));
            if (!t.isListed(t.at(h)) || !t.can(h)) continue;
            const auto piece = knitWith(done, {}, {t.placeOf(t.at(h))}, static_cast<After>(t.at(h).after));
            if (!piece) continue;
            const LookedAt looked(*piece->actual.fabric, *piece->meant.fabric, &c->script);
            for (int k = 0; k < 10; ++k, ++i) {
                constexpr LookWay kWays[] = {LookWay::armsLength,   LookWay::countSpan,   LookWay::rowFits,
                                             LookWay::closeLook,    LookWay::searchPatch, LookWay::slantLight,
                                             LookWay::stretchPatch, LookWay::tug,         LookWay::bothEnds};
                Look look;
                look.way = kWays[dice.below(9)];
                look.rowFrom = look.rowTo = 1 + dice.below(c->rows);
                look.side = dice.below(2) == 0 ? Side::right : Side::wrong;
                const int width = t.cloth().width(look.rowFrom);
                look.columnFrom = look.columnTo = 1 + dice.below(width);
                if (look.way == LookWay::countSpan) {
                    look.columnFrom = 1;
                    look.columnTo = width;
                }
                if (look.way == LookWay::rowFits) look.rowFrom = look.rowTo = c->rows + 1;
                if (look.way == LookWay::searchPatch || look.way == LookWay::slantLight ||
                    look.way == LookWay::stretchPatch) {
                    look.rowTo = std::min(c->rows, look.rowFrom + 5);
                    look.columnTo = std::min(width, look.columnFrom + 12);
                }
                ++all;
                same += t.forecast(look, h).seen == answer(look, looked) ? 1 : 0;
            }
        }
        return;
    }
}

}  // namespace

TEST_CASE("tables agree with the cloth itself") {
    int all = 0;
    int same = 0;
    for (const char* id : {"H03", "H05"}) agree(id, 300, all, same);
    CHECK(all >= 600);
    CHECK(same * 100 >= all * 97);
}

TEST_CASE("tables agree with the cloth itself in twenty thousand pairs", "[.all]") {
    int all = 0;
    int same = 0;
    for (const char* id : {"L38", "M02", "M15", "M16", "M18", "L12", "L28", "L29", "D04", "L01",
                           "H05", "H06", "R02", "D02", "B14", "D01", "L23", "W01", "H02", "H03"}) {
        int its = 0;
        int right = 0;
        agree(id, 1000, its, right);
        all += its;
        same += right;
        WARN(id << ": " << right << " of " << its);
    }
    WARN(same << " of " << all);
    CHECK(same * 100 >= all * 97);
}
