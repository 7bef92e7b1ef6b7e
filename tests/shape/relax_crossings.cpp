// SPDX-License-Identifier: MIT
//
// Relaxation moves yarn and never changes the knot.
#include <catch2/catch.hpp>

#include <cmath>

#include "shape/patch.h"
#include "shape/relax_monitor.h"
#include "shape/relax_scenes.h"

using namespace loopmend;

namespace {

Rod straight(Point3 from, Point3 to, int points) {
    Rod rod;
    for (int i = 0; i < points; ++i) rod.points.push_back(mix(from, to, i / (points - 1.0)));
    rod.rest.assign(static_cast<std::size_t>(points) - 1, length(to - from) / (points - 1));
    return rod;
}

/// Signed crossings of one course with the next one and all its images along the row, by Gauss's integral.
double courseLinking(const Rods& patch, int images) {
    const auto course = [&](int image, double up) {
        Rod rod = patch.rods[0];
        rod.points.push_back(rod.points.front() + Point3{patch.periodX, 0, 0});
        for (Point3& p : rod.points) p = p + Point3{image * patch.periodX, up, 0};
        return rod;
    };
    double sum = 0;
    for (int image = -images; image <= images; ++image) {
        Rods two;
        two.unit = patch.unit;
        two.rods = {course(0, 0), course(image, patch.periodY)};
        PlannedCrossing all;
        all.underRod = 1;
        sum += localLinking(two, all, 1 << 20);
    }
    return sum;
}

}  // namespace

TEST_CASE("every planned crossing is still there at rest, and no yarn in another") {
    struct Scene {
        const char* name;
        Swatch swatch;
    };
    const Scene scenes[] = {
        {"stockinette", {10, 10, {"k"}}},        {"garter", {10, 10, {"k", "p"}}},
        {"rib", {10, 10, {"kkppkkppkk"}}},       {"seed", {9, 8, {"kpkpkpkpk", "pkpkpkpkp"}}},
        {"twisted", {8, 8, {"k", "kkktkkkk"}}},  {"slipped", {9, 8, {"kkskkkskk", "k"}}},
        {"eyelets", {9, 8, {"kkko/kkkk", "k"}}},
    };
    for (const Scene& scene : scenes) {
        CAPTURE(scene.name);
        const Swatch& s = scene.swatch;
        const Knitting k = knitted(s);
        const Drawn d = drawn(*k.fabric);
        const auto relaxed = relax(d.rods.rods, {});
        if (!relaxed) FAIL(sentence(relaxed.error()));
        CHECK(relaxed->figures.crossings > 3 * s.stitches * s.rows);
        CHECK(relaxed->figures.worstReach < 1);
        CHECK(relaxed->figures.nearest >= 0.9);
        const Path back = pathOfRods({relaxed->rods, d.rods.entries, d.rods.links}, d.path);
        CHECK(back.strands.size() == d.path.strands.size());
    }
}

TEST_CASE("courses of a fabric without edges are linked as they were") {
    // Two-periodic links: Markande & Matsumoto, Knotty knits are tangles on tori, Bridges 2020, 103-112.
    const Rods before = rodsOfPatch({});
    const auto after = relax(before, frictionless(4000));
    REQUIRE(after);
    CHECK(courseLinking(after->rods, 30) == Approx(courseLinking(before, 30)).margin(1e-3));
}

TEST_CASE("a strand that went through another is found") {
    Rods hooked;
    hooked.rods = {straight({-12, 0, 1}, {12, 0, 1}, 25), straight({0.3, -12, -1}, {0.3, 12, -1}, 25)};
    const auto planned = plannedCrossings(hooked);
    REQUIRE(planned.size() == 1);
    CHECK(changedCrossings(hooked, hooked, planned).empty());
    Rods moved = hooked;
    for (Point3& p : moved.rods[1].points) p.z += 0.8;  // near the other one
    CHECK(changedCrossings(hooked, moved, planned).empty());
    for (Point3& p : moved.rods[1].points) p.z += 3.2;  // through it
    CHECK(changedCrossings(hooked, moved, planned) == std::vector<int>{0});
}

TEST_CASE("strands that nearly touch are pulled apart to the side where they were planned") {
    for (const double gap : {0.02, -0.02}) {
        CAPTURE(gap);
        Rods rods;
        rods.rods = {straight({-10, 0, gap}, {10, 0, gap}, 11), straight({0, -10, 0}, {0, 10, 0}, 11)};
        RelaxOptions options;
        options.flatten = 0;
        options.most = 400;
        const auto relaxed = relax(rods, options);
        REQUIRE(relaxed);
        const double z = relaxed->rods.rods[0].points[5].z - relaxed->rods.rods[1].points[5].z;
        CHECK(std::copysign(1.0, z) == std::copysign(1.0, gap));
        CHECK(std::abs(z) >= 1.8);
        CHECK(relaxed->figures.worstReach < 1);
    }
}

TEST_CASE("strands that lie in one another are refused, not guessed") {
    Rods rods;
    rods.rods = {straight({-10, 0, 0}, {10, 0, 0}, 11), straight({0, -10, 0}, {0, 10, 0}, 11)};
    RelaxOptions options;
    options.pullApart = false;
    const auto r = relax(rods, options);
    REQUIRE_FALSE(r);
    CHECK(r.error().kind == RelaxFault::Kind::strandsTouch);
}

TEST_CASE("strands drawn far longer than they are at rest are still seen where they nearly touch") {
    // They cross at the ends of long pieces, whose middles lie farther apart than two pieces at rest reach.
    Rods rods;
    rods.rods = {straight({-24.2, 0, 0}, {15.8, 0, 0}, 6), straight({0, -24.2, 0.1}, {0, 15.8, 0.1}, 6)};
    for (Rod& rod : rods.rods) {
        for (double& rest : rod.rest) rest = 1;
    }
    RelaxOptions options;
    options.pullApart = false;
    options.most = 1;
    const auto relaxed = relax(rods, options);
    REQUIRE(relaxed);
    CHECK(relaxed->figures.everNearest == Approx(0.05).margin(1e-3));
}

TEST_CASE("a hard pull does not get a strand through another") {
    // The lower strand is held; the upper one wants to be a quarter as long and lies round it.
    Rods rods;
    Rod held = straight({0, -6, 0}, {0, 6, 0}, 13);
    held.fixed.assign(held.points.size(), 1);
    Rod bow;
    for (int i = -10; i <= 10; ++i) bow.points.push_back({1.2 * i, 0.3, 2.2 - 0.0864 * i * i});
    for (std::size_t i = 0; i + 1 < bow.points.size(); ++i)
        bow.rest.push_back(0.25 * length(bow.points[i + 1] - bow.points[i]));
    bow.fixed.assign(bow.points.size(), 0);
    bow.fixed.front() = bow.fixed.back() = 1;
    rods.rods = {held, bow};
    RelaxOptions options;
    options.flatten = 0;
    options.most = 800;
    options.step = 5;  // would jump across without the limit
    const auto relaxed = relax(rods, options);
    REQUIRE(relaxed);
    CHECK(relaxed->rods.rods[1].points[10].z > relaxed->rods.rods[0].points[6].z);
    CHECK(relaxed->figures.worstReach < 1);
}
