// SPDX-License-Identifier: MIT
//
// Fabric on the bias. Common practice: an increase at one edge and a decrease at the other in every second
// row keep the count, and the piece becomes a slanted strip, its edges parallel, its columns leaning against
// them toward the decrease. A spine of double decreases whose increases stand at one edge runs diagonally
// across.
#include <catch2/catch.hpp>

#include <cmath>
#include <vector>

#include "fabric/knitter.h"
#include "fabric/rows.h"
#include "shape/cloth.h"

using namespace loopmend;

namespace {

struct Piece {
    Fabric f;
    Knitter k;

    explicit Piece(int stitches) : k(f, f.addYarn('A', 16800, 4200), Side::wrong) {
        REQUIRE(k.castOnLongTail(stitches).has_value());
        k.turn();
    }
    void plain(int n) {
        for (int i = 0; i < n; ++i) REQUIRE(k.work(1, k.facing() == Side::wrong, Leg::leading).has_value());
    }
};

Point2 middleOf(const Path& path, EntryId e) {
    Point2 sum;
    int n = 0;
    for (const PathStrand& s : path.strands) {
        for (const PathPoint& p : s.points) {
            if (p.entry != e) continue;
            sum = sum + Point2{p.at.x, p.at.y};
            ++n;
        }
    }
    REQUIRE(n > 0);
    return sum * (1.0 / n);
}

/// Degrees from upright, to the right positive, of the line that lies nearest to the points.
double leanOf(const std::vector<Point2>& points) {
    Point2 mean;
    for (const Point2& p : points) mean = mean + p * (1.0 / static_cast<double>(points.size()));
    double xy = 0;
    double yy = 0;
    for (const Point2& p : points) {
        xy += (p.x - mean.x) * (p.y - mean.y);
        yy += (p.y - mean.y) * (p.y - mean.y);
    }
    return std::atan2(xy, yy) * 180 / 3.14159265358979323846;
}

struct Leans {
    double rightEdge = 0;
    double leftEdge = 0;
    double columns = 0;
    int ended = 0;  ///< columns of the cast-on that came to their end
};

/// Twelve stitches, 24 rows; the increase at the right edge or at the left one.
Leans biased(bool growsRight) {
    constexpr int kStitches = 12;
    constexpr int kRows = 24;
    Piece s(kStitches);
    for (int r = 1; r <= kRows; r += 2) {
        s.plain(1);
        if (growsRight) {
            REQUIRE(s.k.makeOne(Hand::left).has_value());
            s.plain(kStitches - 4);
            REQUIRE(s.k.k2tog().has_value());
        } else {
            REQUIRE(s.k.ssk().has_value());
            s.plain(kStitches - 4);
            REQUIRE(s.k.makeOne(Hand::right).has_value());
        }
        s.plain(1);
        s.k.turn();
        CHECK(s.k.aheadCount() == kStitches);
        s.plain(kStitches);
        s.k.turn();
        CHECK(s.k.aheadCount() == kStitches);
    }
    Cloth cloth = Cloth::drawn(s.f);
    cloth.settle();
    CHECK_FALSE(cloth.fault());
    const std::vector<std::vector<LoopId>> rows = loopsByRow(s.f, rowsOf(s.f));
    std::vector<Point2> right;
    std::vector<Point2> left;
    for (int r = 2; r <= kRows - 2; ++r) {
        const std::vector<LoopId>& row = rows[static_cast<std::size_t>(r)];
        const bool leftward = s.f.run(row.front()) == Run::leftward;
        right.push_back(middleOf(cloth.path(), leftward ? row.front() : row.back()));
        left.push_back(middleOf(cloth.path(), leftward ? row.back() : row.front()));
    }
    Leans leans{leanOf(right), leanOf(left), 0, 0};
    // A column from the middle of row 2 upward, as long as it is one.
    LoopId at = rows[2][5];
    std::vector<Point2> column;
    for (int n = 0; n < 9; ++n) {
        column.push_back(middleOf(cloth.path(), at));
        const LinkId kid = s.f[at].firstKid;
        if (!kid || s.f.linkCount(s.f[kid].loop) != 1) break;
        at = s.f[kid].loop;
    }
    REQUIRE(column.size() >= 5);
    leans.columns = leanOf(column);
    for (std::int32_t i = 0; i < s.f.entryCount(); ++i) {
        if (s.f.isLoop(EntryId{i}) && s.f.linkCount(EntryId{i}) == 2) ++leans.ended;
    }
    return leans;
}

}  // namespace

TEST_CASE(
    "an increase at one edge and a decrease at the other: edges parallel, columns lean to the decrease") {
    for (const bool growsRight : {true, false}) {
        const Leans leans = biased(growsRight);
        CAPTURE(growsRight, leans.rightEdge, leans.leftEdge, leans.columns);
        CHECK(leans.ended == 12);
        CHECK(std::abs(leans.rightEdge - leans.leftEdge) < 3);
        // One stitch in two rows, seen upright along the columns: atan(w / 2 h) is 33 degrees.
        const double lean = leans.columns - 0.5 * (leans.rightEdge + leans.leftEdge);
        CHECK((growsRight ? lean < -20 : lean > 20));
    }
}

TEST_CASE("a spine of double decreases with both increases at one edge runs diagonally to the other") {
    constexpr int kStitches = 17;
    Piece s(kStitches);
    int before = 4;  // stitches to the right of the spine's three
    std::vector<LoopId> spine;
    std::vector<LoopId> right;
    std::vector<LoopId> left;
    for (int r = 0; r < 9; ++r) {
        s.plain(1);
        REQUIRE(s.k.makeOne(Hand::left).has_value());
        s.plain(1);
        REQUIRE(s.k.makeOne(Hand::left).has_value());
        s.plain(before - 2);
        const Result<LoopId> middle = s.k.s2kp();
        REQUIRE(middle.has_value());
        s.plain(s.k.aheadCount());
        CHECK(static_cast<int>(s.k.behind().size()) == kStitches);
        spine.push_back(*middle);
        right.push_back(s.k.behind().front());
        left.push_back(s.k.behind().back());
        ++before;
        CHECK(s.k.behind()[static_cast<std::size_t>(before) + 1] == *middle);
        s.k.turn();
        s.plain(kStitches);
        s.k.turn();
    }
    for (std::size_t i = 1; i < spine.size(); ++i) {
        const std::vector<LoopId> hosts = s.f.hostsRightToLeft(spine[i]);
        REQUIRE(hosts.size() == 3);
        CHECK(s.f[s.f[hosts[1]].firstLink].host == spine[i - 1]);
    }
    Cloth cloth = Cloth::drawn(s.f);
    cloth.settle();
    CHECK_FALSE(cloth.fault());
    const auto lean = [&](const std::vector<LoopId>& loops) {
        std::vector<Point2> points;
        for (const LoopId loop : loops) points.push_back(middleOf(cloth.path(), loop));
        return leanOf(points);
    };
    CAPTURE(lean(spine), lean(right), lean(left));
    CHECK(std::abs(lean(right) - lean(left)) < 12);
    CHECK(lean(spine) - 0.5 * (lean(right) + lean(left)) < -20);
}
