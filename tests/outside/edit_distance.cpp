// SPDX-License-Identifier: MIT
//
// The edit distance that the program runs (misspelled words, rows like other rows) against published values.
#include <catch2/catch.hpp>
#include <string_view>

#include "fault/catalogue.h"
#include "pattern/edit_distance.h"

namespace loopmend {

TEST_CASE("edit distances of the textbooks") {
    // The textbook pair for V. I. Levenshtein's distance (Soviet Physics Doklady 10, 1966).
    CHECK(lettersApart("kitten", "sitting") == 3);
    CHECK(lettersApart("sitting", "kitten") == 3);
    // D. Jurafsky, J. H. Martin, Speech and Language Processing, "Minimum edit distance": 5 if a substitution
    // costs 1, 8 if it costs 2.
    CHECK(lettersApart("intention", "execution") == 5);
    CHECK(lettersApart("intention", "execution", {.exchange = 2}) == 8);
    // The restricted edit distance of L. Boytsov, Indexing methods for approximate dictionary searching, ACM
    // Journal of Experimental Algorithmics 16 (2011): no part is edited twice.
    CHECK(lettersApart("ca", "abc", {.exchange = 1, .swap = 1}) == 3);
    CHECK(lettersApart("teh", "the", {.exchange = 1, .swap = 1}) == 1);
    CHECK(lettersApart("teh", "the") == 2);
    CHECK(lettersApart("", "yarn") == 4);
    CHECK(lettersApart("yarn", "yarn") == 0);
}

TEST_CASE("with a limit it is the same up to the limit, and the limit and one beyond it") {
    constexpr std::string_view kWords[] = {"kitten", "sitting", "intention", "execution", "",      "k2tog",
                                           "k3tog",  "ssk",     "purl",      "slip slip", "aaaa",  "aaab",
                                           "baaa",   "abab",    "baba",      "knitwise",  "white", "k"};
    for (const std::string_view a : kWords) {
        for (const std::string_view b : kWords) {
            for (const LetterCosts costs : {LetterCosts{}, LetterCosts{2, kNoEditLimit}, LetterCosts{1, 1}}) {
                const int all = lettersApart(a, b, costs);
                CHECK(all == lettersApart(b, a, costs));
                for (int most = 0; most < 12; ++most) {
                    INFO(a << " " << b << " " << most);
                    CHECK(editDistance(a, b, costs, most) == std::min(all, most + 1));
                }
            }
        }
    }
}

TEST_CASE("a misspelled mistake is taken for the one that is written most like it") {
    CHECK(nearestFault("mised_yo") == "missed_yo");
    CHECK(nearestFault("wrong_pk") == "wrong_kp");
}

}  // namespace loopmend
