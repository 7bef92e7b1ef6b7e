// SPDX-License-Identifier: MIT
// The algebra of stitch counts, and what check() says of rows that do not come out.
#include "support.h"

#include <catch2/catch.hpp>

#include <rapidcheck.h>
#include <rapidcheck/catch.h>

#include <fmt/format.h>

#include <algorithm>

using namespace loopmend;
using loopmend::testing::after;
using loopmend::testing::told;

namespace {

Affine usesOf(const char* body) {
    return countsOf(parse(std::string("Row 1: ") + body).rows[0]).uses;
}
Affine makesOf(const char* body) {
    return countsOf(parse(std::string("Row 1: ") + body).rows[0]).makes;
}

std::optional<Multiple> multipleOf(const std::string& rows) {
    return countAll(parse(rows)).multiple;
}

bool says(const Problem& problem, const std::string& words) {
    return problem.message.find(words) != std::string::npos;
}

bool suggests(const Problem& problem, const std::string& words) {
    return std::any_of(
        problem.suggestions.begin(), problem.suggestions.end(),
        [&](const std::string& suggestion) { return suggestion.find(words) != std::string::npos; });
}

}  // namespace

TEST_CASE("a row uses a + b n and makes c + d n") {
    CHECK(usesOf("k1, *yo, k2tog, k3; rep from * to last 2 sts, k2") == Affine{3, 5});
    CHECK(makesOf("k1, *yo, k2tog, k3; rep from * to last 2 sts, k2") == Affine{3, 5});
    CHECK(usesOf("k2, (yo, k1) 5 times, bind off 3") == Affine{10, 0});
    CHECK(makesOf("k2, (yo, k1) 5 times, bind off 3") == Affine{12, 0});
    CHECK(usesOf("k to last 3 sts, k3tog") == Affine{3, 1});
    CHECK(makesOf("k to last 3 sts, k3tog") == Affine{1, 1});
    // a second star works a fixed number of stitches: those the first one left
    CHECK(usesOf("*k2tog; rep from * to last 6 sts, *kfb, k1; rep from * to end") == Affine{6, 2});
    CHECK(makesOf("*k2tog; rep from * to last 6 sts, *kfb, k1; rep from * to end") == Affine{9, 1});
    const RowCounts bad = countsOf(parse("Row 1: *k2; rep from * to last 3 sts, k2.").rows[0]);
    CHECK(bad.contradiction == 1);
    CHECK(countsOf(parse("Row 1: *k2; rep from * to end, k2.").rows[0]).contradiction == -2);
}

TEST_CASE("the multiple follows from the rows together") {
    const auto is = [](const std::string& rows, std::int64_t of, std::int64_t plus, std::int64_t least) {
        const std::optional<Multiple> multiple = multipleOf(rows);
        INFO(rows);
        REQUIRE(multiple);
        CHECK(multiple->of == of);
        CHECK(multiple->plus == plus);
        CHECK(multiple->least == least);
    };
    is("Row 1: k.", 1, 0, 1);
    is("Row 1: *k2, p2; rep from * to end.", 4, 0, 4);
    is("Row 1: *k2, p2; rep from * to last 2 sts, k2.", 4, 2, 6);
    is("Row 1: k10.", 0, 10, 10);
    // 4n + 1 and 6m + 3: 9, 21, 33 ...
    is("Row 1: *k4; rep from * to last st, k1.\nRow 2: *p6; rep from * to last 3 sts, p3.", 12, 9, 9);
    // halved, then in threes: a multiple of six
    is("Row 1: *k2tog; rep from * to end.\nRow 2: *p3; rep from * to end.", 6, 0, 6);
    // the third row allows only 14 of the even counts
    is("Row 1: *k2tog; rep from * to end.\nRow 2: p.\nRow 3: k7.", 0, 14, 14);
    CHECK_FALSE(multipleOf("Row 1: *k2; rep from * to end.\nRow 2: *p4; rep from * to last st, p1."));
    CHECK_FALSE(multipleOf("Row 1: k10.\nRow 2: p11."));
    const PatternCounts conflict =
        countAll(parse("Row 1: *k4; rep from * to end.\nRow 2: p.\nRow 3: *k2; rep from * to last st, k1."));
    CHECK(conflict.conflict == std::size_t{2});
}

TEST_CASE("the algebra agrees with working the rows at every stitch count") {
    // The inferred set of counts against a walk through the rows in plain arithmetic, from 1 to 200 stitches.
    rc::prop("multiples", [] {
        const int rows = *rc::gen::inRange(1, 5);
        std::string text;
        for (int i = 1; i <= rows; ++i) {
            const int pre = *rc::gen::inRange(0, 4);
            const int post = *rc::gen::inRange(0, 4);
            const int k = *rc::gen::inRange(1, 5);
            const bool decrease = *rc::gen::weightedElement<bool>({{2, false}, {1, true}});
            const bool yo = *rc::gen::weightedElement<bool>({{2, false}, {1, true}});
            text += fmt::format("Row {}: {}*k{}{}{}; rep from * {}{}.\n", i,
                                pre > 0 ? fmt::format("k{}, ", pre) : "", k, decrease ? ", k2tog" : "",
                                yo ? ", yo" : "", post > 0 ? fmt::format("to last {} sts", post) : "to end",
                                post > 0 ? fmt::format(", p{}", post) : "");
        }
        const Pattern pattern = parse(text);
        RC_ASSERT(pattern.problems.empty());
        const PatternCounts counts = countAll(pattern);
        for (std::int64_t cast = 1; cast <= 200; ++cast) {
            std::int64_t n = cast;
            bool works = true;
            for (const RowCounts& row : counts.rows) {
                const std::int64_t spare = n - row.uses.base;
                works = spare >= row.uses.perRepeat && spare % row.uses.perRepeat == 0;
                if (!works) break;
                n = row.makes.at(spare / row.uses.perRepeat);
            }
            const bool inferred =
                counts.multiple && cast >= counts.multiple->least &&
                (cast - counts.multiple->least) % std::max<std::int64_t>(counts.multiple->of, 1) == 0;
            if (works != inferred) RC_LOG() << text << "cast on " << cast;
            RC_ASSERT(works == inferred);
            RC_ASSERT(check(pattern, static_cast<int>(cast), Advice::none).ok == works);
        }
    });
}

TEST_CASE("a row that does not fit says by how much and what would") {
    const CheckReport report =
        check(parse("Cast on 60 sts.\n"
                    "Row 1: *k1, p1; rep from * to end.\n"
                    "Row 2: k3, *yo, k2tog, k6; rep from * to end.\n"
                    "Row 3: p.\n"));
    INFO(told(report.problems));
    REQUIRE(report.problems.size() == 1);
    const Problem& problem = report.problems[0];
    CHECK(problem.row == 2);
    CHECK(problem.line == 3);
    CHECK(problem.column == 12);
    CHECK(problem.misses == 1);
    CHECK(says(problem, "there are 60 stitches and it uses 59 or 67 stitches; 1 stitch left over"));
    CHECK(suggests(problem, "Row 2: “k4” instead of “k3”"));
    CHECK(report.rows[1].fits == false);
    CHECK(report.rows[2].stitchesAfter == 59);  // and the next row is not blamed for it
    CHECK_FALSE(report.ok);
}

TEST_CASE("a slip two rows earlier is found, plain rows hide it") {
    // Row 1 lost a yarn-over; row 3 is the first that cannot be worked.
    const CheckReport report =
        check(parse("Multiple of 6 plus 3. Cast on 27 sts.\n"
                    "Row 1: k2, *k1, ssk, k1, k2tog, yo; rep from * to last st, k1.\n"
                    "Row 2 and every even row: p.\n"
                    "Row 3: k2, *yo, k1, sk2p, k1, yo, k1; rep from * to last st, k1.\n"
                    "Row 5: k2, *k1, yo, sk2p, yo, k2; rep from * to last st, k1.\n"));
    INFO(told(report.problems));
    REQUIRE_FALSE(report.problems.empty());
    CHECK(report.problems[0].row == 3);
    CHECK(suggests(report.problems[0], "Row 1: "));
    CHECK(suggests(report.problems[0], "yo, ssk"));
}

TEST_CASE("a row of fixed length breaks where its stitches run out") {
    const CheckReport report = check(parse("Cast on 8 sts.\nRow 1: k3, k2tog, p4, k2.\n"));
    REQUIRE(report.problems.size() == 1);
    CHECK(report.problems[0].column == 19);
    CHECK(report.problems[0].words == "p4");
    const CheckReport bare = check(parse("Cast on 8 sts.\nRow 1: sl1, purl.\n"));
    REQUIRE(bare.problems.size() == 1);
    CHECK(bare.problems[0].suggestions[0] == "Row 1: “p to end” instead of “p1”");
}

TEST_CASE("a wrong cast-on is told from a wrong row") {
    const CheckReport report = check(parse("Row 1: *k2, p2; rep from * to last 2 sts, k2."), 60);
    REQUIRE(report.problems.size() == 1);
    CHECK(report.problems[0].misses == 2);
    CHECK(report.problems[0].suggestions[0] == "cast on 58 stitches");
    CHECK(report.problems[0].suggestions[1] == "cast on 62 stitches");
    CHECK(check(parse("Row 1: *k2, p2; rep from * to last 2 sts, k2."), 1).problems[0].misses == -5);
}

TEST_CASE("the first row that cannot be worked, and those after it") {
    const CheckReport report =
        check(parse("Cast on 20 sts.\n"
                    "Row 1: k20.\n"
                    "Row 2: p21.\n"
                    "Row 3: k2tog, k19.\n"
                    "Row 4: p18.\n"));
    INFO(told(report.problems));
    REQUIRE(report.problems.size() == 2);
    CHECK(report.problems[0].row == 2);
    CHECK(report.problems[0].misses == -1);
    CHECK(report.problems[1].row == 4);
    CHECK(report.problems[1].misses == 2);
}

TEST_CASE("rows with unknown words do not hide the rows behind them") {
    const CheckReport report = check(
        parse("Cast on 20 sts.\nRow 1: k20.\nRow 2: k3, blip, k16. (18 sts)\nRow 3: p18.\nRow 4: k20.\n"));
    INFO(told(report.problems));
    REQUIRE(report.problems.size() == 2);
    CHECK(report.problems[0].row == 2);
    CHECK(report.problems[0].words == "blip");
    CHECK(report.problems[1].row == 4);
    CHECK_FALSE(report.multiple);
}

TEST_CASE("printed counts are compared with what the words come to") {
    const CheckReport report =
        check(parse("Cast on 20 sts.\n"
                    "Row 1: k9, k2tog, k9. (19 sts)\n"
                    "Row 2: p. (20 sts)\n"
                    "Row 3: k19. (19 sts)\n"));
    INFO(told(report.problems));
    REQUIRE(report.problems.size() == 1);
    CHECK(report.problems[0].row == 2);
    CHECK(report.problems[0].words == "(20 sts)");
    CHECK(says(report.problems[0], "leaves 19 stitches, but 20 are printed"));
    CHECK(suggests(report.problems[0], "(19 sts)"));
    // Where the next row agrees with the printed count, the words are wrong, and only once.
    const CheckReport words = check(parse("Cast on 20 sts.\nRow 1: k9, k2tog, k9. (20 sts)\nRow 2: p20.\n"));
    REQUIRE(words.problems.size() == 1);
    CHECK(words.problems[0].row == 1);
    // Other stitch counts than the printed ones are not compared.
    CHECK(check(parse("Multiple of 2.\nRow 1: k. (20 sts)"), 30).ok);
}

TEST_CASE("the pattern's own stitch count") {
    CHECK(check(parse("Cast on 33 sts.\nRow 1: k.")).castOn == 33);
    CHECK(check(parse("Row 1: *k2tog; rep from * to end. (12 sts)")).castOn == 24);
    CHECK(check(parse("Multiple of 6 plus 1.\nRow 1: *k6; rep from * to last st, k1.")).castOn == 13);
    CHECK(check(parse("Row 1: *k6; rep from * to last st, k1.")).castOn == 13);
    CHECK(check(parse("Row 1: k14.")).castOn == 14);
    CHECK(check(parse("Cast on 33 sts.\nRow 1: k."), 5).castOn == 5);
}

TEST_CASE("the printed multiple is compared with the one that follows") {
    const std::string rows = "Row 1: *k5, p1; rep from * to last st, k1.\nRow 2: p.\n";
    CHECK(check(parse("Multiple of 6 plus 1.\n" + rows)).ok);
    CHECK(check(parse("Multiple of 12 plus 1.\n" + rows)).ok);  // a coarser one fits too
    CHECK(check(parse("Multiple of 6 plus 7.\n" + rows)).ok);
    const CheckReport wrong = check(parse("Multiple of 6 plus 2. Cast on 13.\n" + rows));
    REQUIRE(wrong.problems.size() == 1);
    CHECK(wrong.problems[0].line == 1);
    CHECK(wrong.problems[0].words == "Multiple of 6 plus 2");
    CHECK(wrong.problems[0].suggestions == std::vector<std::string>{"Multiple of 6 plus 1"});
    CHECK_FALSE(check(parse("Multiple of 3 plus 1. Cast on 13.\n" + rows)).ok);
}

TEST_CASE("rows that are repeated must be workable on what they leave") {
    const std::string rows = "Row 1: *k2tog, yo; rep from * to end.\nRow 2: p.\n";
    CHECK(check(parse(rows + "Repeat rows 1-2."), 8).closes);
    CHECK(check(parse(rows + "Repeat rows 1-2."), 8).ok);
    const std::string grows = "Row 1: *k2, kfb; rep from * to end.\nRow 2: p.\n";
    CHECK(check(parse(grows), 9).ok);
    CHECK_FALSE(check(parse(grows), 9).closes);
    CHECK(check(parse(grows + "Repeat rows 1-2."), 9).ok);  // 12 can be worked
    const CheckReport stuck = check(parse(grows + "Repeat rows 1-2."), 12);
    REQUIRE(stuck.problems.size() == 1);
    CHECK(stuck.problems[0].line == 3);
    CHECK(says(stuck.problems[0], "Row 1 cannot be worked a second time"));
    const CheckReport counted = check(parse(grows + "Repeat rows 1-2 3 times."), 12);
    REQUIRE(counted.problems.size() == 1);
    CHECK(says(counted.problems[0], "Row 1, worked again as row 3,"));
    CHECK(counted.rows.size() == 6);
}

TEST_CASE("no rows, no stitches, nothing at all") {
    CHECK_FALSE(check(parse("")).ok);
    CHECK_FALSE(check(parse("Harbour Lane")).ok);
    CHECK_FALSE(check(parse("Row 1: k."), 0).ok);
    CHECK_FALSE(check(parse("Row 1: k."), -3).ok);
    CHECK(check(Pattern{}).problems.size() == 1);
}

TEST_CASE("a pattern of 500 rows is counted whole, and a bad digit in row 250 is found") {
    std::string text = "Multiple of 8 plus 3. Cast on 99 sts.\n";
    for (int i = 1; i <= 500; ++i)
        text += i % 2 == 0
                    ? fmt::format("Row {}: p.\n", i)
                    : fmt::format("Row {}: k1, *yo, ssk, k{}, k2tog, yo, k1; rep from * to last 2 sts, k2.\n",
                                  i, i == 249 ? 4 : 3);
    const CheckReport report = check(parse(text));
    REQUIRE(report.problems.size() == 1);
    CHECK(report.problems[0].row == 249);
    CHECK(report.problems[0].line == 250);
    CHECK(report.problems[0].suggestions[0] == "Row 249: “k3” instead of “k4”");
    CHECK(report.rows.size() == 500);
}
