// SPDX-License-Identifier: MIT
//
// How densely yarn lies in fabrics without edges. Sources of the numbers:
//   Munden        D.L. Munden, The geometry and dimensional properties of plain-knit fabrics, Journal of the
//                 Textile Institute 50 (1959) T448, wet-relaxed plain wool: Kc 5.3, Kw 4.1, Ks 21.6, R 1.3
//                 (from memory)
//   Singal        K. Singal et al., Programming mechanics in knitted materials, stitch by stitch, Nature
//                 Communications 15 (2024) 2622, published sample output: Kc 5.32, Kw 4.00, Ks 21.3, R 1.33
//   Doyle         P.J. Doyle, Fundamental aspects of the design of knitted fabrics, Journal of the Textile
//                 Institute 44 (1953) P561: the law that density follows the loop length alone
// A stitch of 17 core diameters of yarn, 24 points or more, nothing but bending, stretch and contact.
#include <catch2/catch.hpp>

#include "shape/patch.h"

namespace {

using namespace loopmend;

struct Measured {
    Density density;
    RelaxFigures figures;
    Rods rods;
};

Measured measured(const Patch& patch, int most = 6000) {
    const auto relaxed = relax(rodsOfPatch(patch), frictionless(most));
    REQUIRE(relaxed);
    return {densityOf(relaxed->rods, patch), relaxed->figures, relaxed->rods};
}

}  // namespace

TEST_CASE("plain knit lies as densely as wool that was wetted and left to dry") {
    // Munden, Singal; tolerances ours.
    const Measured plain = measured({});
    CHECK(plain.density.ks == Approx(21.45).margin(1.5));
    CHECK(plain.density.kc == Approx(5.3).margin(0.3));
    CHECK(plain.density.kw == Approx(4.1).margin(0.25));
    CHECK(plain.density.r == Approx(1.30).margin(0.10));
    CHECK(plain.figures.atRest);
}

TEST_CASE("plain knit is about two yarns thick") {
    // Textbook: plain cloth is about two yarn diameters thick, 2.0 to 2.6.
    const Measured plain = measured({});
    double low = 0;
    double high = 0;
    for (const Point3& p : plain.rods.rods[0].points) {
        low = std::min(low, p.z);
        high = std::max(high, p.z);
    }
    const double thick = high - low + 1;
    CHECK(thick > 2.0);
    CHECK(thick < 2.6);
}

TEST_CASE("twice the loop of twice the yarn is the same fabric, larger") {
    // Doyle, Munden.
    const Measured once = measured({});
    Patch patch;
    patch.l = 34;
    patch.d = 2;
    const Measured twice = measured(patch);
    CHECK(twice.density.kc == Approx(once.density.kc).epsilon(0.01));
    CHECK(twice.density.kw == Approx(once.density.kw).epsilon(0.01));
    CHECK(twice.density.r == Approx(once.density.r).epsilon(0.01));
}

TEST_CASE("without friction every start comes to the same density") {
    // Crassous, Poincloux & Steinberger, Physical Review Letters 133 (2024) 248201: friction makes the many
    // rest shapes.
    const double ks = measured({}).density.ks;
    const double starts[3][2] = {{4.4, 5.0}, {3.8, 5.8}, {3.7, 4.9}};
    for (const auto& start : starts) {
        Patch patch;
        patch.kw = start[0];
        patch.kc = start[1];
        CHECK(measured(patch).density.ks == Approx(ks).epsilon(0.02));
    }
}

TEST_CASE("garter closes up to two rows for a stitch's width") {
    // Common practice: twice as many rows as stitches to the square. The row height is a soft mode (the last
    // hundredth of the energy moves it by a fifth) and falls with finer points: R 2.36 at 24 points a stitch,
    // 2.18 at 32, 2.10 at 40 when measured; 32 are what a test has time for.
    Patch garter;
    garter.rows = {"k", "p"};
    garter.pointsPerStitch = 32;
    const Measured m = measured(garter, 8000);
    CHECK(m.density.r == Approx(2.0).margin(0.25));
    Patch plain;
    plain.pointsPerStitch = 32;
    CHECK(m.density.kc > 1.2 * measured(plain).density.kc);
}

TEST_CASE("rib is narrower than plain of as many stitches") {
    // Common practice (the order; by how much depends on how the cloth was last stretched).
    const double plain = measured({}).density.kw;
    Patch rib;
    rib.rows = {"kp"};
    const double one = measured(rib).density.kw;
    CHECK(plain / one < 0.75);
    CHECK(plain / one > 0.45);
    // Flat two by two rib is a rest shape too (and as wide as plain): it starts pleated.
    rib.rows = {"kkpp"};
    rib.pleat = 1;
    const double two = measured(rib, 2500).density.kw;
    CHECK(plain / two < 0.85);
}

TEST_CASE("the yarn of a fabric at rest is hardly longer than it was, and nowhere in itself") {
    for (const char* const rows : {"k", "kp"}) {
        CAPTURE(rows);
        Patch patch;
        patch.rows = {rows};
        const Measured m = measured(patch);
        CHECK(m.figures.strain < 0.005);
        CHECK(m.figures.nearest >= 0.9);
    }
}
