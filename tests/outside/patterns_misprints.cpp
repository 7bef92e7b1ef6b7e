// SPDX-License-Identifier: MIT
// Misprints put into the book patterns of patterns.tsv one at a time, token by token of their printed words:
// is the true repair, whose rows are worked stitch by stitch like those of the book, among the suggestions?
#include "spoilings.h"

#include "sampled.h"

#include <catch2/catch.hpp>

#include <vector>

using namespace loopmend;
using namespace loopmend::outside;

namespace {

SpoilTally tally(const std::vector<BookPattern>& books, std::uint64_t seed, int n) {
    SpoilTally all;
    for (const Spoiling& spoiling : spoilings(books, seed, n)) all.add(spoiling, judge(spoiling));
    return all;
}

void require(const SpoilTally& all, int firstThree, int shown) {
    INFO(all.judged << " judged, " << all.later << " show later; true repair first " << all.first
                    << ", among three " << all.firstThree << ", shown " << all.shown << "; unread "
                    << all.unread << ", nowhere " << all.nowhere);
    CHECK(all.later * 100 >= all.judged * 40);
    CHECK(all.firstThree * 100 >= all.judged * firstThree);
    CHECK(all.shown * 100 >= all.judged * shown);
    // Rows that are not even understood any more.
    CHECK(all.unreadFirstThree * 100 >= all.unread * firstThree);
    CHECK(all.unreadShown * 100 >= all.unread * shown);
}

}  // namespace

TEST_CASE("of one misprinted token, the true repair is among the first suggestions", "[outside]") {
    // A sample; the whole measure is the next case, and a table that the benchmark prints.
    require(tally(bookPatterns(), 1, sampled(50)), kSanitized ? 50 : 80, kSanitized ? 70 : 90);
}

TEST_CASE("of a thousand misprinted tokens, 85 in 100 are among the first three and 95 are shown",
          "[outside][.all]") {
    require(tally(bookPatterns(), 2, 1000), 85, 95);
}
