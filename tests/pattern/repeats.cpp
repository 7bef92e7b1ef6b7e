// SPDX-License-Identifier: MIT
// Repeats within a row, and the traps that books set with them (common practice).
#include "support.h"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace loopmend;
using loopmend::testing::after;
using loopmend::testing::normal;
using loopmend::testing::problemsOf;
using loopmend::testing::readsAll;
using loopmend::testing::told;

TEST_CASE("stars to the end or to the last stitches") {
    readsAll({{"*k2, p2; rep from * to end", "*k2, p2; rep from * to end"},
              {"*K2, P2; repeat from * to end of row.", "*k2, p2; rep from * to end"},
              {"*k2, p2, rep from * across", "*k2, p2; rep from * to end"},
              {"*k2, p2; rep from * around", "*k2, p2; rep from * to end"},
              {"*k2, p2; rep from *", "*k2, p2; rep from * to end"},
              {"*k2, p2*", "*k2, p2; rep from * to end"},
              {"*k2, p2*, rep from * to * to end", "*k2, p2; rep from * to end"},
              {"*k2, p2; rep from * to last 3 sts, k3", "*k2, p2; rep from * to last 3 sts, k3"},
              {"*k2, p2* to last 3 sts, k3", "*k2, p2; rep from * to last 3 sts, k3"},
              {"k1, *k2, p2; rep from * to the last stitch, k1", "k1, *k2, p2; rep from * to last st, k1"},
              {"*k2, p2; rep from * until 2 sts remain, k2", "*k2, p2; rep from * to last 2 sts, k2"},
              {"*k2, p2; rep from * to within 2 sts of end, k2", "*k2, p2; rep from * to last 2 sts, k2"},
              {"*k2, p2; rep from *, end k2", "*k2, p2; rep from * to last 2 sts, k2"},
              {"*k2, p2; rep from *, ending with k1, p1", "*k2, p2; rep from * to last 2 sts, k1, p1"},
              {"(k2, p2) to end", "*k2, p2; rep from * to end"},
              {"[k2, p2] to last 2 sts, k2", "*k2, p2; rep from * to last 2 sts, k2"},
              {"(k2, p2); rep to end", "*k2, p2; rep from * to end"},
              {"k1, p1, rep to end", "*k1, p1; rep from * to end"}});
}

TEST_CASE("runs of one stitch") {
    readsAll({{"k", "k to end"},
              {"Knit.", "k to end"},
              {"Purl", "p to end"},
              {"knit to end", "k to end"},
              {"k across", "k to end"},
              {"knit all sts", "k to end"},
              {"purl every stitch", "p to end"},
              {"knit the row", "k to end"},
              {"k to last 3 sts, k2tog, k1", "k to last 3 sts, k2tog, k1"},
              {"k2, k to last 2 sts, p2", "k2, k to last 2 sts, p2"},
              {"k1, p to last st, k1", "k1, p to last st, k1"},
              {"k2tog to end", "k2tog to end"},
              {"k tbl to end", "k tbl to end"},
              {"k, p, k", "k1, p1, k1"},
              {"k3, purl remaining sts", "k3, p to end"}});
}

TEST_CASE("brackets, one in another, worked so many times") {
    readsAll({{"(k2tog, yo) 3 times", "(k2tog, yo) 3 times"},
              {"[k2tog, yo] x 3", "(k2tog, yo) 3 times"},
              {"[k2tog, yo] x3", "(k2tog, yo) 3 times"},
              {"[k2tog, yo] twice", "(k2tog, yo) 2 times"},
              {"(k2tog, yo) three times", "(k2tog, yo) 3 times"},
              {"(k2tog, yo), 3 times, k1", "(k2tog, yo) 3 times, k1"},
              {"(k1, (yo, k2tog) twice, k1) 3 times", "(k1, (yo, k2tog) 2 times, k1) 3 times"},
              {"*[k1, p1] twice, k2; rep from * to last 4 sts, k4",
               "*(k1, p1) 2 times, k2; rep from * to last 4 sts, k4"},
              {"k2tog 3 times", "(k2tog) 3 times"},
              {"k2tog twice", "(k2tog) 2 times"},
              {"yo, k2tog twice", "yo, (k2tog) 2 times"},
              {"k2, (yo, k2tog), k1", "k2, yo, k2tog, k1"},
              {"**k2, *p1, k1; rep from * 2 more times; rep from ** to end",
               "*k2, (p1, k1) 3 times; rep from * to end"}});
}

TEST_CASE("4 times is four in all, 4 more times is five") {
    // the trap of old and new books: "repeat this four times"
    readsAll({{"*k1, p1* 4 times", "(k1, p1) 4 times"},
              {"*k1, p1; rep from * 4 times", "(k1, p1) 4 times"},
              {"*k1, p1; rep from * 4 more times", "(k1, p1) 5 times"},
              {"*k1, p1; rep from * 4 times more", "(k1, p1) 5 times"},
              {"*k1, p1; rep from * 4 times in all", "(k1, p1) 4 times"},
              {"*k1, p1; rep from * once more", "(k1, p1) 2 times"},
              {"*k1, p1; rep from * once", "(k1, p1) 2 times"},
              {"(k1, p1) 4 times", "(k1, p1) 4 times"},
              {"(k1, p1), rep 3 more times", "(k1, p1) 4 times"}});
}

TEST_CASE("the last n stitches are counted before they are worked") {
    // k2tog, k1 takes the last three; the two that it leaves are not what "last" counts
    const CheckReport right = check(parse("Cast on 10 sts.\nRow 1: k to last 3 sts, k2tog, k1.\n"));
    CHECK(right.ok);
    CHECK(after(right) == std::vector<std::int64_t>{9});
    const CheckReport wrong = check(parse("Cast on 10 sts.\nRow 1: k to last 2 sts, k2tog, k1.\n"));
    REQUIRE(wrong.problems.size() == 1);
    CHECK(wrong.problems[0].misses == -1);
    REQUIRE_FALSE(wrong.problems[0].suggestions.empty());
    const std::vector<std::string>& tried = wrong.problems[0].suggestions;
    CHECK(std::find(tried.begin(), tried.end(), "Row 1: “k to last 3 sts” instead of “k to last 2 sts”") !=
          tried.end());
    CHECK(after(wrong) == std::vector<std::int64_t>{9});
}

TEST_CASE("follow the stitches, markers") {
    readsAll({{"knit the knits and purl the purls", "knit the knits and purl the purls to end"},
              {"knit the purl sts and purl the knit sts", "knit the purls and purl the knits to end"},
              {"work sts as they appear", "knit the knits and purl the purls to end"},
              {"k2, pm, k3, sm, k2", "k2, pm, k3, sm, k2"},
              {"k2, place marker, k to end", "k2, pm, k to end"}});
}

TEST_CASE("repeats that cannot be followed are named") {
    const auto one = [](const char* words) {
        const std::vector<Problem> problems = problemsOf(words);
        INFO(words << "\n" << told(problems));
        CHECK(problems.size() == 1);
        for (const Problem& problem : problems) {
            CHECK(problem.line == 1);
            CHECK(problem.column > 7);
            CHECK_FALSE(problem.words.empty());
            CHECK_FALSE(problem.message.empty());
        }
        return problems.empty() ? Problem{} : problems[0];
    };
    CHECK(one("*k2, p2").suggestions[0] == "; rep from * to end");
    CHECK(one("k2, p2; rep from * to end").suggestions[0] == "put * where the repeat begins");
    one("(k2, p2");
    one("k2, p2) twice, k1");
    one("(k2, p2] twice");
    one("*yo; rep from * to end");
    one("*k to end; rep from * to end");
    one("*k2, (p1, k1) to last 2 sts, p1; rep from * 2 times");
    one("k2, p2, 3 times");
    one("k to marker, p2");
    one("*k2, p2*, k4");
    one("*k5, p1; rep from *, ending last rep blip");
    one("()");
    one("k2, 5, p2");
    one("k99999, p2");
    one("(k1, p2, k1) in next st");
}
