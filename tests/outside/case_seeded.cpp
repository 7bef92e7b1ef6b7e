// SPDX-License-Identifier: MIT
//
// Knitters made from seeds, on book patterns (patterns.tsv): the hidden piece is knitted with its mistake and
// answers as a perfect eye would, spoilt as eyes are. The whole table is tools/bench/case_bench.cpp.
#include <catch2/catch.hpp>

#include <memory>

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
        CHECK(r.notReadAgain == 0);
    }
    return count;
}

void hold(const Count& count) {
    INFO("right " << count.right << ", wrong " << count.wrong << ", of these elsewhere " << count.wrongPlace
                  << ", of " << count.all);
    CHECK(count.right * 100 >= count.all * 83);
    CHECK(count.wrong * 100 <= count.all * 3);
    CHECK(count.wrongPlace * 100 <= count.all);
}

}  // namespace

TEST_CASE("knitters of every third of the first sixty cases are told what happened") {
    const Count count = measure(0, 60, 3);
    REQUIRE(count.all == 20);
    hold(count);
}

TEST_CASE("knitters of all the first sixty cases are told what happened", "[.all]") {
    const Count count = measure(0, 60, 1);
    REQUIRE(count.all == 60);
    hold(count);
}
