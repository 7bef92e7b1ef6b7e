// SPDX-License-Identifier: MIT
//
// The cloth on the table: drawn at once, relaxed in steps, following the hands.
#include "shape/cloth.h"

#include <catch2/catch.hpp>

#include "fabric/hands.h"
#include "shape/relax_monitor.h"
#include "shape/relax_scenes.h"

using namespace loopmend;

namespace {

bool samePath(const Path& a, const Path& b) {
    if (a.strands.size() != b.strands.size()) return false;
    for (std::size_t s = 0; s < a.strands.size(); ++s) {
        const auto same = [](const PathPoint& p, const PathPoint& q) {
            return p.entry == q.entry && p.at.x == q.at.x && p.at.y == q.at.y && p.at.z == q.at.z;
        };
        if (!std::equal(a.strands[s].points.begin(), a.strands[s].points.end(), b.strands[s].points.begin(),
                        b.strands[s].points.end(), same))
            return false;
    }
    return true;
}

double mostMoved(const Path& a, const Path& b) {
    double most = 0;
    for (std::size_t s = 0; s < a.strands.size(); ++s) {
        for (std::size_t i = 0; i < a.strands[s].points.size(); ++i)
            most = std::max(most, length(a.strands[s].points[i].at - b.strands[s].points[i].at));
    }
    return most;
}

Rods rodsOf(const Path& path) {
    Rods rods;
    rods.unit = 0.5 * path.gauge.yarnMm;
    for (const PathStrand& s : path.strands) {
        Rod rod;
        rod.radius = 0.5 * s.mm;
        for (const PathPoint& p : s.points) rod.points.push_back(p.at);
        rods.rods.push_back(std::move(rod));
    }
    return rods;
}

/// Shows the crossings that the template of this fabric has.
bool isRight(const Cloth& cloth, const Fabric& fabric) {
    ClothOptions still;
    still.relaxed = false;
    const Rods drawn = rodsOf(Cloth::drawn(fabric, still).path());
    const Rods now = rodsOf(cloth.path());
    REQUIRE(drawn.rods.size() == now.rods.size());
    for (std::size_t r = 0; r < drawn.rods.size(); ++r)
        REQUIRE(drawn.rods[r].points.size() == now.rods[r].points.size());
    return changedCrossings(drawn, now, plannedCrossings(drawn)).empty();
}

/// Of the entry, the highest point.
Point3 topOf(const Path& path, EntryId e) {
    Point3 top{0, -1e9, 0};
    for (const PathStrand& s : path.strands) {
        for (const PathPoint& p : s.points) {
            if (p.entry == e && p.at.y > top.y) top = p.at;
        }
    }
    return top;
}

LoopId looseLoop(const Fabric& f) {
    for (std::int32_t e = 0; e < f.entryCount(); ++e) {
        if (f.has(EntryId{e}) && f.isLoop(EntryId{e}) && f.isLoose(EntryId{e})) return EntryId{e};
    }
    return {};
}

LoopId hooked(Fabric& f, LoopId loop) {
    const std::vector<PassId> all = rungs(f, loop);
    REQUIRE_FALSE(all.empty());
    Hooking hooking;
    hooking.rung = all.front();
    hooking.through = {{loop, 0, 0}};
    const auto made = hook(f, hooking);
    REQUIRE(made);
    return *made;
}

}  // namespace

TEST_CASE("cloth is drawn at once and relaxes in steps until it lies still") {
    const Knitting k = knitted({8, 8, {"k"}});
    Cloth cloth = Cloth::drawn(*k.fabric);
    const Path first = cloth.path();
    CHECK(cloth.advance(10));
    const Path second = cloth.path();
    CHECK(mostMoved(first, second) > 0.01);
    CHECK(isRight(cloth, *k.fabric));
    cloth.settle();
    CHECK_FALSE(cloth.advance(10));
    CHECK_FALSE(cloth.fault());
    CHECK(cloth.figures().nearest >= 0.9);
    CHECK(isRight(cloth, *k.fabric));
    const Path last = cloth.path();
    CHECK_FALSE(cloth.advance(500));
    CHECK(samePath(last, cloth.path()));
}

TEST_CASE("unrelaxed cloth is the template and lies still") {
    const Knitting k = knitted({5, 4, {"k"}});
    ClothOptions options;
    options.relaxed = false;
    Cloth cloth = Cloth::drawn(*k.fabric, options);
    CHECK_FALSE(cloth.advance(10));
    CHECK_FALSE(cloth.path().strands.empty());
}

TEST_CASE("an empty fabric is an empty cloth") {
    const Fabric nothing;
    Cloth cloth = Cloth::drawn(nothing);
    CHECK(cloth.path().strands.empty());
    CHECK_FALSE(cloth.advance(10));
    CHECK_FALSE(cloth.fault());
    cloth.follow(nothing);
    const Knitting k = knitted({5, 4, {"k"}});
    cloth.follow(*k.fabric);
    CHECK_FALSE(cloth.path().strands.empty());
}

TEST_CASE("a ladder is let run and hooked up again, and every moment shows the right knot") {
    Knitting k = knitted({11, 10, {"k"}});
    Fabric& f = *k.fabric;
    Cloth cloth = Cloth::drawn(f);
    cloth.settle();
    const Path before = cloth.path();
    LoopId loop = k.knitter.ahead()[5];
    const auto follow = [&] {
        cloth.follow(f);
        CHECK(isRight(cloth, f));
        CHECK(cloth.advance(10));
        cloth.settle();
        CHECK_FALSE(cloth.fault());
        CHECK(cloth.figures().nearest >= 0.9);
        CHECK(isRight(cloth, f));
    };
    REQUIRE(k.knitter.drop(loop));
    follow();
    for (int row = 0; row < 3; ++row) {
        REQUIRE(letRunFrom(f, loop, 1) == 1);
        loop = looseLoop(f);
        follow();
    }
    // Common practice: wool does not run by itself; its loop stands open above the one it came through.
    const LoopId host = f.hostsRightToLeft(loop).front();
    const double above = topOf(cloth.path(), loop).y - topOf(cloth.path(), host).y;
    CHECK(above > 0.5 * cloth.path().gauge.rowMm);
    CHECK(above < 1.8 * cloth.path().gauge.rowMm);
    for (int row = 0; row < 3; ++row) {
        loop = hooked(f, loop);
        follow();
    }
    // Far from the ladder nothing has moved.
    const LoopId corner{0};
    CHECK(length(topOf(before, corner) - topOf(cloth.path(), corner)) < 1e-9);
}

TEST_CASE("following gives the same place to everything that did not change") {
    Knitting k = knitted({16, 12, {"k"}});
    Cloth cloth = Cloth::drawn(*k.fabric);
    cloth.settle();
    const Path before = cloth.path();
    cloth.follow(*k.fabric);
    CHECK(samePath(before, cloth.path()));
    CHECK_FALSE(cloth.advance(10));
    REQUIRE(k.knitter.drop(k.knitter.ahead()[2]));
    cloth.follow(*k.fabric);
    cloth.settle();
    std::size_t still = 0;
    std::size_t all = 0;
    REQUIRE(before.strands[0].points.size() == cloth.path().strands[0].points.size());
    for (std::size_t i = 0; i < before.strands[0].points.size(); ++i, ++all) {
        const Point3 d = before.strands[0].points[i].at - cloth.path().strands[0].points[i].at;
        still += length(d) == 0 ? 1U : 0U;
    }
    CHECK(still > all / 2);
    CHECK(still < all);
}

TEST_CASE("a change while the piece is still relaxing does not leave the rest half-way") {
    Knitting k = knitted({10, 8, {"k"}});
    Cloth cloth = Cloth::drawn(*k.fabric);
    cloth.advance(60);
    REQUIRE(k.knitter.drop(k.knitter.ahead()[5]));
    cloth.follow(*k.fabric);
    CHECK(isRight(cloth, *k.fabric));
    cloth.settle();
    CHECK_FALSE(cloth.fault());
    Cloth cold = Cloth::drawn(*k.fabric);
    cold.settle();
    // The far corner lies where it lies from cold, nearly: friction lets rest differ a little.
    const double off = length(topOf(cloth.path(), LoopId{2}) - topOf(cold.path(), LoopId{2}));
    CHECK(off < 0.5 * cloth.path().gauge.stitchMm);
    CHECK(isRight(cloth, *k.fabric));
}

TEST_CASE("a layout made anew near a change keeps every other frame to the last bit") {
    Knitting k = knitted({12, 10, {"k"}});
    const Layout before = layoutOf(*k.fabric);
    const LoopId loop = k.knitter.ahead()[6];
    REQUIRE(k.knitter.drop(loop));
    const Layout near = layoutNear(*k.fabric, before, {loop});
    const Layout cold = layoutOf(*k.fabric);
    REQUIRE(near.nodes.size() == before.nodes.size());
    int same = 0;
    for (std::size_t i = 0; i < near.nodes.size(); ++i) {
        CHECK(near.nodes[i].placed == cold.nodes[i].placed);
        if (!near.nodes[i].placed) continue;
        const Point2 d = near.nodes[i].frame.at - before.nodes[i].frame.at;
        same += d.x == 0 && d.y == 0 ? 1 : 0;
        CHECK(length(near.nodes[i].frame.at - cold.nodes[i].frame.at) < 0.5 * before.gauge.stitchMm);
    }
    CHECK(same > static_cast<int>(near.nodes.size()) * 9 / 10);
}

TEST_CASE("an undo goes back to the crossings of before") {
    Knitting k = knitted({9, 8, {"k"}});
    Fabric& f = *k.fabric;
    Cloth cloth = Cloth::drawn(f);
    cloth.settle();
    const JournalMark mark = f.mark();
    const LoopId loop = k.knitter.ahead()[4];
    REQUIRE(f.letGo(loop, f.needle(), true));
    REQUIRE(letRunFrom(f, loop, 2) == 2);
    cloth.follow(f);
    cloth.settle();
    f.rollBack(mark);
    cloth.follow(f);
    CHECK(isRight(cloth, f));
    cloth.settle();
    CHECK(isRight(cloth, f));
    CHECK_FALSE(cloth.fault());
}

TEST_CASE("cloth is the same for any number of threads, also after a move") {
    Path all[2];
    for (const int threads : {1, 2}) {
        Knitting k = knitted({12, 10, {"k"}});
        ClothOptions options;
        options.threads = threads;
        options.seed = 7;
        Cloth cloth = Cloth::drawn(*k.fabric, options);
        cloth.settle();
        REQUIRE(k.knitter.drop(k.knitter.ahead()[4]));
        letRunFrom(*k.fabric, looseLoop(*k.fabric), 2);
        cloth.follow(*k.fabric);
        cloth.settle();
        all[threads - 1] = cloth.path();
    }
    CHECK(samePath(all[0], all[1]));
}

TEST_CASE("a seed makes loops uneven, the same ones each time") {
    const Knitting k = knitted({6, 6, {"k"}});
    const auto laid = [&](std::uint64_t seed) {
        ClothOptions options;
        options.seed = seed;
        Cloth cloth = Cloth::drawn(*k.fabric, options);
        cloth.settle();
        return cloth.path();
    };
    const Path three = laid(3);
    CHECK(samePath(three, laid(3)));
    CHECK_FALSE(samePath(three, laid(4)));
    CHECK_FALSE(samePath(three, laid(0)));
}

TEST_CASE("yarn and needle give ordinary gauges") {
    // Common practice, as on ball bands: 250 m to 100 g on 5 mm needles, 17 to 19 stitches to 10 cm;
    // 400 m to 100 g on 3 mm needles, 27 to 30.
    const double worsted = 100 / (YarnSpec{}.stitchYarnMm() / 4.2);
    CHECK(worsted > 17);
    CHECK(worsted < 19);
    YarnSpec fine;
    fine.tex = 250;
    fine.needleMm = 3;
    const double sock = 100 / (fine.stitchYarnMm() / 4.2);
    CHECK(sock > 27);
    CHECK(sock < 30);
    CHECK(fine.loopUm() + fine.strandUm() == Approx(1000 * fine.stitchYarnMm()).margin(1.5));
}

TEST_CASE("between two paths lies what is between") {
    Knitting k = knitted({8, 6, {"k"}});
    Cloth cloth = Cloth::drawn(*k.fabric);
    cloth.settle();
    const Path from = cloth.path();
    CHECK(mostMoved(between(from, from, 0.3), from) < 1e-9);
    REQUIRE(k.knitter.drop(k.knitter.ahead()[3]));
    letRunFrom(*k.fabric, looseLoop(*k.fabric), 1);
    cloth.follow(*k.fabric);
    cloth.settle();
    const Path to = cloth.path();
    CHECK(mostMoved(between(from, to, 1), to) < 1e-9);
    const Path start = between(from, to, 0);
    const EntryId loop{20};
    CHECK(length(topOf(start, loop) - topOf(from, loop)) < 0.2);
}
