// SPDX-License-Identifier: MIT
// `Continue decreasing in this way until 12 sts remain`.
#include <catch2/catch.hpp>

#include <string>

#include "pattern/counts.h"
#include "pattern/parse.h"
#include "pattern/print.h"

using namespace loopmend;

namespace {

Pattern crown(const std::string& castOn, const std::string& rounds, const std::string& end) {
    return parse("Cast on " + castOn + " sts. Join in the round.\n" + rounds + "\n" + end + "\n");
}

}  // namespace

TEST_CASE("a crown goes on as its first two shaped rounds set out") {
    const std::string rounds = "Rnd 1: [K13, k2tog] around.\nRnd 2: K.\nRnd 3: [K12, k2tog] 4 times. 52 sts.";
    const Pattern pattern =
        crown("60", rounds,
              "Continue decreasing in this way, working 1 st less between decreases, until 12 sts remain.");
    CHECK(pattern.problems.empty());
    const CheckReport report = check(pattern, 60);
    CHECK(report.ok);
    REQUIRE(report.rows.size() ==
            23);  // a shaped round and a plain one by turns: 4 fewer each time from 60 to 12
    for (int r = 0; r < 23; ++r)
        CHECK(report.rows[static_cast<std::size_t>(r)].stitchesAfter == 60 - 4 * (r / 2 + 1));
    CHECK(printBody(pattern.rows.back()) == "(k2, k2tog) 4 times");
}

TEST_CASE("it goes on after a plain round that is worked already, and in rows of increases") {
    const Pattern pattern = crown("60",
                                  "Rnd 1: *K8, k2tog; rep from * to end.\nRnds 2-3: K.\n"
                                  "Rnd 4: *K7, k2tog; rep from * to end.\nRnd 5: K.",
                                  "Cont in this manner until 6 sts rem.");
    CHECK(pattern.problems.empty());
    const CheckReport report = check(pattern, 60);
    CHECK(report.ok);
    CHECK(report.rows.back().stitchesAfter == 6);
    CHECK(printBody(pattern.rows.back()) == "*k2tog; rep from * to end");
    CHECK(report.rows.size() == 25);  // nine shaped rounds, two plain ones between each two

    const Pattern grows = parse(
        "Cast on 9 sts.\nRow 1 (RS): K1, (k1, yo) 7 times, k1.\nRow 2: P.\nRow 3: K1, (k2, yo) 7 times, "
        "k1.\nRow 4: P.\n"
        "Continue increasing as established until there are 37 sts.\n");
    CHECK(grows.problems.empty());
    CHECK(printBody(grows.rows.back()) == "k1, (k4, yo) 7 times, k1");
}

TEST_CASE("what goes on nowhere, or past the count, is told") {
    const std::string rounds =
        "Rnd 1: *K8, k2tog; rep from * to end.\nRnd 2: K.\nRnd 3: *K7, k2tog; rep from * to end.";
    const auto told = [&](const std::string& words, const std::string& before) {
        const Pattern pattern = crown("60", before, words);
        REQUIRE(pattern.problems.size() == 1);
        CHECK(pattern.problems[0].line == (before == rounds ? 5 : 3));
        CHECK_FALSE(pattern.problems[0].message.empty());
    };
    told("Cont in this way until 13 sts rem.", rounds);
    told("Cont in this way until 90 sts rem.", rounds);
    told("Continue decreasing in this way until 12 sts remain.", "Rnd 1: K.");
    told("Continue decreasing at both ends.", rounds);
}
