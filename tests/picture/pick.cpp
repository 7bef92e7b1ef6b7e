// SPDX-License-Identifier: MIT
#include "picture/pick.h"

#include <rapidcheck.h>
#include <rapidcheck/catch.h>
#include <catch2/catch.hpp>
#include <cmath>
#include <map>

#include "picture/cloths.h"

namespace loopmend {
namespace {

std::vector<EntryId> entriesOf(const Path& path) {
    std::vector<EntryId> out;
    for (const PathStrand& s : path.strands) {
        if (s.tool) continue;
        for (const PathPoint& p : s.points) {
            if (p.entry && (out.empty() || out.back() != p.entry)) out.push_back(p.entry);
        }
    }
    return out;
}

// The foremost yarn at a pixel, found the slow way: every piece of every strand.
EntryId foremost(const Path& path, const View& view, PixelPoint pixel) {
    EntryId best;
    double front = -1e300;
    for (const PathStrand& s : path.strands) {
        for (std::size_t i = 0; i + 1 < s.points.size(); ++i) {
            for (int k = 0; k <= 40; ++k) {
                const SeenPoint p = view.seen(mix(s.points[i].at, s.points[i + 1].at, k / 40.0));
                const double u =
                    std::hypot(p.at.x - pixel.x, p.at.y - pixel.y) / (0.5 * s.mm * view.pixelsPerMm);
                if (u > 1) continue;
                const double depth = p.depth + 0.5 * s.mm * std::sqrt(1 - u * u);
                if (depth <= front) continue;
                front = depth;
                best = s.tool ? EntryId{} : s.points[i].entry;
            }
        }
    }
    return best;
}

View someView(const Path& path) {
    View v = View::fitting(boundsOf(path), 900, 700, 30, *rc::gen::element(Side::right, Side::wrong));
    v.tiltDegrees = *rc::gen::inRange(-25, 26);
    v.turnDegrees = *rc::gen::inRange(-25, 26);
    v.mirrored = *rc::gen::arbitrary<bool>();
    v.pull = 0.1 * *rc::gen::inRange(9, 15);
    return v;
}

}  // namespace

TEST_CASE("pointing at where an entry is drawn finds that entry, whichever way the cloth is held") {
    const SeenCloth cloths[] = {seenCloth(9, 10), seenCloth(9, 10, Oddity::ladder),
                                seenCloth(8, 8, Oddity::crossed)};
    rc::prop("found where it is drawn", [&] {
        const SeenCloth& cloth = cloths[*rc::gen::inRange(0, 3)];
        const View view = someView(cloth.path);
        const Picker picker(cloth.path, cloth.fabric(), view);
        int hidden = 0;
        int all = 0;
        for (const EntryId e : entriesOf(cloth.path)) {
            const auto place = picker.whereIs(e);
            RC_ASSERT(place.has_value());
            ++all;
            if (!place->visible) {
                ++hidden;
                continue;
            }
            for (const double snap : {0.0, 8.0}) {
                const auto picked = picker.at(place->at, snap);
                RC_ASSERT(picked.has_value());
                RC_ASSERT(picked->entry == e);
                RC_ASSERT(picked->distance == 0.0);
            }
            RC_ASSERT(place->at.x >= place->low.x && place->at.x <= place->high.x);
            RC_ASSERT(place->at.y >= place->low.y && place->at.y <= place->high.y);
        }
        RC_ASSERT(hidden * 50 <= all);
    });
}

TEST_CASE("the foremost yarn is found, as a search through everything finds it") {
    const SeenCloth cloth = seenCloth(6, 6);
    for (const Side side : {Side::right, Side::wrong}) {
        View view = View::fitting(boundsOf(cloth.path), 400, 400, 10, side);
        view.turnDegrees = 8;
        const Picker picker(cloth.path, cloth.fabric(), view);
        int same = 0;
        int asked = 0;
        for (double x = 60; x < 340; x += 14) {
            for (double y = 60; y < 340; y += 14) {
                const EntryId there = foremost(cloth.path, view, {x, y});
                if (!there) continue;
                ++asked;
                const auto picked = picker.at({x, y}, 0);
                same += picked && picked->entry == there ? 1 : 0;
            }
        }
        CHECK(asked > 150);
        CHECK(same * 50 >= asked * 49);  // a bit of yarn is straight for the picker
    }
}

TEST_CASE("the other side shows other yarn in front") {
    const SeenCloth cloth = seenCloth(8, 8);
    const View right = View::fitting(boundsOf(cloth.path), 500, 500);
    const Picker a(cloth.path, cloth.fabric(), right);
    const Picker b(cloth.path, cloth.fabric(), right.turnedOver());
    int other = 0;
    int asked = 0;
    for (double x = 130; x < 370; x += 13) {
        for (double y = 130; y < 370; y += 13) {
            const auto front = a.at({x, y}, 0);
            const auto back = b.at({500 - x, y}, 0);
            if (!front || !back) continue;
            ++asked;
            other += front->entry != back->entry ? 1 : 0;
        }
    }
    CHECK(asked > 100);
    CHECK(other * 3 > asked);
}

TEST_CASE("the pointer snaps to yarn beside it and no farther") {
    const SeenCloth cloth = seenCloth(6, 6);
    const ClothBounds bounds = boundsOf(cloth.path);
    const View view = View::fitting(bounds, 400, 400, 60);
    const Picker picker(cloth.path, cloth.fabric(), view);
    Point3 lowest = bounds.high;
    for (const PathStrand& s : cloth.path.strands) {
        for (const PathPoint& p : s.points) lowest = p.at.y < lowest.y ? p.at : lowest;
    }
    const PixelPoint outside{view.pixel(lowest).x, view.pixel(bounds.low).y + 6};
    CHECK_FALSE(picker.at(outside, 0).has_value());
    CHECK_FALSE(picker.at(outside, 2).has_value());
    const auto snapped = picker.at(outside, 40);
    REQUIRE(snapped.has_value());
    CHECK(snapped->distance > 2);
    CHECK(snapped->distance <= 40);
    CHECK_FALSE(picker.at({-5000, 4000}, 40).has_value());
}

TEST_CASE("parts of a loop are where a knitter names them") {
    const SeenCloth cloth = seenCloth(8, 8);
    for (const Side side : {Side::right, Side::wrong}) {
        for (const bool mirrored : {false, true}) {
            View view = View::fitting(boundsOf(cloth.path), 800, 800, 20, side);
            view.mirrored = mirrored;
            const Picker picker(cloth.path, cloth.fabric(), view);
            // Middles of the seen parts of one loop in the middle of the piece.
            std::map<EntryId, std::map<YarnPart, std::pair<PixelPoint, int>>> seen;
            for (double x = 200; x < 600; x += 3) {
                for (double y = 250; y < 600; y += 3) {
                    const auto p = picker.at({x, y}, 0);
                    if (!p || !p->entry) continue;
                    auto& [sum, count] = seen[p->entry][p->part];
                    sum = {sum.x + x, sum.y + y};
                    ++count;
                }
            }
            int compared = 0;
            for (const auto& [entry, parts] : seen) {
                if (cloth.fabric()[entry].flags.anchored != 0) continue;  // the legs of a hitch cross
                const auto left = parts.find(YarnPart::leftLeg);
                const auto right = parts.find(YarnPart::rightLeg);
                if (left == parts.end() || right == parts.end()) continue;
                if (left->second.second < 10 || right->second.second < 10) continue;
                ++compared;
                CHECK(left->second.first.x / left->second.second <
                      right->second.first.x / right->second.second);
            }
            if (side == Side::right) CHECK(compared > 10);
        }
    }
}

TEST_CASE("rungs, needles and loops are told apart, and tools can be looked through") {
    const SeenCloth cloth = seenCloth(9, 10, Oddity::ladder);
    const View view = View::fitting(boundsOf(cloth.path), 900, 800);
    const Picker picker(cloth.path, cloth.fabric(), view);
    int rungs = 0;
    for (const EntryId e : entriesOf(cloth.path)) {
        if (!cloth.fabric().has(e) || cloth.fabric().isLoop(e)) continue;
        const auto place = picker.whereIs(e);
        REQUIRE(place.has_value());
        REQUIRE(place->visible);
        CHECK(picker.at(place->at)->part == YarnPart::rung);
        ++rungs;
    }
    CHECK(rungs == 5);
    const auto needle = picker.whereIs(cloth.fabric().needle());
    REQUIRE(needle.has_value());
    REQUIRE(needle->visible);
    const auto picked = picker.at(needle->at);
    REQUIRE(picked.has_value());
    CHECK(picked->part == YarnPart::tool);
    CHECK(picked->tool == cloth.fabric().needle());
    CHECK_FALSE(picked->entry);
    const auto through = picker.at(needle->at, 60, false);
    REQUIRE(through.has_value());
    CHECK(through->entry);
}

}  // namespace loopmend
