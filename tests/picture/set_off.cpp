// SPDX-License-Identifier: MIT
#include "picture/set_off.h"

#include <string>

#include <catch2/catch.hpp>

using namespace loopmend;

namespace {

/// What is set off, in brackets.
std::string shown(const std::string& words) {
    std::string all;
    for (const SetOff& word : setOff(words))
        all += "[" + words.substr(word.open + 1, word.close - word.open - 1) + "]";
    return all;
}

}  // namespace

TEST_CASE("Trade words are set off, the stars of patterns are not") {
    CHECK(shown("Each bare strand is a *rung*.") == "[rung]");
    CHECK(shown("Knitters call it *knit for purl, or purl for knit*. A *rung* is bare.") ==
          "[knit for purl, or purl for knit][rung]");
    CHECK(shown("*k2, p2; rep from * to last 2 sts, k2") == "");
    CHECK(shown("*k, p; rep from * to end. What stands there is a *repeat*.") == "[repeat]");
    CHECK(shown("k3, *yo, ssk, k2; rep from * to end") == "");
    CHECK(shown("a * alone, ** and *") == "");
    CHECK(shown("") == "");
}
