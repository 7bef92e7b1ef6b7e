// SPDX-License-Identifier: MIT
// Rows of several yarns worked, and every sampler's rows said in words and read again.
#include "support.h"

#include <algorithm>

#include <catch2/catch.hpp>

#include <fmt/format.h>

#include "fabric/itinerary.h"
#include "pattern/counts.h"
#include "pattern/samplers.h"
#include "pattern/working_yarns.h"

using namespace loopmend;
using loopmend::testing::told;

namespace {

Script scriptOf(const std::string& text, int stitches, int rows) {
    const Pattern pattern = parse(text);
    INFO(told(pattern.problems));
    REQUIRE(pattern.problems.empty());
    auto script = expand(pattern, stitches, rows);
    if (!script) FAIL(script.error().message);
    return *script;
}

const std::string kBlocks =
    "Yarns: A, B, A2.\nRow 1 (RS): with A k4, with B k4, with A2 k4.\n"
    "Rows 3, 5: with A k4, with B linked k4, with A2 linked k4.\n"
    "Rows 2, 4, 6: with A2 p4, with B linked p4, with A linked p4.\n";

}  // namespace

TEST_CASE("steps say which yarn: as many yarns in the fabric, each of its color, each from its own ball") {
    const Script script = scriptOf(kBlocks, 12, 6);
    const auto knitting = knit(script);
    REQUIRE(knitting);
    const Fabric& f = *knitting->fabric;
    REQUIRE(f.yarnCount() == 3);
    CHECK(f[YarnId{0}].flags.colour == 'A');
    CHECK(f[YarnId{1}].flags.colour == 'B');
    CHECK(f[YarnId{2}].flags.colour == 'A');
    int passes = 0;
    for (std::int32_t i = 0; i < f.entryCount(); ++i)
        passes += f.has(EntryId{i}) && !f.isLoop(EntryId{i}) ? 1 : 0;
    CHECK(passes == 2 * 5);
    // Not linked, the same stitches are another knot.
    Script slit = script;
    for (WorkedRow& row : slit.rows)
        for (Step& step : row.steps) step.link = false;
    const auto apart = knit(slit);
    REQUIRE(apart);
    CHECK(knotOf(*apart->fabric) != knotOf(f));
}

TEST_CASE("a fabric of several yarns read back from its text is worked on as if it had never been put down") {
    const Script script = scriptOf(kBlocks, 12, 6);
    const auto whole = knit(script);
    REQUIRE(whole);
    Script begun = script;
    begun.rows.resize(4);
    const auto half = knit(begun);
    REQUIRE(half);
    auto fabric = fabricFrom(itinerary(*half->fabric));
    REQUIRE(fabric);
    // The yarn in hand is the one that ended the last row; it is asked for by its color and number.
    Knitter knitter(*fabric, YarnId{0}, half->knitter.facing());
    layOutYarns(knitter, script.yarns);
    for (std::size_t r = 4; r < script.rows.size(); ++r) {
        const auto worked = workRow(knitter, script.rows[r]);
        if (!worked) FAIL(sentence(worked.error()));
        endRow(knitter);
    }
    CHECK(knotOf(*fabric) == knotOf(*whole->fabric));
}

TEST_CASE(
    "a yarn that is not at hand, and a link at the beginning of a row, are refused and change nothing") {
    Script script =
        scriptOf("Yarns: A, B.\nRow 1 (RS): with A k3, with B k3.\nRow 2: with B p3, with A p3.\n", 6, 2);
    for (const bool link : {false, true}) {
        Knitting knitting = castOn(script);
        REQUIRE(workRow(knitting.knitter, script.rows[0]));
        endRow(knitting.knitter);
        const Itinerary before = itinerary(*knitting.fabric);
        Step step;
        step.op = Op::purl;
        step.yarn = link ? 0 : 5;
        step.link = link;
        const Result<void> worked = work(knitting.knitter, step);
        REQUIRE_FALSE(worked);
        CHECK(worked.error().why == (link ? Why::nothingBefore : Why::noBall));
        const Itinerary after = itinerary(*knitting.fabric);
        CHECK(after.knot == before.knot);
        CHECK(after.measure == before.measure);
        CHECK(knitting.knitter.yarn() == YarnId{1});
    }
}

TEST_CASE("brioche and fisherman's rib keep their count, and both let go of two strands a stitch") {
    const std::vector<Sampler> all = samplers();
    for (const char* id : {"brioche", "fishermans-rib"}) {
        const Sampler* sampler = samplerOf(all, id);
        REQUIRE(sampler);
        const auto knitting = knitSampler(*sampler);
        REQUIRE(knitting);
        const Fabric& f = *knitting->fabric;
        int tucks = 0;
        for (std::int32_t i = 0; i < f.entryCount(); ++i) {
            const EntryId e{i};
            if (!f.has(e) || !f.isLoop(e) || f.linkCount(e) != 2) continue;
            const std::vector<LoopId> hosts = f.hostsRightToLeft(e);
            if (hosts.size() == 2 && (f.linkCount(hosts[0]) == 0) != (f.linkCount(hosts[1]) == 0)) ++tucks;
        }
        CAPTURE(id);
        CHECK(tucks >= 60);
    }
}

TEST_CASE("every sampler: its rows said in words are the same steps when read again") {
    for (const Sampler& sampler : samplers()) {
        int stitches = sampler.script.castOn;
        for (const WorkedRow& row : sampler.script.rows) {
            int used = 0;
            int made = 0;
            bool ours = true;
            for (const Step& step : row.steps) {
                used += uses(step);
                made += makes(step);
                ours = ours && (step.op < Op::turn || step.op > Op::bindOffTogether) &&
                       step.op != Op::bindOff && step.op != Op::bindOffPurl && step.op != Op::castOn &&
                       step.op != Op::hold;
            }
            if (!ours || used != stitches) break;  // turns and edges have tests of their own
            const std::string words = printSteps(row.steps, Terms::us, sampler.script.yarns);
            INFO(sampler.id << " row " << row.number << ": " << words);
            std::string text = "Yarns:";
            for (std::size_t i = 0; i < sampler.script.yarns.size(); ++i) {
                const auto ball =
                    1 + std::count(sampler.script.yarns.begin(),
                                   sampler.script.yarns.begin() + static_cast<std::ptrdiff_t>(i),
                                   sampler.script.yarns[i]);
                text += fmt::format("{} {}{}", i == 0 ? "" : ",", sampler.script.yarns[i],
                                    ball == 1 ? std::string() : std::to_string(ball));
            }
            text += fmt::format(".\nRow 1{}: {}.\n", row.facing == Facing::right ? "" : " (WS)", words);
            const Pattern pattern = parse(text);
            CHECK(told(pattern.problems).empty());
            const auto script = expand(pattern, stitches, 1);
            REQUIRE(script);
            CHECK(script->rows[0].steps == row.steps);
            stitches = made;
        }
    }
}
