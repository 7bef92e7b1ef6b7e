// SPDX-License-Identifier: MIT
#include "picture/telling.h"

#include <catch2/catch.hpp>

#include <optional>

#include "pattern/samplers.h"
#include "reading/read.h"
#include "shape/cloth.h"

using namespace loopmend;

namespace {

/// A sampler as it lies, and where its stitch lies.
struct Lying {
    Knitting knitting;
    Cloth cloth;
    Point2 at;

    Likeness likeness() const { return {&cloth.path(), at}; }
};

Lying lying(const char* id) {
    const std::vector<Sampler> all = samplers();
    const Sampler* sampler = samplerOf(all, id);
    REQUIRE(sampler != nullptr);
    auto knitting = knitSampler(*sampler);
    REQUIRE(knitting);
    Cloth cloth = Cloth::drawn(*knitting->fabric);
    cloth.settle();
    const Reading reading = readFrom(*knitting->fabric, Side::right);
    const Cell* cell = cellAt(reading, sampler->row, sampler->stitch);
    REQUIRE(cell != nullptr);
    const Point2 at = flat(middleOf(cloth.path(), {cell->loop}));
    return {std::move(*knitting), std::move(cloth), at};
}

/// Of a piece of 40 rows on 800 pixels.
View asHeld(const Lying& piece) {
    View view;
    view.pixelsPerMm = 800 / (40 * piece.cloth.path().gauge.rowMm);
    return view;
}

}  // namespace

TEST_CASE("a purl among knits is seen at once; a twisted stitch wants a better view") {
    const Lying plain = lying("k");
    const Lying purl = lying("p");
    const Lying twisted = lying("k-tbl");
    const View held = asHeld(plain);
    CHECK(betterView(purl.likeness(), plain.likeness(), held).asHeld());
    const WayOfLooking way = betterView(twisted.likeness(), plain.likeness(), held);
    CHECK_FALSE(way.asHeld());
    CHECK(way.plain());
    CHECK(way.told > 1.5 * toldApart(twisted.likeness(), plain.likeness(), held, WayOfLooking{}));
    // The same cloth tells nothing, from wherever it is looked at.
    const WayOfLooking none = betterView(plain.likeness(), plain.likeness(), held);
    CHECK(none.told == 0);
    CHECK_FALSE(none.plain());
}

TEST_CASE("nearer shows more; the same knot shows nothing") {
    const Lying right = lying("k2tog");
    const Lying left = lying("ssk");
    const View held = asHeld(right);
    WayOfLooking near;
    near.nearer = 3;
    CHECK(toldApart(right.likeness(), left.likeness(), held, near) >
          3 * toldApart(right.likeness(), left.likeness(), held, WayOfLooking{}));
    // Two names of one knot.
    CHECK(toldApart(left.likeness(), lying("skp").likeness(), held, near) == 0);
}

TEST_CASE("a glimpse is as large as asked and light where there is no yarn") {
    Path nothing;
    nothing.gauge.stitchMm = 5;
    View view;
    view.pixelsPerMm = 4;
    const Glimpse glimpse = glimpseOf(nothing, {0, 0}, view, 1, kOrdinaryLight);
    CHECK(glimpse.width == 40);
    CHECK(glimpse.height == 40);
    for (const float light : glimpse.light) CHECK(light == Approx(0.86F));
}
