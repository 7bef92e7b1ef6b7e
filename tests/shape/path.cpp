// SPDX-License-Identifier: MIT
#include "shape/path.h"

#include <rapidcheck.h>
#include <rapidcheck/catch.h>
#include <catch2/catch.hpp>
#include <cmath>
#include <set>

#include "shape/crossings.h"
#include "shape/swatch.h"
#include "shape/weave.h"

namespace loopmend {
namespace {

void requireSound(const Fabric& f) {
    const Layout layout = layoutOf(f);
    const Path path = pathOf(f, layout);
    std::set<std::int32_t> drawn;
    for (const PathStrand& strand : path.strands) {
        REQUIRE(strand.points.size() >= 2);
        REQUIRE((static_cast<bool>(strand.yarn) != static_cast<bool>(strand.tool)));
        for (std::size_t i = 0; i < strand.points.size(); ++i) {
            const Point3& p = strand.points[i].at;
            REQUIRE(std::isfinite(p.x));
            REQUIRE(std::isfinite(p.y));
            REQUIRE(std::isfinite(p.z));
            if (strand.points[i].entry) drawn.insert(strand.points[i].entry.value);
            if (i == 0) continue;
            // Points are one step apart: the yarn is nowhere torn.
            const double step = length(p - strand.points[i - 1].at);
            REQUIRE(step < 0.35 * path.gauge.stitchMm);
        }
    }
    for (std::int32_t i = 0; i < f.entryCount(); ++i) {
        const EntryId e{i};
        if (!f.has(e) || f[f[e].yarn].flags.gone != 0) continue;
        if (f.isLoop(e) && !f.isNothing(e) && layout[e].placed) REQUIRE(drawn.count(i) == 1);
    }
}

/// Works a few rows of whatever the numbers say, with mishaps.
Swatch chaos(const std::vector<int>& numbers) {
    Swatch s(7);
    std::size_t at = 0;
    const auto draw = [&](int n) {
        const int x = at < numbers.size() ? numbers[at] : 0;
        ++at;
        return x % n;
    };
    for (int row = 0; row < 6 && s.f().entryCount() < 500; ++row) {
        int steps = 0;
        while (s.k.aheadCount() > 0 && ++steps < 40) {
            switch (draw(24)) {
                case 0: (void)s.k.purl(); break;
                case 1: (void)s.k.yarnOver(); break;
                case 2: (void)s.k.k2tog(); break;
                case 3: (void)s.k.ssk(); break;
                case 4: (void)s.k.knitTbl(); break;
                case 5: (void)s.k.slip(SlipWay::purlwise, draw(2) == 0); break;
                case 6: (void)s.k.p2togTbl(); break;
                case 7: (void)s.k.makeOne(draw(2) == 0 ? Hand::left : Hand::right); break;
                case 8: (void)s.k.cross(1 + draw(3), 1 + draw(2), draw(2) == 0); break;
                case 9: (void)s.k.s2kp(); break;
                case 10: (void)s.k.sk2p(); break;
                case 11: (void)s.k.kfb(); break;
                case 12: (void)s.k.kpk(); break;
                case 13: (void)s.k.kyok(); break;
                case 14: (void)s.k.liftedIncrease(draw(2) == 0 ? Hand::left : Hand::right); break;
                case 15: (void)s.k.workBelow(draw(2) == 0); break;
                case 16: (void)s.k.bindOff(1 + draw(2)); break;
                case 17: (void)s.k.castOnBackward(1 + draw(3)); break;
                case 18: (void)s.k.wrapAndTurn(); break;
                case 19: (void)s.k.slipKnitOver(2); break;
                case 20: (void)s.k.leaveOnHolder(1); break;
                case 21:
                    (void)s.k.drop(s.next());
                    (void)letRun(s.f(), draw(5));
                    break;
                case 22: (void)s.k.slip(SlipWay::knitwise, false); break;
                default: (void)s.k.knit();
            }
        }
        s.k.turn();
    }
    return s;
}

}  // namespace

TEST_CASE("every loop of a piece is drawn, and the yarn is whole") {
    Swatch s(8);
    s.rows(6);
    requireSound(s.f());
    const Path path = pathOf(s.f(), layoutOf(s.f()));
    REQUIRE(path.strands.size() == 2);  // one yarn, one needle
    CHECK(path.strands[0].yarn == YarnId{0});
    CHECK(path.strands[1].tool == s.f().needle());
    requireSound(Fabric{});
}

TEST_CASE("two tips meet where the work stands in mid-row") {
    Swatch s(8);
    s.rows(3);
    s.plain(3);
    const Path path = pathOf(s.f(), layoutOf(s.f()));
    int tips = 0;
    int rods = 0;
    for (const PathStrand& strand : path.strands) {
        if (!strand.tool) continue;
        ++rods;
        tips += (strand.pointedStart ? 1 : 0) + (strand.pointedEnd ? 1 : 0);
    }
    CHECK(rods == 2);
    CHECK(tips == 2);
}

TEST_CASE("a yarn that goes round is cut between rounds") {
    Fabric f;
    Knitter k(f, f.addYarn('A', 16800, 4200), Side::right, false);
    REQUIRE(k.castOnBackward(8).has_value());
    REQUIRE(k.joinRound().has_value());
    for (int r = 0; r < 3; ++r) {
        while (k.aheadCount() > 0) made(k.knit());
        REQUIRE(k.endRound().has_value());
    }
    requireSound(f);
    std::size_t yarns = 0;
    for (const PathStrand& strand : pathOf(f, layoutOf(f)).strands) yarns += strand.yarn ? 1 : 0;
    CHECK(yarns == 4);
}

TEST_CASE("a round is cut there too where its first stitch has run down") {
    // The rungs of the first stitch are swept with the loop at its foot, rows below the yarn they are of.
    Fabric f;
    Knitter k(f, f.addYarn('A', 16800, 4200), Side::right, false);
    REQUIRE(k.castOnBackward(8).has_value());
    REQUIRE(k.joinRound().has_value());
    for (int r = 0; r < 6; ++r) {
        while (k.aheadCount() > 0) made(k.knit());
        REQUIRE(k.endRound().has_value());
    }
    const LoopId first = k.ahead().front();
    REQUIRE(k.drop(first).has_value());
    REQUIRE(letRunFrom(f, first, 4) == 4);
    requireSound(f);
    const Path path = pathOf(f, layoutOf(f));
    std::size_t yarns = 0;
    for (const PathStrand& strand : path.strands) yarns += strand.yarn ? 1 : 0;
    CHECK(yarns == 7);
    // No strand runs back across the piece: between the points of one loop and the next lies little.
    for (const PathStrand& strand : path.strands) {
        double backward = 0;
        for (std::size_t i = 1; strand.yarn && i < strand.points.size(); ++i) {
            const double step = strand.points[i].at.x - strand.points[i - 1].at.x;
            backward = step > 0 ? backward + step : 0;  // rounds run leftward
            REQUIRE(backward < 2 * path.gauge.stitchMm);
        }
    }
}

TEST_CASE("a needle is drawn only if asked for") {
    Swatch s(4);
    s.rows(2);
    PathOptions options;
    options.tools = false;
    for (const PathStrand& strand : pathOf(s.f(), layoutOf(s.f()), options).strands) CHECK(strand.yarn);
}

TEST_CASE("any fabric that hands can make is drawn, whatever happened to it") {
    rc::prop("random knitting with mishaps", [](const std::vector<std::uint8_t>& bytes) {
        std::vector<int> numbers(bytes.begin(), bytes.end());
        const Swatch s = chaos(numbers);
        requireSound(*s.fabric);
    });
}

TEST_CASE("random plain, purl and twisted stitches are woven as their links say") {
    rc::prop("every link", [](const std::vector<std::uint8_t>& bytes) {
        Swatch s(6);
        std::size_t at = 0;
        for (int row = 0; row < 5; ++row) {
            while (s.k.aheadCount() > 0) {
                const int x = at < bytes.size() ? bytes[at] % 4 : 0;
                ++at;
                made(x == 0 ? s.k.knit() : x == 1 ? s.k.purl() : x == 2 ? s.k.knitTbl() : s.k.purlTbl());
            }
            s.k.turn();
        }
        const std::vector<std::string> wrong = Weave(s.f()).wrongLinks();
        RC_ASSERT(wrong.empty());
    });
}

TEST_CASE("crossings are those that a search of all pairs finds") {
    Swatch s(5);
    s.rows(4);
    s.plain(2);
    made(s.k.k2tog());
    s.finishRow();
    const Path path = pathOf(s.f(), layoutOf(s.f()));
    std::size_t pairs = 0;
    for (std::size_t a = 0; a < path.strands.size(); ++a) {
        for (std::size_t b = a; b < path.strands.size(); ++b) {
            const auto& p = path.strands[a].points;
            const auto& q = path.strands[b].points;
            for (std::size_t i = 0; i + 1 < p.size(); ++i) {
                for (std::size_t k = a == b ? i + 2 : 0; k + 1 < q.size(); ++k) {
                    const Point2 u{p[i + 1].at.x - p[i].at.x, p[i + 1].at.y - p[i].at.y};
                    const Point2 v{q[k + 1].at.x - q[k].at.x, q[k + 1].at.y - q[k].at.y};
                    const Point2 w{q[k].at.x - p[i].at.x, q[k].at.y - p[i].at.y};
                    const double det = turnOf(u, v);
                    if (std::abs(det) < 1e-12) continue;
                    const double t = turnOf(w, v) / det;
                    const double x = turnOf(w, u) / det;
                    if (t >= 0 && t < 1 && x >= 0 && x < 1) ++pairs;
                }
            }
        }
    }
    const std::vector<PlanarCrossing> found = crossingsOf(path);
    CHECK(found.size() == pairs);
    for (const PlanarCrossing& x : found) CHECK(x.over.z >= x.under.z);
}

TEST_CASE("a curve goes through its control points and keeps its step") {
    std::vector<PathPoint> controls;
    for (const Point3& p : {Point3{0, 0, 0}, Point3{1, 2, 0}, Point3{4, 2, 1}, Point3{4.2, 0, 0}})
        controls.push_back({p, EntryId{static_cast<std::int32_t>(controls.size())}});
    const std::vector<PathPoint> curve = resampled(controls, 0.05);
    for (const PathPoint& c : controls) {
        double nearest = 1e9;
        for (const PathPoint& p : curve) nearest = std::min(nearest, length(p.at - c.at));
        CHECK(nearest < 0.04);
    }
    for (std::size_t i = 1; i < curve.size(); ++i) CHECK(length(curve[i].at - curve[i - 1].at) < 0.06);
    CHECK(curve.front().entry == EntryId{0});
    CHECK(curve.back().entry == EntryId{3});
    CHECK(resampled({controls[0]}, 0.1).size() == 1);
}

}  // namespace loopmend
