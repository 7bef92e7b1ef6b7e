// SPDX-License-Identifier: MIT
//
// Mistakes in work of several yarns: hands err, the yarn is the one that the row says.
#include <catch2/catch.hpp>

#include "fault/knit_with.h"
#include "pattern/counts.h"
#include "pattern/parse.h"

namespace loopmend {

namespace {

int loopsOf(const Fabric& fabric, char colour) {
    int n = 0;
    for (std::int32_t e = 0; e < fabric.entryCount(); ++e) {
        const EntryId entry{e};
        if (fabric.has(entry) && fabric.isLoop(entry) && fabric[fabric[entry].yarn].flags.colour == colour)
            ++n;
    }
    return n;
}

}  // namespace

TEST_CASE(
    "a mistake in stranded work is made with the yarn of its stitch, and the rows after it keep theirs") {
    const Pattern pattern = parse(
        "Yarns: A, B\nCast on 12\nRow 1 (RS): *k2, with B k2, with A; rep from * to end\n"
        "Row 2: *with B p2, with A p2; rep from * to end\nRow 3: with A k\nRow 4: p\n");
    REQUIRE(pattern.problems.empty());
    const auto script = expand(pattern, 12, 4);
    REQUIRE(script);
    for (const char* place : {"wrong_kp@2,5", "wrong_kp@2,3", "wrong_kp@1,4", "twist_tbl@2,6"}) {
        INFO(place);
        const auto where = parsePlace(place);
        REQUIRE(where);
        for (const After after : {After::byCount, After::byReading}) {
            const auto k = knitWith(*script, {}, {*where}, after);
            REQUIRE(k);
            CHECK(loopsOf(*k->meant.fabric, 'B') == 12);
            CHECK(loopsOf(*k->actual.fabric, 'B') == 12);
            CHECK(loopsOf(*k->actual.fabric, 'A') == loopsOf(*k->meant.fabric, 'A'));
        }
    }
}

TEST_CASE("going back, the hands have again the yarns they had before one broke") {
    const Pattern pattern = parse(
        "Yarns: A, B\nCast on 6\nRow 1 (RS): *k1, with B k1, with A; rep from * to end\n"
        "Row 2: with A p\n");
    const auto script = expand(pattern, 6, 2);
    REQUIRE(script);
    SideBySide both(*script, {}, After::byReading);
    REQUIRE(both.workRow());
    REQUIRE(both.workRow());
    both.split();
    const std::vector<YarnId> had = both.actual().knitter.yarnsAtHand();
    const SideBySide::Mark before = both.mark();
    const auto broken = place(*script, {"broken_yarn", 1, 3, 0});
    REQUIRE(broken);
    REQUIRE(both.suffer(*broken));
    CHECK(both.actual().knitter.yarnsAtHand() != had);
    both.rollBack(before);
    CHECK(both.actual().knitter.yarnsAtHand() == had);
}

}  // namespace loopmend
