// SPDX-License-Identifier: MIT
#include "picture/view.h"

#include <rapidcheck.h>
#include <rapidcheck/catch.h>
#include <algorithm>
#include <catch2/catch.hpp>

namespace loopmend {
namespace {

View someView() {
    View v;
    v.side = *rc::gen::element(Side::right, Side::wrong);
    v.tiltDegrees = *rc::gen::inRange(-60, 61);
    v.turnDegrees = *rc::gen::inRange(-60, 61);
    v.pixelsPerMm = 0.5 * *rc::gen::inRange(1, 60);
    v.centre = {0.7 * *rc::gen::inRange(-100, 100), 0.3 * *rc::gen::inRange(-100, 100)};
    v.pull = 0.1 * *rc::gen::inRange(6, 25);
    v.mirrored = *rc::gen::arbitrary<bool>();
    v.width = *rc::gen::inRange(50, 1500);
    v.height = *rc::gen::inRange(50, 1500);
    return v;
}

bool near(Point2 a, Point2 b) {
    return length(a - b) < 1e-6;
}

}  // namespace

TEST_CASE("the right side faces as the cloth is described: x to the right, y up, z toward the viewer") {
    View v;
    v.width = 200;
    v.height = 100;
    v.pixelsPerMm = 2;
    const SeenPoint p = v.seen({10, 5, 3});
    CHECK(p.at.x == Approx(120));
    CHECK(p.at.y == Approx(40));
    CHECK(p.depth == Approx(3));
}

TEST_CASE("turning over changes right and left, keeps the top, and brings the back to the front") {
    View v;
    v.centre = {4, 4};
    const SeenPoint a = v.seen({10, 5, 3});
    const SeenPoint b = v.turnedOver().seen({10, 5, 3});
    CHECK(b.at.x == Approx(v.width - a.at.x));
    CHECK(b.at.y == Approx(a.at.y));
    CHECK(b.depth == Approx(-a.depth));
}

TEST_CASE("a mirrored picture changes right and left and nothing else") {
    View v;
    v.tiltDegrees = 20;
    v.turnDegrees = 10;
    View m = v;
    m.mirrored = true;
    const SeenPoint a = v.seen({10, 5, 3});
    const SeenPoint b = m.seen({10, 5, 3});
    CHECK(b.at.x == Approx(v.width - a.at.x));
    CHECK(b.at.y == Approx(a.at.y));
    CHECK(b.depth == Approx(a.depth));
}

TEST_CASE("tilted, the top edge leans away; turned, the right edge does, whichever side faces") {
    for (const Side side : {Side::right, Side::wrong}) {
        View v;
        v.side = side;
        v.tiltDegrees = 30;
        CHECK(v.seen({0, 10, 0}).depth < -1);
        v.tiltDegrees = 0;
        v.turnDegrees = 30;
        const double x = side == Side::right ? 10 : -10;
        CHECK(v.seen({x, 0, 0}).at.x > 0.5 * v.width);
        CHECK(v.seen({x, 0, 0}).depth < -1);
    }
}

TEST_CASE("what is under a pixel is found again") {
    rc::prop("there and back", [] {
        const View v = someView();
        const Point2 p{0.37 * *rc::gen::inRange(-300, 300), 0.41 * *rc::gen::inRange(-300, 300)};
        RC_ASSERT(near(v.onCloth(v.pixel({p.x, p.y, 0})), p));
    });
}

TEST_CASE("coming nearer keeps what is under the pointer, moving brings it along") {
    rc::prop("under the pointer", [] {
        const View v = someView();
        const PixelPoint a{1.0 * *rc::gen::inRange(0, 1500), 1.0 * *rc::gen::inRange(0, 1500)};
        const PixelPoint b{1.0 * *rc::gen::inRange(0, 1500), 1.0 * *rc::gen::inRange(0, 1500)};
        const double factor = 0.1 * *rc::gen::inRange(5, 30);
        RC_ASSERT(near(v.nearer(factor, a).onCloth(a), v.onCloth(a)));
        RC_ASSERT(near(v.moved(a, b).onCloth(b), v.onCloth(a)));
    });
}

TEST_CASE("all of the cloth is in a picture that fits it, and touches its margin") {
    ClothBounds bounds;
    bounds.add({-30, 10, -1});
    bounds.add({50, 60, 2}, 1);
    for (const Side side : {Side::right, Side::wrong}) {
        const View v = View::fitting(bounds, 640, 400, 20, side);
        double least = 1e9;
        for (const double x : {bounds.low.x, bounds.high.x}) {
            for (const double y : {bounds.low.y, bounds.high.y}) {
                const PixelPoint p = v.pixel({x, y, 0});
                least = std::min({least, p.x, p.y, 640 - p.x, 400 - p.y});
            }
        }
        CHECK(least == Approx(20));
    }
    CHECK(View::fitting({}, 10, 10).pixelsPerMm > 0);
}

TEST_CASE("the stitches alone are less than all that is drawn") {
    Path path;
    PathStrand yarn;
    yarn.yarn = YarnId{0};
    yarn.mm = 2;
    for (int i = 0; i < 5; ++i) yarn.points.push_back({{10.0 * i, 0, 0}, EntryId{i}});
    PathStrand needle;
    needle.tool = ToolId{0};
    needle.mm = 4;
    needle.points = {{{-50, 9, 0}, {}}, {{90, 9, 0}, {}}};
    path.strands = {yarn, needle};
    CHECK(boundsOf(path).low.x == Approx(-52));
    CHECK(boundsOf(path).high.y == Approx(11));
    CHECK(boundsOf(path, false).low.x == Approx(9));
    CHECK(boundsOf(path, false).high.x == Approx(31));
    CHECK(boundsOf(path, false).high.y == Approx(1));
    path.strands[0].points.resize(1);
    CHECK_FALSE(boundsOf(path, false).empty());
    CHECK(boundsOf({}, false).empty());
}

TEST_CASE("cloth pulled wide gives way in height") {
    View v;
    v.pull = 1.5;
    CHECK(v.axes().right.x == Approx(1.5));
    CHECK(v.axes().up.y < 0.8);
}

}  // namespace loopmend
