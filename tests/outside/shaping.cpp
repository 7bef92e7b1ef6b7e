// SPDX-License-Identifier: MIT
// Heels, toes, crowns and slopes of printed instructions, knitted as real fabric from written rows: short
// rows are turned, stitches picked up, decreases worked, and the loops on the needle are counted.
#include <fmt/format.h>
#include <catch2/catch.hpp>

#include <set>
#include <string>
#include <utility>
#include <vector>

#include "fabric/hands.h"
#include "fabric/itinerary.h"
#include "pattern/counts.h"
#include "pattern/parse.h"
#include "pattern/print.h"
#include "pattern/working.h"

using namespace loopmend;

namespace {

/// Loops on the needle, a doubled stitch as one.
int onNeedle(const Knitter& k) {
    return k.aheadCount() + static_cast<int>(k.behind().size());
}

struct Piece {
    Knitting knitting;
    std::vector<int> counts;  ///< on the needle of the fabric, after each row
};

std::string numbered(const std::vector<std::string>& rows, bool round) {
    std::string text;
    for (std::size_t i = 0; i < rows.size(); ++i)
        text += fmt::format("{} {}: {}.\n", round ? "Rnd" : "Row", i + 1, rows[i]);
    return text;
}

/// Knits written rows. The algebra, the printed words read again and a fabric read from its text must all
/// agree with what lies on the needle.
Piece knitRows(const std::vector<std::string>& rows, int castOnStitches, bool round = false) {
    const std::string text = fmt::format("Cast on {} sts.\n{}", castOnStitches, numbered(rows, round));
    const Pattern pattern = parse(text);
    const CheckReport report = check(pattern);
    for (const Problem& problem : report.problems) FAIL(problem.words + ": " + problem.message);
    CHECK(sameRows(parse(print(pattern)), pattern));
    CHECK(sameRows(parse(print(pattern, Terms::uk)), pattern));
    const auto script = expand(pattern, castOnStitches, static_cast<int>(rows.size()));
    if (!script) FAIL(script.error().message);
    Piece piece{castOn(*script), {}};
    for (std::size_t i = 0; i < script->rows.size(); ++i) {
        const auto worked = workRow(piece.knitting.knitter, script->rows[i]);
        if (!worked) FAIL(sentence(worked.error()));
        endRow(piece.knitting.knitter, script->rows[i]);
        piece.counts.push_back(onNeedle(piece.knitting.knitter));
        CHECK(piece.counts.back() == report.rows[i].stitchesAfter);
    }
    const Itinerary lines = itinerary(*piece.knitting.fabric);
    const auto again = fabricFrom(lines);
    REQUIRE(again);
    CHECK(itinerary(*again).knot == lines.knot);
    CHECK(letRun(*piece.knitting.fabric) == 0);
    return piece;
}

/// Slip 1, knit k, decrease, knit a, turn; the rows between are purled the same way.
std::vector<std::string> heelRows(const std::vector<std::pair<int, int>>& rows, bool rightSide = true) {
    std::vector<std::string> words;
    for (const auto& [k, a] : rows) {
        const bool knitted = (words.size() % 2 == 0) == rightSide;
        std::string row = fmt::format("sl1, {}{}, {}", knitted ? 'k' : 'p', k, knitted ? "skp" : "p2tog");
        if (a > 0) row += fmt::format(", {}{}", knitted ? 'k' : 'p', a);
        words.push_back(row + ", turn");
    }
    return words;
}

}  // namespace

// H. P. Ryder, Cycling and Shooting Knickerbocker Stockings (London, Macmillan, 1896), heels No. 1 and No. 2.
TEST_CASE("heels turned with short rows come to the printed counts") {
    std::vector<std::pair<int, int>> first{{15, 1}};
    for (int k = 5; k <= 13; ++k) first.emplace_back(k, 1);
    first.emplace_back(14, 0);
    first.emplace_back(14, 0);
    const Piece one = knitRows(heelRows(first), 28);
    CHECK(one.counts.back() == 16);
    CHECK(one.knitting.knitter.aheadCount() == 16);  // nothing waits behind a turn any more

    std::vector<std::pair<int, int>> second{{15, 1}};
    for (int k = 5; k <= 14; ++k) second.emplace_back(k, 1);
    second.emplace_back(15, 0);
    const Piece two = knitRows(heelRows(second), 29);
    CHECK(two.counts.back() == 17);
    CHECK(two.knitting.knitter.aheadCount() == 17);
}

// Handbook of Wool Knitting and Crochet (Augusta, Needlecraft Publishing, 1918), service sock.
TEST_CASE("a sock: heel flap, heel turned, stitches picked up along both its sides, gussets narrowed") {
    std::vector<std::string> rounds(4, "k to end");
    constexpr int kFlap = 34;
    for (int i = 0; i < kFlap; ++i) rounds.emplace_back(i % 2 == 0 ? "sl1, k30, turn" : "sl1, p30, turn");
    std::vector<std::pair<int, int>> heel{{15, 1}};
    for (int k = 2; k <= 14; ++k) heel.emplace_back(k, 1);
    std::vector<std::string> turned = heelRows(heel);
    rounds.insert(rounds.end(), turned.begin(), turned.end());
    rounds.emplace_back(
        "sl1, k14, skp, pick up and knit 17 along the edge, k30, pick up and knit 17 along the edge");
    const auto gusset = rounds.size();
    for (int i = 0; i < 10; ++i) {
        rounds.push_back(fmt::format("k{}, k2tog, k32, ssk, k to end", 30 - i));
        rounds.emplace_back("k to end");
    }
    const Piece sock = knitRows(rounds, 61, true);
    CHECK(sock.counts[4 + kFlap + 13] == 30 + 17);  // the last heel row is still to come
    CHECK(sock.counts[gusset - 1] == 16 + 17 + 30 + 17);
    CHECK(sock.counts[gusset - 1] == 25 + 30 + 25);
    CHECK(sock.counts.back() == 60);
    CHECK(sock.counts.back() == 15 + 30 + 15);

    // The stitches picked up: as many on each side, each out of a stitch of its own.
    const Fabric& f = *sock.knitting.fabric;
    std::set<std::int32_t> edge;
    int picked = 0;
    for (std::int32_t e = 0; e < f.entryCount(); ++e) {
        if (!f.has(EntryId{e}) || !f.isLoop(EntryId{e})) continue;
        const LinkId link = f[EntryId{e}].firstLink;
        if (!link || f[link].form.part != Part::bothLegs) continue;
        ++picked;
        edge.insert(f[link].host.value);
    }
    CHECK(picked == 34);
    CHECK(edge.size() == 34);
}

// The same book, helmet: 112 stitches in seven sections, 14 fewer in each narrowing round.
TEST_CASE("a crown in seven sections") {
    std::vector<std::string> rounds;
    for (int section = 16; section > 4; section -= 2)
        rounds.push_back(fmt::format("(k2tog, k{}, ssk) 7 times", section - 4));
    const Piece crown = knitRows(rounds, 112, true);
    CHECK(crown.counts == std::vector<int>{98, 84, 70, 56, 42, 28});
}

// Th. de Dillmont, Encyclopedia of Needlework (1880s), chapter Knitting, toe fig. 363: every tenth stitch,
// with 8 rounds plain after it, then every ninth with 7, and so on to two plain rounds.
TEST_CASE("a toe decreased at ever shorter distances") {
    std::vector<std::string> rounds;
    for (int k = 8; k >= 2; --k) {
        rounds.push_back(fmt::format("*k{}, k2tog; rep from * to end", k));
        rounds.insert(rounds.end(), static_cast<std::size_t>(k), "k to end");
    }
    CHECK(rounds.size() == 42);
    const Piece toe = knitRows(rounds, 40, true);
    CHECK(toe.counts.front() == 4 * 9);
    CHECK(toe.counts.back() == 4 * 3);
}

// Miss Lambert, My Knitting Book (London, 1843): a square on the bias, one stitch more in each row up to 19,
// then one fewer.
TEST_CASE("a square on the bias") {
    std::vector<std::string> rows;
    for (int i = 0; i < 18; ++i) rows.emplace_back(i == 0 ? "kfb" : "kfb, k to end");
    for (int i = 0; i < 18; ++i) rows.emplace_back(i == 17 ? "k2tog" : "k2tog, k to end");
    const Piece square = knitRows(rows, 1);
    for (int i = 0; i < 18; ++i) {
        CHECK(square.counts[static_cast<std::size_t>(i)] == i + 2);
        CHECK(square.counts[static_cast<std::size_t>(18 + i)] == 18 - i);
    }
    CHECK(square.counts[17] == 19);
}

// Handbook of Wool Knitting and Crochet (1918), sweater: 85 stitches, narrowed one at each side in every
// other row three times; the neck is bound off between two shoulders.
TEST_CASE("armholes and a neck") {
    std::vector<std::string> rows;
    for (int i = 0; i < 3; ++i) {
        rows.emplace_back("k2tog, k to last 2 sts, ssk");
        rows.emplace_back("p to end");
    }
    rows.emplace_back("k31, bind off 17, k31");
    rows.emplace_back("p31, turn");
    rows.emplace_back("k31");
    const Piece sweater = knitRows(rows, 85);
    CHECK(sweater.counts[5] == 79);
    CHECK(79 == 31 + 17 + 31);
    CHECK(sweater.counts.back() == 31 + 31);
    CHECK(sweater.knitting.knitter.aheadCount() == 62);
}

// Derived: 36 decreases over 140 rows are 4 in every third row and 32 in every fourth (4 x 3 + 32 x 4 = 140).
TEST_CASE("decreases spread over rows, increases over a round") {
    std::vector<std::string> rows;
    int decreases = 0;
    for (int i = 0; i < 36; ++i) {
        const int each = i < 4 ? 3 : 4;
        for (int r = 1; r < each; ++r) rows.emplace_back(rows.size() % 2 == 0 ? "k to end" : "p to end");
        rows.emplace_back(rows.size() % 2 == 0 ? "k1, ssk, k to end" : "p1, p2tog, p to end");
        ++decreases;
    }
    CHECK(decreases == 36);
    CHECK(rows.size() == 140);
    CHECK(knitRows(rows, 60).counts.back() == 60 - 36);
    // A published article on increasing evenly: 51 stitches, 4 more in the round, after 13, 26, 39 and 51.
    const Piece round =
        knitRows({"k to end", "k13, m1l, k13, m1l, k13, m1l, k12, m1l", "k to end"}, 51, true);
    CHECK(round.counts == std::vector<int>{51, 55, 55});
}
