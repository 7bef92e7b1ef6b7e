// SPDX-License-Identifier: MIT
//
// After a hand move only the neighbourhood moves.
#include <catch2/catch.hpp>

#include "fabric/hands.h"
#include "shape/relax_monitor.h"
#include "shape/relax_near.h"
#include "shape/relax_scenes.h"

using namespace loopmend;

namespace {

PathRods atRest(const Drawn& d) {
    const auto relaxed = relax(d.rods.rods, {});
    REQUIRE(relaxed);
    return {relaxed->rods, d.rods.entries, d.rods.links};
}

}  // namespace

TEST_CASE("one stitch purled instead of knitted: its surroundings give way, the rest lies still") {
    const Knitting plain = knitted({12, 12, {"k"}});
    Swatch s{12, 12, std::vector<std::string>(12, "k")};
    s.chart[5] = "kkkkkpkkkkkk";
    const Knitting wrong = knitted(s);
    const PathRods lay = atRest(drawn(*plain.fabric));
    const Drawn now = drawn(*wrong.fabric);
    std::vector<EntryId> changed;
    for (std::int32_t e = 0; e < wrong.fabric->entryCount(); ++e) {
        const Fabric& f = *plain.fabric;
        const Fabric& g = *wrong.fabric;
        if (!g.isLoop(EntryId{e}) || g.linkCount(EntryId{e}) == 0) continue;
        if (f[f[EntryId{e}].firstLink].form.side != g[g[EntryId{e}].firstLink].form.side)
            changed.push_back(EntryId{e});
    }
    REQUIRE(changed.size() == 1);
    RelaxFigures figures;
    const auto near = relaxNear(lay, now.rods, changed, now.path.gauge.stitchMm, {}, &figures);
    if (!near) FAIL(sentence(near.error()));
    CHECK(figures.nearest >= 0.9);
    CHECK(figures.worstReach < 1);
    CHECK(changedCrossings(now.rods.rods, near->rods, plannedCrossings(now.rods.rods)).empty());
    std::size_t still = 0;
    std::size_t all = 0;
    for (std::size_t r = 0; r < lay.rods.rods.size(); ++r) {
        for (std::size_t i = 0; i < lay.rods.rods[r].points.size(); ++i, ++all)
            still += length(lay.rods.rods[r].points[i] - near->rods.rods[r].points[i]) == 0 ? 1U : 0U;
    }
    CHECK(still > all / 2);
    CHECK(still < all);
}

TEST_CASE("a dropped stitch that runs a row stays in its place, and so does the piece") {
    Knitting k = knitted({10, 8, {"k"}});
    const PathRods lay = atRest(drawn(*k.fabric));
    const LoopId loop = k.knitter.ahead()[5];
    REQUIRE(k.knitter.drop(loop));
    CHECK(letRunFrom(*k.fabric, loop, 1) == 1);
    const Drawn now = drawn(*k.fabric);
    RelaxFigures figures;
    const auto near = relaxNear(lay, now.rods, {loop}, now.path.gauge.stitchMm, {}, &figures);
    if (!near) FAIL(sentence(near.error()));
    CHECK(figures.nearest >= 0.9);
    CHECK(changedCrossings(now.rods.rods, near->rods, plannedCrossings(now.rods.rods)).empty());
}

TEST_CASE("nothing changed, nothing moves") {
    const Knitting k = knitted({6, 6, {"k"}});
    const Drawn d = drawn(*k.fabric);
    const PathRods lay = atRest(d);
    CHECK(sameBytes(warmStart(lay, d.rods, {}, 5).rods, lay.rods));
}

TEST_CASE("a dropped loop stays open where it fell") {
    // Common practice: a dropped stitch of wool does not run by itself, and its loop stands open.
    Knitting k = knitted({11, 10, {"k"}});
    const LoopId loop = k.knitter.ahead()[5];
    REQUIRE(k.knitter.drop(loop));
    REQUIRE(letRunFrom(*k.fabric, loop, 3) == 3);
    const Drawn d = drawn(*k.fabric);
    const PathRods lay = atRest(d);
    LoopId open;
    for (std::int32_t e = 0; e < k.fabric->entryCount(); ++e) {
        if (k.fabric->has(EntryId{e}) && k.fabric->isLoop(EntryId{e}) && k.fabric->isOpen(EntryId{e}))
            open = EntryId{e};
    }
    REQUIRE(open);
    const LoopId host = k.fabric->hostsRightToLeft(open).front();
    // Its head stands above the host's head by about half a row or more: not slipped out, not drawn in.
    double head = -1e9;
    double hostHead = -1e9;
    for (std::size_t i = 0; i < lay.entries[0].size(); ++i) {
        if (lay.entries[0][i] == open) head = std::max(head, lay.rods.rods[0].points[i].y);
        if (lay.entries[0][i] == host) hostHead = std::max(hostHead, lay.rods.rods[0].points[i].y);
    }
    CHECK(head - hostHead > 0.5 * d.path.gauge.rowMm);
    CHECK(head - hostHead < 1.8 * d.path.gauge.rowMm);
}
