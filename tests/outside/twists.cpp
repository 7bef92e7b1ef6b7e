// SPDX-License-Identifier: MIT
//
// A stitch twisted to the left and one twisted to the right: the same loops through the same loops, one more
// crossing of the yarn with itself, of opposite sign, and at rest mirror images of each other. S. G. Markande
// and E. A. Matsumoto, Knotty knits are tangles on tori, Bridges 2020: Mathematics, Art, Music, Architecture,
// Culture, 103-112 (a stitch and its mirror image as tangles); that both hands are one structure reflected is
// common practice.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <vector>

#include "fabric/knitter.h"
#include "shape/cloth.h"
#include "shape/crossings.h"

using namespace loopmend;

namespace {

constexpr int kStitches = 15;
constexpr int kRows = 14;
constexpr int kRow = 7;
constexpr int kPlace = 8;           // the middle
constexpr double kStitchYarn = 21;  // mm
constexpr double kHalf = 8;

/// A plain piece with one stitch drawn through its host's back leg (-1), or through the front leg of a host
/// that sits turned (+1), or as usual (0).
struct Piece {
    Fabric f;
    LoopId host;
    LoopId loop;

    explicit Piece(int twist) {
        Knitter k(f, f.addYarn('A', 16800, 4200), Side::wrong);
        REQUIRE(k.castOnLongTail(kStitches).has_value());
        k.turn();
        for (int r = 1; r <= kRows; ++r) {
            for (int i = 1; i <= kStitches; ++i) {
                const bool purl = k.facing() == Side::wrong;
                Leg leg = Leg::leading;
                const bool here = r == kRow && i == kPlace;
                if (here) host = k.ahead().front();
                if (here && twist < 0) leg = Leg::back;
                if (here && twist > 0) {
                    REQUIRE(k.remount(host, Mount::eastern).has_value());
                    leg = Leg::front;
                }
                const Result<LoopId> made = k.work(1, purl, leg);
                REQUIRE(made.has_value());
                if (here) loop = *made;
            }
            k.turn();
        }
    }
};

/// The yarn of the loop as the crossing with itself tells it: so much on both sides of the middle of its
/// head.
std::vector<Point3> aroundHead(const Path& path, EntryId e) {
    for (const PlanarCrossing& x : crossingsOf(path)) {
        const auto& points = path.strands[static_cast<std::size_t>(x.over.strand)].points;
        const auto entryAt = [&](double at) { return points[static_cast<std::size_t>(at)].entry; };
        if (x.over.strand != x.under.strand || entryAt(x.over.at) != e || entryAt(x.under.at) != e) continue;
        std::vector<double> along{0};
        for (std::size_t i = 1; i < points.size(); ++i)
            along.push_back(along.back() + length(points[i].at - points[i - 1].at));
        const auto whereIs = [&](double at) {
            const auto i = static_cast<std::size_t>(at);
            return along[i] + (at - static_cast<double>(i)) * (along[i + 1] - along[i]);
        };
        const double middle = 0.5 * (whereIs(x.over.at) + whereIs(x.under.at));
        std::vector<Point3> out;
        std::size_t k = 0;
        for (int i = 0; i <= 60; ++i) {
            const double at = middle + kHalf * (i - 30) / 30;
            while (along[k + 1] < at) ++k;
            out.push_back(mix(points[k].at, points[k + 1].at, (at - along[k]) / (along[k + 1] - along[k])));
        }
        return out;
    }
    FAIL("the loop does not cross itself");
    return {};
}

/// Turned about its middle and reflected in the upright plane, it begins where it ended.
std::vector<Point3> inTheGlass(std::vector<Point3> points) {
    for (Point3& p : points) p.x = -p.x;
    std::reverse(points.begin(), points.end());
    return points;
}

std::vector<Point3> aboutItsMiddle(std::vector<Point3> points) {
    Point3 sum;
    for (const Point3& p : points) sum = sum + p;
    for (Point3& p : points) p = p - sum * (1.0 / static_cast<double>(points.size()));
    return points;
}

/// Root mean square distance, mm.
double apart(const std::vector<Point3>& a, const std::vector<Point3>& b) {
    double sum = 0;
    for (std::size_t i = 0; i < a.size(); ++i) sum += dot(a[i] - b[i], a[i] - b[i]);
    return std::sqrt(sum / static_cast<double>(a.size()));
}

/// +1 for each crossing of the entry with itself where the branch that lies over reads `/`, -1 for `\`.
std::vector<int> itself(const Path& path, EntryId e) {
    std::vector<int> signs;
    const auto entryAt = [&](const PlanarCrossing::Branch& b) {
        return path.strands[static_cast<std::size_t>(b.strand)].points[static_cast<std::size_t>(b.at)].entry;
    };
    for (const PlanarCrossing& x : crossingsOf(path)) {
        if (entryAt(x.over) != e || entryAt(x.under) != e) continue;
        const auto& points = path.strands[static_cast<std::size_t>(x.over.strand)].points;
        const auto i = static_cast<std::size_t>(x.over.at);
        const Point3 way = points[i + 1].at - points[i].at;
        signs.push_back(way.x * way.y > 0 ? 1 : -1);
    }
    return signs;
}

Path atRest(const Piece& piece) {
    ClothOptions options;
    options.mostSteps = 6000;
    Cloth cloth = Cloth::drawn(piece.f, options);
    cloth.settle();
    REQUIRE_FALSE(cloth.fault());
    return cloth.path();
}

}  // namespace

TEST_CASE("twisted to the left and to the right: the same parents and children, one extra signed crossing") {
    const Piece left(-1);
    const Piece open(0);
    const Piece right(1);
    REQUIRE(left.f.entryCount() == right.f.entryCount());
    int others = 0;
    for (std::int32_t i = 0; i < left.f.entryCount(); ++i) {
        const std::vector<LinkId> a = left.f.linksOf(EntryId{i});
        const std::vector<LinkId> b = right.f.linksOf(EntryId{i});
        REQUIRE(a.size() == b.size());
        for (std::size_t k = 0; k < a.size(); ++k) {
            CHECK(left.f[a[k]].host == right.f[b[k]].host);
            others += left.f[a[k]].form.twist != right.f[b[k]].form.twist ? 1 : 0;
            CHECK(left.f[a[k]].form.side == right.f[b[k]].form.side);
        }
    }
    CHECK(others == 1);
    CHECK(itself(atRest(left), left.host) == std::vector<int>{-1});
    CHECK(itself(atRest(open), open.host).empty());
    CHECK(itself(atRest(right), right.host) == std::vector<int>{1});
}

TEST_CASE("twisted to the left and to the right are mirror images at rest") {
    const Piece left(-1);
    const Piece right(1);
    const std::vector<Point3> l = aboutItsMiddle(aroundHead(atRest(left), left.host));
    const std::vector<Point3> r = aboutItsMiddle(aroundHead(atRest(right), right.host));
    CAPTURE(apart(l, inTheGlass(r)) / kStitchYarn, apart(l, r) / kStitchYarn);
    CHECK(apart(l, inTheGlass(r)) < 0.01 * kStitchYarn);
    CHECK(apart(l, r) > 0.03 * kStitchYarn);
}
