// SPDX-License-Identifier: MIT
// What knitters know about when and where a mistake shows, on knittings with mistakes worked in.
#include "patterns_tsv.h"

#include "fabric/itinerary.h"
#include "fault/knit_with.h"
#include "pattern/counts.h"
#include "pattern/parse.h"
#include "reading/landmarks.h"
#include "reading/notice.h"

#include <catch2/catch.hpp>

#include <string>

using namespace loopmend;
using namespace loopmend::outside;

namespace {

Script lace(bool everyRow, int rows) {
    const std::string text =
        everyRow ? "Cast on 20 stitches and join in the round.\n"
                   "Rnd 1: k2, yo, s2kp, yo, k3, yo, k2tog, ssk, yo, k3, yo, s2kp, yo, k2\n"
                 : "Cast on 20 stitches.\n"
                   "Row 1 (RS): k2, yo, s2kp, yo, k3, yo, k2tog, ssk, yo, k3, yo, s2kp, yo, k2\n"
                   "Row 2 (WS): p\n";
    const Pattern pattern = parse(text);
    std::string problems;
    for (const Problem& p : pattern.problems) problems += p.message + "\n";
    INFO(problems);
    REQUIRE(pattern.problems.empty());
    const auto script = expand(pattern, 20, rows);
    INFO((script ? std::string() : script.error().message));
    REQUIRE(script.has_value());
    return *script;
}

FaultyKnitting with(const Script& script, const std::string& place, After after) {
    const auto where = parsePlace(place);
    REQUIRE(where.has_value());
    auto knitting = knitWith(script, {}, {*where}, after);
    INFO((knitting ? std::string() : knitting.error().message));
    REQUIRE(knitting.has_value());
    return std::move(*knitting);
}

}  // namespace

// Common practice: with plain return rows a lace mistake shows two rows later (or on the return row to
// someone who counts); with pattern on every row, on the next row.
TEST_CASE("when a missed yarn-over shows", "[outside]") {
    for (const After after : {After::byCount, After::byReading}) {
        const FaultyKnitting plain = with(lace(false, 12), "missed_yo@5,3", after);
        const auto seen = firstNoticeable(*plain.meant.fabric, *plain.actual.fabric);
        REQUIRE(seen.has_value());
        CHECK(seen->row == 7);
        const auto counted = firstNoticeable(*plain.meant.fabric, *plain.actual.fabric, Attention{true});
        REQUIRE(counted.has_value());
        CHECK(counted->cue == Cue::count);
        CHECK(counted->row <= 6);

        const FaultyKnitting every = with(lace(true, 8), "missed_yo@5,3", after);
        const auto next = firstNoticeable(*every.meant.fabric, *every.actual.fabric);
        REQUIRE(next.has_value());
        CHECK(next->row == 6);
    }
    const FaultyKnitting stopped = with(lace(false, 12), "missed_yo@5,3", After::rowEnd);
    const auto at = firstNoticeable(*stopped.meant.fabric, *stopped.actual.fabric);
    REQUIRE(at.has_value());
    CHECK(at->cue == Cue::count);
    CHECK(at->row == 5);
}

// Common practice: if the spine of double decreases jumps, a stitch or a yarn-over was missed or made at or
// below the jump.
TEST_CASE("the spine jumps above a missed or a made yarn-over, never below it", "[outside]") {
    for (const char* place : {"missed_yo@5,3", "accidental_yo@5,2", "missed_yo@7,5"}) {
        const FaultyKnitting k = with(lace(false, 14), place, After::byCount);
        const Reading reading = readFrom(*k.actual.fabric, Side::right);
        int jumps = 0;
        for (const Landmark& mark : landmarks(*k.actual.fabric, reading)) {
            if (mark.kind != LandmarkKind::spine) continue;
            for (const int row : mark.breaksAt) {
                ++jumps;
                CHECK(row >= place[std::string(place).find('@') + 1] - '0');
            }
        }
        INFO(place);
        CHECK(jumps > 0);
    }
    const auto faultless = knit(lace(false, 14));
    REQUIRE(faultless.has_value());
    for (const Landmark& mark : landmarks(*faultless->fabric, readFrom(*faultless->fabric, Side::right)))
        CHECK(mark.breaksAt.empty());
}

TEST_CASE("lines of faultless book patterns hardly ever seem to break", "[outside]") {
    int eyelets = 0;
    int broken = 0;
    for (const BookPattern& book : bookPatterns()) {
        const auto script = expand(book.pattern, book.castOn(3), static_cast<int>(book.counts.size()));
        REQUIRE(script.has_value());
        const auto knitting = knit(*script);
        REQUIRE(knitting.has_value());
        const Reading reading = readFrom(*knitting->fabric, Side::right);
        for (const Landmark& mark : landmarks(*knitting->fabric, reading)) {
            INFO(book.id << ": " << words(mark));
            if (mark.kind != LandmarkKind::eyelets) {
                CHECK(mark.breaksAt.empty());
                continue;
            }
            ++eyelets;
            broken += mark.breaksAt.empty() ? 0 : 1;
        }
    }
    CHECK(eyelets > 200);
    CHECK(broken * 50 < eyelets);  // a motif may look like a broken line; fewer than one in fifty does
}
