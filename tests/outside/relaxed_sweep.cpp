// SPDX-License-Identifier: MIT
//
// Relaxation of whole pieces: the 75 patterns from public-domain books (patterns.tsv: source, place and ebook
// number in each line) at two repeats, and every fault on every stock ground. The knot is the one that was
// drawn, told from the crossings alone (alexander.h), no loop slips out of another (relax_links.h), and no
// two strands may come nearer than nine tenths of the hard core's diameter (the contact model: centre lines
// of yarns that are not neighbours along the yarn). A few of each are a test; all of them, some minutes:
//   loopmend-test-outside "[.sweep]"
#include <catch2/catch.hpp>

#include <cstdio>
#include <string>
#include <vector>

#include "alexander.h"
#include "fault/catalogue.h"
#include "fault/draw.h"
#include "fault/grounds.h"
#include "fault/knit_with.h"
#include "pattern/counts.h"
#include "pattern/working.h"
#include "patterns_tsv.h"
#include "reading/script.h"
#include "shape/cloth.h"

using namespace loopmend;
using namespace loopmend::outside;

namespace {

/// As `compareKnots`, followed through the relaxation: on the way only a little passes by an end at a time,
/// the fewer steps the less.
Knots followed(const Fabric& fabric, int steps) {
    Cloth cloth = Cloth::drawn(fabric);
    const Path drawn = cloth.path();
    Path last = drawn;
    for (bool more = true; more;) {
        more = cloth.advance(steps);
        // A relaxation in which a loop slipped out begins again as drawn.
        if (compareKnots(last, cloth.path()) != Knots::same &&
            compareKnots(drawn, cloth.path()) != Knots::same)
            return Knots::different;
        last = cloth.path();
    }
    return Knots::same;
}

struct Tally {
    int pieces = 0;
    int faults = 0;
    int close = 0;
    int held = 0;
    int knots = 0;  ///< other ones than drawn
    int untold = 0;
    double nearest = 1;
    std::string bad;

    void print(const std::string& what) const {
        std::printf(
            "%s: %d pieces, %d lost a crossing, %d another knot, %d untold, %d too close, "
            "%d with loops that cling, nearest %.3f\n%s",
            what.c_str(), pieces, faults, knots, untold, close, held, nearest, bad.c_str());
    }

    void lay(const std::string& name, const Fabric& fabric) {
        Cloth cloth = Cloth::drawn(fabric);
        const Path drawn = cloth.path();
        cloth.settle();
        Knots knot = compareKnots(drawn, cloth.path());
        for (const int steps : {10, 5, 2}) {
            if (knot == Knots::different) knot = followed(fabric, steps);
        }
        knots += knot == Knots::different ? 1 : 0;
        untold += knot == Knots::untold ? 1 : 0;
        if (knot == Knots::different) bad += name + ": another knot than drawn\n";
        ++pieces;
        const RelaxFigures figures = cloth.figures();
        const bool lost = cloth.fault().has_value();
        const bool near = !lost && (figures.nearest < 0.9 || figures.worstReach >= 1);
        faults += lost ? 1 : 0;
        close += near ? 1 : 0;
        if (!lost) nearest = std::min(nearest, figures.nearest);
        if (cloth.heldAsDrawn() > 0)
            bad +=
                name + ": " + std::to_string(cloth.heldAsDrawn()) + " loops cling to where they are drawn\n";
        held += cloth.heldAsDrawn() > 0 ? 1 : 0;
        if (lost) bad += name + ": " + sentence(*cloth.fault()) + "\n";
        if (near) bad += name + ": strands " + std::to_string(figures.nearest) + " of a core apart\n";
    }
};

void layPattern(Tally& tally, const BookPattern& book) {
    const auto expanded = expand(book.pattern, book.castOn(2), static_cast<int>(book.counts.size()));
    REQUIRE(expanded.has_value());
    const auto knitting = knit(asRead(*expanded));
    REQUIRE(knitting.has_value());
    tally.lay(book.id + " " + book.name, *knitting->fabric);
}

void layFaults(Tally& tally, const std::vector<const Fault*>& faults, StockGround ground, bool round,
               std::size_t every) {
    const Script script = stockGround(ground, 13, 8, round);
    std::size_t k = 0;
    for (const Fault* fault : faults) {
        const std::vector<FaultPlace> places = placesFor(*fault, script, {});
        if (places.empty() || k++ % every != 0) continue;
        const FaultPlace& place = places[places.size() / 2];
        const auto knitting = knitWith(script, {}, {place}, After::byReading);
        if (!knitting) continue;
        tally.lay(text(place) + " on " + std::string(name(ground)) + (round ? ", round" : ""),
                  *knitting->actual.fabric);
    }
}

}  // namespace

TEST_CASE("patterns and faults keep every crossing when they relax, and no strand enters another") {
    Tally tally;
    const std::vector<BookPattern> books = bookPatterns();
    for (std::size_t i = 0; i < books.size(); ++i) {
        // D08 slips both edges in every one of ten rows and binds off there.
        if (i % 9 == 0 || books[i].id == "D08") layPattern(tally, books[i]);
    }
    layFaults(tally, lessonFaults(), StockGround::stockinette, false, 3);
    layFaults(tally, lessonFaults(), StockGround::eyelets, false, 5);
    layFaults(tally, lessonFaults(), StockGround::cables, false, 5);
    // A first stitch left behind, beside the cut.
    layFaults(tally, lessonFaults(), StockGround::rib, true, 4);
    layFaults(tally, lessonFaults(), StockGround::net, true, 2);
    INFO(tally.bad);
    CHECK(tally.pieces > 20);
    CHECK(tally.faults == 0);
    CHECK(tally.close == 0);
    CHECK(tally.knots == 0);
    CHECK(tally.untold == 0);
}

TEST_CASE("all patterns keep every crossing when they relax", "[.sweep]") {
    Tally tally;
    for (const BookPattern& book : bookPatterns()) layPattern(tally, book);
    tally.print("patterns");
    CHECK(tally.pieces == 75);
    CHECK(tally.faults == 0);
    CHECK(tally.close == 0);
    CHECK(tally.knots == 0);
}

TEST_CASE("all faults keep every crossing when they relax", "[.sweep]") {
    for (const bool round : {false, true}) {
        for (int g = 0; g < kAllStockGrounds; ++g) {
            const auto ground = static_cast<StockGround>(g);
            if (round && !goesRound(ground)) continue;
            Tally tally;
            layFaults(tally, catalogue(), ground, round, 1);
            tally.print(std::string(name(ground)) + (round ? ", round" : ""));
            CHECK(tally.faults == 0);
            CHECK(tally.close == 0);
            CHECK(tally.knots == 0);
        }
    }
}
