// SPDX-License-Identifier: MIT
// The drawn yarn crosses as the links say: computed from the curve alone, operation by operation.
#include <algorithm>
#include <catch2/catch.hpp>

#include "shape/swatch.h"
#include "shape/weave.h"

namespace loopmend {
namespace {

std::string listed(const std::vector<std::string>& lines) {
    std::string text;
    for (const std::string& line : lines) text += line + "\n";
    return text;
}

void requireAllAsPlanned(const Fabric& fabric) {
    const Weave weave(fabric);
    const std::vector<std::string> wrong = weave.wrongLinks();
    INFO(listed(wrong));
    CHECK(wrong.empty());
}

bool consistsOf(const std::string& text, char letter) {
    return !text.empty() && std::all_of(text.begin(), text.end(), [&](char c) { return c == letter; });
}

}  // namespace

TEST_CASE("a knit shows its legs before its host's head, a purl behind it") {
    Swatch s(7);
    s.rows(4);
    s.plain(3);
    const LoopId purl = made(s.k.purl());
    const LoopId knit = made(s.k.knit());
    s.finishRow();
    s.rows(3);
    const Weave weave(s.f());
    CHECK(weave.along(knit, s.hosts(knit)[0]) == "UOOU");
    CHECK(weave.along(purl, s.hosts(purl)[0]) == "OUUO");
    requireAllAsPlanned(s.f());
}

TEST_CASE("both sides of plain, garter and ribbed pieces are woven as their links say") {
    for (int kind = 0; kind < 3; ++kind) {
        Swatch s(8);
        for (int r = 0; r < 6; ++r) {
            for (int i = 0; s.k.aheadCount() > 0; ++i) {
                const bool facing = s.k.facing() == Side::right;
                const int column = facing ? i : 7 - i;
                const bool knitOnRight = kind == 0 || (kind == 1 ? r % 2 == 0 : column / 2 % 2 == 0);
                made(s.k.work(1, knitOnRight != facing, Leg::leading));
            }
            s.k.turn();
        }
        INFO("kind " << kind);
        requireAllAsPlanned(s.f());
    }
}

TEST_CASE("the check of the crossings bites") {
    Swatch s(5);
    s.rows(3);
    std::size_t links = 0;
    for (std::int32_t i = 0; i < s.f().entryCount(); ++i)
        links += static_cast<std::size_t>(s.f().linkCount(EntryId{i}));
    CHECK(Weave(s.f()).wrongLinks().empty());
    CHECK(Weave(s.f(), true).wrongLinks().size() == links);
}

TEST_CASE("of stitches worked together the last one of the bight lies on top") {
    const auto fronts = [](Swatch& s, LoopId loop) {
        const Weave weave(s.f());
        const std::vector<LoopId> hosts = s.hosts(loop);
        // Right to left: does the host lie over those to its left where they cross?
        std::vector<std::string> over;
        for (std::size_t i = 0; i + 1 < hosts.size(); ++i)
            over.push_back(weave.along(hosts[i], hosts[i + 1]));
        return over;
    };
    SECTION("two together: the left one") {
        Swatch s(7);
        s.rows(4);
        s.plain(2);
        const LoopId loop = made(s.k.k2tog());
        s.finishRow();
        s.rows(2);
        CHECK(consistsOf(fronts(s, loop)[0], 'U'));
        requireAllAsPlanned(s.f());
    }
    SECTION("slip, slip, knit: the right one") {
        Swatch s(7);
        s.rows(4);
        s.plain(2);
        const LoopId loop = made(s.k.ssk());
        s.finishRow();
        s.rows(2);
        CHECK(consistsOf(fronts(s, loop)[0], 'O'));
        requireAllAsPlanned(s.f());
    }
    SECTION("purled together on the wrong side: the left one lies on top on the right side") {
        Swatch s(7);
        s.rows(5);
        s.plain(2);
        const LoopId loop = made(s.k.p2tog());
        s.finishRow();
        s.rows(2);
        CHECK(consistsOf(fronts(s, loop)[0], 'U'));
        requireAllAsPlanned(s.f());
    }
    SECTION("centred double: the middle one") {
        Swatch s(9);
        s.rows(4);
        s.plain(3);
        const LoopId loop = made(s.k.s2kp());
        s.finishRow();
        s.rows(2);
        const std::vector<std::string> over = fronts(s, loop);
        CHECK(consistsOf(over[0], 'U'));
        CHECK(consistsOf(over[1], 'O'));
        requireAllAsPlanned(s.f());
    }
}

TEST_CASE("the feet of a twisted stitch cross once, with their hand") {
    Swatch s(7);
    s.rows(3);
    s.plain(2);
    const LoopId left = s.next();
    made(s.k.knitTbl());
    const LoopId open = s.next();
    s.plain(1);
    const LoopId right = s.next();
    REQUIRE(s.k.remount(right, Mount::eastern).has_value());
    made(s.k.knit(Leg::front));
    s.finishRow();
    s.rows(2);
    REQUIRE(s.f()[s.f()[left].firstKid].form.twist == -1);
    REQUIRE(s.f()[s.f()[right].firstKid].form.twist == 1);
    const Weave weave(s.f());
    CHECK(weave.itself(left) == "\\");
    CHECK(weave.itself(open).empty());
    CHECK(weave.itself(right) == "/");
    requireAllAsPlanned(s.f());
}

TEST_CASE("a stitch wound a whole turn crosses its feet twice, with one hand") {
    Swatch s(5);
    s.rows(3);
    s.plain(2);
    const LoopId wound = s.next();
    REQUIRE(s.k.remount(wound, Mount::eastern).has_value());
    made(s.k.slip(SlipWay::knitwise, false));
    REQUIRE(s.k.tink().has_value());
    made(s.k.knitTbl());
    s.finishRow();
    const std::int8_t twist = s.f()[s.f()[wound].firstKid].form.twist;
    REQUIRE(twist == 2);
    CHECK(Weave(s.f()).itself(wound) == "//");
    requireAllAsPlanned(s.f());
}

TEST_CASE("yarn-overs, made stitches and several from one stand in what they were drawn through") {
    Swatch s(12);
    s.rows(3);
    s.plain(2);
    made(s.k.yarnOver());
    made(s.k.k2tog());
    s.plain(1);
    const LoopId made1 = made(s.k.makeOne(Hand::left));
    s.plain(2);
    const LoopId made2 = made(s.k.makeOne(Hand::right));
    s.plain(1);
    made(s.k.kfb());
    s.plain(1);
    made(s.k.kpk());
    s.finishRow();
    s.rows(3);
    requireAllAsPlanned(s.f());
    const Weave weave(s.f());
    CHECK(weave.itself(s.hosts(made1)[0]) == "\\");
    CHECK(weave.itself(s.hosts(made2)[0]) == "/");
}

TEST_CASE("lifted increases, knit below and wraps are drawn as their links say") {
    Swatch s(12);
    s.rows(4);
    s.plain(2);
    made(s.k.liftedIncrease(Hand::right));
    s.plain(2);
    made(s.k.liftedIncrease(Hand::left));
    s.plain(2);
    made(s.k.workBelow(false));
    s.finishRow();
    s.rows(1);
    s.plain(5);
    REQUIRE(s.k.wrapAndTurn().has_value());
    s.finishRow();
    s.plain(5);
    made(s.k.workWithWrap());
    s.finishRow();
    s.rows(2);
    requireAllAsPlanned(s.f());
}

TEST_CASE("cables: the columns held in front pass in front of every column they cross") {
    for (const bool front : {true, false}) {
        Swatch s(8);
        s.rows(4);
        s.plain(2);
        const std::vector<LoopId> ahead = s.k.ahead();
        REQUIRE(s.k.cross(2, 2, front).has_value());
        s.finishRow();
        s.rows(3);
        const Weave weave(s.f());
        for (const int i : {0, 1}) {
            for (const int j : {2, 3}) {
                INFO("held in " << (front ? "front" : "the back") << ", columns " << i << " and " << j);
                const std::string seen =
                    weave.along(ahead[static_cast<std::size_t>(i)], ahead[static_cast<std::size_t>(j)]);
                CHECK(seen.size() >= 4);
                CHECK(consistsOf(seen, front ? 'O' : 'U'));
            }
        }
        requireAllAsPlanned(s.f());
    }
}

TEST_CASE("a strand goes by a slipped stitch on its side") {
    for (const bool inFront : {true, false}) {
        Swatch s(7);
        s.rows(4);
        s.plain(3);
        const LoopId slipped = s.next();
        made(s.k.slip(SlipWay::purlwise, inFront));
        s.finishRow();
        s.rows(2);
        const PassId pass = s.f().passesOf(slipped).at(0);
        INFO((inFront ? "in front" : "behind"));
        CHECK(Weave(s.f()).along(pass, slipped, 0.2) == (inFront ? "OO" : "UU"));
        requireAllAsPlanned(s.f());
    }
}

TEST_CASE("a ladder: its rungs lie free, level by level, and the open loop stands at its foot") {
    Swatch s(9);
    s.rows(8);
    const LoopId dropped = s.k.ahead()[4];
    REQUIRE(s.k.drop(dropped).has_value());
    REQUIRE(letRunFrom(s.f(), dropped, 4) == 4);
    LoopId open;
    for (std::int32_t i = 0; i < s.f().entryCount(); ++i) {
        if (s.f().has(EntryId{i}) && s.f().isLoop(EntryId{i}) && s.f().isLoose(EntryId{i})) open = EntryId{i};
    }
    const std::vector<PassId> ladder = rungs(s.f(), open);
    REQUIRE(ladder.size() == 4);
    const Weave weave(s.f());
    double below = weave.layout()[open].frame.at.y;
    for (const PassId rung : ladder) {
        CHECK(weave.layout()[rung].frame.at.y > below + 0.5 * weave.layout().gauge.rowMm);
        below = weave.layout()[rung].frame.at.y;
        const std::string seen = weave.along(rung, open);
        CHECK(seen.find('O') == std::string::npos);
    }
    requireAllAsPlanned(s.f());
}

TEST_CASE("a bind-off is a chain of loops drawn one through the other") {
    for (const bool purl : {false, true}) {
        Swatch s(7);
        s.rows(4);
        REQUIRE(s.k.bindOffAll(purl).has_value());
        requireAllAsPlanned(s.f());
    }
    Swatch middle(9);
    middle.rows(4);
    middle.plain(2);
    REQUIRE(middle.k.bindOff(3).has_value());
    middle.finishRow();
    middle.rows(2);
    requireAllAsPlanned(middle.f());
}

TEST_CASE("live loops sit on the needle as they are mounted") {
    Swatch s(4);
    s.rows(2);
    const LoopId western = s.k.ahead()[0];
    const LoopId eastern = s.k.ahead()[1];
    REQUIRE(s.k.remount(eastern, Mount::eastern).has_value());
    const Weave weave(s.f());
    // The yarn of row 2 ran rightward: it comes up the left leg first.
    REQUIRE(s.f().run(western) == Run::rightward);
    CHECK(weave.withTool(western, s.f().needle()) == "UO");
    CHECK(weave.withTool(eastern, s.f().needle()) == "OU");
}

TEST_CASE("loops picked up along an edge come out over it") {
    Swatch s(6);
    s.rows(6);
    REQUIRE(s.k.bindOffAll().has_value());
    std::vector<LoopId> edge;
    for (std::int32_t i = 0; i < s.f().entryCount(); ++i) {
        const EntryId e{i};
        if (!s.f().isLoop(e) || s.f().run(e) != Run::leftward || s.f().linkCount(e) == 0) continue;
        const EntryId before = s.f()[e].prev;
        if (before && s.f().run(before) != Run::leftward) edge.push_back(e);
    }
    REQUIRE(edge.size() >= 3);
    Knitter k(s.f(), s.f().addYarn('B', 16800, 4200), Side::right);
    std::vector<LoopId> picked;
    for (int i = 0; i < 3; ++i)
        picked.push_back(made(k.pickUp(edge[static_cast<std::size_t>(i)], Part::bothLegs, Side::right)));
    const Weave weave(s.f());
    for (std::size_t i = 0; i < picked.size(); ++i) {
        const std::string seen = weave.along(picked[i], edge[i]);
        INFO("picked up " << i << ": " << seen);
        // Both its legs lie over both legs of the edge stitch.
        CHECK(std::count(seen.begin(), seen.end(), 'O') >= 4);
    }
}

}  // namespace loopmend
