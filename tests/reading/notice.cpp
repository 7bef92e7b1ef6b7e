// SPDX-License-Identifier: MIT
#include "reading/notice.h"

#include <catch2/catch.hpp>

#include "fabric/hands.h"
#include "reading/scripts.h"

namespace loopmend {
namespace {

Fabric knitted(int castOn, const std::vector<std::string>& rows, bool round = false) {
    const auto knitting = knit(scriptFrom(castOn, rows, round));
    INFO((knitting ? std::string() : sentence(knitting.error())));
    REQUIRE(knitting);
    return reloaded(*knitting->fabric);
}

const std::string kLace = "k2 yo s2kp yo k3 yo s2kp yo k2";

std::vector<std::string> laceWithPlainRows(int rows) {
    std::vector<std::string> all;
    for (int r = 1; r <= rows; ++r) all.push_back(r % 2 == 1 ? kLace : "p13");
    return all;
}

Notice first(const Fabric& meant, const Fabric& actual, Attention attention = {}) {
    const auto n = firstNoticeable(meant, actual, attention);
    REQUIRE(n.has_value());
    return *n;
}

}  // namespace

TEST_CASE("the same fabric shows nothing") {
    const Fabric lace = knitted(13, laceWithPlainRows(8));
    CHECK_FALSE(firstNoticeable(lace, lace).has_value());
    CHECK(noticeable(lace, lace).empty());
}

// Common practice: with plain return rows a lace mistake shows two rows later, or on the return row to
// someone who counts; with pattern on every row, on the next row.
TEST_CASE("plain return rows hide a missed yarn-over for two rows") {
    std::vector<std::string> rows = laceWithPlainRows(10);
    const Fabric meant = knitted(13, rows);
    rows[4] = "k2 yo s2kp k3 yo s2kp yo k2";
    rows[5] = "p12";
    for (const std::size_t r : {6U, 8U}) rows[r] = "k2 yo s2kp yo k3 yo s2kp yo k";
    for (const std::size_t r : {7U, 9U}) rows[r] = "p12";
    const Fabric byCount = knitted(13, rows);
    const Notice seen = first(meant, byCount);
    CHECK(seen.row == 7);
    CHECK(seen.cue == Cue::rowDoesNotFit);
    CHECK(seen.words == "row 7 does not fit: 1 short");
    const Notice counted = first(meant, byCount, Attention{true});
    CHECK(counted.row >= 5);
    CHECK(counted.row <= 6);
    CHECK(counted.cue == Cue::count);
    CHECK(counted.words == "12 stitches where 13 should be: 1 short");

    // Reading, not counting: later stitches are kept above their columns, and the gap shows.
    rows[6] = "k2 yo s2kp yo k2 yo s2kp yo k2";
    rows[8] = rows[6];
    const Notice read = first(meant, knitted(13, rows));
    CHECK(read.row == 7);

    // Every cue that there is, among them the missing hole and the spine that jumps.
    bool hole = false;
    bool spine = false;
    for (const Notice& n : noticeable(meant, byCount)) {
        hole = hole || (n.cue == Cue::holeMissing && n.seenRow == 5 && n.row == 7);
        spine = spine || (n.cue == Cue::landmark && n.row == 7);
    }
    CHECK(hole);
    CHECK(spine);
}

TEST_CASE("lace on every row shows a missed yarn-over in the next row") {
    std::vector<std::string> rows(8, kLace);
    const Fabric meant = knitted(13, rows, true);
    rows[4] = "k2 yo s2kp k3 yo s2kp yo k2";
    for (const std::size_t r : {5U, 6U, 7U}) rows[r] = "k2 yo s2kp yo k3 yo s2kp yo k";
    const Notice seen = first(meant, knitted(13, rows, true));
    CHECK(seen.row == 6);
    CHECK(seen.cue == Cue::rowDoesNotFit);
}

TEST_CASE("stopped before the pattern comes again, only the count tells") {
    std::vector<std::string> rows = laceWithPlainRows(6);
    const Fabric meant = knitted(13, rows);
    rows[4] = "k2 yo s2kp k3 yo s2kp yo k2";
    rows[5] = "p12";
    const Notice seen = first(meant, knitted(13, rows));
    CHECK(seen.cue == Cue::count);
    CHECK(seen.row == 5);
}

TEST_CASE("a missed decrease and one too many") {
    std::vector<std::string> rows = {"k yo k2tog k4 yo k2tog k", "p10", "k yo k2tog k4 yo k2tog k", "p10"};
    const Fabric meant = knitted(10, rows);
    std::vector<std::string> over = rows;
    over[0] = "k yo k7 yo k2tog";
    over[1] = "p11";
    over[2] = "k yo k2tog k4 yo k2tog k2";
    over[3] = "p11";
    CHECK(first(meant, knitted(10, over)).row == 3);
    std::vector<std::string> merged = rows;
    merged[1] = "p4 p2tog p4";
    merged[2] = "k yo k2tog k4 yo k2tog";
    merged[3] = "p9";
    CHECK(first(meant, knitted(10, merged)).row == 3);
}

TEST_CASE("a purl among knits is met on the next row") {
    std::vector<std::string> rows = {"k8", "p8", "k8", "p8", "k8", "p8"};
    const Fabric meant = knitted(8, rows);
    rows[2] = "k3 p k4";
    const Notice seen = first(meant, knitted(8, rows));
    CHECK(seen.cue == Cue::face);
    CHECK(seen.row == 4);
    CHECK(seen.seenRow == 3);
    CHECK(seen.seenStitch == 4);
    CHECK(seen.visibility == Visibility::plain);
}

TEST_CASE("a yarn-over too many in a plain ground is met on the next row") {
    std::vector<std::string> rows = {"k8", "p8", "k8", "p8"};
    const Fabric meant = knitted(8, rows);
    rows[2] = "k3 yo k5";
    rows[3] = "p9";
    const Notice seen = first(meant, knitted(8, rows));
    CHECK(seen.cue == Cue::holeExtra);
    CHECK(seen.row == 4);
}

// Common practice: twists and a single decrease of the other lean are rarely noticed; a twist shows one row
// below.
TEST_CASE("twists and leans are rarely noticed") {
    std::vector<std::string> rows = {"k8", "p8", "k8", "p8"};
    const Fabric meant = knitted(8, rows);
    rows[2] = "k3 ktbl k4";
    const Notice twist = first(meant, knitted(8, rows));
    CHECK(twist.cue == Cue::twist);
    CHECK(twist.visibility == Visibility::rare);
    CHECK(twist.seenRow == 2);

    std::vector<std::string> lace = {"k yo k2tog k4 yo k2tog k", "p10", "k yo k2tog k4 yo k2tog k", "p10"};
    const Fabric leaning = knitted(10, lace);
    lace[2] = "k yo ssk k4 yo k2tog k";
    const Notice lean = first(leaning, knitted(10, lace));
    CHECK(lean.cue == Cue::lean);
    CHECK(lean.visibility == Visibility::rare);
}

TEST_CASE("a stitch left behind stands free; one run down makes a ladder") {
    const std::vector<std::string> rows = {"k8", "p8", "k8", "p8", "k8", "p8"};
    const Fabric meant = knitted(8, rows);
    {
        auto knitting = knit(scriptFrom(8, rows));
        Knitter& k = knitting->knitter;
        const LoopId live = k.ahead()[3];
        REQUIRE(k.drop(live));
        REQUIRE(letRunFrom(*knitting->fabric, live, 3) == 3);
        const Notice seen = first(meant, reloaded(*knitting->fabric));
        CHECK(seen.cue == Cue::ladder);
        CHECK(seen.row == 6);
        CHECK(seen.seenRow == 3);
    }
    {
        auto knitting = knit(scriptFrom(8, {"k8", "p8"}));
        Knitter& k = knitting->knitter;
        REQUIRE(k.drop(k.ahead()[3]));
        for (int r = 0; r < 4; ++r) {
            while (k.aheadCount() > 0) REQUIRE((r % 2 == 0 ? k.knit() : k.purl()));
            k.turn();
        }
        const Notice seen = first(meant, reloaded(*knitting->fabric));
        CHECK(seen.cue == Cue::freeLoop);
        CHECK(seen.row == 3);
    }
}

TEST_CASE("a cable of the other hand shows in its own row") {
    std::vector<std::string> rows = {"k2 c2/2b k2", "p8", "k8", "p8", "k2 c2/2b k2", "p8"};
    const Fabric meant = knitted(8, rows);
    rows[4] = "k2 c2/2f k2";
    const Notice seen = first(meant, knitted(8, rows));
    CHECK(seen.cue == Cue::crossing);
    CHECK(seen.row == 5);
}

// Common practice: the neck of a stitch on the needle tells a purl from a knit before the next row meets it.
TEST_CASE("necks and repeats that are looked at show it sooner") {
    std::vector<std::string> rows = {"k8", "p8", "k8", "p8", "k8", "p8"};
    const Fabric meant = knitted(8, rows);
    rows[2] = "k3 p k4";
    const Fabric actual = knitted(8, rows);
    Attention necks;
    necks.readsNecks = true;
    CHECK(first(meant, actual).row == 4);
    CHECK(first(meant, actual, necks).row == 3);

    std::vector<std::string> lace;
    for (int r = 1; r <= 8; ++r)
        lace.emplace_back(r % 2 == 1 ? "k yo k2tog k2 yo k2tog k2 yo k2tog k2 yo k2tog k" : "p16");
    const Fabric whole = knitted(16, lace);
    lace[4] = "k yo k2tog k2 k2 k2 yo k2tog k2 yo k2tog k";
    const Fabric missed = knitted(16, lace);
    Attention compares;
    compares.comparesRepeats = true;
    CHECK(first(whole, missed).row == 7);
    const Notice soon = first(whole, missed, compares);
    CHECK(soon.row == 5);
}

TEST_CASE("what the bumpy side hides") {
    std::vector<std::string> rows = {"k8", "p8", "k8", "p8"};
    const Fabric meant = knitted(8, rows);
    rows[2] = "k3 ktbl k4";
    const Fabric twisted = knitted(8, rows);
    Attention wrong;
    wrong.looksAt = SeenFrom::wrong;
    Attention right;
    right.looksAt = SeenFrom::right;
    CHECK(firstNoticeable(meant, twisted, right).has_value());
    CHECK(first(meant, twisted).seenFrom == SeenFrom::right);
    CHECK_FALSE(firstNoticeable(meant, twisted, wrong).has_value());
    // A bump among V's is a V among bumps on the other side.
    rows[2] = "k3 p k4";
    const Fabric purl = knitted(8, rows);
    CHECK(first(meant, purl, wrong).row == first(meant, purl, right).row);
    // Worked with the purl side as the right side, the wrong side shows the feet.
    std::vector<std::string> reverse = {"p8", "k8", "p8", "k8"};
    const Fabric purls = knitted(8, reverse);
    reverse[2] = "p3 ptbl p4";
    CHECK(first(purls, knitted(8, reverse)).seenFrom == SeenFrom::wrong);
}

TEST_CASE("in the round plain rounds hide lace as plain rows do") {
    std::vector<std::string> rows;
    for (int r = 1; r <= 10; ++r) rows.push_back(r % 2 == 1 ? kLace : "k13");
    const Fabric meant = knitted(13, rows, true);
    rows[4] = "k2 yo s2kp k3 yo s2kp yo k2";
    rows[5] = "k12";
    for (const std::size_t r : {6U, 8U}) rows[r] = "k2 yo s2kp yo k3 yo s2kp yo k";
    for (const std::size_t r : {7U, 9U}) rows[r] = "k12";
    CHECK(first(meant, knitted(13, rows, true)).row == 7);
}

TEST_CASE("a turn in mid-row shows at once") {
    const Fabric meant = knitted(8, {"k8", "p8", "k8", "p8", "k8"});
    auto knitting = knit(scriptFrom(8, {"k8", "p8"}));
    REQUIRE(knitting);
    Knitter& k = knitting->knitter;
    for (int i = 0; i < 4; ++i) REQUIRE(k.knit());
    k.turn();
    for (int i = 0; i < 4; ++i) REQUIRE(k.purl());
    k.turn();
    while (k.aheadCount() > 0) REQUIRE(k.knit());
    k.turn();
    const Notice seen = first(meant, reloaded(*knitting->fabric));
    CHECK(seen.cue == Cue::turn);
    CHECK(seen.row == 3);
}

}  // namespace loopmend
