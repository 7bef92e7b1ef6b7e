// SPDX-License-Identifier: MIT
// A pattern goes on between edges that are shaped (common practice: a yarn-over is worked only together with
// its decrease).
#include "pattern/part_of_row.h"
#include "support.h"

#include <rapidcheck.h>
#include <rapidcheck/catch.h>
#include <algorithm>

#include <catch2/catch.hpp>

using namespace loopmend;
using loopmend::testing::after;
using loopmend::testing::printedBack;
using loopmend::testing::readings;
using loopmend::testing::told;

namespace {

const std::string kLace =
    "Cast on 31 sts.\nRow 1 (RS): k1, *yo, ssk, k1, k2tog, yo, k1; rep from * to end.\nRow 2: purl.\n"
    "Row 3: k1, *k1, yo, sk2p, yo, k2; rep from * to end.\nRow 4: purl.\n";

int sum(const std::vector<Step>& steps, int (*of)(const Step&)) {
    int n = 0;
    for (const Step& step : steps) n += of(step);
    return n;
}

std::vector<Step> anyRow() {
    std::vector<Step> row;
    const int units = *rc::gen::inRange(1, 8);
    for (int i = 0; i < units; ++i) {
        const auto add = [&](std::initializer_list<Op> ops) {
            for (const Op op : ops) {
                Step step;
                step.op = op;
                row.push_back(step);
            }
        };
        switch (*rc::gen::inRange(0, 5)) {
            case 0: add({Op::knit, Op::knit, Op::purl}); break;
            case 1: add({Op::yarnOver, Op::ssk}); break;
            case 2: add({Op::k2tog, Op::knit, Op::yarnOver}); break;
            case 3: add({Op::yarnOver, Op::knit, Op::sk2p, Op::knit, Op::yarnOver}); break;
            default: add({Op::knit, Op::purl, Op::knit, Op::knit}); break;
        }
    }
    return row;
}

}  // namespace

TEST_CASE("any part of a row keeps its count, and its middle is as it stood") {
    rc::prop("any part", [] {
        const std::vector<Step> row = anyRow();
        const int all = sum(row, uses);
        const int from = *rc::gen::inRange(-3, all + 1);
        const int to = *rc::gen::inRange(from, all + 4);
        const auto part = partOfRow(row, from, to);
        RC_ASSERT(part.has_value());
        RC_ASSERT(sum(*part, uses) == to - from);
        RC_ASSERT(sum(*part, makes) == to - from);
        if (from <= 0 && to >= all) {
            const auto begin = part->begin() + std::max(0, -from);
            RC_ASSERT(std::vector<Step>(begin, begin + static_cast<std::ptrdiff_t>(row.size())) == row);
        }
        // What is worked otherwise has lost its partner: nothing is worked that was not there.
        const auto shaped = [](const std::vector<Step>& steps) {
            return std::count_if(steps.begin(), steps.end(),
                                 [](const Step& s) { return uses(s) != makes(s); });
        };
        RC_ASSERT(shaped(*part) <= shaped(row));
    });
    std::vector<Step> grows(3);
    grows[1].op = Op::yarnOver;
    CHECK_FALSE(partOfRow(grows, 0, 2));
}

TEST_CASE("decreasing at both edges of lace: repeats stay over repeats") {
    const std::string text = kLace + "Cont in patt, dec 1 st at each end of every 4th row 3 times. (25 sts)";
    const Pattern pattern = parse(text);
    INFO(told(pattern.problems));
    REQUIRE(pattern.problems.empty());
    const CheckReport report = check(pattern);
    CHECK(report.ok);
    CHECK(after(report) == std::vector<std::int64_t>{31, 31, 31, 31, 29, 29, 29, 29, 27, 27, 27, 27, 25});
    const auto script = expand(pattern, 31, 13);
    REQUIRE(script);
    // Over a stitch shaped away at the right edge, row 7 has the double decreases of row 3 where they stood.
    const auto placesOf = [&](std::size_t row, int gone) {
        std::vector<int> places;
        int at = gone;
        for (const Step& step : script->rows[row].steps) {
            if (step.op == Op::sk2p) places.push_back(at);
            at += uses(step);
        }
        return places;
    };
    CHECK(placesOf(2, 0) == std::vector<int>{2, 8, 14, 20, 26});
    CHECK(placesOf(6, 1) == std::vector<int>{2, 8, 14, 20, 26});
    CHECK(placesOf(10, 2) == std::vector<int>{8, 14, 20});  // no room for the yarn-overs at the edges
    CHECK(readings(text).find("only where both have room") != std::string::npos);
}

TEST_CASE("armholes in lace: bound off, and worked even between them") {
    const std::string text =
        kLace + "Cont in patt, bind off 4 sts at beg of next 2 rows.\nWork 4 rows even in patt.";
    const Pattern pattern = parse(text);
    INFO(told(pattern.problems));
    REQUIRE(pattern.problems.empty());
    const CheckReport report = check(pattern);
    CHECK(report.ok);
    CHECK(after(report) == std::vector<std::int64_t>{31, 31, 31, 31, 27, 23, 23, 23, 23, 23});
}

TEST_CASE("stitches added at the edges of lace are worked plain") {
    const Pattern pattern =
        parse(kLace + "Cont in patt, inc 1 st at each end of next row. (33 sts)\nWork 3 rows in patt.");
    INFO(told(pattern.problems));
    REQUIRE(pattern.problems.empty());
    CHECK(after(check(pattern)) == std::vector<std::int64_t>{31, 31, 31, 31, 33, 33, 33, 33});
}

TEST_CASE("rows that turn before their end are no pattern between shaped edges") {
    const Pattern pattern = parse(
        "Cast on 20 sts.\nRow 1: yo, k2tog, k8, w&t.\nRow 2: p10.\nDec 1 st at each end of next 4 rows.");
    CHECK(pattern.problems.size() == 1);
}

TEST_CASE("a pattern whose own rows change the count cannot be cut at its edges") {
    const Pattern pattern = parse(
        "Cast on 12 sts.\nRow 1: *k1, yo, k1; rep from * to end.\nRow 2: *p1, p2tog; rep from * to end.\n"
        "Cont in patt, dec 1 st at each end of next row.");
    REQUIRE(pattern.problems.size() == 1);
    CHECK(pattern.problems[0].message.find("write these rows out") != std::string::npos);
}
