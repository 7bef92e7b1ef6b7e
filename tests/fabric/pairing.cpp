// SPDX-License-Identifier: MIT
//
// Pairing against the texts: two fabrics agree entry by entry exactly if their first lines do, apart from
// tools.
#include <algorithm>
#include <catch2/catch.hpp>

#include "fabric/pairing.h"
#include "random_knitting.h"
#include "rebuild.h"
#include "swatch.h"

namespace loopmend {

namespace {

/// The first line without tools, joins, loose loops and whether a yarn still runs to its ball.
std::string standing(const Fabric& f) {
    const std::string knot = knotOf(f);
    std::string kept;
    for (std::size_t from = 0; from < knot.size();) {
        const std::size_t end = std::min(knot.find(" | ", from), knot.size());
        std::string section = knot.substr(from, end - from);
        if (section.rfind("yarn ", 0) == 0) section.erase(7, section.find(' ', 7) - 7);
        if (section.rfind("yarn ", 0) == 0 || section.rfind("cross ", 0) == 0) kept += section + "\n";
        from = end + 3;
    }
    return kept;
}

}  // namespace

TEST_CASE("a fabric pairs with itself reloaded and with itself made anew") {
    for (int seed = 0; seed < cases(150); ++seed) {
        CAPTURE(seed);
        Dice dice(static_cast<std::uint64_t>(seed));
        Swatch s = randomSwatch(dice, 3);
        for (int i = 0; i < 8; ++i) randomHandMove(s, dice);
        const Fabric& f = s.fabric();
        for (const Fabric& g : {reloaded(f), rebuilt(f, false)}) {
            const Pairing p = pairUp(f, g);
            REQUIRE(p.complete);
            REQUIRE(p.agrees());
            const Numbering here = numbering(f);
            const Numbering there = numbering(g);
            for (std::size_t i = 0; i < here.order.size(); ++i) {
                REQUIRE(p.actual(here.order[i]) == there.order[i]);
                REQUIRE(p.meant(there.order[i]) == here.order[i]);
            }
        }
    }
}

TEST_CASE("two fabrics that do not have one first line do not agree") {
    int different = 0;
    for (int seed = 0; seed < cases(150); ++seed) {
        CAPTURE(seed);
        Dice dice(static_cast<std::uint64_t>(seed));
        Swatch s = randomSwatch(dice, 2, 6);
        const Fabric before = s.fabric();
        for (int i = 0; i < 3; ++i) {
            if (dice.chance(50)) {
                randomHandMove(s, dice);
            } else {
                (void)randomPrimitive(s.fabric(), dice);
            }
        }
        const bool same = standing(before) == standing(s.fabric());
        const Pairing p = pairUp(before, s.fabric(), 3000);
        INFO(standing(before) << "\n" << standing(s.fabric()));
        if (p.complete && p.agrees()) REQUIRE(same);
        different += same ? 0 : 1;
    }
    CHECK(different > cases(150) / 4);
}

}  // namespace loopmend
