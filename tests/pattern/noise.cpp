// SPDX-License-Identifier: MIT
// Any text at all: never a crash, never a hang, and every problem has its place.
#include "support.h"

#include <catch2/catch.hpp>

#include <rapidcheck.h>
#include <rapidcheck/catch.h>

#include <algorithm>
#include <chrono>

using namespace loopmend;

namespace {

constexpr std::string_view kGood[] = {
    "Harbour Lane sampler\nMultiple of 8 sts plus 3. Cast on 27 stitches.\n\n"
    "Row 1 (RS): K1, *k1, yo, ssk, k3, k2tog, yo; rep from * to last 2 sts, k2. (27 sts)\n"
    "Row 2 and every even row: Purl.\n"
    "Row 3: k2, *yo, k1, sl 1, knit 1, pass slipped stitch over, k1, k2tog, k1, yo, k1; repeat from * to "
    "last st, K1.\n"
    "Rows 5-8: as rows 1-4.\nRepeat rows 1-8 3 more times.\nBind off all sts.\n",
    "1st row: sl 1, (k1, p1, k1) in next st, [yo, k2 tog] x 3, knit to last 2 sts, p2tog tbl.\n"
    "2nd and 4th rows: bind off 3 sts, knit the knits and purl the purls to last st, sl1 wyif.\n"
    "3rd row: *k5, c6f, 2/1 LPC; rep from * 4 more times, cast on 4 - 50 sts\n",
    "Cast on 20 (24, 28) sts, join in the round.\nRnd 1: *k2 (3, 4), m1r, pm, p2; rep from * around.\nT2 = "
    "k2tog\n"
    "Rnds 2-4: knit.\nSet-up row (WS): k.\n"};

constexpr std::string_view kWords[] = {"Row",
                                       "Rows",
                                       "Rnd",
                                       "1",
                                       "2",
                                       "3",
                                       "4",
                                       "9999",
                                       "99999999999",
                                       ":",
                                       "(",
                                       ")",
                                       "[",
                                       "]",
                                       "*",
                                       "**",
                                       ",",
                                       ";",
                                       ".",
                                       "-",
                                       "/",
                                       "k",
                                       "p",
                                       "k2tog",
                                       "yo",
                                       "ssk",
                                       "sl1",
                                       "psso",
                                       "rep",
                                       "from",
                                       "to",
                                       "end",
                                       "last",
                                       "sts",
                                       "times",
                                       "more",
                                       "twice",
                                       "in",
                                       "next",
                                       "st",
                                       "and",
                                       "every",
                                       "even",
                                       "odd",
                                       "row",
                                       "(RS)",
                                       "WS",
                                       "repeat",
                                       "rows",
                                       "bind off",
                                       "cast on",
                                       "m1",
                                       "yf",
                                       "yb",
                                       "knit",
                                       "the",
                                       "purls",
                                       "as",
                                       "x",
                                       "c4f",
                                       "lc",
                                       "cn",
                                       "hold",
                                       "pm",
                                       "\n",
                                       "\n\n",
                                       "=",
                                       "means",
                                       "tbl",
                                       "together",
                                       "pass",
                                       "slipped",
                                       "stitch",
                                       "over",
                                       "until",
                                       "remain",
                                       "multiple of",
                                       "plus",
                                       "set-up",
                                       "all",
                                       "ending",
                                       "\xC3\x97",
                                       "\xE2\x80\x93",
                                       "#",
                                       "across",
                                       "k1b",
                                       "within"};

/// Parses, checks and expands a text, and looks at every problem told.
void survive(const std::string& text) {
    const auto began = std::chrono::steady_clock::now();
    const Pattern pattern = parse(text);
    const int lines = static_cast<int>(std::count(text.begin(), text.end(), '\n')) + 1;
    const auto placed = [&](const Problem& problem) {
        if (problem.line >= 1 && problem.line <= lines && problem.column >= 1 && !problem.message.empty())
            return true;
        RC_LOG() << text << "\n---\n" << testing::told({problem});
        return false;
    };
    for (const Problem& problem : pattern.problems) RC_ASSERT(placed(problem));
    const CheckReport report = check(pattern, 24);
    RC_ASSERT(report.ok == report.problems.empty());
    RC_ASSERT(report.problems.size() >= pattern.problems.size());
    for (const Problem& problem : report.problems) RC_ASSERT(placed(problem));
    check(pattern);
    const auto script = expand(pattern, 24, 6);
    if (!script) RC_ASSERT(!script.error().message.empty());
    // What is understood without a problem can be printed and read again.
    if (pattern.problems.empty() && !pattern.rows.empty()) {
        const Pattern again = parse(print(pattern));
        if (!again.problems.empty() || !sameRows(pattern, again))
            RC_LOG() << text << "\n---\n" << print(pattern) << "---\n" << testing::told(again.problems);
        RC_ASSERT(again.problems.empty());
        RC_ASSERT(sameRows(pattern, again));
    }
    // Generous, for slow machines and instrumented builds; a hang would take minutes.
    RC_ASSERT(std::chrono::steady_clock::now() - began < std::chrono::seconds(5));
}

}  // namespace

TEST_CASE("random bytes") {
    rc::prop("survive", [] { survive(*rc::gen::container<std::string>(rc::gen::arbitrary<char>())); });
}

TEST_CASE("random words of the trade") {
    rc::prop("survive", [] {
        const auto words = *rc::gen::container<std::vector<std::size_t>>(
            rc::gen::inRange<std::size_t>(0, std::size(kWords)));
        std::string text = *rc::gen::element<std::string>("", "Row 1: ", "Rnd 1: k2, ");
        for (const std::size_t word : words) {
            text += kWords[word];
            text += *rc::gen::inRange(0, 4) == 0 ? "" : " ";
        }
        survive(text);
    });
}

TEST_CASE("good patterns with slips of the pen") {
    rc::prop("survive", [] {
        std::string text(kGood[*rc::gen::inRange<std::size_t>(0, std::size(kGood))]);
        const int slips = *rc::gen::inRange(1, 6);
        for (int i = 0; i < slips && !text.empty(); ++i) {
            const auto at = *rc::gen::inRange<std::size_t>(0, text.size());
            const auto length = *rc::gen::inRange<std::size_t>(1, 12);
            switch (*rc::gen::inRange(0, 5)) {
                case 0: text.erase(at, length); break;
                case 1: text.insert(at, text.substr(text.size() - std::min(text.size(), length))); break;
                case 2: text[at] = *rc::gen::arbitrary<char>(); break;
                case 3: text.insert(at, kWords[*rc::gen::inRange<std::size_t>(0, std::size(kWords))]); break;
                default: text.resize(at); break;
            }
        }
        survive(text);
    });
}

TEST_CASE("texts made to hurt") {
    const auto many = [](std::string_view words, int times) {
        std::string text;
        for (int i = 0; i < times; ++i) text += words;
        return text;
    };
    const std::vector<std::string> texts = {
        "Row 1: " + many("(", 20000),
        "Row 1: " + many("*k1, ", 20000),
        "Row 1: " + many("yb ", 20000) + "k1",
        "Row 1: " + many("yf ", 20000) + "k1",
        "Row 1: " + many("(", 30) + "pm" + many(") 9999 times", 30),
        "Row 1: " + many("(", 30) + "yo" + many(") 9999 times", 30),
        "Row 1: " + many("(", 30) + "k1, yo" + many(") 9999 times", 30) + "; *kfb; rep from * to end",
        "Rows 1-9999: k.\nRepeat rows 1-9999 9999 times.",
        many("Row 1: k, blip.\n", 2000),
        many("Every even row: p.\n", 2000) + "Row 9999: k",
        many("Next row: k9999.\n", 3000),
        many("k", 20000),
        "Row 1: k" + many("9", 20000),
        many("#\n", 20000),
        many("Repeat rows 1-1 9999 times.\n", 500),
        "Row 1: *kfb; rep from * to end.\nRow 2: *k2tog; rep from * to end.\nRepeat rows 1-2 9999 times.",
        "Row 1: as row 2.\nRow 2: as row 1.\nRow 3: as row 3."};
    for (const std::string& text : texts) {
        const auto began = std::chrono::steady_clock::now();
        const Pattern pattern = parse(text);
        check(pattern, 24);
        check(pattern);
        expand(pattern, 24, 40);
        INFO(text.substr(0, 60));
        CHECK(std::chrono::steady_clock::now() - began < std::chrono::seconds(20));
    }
}
