// SPDX-License-Identifier: MIT
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "picture/drawing.h"
#include "shape/swatch.h"

namespace loopmend {

/// A small piece with something to see in it, and what of it is shown.
struct Scene {
    std::string name;
    std::function<Swatch()> knit;
    int firstRow = 3;
    int lastRow = 5;
    int firstStitch = 2;
    int lastStitch = 6;
};

/// One scene for everything that a knitter must know at a glance.
inline std::vector<Scene> scenes() {
    const auto with = [](int stitches, int before, const std::function<void(Swatch&)>& work) {
        return [=] {
            Swatch s(stitches);
            s.rows(4);
            s.plain(before);
            work(s);
            s.finishRow();
            s.rows(3);
            return s;
        };
    };
    const auto patterned = [](int stitches, const std::function<bool(int, int)>& knitOnRight) {
        return [=] {
            Swatch s(stitches);
            for (int r = 0; r < 8; ++r) {
                for (int i = 0; s.k.aheadCount() > 0; ++i) {
                    const bool facing = s.k.facing() == Side::right;
                    const int column = facing ? i : stitches - 1 - i;
                    made(s.k.work(1, knitOnRight(column, r) != facing, Leg::leading));
                }
                s.k.turn();
            }
            return s;
        };
    };
    return {
        {"plain", with(8, 0, [](Swatch&) {})},
        {"garter", patterned(8, [](int, int r) { return r % 2 == 0; })},
        {"rib", patterned(8, [](int c, int) { return c / 2 % 2 == 0; })},
        {"k2tog", with(9, 3, [](Swatch& s) { made(s.k.k2tog()); })},
        {"ssk", with(9, 3, [](Swatch& s) { made(s.k.ssk()); })},
        {"centred-double", with(10, 3, [](Swatch& s) { made(s.k.s2kp()); })},
        {"yarn-over", with(9, 3,
                           [](Swatch& s) {
                               made(s.k.yarnOver());
                               made(s.k.k2tog());
                           })},
        {"missed-yarn-over", with(9, 3, [](Swatch& s) { made(s.k.k2tog()); })},
        {"twisted", with(8, 3, [](Swatch& s) { made(s.k.knitTbl()); })},
        {"purl-among-knits", with(8, 3, [](Swatch& s) { made(s.k.purl()); })},
        {"slipped", with(8, 3, [](Swatch& s) { made(s.k.slip(SlipWay::purlwise, false)); })},
        {"cable-front", with(8, 2, [](Swatch& s) { REQUIRE(s.k.cross(2, 2, true).has_value()); })},
        {"cable-back", with(8, 2, [](Swatch& s) { REQUIRE(s.k.cross(2, 2, false).has_value()); })},
        {"made-one", with(7, 3, [](Swatch& s) { made(s.k.makeOne(Hand::left)); })},
        {"two-from-one", with(7, 3, [](Swatch& s) { made(s.k.kfb()); })},
        {"ladder",
         [] {
             Swatch s(9);
             s.rows(8);
             const LoopId dropped = s.k.ahead()[4];
             REQUIRE(s.k.drop(dropped).has_value());
             REQUIRE(letRunFrom(s.f(), dropped, 4) == 4);
             return s;
         },
         3, 8, 3, 7},
        {"bound-off",
         [] {
             Swatch s(8);
             s.rows(5);
             REQUIRE(s.k.bindOffAll().has_value());
             return s;
         },
         0, 6, 4, 8},
    };
}

/// Without words, so that no font changes the picture.
inline DrawingOptions plainOptions(const Scene& scene, Side side) {
    DrawingOptions options;
    options.side = side;
    options.firstRow = scene.firstRow;
    options.lastRow = scene.lastRow;
    options.firstStitch = scene.firstStitch;
    options.lastStitch = scene.lastStitch;
    options.rowNumbers = false;
    options.caption = false;
    return options;
}

}  // namespace loopmend
