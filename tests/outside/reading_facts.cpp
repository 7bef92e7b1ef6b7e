// SPDX-License-Identifier: MIT
// What knitters know about when and where a mistake shows, on knittings with mistakes worked in.
#include "patterns_tsv.h"

#include "fabric/itinerary.h"
#include "fault/catalogue.h"
#include "fault/draw.h"
#include "fault/facts.h"
#include "fault/grounds.h"
#include "fault/knit_with.h"
#include "pattern/counts.h"
#include "pattern/parse.h"
#include "reading/answer.h"
#include "reading/counts.h"
#include "reading/landmarks.h"
#include "reading/notice.h"
#include "reading/symptoms.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <array>
#include <cstdlib>
#include <numeric>
#include <string>
#include <string_view>
#include <vector>

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
    std::array<int, kLandmarkKinds> found{};
    std::array<int, kLandmarkKinds> broken{};
    for (const BookPattern& book : bookPatterns()) {
        const auto script = expand(book.pattern, book.castOn(3), static_cast<int>(book.counts.size()));
        REQUIRE(script.has_value());
        const auto knitting = knit(*script);
        REQUIRE(knitting.has_value());
        for (const Side side : {Side::right, Side::wrong}) {
            const Reading reading = readFrom(*knitting->fabric, side);
            for (const Landmark& mark : landmarks(*knitting->fabric, reading)) {
                const auto kind = static_cast<std::size_t>(mark.kind);
                ++found[kind];
                if (mark.breaksAt.empty()) continue;
                ++broken[kind];
                UNSCOPED_INFO(book.id << ": " << words(mark));
            }
        }
    }
    for (std::size_t kind = 0; kind < found.size(); ++kind) {
        INFO(name(static_cast<LandmarkKind>(kind)) << ": " << broken[kind] << " of " << found[kind]);
        const auto is = static_cast<LandmarkKind>(kind);
        // Where holes stand in several motifs one over the other, a motif may look like a broken line; a
        // ridge may be meant to have one V.
        if (is == LandmarkKind::eyelets || is == LandmarkKind::ridge) {
            CHECK(found[kind] > 150);
            CHECK(broken[kind] * 50 < found[kind]);
        } else {
            CHECK(broken[kind] == 0);
        }
    }
    for (const LandmarkKind kind : {LandmarkKind::rib, LandmarkKind::rightLeaning, LandmarkKind::leftLeaning,
                                    LandmarkKind::eyeletRow, LandmarkKind::ridge, LandmarkKind::edge}) {
        INFO(name(kind));
        CHECK(found[static_cast<std::size_t>(kind)] > 10);
    }
}

// Common practice: a twisted stitch shows one row below the row in which it was worked.
TEST_CASE("a twisted stitch is found one row below where it was worked", "[outside]") {
    int tried = 0;
    for (const StockGround ground : {StockGround::stockinette, StockGround::rib}) {
        const Script script = stockGround(ground, 14, 10);
        for (const char* id : {"twist_tbl", "twist_wrap", "twist_pickup"}) {
            for (const FaultPlace& place : placesFor(*findFault(id), script, {}, {3, 8, 3, false})) {
                const FaultyKnitting k = with(script, text(place), After::byReading);
                INFO(name(ground) << " " << text(place));
                std::vector<int> rows;
                for (const Side side : {Side::right, Side::wrong}) {
                    const LookedAt piece(*k.actual.fabric, *k.meant.fabric);
                    for (int row = 1; row <= 10; ++row) {
                        Look look;
                        look.way = LookWay::searchPatch;
                        look.side = side;
                        look.rowFrom = look.rowTo = row;
                        look.columnFrom = 1;
                        look.columnTo = 14;
                        const Sighting seen = answer(look, piece);
                        if (seen.oddity == OddSign::crossedFeet) rows.push_back(row);
                    }
                }
                CHECK(rows == std::vector<int>{place.row - 1});
                ++tried;
            }
        }
    }
    CHECK(tried > 50);
}

// Common practice: one short in lace, suspect a missed yarn-over before a dropped stitch. A stitch left
// behind stands free, and a look sees it in the very row; a yarn-over that was not made leaves nothing but
// the count until the pattern comes again.
TEST_CASE("one short in lace and nothing stands free: a yarn-over is missing", "[outside]") {
    const Script script = lace(false, 12);
    struct Tally {
        int places = 0;
        int shortAtRowEnd = 0;
        int freeLoop = 0;
        int seenInItsRow = 0;
    };
    const auto tally = [&](const char* id) {
        Tally t;
        for (const FaultPlace& place : placesFor(*findFault(id), script, {}, {3, 7, 1, false})) {
            const FaultyKnitting k = with(script, text(place), After::rowEnd);
            ++t.places;
            const LookedAt piece(*k.actual.fabric, *k.meant.fabric, &script);
            const int rows = piece.rows();
            Look count;
            count.way = LookWay::countSpan;
            count.rowFrom = count.rowTo = rows;
            count.columnFrom = 1;
            count.columnTo = piece.width(rows);
            const Sighting counted = answer(count, piece);
            t.shortAtRowEnd += counted.what == Sighting::What::number && counted.by == -1 ? 1 : 0;
            Look stretch;
            stretch.way = LookWay::stretchPatch;
            stretch.rowFrom = 0;
            stretch.rowTo = rows;
            stretch.columnFrom = 1;
            stretch.columnTo = 40;
            t.freeLoop += answer(stretch, piece).what == Sighting::What::place ? 1 : 0;
            const auto seen = firstNoticeable(*k.meant.fabric, *k.actual.fabric);
            t.seenInItsRow += seen && seen->cue != Cue::count && seen->row <= place.row ? 1 : 0;
        }
        return t;
    };
    const Tally missed = tally("missed_yo");
    CHECK(missed.places > 10);
    CHECK(missed.shortAtRowEnd == missed.places);
    CHECK(missed.freeLoop == 0);
    CHECK(missed.seenInItsRow == 0);
    const Tally left = tally("drop_left_behind");
    CHECK(left.places > 10);
    CHECK(left.freeLoop == left.places);
    CHECK(left.seenInItsRow == left.places);
}

// Common practice: two mistakes of +1 and -1 hide in the total and show in the count between markers.
TEST_CASE("two mistakes hide in the total and show between markers", "[outside]") {
    const Script script = lace(false, 8);
    const auto first = parsePlace("missed_yo@5,3");
    const auto second = parsePlace("missed_dec@5,10");
    REQUIRE(first.has_value());
    REQUIRE(second.has_value());
    auto k = knitWith(script, {}, {*first, *second}, After::byReading);
    INFO((k ? std::string() : k.error().message));
    REQUIRE(k.has_value());
    const Reading meant = readFrom(*k->meant.fabric, Side::right);
    const Reading actual = readFrom(*k->actual.fabric, Side::right);
    CHECK(stitchesAfter(meant)[5] == stitchesAfter(actual)[5]);
    const LookedAt piece(*k->actual.fabric, *k->meant.fabric, &script);
    const auto span = [&](int from, int to) {
        Look look;
        look.way = LookWay::countSpan;
        look.rowFrom = look.rowTo = 5;
        look.columnFrom = from;
        look.columnTo = to;
        return answer(look, piece).by;
    };
    CHECK(span(1, piece.width(5)) == 0);
    const std::vector<int> spans = {span(1, 4), span(4, 9), span(9, piece.width(5))};
    CHECK(std::count(spans.begin(), spans.end(), -1) == 1);
    CHECK(std::accumulate(spans.begin(), spans.end(), 0) == 0);
}

// Common practice: right-leaning, the left stitch lies on top; left-leaning, the right stitch lies on top.
// The fabric knows which stitch is in front by the order in which the bight went through them.
TEST_CASE("which stitch lies on top says how a decrease leans", "[outside]") {
    struct Decrease {
        const char* words;
        bool wrongSide;
        Lean lean;
    };
    const std::vector<Decrease> all = {{"k2tog", false, Lean::right}, {"k3tog", false, Lean::right},
                                       {"ssk", false, Lean::left},    {"skp", false, Lean::left},
                                       {"sssk", false, Lean::left},   {"p2tog", true, Lean::right},
                                       {"ssp", true, Lean::left}};
    for (const Decrease& d : all) {
        INFO(d.words);
        const std::string row = std::string(d.wrongSide ? "p3, " : "k3, ") + d.words +
                                (d.wrongSide ? ", p to end" : ", k to end");
        const Pattern pattern = parse("Row 1 (RS): " + std::string(d.wrongSide ? "k" : row) +
                                      "\nRow 2 (WS): " + std::string(d.wrongSide ? row : "p") + "\n");
        REQUIRE(pattern.problems.empty());
        const auto script = expand(pattern, 10, 2);
        REQUIRE(script.has_value());
        const auto knitting = knit(*script);
        REQUIRE(knitting.has_value());
        const Fabric& f = *knitting->fabric;
        int seen = 0;
        for (const ReadRow& read : readFrom(f, Side::right).rows) {
            for (const Cell& cell : read.cells) {
                if (cell.symbol.sight != Sight::together) continue;
                ++seen;
                CHECK(cell.symbol.lean == d.lean);
                // Drawn toward the right side: the last link of the bight lies in front there.
                const std::vector<LoopId> hosts = f.hostsRightToLeft(cell.loop);
                const LoopId front = f[f[cell.loop].lastLink].host;
                CHECK(front == (d.lean == Lean::right ? hosts.back() : hosts.front()));
            }
        }
        CHECK(seen == 1);
    }
}

// Common practice, as a table of when mistakes show: in lace with plain return rows, in lace on every row, in
// stockinette, in rib.
TEST_CASE("when each family of mistakes shows on each ground", "[outside]") {
    struct Ground {
        const char* name;
        Script script;
        bool plainRows;
        bool pattern;
    };
    const std::vector<Ground> grounds = {
        {"eyelets", stockGround(StockGround::eyelets, 15, 11), true, true},
        {"net", stockGround(StockGround::net, 14, 11), false, true},
        {"stockinette", stockGround(StockGround::stockinette, 14, 11), true, false},
        {"rib", stockGround(StockGround::rib, 14, 11), false, false}};
    Attention counts;
    counts.counts = true;
    int tried = 0;
    for (const Ground& ground : grounds) {
        for (const char* id :
             {"missed_yo", "missed_dec", "merged", "dec_yo_swapped", "wrong_lean", "twist_tbl"}) {
            for (const FaultPlace& place : placesFor(*findFault(id), ground.script, {}, {3, 7, 2, false})) {
                const FaultyKnitting k = with(ground.script, text(place), After::byReading);
                const auto seen = firstNoticeable(*k.meant.fabric, *k.actual.fabric);
                REQUIRE(seen.has_value());
                INFO(ground.name << " " << text(place) << ": " << name(seen->cue) << " " << seen->words);
                const std::string_view fault = id;
                if (fault == "twist_tbl") {
                    CHECK(seen->visibility == Visibility::rare);  // rarely
                } else if (fault == "wrong_lean") {
                    // At once to a trained eye, along a line of them; else never.
                    CHECK(seen->visibility != Visibility::plain);
                } else if (fault == "merged") {
                    if (ground.pattern) continue;
                    const auto counted = firstNoticeable(*k.meant.fabric, *k.actual.fabric, counts);
                    REQUIRE(counted.has_value());
                    CHECK(counted->row == place.row);  // at the count
                    CHECK(seen->row == place.row + 1);
                } else {
                    const auto counted = firstNoticeable(*k.meant.fabric, *k.actual.fabric, counts);
                    REQUIRE(counted.has_value());
                    // On the return row to someone who counts, if the count is off at all.
                    if (fault != "dec_yo_swapped") CHECK(counted->row <= place.row + 1);
                    CHECK(seen->row == place.row + (ground.plainRows ? 2 : 1));
                }
                ++tried;
            }
        }
    }
    CHECK(tried > 100);
}

// A perfect eye that knows what was meant finds every mistake, where it was made or a row beside it.
TEST_CASE("every mistake of the catalogue is found where it was made", "[outside]") {
    int standsOut = 0;
    int all = 0;
    for (const Fault* fault : lessonFaults()) {
        const auto example = exampleOf(*fault);
        REQUIRE(example.has_value());
        const Fabric& meant = *example->reading.meant.fabric;
        const Fabric& actual = *example->reading.actual.fabric;
        const LookedAt piece(actual, meant);
        Look look;
        look.way = LookWay::searchPatch;
        look.rowTo = piece.rows();
        look.columnTo = 60;
        const Sighting seen = answer(look, piece);
        INFO(fault->id << ": " << words(look, seen));
        CHECK(seen.what == Sighting::What::place);
        // A moved marker comes out in its own row; the pattern goes wrong in the next one that has any.
        const int later = fault->id == "marker_moved" ? 2 : 1;
        CHECK(std::abs(seen.row - example->place.row) <= later);
        look.way = LookWay::armsLength;
        CHECK(answer(look, piece).what == Sighting::What::ninth);
        look.rowTo = 0;
        // Nothing known of what was meant: most of them stand out by themselves. (A whole row that is another
        // one's lies in the cloth like any other.)
        if (fault->wholeRow) continue;
        ++all;
        const auto catches = [&](Side side) {
            return symptoms(actual, readFrom(actual, side)).size() >
                   symptoms(meant, readFrom(meant, side)).size();
        };
        standsOut += catches(Side::right) || catches(Side::wrong) ? 1 : 0;
    }
    INFO(standsOut << " of " << all);
    CHECK(standsOut * 3 > all * 2);
}
