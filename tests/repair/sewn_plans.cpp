// SPDX-License-Identifier: MIT
// Ways with a blunt needle: sewn over, sewn down, cut and sewn anew, eased.
#include <algorithm>
#include <catch2/catch.hpp>

#include "fabric/hands.h"
#include "fabric/itinerary.h"
#include "fault/catalogue.h"
#include "fault/draw.h"
#include "fault/grounds.h"
#include "fault/knit_with.h"
#include "repair/uneven.h"
#include "repair/ways_back.h"
#include "repair/workplace.h"
#include "scenes.h"

using namespace loopmend;
using namespace loopmend::scenes;

namespace {

const WayBack* find(const WaysBack& ways, PlanFamily family) {
    for (const WayBack& w : ways.all) {
        if (w.plan.family == family) return &w;
    }
    return nullptr;
}

std::string refusals(const WaysBack& ways) {
    std::string told;
    for (const WaysBack::Refused& r : ways.refused)
        told += std::string(nameOf(r.family)) + ": " + r.why + "\n";
    return told;
}

bool says(const WayBack& way, const char* word) {
    return std::any_of(way.plan.cautions.begin(), way.plan.cautions.end(),
                       [&](const Caution& c) { return c.words.find(word) != std::string::npos; });
}

}  // namespace

TEST_CASE("A wrong row far down may be cut out between two threads and sewn anew", "[ways]") {
    const Script script = stockinette(12, 20);
    Script spoiled = script;
    for (Step& step : spoiled.rows[4].steps) step = {Op::purl};
    const Knitting meant = worked(script);
    Knitting actual = worked(spoiled);
    const WaysBack ways = waysBack(*meant.fabric, script, actual.knitter);
    INFO(refusals(ways));
    const WayBack* cut = find(ways, PlanFamily::snipAndGraft);
    REQUIRE(cut != nullptr);
    CHECK(cut->plan.leaves == Leaves::visible);
    CHECK(says(*cut, "both rows are threaded"));
    // Both rows are threaded before the scissors come.
    int threads = 0;
    for (const PlannedMove& m : cut->plan.moves) {
        if (m.move.kind == MoveKind::thread) ++threads;
        if (m.move.kind == MoveKind::snip) CHECK(threads == 2);
    }
    const auto after = fabricAfter(actual.knitter, cut->plan, 100);
    REQUIRE(after);
    int wrong = 0;
    int right = 0;
    for (std::int32_t i = 0; i < after->entryCount(); ++i) {  // every stitch is drawn to the right side again
        const LoopId l{i};
        if (!after->has(l) || !after->isLoop(l)) continue;
        for (const LinkId k : after->linksOf(l)) ((*after)[k].form.side == Side::right ? right : wrong) += 1;
    }
    int meantWrong = 0;
    for (std::int32_t i = 0; i < meant.fabric->entryCount(); ++i) {
        const LoopId l{i};
        if (!meant.fabric->has(l) || !meant.fabric->isLoop(l)) continue;
        for (const LinkId k : meant.fabric->linksOf(l))
            meantWrong += (*meant.fabric)[k].form.side == Side::wrong ? 1 : 0;
    }
    CHECK(wrong == meantWrong);
    CHECK(right > 0);
}

TEST_CASE("What hangs open may be sewn down, and the count put right beside it", "[ways]") {
    const Script script = stockinette(14, 10);
    const Knitting meant = worked(script);
    Knitting actual = worked(script);
    const LoopId loop = onNeedle(*actual.fabric, 6);
    REQUIRE(actual.knitter.drop(loop));
    REQUIRE(letRunFrom(*actual.fabric, loop, 3) == 3);
    const WaysBack ways = waysBack(*meant.fabric, script, actual.knitter);
    INFO(refusals(ways));
    const WayBack* sewn = find(ways, PlanFamily::fasten);
    REQUIRE(sewn != nullptr);
    CHECK(sewn->plan.leaves >= Leaves::visible);
    const auto after = fabricAfter(actual.knitter, sewn->plan, 100);
    REQUIRE(after);
    Fabric pulled = *after;
    CHECK(letRun(pulled) == 0);  // nothing runs any more
    const WayBack* leave = find(ways, PlanFamily::leave);
    REQUIRE(leave != nullptr);
    CHECK(leave->plan.moves.size() == 1);  // the pin
    REQUIRE(ways.best);
    CHECK(ways.all[*ways.best].plan.family == PlanFamily::column);
}

TEST_CASE("A stitch of the wrong color may be sewn over", "[ways]") {
    const Script script = stockGround(StockGround::stranded, 16, 10);
    for (int row = 3; row < 8; ++row) {
        for (int stitch = 3; stitch < 12; ++stitch) {
            auto k = knitWith(script, {}, {{"wrong_colour", row, stitch, 0}}, After::byReading);
            if (!k) continue;
            const WaysBack ways = waysBack(*k->meant.fabric, script, k->actual.knitter);
            INFO(row << "," << stitch << "\n" << refusals(ways));
            const WayBack* over = find(ways, PlanFamily::duplicateOver);
            REQUIRE(over != nullptr);
            CHECK(over->plan.leaves == Leaves::visible);
            CHECK(fabricAfter(k->actual.knitter, over->plan, 100).has_value());
            return;
        }
    }
    FAIL("no place for a wrong color");
}

TEST_CASE("A snag is eased, never cut", "[ways]") {
    const Script script = stockGround(StockGround::stockinette, 18, 12);
    auto k = knitWith(script, {}, {{"snag", 6, 9, 0}}, After::byReading);
    REQUIRE(k);
    const WaysBack ways = waysBack(*k->meant.fabric, script, k->actual.knitter);
    INFO(refusals(ways));
    const WayBack* ease = find(ways, PlanFamily::ease);
    REQUIRE(ease != nullptr);
    CHECK(ease->plan.proved);
    CHECK(says(*ease, "Never cut a snag"));
    for (const PlannedMove& m : ease->plan.moves) CHECK(m.move.kind == MoveKind::drawSlack);
    const auto after = fabricAfter(k->actual.knitter, ease->plan, 100);
    REQUIRE(after);
    CHECK(knotOf(*after) == knotOf(*k->meant.fabric));
    // As it was meant, there is nothing to do.
    CHECK(waysBack(*k->meant.fabric, script, k->meant.knitter).all.empty());
}

TEST_CASE("A short strand behind is eased from the stitches of its yarn on both sides", "[ways]") {
    // Common practice: slack drawn from the stitches beside it, one leg at a time; it helps a little, and
    // where the yarn has too few stitches near by the strand still shows.
    int exact = 0;
    for (const StockGround ground : {StockGround::stranded, StockGround::caught}) {
        for (const bool round : {false, true}) {
            const Script script = stockGround(ground, 13, 8, round);
            const std::vector<FaultPlace> places = placesFor(*findFault("float_tight"), script, {});
            REQUIRE_FALSE(places.empty());
            for (std::size_t i = 0; i < places.size(); i += 5) {
                auto k = knitWith(script, {}, {places[i]}, After::byReading);
                REQUIRE(k);
                const WaysBack ways = waysBack(*k->meant.fabric, script, k->actual.knitter);
                INFO(name(ground) << (round ? " in the round " : " ") << text(places[i]) << "\n"
                                  << refusals(ways));
                const WayBack* ease = find(ways, PlanFamily::ease);
                REQUIRE(ease != nullptr);
                CHECK(ease->plan.proved);
                CHECK(says(*ease, "Stretch the cloth"));
                const auto after = fabricAfter(k->actual.knitter, ease->plan, 100);
                REQUIRE(after);
                const Fabric& was = *k->actual.fabric;
                CHECK(knotOf(*after) == knotOf(*k->meant.fabric));
                CHECK(after->totalUm() == was.totalUm());
                for (const PlannedMove& m : ease->plan.moves) {
                    REQUIRE(m.move.kind == MoveKind::drawSlack);
                    REQUIRE(m.move.strand);
                    CHECK((*after)[m.move.strand].strandUm > was[m.move.strand].strandUm);
                    CHECK(m.words.find("short strand") != std::string::npos);
                }
                // No stitch gives more than a sixth.
                for (std::int32_t e = 0; e < was.entryCount(); ++e) {
                    const LoopId l{e};
                    if (was.has(l) && was.isLoop(l)) CHECK((*after)[l].um * 6 >= was[l].um * 5 - 6);
                }
                exact += ease->plan.leaves == Leaves::exact ? 1 : 0;
                CHECK(nothingToMend(*k->meant.fabric, *after) == (ease->plan.leaves == Leaves::exact));
            }
        }
    }
    CHECK(exact > 10);
}

TEST_CASE("A strand that is long because it goes by stitches is not slack", "[moves][slack]") {
    const Script script = stockGround(StockGround::stranded, 13, 6);
    auto k = knit(script);
    REQUIRE(k);
    Workplace place(k->knitter);
    const Fabric& f = *k->fabric;
    int floats = 0;
    for (std::int32_t e = 0; e < f.entryCount(); ++e) {
        const LoopId l{e};
        if (!f.has(l) || !f.isLoop(l) || !f[l].next || f.isLoop(f[l].next) || f.isFree(f[l].next)) continue;
        Move slack;
        slack.kind = MoveKind::drawSlack;
        slack.strand = l;
        const Result<LoopId> drawn = place.perform(slack);
        ++floats;
        CHECK_FALSE(drawn);
    }
    CHECK(floats > 10);
}
