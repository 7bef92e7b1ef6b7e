// SPDX-License-Identifier: MIT
//
// Which loops can come out of others though no yarn passes through another, and what keeps them in.
#include "shape/relax_links.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

#include "fabric/hands.h"
#include "shape/cloth.h"
#include "shape/relax_monitor.h"
#include "shape/relax_scenes.h"

using namespace loopmend;

namespace {

std::vector<EntryId> looseOf(const PathRods& rods) {
    std::vector<EntryId> loose;
    for (const PathRods::Through& link : rods.links) {
        if (link.loose && std::find(loose.begin(), loose.end(), link.loop) == loose.end())
            loose.push_back(link.loop);
    }
    return loose;
}

/// A net: a yarn-over and a decrease by turns in every row.
Swatch net(int rows) {
    return {13, rows, {"o/o/o/o/o/o/k", "ko/o/o/o/o/o/"}};
}

Rod straight(Point3 from, Point3 to, int points) {
    Rod rod;
    for (int i = 0; i < points; ++i) rod.points.push_back(mix(from, to, i / (points - 1.0)));
    rod.rest.assign(static_cast<std::size_t>(points) - 1, length(to - from) / (points - 1));
    return rod;
}

}  // namespace

TEST_CASE("what the needle holds, however indirectly, cannot slip out; an open loop can") {
    Knitting k = knitted({9, 8, {"k"}});
    Fabric& f = *k.fabric;
    CHECK(drawn(f).rods.links.size() == 9 * 9);
    CHECK(looseOf(drawn(f).rods).empty());
    const LoopId dropped = k.knitter.ahead().back();
    REQUIRE(k.knitter.drop(dropped));
    // Its whole column hangs on it.
    CHECK(looseOf(drawn(f).rods).size() == 9);
    REQUIRE(letRunFrom(f, dropped, 3) == 3);
    CHECK(looseOf(drawn(f).rods).size() == 6);
}

TEST_CASE(
    "a loop's ways through its host tell the side to which it is drawn, also when the piece is turned") {
    Knitting k = knitted({6, 4, {"kpkpkp"}});
    const Fabric& f = *k.fabric;
    PathRods lies = drawn(f).rods;
    for (const double by : {0.0, 1.3, 2.6}) {
        CAPTURE(by);
        int knits = 0;
        int purls = 0;
        for (const PathRods::Through& link : lies.links) {
            if (f[link.host].flags.anchored != 0) continue;
            const WaysThrough ways = waysThrough(lies, link.loop, link.host);
            const bool right = f[f[link.loop].firstLink].form.side == Side::right;
            const int toward = f.run(link.host) == Run::leftward ? -1 : 1;
            CHECK(ways.up == (right ? toward : -toward));
            CHECK(ways.down == -ways.up);
            (right ? knits : purls) += 1;
            // Nor does the host go through the loop, or the loop through one that stands beside its host.
            const LoopId beside = f.loopBefore(link.host);
            if (beside && f[beside].flags.anchored == 0) CHECK(waysThrough(lies, link.loop, beside).up == 0);
        }
        CHECK(knits > 4);
        CHECK(purls > 4);
        for (Rod& rod : lies.rods.rods) {
            for (Point3& p : rod.points)
                p = {p.x * std::cos(1.3) + p.z * std::sin(1.3), p.y,
                     p.z * std::cos(1.3) - p.x * std::sin(1.3)};
        }
    }
}

TEST_CASE("a loop that came out is found, whether or not only loose ones are asked after") {
    Knitting k = knitted({7, 6, {"k"}});
    const LoopId dropped = k.knitter.ahead()[3];
    REQUIRE(k.knitter.drop(dropped));
    const Drawn d = drawn(*k.fabric);
    CHECK(slippedLinks(d.rods, d.rods, true).empty());
    CHECK(slippedLinks(d.rods, d.rods, false).empty());
    PathRods out = d.rods;
    // It lies behind the stitch below instead of in it.
    for (std::size_t r = 0; r < out.entries.size(); ++r) {
        for (std::size_t i = 0; i < out.entries[r].size(); ++i) {
            if (out.entries[r][i] == dropped) out.rods.rods[r].points[i].z = -3;
        }
    }
    CHECK(slippedLinks(d.rods, out, true).size() == 1);
    CHECK(slippedLinks(d.rods, out, false).size() == 1);
}

TEST_CASE("an open loop in a net stays in its yarn-over, and no strand in another") {
    Knitting k = knitted(net(8));
    Fabric& f = *k.fabric;
    const std::vector<LoopId> ahead = k.knitter.ahead();
    REQUIRE(ahead.size() > 6);
    for (const std::size_t i : {std::size_t{4}, std::size_t{5}, std::size_t{6}}) {
        if (f.linkCount(ahead[i]) < 2) continue;
        REQUIRE(k.knitter.drop(ahead[i]));
        break;
    }
    Cloth cloth = Cloth::drawn(f);
    cloth.settle();
    CHECK_FALSE(cloth.fault());
    CHECK(cloth.figures().worstReach < 1);
    CHECK(cloth.figures().nearest >= 0.9);
}

TEST_CASE("what grips gives way to a push and not to a pull") {
    // A strand bent into a bow would straighten; where it grips it stays bent.
    Rods rods;
    Rod bow;
    for (int i = -10; i <= 10; ++i) bow.points.push_back({1.2 * i, 0.04 * i * i, 0});
    for (std::size_t i = 0; i + 1 < bow.points.size(); ++i)
        bow.rest.push_back(length(bow.points[i + 1] - bow.points[i]));
    rods.rods = {bow};
    RelaxOptions options;
    options.flatten = 0;
    options.set = 0;
    options.friction = 0;
    options.most = 600;
    const auto freely = relax(rods, options);
    rods.rods[0].grip.assign(bow.points.size(), 0.1);
    const auto gripping = relax(rods, options);
    REQUIRE(freely);
    REQUIRE(gripping);
    const auto sag = [](const Rods& r) { return r.rods[0].points[0].y - r.rods[0].points[10].y; };
    CHECK(sag(freely->rods) < 0.5 * sag(rods));
    CHECK(sag(gripping->rods) == Approx(sag(rods)).epsilon(0.01));
    // Another strand lies half in it: they come apart all the same.
    rods.rods.push_back(straight({0, -12, 0.9}, {0, 12, 0.9}, 21));
    rods.rods[1].fixed.assign(21, 1);
    const auto pushed = relax(rods, options);
    REQUIRE(pushed);
    CHECK(pushed->figures.nearest >= 0.9);
}
