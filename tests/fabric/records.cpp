// SPDX-License-Identifier: MIT
//
// The records: small, plain, and enough.
#include <catch2/catch.hpp>
#include <type_traits>

#include "random_knitting.h"
#include "swatch.h"

namespace loopmend {

TEST_CASE("records are words that a journal can keep") {
    CHECK(std::is_trivially_copyable_v<Entry>);
    CHECK(std::is_trivially_copyable_v<Link>);
    CHECK(std::is_trivially_copyable_v<Held>);
    CHECK(std::is_trivially_copyable_v<Crossing>);
    CHECK(sizeof(Entry) % 4 == 0);
    CHECK(sizeof(Link) % 4 == 0);
    CHECK(sizeof(Strands) % 4 == 0);
    CHECK(sizeof(Tool) % 4 == 0);
    CHECK(sizeof(Yarn) % 4 == 0);
}

TEST_CASE("a loop of plain knitting takes at most 128 bytes") {
    Swatch s = plainSwatch(100, 200);
    const double each = static_cast<double>(s.fabric().bytes()) / static_cast<double>(s.fabric().loopCount());
    CHECK(each <= 128.0);
}

TEST_CASE("ids of different things never mix, and one made by default names nothing") {
    CHECK_FALSE(static_cast<bool>(LoopId{}));
    CHECK(static_cast<bool>(LoopId{0}));
    CHECK_FALSE(std::is_convertible_v<LoopId, YarnId>);
    CHECK_FALSE(std::is_convertible_v<int, LoopId>);
    CHECK(LoopId{3} == LoopId{3});
    CHECK(LoopId{3} != LoopId{4});
}

TEST_CASE("opposites") {
    CHECK(opposite(Side::right) == Side::wrong);
    CHECK(opposite(Side::wrong) == Side::right);
    CHECK(opposite(Run::leftward) == Run::rightward);
    CHECK(opposite(Mount::western) == Mount::eastern);
}

TEST_CASE("every list of a fabric is whole in both directions, whatever was done to it") {
    const auto whole = [](const Fabric& f) {
        for (std::int32_t y = 0; y < f.yarnCount(); ++y) {
            EntryId last;
            for (EntryId e = f[YarnId{y}].first; e; e = f[e].next) {
                REQUIRE(f[e].prev == last);
                REQUIRE(f[e].yarn == YarnId{y});
                REQUIRE(f[e].flags.gone == 0);
                last = e;
                if (!f.isLoop(e)) {
                    REQUIRE(f[f[e].goingBy].loop == f.passed(e));
                    REQUIRE(f[f.passed(e)].strands == f[e].goingBy);
                    continue;
                }
                LinkId before;
                for (LinkId l = f[e].firstKid; l; l = f[l].nextInHost) {
                    REQUIRE(f[l].host == e);
                    REQUIRE(f[l].prevInHost == before);
                    before = l;
                }
                REQUIRE(f[e].lastKid == before);
                LinkId lastLink;
                for (LinkId l = f[e].firstLink; l; l = f[l].nextInLoop) {
                    REQUIRE(f[l].loop == e);
                    lastLink = l;
                }
                REQUIRE(f[e].lastLink == lastLink);
                PassId under;
                for (const PassId p : f.passesOf(e)) {
                    REQUIRE(f[p].passPrev == under);
                    under = p;
                }
                for (HeldId h = f[e].held; h; h = f[h].alsoHeld) REQUIRE(f[h].loop == e);
                REQUIRE(f[e].um >= 0);
                REQUIRE(f[e].strandUm >= 0);
            }
            REQUIRE(f[YarnId{y}].last == last);
        }
        for (std::int32_t t = 0; t < f.toolCount(); ++t) {
            HeldId last;
            bool tip = !f[ToolId{t}].tip;
            for (HeldId h = f[ToolId{t}].first; h; h = f[h].next) {
                REQUIRE(f[h].prev == last);
                REQUIRE(f[h].tool == ToolId{t});
                tip = tip || h == f[ToolId{t}].tip;
                last = h;
            }
            REQUIRE(f[ToolId{t}].last == last);
            REQUIRE(tip);  // the gap lies before a place of this very tool
        }
    };
    for (int seed = 0; seed < cases(150); ++seed) {
        CAPTURE(seed);
        Dice dice(static_cast<std::uint64_t>(seed));
        Swatch s = randomSwatch(dice, 3);
        whole(s.fabric());
        const JournalMark mark = s.fabric().mark();
        for (int i = 0; i < 10; ++i) {
            randomHandMove(s, dice);
            whole(s.fabric());
        }
        for (int i = 0; i < 20; ++i) randomPrimitive(s.fabric(), dice);
        whole(s.fabric());
        whole(reloaded(s.fabric()));
        s.fabric().rollBack(mark);
        whole(s.fabric());
    }
}

}  // namespace loopmend
