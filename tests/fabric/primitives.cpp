// SPDX-License-Identifier: MIT
//
// The primitives: each with its inverse, what each refuses, and that yarn is neither made nor lost.
#include <catch2/catch.hpp>
#include <set>

#include "random_knitting.h"
#include "swatch.h"

namespace loopmend {

namespace {

/// Tells whether doing one thing and its inverse gives back both lines.
template <class Do>
bool givesBack(Fabric& f, Do andBack) {
    const std::string before = text(f);
    andBack();
    return text(f) == before;
}

LoopId heldAt(const Fabric& f, int i) {
    HeldId h = f[f.needle()].first;
    while (i-- > 0) h = f[h].next;
    return f[h].loop;
}

}  // namespace

TEST_CASE("every primitive followed by its inverse is the identity of both lines") {
    for (int rows : {2, 3, 4}) {
        CAPTURE(rows);
        Swatch s = plainSwatch(6, rows);
        s.work("k2");
        Fabric& f = s.fabric();
        const LoopId a = heldAt(f, 1);
        const LoopId b = heldAt(f, 2);
        const LoopId last = f[s.yarn()].last;
        const LoopId standing = hostOf(f, a);

        CHECK(givesBack(f, [&] {  // lift in a strand, sink
            const LoopId bar = *f.liftInStrand(s.yarn(), standing, f.run(standing), 700);
            REQUIRE(f.sink(bar));
        }));
        CHECK(givesBack(f, [&] {  // lift from the ball, sink and give the yarn back
            const LoopId loop = *f.liftFromBall(s.yarn(), f.run(last), 9000, 2000);
            REQUIRE(f.sink(loop));
            f.reelIn(s.yarn());
        }));
        CHECK(givesBack(f, [&] {  // pull, unpull
            REQUIRE(f.pull(a, standing, LinkForm{-1, Side::wrong, Part::leftLeg, Plies::pierced, 3}));
            CHECK(*f.unpull(a) == standing);
        }));
        CHECK(givesBack(f, [&] {  // unpull, pull
            const LinkId link = f.linksOf(a).back();
            const LinkForm was = f[link].form;
            const LoopId host = *f.unpull(a);
            REQUIRE(f.pull(a, host, was));
        }));
        CHECK(givesBack(f, [&] {  // let go, hold
            const HeldId held = f.heldOn(a, f.needle());
            const HeldId before = f[held].next;
            const HeldState was = f[held].state;
            REQUIRE(f.letGo(a, f.needle(), false));
            REQUIRE(f.hold(a, f.needle(), before, was.mount, was.turns));
        }));
        CHECK(givesBack(f, [&] {  // let go keeping the place, hold again
            REQUIRE(f.letGo(a, f.needle(), true));
            seat(f, a);
        }));
        CHECK(givesBack(f, [&] {  // hold on a further tool, let go
            const ToolId lifeline = f.addTool(ToolKind::lifeline);
            REQUIRE(f.hold(standing, lifeline, HeldId{}, Mount::western));
            REQUIRE(f.letGo(standing, lifeline, false));
        }));
        CHECK(givesBack(f, [&] {  // hang, forget the place
            const LoopId bar = *f.liftInStrand(s.yarn(), standing, f.run(standing), 700);
            f.forgetPlace(f.hang(bar, f.needle(), HeldId{}));
            REQUIRE(f.sink(bar));
        }));
        CHECK(givesBack(f, [&] {  // cross, cross back: in front each time, so nothing is left
            REQUIRE(f.cross(a, b, a));
            CHECK(heldAt(f, 1) == b);
            REQUIRE(f.cross(b, a, a));
        }));
        CHECK(givesBack(f, [&] {  // cut, join
            const YarnId rest = *f.cut(standing);
            CHECK(f[rest].flags.ball == 1);
            REQUIRE(f.join(s.yarn(), rest, End::first));
        }));
        CHECK(givesBack(f, [&] {  // ease, ease back
            REQUIRE(f.ease(standing, hostOf(f, standing), 1234));
            REQUIRE(f.ease(hostOf(f, standing), standing, 1234));
        }));
        CHECK(givesBack(f, [&] {  // lay, unlay
            REQUIRE(f.unlay(*f.lay(s.yarn(), last, standing, Side::right, Run::leftward)));
        }));
        CHECK(givesBack(f, [&] {  // strands handed on and back
            const PassId pass = *f.lay(s.yarn(), last, standing, Side::right, Run::leftward);
            f.handStrandsOn(standing, a);
            CHECK(f.passed(pass) == a);
            f.handStrandsOnFrom(a, pass, standing);
            CHECK(f.passed(pass) == standing);
            REQUIRE(f.unlay(pass));
        }));
        CHECK(givesBack(f, [&] {  // notes and knots
            f.setAnchored(a, true);
            f.setAnchored(a, false);
            f.setRowEnds(standing, f[standing].flags.rowEnds == 0);
            f.setRowEnds(standing, f[standing].flags.rowEnds == 0);
        }));
        CHECK(givesBack(f, [&] {  // thread, unthread; the sewing yarn is nothing again
            const YarnId sewing = f.addYarn('S', kLoopUm, kStrandUm);
            f.setBall(sewing, false);
            const LoopId kid = f[f[standing].firstKid].loop;
            const LoopId sewn = *f.thread(sewing, Run::leftward, 8000,
                                          {{hostOf(f, standing), LinkForm{}, -1}}, {{kid, LinkForm{}, 1}});
            CHECK(f.linkCount(kid) == 2);
            REQUIRE(f.unthread(sewn));
        }));
    }
}

TEST_CASE("each primitive and its inverse on random fabrics") {
    for (int seed = 0; seed < cases(200); ++seed) {
        CAPTURE(seed);
        Dice dice(static_cast<std::uint64_t>(seed));
        Swatch s = randomSwatch(dice, 3);
        Fabric& f = s.fabric();
        for (int i = 0; i < 10; ++i) randomHandMove(s, dice);
        const std::string before = text(f);
        const std::vector<LoopId> loops = loopsOf(f);
        for (int i = 0; i < 20; ++i) {
            CAPTURE(i);
            const LoopId loop = dice.pick(loops);
            const LoopId other = dice.pick(loops);
            const YarnId yarn = f[loop].yarn;
            switch (dice.below(5)) {
                case 0: {
                    // A loop that is drawn out and in again keeps its place among its host's links.
                    if (!f.isLive(loop) || f.linkCount(loop) != 1) break;
                    const LinkId link = f.linksOf(loop).front();
                    std::int32_t slot = 0;
                    for (LinkId l = f[link].prevInHost; l; l = f[l].prevInHost) ++slot;
                    const LinkForm was = f[link].form;
                    const LoopId host = *f.unpull(loop);
                    REQUIRE(f.pull(loop, host, was, slot));
                    break;
                }
                case 1: {
                    const Result<LoopId> bar = f.liftInStrand(yarn, loop, f.run(loop), 300);
                    if (bar) REQUIRE(f.sink(*bar));
                    break;
                }
                case 2: {
                    if (f[loop].next && f[yarn].first != f[yarn].last) {
                        const YarnId rest = *f.cut(loop);
                        REQUIRE(f.join(yarn, rest, End::first));
                    }
                    break;
                }
                case 3:
                    if (f.ease(loop, other, 100)) REQUIRE(f.ease(other, loop, 100));
                    break;
                default: REQUIRE(f.unlay(*f.lay(yarn, loop, other, Side::wrong, Run::leftward)));
            }
            REQUIRE(text(f) == before);
        }
    }
}

TEST_CASE("a primitive that is refused changes nothing, and none makes or loses yarn but at an end") {
    const std::set<std::int64_t> fromOutside = {0, 7000, 8000, 8500, 9000};  // the ball, or a sewn end
    for (int seed = 0; seed < cases(150); ++seed) {
        CAPTURE(seed);
        Dice dice(static_cast<std::uint64_t>(seed + 1000));
        Swatch s = randomSwatch(dice, 2, 6);
        for (int i = 0; i < 40; ++i) {
            CAPTURE(i);
            const std::int64_t yarn = s.fabric().totalUm();
            const std::string before = text(s.fabric());
            if (!randomPrimitive(s.fabric(), dice)) REQUIRE(text(s.fabric()) == before);
            REQUIRE(fromOutside.count(s.fabric().totalUm() - yarn) == 1);
        }
    }
}

TEST_CASE("an operation of the knitter that is refused changes nothing") {
    int refused = 0;
    for (int seed = 0; seed < cases(40); ++seed) {
        CAPTURE(seed);
        Dice dice(static_cast<std::uint64_t>(seed));
        Swatch s = randomSwatch(dice, 2);
        for (int i = 0; i < 6; ++i) randomHandMove(s, dice);
        if (dice.chance(30)) s.fabric().setBall(s.yarn(), false);
        // Few stitches left, or none.
        const int leave = dice.below(4);
        while (s.knitter().aheadCount() > leave && workWord(s.knitter(), "sl")) continue;
        std::vector<std::string> all = words();
        for (const char* more : {"1/1f", "2/2b", "3/3f", "bo3", "co2"}) all.emplace_back(more);
        for (const std::string& word : all) {
            CAPTURE(word);
            const Knitter::State mark = s.knitter().mark();
            const std::string before = text(s.fabric());
            const Side facing = s.knitter().facing();
            const Result<LoopId> done = workWord(s.knitter(), word);
            if (!done) {
                ++refused;
                REQUIRE(text(s.fabric()) == before);
                REQUIRE(s.knitter().facing() == facing);
                REQUIRE_FALSE(sentence(done.error()).empty());
            }
            s.knitter().rollBack(mark);
            REQUIRE(text(s.fabric()) == before);
        }
    }
    CHECK(refused > cases(40) * 10);
}

TEST_CASE("what hands cannot do is refused, and says why") {
    Swatch s = plainSwatch(5, 2);
    s.work("k2");
    Fabric& f = s.fabric();
    const LoopId live = heldAt(f, 3);
    const LoopId host = hostOf(f, live);
    const LoopId foot = below(f, live, 2);
    const auto why = [](const auto& result) { return result.error().why; };

    CHECK(why(f.pull(live, live, LinkForm{})) == Why::ownHost);
    CHECK(why(f.pull(host, foot, LinkForm{})) == Why::notLive);
    CHECK(why(f.pull(live, LoopId{12345}, LinkForm{})) == Why::noSuchThing);
    CHECK(why(f.unpull(host)) == Why::notLive);
    CHECK(why(f.sink(host)) == Why::notLive);
    CHECK(why(f.sink(live)) == Why::inUse);
    CHECK(why(f.hold(live, f.needle(), HeldId{}, Mount::western)) == Why::alreadyHeld);
    CHECK(why(f.letGo(host, f.needle(), false)) == Why::notHeld);
    CHECK(why(f.liftInStrand(s.yarn(), host, Run::leftward, 100'000)) == Why::tooLittleYarn);
    CHECK(why(f.ease(host, live, 100'000)) == Why::tooLittleYarn);
    CHECK(why(f.join(s.yarn(), s.yarn(), End::first)) == Why::sameYarn);
    CHECK(why(f.thread(s.yarn(), Run::leftward, 9000, {}, {})) == Why::hasBall);
    CHECK(why(f.unthread(host)) == Why::notNeighbours);
    CHECK(why(undo(f, host)) == Why::notLive);

    const YarnId other = f.addYarn('B', kLoopUm, kStrandUm);
    CHECK(why(f.join(s.yarn(), other, End::first)) == Why::hasBall);
    f.setBall(other, false);
    CHECK(why(f.liftFromBall(other, Run::leftward, 9000, 2000)) == Why::noBall);
    // Under a loop and through one that stands on it: it would stand on itself.
    CHECK(why(f.thread(other, Run::leftward, 9000, {{live, LinkForm{}, -1}}, {{host, LinkForm{}, 0}})) ==
          Why::ownHost);

    const LoopId bare = *f.liftFromBall(s.yarn(), Run::leftward, 9000, 2000);
    CHECK(why(f.unpull(bare)) == Why::noLinks);
    f.setAnchored(bare, true);
    CHECK(why(f.sink(bare)) == Why::anchored);
    CHECK(why(undo(f, bare)) == Why::anchored);

    const PassId pass = *f.lay(s.yarn(), bare, live, Side::right, Run::leftward);
    CHECK(why(f.pull(pass, host, LinkForm{})) == Why::notALoop);
    CHECK(why(f.sink(pass)) == Why::notALoop);
    CHECK(why(f.unlay(bare)) == Why::noSuchThing);
}

TEST_CASE("every reason has a sentence of its own") {
    std::set<std::string> sentences;
    int reasons = 0;
    for (int i = 0; i <= static_cast<int>(Why::yarnElsewhere); ++i) {
        const std::string said = sentence({static_cast<Why>(i), 2, 1});
        CAPTURE(said);
        CHECK(said.size() > 15);
        CHECK(said.back() != '.');
        sentences.insert(said);
        ++reasons;
    }
    CHECK(static_cast<int>(sentences.size()) == reasons);
    CHECK(sentence({Why::notEnoughStitches, 1, 0}) ==
          "this needs 1 stitch on the left needle and there are 0");
    CHECK(sentence({Why::notEnoughStitches, 2, 1}) ==
          "this needs 2 stitches on the left needle and there is 1");
}

TEST_CASE("a strand that goes by on the side a loop is drawn from, beside that loop, is nothing") {
    // Slip a stitch, knit the next, pass the first over: the strand behind the slipped one crosses nothing.
    Swatch s = plainSwatch(6, 2);
    s.work("sl k psso");
    CHECK(passesIn(s.fabric()).empty());
    // In front it is a bar that can be seen.
    Swatch t = plainSwatch(6, 2);
    t.work("slf k psso");
    CHECK(passesIn(t.fabric()).size() == 1);
    // Only strands that name loops it goes through: a round of nothing but slips keeps its strand.
    Swatch round(6, {Begin::bare, true});
    round.work("* | sl6 | *");
    CHECK(passesIn(round.fabric()).size() == 6);
}

}  // namespace loopmend
