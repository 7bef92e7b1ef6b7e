// SPDX-License-Identifier: MIT
// A round joined with a twist: the cast-on edge spirals about the needle (common practice: "join, being
// careful not to twist": the edge has to lie below the needle all the way round).
#include "shape/winding.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <optional>

#include "fabric/joining.h"
#include "pattern/working.h"
#include "shape/cloth.h"
#include "shape/layout.h"

using namespace loopmend;

namespace {

constexpr double kPi = 3.14159265358979323846;

Knitting round(int rounds, int twist, int stitches = 14) {
    Script script;
    script.castOn = stitches;
    script.round = true;
    script.twist = static_cast<std::int8_t>(twist);
    for (int r = 0; r < rounds; ++r) {
        WorkedRow row;
        row.number = r + 1;
        row.printed = r + 1;
        row.round = true;
        row.steps.resize(static_cast<std::size_t>(stitches));
        for (Step& step : row.steps) step.op = Op::knit;
        script.rows.push_back(row);
    }
    auto knitting = knit(script);
    REQUIRE(knitting);
    return std::move(*knitting);
}

/// By how many turns the cast-on edge winds about the needle, from its left end to its right one; positive:
/// as a right-handed screw. From nothing but the curves.
double turnsAboutNeedle(const Fabric& fabric, const Path& path) {
    const PathStrand* needle = nullptr;
    for (const PathStrand& s : path.strands) {
        if (s.tool) needle = &s;
    }
    REQUIRE(needle != nullptr);
    // The lowest of each cast-on loop's yarn, by where it lies along the needle.
    std::vector<Point3> edge;
    for (const PathStrand& s : path.strands) {
        if (!s.yarn) continue;
        for (std::size_t i = 0; i < s.points.size(); ++i) {
            const EntryId e = s.points[i].entry;
            const bool castOn = e && fabric.isLoop(e) && fabric[e].flags.anchored != 0;
            const bool last = i + 1 == s.points.size() || s.points[i + 1].entry != e;
            // Between two hitches: the edge itself.
            if (castOn && last && i + 1 < s.points.size()) edge.push_back(s.points[i].at);
        }
    }
    std::sort(edge.begin(), edge.end(), [](Point3 a, Point3 b) { return a.x < b.x; });
    REQUIRE(edge.size() > 8);
    double turned = 0;
    std::optional<double> before;
    for (const Point3& p : edge) {
        Point3 at;
        double nearest = 1e9;
        for (const PathPoint& n : needle->points) {
            if (std::abs(n.at.x - p.x) < nearest) {
                nearest = std::abs(n.at.x - p.x);
                at = n.at;
            }
        }
        const double angle = std::atan2(p.z - at.z, p.y - at.y);
        if (before) turned += std::remainder(angle - *before, 2 * kPi);
        before = angle;
    }
    return turned / (2 * kPi);
}

}  // namespace

TEST_CASE("the cast-on edge of a round joined with a twist goes about the needle, drawn and at rest") {
    struct Case {
        int rounds;
        int halfTurns;
    };
    for (const Case c : {Case{0, 2}, Case{1, 2}, Case{1, -2}, Case{2, 2}, Case{1, 0}, Case{4, 2}}) {
        INFO(c.rounds << " rounds, " << c.halfTurns << " half turns");
        const Knitting k = round(c.rounds, c.halfTurns);
        Cloth cloth = Cloth::drawn(*k.fabric);
        CHECK(cloth.layout().winding.empty() == (c.halfTurns == 0));
        CHECK(turnsAboutNeedle(*k.fabric, cloth.path()) == Approx(c.halfTurns / 2.0).margin(0.1));
        cloth.settle();
        CHECK_FALSE(cloth.fault());
        CHECK(cloth.figures().nearest > 0.9);
        CHECK(turnsAboutNeedle(*k.fabric, cloth.path()) == Approx(c.halfTurns / 2.0).margin(0.1));
    }
}

TEST_CASE("a low band winds about a straight needle, a high one takes its needle with it") {
    const auto bends = [](int rounds) {
        const Knitting k = round(rounds, 2);
        const Layout layout = layoutOf(*k.fabric);
        double low = 1e9;
        double high = -1e9;
        for (const PathStrand& s : pathOf(*k.fabric, layout).strands) {
            if (!s.tool) continue;
            for (const PathPoint& p : s.points) {
                low = std::min(low, p.at.y);
                high = std::max(high, p.at.y);
            }
        }
        return (high - low) / layout.gauge.rowMm;
    };
    CHECK(bends(0) < 0.3);
    CHECK(bends(1) < 0.3);
    CHECK(bends(3) > 2);
}

TEST_CASE("winding is a turning of space, without a step, and can be turned back") {
    const Knitting k = round(1, 2);
    const Layout layout = layoutOf(*k.fabric);
    const Winding& winding = layout.winding;
    REQUIRE_FALSE(winding.empty());
    CHECK(winding.angle(winding.to()) == Approx(0).margin(1e-9));
    CHECK(winding.angle(winding.from()) == Approx(-2 * kPi));
    Point3 before = winding.wound({winding.from() - 3, -2, 0.5});
    for (double x = winding.from() - 3; x < winding.to() + 3; x += 0.02) {
        const Point3 at{x, -2, 0.5};
        const Point3 wound = winding.wound(at);
        CHECK(length(wound - before) < 0.05);
        CHECK(length(winding.flat(wound) - at) < 1e-9);
        before = wound;
    }
}

TEST_CASE("what is worked on winds on, and lies flat as soon as it is turned at the join") {
    Knitting k = round(0, 2);
    ClothOptions options;
    options.mostSteps = 100;
    Cloth cloth = Cloth::drawn(*k.fabric, options);
    for (int i = 0; i < 6; ++i) {
        REQUIRE(k.knitter.knit());
        cloth.follow(*k.fabric);
        CHECK_FALSE(cloth.layout().winding.empty());
        while (cloth.advance(100)) {
        }
        CHECK_FALSE(cloth.fault());
    }
    // With the tips in the midst of the round it winds beside them.
    const double tips = cloth.layout()[k.fabric->loopBefore((*k.fabric)[YarnId{0}].last)].frame.at.x;
    const Winding& winding = cloth.layout().winding;
    CHECK((winding.to() < tips || winding.from() > tips));
    LoopId last;
    for (std::int32_t j = 0; j < k.fabric->joinCount(); ++j) {
        if (const LoopId after = (*k.fabric)[JoinId{j}].loop) last = after;
    }
    REQUIRE(turnAtJoin(*k.fabric, last, -1));
    cloth.follow(*k.fabric);
    CHECK(cloth.layout().winding.empty());
    CHECK(turnsAboutNeedle(*k.fabric, cloth.path()) == Approx(0).margin(0.1));
}
