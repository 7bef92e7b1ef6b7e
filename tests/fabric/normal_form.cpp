// SPDX-License-Identifier: MIT
//
// The normal form: a fabric is numbered by how its yarns lie, never by how it came to be.
#include <algorithm>
#include <catch2/catch.hpp>

#include "random_knitting.h"
#include "rebuild.h"
#include "swatch.h"

namespace loopmend {

namespace {

/// A cut yarn with some loops of a kind; which of them are held tells its two ends apart.
Fabric strip(const std::vector<bool>& heldLoops, bool backwards) {
    Fabric f;
    const YarnId yarn = f.addYarn('A', kLoopUm, kStrandUm);
    std::vector<LoopId> loops;
    for (std::size_t i = 0; i < heldLoops.size(); ++i) {
        const Run run = backwards ? Run::rightward : Run::leftward;
        const LoopId loop = *f.liftFromBall(yarn, run, kLoopUm, kStrandUm);
        f.setAnchored(loop, true);
        loops.push_back(loop);
    }
    f.setBall(yarn, false);
    if (backwards) std::reverse(loops.begin(), loops.end());
    for (std::size_t i = 0; i < loops.size(); ++i) {
        if (heldLoops[i]) (void)f.hold(loops[i], f.needle(), HeldId{}, Mount::western);
    }
    return f;
}

}  // namespace

TEST_CASE("a yarn cut at both ends may be read from either: the smaller text is taken") {
    // The same loops lie there, worked from right to left or from left to right.
    CHECK(knotOf(strip({true, false, false}, false)) == knotOf(strip({true, false, false}, true)));
    CHECK(knotOf(strip({true, true, false}, false)) == knotOf(strip({true, true, false}, true)));
    CHECK(knotOf(strip({false, true, true}, false)) == knotOf(strip({false, true, true}, true)));
    CHECK(knotOf(strip({true, false, false}, false)) != knotOf(strip({false, true, false}, false)));
}

TEST_CASE("the order in which yarns were made does not matter, nor which yarn is thought of first") {
    for (int seed = 0; seed < cases(60); ++seed) {
        CAPTURE(seed);
        std::vector<std::string> texts;
        for (const bool swapped : {false, true}) {
            Fabric f;
            const YarnId one = f.addYarn(swapped ? 'B' : 'A', kLoopUm, kStrandUm);
            const YarnId two = f.addYarn(swapped ? 'A' : 'B', kLoopUm, kStrandUm);
            const YarnId a = swapped ? two : one;
            const YarnId b = swapped ? one : two;
            Knitter k(f, a, Side::wrong);
            REQUIRE(k.castOnBackward(7));
            k.turn();
            Dice dice(static_cast<std::uint64_t>(seed));
            for (int r = 0; r < 4; ++r) {
                while (k.aheadCount() > 0) {
                    k.takeYarn(dice.chance(50) ? a : b);
                    REQUIRE(k.knit());
                }
                k.turn();
            }
            texts.push_back(text(f));
        }
        REQUIRE(texts[0] == texts[1]);
    }
}

TEST_CASE("pieces that do not hang together stand one after another, in the order of their texts") {
    std::vector<std::string> knots;
    for (const bool swapped : {false, true}) {
        Fabric f;
        // Two small pieces on one needle, of unlike width.
        for (const int width : swapped ? std::vector<int>{4, 3} : std::vector<int>{3, 4}) {
            const YarnId yarn = f.addYarn('A', kLoopUm, kStrandUm);
            const ToolId holder = f.addTool(ToolKind::holder);
            for (int i = 0; i < width; ++i) {
                const LoopId loop = *f.liftFromBall(yarn, Run::leftward, kLoopUm, kStrandUm);
                f.setAnchored(loop, true);
                REQUIRE(f.hold(loop, holder, HeldId{}, Mount::western));
            }
        }
        CHECK(roundTrips(f));
        knots.push_back(knotOf(f));
    }
    CHECK(knots[0] == knots[1]);
}

TEST_CASE("pieces alike but for what holds them have one text whichever was first") {
    std::vector<std::string> texts;
    for (const bool swapped : {false, true}) {
        Fabric f;
        for (const bool first : {true, false}) {
            const YarnId yarn = f.addYarn('A', kLoopUm, kStrandUm);
            const bool onNeedle = first != swapped;
            const ToolId tool = onNeedle ? f.needle() : f.addTool(ToolKind::pin);
            for (int i = 0; i < 3; ++i) {
                const LoopId loop = *f.liftFromBall(yarn, Run::leftward, kLoopUm, kStrandUm);
                f.setAnchored(loop, true);
                REQUIRE(f.hold(loop, tool, HeldId{}, onNeedle ? Mount::western : Mount::eastern));
            }
        }
        CHECK(roundTrips(f));
        texts.push_back(text(f));
    }
    CHECK(texts[0] == texts[1]);
}

TEST_CASE("what is nothing is not written: dropped yarn-overs, bars let go, strands over them") {
    Swatch s = plainSwatch(6, 2);
    const std::string plain = s.knot();
    Fabric& f = s.fabric();
    const LoopId standing = below(f, s.knitter().ahead()[2], 1);
    const LoopId bar = *f.liftInStrand(s.yarn(), standing, f.run(standing), 700);
    CHECK(f.isNothing(bar));
    CHECK(s.knot() == plain);
    const PassId pass = *f.lay(s.yarn(), f[s.yarn()].last, bar, Side::right, Run::leftward);
    CHECK(s.knot() == plain);
    CHECK(reloaded(f).totalUm() == f.totalUm());
    REQUIRE(f.hold(bar, f.needle(), HeldId{}, Mount::western));
    CHECK(s.knot() != plain);
    CHECK(s.knot().find('~') != std::string::npos);
    CHECK(f.has(pass));
}

TEST_CASE("strands past the last loop are written: a slip or a wrap just made") {
    Swatch s = plainSwatch(6, 2);
    const std::string plain = s.knot();
    s.work("k2 sl");
    CHECK(s.knot().find("~") != std::string::npos);
    Fabric g = reloaded(s.fabric());
    Knitter k(g, YarnId{0}, Side::right);
    REQUIRE(k.knit());
    s.work("k");
    CHECK(knotOf(g) == s.knot());
    CHECK(plain != s.knot());
}

TEST_CASE("a strand that comes to lie beside its own loop, when what lay between is gone, is nothing") {
    Swatch s = plainSwatch(6, 2);
    // Slip, yarn over, knit, and the slipped stitch passed over the knitted one alone.
    const LoopId slipped = s.work("sl");
    const LoopId yarnOver = s.work("yo");
    const LoopId knitted = s.work("k");
    Fabric& f = s.fabric();
    REQUIRE(f.letGo(slipped, f.needle(), false));
    REQUIRE(f.pull(knitted, slipped, LinkForm{-1, Side::right, Part::opening, Plies::whole, -1}));
    CHECK(s.knot().find('~') != std::string::npos);  // the yarn-over keeps the strand from lying beside it
    REQUIRE(f.letGo(yarnOver, f.needle(), false));
    Swatch t = plainSwatch(6, 2);
    t.work("sl k psso");
    const std::string knot = s.knot();
    CHECK(knot.find('~') == std::string::npos);
    CHECK(knot == t.knot());
    CHECK(roundTrips(f));
}

TEST_CASE("a row's end that fell on something that is nothing is written where it is") {
    Swatch s = plainSwatch(6, 2);
    s.work("* yo");
    const LoopId last = s.knitter().behind().back();
    s.work("|");
    REQUIRE(s.fabric().letGo(last, s.fabric().needle(), false));
    s.rows(1);
    CHECK(roundTrips(s.fabric()));
    const Fabric g = reloaded(s.fabric());
    CHECK(rowsOf(g).last == rowsOf(s.fabric()).last);
    const std::string measure = s.lines().measure;
    CHECK(std::count(measure.begin(), measure.end(), ';') == 5);
}

TEST_CASE("loops are numbered along the yarns, and the numbering says how") {
    Swatch s = plainSwatch(4, 2);
    const Fabric& f = s.fabric();
    const Numbering n = numbering(f);
    REQUIRE(n.yarns.size() == 1);
    CHECK(n.order == loopsOf(f));
    for (std::size_t i = 0; i < n.order.size(); ++i) {
        CHECK(n[n.order[i]].yarn == 1);
        CHECK(n[n.order[i]].loop == static_cast<std::int32_t>(i) + 1);
    }
}

TEST_CASE(
    "marks do not change the first line: what came out in another order left another second line at most") {
    Swatch s = plainSwatch(6, 4);
    Fabric& f = s.fabric();
    REQUIRE(s.knitter().drop(s.knitter().ahead()[2]));
    letRun(f, 3);
    const Itinerary before = s.lines();
    const LoopId foot = hanging(f);
    for (const PassId p : f.passesOf(foot)) f.setPassSide(p, Side::right);
    CHECK(s.lines().knot == before.knot);
    CHECK(s.lines().measure != before.measure);
    // Fixed by a needle they are the knot's; a pin does not fix them.
    const ToolId pin = f.addTool(ToolKind::pin);
    REQUIRE(f.hold(foot, pin, HeldId{}, Mount::western));
    CHECK(s.knot().find('~') == std::string::npos);
    REQUIRE(f.letGo(foot, pin, false));
    REQUIRE(f.hold(foot, f.addTool(ToolKind::holder), HeldId{}, Mount::western));
    const std::string fixed = s.knot();
    CHECK(std::count(fixed.begin(), fixed.end(), '~') == 3);
}

TEST_CASE("random fabrics made anew from the other end of their history have the same lines") {
    for (int seed = 0; seed < cases(150); ++seed) {
        CAPTURE(seed);
        Dice dice(static_cast<std::uint64_t>(seed));
        Swatch s = randomSwatch(dice, 3);
        for (int i = 0; i < 25; ++i) (void)randomPrimitive(s.fabric(), dice);
        REQUIRE(text(rebuilt(s.fabric(), false)) == text(s.fabric()));
        REQUIRE(knotOf(rebuilt(rebuilt(s.fabric(), true), true)) == knotOf(s.fabric()));
    }
}

}  // namespace loopmend
