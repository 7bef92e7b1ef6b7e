// SPDX-License-Identifier: MIT
//
// The same yarn always comes to rest in the same place.
#include <catch2/catch.hpp>

#include "shape/patch.h"
#include "shape/relax_scenes.h"

using namespace loopmend;

TEST_CASE("any number of threads gives the same bytes") {
    const Knitting k = knitted({12, 12, {"kkpkkpkkpkkp", "kpkpkpkpkpkp"}});
    const Drawn d = drawn(*k.fabric);
    RelaxOptions options;
    options.most = 260;
    options.ramp = 100;
    options.settle = 100;
    options.alarm = false;
    options.threads = 1;
    const auto one = relax(d.rods.rods, options);
    REQUIRE(one);
    for (const int threads : {2, 3, 5}) {
        CAPTURE(threads);
        options.threads = threads;
        const auto more = relax(d.rods.rods, options);
        REQUIRE(more);
        CHECK(sameBytes(one->rods, more->rods));
        CHECK(one->figures.energy == more->figures.energy);
    }
}

TEST_CASE("looking on does not change what is seen") {
    const Knitting k = knitted({6, 6, {"k"}});
    const Drawn d = drawn(*k.fabric);
    RelaxOptions options;
    options.most = 150;
    options.alarm = false;
    const auto whole = relax(d.rods.rods, options);
    REQUIRE(whole);
    auto steps = Relaxing::begin(d.rods.rods, options);
    REQUIRE(steps);
    while (steps->advance(7)) (void)steps->rods();
    CHECK(steps->figures().steps == whole->figures.steps);
    CHECK(sameBytes(steps->rods(), whole->rods));
}

TEST_CASE("inches or millimetres: the shape does not depend on the unit") {
    Patch patch;
    const auto small = relax(rodsOfPatch(patch), frictionless(3000));
    patch.l *= 16;
    patch.d *= 16;
    const auto large = relax(rodsOfPatch(patch), frictionless(3000));
    REQUIRE(small);
    REQUIRE(large);
    CHECK(large->rods.periodX == Approx(16 * small->rods.periodX).epsilon(1e-6));
}

TEST_CASE("a piece that has settled stays as it lies") {
    // Without friction the yarn of live and open loops would go on creeping for thousands of steps.
    const Knitting k = knitted({10, 10, {"k"}});
    const Drawn d = drawn(*k.fabric);
    RelaxOptions options;
    const auto first = relax(d.rods.rods, options);
    REQUIRE(first);
    CHECK(first->figures.atRest);
    options.restForce = 0;
    options.most = first->figures.steps + 1500;
    const auto longer = relax(d.rods.rods, options);
    REQUIRE(longer);
    CHECK(longer->figures.steps == options.most);
    CHECK(mostMoved(first->rods, longer->rods) < 0.35);
    options.friction = 0;
    const auto sliding = relax(d.rods.rods, options);
    REQUIRE(sliding);
    CHECK(mostMoved(first->rods, sliding->rods) > 1);
}

TEST_CASE("rods whose sizes do not fit are refused") {
    Rods rods;
    rods.rods.push_back({});
    rods.rods[0].points = {{0, 0, 0}, {1, 0, 0}, {2, 0, 0}};
    rods.rods[0].rest = {1};
    const auto r = relax(rods);
    REQUIRE_FALSE(r);
    CHECK(r.error().kind == RelaxFault::Kind::badRods);
    CHECK_FALSE(sentence(r.error()).empty());
}
