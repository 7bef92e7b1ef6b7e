// SPDX-License-Identifier: MIT
// The words for single stitches, as books and leaflets print them (common practice), and what each is read
// as.
#include "support.h"

#include <catch2/catch.hpp>

#include <set>

using namespace loopmend;
using loopmend::testing::normal;
using loopmend::testing::problemsOf;
using loopmend::testing::readsAll;
using loopmend::testing::told;

namespace {

Step only(std::string_view words, const ParseOptions& options = {}) {
    const Pattern pattern = parse(std::string("Row 1: ") + std::string(words), options);
    INFO(words << "\n" << told(pattern.problems));
    REQUIRE(pattern.problems.empty());
    REQUIRE(pattern.rows.size() == 1);
    REQUIRE(pattern.rows[0].items.size() == 1);
    return pattern.rows[0].items[0].step;
}

}  // namespace

TEST_CASE("every operation uses and makes what hands do") {
    // craft facts, common practice: loops from the left needle, loops on the right needle
    const auto counts = [](Op op, int count = 1) {
        Step step;
        step.op = op;
        step.count = static_cast<std::int16_t>(count);
        return std::pair(uses(step), makes(step));
    };
    for (const Op op :
         {Op::knit, Op::purl, Op::knitTbl, Op::purlTbl, Op::slipPurlwiseBack, Op::slipPurlwiseFront,
          Op::slipKnitwiseBack, Op::slipKnitwiseFront, Op::knitBelow, Op::purlBelow})
        CHECK(counts(op) == std::pair(1, 1));
    for (const Op op : {Op::k2tog, Op::ssk, Op::skp, Op::k2togTbl, Op::p2tog, Op::p2togTbl, Op::ssp, Op::spp})
        CHECK(counts(op) == std::pair(2, 1));
    for (const Op op :
         {Op::k3tog, Op::k3togTbl, Op::sssk, Op::p3tog, Op::p3togTbl, Op::sk2p, Op::sp2p, Op::s2kp, Op::s2pp})
        CHECK(counts(op) == std::pair(3, 1));
    for (const Op op : {Op::m1Left, Op::m1Right, Op::m1PurlLeft, Op::m1PurlRight, Op::m1Open})
        CHECK(counts(op) == std::pair(0, 1));
    CHECK(counts(Op::slip1k2Over) == std::pair(3, 2));
    CHECK(counts(Op::k2togOver) == std::pair(2, 0));
    CHECK(counts(Op::kfb) == std::pair(1, 2));
    CHECK(counts(Op::kfb, 3) == std::pair(1, 3));
    CHECK(counts(Op::kpk) == std::pair(1, 3));
    CHECK(counts(Op::kpk, 5) == std::pair(1, 5));
    CHECK(counts(Op::kyok) == std::pair(1, 3));
    CHECK(counts(Op::pfb) == std::pair(1, 2));
    CHECK(counts(Op::pkp) == std::pair(1, 3));
    CHECK(counts(Op::pyop, 5) == std::pair(1, 5));
    CHECK(counts(Op::yarnOver, 2) == std::pair(0, 2));
    CHECK(counts(Op::castOn, 7) == std::pair(0, 7));
    CHECK(counts(Op::bindOff, 7) == std::pair(7, 0));
    CHECK(counts(Op::hold, 4) == std::pair(4, 0));
    CHECK(counts(Op::passOver) == std::pair(0, -1));
    Step cable;
    cable.op = Op::cable;
    cable.over = 2;
    cable.under = 1;
    CHECK(uses(cable) == 3);
    CHECK(makes(cable) == 3);
}

TEST_CASE("every operation has a name and a long name of its own") {
    std::set<std::string_view> names;
    std::set<std::string_view> longNames;
    for (int i = 0; i < kOpCount; ++i) {
        names.insert(name(static_cast<Op>(i)));
        longNames.insert(longName(static_cast<Op>(i), Terms::us));
    }
    CHECK(names.size() == static_cast<std::size_t>(kOpCount));
    CHECK(longNames.size() == static_cast<std::size_t>(kOpCount));
    CHECK(longName(Op::bindOff, Terms::uk) == "cast off");
    CHECK(word(Word::stockinette, Terms::uk) == "stocking stitch");
}

TEST_CASE("knit and purl in all their spellings") {
    readsAll({{"k5", "k5"},
              {"K5", "k5"},
              {"k 5", "k5"},
              {"knit 5", "k5"},
              {"Knit five", "k5"},
              {"knit 5 sts", "k5"},
              {"knit the next 5 stitches", "k5"},
              {"plain 3", "k3"},
              {"p1", "p1"},
              {"purl one", "p1"},
              {"pearl 2", "p2"},
              {"seam 1", "p1"},
              {"k2, p2", "k2, p2"},
              {"k2 p2", "k2, p2"},
              {"k2; p2.", "k2, p2"},
              {"knit 2 and purl 2", "k2, p2"},
              {"k1 tbl", "k1 tbl"},
              {"k3tbl", "k3 tbl"},
              {"k 1 through back loop", "k1 tbl"},
              {"knit 1 through the back loop", "k1 tbl"},
              {"knit 1 from behind", "k1 tbl"},
              {"p1 tbl", "p1 tbl"},
              {"k1 below", "k1 below"},
              {"knit 1 in the row below", "k1 below"}});
}

TEST_CASE("decreases in all their spellings") {
    readsAll({{"k2tog", "k2tog"},
              {"K2 tog", "k2tog"},
              {"k 2 tog", "k2tog"},
              {"knit 2 together", "k2tog"},
              {"knit two together", "k2tog"},
              {"knit next 2 stitches together", "k2tog"},
              {"narrow", "k2tog"},
              {"k2tog tbl", "k2tog tbl"},
              {"k2togtbl", "k2tog tbl"},
              {"k2 tog through back loops", "k2tog tbl"},
              {"knit 2 together from behind", "k2tog tbl"},
              {"p2tog", "p2tog"},
              {"p 2 tog tbl", "p2tog tbl"},
              {"k3tog", "k3tog"},
              {"p3tog", "p3tog"},
              {"k3tog tbl", "k3tog tbl"},
              {"ssk", "ssk"},
              {"slip, slip, knit", "ssk"},
              {"sssk", "sssk"},
              {"ssp", "ssp"},
              {"skp", "skp"},
              {"skpo", "skp"},
              {"sl1, k1, psso", "skp"},
              {"sl 1, k1, psso", "skp"},
              {"sl1 k1 psso", "skp"},
              {"slip 1, knit 1, pass slipped stitch over", "skp"},
              {"Slip 1, knit 1, pass the slipped stitch over", "skp"},
              {"slip one, knit one, draw the slipped stitch over", "skp"},
              {"sl 1 knitwise, k1, psso", "skp"},
              {"slip and bind", "skp"},
              {"sl1, p1, psso", "spp"},
              {"sk2p", "sk2p"},
              {"sk2po", "sk2p"},
              {"sl1, k2tog, psso", "sk2p"},
              {"slip 1, knit 2 together, pass slipped stitch over", "sk2p"},
              {"slip, narrow and bind", "sk2p"},
              {"sl1, p2tog, psso", "sp2p"},
              {"s2kp", "s2kp"},
              {"s2k1p", "s2kp"},
              {"cdd", "s2kp"},
              {"sl 2 tog knitwise, k1, p2sso", "s2kp"},
              {"slip 2 together knitwise, knit 1, pass both slipped stitches over", "s2kp"},
              {"centred double decrease", "s2kp"},
              {"s2pp", "s2pp"},
              {"sl1, k2, psso", "s1k2po"},
              {"slip 1, knit 2, pass the slipped stitch over both", "s1k2po"},
              {"k2tog, pass the stitch before it over", "k2togpo"},
              {"pass 2nd st over 1st", "pass 2nd st over 1st"},
              {"pass the second stitch over the first", "pass 2nd st over 1st"}});
}

TEST_CASE("slips say which way and where the yarn is") {
    readsAll({{"sl1", "sl1"},
              {"slip 2", "sl2"},
              {"slip 1 purlwise", "sl1"},
              {"sl1 wyif", "sl1 wyif"},
              {"sl 1 wyib", "sl1 wyib"},
              {"sl 1 purlwise with yarn in front", "sl1 wyif"},
              {"sl1k", "sl1 kwise"},
              {"sl 1 knitwise", "sl1 kwise"},
              {"sl 1 kwise wyif", "sl1 kwise wyif"},
              {"slip 1 as if to knit", "sl1 kwise"},
              {"sl1, k1", "sl1, k1"},
              {"sl1, k1, p1", "sl1, k1, p1"}});
    CHECK(only("sl1 wyif").op == Op::slipPurlwiseFront);
    CHECK(only("sl1 knitwise wyib").op == Op::slipKnitwiseBack);
}

TEST_CASE("yarn-overs, and yarn that only moves") {
    readsAll({{"yo", "yo"},
              {"yarn over", "yo"},
              {"yrn", "yo"},
              {"yon", "yo"},
              {"yfrn", "yo"},
              {"k1, yfwd, k1", "k1, yo, k1"},
              {"k1, yarn forward, k1", "k1, yo, k1"},
              {"k1, wool forward, k1", "k1, yo, k1"},
              {"bring the wool forward, k2tog", "yo, k2tog"},
              {"widen, narrow", "yo, k2tog"},
              {"over, narrow", "yo, k2tog"},
              // before a purl or a slip bringing the wool forward only moves it (old books' own rule)
              {"k1, bring the wool forward, p1", "k1, p1"},
              {"yf, sl1, k1", "sl1 wyif, k1"},
              {"yf, sl1, yb, k1", "sl1 wyif, k1"},
              {"k1, yfwd, p2tog", "k1, p2tog"},
              // but a slip that begins a decrease has a yarn-over before it
              {"yfwd, sl 1, k1, psso", "yo, skp"},
              {"yfwd, sl 1, k2tog, psso, yfwd, k1", "yo, sk2p, yo, k1"},
              {"yo twice", "yo twice"},
              {"yo 2 times", "yo twice"},
              {"(yo) twice", "yo twice"},
              {"double yo", "yo twice"},
              {"yo2", "yo twice"},
              {"yo 3 times", "yo 3 times"},
              {"reverse yo", "reverse yo"}});
    CHECK(only("yo twice").count == 2);
}

TEST_CASE("increases, and the book's own key for make-one") {
    readsAll({{"m1", "m1l"},
              {"make 1", "m1l"},
              {"make one", "m1l"},
              {"m1l", "m1l"},
              {"m1 left", "m1l"},
              {"m1r", "m1r"},
              {"make 1 right", "m1r"},
              {"m1p", "m1lp"},
              {"m1 purlwise", "m1lp"},
              {"m1rp", "m1rp"},
              {"m1 open", "m1 open"},
              {"m1, p1", "m1l, p1"},
              {"m1 p1", "m1l, p1"},
              {"kfb", "kfb"},
              {"k1f&b", "kfb"},
              {"inc 1", "kfb"},
              {"knit into front and back of next st", "kfb"},
              {"k1 into front and back of next st", "kfb"},
              {"(k1, k1 tbl) in next st", "kfb"},
              {"pfb", "pfb"},
              {"p1f&b", "pfb"},
              {"kfbf", "kfbf"},
              {"k f&b&f", "kfbf"},
              {"k1 in front, back and front of next st", "kfbf"},
              {"(k1, k1 tbl, k1) in next st", "kfbf"},
              {"pfbfb", "pfbfb"},
              {"p1fbf", "pfbf"},
              {"purl into front and back of next st", "pfb"},
              {"(p1, p1 tbl) in next st", "pfb"},
              {"(p1, k1, p1) in next st", "pkp"},
              {"(p1, yo, p1) in next st", "pyop"},
              {"(p1, k1, p1, k1) in next st", "(p1, k1, p1, k1) in next st"},
              {"(p1, yo, p1, yo, p1) in next st", "(p1, yo, p1, yo, p1) in next st"},
              {"kpk", "kpk"},
              {"(k1, p1, k1) in next st", "kpk"},
              {"(k1, p1, k1) into the next stitch", "kpk"},
              {"[k1, yo, k1] in next st", "kyok"},
              {"(k1, p1, k1, p1, k1) in next st", "(k1, p1, k1, p1, k1) in next st"},
              {"(k1, p1) in next st", "(k1, p1) in next st"}});
    ParseOptions old;
    old.m1IsYarnOver = true;
    CHECK(normal("make 1, k2tog", old) == "yo, k2tog");
    CHECK(normal("make 2, k2tog", old) == "yo twice, k2tog");
    CHECK(normal("m1l, k2tog", old) == "m1l, k2tog");
}

TEST_CASE("k1b is asked about unless the key says what it is") {
    const std::vector<Problem> problems = problemsOf("k1b, p1");
    REQUIRE(problems.size() == 1);
    CHECK(problems[0].suggestions == std::vector<std::string>{"k1 tbl", "k1 below"});
    ParseOptions key;
    key.k1bIsBelow = true;
    CHECK(normal("k1b, p1", key) == "k1 below, p1");
    key.k1bIsBelow = false;
    CHECK(normal("k1b, p1", key) == "k1 tbl, p1");
    const Pattern defined = parse("k1b = k1 below\nRow 1: k1b, p1.");
    REQUIRE(defined.problems.empty());
    CHECK(printBody(defined.rows[0]) == "k1 below, p1");
}

TEST_CASE("cables: right = held behind, left = held in front") {
    // common practice; the one that stays in front is named
    const Step right = only("2/2 RC");
    CHECK(right.op == Op::cable);
    CHECK_FALSE(right.front);
    const Step left = only("2/1 LPC");
    CHECK(left.front);
    CHECK(left.over == 2);
    CHECK(left.under == 1);
    CHECK(left.purlUnder);
    CHECK_FALSE(left.purlOver);
    const Step rightPurl = only("2/1 RPC");
    CHECK(rightPurl.over == 1);  // one purl stitch is held behind, two knits cross in front of it
    CHECK(rightPurl.under == 2);
    CHECK(rightPurl.purlOver);
    readsAll(
        {{"c6f", "3/3 LC"},
         {"C6B", "3/3 RC"},
         {"c4b", "2/2 RC"},
         {"2/2 LC", "2/2 LC"},
         {"sl next 3 sts to cn and hold in front, k3, k3 from cn", "3/3 LC"},
         {"slip 2 sts onto cable needle and hold at back of work, k2, then k2 from cable needle", "2/2 RC"},
         {"sl 1 to cn and hold in back, k2, p1 from cn", "2/1 RPC"}});
    CHECK(problemsOf("c5f").size() == 1);
}

TEST_CASE("edges and holders within a row") {
    readsAll({{"bind off 3, k10", "bind off 3, k10"},
              {"cast off 3 sts, k10", "bind off 3, k10"},
              {"BO 3, k10", "bind off 3, k10"},
              {"bind off 3 sts purlwise, p10", "bind off 3 purlwise, p10"},
              {"k10, cast on 4", "k10, cast on 4"},
              {"bind off all sts", "bind off to end"},
              {"bind off", "bind off to end"},
              {"k5, slip 3 sts onto a holder, k5", "k5, hold 3, k5"},
              {"hold 3, k5", "hold 3, k5"},
              {"place next 3 sts on a holder, k5", "hold 3, k5"}});
    CHECK(printItem(parse("Row 1: bind off 3, k10.").rows[0].items[0], Terms::uk) == "cast off 3");
}

TEST_CASE("a word of the book's own stands for a stitch") {
    const Pattern pattern = parse("T2 = k2tog\nC4R means 2/2 RC\nRow 1: T2, c4r, k1.\n");
    INFO(told(pattern.problems));
    REQUIRE(pattern.problems.empty());
    CHECK(printBody(pattern.rows[0]) == "k2tog, 2/2 RC, k1");
    CHECK(parse("T2 = fly\nRow 1: k1.").problems.size() == 1);
}

TEST_CASE("words that are not known are named, with words that are near") {
    const std::vector<Problem> problems = problemsOf("k2, sks, p2, k2to, yo");
    REQUIRE(problems.size() == 2);
    CHECK(problems[0].line == 1);
    CHECK(problems[0].column == 12);
    CHECK(problems[0].words == "sks");
    CHECK(std::find(problems[0].suggestions.begin(), problems[0].suggestions.end(), "ssk") !=
          problems[0].suggestions.end());
    CHECK(problems[1].words == "k2to");
    CHECK(problems[1].suggestions[0] == "k2tog");
    CHECK(problemsOf("k4tog, k1").size() == 1);
    CHECK(problemsOf("sl1, k4, psso").size() == 1);
    CHECK(problemsOf("k1 wrapping yarn tightly").size() == 1);
    CHECK(problemsOf("work in patt to end").size() == 1);
    CHECK(problemsOf("dec 4, k2").size() == 1);
    CHECK(problemsOf("p1fbfx").size() == 1);
}
