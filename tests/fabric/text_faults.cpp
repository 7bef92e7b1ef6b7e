// SPDX-License-Identifier: MIT
//
// Texts that are no fabric: each is refused with a sentence, and nothing crashes.
#include <rapidcheck/catch.h>
#include <algorithm>
#include <catch2/catch.hpp>

#include "random_knitting.h"
#include "swatch.h"

namespace loopmend {

namespace {

/// Why a text is refused; empty if it is not.
std::string refusal(const std::string& knot, const std::string& measure) {
    const tl::expected<Fabric, TextFault> read = fabricFrom({knot, measure});
    return read ? std::string() : read.error().message;
}

const std::string kKnot = "yarn A ball < o! o! 2k 1k | needle 4 3";
const std::string kMeasure = "yarn 2000 9000/2000 = = ; = 9000/0 | needle 1 w w";

/// A text is either refused with a sentence or read as a fabric whose lines come back.
void mustStand(const Itinerary& lines) {
    const tl::expected<Fabric, TextFault> read = fabricFrom(lines);
    if (!read) {
        REQUIRE(read.error().message.size() > 10);
        return;
    }
    const Itinerary first = itinerary(*read);
    const tl::expected<Fabric, TextFault> again = fabricFrom(first);
    if (!again) FAIL(again.error().message << "\n" << first.knot << "\n" << first.measure);
    const Itinerary second = itinerary(*again);
    REQUIRE(second.knot == first.knot);
    REQUIRE(second.measure == first.measure);
    // And it can be handled.
    Fabric f = *read;
    letRun(f, 50);
    (void)rowsOf(f);
    (void)f.totalUm();
}

}  // namespace

TEST_CASE("the text these faults are made from is one") {
    CHECK(refusal(kKnot, kMeasure).empty());
    const Itinerary back = itinerary(*fabricFrom({kKnot, kMeasure}));
    CHECK(back.knot == kKnot);
    CHECK(back.measure == kMeasure);
}

TEST_CASE("each damage of the first line is named") {
    const auto why = [](const std::string& knot) { return refusal(knot, kMeasure); };
    CHECK(why("yarn") == "a yarn needs a colour letter and its ends");
    CHECK(why("yarn A") == "a yarn needs a colour letter and its ends");
    CHECK(why("yarn AA ball < o!") == "a yarn needs a colour letter and its ends");
    CHECK(why("yarn A spool < o! o! 2k 1k | needle 4 3") == "\"spool\" is no end of a yarn");
    CHECK(why("yarn A ball < o! o! 9k 1k | needle 4 3") == "\"9k\" names a loop that is not there");
    CHECK(why("yarn A ball < o! o! 2.1k 1k | needle 4 3") == "\"2.1k\" names a loop that is not there");
    CHECK(why("yarn A ball < o! o! 0k 1k | needle 4 3") == "\"0k\" names a loop that is not there");
    CHECK(why("yarn A ball < o! o! 2x 1k | needle 4 3") == "\"2x\" says neither k nor p");
    CHECK(why("yarn A ball < o! o! 2k+900 1k | needle 4 3") == "a loop twisted more than a hundred times");
    CHECK(why("yarn A ball < o! o! 2kz 1k | needle 4 3") == "\"2kz\" goes on where it should end");
    CHECK(why("yarn A ball < o! o! k 1k | needle 4 3") == "the word \"k\" cannot be read");
    CHECK(why("yarn A ball < o! o! 3k 1k | needle 4 3") == "\"3k\" draws a loop through itself");
    CHECK(why("yarn A ball < o! o! 4k 3k | needle 4 3") ==
          "loops stand on one another in a ring, which no yarn can do");
    CHECK(why("yarn A ball < o! o! 2k 1k | spoon 4 3") == "\"spoon\" is no tool");
    CHECK(why("yarn A ball < o! o! 2k 1k | needle 4 4") == "a loop is held twice by one tool");
    CHECK(why("yarn A ball < o! o! 2k 1k | needle 4") ==
          "the second line seats more loops than a tool holds");
    CHECK(why("yarn A ball < o! o! 2k 1k | needle 4 3 2") ==
          "the second line seats fewer loops than a tool holds");
    CHECK(why("yarn A ball < o! o! 2k 1k | needle 4x 3") == "the word \"4x\" cannot be read");
    CHECK(why("yarn A ball < o! o! 2k 1k | cross 3 | needle 4 3") == "a crossing needs two loops and a sign");
    CHECK(why("yarn A ball < o! o! 2k 1k | cross 3 4 +2 | needle 4 3") == "a crossing is +1 or -1");
    CHECK(why("yarn A ball < o! o! 2k 1k | cross 3 4 +1 | cross 3 4 +1 | needle 4 3") ==
          "these crossings cannot all lie in one row");
    CHECK(why("yarn A ball < o! o! 2k 1k | join 3 | needle 4 3") == "a join needs a loop and a twist");
    CHECK_FALSE(why("").empty());
    CHECK_FALSE(why("yarn A ball < o! o! 2k 1k ~3 | needle 4 3").empty());
    CHECK_FALSE(why("yarn A ball < o! o! 2k 1k | needle 4 3 | needle 4 3").empty());
}

TEST_CASE("each damage of the second line is named") {
    const auto why = [](const std::string& measure) { return refusal(kKnot, measure); };
    CHECK(why("") == "the second line has fewer yarns than the first");
    CHECK(why("needle 1 w w") == "the second line should measure a yarn here");
    CHECK(why("yarn 2000 9000/2000 = = = | needle 1 w w") ==
          "the second line measures fewer loops than there are");
    CHECK(why("yarn 2000 9000/2000 = = = = = | needle 1 w w") ==
          "the second line measures more loops than there are");
    CHECK(why("yarn 2000 9000 = = = = | needle 1 w w") == "\"9000\" is no pair of lengths");
    CHECK(why("yarn 2000x 9000/2000 = = = = | needle 1 w w") == "\"2000x\" is no length");
    CHECK(why("yarn -5 9000/2000 = = = = | needle 1 w w") == "the word \"-5\" cannot be read");
    CHECK(why("yarn 999999999999 9000/2000 = = = = | needle 1 w w") ==
          "the word \"999999999999\" cannot be read");
    CHECK(why("yarn 2000 9000/2000 ; = = = = | needle 1 w w") == "a row ends before it begins");
    CHECK(why("yarn 2000 9000/2000 = = = = ~9<w | needle 1 w w") ==
          "\"~9<w\" names a loop that is not there");
    CHECK(why("yarn 2000 9000/2000 = = = = ~3?w | needle 1 w w") == "\"~3?w\" is no mark");
    CHECK(why("yarn 2000 9000/2000 = = = = | needle 1 w q") == "a mount is w or e");
    CHECK(why("yarn 2000 9000/2000 = = = = | needle 9 w w") == "the needle's tip lies beyond its loops");
    CHECK(why("yarn 2000 9000/2000 = = = = | pin w w") == "the tools of the two lines are not the same");
    CHECK(why("yarn 2000 9000/2000 = = = =") == "the second line has fewer tools than the first");
    CHECK(why("yarn 2000 9000/2000 = = = = | needle 1 w w | pin w") ==
          "the second line has more tools than the first");
    CHECK(why("yarn 2000 9000/2000 = = = = | yarn B 1 | needle 1 w w") ==
          "the second line measures a yarn that the first line lacks");
}

TEST_CASE("a text cut off anywhere is refused or is a smaller fabric") {
    Swatch s = plainSwatch(6, 3);
    s.work("k2 k2tog yo 1/1f | *");
    REQUIRE(s.knitter().drop(s.knitter().behind()[2]));
    letRun(s.fabric(), 2);
    const Itinerary lines = s.lines();
    int refused = 0;
    for (std::size_t n = 0; n < lines.knot.size(); ++n) {
        mustStand({lines.knot.substr(0, n), lines.measure});
        refused += fabricFrom({lines.knot.substr(0, n), lines.measure}) ? 0 : 1;
    }
    for (std::size_t n = 0; n < lines.measure.size(); ++n) {
        mustStand({lines.knot, lines.measure.substr(0, n)});
        refused += fabricFrom({lines.knot, lines.measure.substr(0, n)}) ? 0 : 1;
    }
    CHECK(refused > static_cast<int>(lines.knot.size() + lines.measure.size()) * 9 / 10);
}

TEST_CASE("a text with anything changed is refused or is another fabric, and never breaks") {
    static const std::string kLetters = "0123456789kpo!<>&@^~+-|;=./wreblhs yarnedlcj\t\x01\xff";
    for (int seed = 0; seed < cases(400); ++seed) {
        CAPTURE(seed);
        Dice dice(static_cast<std::uint64_t>(seed));
        Swatch s = randomSwatch(dice, 2, 5);
        for (int i = 0; i < 8; ++i) randomHandMove(s, dice);
        for (int i = 0; i < 4; ++i) randomPrimitive(s.fabric(), dice);
        const Itinerary lines = s.lines();
        for (int i = 0; i < 20; ++i) {
            Itinerary changed = lines;
            for (int n = 1 + dice.below(3); n > 0; --n) {
                std::string& line = dice.chance(60) ? changed.knot : changed.measure;
                if (line.empty()) continue;
                const auto at = static_cast<std::size_t>(dice.below(static_cast<int>(line.size())));
                const char letter =
                    kLetters[static_cast<std::size_t>(dice.below(static_cast<int>(kLetters.size())))];
                switch (dice.below(5)) {
                    case 0: line[at] = letter; break;
                    case 1: line.erase(at, 1 + static_cast<std::size_t>(dice.below(6))); break;
                    case 2: line.insert(at, 1, letter); break;
                    case 3: {  // a word twice, or moved
                        const std::size_t end = std::min(line.find(' ', at), line.size());
                        line.insert(static_cast<std::size_t>(dice.below(static_cast<int>(line.size()))),
                                    " " + line.substr(at, end - at) + " ");
                        break;
                    }
                    default:
                        std::swap(line[at],
                                  line[static_cast<std::size_t>(dice.below(static_cast<int>(line.size())))]);
                }
            }
            INFO(changed.knot << "\n" << changed.measure);
            mustStand(changed);
        }
    }
}

TEST_CASE("words of the notation in any order are refused or are a fabric") {
    rc::prop("never a crash", [](const std::vector<std::uint16_t>& choices) {
        static const std::vector<std::string> kWords = {
            "o",    "o!", "1k", "2p",  "3k-1",  "1k@1",  "1k&2k", "2k^1&3k^0", "1.1k",
            "2.1k", "<",  ">",  "~1r", "~2w@1", "~2.1w", "4kb",   "3krh",      "1p+2"};
        Dice dice(choices);
        std::string knot;
        std::string measure;
        const int yarns = 1 + dice.below(3);
        for (int y = 0; y < yarns; ++y) {
            knot += std::string(y > 0 ? " | " : "") + "yarn A " +
                    (dice.chance(50)   ? "ball"
                     : dice.chance(50) ? "ends"
                                       : "ball-");
            measure += std::string(y > 0 ? " | " : "") + "yarn 5 9/2";
            for (int n = dice.below(8); n > 0; --n) {
                const std::string& word = dice.pick(kWords);
                knot += " " + word;
                if (word == "<" || word == ">") continue;
                measure += word[0] == '~' ? " ." : dice.chance(60) ? " =" : " 7/3";
                if (dice.chance(20)) measure += " ;";
                if (dice.chance(15)) measure += " ~1<w";
            }
        }
        const tl::expected<Fabric, TextFault> read = fabricFrom({knot, measure});
        if (!read) {
            RC_ASSERT(read.error().message.size() > 10U);
            return;
        }
        RC_ASSERT(roundTrips(*read));
    });
}

TEST_CASE("a very long word is shortened in the sentence, and a very long text is read") {
    const std::string why = refusal("yarn A ball < o! " + std::string(10'000, 'z'), kMeasure);
    CHECK(why.size() < 200);
    Swatch s = plainSwatch(100, 50);
    CHECK(roundTrips(s.fabric()));
}

}  // namespace loopmend
