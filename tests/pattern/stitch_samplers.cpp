// SPDX-License-Identifier: MIT
// What hands do to the samplers of stitches and colors: taken back, let run, put down and taken up again.
#include <algorithm>
#include <catch2/catch.hpp>

#include <fmt/format.h>

#include "fabric/hands.h"
#include "fabric/itinerary.h"
#include "pattern/samplers.h"
#include "pattern/working_yarns.h"

using namespace loopmend;

namespace {

std::vector<Sampler> stitchesAndColors() {
    std::vector<Sampler> all = stitchSamplers();
    for (Sampler& sampler : colourSamplers()) all.push_back(std::move(sampler));
    return all;
}

/// Hands' undo leaves a bar on the needle, the upper loop of a tuck beside it, and what fell has fallen.
bool comesBackWhole(const Step& step) {
    switch (step.op) {
        case Op::letFall:
        case Op::knitBelow:
        case Op::purlBelow:
        case Op::m1Left:
        case Op::m1Right:
        case Op::m1PurlLeft:
        case Op::m1PurlRight:
        case Op::m1Open:
        case Op::slipKnitwiseBack:
        case Op::slipKnitwiseFront: return false;
        default: return true;
    }
}

}  // namespace

TEST_CASE("stitches and colors: a row taken back leaves the knot as it was, and is worked again the same") {
    for (const bool mirrored : {false, true}) {
        for (const Sampler& sampler : stitchesAndColors()) {
            Setup setup = sampler.setup;
            setup.mirrored = mirrored;
            Knitting knitting = castOn(sampler.script, setup);
            for (const WorkedRow& row : sampler.script.rows) {
                INFO(sampler.id << " row " << row.number << (mirrored ? ", mirrored" : ""));
                const bool whole = std::all_of(row.steps.begin(), row.steps.end(), comesBackWhole);
                const std::string before = knotOf(*knitting.fabric);
                REQUIRE(workRow(knitting.knitter, row));
                if (whole && row.number <= sampler.row + 1) {
                    const std::string worked = knotOf(*knitting.fabric);
                    for (int i = 0; i < 100 && knitting.knitter.rowBegun(); ++i)
                        REQUIRE(knitting.knitter.tink());
                    (void)knitting.knitter.uncross();
                    CHECK(knotOf(*knitting.fabric) == before);
                    REQUIRE(workRow(knitting.knitter, row));
                    CHECK(knotOf(*knitting.fabric) == worked);
                }
                endRow(knitting.knitter);
            }
        }
    }
}

TEST_CASE("stitches and colors: any column let run keeps all its yarn, and is the same read from its text") {
    for (const Sampler& sampler : stitchesAndColors()) {
        INFO(sampler.id);
        auto knitting = knitSampler(sampler);
        REQUIRE(knitting);
        Fabric& f = *knitting->fabric;
        const Itinerary whole = itinerary(f);
        const auto again = fabricFrom(whole);
        REQUIRE(again);
        CHECK(itinerary(*again).knot == whole.knot);
        CHECK(itinerary(*again).measure == whole.measure);
        const std::int64_t yarn = f.totalUm();
        const JournalMark mark = f.mark();
        for (const LoopId loop : {knitting->knitter.ahead()[3], knitting->knitter.ahead()[6]}) {
            REQUIRE(knitting->knitter.drop(loop));
            CHECK(letRun(f) > 0);
            CHECK(letRun(f) == 0);
            CHECK(f.totalUm() == yarn);
            const Itinerary run = itinerary(f);
            const auto read = fabricFrom(run);
            REQUIRE(read);
            CHECK(itinerary(*read).knot == run.knot);
            CHECK(itinerary(*read).measure == run.measure);
            f.rollBack(mark);
        }
        CHECK(itinerary(f).measure == whole.measure);
    }
}

TEST_CASE("stitches and colors: put down as text and taken up again, the next rows make the same knot") {
    for (const Sampler& sampler : stitchesAndColors()) {
        INFO(sampler.id);
        const auto whole = knit(sampler.script, sampler.setup);
        REQUIRE(whole);
        Script begun = sampler.script;
        begun.rows.resize(static_cast<std::size_t>(sampler.row));
        const auto half = knit(begun, sampler.setup);
        REQUIRE(half);
        auto fabric = fabricFrom(itinerary(*half->fabric));
        REQUIRE(fabric);
        Knitter knitter(*fabric, YarnId{0}, half->knitter.facing(), sampler.script.round);
        if (sampler.script.yarns.size() > 1) layOutYarns(knitter, sampler.script.yarns);
        for (std::size_t r = begun.rows.size(); r < sampler.script.rows.size(); ++r) {
            REQUIRE(workRow(knitter, sampler.script.rows[r]));
            endRow(knitter);
        }
        CHECK(knotOf(*fabric) == knotOf(*whole->fabric));
    }
}
