// SPDX-License-Identifier: MIT
// Two pieces bound off together lie face to face (common practice: right sides inside hides the seam, outside
// shows it as a ridge).
#include "shape/fold.h"

#include <catch2/catch.hpp>

#include "pattern/samplers.h"
#include "shape/cloth.h"
#include "shape/layout.h"

using namespace loopmend;

namespace {

struct Folded {
    Knitting knitting;
    Layout layout;
};

Folded folded(const char* id) {
    const std::vector<Sampler> all = samplers();
    const Sampler* sampler = samplerOf(all, id);
    REQUIRE(sampler != nullptr);
    auto knitting = knitSampler(*sampler);
    REQUIRE(knitting);
    Layout layout = layoutOf(*knitting->fabric);
    return {std::move(*knitting), std::move(layout)};
}

}  // namespace

TEST_CASE("only what is bound off together is folded") {
    CHECK(folded("bind-off").layout.fold.empty());
    CHECK(folded("graft").layout.fold.empty());
    CHECK_FALSE(folded("three-needle-bind-off").layout.fold.empty());
}

TEST_CASE("of each pair the one comes to lie on the other, with the right sides inside or outside") {
    for (const bool inside : {true, false}) {
        const Folded piece = folded(inside ? "three-needle-bind-off" : "three-needle-bind-off-outside");
        const Fold& fold = piece.layout.fold;
        // Away from the face that looks out of the sheet in front of it.
        CHECK((fold.apart() > 0) == inside);
        int pairs = 0;
        for (std::size_t i = 0; i < piece.layout.columns.behind.size(); ++i) {
            const LoopId behind = piece.layout.columns.behind[i];
            if (!behind) continue;
            ++pairs;
            const Point2 there = piece.layout[behind].frame.at;
            const Point2 here = piece.layout.nodes[i].frame.at;
            CHECK(fold.turns(there));
            CHECK_FALSE(fold.turns(here));
            const Point3 turned = fold.folded({there.x, there.y, 0});
            const Point3 stays = fold.folded({here.x, here.y, 0});
            CHECK(turned.x == Approx(stays.x).margin(0.3 * piece.layout.gauge.stitchMm));
            CHECK(turned.z - stays.z == Approx(fold.apart()));
        }
        CHECK(pairs == 6);
    }
}

TEST_CASE(
    "a piece is folded as soon as two stitches are bound off together, and lies flat when that is undone") {
    const std::vector<Sampler> all = samplers();
    Script script = samplerOf(all, "three-needle-bind-off")->script;
    script.rows.pop_back();
    auto knitting = knit(script);
    REQUIRE(knitting);
    const Fabric before = *knitting->fabric;
    ClothOptions options;
    options.mostSteps = 100;
    Cloth cloth = Cloth::drawn(before, options);
    CHECK(cloth.layout().fold.empty());
    REQUIRE(knitting->knitter.bindOffTogether(2));
    cloth.follow(*knitting->fabric);
    CHECK_FALSE(cloth.layout().fold.empty());
    REQUIRE(knitting->knitter.bindOffTogether(1));
    cloth.follow(*knitting->fabric);
    CHECK_FALSE(cloth.layout().fold.empty());
    cloth.settle();
    CHECK_FALSE(cloth.fault());
    cloth.follow(before);
    CHECK(cloth.layout().fold.empty());
}

TEST_CASE("folding goes without a step from one sheet to the other") {
    const Fold fold = folded("three-needle-bind-off").layout.fold;
    Point3 before = fold.folded({-100, 0, 0.4});
    for (double x = -100; x < 20; x += 0.01) {
        const Point3 at = fold.folded({x, 0, 0.4});
        CHECK(length(at - before) < 0.15);
        before = at;
    }
}
